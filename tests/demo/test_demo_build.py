"""The demo boards on the disk: whole or not at all, the same every time, never over a user's own work."""

import hashlib
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from rustboard.app.demo import build
from rustboard.app.demo.build import build_boards, build_demo
from rustboard.app.demo.harbour import HARBOUR
from rustboard.app.demo.porch import PORCH
from rustboard.app.demo.scenario import DemoBoard
from rustboard.board.position import Position
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.plans import whole_plan_of
from rustboard.session.new_board import copy_board
from rustboard.session.session import Session
from rustboard.store.check import check_board
from rustboard.support.problems import InputError

DAYS = (0, 7, 28, 56)
KEPT = ("C11", "C19", "P04")


def small(demo: DemoBoard) -> DemoBoard:
    """The board with a few of its coupons and visits, quick to paint."""
    visits = tuple(each for each in demo.visits if round(demo.day_of(each)) in DAYS)
    coupons = tuple(each for each in demo.plan.coupons if each.id in KEPT)
    return replace(demo, plan=replace(demo.plan, coupons=coupons), visits=visits)


SMALL = (small(HARBOUR), small(PORCH))


def nobody(what: str, done: int, steps: int) -> None:
    """Nobody wants to know how far it is."""


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    return build_boards(tmp_path_factory.mktemp("demo"), SMALL, nobody)


@pytest.fixture
def harbour(built: list[Path]) -> Session:
    with closing(Session(built[0], read_only=True)) as session:
        yield session


def digests(folder: Path) -> dict[str, str]:
    files = [each for each in sorted(folder.rglob("*")) if each.is_file()]
    return {str(each.relative_to(folder)): hashlib.sha256(each.read_bytes()).hexdigest() for each in files}


def test_the_demo_is_the_harbour_wall_and_then_the_porch(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    monkeypatch.setattr(build, "BOARDS", SMALL)
    told: list[tuple[str, int, int]] = []
    folders = build_demo(tmp_path / "new" / "place", lambda *step: told.append(step))
    assert folders == [tmp_path / "new" / "place" / name for name in ("Harbour wall spring", "Porch roof autumn")]
    assert [done for _, done, _ in told] == list(range(1, len(told) + 1))
    assert {steps for _, _, steps in told} == {len(told)}


def test_two_builds_are_the_same_to_the_byte(built: list[Path], tmp_path: Path):
    again = build_boards(tmp_path, SMALL[:1], nobody)
    assert digests(again[0]) == digests(built[0])


def test_the_boards_are_sound(built: list[Path]):
    for folder in built:
        found = check_board(folder)
        assert (found.problems, found.notes) == ([], [])


def test_every_inspection_has_its_placed_photo(harbour: Session):
    record = harbour.record
    assert {each.inspection for each in record.photos.values()} == set(record.inspections)
    for key, photo in record.photos.items():
        assert photo.mm_to_px is not None
        assert photo.taken.date() == record.inspections[photo.inspection].at.date()
        assert harbour.photo_file(key) is not None


def test_the_board_has_its_markers_customer_and_graders(harbour: Session):
    assert [each.id for each in harbour.record.markers] == [0, 1, 2, 3]
    assert harbour.record.board.customer == "Harbour door ironwork"
    assert all(grading.grader for _, _, grading in harbour.record.current_gradings())


def key_of(session: Session, coupon: str, day: int) -> tuple[int, int]:
    (coupon_key,) = (each.key for each in session.record.coupons.values() if each.id == coupon)
    (visit_key,) = (each.key for each in session.record.inspections.values() if session.record.day_of(each.at) == day)
    return coupon_key, visit_key


def test_a_corrected_grade_and_a_withdrawn_one_are_kept(harbour: Session):
    corrected = harbour.gradings(*key_of(harbour, "C11", 7))
    assert [each.state for each in corrected] == ["superseded", "current"]
    assert corrected[1].replaces == corrected[0].key
    withdrawn = harbour.gradings(*key_of(harbour, "C19", 28))
    assert [each.state for each in withdrawn] == ["withdrawn"]


def test_what_is_left_to_grade_at_the_last_inspection_is_left(harbour: Session):
    last = harbour.record.inspections_in_order()[-1]
    assert [each.id for each in harbour.record.ungraded(last.key)] == ["C19"]


def test_undo_in_a_fresh_demo_takes_back_one_grade(built: list[Path], tmp_path: Path):
    copy_board(built[0], tmp_path / "copy")
    with closing(Session(tmp_path / "copy")) as session:
        undone = session.undo()
    assert undone.summary.pattern.startswith("Grade {0}: ")
    assert len(undone.coupons) == 1


def test_a_board_somebody_graded_on_is_left_as_it_is(tmp_path: Path):
    (folder,) = build_boards(tmp_path, SMALL[:1], nobody)
    with closing(Session(folder)) as session:
        session.do(grade_coupon, GivenGrade(*key_of(session, "C19", 56), grade=4, distribution="G"))
    before = digests(folder)
    told: list[str] = []
    assert build_boards(tmp_path, SMALL[:1], lambda what, *_: told.append(what)) == [folder]
    assert digests(folder) == before
    assert told == []


def test_a_build_that_is_stopped_leaves_nothing_behind(tmp_path: Path):
    def stop_at_the_second_photo(what: str, done: int, steps: int) -> None:
        if done == 4:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        build_boards(tmp_path, SMALL[:1], stop_at_the_second_photo)
    assert list(tmp_path.iterdir()) == []


def test_something_else_in_a_boards_place_is_left_and_named(tmp_path: Path):
    place = tmp_path / "Harbour wall spring"
    place.mkdir()
    (place / "letters.txt").write_text("mine")
    with pytest.raises(InputError, match=r"^Harbour wall spring: .*choose a new name"):
        build_boards(tmp_path, SMALL[:1], nobody)
    assert [each.name for each in tmp_path.rglob("*")] == ["Harbour wall spring", "letters.txt"]


def test_a_spoilt_board_in_a_boards_place_is_left_and_named(tmp_path: Path):
    place = tmp_path / "Harbour wall spring"
    place.mkdir()
    (place / "board.rustboard").write_text("no board")
    with pytest.raises(InputError, match=r"^Harbour wall spring: .*cannot be opened.*Move its folder away"):
        build_boards(tmp_path, SMALL[:1], nobody)
    assert (place / "board.rustboard").read_text() == "no board"


def test_coupons_hang_where_the_plan_says(harbour: Session):
    places = {each.id: each.position for each in harbour.record.coupons.values()}
    assert places == {"C11": Position(1, 3), "C19": Position(2, 4)}


def test_the_board_holds_the_whole_plan(harbour: Session):
    held, planned = whole_plan_of(harbour.record), small(HARBOUR).plan
    assert (held.recipes, held.questions, held.layout) == (planned.recipes, planned.questions, planned.layout)
    assert held.calendar == planned.calendar
    assert held == planned
