"""What the user does in the print dialog: choose, leaf, zoom, save, print."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from types import SimpleNamespace
from unittest.mock import Mock

import pytest
from paper_boards import SECRETS, paper_board, texts
from PySide6.QtCore import QLocale, QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractScrollArea,
    QCheckBox,
    QComboBox,
    QDialog,
    QGroupBox,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)
from pytestqt.qtbot import QtBot

from rustboard.board.record import BoardRecord
from rustboard.support.settings import Settings
from rustboard.ui.paper import printing
from rustboard.ui.paper.dialog import PaperDialog, paper_of_locale
from rustboard.ui.paper_commands import PaperCommands
from rustboard.ui.theme import apply_scheme, scheme_named

Answer = Callable[[QDialog], object]


@pytest.fixture
def shown(qtbot: QtBot) -> Callable[..., PaperDialog]:
    def show(record: BoardRecord | None = None, **fields: str) -> PaperDialog:
        dialog = PaperDialog(record or paper_board(), **fields)
        qtbot.addWidget(dialog)
        dialog.resize(1100, 640)
        dialog.show()
        return dialog

    return show


@pytest.fixture
def users_locale() -> Iterator[Callable[[QLocale], None]]:
    before = QLocale()
    yield QLocale.setDefault
    QLocale.setDefault(before)


def box(dialog: QDialog, name: str) -> QGroupBox:
    return next(each for each in dialog.findChildren(QGroupBox) if each.title().replace("&", "").startswith(name))


def field(dialog: QDialog, name: str) -> QLineEdit:
    return next(each for each in dialog.findChildren(QLineEdit) if each.accessibleName() == name)


def button(dialog: QDialog, name: str) -> QPushButton:
    return next(each for each in dialog.findChildren(QPushButton) if each.text().replace("&", "") == name)


def type_into(line: QLineEdit, text: str) -> None:
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, text)
    QTest.keyClick(line, Qt.Key.Key_Return)


def titles(dialog: PaperDialog) -> set[str]:
    return {page.title for page in dialog.pages()}


def test_a_kind_of_sheet_goes_when_its_box_is_cleared(shown):
    dialog = shown()
    assert titles(dialog) == {"Board map", "Coupon labels", "Corner markers", "Grading sheet"}
    box(dialog, "Coupon labels").setChecked(False)
    assert titles(dialog) == {"Board map", "Corner markers", "Grading sheet"}


def test_the_number_of_pages_of_every_kind_is_told(shown):
    dialog = shown(paper_board(rows=4, columns=5), paper="A4")
    said = [each.text() for each in dialog.findChildren(QLabel)]
    assert "Pages: 10 (Board map 7, Coupon labels 1, Corner markers 1, Grading sheet 1)." in said
    assert len(dialog.pages()) == 10
    for name in ("Coupon", "Corner", "Grading"):
        box(dialog, name).setChecked(False)
    assert "Pages: 7." in [each.text() for each in dialog.findChildren(QLabel)]


def test_with_nothing_chosen_there_is_nothing_to_save(shown):
    dialog = shown()
    for name in ("Board map", "Coupon labels", "Corner markers", "Grading sheets"):
        box(dialog, name).setChecked(False)
    assert dialog.pages() == ()
    assert not button(dialog, "Save as PDF…").isEnabled()
    assert not button(dialog, "Print…").isEnabled()


def test_treatments_are_named_only_where_the_user_ticks_it(shown):
    dialog = shown()
    for name, title in (("map", "Board map"), ("labels", "Coupon labels")):
        tick = next(
            each for each in dialog.findChildren(QCheckBox) if each.text() == f"Name the treatments on the {name}"
        )
        assert not tick.isChecked()
        tick.setChecked(True)
        naming = {page.title for page in dialog.pages() if any(SECRETS[0] in text for text in texts(page))}
        assert naming == {title}
        tick.setChecked(False)


@pytest.mark.parametrize(
    ("locale", "paper"),
    [
        ("en_US", "Letter"),
        ("fr_CA", "Letter"),
        ("es_MX", "Letter"),
        ("en_GB", "A4"),
        ("de_DE", "A4"),
        ("ja_JP", "A4"),
    ],
)
def test_the_paper_is_that_of_the_users_country(users_locale, shown, locale, paper):
    # Letter in the United States, Canada and Mexico, 11 in high; A4, 297 mm (ISO 216), elsewhere (from memory).
    users_locale(QLocale(locale))
    assert paper_of_locale() == paper
    assert {page.height_mm for page in shown().pages()} & {279.4 if paper == "Letter" else 297.0}


def test_a_chosen_paper_is_remembered_and_an_unchanged_one_is_not(shown):
    dialog = shown(paper="A3")
    assert dialog.paper_chosen == ""
    combo = dialog.options.findChild(QComboBox)
    combo.setCurrentIndex(combo.findData("Legal"))
    assert dialog.paper_chosen == "Legal"
    assert dialog.pages()[-1].height_mm == 355.6  # 14 in (from memory)


def test_a_number_that_cannot_be_is_told_and_nothing_can_be_saved_meanwhile(shown):
    dialog = shown()
    type_into(field(dialog, "Label width in mm"), "5000")
    assert dialog.problem.text() == "A label is 30 to 200 mm wide."
    assert not button(dialog, "Save as PDF…").isEnabled()
    type_into(field(dialog, "Label width in mm"), "62,5")
    assert dialog.problem.text() == ""
    assert button(dialog, "Save as PDF…").isEnabled()


def test_a_label_too_large_for_the_paper_is_told(shown):
    dialog = shown(paper="Letter")
    type_into(field(dialog, "Label width in mm"), "200")
    type_into(field(dialog, "Label height in mm"), "190")
    assert "does not fit on Letter" in dialog.problem.text()


def test_the_marker_size_is_asked_only_where_the_board_has_none(shown):
    assert not field(shown(), "Marker size in mm").isVisible()
    record = paper_board()
    record.markers = ()
    assert field(shown(record), "Marker size in mm").isVisible()


def test_pages_are_leafed_through_by_buttons_and_keys(shown):
    dialog = shown()
    preview, last = dialog.preview, len(dialog.pages()) - 1
    QTest.mouseClick(button(dialog, "›"), Qt.MouseButton.LeftButton)
    assert preview.page_number() == 1
    area = preview.findChild(QAbstractScrollArea)
    QTest.keyClick(area, Qt.Key.Key_End)
    assert preview.page_number() == last
    assert not button(dialog, "›").isEnabled()
    QTest.keyClick(area, Qt.Key.Key_PageDown)
    assert preview.page_number() == last
    QTest.keyClick(area, Qt.Key.Key_PageUp)
    QTest.keyClick(area, Qt.Key.Key_Home)
    assert preview.page_number() == 0
    assert not button(dialog, "‹").isEnabled()


def test_the_preview_shows_a_whole_page_or_true_size(shown, qtbot):
    dialog = shown(paper="A4")
    picture = dialog.preview.findChild(QAbstractScrollArea).widget()
    view = dialog.preview.findChild(QAbstractScrollArea).viewport()
    assert picture.height() <= view.height()
    QTest.mouseClick(button(dialog, "100 %"), Qt.MouseButton.LeftButton)
    page = dialog.pages()[0]
    assert picture.width() == pytest.approx(page.width_mm / 25.4 * dialog.logicalDpiX(), abs=20)
    QTest.mouseClick(button(dialog, "Whole page"), Qt.MouseButton.LeftButton)
    assert picture.height() <= view.height()


@pytest.mark.parametrize("scheme", ["light", "sunlight"])
def test_all_buttons_and_a_page_are_within_the_smallest_screen(qapp, shown, qtbot, scheme):
    apply_scheme(qapp, scheme_named(scheme))
    try:
        dialog = shown()
        dialog.resize(660, 340)
        qtbot.wait(10)
        assert (dialog.width(), dialog.height()) == (660, 340)
        inside = dialog.rect()
        for each in dialog.findChildren(QPushButton):
            assert inside.contains(QRect(each.mapTo(dialog, QPoint(0, 0)), each.size())), each.text()
            assert each.width() >= each.minimumSizeHint().width()
        assert dialog.options.parentWidget().width() >= dialog.options.width()  # no scrolling sideways
        assert dialog.preview.height() > 200
    finally:
        apply_scheme(qapp, scheme_named("light"))


def test_fewer_pages_than_the_number_in_view_end_at_the_last(shown):
    dialog = shown()
    dialog.preview.show_page(len(dialog.pages()) - 1)
    for name in ("Board map", "Coupon labels", "Grading sheets"):
        box(dialog, name).setChecked(False)
    assert dialog.preview.page_number() == len(dialog.pages()) - 1 == 0


# ---- saving and printing


class Asked:
    """Answers the command's questions: runs the dialog's answers one after another."""

    def __init__(self, *answers: Answer, files: list[Path | None] | None = None) -> None:
        self.answers, self.files = list(answers), files or []
        self.kinds: list[str] = []

    def dialog(self, dialog: QDialog) -> bool:
        self.kinds.append(type(dialog).__name__)
        dialog.show()
        accepted = bool(self.answers.pop(0)(dialog)) if self.answers else False
        dialog.close()
        return accepted

    def save_file(self, title: str, start: Path, kinds: str) -> Path | None:
        self.start = start
        return self.files.pop(0)


@pytest.fixture
def commands(qtbot: QtBot, tmp_path: Path) -> Callable[[Asked], PaperCommands]:
    window = QWidget()
    qtbot.addWidget(window)

    def sit(asked: Asked) -> PaperCommands:
        made = PaperCommands(window, asked, lambda *_, **__: None, Settings(paper="A4"))  # type: ignore[arg-type]
        made.page = SimpleNamespace(session=SimpleNamespace(record=paper_board(), folder=tmp_path / "Harbour"))  # type: ignore[assignment]
        made.heard = []  # type: ignore[attr-defined]
        made.told.connect(made.heard.append)  # type: ignore[attr-defined]
        made.failed.connect(made.heard.append)  # type: ignore[attr-defined]
        return made

    return sit


def press(name: str) -> Answer:
    def answer(dialog: QDialog) -> object:
        QTest.mouseClick(button(dialog, name), Qt.MouseButton.LeftButton)
        answer.problem = dialog.problem.text()  # type: ignore[attr-defined]
        return False

    return answer


def test_a_pdf_is_saved_where_the_user_says_and_that_is_told(commands, tmp_path):
    asked = Asked(press("Save as PDF…"), files=[tmp_path / "out" / "map"])
    made = commands(asked)
    made.paper()
    assert asked.start == tmp_path / "Harbour" / "Harbour.pdf"
    assert (tmp_path / "out" / "map.pdf").read_bytes().startswith(b"%PDF-")
    assert made.heard == [f"Wrote {tmp_path / 'out' / 'map.pdf'}"]


def test_thinking_better_of_it_writes_nothing(commands, tmp_path):
    made = commands(Asked(press("Save as PDF…"), files=[None]))
    made.paper()
    assert made.heard == []
    assert list(tmp_path.rglob("*.pdf")) == []


def test_a_disk_that_refuses_is_told_and_leaves_the_old_file(commands, tmp_path, monkeypatch):
    old = tmp_path / "map.pdf"
    old.write_bytes(b"old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    answer = press("Save as PDF…")
    made = commands(Asked(answer, files=[old]))
    made.paper()
    assert "The disk is full" in made.heard[0]
    assert "The disk is full" in answer.problem
    assert old.read_bytes() == b"old"
    assert [each.name for each in tmp_path.iterdir()] == ["map.pdf"]


def test_printing_goes_through_the_printers_own_dialog(commands, tmp_path):
    def choose_pdf(dialog: QDialog) -> bool:
        printer = dialog.printer()
        printer.setOutputFormat(printer.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(tmp_path / "printed.pdf"))
        return True

    asked = Asked(press("Print…"), choose_pdf)
    made = commands(asked)
    made.paper()
    assert asked.kinds == ["PaperDialog", "QPrintDialog"]
    assert (tmp_path / "printed.pdf").read_bytes().startswith(b"%PDF-")
    assert "Sent to the printer" in made.heard[0]


def test_an_installation_that_cannot_print_says_so(commands, monkeypatch):
    # Blocking the module itself would also break PySide6's own look-up of widget types in a viewport.
    monkeypatch.setattr(printing, "printing_part", Mock(side_effect=ImportError))
    answer = press("Print…")
    made = commands(Asked(answer))
    made.paper()
    assert answer.problem == made.heard[0]
    assert "cannot print; save the pages as PDF" in made.heard[0]


def test_the_size_of_paper_is_kept_for_the_next_time(commands):
    def choose(dialog: QDialog) -> bool:
        combo = dialog.options.findChild(QComboBox)
        combo.setCurrentIndex(combo.findData("Tabloid"))
        return False

    made = commands(Asked(choose))
    made.paper()
    assert made._settings.paper == "Tabloid"


def test_without_a_board_nothing_is_asked(commands):
    asked = Asked()
    made = commands(asked)
    made.page = None
    made.paper()
    assert asked.kinds == []
