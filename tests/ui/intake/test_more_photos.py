"""Photos brought to the list in several goes: what was put right before stays with its photo."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from later import Later
from photo_bench import Bench
from photographed_boards import photo_bytes
from PySide6.QtGui import QColor, QGuiApplication, QImage
from PySide6.QtWidgets import QApplication
from window_driving import cancel, made_board, settle

from rustboard.support.settings import Settings
from rustboard.ui import dropped_photos
from rustboard.ui.bridge import JobBridge
from rustboard.ui.dropped_photos import png_bytes
from rustboard.ui.intake.dialog import IntakeDialog
from rustboard.ui.intake_commands import IntakeCommands

NOW = datetime(2026, 3, 20, 12)
BY_HAND = datetime(2026, 3, 4, 8)


class Bringing(Bench):
    """Somebody who brings photos; jobs run when the test says so."""

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        self.later = Later()
        self.bridge = JobBridge(self.widget, self.later)
        self.commands = IntakeCommands(
            self.widget,
            self.answers,
            self.do,
            Settings(),
            self.bridge,
            lambda: NOW,  # type: ignore[arg-type]
        )
        self.serve(self.commands)


@pytest.fixture
def person(qapp: QApplication, tmp_path: Path) -> Iterator[Bringing]:
    person = Bringing(made_board(tmp_path / "Yard"))
    yield person
    person.close()


def a_photo(folder: Path, name: str, red: int) -> Path:
    path = folder / name
    path.write_bytes(photo_bytes(red))
    return path


def names(dialog: IntakeDialog) -> list[str]:
    return [dialog.table.item(row, 0).text() for row in range(dialog.table.rowCount())]


def test_what_was_put_right_or_unticked_stays_so_when_more_come(person: Bringing, tmp_path: Path) -> None:
    gone, timed, left_out = (
        a_photo(tmp_path, name, red) for name, red in (("a.png", 10), ("b.png", 20), ("c.png", 30))
    )

    def work(dialog: IntakeDialog) -> bool:
        person.later.run()
        dialog.table.selectRow(1)
        dialog._really(BY_HAND)
        dialog.table.tick([0, 1])
        gone.unlink()
        dialog.dropped.emit([a_photo(tmp_path, "d.png", 40)])
        person.later.run()
        assert names(dialog)[:3] == ["b.png", "c.png", "d.png"]
        assert [dialog._times.time_of(row) for row in range(3)] == [BY_HAND, None, None]
        assert dialog.table.ticked_rows() == [0, 2]
        dialog.reject()
        return False

    person.answers.dialogs = [work]
    person.commands.add_paths([gone, timed, left_out])


def test_files_whose_look_was_stopped_can_be_brought_again(person: Bringing, tmp_path: Path) -> None:
    photo = a_photo(tmp_path, "a.png", 10)

    def work(dialog: IntakeDialog) -> bool:
        dialog._stop.click()
        person.later.run()
        assert names(dialog) == []
        dialog.dropped.emit([photo])
        person.later.run()
        assert names(dialog) == ["a.png"]
        dialog.reject()
        return False

    person.answers.dialogs = [work]
    person.commands.add_paths([photo])


def test_no_button_moves_when_stop_has_nothing_more_to_stop(person: Bringing, tmp_path: Path) -> None:
    def work(dialog: IntakeDialog) -> bool:
        buttons = (dialog._more, dialog._folder, dialog._stop, dialog._buttons)
        settle()
        places = [each.geometry() for each in buttons]
        dialog.say_busy("Looking…", 1, 2)
        settle()
        assert dialog._stop.isEnabled()
        assert [each.geometry() for each in buttons] == places
        dialog.say_busy("")
        settle()
        assert not dialog._stop.isEnabled()
        assert [each.geometry() for each in buttons] == places
        return cancel(dialog)

    person.answers.dialogs = [work]
    person.commands.add_photos()
    assert person.answers.asked == ["IntakeDialog"]


def copied_picture() -> QImage:
    picture = QImage(30, 20, QImage.Format.Format_RGB888)
    picture.fill(QColor(120, 60, 20))
    QGuiApplication.clipboard().setImage(picture)
    return picture


def test_a_pasted_picture_is_made_a_file_beside_the_window(
    person: Bringing, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    picture, written = copied_picture(), []

    def note_and_write(image: QImage) -> bytes:
        written.append(len(person.later.waiting))
        return png_bytes(image)

    monkeypatch.setattr(dropped_photos, "png_bytes", note_and_write)

    def work(dialog: IntakeDialog) -> None:
        assert written == [], "nothing yet on the window's own thread"
        assert dialog._bar.isVisible()
        person.later.run()
        assert names(dialog) == ["pasted 2026-03-20 12.00.00.png"]
        dialog.dropped.emit([a_photo(tmp_path, "a.png", 10)])
        person.later.run()
        assert len(written) == 1, "once, whatever is brought afterwards"
        dialog.clock._set.click()
        dialog.table.tick([0, 1])
        for row in (0, 1):
            dialog.table.selectRow(row)
            dialog.clock._set.click()
        dialog._ask_add()
        person.later.run()

    person.answers.dialogs = [work]
    person.commands.paste()
    photos = {each.name: each for each in person.session.record.photos.values()}
    assert sorted(photos) == ["a.png", "pasted 2026-03-20 12.00.00.png"]
    kept = QImage(str(person.session.folder / "photos" / photos["pasted 2026-03-20 12.00.00.png"].file))
    assert kept.convertToFormat(picture.format()) == picture


def test_a_paste_that_is_stopped_leaves_nothing(person: Bringing) -> None:
    copied_picture()

    def work(dialog: IntakeDialog) -> bool:
        dialog.reject()
        return False

    person.answers.dialogs = [work]
    person.commands.paste()
    person.later.run()
    assert person.session.record.photos == {}
    assert list((person.session.folder / "photos").glob("*")) == []
