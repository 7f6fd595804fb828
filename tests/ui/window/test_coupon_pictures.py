"""Pictures on the tiles: they come beside the window, belong to the inspection in view, and are never waited for."""

from __future__ import annotations

import threading
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from photographed_boards import START, middle, outline, photo_file, photographed
from PySide6.QtCore import QCoreApplication, QEvent
from window_driving import Desk, Person, accept, filling, settle, wait_until

from rustboard.board.model import Inspection
from rustboard.operations.inspections import add_inspection
from rustboard.session import pictures as session_pictures
from rustboard.session.session import Session
from rustboard.store.tables import PHOTOS
from rustboard.support.settings import Settings
from rustboard.support.summary import Summary
from rustboard.ui import coupon_pictures
from rustboard.ui.coupon_pictures import image_of


@pytest.fixture
def board(tmp_path: Path) -> Path:
    return photographed(tmp_path / "b")


@pytest.fixture
def real_desk(qapp, tmp_path) -> Desk:
    """A desk whose windows work beside themselves, in their real pools."""
    settings = Settings(scheme="light", boards_folder=str(tmp_path / "boards"), grader="Ann")
    desk = Desk(settings, executor=_own_pool)
    yield desk
    desk.close_all()
    settle()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def _own_pool() -> None:
    return None


def on_tiles(person: Person) -> dict[int, tuple[int, int]]:
    """Return photo and coupon of every picture on the tiles, by coupon key."""
    return {key: middle(each.image) for key, each in person.page.tiles.canvas.content.pictures.items()}


NEWEST = {1: (120, 50), 2: (120, 100), 3: (120, 150), 4: (120, 200)}
FIRST = {1: (200, 50), 2: (200, 100), 3: (200, 150), 4: (200, 200)}


def test_the_newest_picture_of_each_coupon_is_on_its_tile(board, sitting_at):
    person = sitting_at(board)
    assert on_tiles(person) == NEWEST


def test_pictures_come_from_the_real_pool_without_being_waited_for(board, real_desk):
    person = real_desk.sit_down(board)
    wait_until(lambda: len(person.page.tiles.canvas.content.pictures) == 4)
    assert on_tiles(person) == NEWEST


def test_another_inspection_brings_its_own_pictures(board, sitting_at):
    person = sitting_at(board)
    person.look_at(0)
    assert on_tiles(person) == FIRST
    person.look_at(1)
    assert on_tiles(person) == NEWEST


def test_an_inspection_before_the_first_photo_shows_outlines(board, sitting_at):
    with closing(Session(board)) as session:
        session.do(add_inspection, Inspection(START - timedelta(days=1)))
    person = sitting_at(board)
    person.look_at(0)
    assert on_tiles(person) == {}
    person.look_at(1)
    assert on_tiles(person) == FIRST


def test_an_inspection_without_a_photo_shows_the_newest_one_before_and_says_of_when(board, sitting_at):
    person = sitting_at(board)
    assert ages(person) == {""}
    person.answers.dialogs = [accept]
    person.do("inspection.add")  # today, long after
    assert on_tiles(person) == NEWEST
    assert ages(person) == {"day 7"}


def ages(person: Person) -> set[str]:
    return {each.age for each in person.page.tiles.canvas.content.pictures.values()}


def test_a_coupon_without_an_outline_is_cut_from_its_cell_of_the_board(tmp_path, sitting_at):
    person = sitting_at(photographed(tmp_path / "b", outlines=False))
    assert on_tiles(person) == NEWEST


def test_a_changed_outline_cuts_anew(board, sitting_at):
    person = sitting_at(board)
    before = person.page.tiles.canvas.content.pictures[1].image.size()
    person.answers.dialogs = [filling(size="20")]
    person.do("coupon.edit")
    after = person.page.tiles.canvas.content.pictures[1].image.size()
    assert after.width() / after.height() < before.width() / before.height()


def test_a_photo_that_is_missing_leaves_outlines_and_nothing_else_breaks(board, sitting_at):
    photo_file(board, 2).unlink()
    person = sitting_at(board)
    assert on_tiles(person) == {}
    assert person.message() == ""
    assert not person.window.grab().isNull()
    person.tap("A1")
    person.tap_grade(7)
    assert person.digit("A1") == "7"
    person.look_at(0)
    assert on_tiles(person) == FIRST, "the other photo is still there"


@pytest.mark.parametrize("content", [b"", b"no picture at all", b"\x89PNG\r\n\x1a\n cut short"])
def test_a_damaged_photo_leaves_outlines_and_nothing_else_breaks(board, sitting_at, content):
    file = photo_file(board, 2)
    file.write_bytes(content or file.read_bytes()[:300])
    person = sitting_at(board)
    assert on_tiles(person) == {}
    assert person.message() == ""
    assert not person.window.grab().isNull()
    person.tap("A1")
    assert [shot.image is not None for shot in person.panel.views._shots] == [False, True]


def test_a_photo_whose_place_is_impossible_leaves_outlines(tmp_path, sitting_at):
    folder = photographed(tmp_path / "b", (200,))

    def spoil(tx):
        tx.put(PHOTOS, replace(tx.get(PHOTOS, 1), mm_to_px=(0.0,) * 8 + (1.0,)))
        return Summary("Spoil")

    with closing(Session(folder)) as session:
        session.do(spoil)
    assert on_tiles(sitting_at(folder)) == {}


def test_only_so_many_photos_are_kept(tmp_path, sitting_at):
    person = sitting_at(photographed(tmp_path / "b", tuple(range(20, 240, 20))))
    for number in range(11):
        person.look_at(number)
        assert on_tiles(person)[1] == (20 + 20 * number, 50)
    pictures, photos = person.page.pictures, person.session.record.photos.values()
    kept = [photo.key for photo in photos if pictures.images(photo)]
    assert len(kept) == coupon_pictures._PHOTOS_KEPT
    assert kept[-1] == 11
    person.look_at(0)
    assert on_tiles(person)[1] == (20, 50), "a photo that was let go is cut again"


# ---- grading


def test_grading_shows_the_coupon_now_before_and_on_day_zero(tmp_path, sitting_at):
    person = sitting_at(photographed(tmp_path / "b", (200, 160, 120)))
    person.tap("A2")
    shots = person.panel.views._shots
    assert [(middle(each.image), each.caption) for each in shots] == [
        ((120, 100), "now"),
        ((160, 100), "day 7"),
        ((200, 100), "day 0"),
    ]
    person.look_at(1)
    assert [middle(each.image) for each in person.panel.views._shots] == [(160, 100), (200, 100)]


# ---- answers that come too late


class SlowCamera:
    """Cutting that waits: a slow disk, a large photo."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.waiting: dict[int, threading.Event] = {}
        self.asked: list[int] = []
        self._really = session_pictures.cut_pictures
        monkeypatch.setattr(coupon_pictures, "cut_pictures", self._cut)

    def hold(self, photo: int) -> threading.Event:
        self.waiting[photo] = threading.Event()
        return self.waiting[photo]

    def _cut(self, request, progress):
        self.asked.append(request.photo)
        if request.photo in self.waiting:
            assert self.waiting[request.photo].wait(10)
        return self._really(request, progress)


@pytest.fixture
def camera(monkeypatch) -> SlowCamera:
    return SlowCamera(monkeypatch)


def test_a_slow_picture_of_an_inspection_one_has_left_does_not_show(board, real_desk, camera):
    slow = camera.hold(2)
    person = real_desk.sit_down(board)
    wait_until(lambda: camera.asked == [2])
    assert on_tiles(person) == {}
    person.look_at(0)
    wait_until(lambda: on_tiles(person) == FIRST)
    slow.set()
    wait_until(lambda: not person.window.bridge.busy())
    settle()
    assert on_tiles(person) == FIRST
    person.look_at(1)
    assert on_tiles(person) == NEWEST, "it was kept for when it is wanted"


def test_a_slow_picture_by_an_old_outline_is_dropped(board, real_desk, camera):
    slow = camera.hold(2)
    person = real_desk.sit_down(board)
    wait_until(lambda: camera.asked == [2])
    person.answers.dialogs = [filling(size="20")]
    person.do("coupon.edit")
    wait_until(lambda: True)
    slow.set()
    wait_until(lambda: camera.asked == [2, 2])
    wait_until(lambda: not person.window.bridge.busy())
    settle()
    picture = person.page.tiles.canvas.content.pictures[1].image
    assert picture.width() / picture.height() < 0.5, "the narrow coupon, not the one before"


def test_a_window_closed_while_pictures_are_cut_ends_quietly(board, real_desk, camera):
    slow = camera.hold(2)
    person = real_desk.sit_down(board)
    wait_until(lambda: camera.asked == [2])
    threading.Timer(0.05, slow.set).start()
    person.stand_up()
    assert real_desk.windows == []


def test_going_to_all_boards_while_pictures_are_cut_ends_quietly(board, real_desk, camera):
    slow = camera.hold(2)
    person = real_desk.sit_down(board)
    wait_until(lambda: camera.asked == [2])
    person.do("file.shelf")
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)  # as in the running program
    slow.set()
    wait_until(lambda: not person.window.bridge.busy())
    settle()
    assert person.window.page is None


def test_a_whole_round_is_graded_with_the_real_pool(board, real_desk):
    person = real_desk.sit_down(board)
    person.tap("A1")
    for grade in (9, 8, 7, 6):
        person.tap_grade(grade)
    wait_until(lambda: not person.window.bridge.busy())
    assert [person.digit(label) for label in ("A1", "A2", "A3", "B1")] == ["9", "8", "7", "6"]


def test_an_image_does_not_hang_on_the_array_it_was_made_of():
    import numpy as np

    rgb = np.full((3, 5, 3), (10, 20, 30), np.uint8)
    mask = np.zeros((3, 5), np.bool_)
    mask[1] = True
    image = image_of(rgb, mask)
    rgb[:] = 99
    assert (image.width(), image.height()) == (5, 3)
    assert image.pixelColor(2, 1).getRgb() == (10, 20, 30, 255)
    assert image.pixelColor(2, 0).alpha() == 0


def test_the_outlines_of_these_tests_lie_on_the_board():
    assert all(0 <= x <= 300 and 0 <= y <= 200 for number in range(4) for x, y in outline(number))
