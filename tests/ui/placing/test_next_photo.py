"""The next photo from the same place: how far the camera was moved, in words, and whether that matters."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

import numpy as np
import pytest
from later import Later
from photo_bench import Bench
from photographed_boards import photo_file, photographed
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from rustboard.photo.camera_place import CameraMove
from rustboard.session.board_views import WholeView
from rustboard.session.jobs import Progress
from rustboard.session.photo_days import photos_in_order
from rustboard.session.same_place import HeldAgainst, held_against_request, hold_against
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge
from rustboard.ui.next_photo_commands import NextPhotoCommands
from rustboard.ui.placing.move_words import advice, move_text
from rustboard.ui.placing.next_dialog import NextPhotoDialog
from rustboard.ui.theme import LIGHT

SMALL = WholeView(np.full((200, 300, 3), 90, np.uint8), 0.5)
STILL = CameraMove(2, -3, 4, 0.2, 0.4, 1.0)


def held(move: CameraMove | None, cut_off: tuple[int, ...] = (), because: str = "") -> HeldAgainst:
    return HeldAgainst("new.jpg", SMALL, move, because, cut_off)


def test_a_move_is_told_in_plain_words() -> None:
    assert move_text(CameraMove(-120, 0, 0, 4, 2, 1)) == "about 12 cm further left, 4 degrees turned clockwise"
    assert move_text(CameraMove(15, 22, -300, -90, 2, 0.9)) == (
        "about 2 cm further right, 2 cm higher, 30 cm farther away, 90 degrees turned anticlockwise"
    )
    assert move_text(STILL) == "the same place, as nearly as can be told"


def test_what_matters_is_said_with_what_to_do() -> None:
    assert advice(held(STILL)).startswith("That does not matter")
    assert "9 degrees more from the side" in advice(held(CameraMove(-120, 0, 0, 0, 9, 1)))
    assert "go nearer" in advice(held(CameraMove(0, 0, -500, 0, 0, 0.7)))
    assert "cut off (top left, bottom right)" in advice(held(STILL, (0, 2)))
    assert "no harm" in advice(held(CameraMove(0, 0, 300, 0, 0, 1.4)))


@pytest.fixture
def board(tmp_path: Path) -> Path:
    return photographed(tmp_path / "Yard")


def test_a_photo_of_the_same_view_is_at_the_same_place(board: Path) -> None:
    with closing(Session(board, read_only=True)) as session:
        first, second = photos_in_order(session.record)
        request = held_against_request(session, first, photo_file(board, second.key))
        assert request is not None
        found = hold_against(request, Progress())
    assert found.view.rgb.shape[0] > 0
    assert (found.move is None) == bool(found.because)
    if found.move is not None:
        assert abs(found.move.right_mm) < 10


def test_a_file_that_is_no_picture_says_so(board: Path, tmp_path: Path) -> None:
    stray = tmp_path / "notes.jpg"
    stray.write_bytes(b"no picture")
    with closing(Session(board, read_only=True)) as session:
        request = held_against_request(session, photos_in_order(session.record)[0], stray)
        assert request is not None
        with pytest.raises(InputError, match=r"notes\.jpg"):
            hold_against(request, Progress())


@pytest.fixture
def dialog(qtbot: QtBot, board: Path) -> NextPhotoDialog:
    with closing(Session(board, read_only=True)) as session:
        photos = photos_in_order(session.record)
        dialog = NextPhotoDialog(session.record, photos, photos[0].key, LIGHT)
    qtbot.addWidget(dialog)
    dialog.show()
    return dialog


def test_nothing_can_be_checked_before_the_earlier_photo_is_there(dialog: NextPhotoDialog) -> None:
    assert not dialog._check.isEnabled()
    dialog.show_picture(SMALL)
    assert dialog._check.isEnabled()
    assert not dialog._slider.isEnabled()


def test_a_new_photo_lies_over_the_earlier_one_as_much_as_the_slider_says(dialog: NextPhotoDialog) -> None:
    dialog.show_picture(SMALL)
    white = HeldAgainst("new.jpg", WholeView(np.full((200, 300, 3), 255, np.uint8), 0.5), STILL)
    dialog.show_held(white)
    assert "new.jpg: the same place" in dialog._words.text()
    seen = {}
    for value in (0, 100):
        dialog._slider.setValue(value)
        picture = dialog.view.grab().toImage()
        at = dialog.view.to_widget(3, 60).toPoint()  # beside all outlines
        seen[value] = picture.pixelColor(at * round(picture.devicePixelRatio())).red()
    assert seen[0] == pytest.approx(90, abs=6)
    assert seen[100] == pytest.approx(255, abs=6)


def test_a_photo_in_which_the_board_was_not_found_is_laid_over_all_the_same(dialog: NextPhotoDialog) -> None:
    dialog.show_picture(SMALL)
    dialog.show_held(held(None, because="Too dark."))
    assert dialog.problem.text() == "Too dark."
    assert dialog.view.has_new()


def test_the_picture_for_the_phone_is_faint_with_crosses_at_the_corners(dialog: NextPhotoDialog) -> None:
    dialog.show_picture(SMALL)
    sheet = dialog.sheet()
    assert isinstance(sheet, QImage)
    assert (sheet.width(), sheet.height()) == (300, 200)
    faint = sheet.pixelColor(150, 4)  # between the cross at the corner and the coupons
    assert faint.red() > 150, "90 of 255 became pale"


def test_another_earlier_photo_takes_the_place_of_the_one_in_view_with_all_that_was_said_of_it(
    dialog: NextPhotoDialog,
) -> None:
    dialog.show_picture(SMALL)
    dialog.show_held(held(STILL))
    dialog._choice.setCurrentIndex(1)
    dialog._choice.activated.emit(1)
    assert not dialog.view.has_image(), "or its lines would be drawn over the other photo, and saved for the phone"
    assert not dialog.view.has_new()
    assert not dialog._sheet.isEnabled()
    assert not dialog._check.isEnabled()


def test_a_new_photo_held_against_the_photo_chosen_before_is_not_shown(
    qapp: QApplication, board: Path, tmp_path: Path
) -> None:
    later, seen = Later(), []
    bench = Bench(board)
    bench.bridge = JobBridge(bench.widget, later)
    commands = NextPhotoCommands(bench.widget, bench.answers, bench.do, bench.bridge, LIGHT)  # type: ignore[arg-type]
    bench.serve(commands)

    def answer(dialog: NextPhotoDialog) -> bool:
        later.run()
        bench.answers.files = [photo_file(board, 2)]
        dialog._check.click()
        dialog._choice.setCurrentIndex(1)
        dialog._choice.activated.emit(1)
        later.run()
        seen.append((dialog.view.has_image(), dialog.view.has_new(), dialog._check.isEnabled()))
        dialog.reject()
        return False

    bench.answers.dialogs = [answer]
    try:
        commands.next_photo()
    finally:
        bench.close()
    assert seen == [(True, False, True)]
