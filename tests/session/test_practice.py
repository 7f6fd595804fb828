"""Practice as the window asks for it: in order, resumed, kept by name, and never telling too early."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from practice_grading import grade_on, painting, rather

from rustboard.scales.practice import TOTAL, exercise
from rustboard.session import practice as practice_module
from rustboard.session.practice import MOST_GRADERS, Practice
from rustboard.store.practice_history import read_history
from rustboard.support import paths
from rustboard.support.problems import InputError

WHEN = datetime(2026, 3, 2, 9)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "practice.jsonl"


class Ticking:
    """A clock that goes on by a second each time it is read."""

    def __init__(self) -> None:
        self.now = WHEN

    def __call__(self) -> datetime:
        self.now += timedelta(seconds=1)
        return self.now


def practice(file: Path, seed: int = 5) -> Practice:
    return Practice(file, clock=Ticking(), draw_seed=lambda bits: seed)


def started(file: Path, grader: str = "Ann", seed: int = 5) -> Practice:
    found = practice(file, seed)
    found.start(grader)
    return found


def answers_on_disk(file: Path) -> list[tuple[int, int]]:
    return [(one.number, one.grade) for each in read_history(file).exercises for one in each.answers]


def test_the_history_lies_beside_the_settings() -> None:
    practice = Practice(draw_seed=lambda bits: 5)
    practice.start("Ann")
    assert paths.practice_file().is_file()
    assert paths.practice_file().parent == paths.settings_file().parent


def test_a_name_is_needed_and_made_safe(file: Path) -> None:
    with pytest.raises(InputError, match="Say who grades"):
        practice(file).start(" \t ")
    assert not file.exists()
    started(file, "  An\u202en\n" + "W" * 300)
    (name,) = practice(file).graders()
    assert name.startswith("An\ufffdn W")
    assert len(name) == 200


def test_the_coupons_come_in_order_with_the_next_one_wanted_ahead(file: Path) -> None:
    found = started(file)
    assert [each.number for each in found.wanted()] == [0, 1]
    assert found.shown() is None
    found.take(painting(found.wanted()[1]))
    assert [each.number for each in found.wanted()] == [0]
    assert found.shown() is None, "the next one is painted, not this one"
    found.take(painting(found.wanted()[0]))
    assert found.shown() is not None
    assert found.wanted() == []
    found.answer(7)
    assert (found.number, found.part) == (1, "before")
    assert [each.number for each in found.wanted()] == [2]


def test_every_answer_is_on_the_disk_before_the_next_coupon(file: Path) -> None:
    found = started(file)
    for number in range(TOTAL):
        grade_on(found, 1)
        assert answers_on_disk(file)[number][0] == number
        assert len(answers_on_disk(file)) == number + 1


def test_the_truth_is_told_in_the_learning_part_alone_and_after_the_answer_alone(file: Path) -> None:
    found = started(file)
    told = []
    for coupon in exercise(5):
        assert found.part == coupon.part
        painted = painting(coupon)
        found.take(painted)
        shown = found.shown()
        assert shown is not None
        assert set(shown.__slots__) == {"rgb", "steel"}
        truth = found.answer(rather(coupon, 1))
        if truth is not None:
            told.append(coupon.number)
            assert (truth.percent, truth.grade) == (painted.percent, coupon.grade)
            assert truth.off == rather(coupon, 1) - coupon.grade
            assert np.array_equal(truth.rust, painted.rust)
    assert told == list(range(12, 32))
    assert found.part is None


def test_nothing_can_be_given_without_a_coupon_nor_off_the_scale(file: Path) -> None:
    found = started(file)
    with pytest.raises(ValueError, match="no coupon"):
        found.answer(5)
    found.take(painting(found.wanted()[0]))
    with pytest.raises(InputError, match="11 is not a grade"):
        found.answer(11)
    assert answers_on_disk(file) == []


@pytest.mark.parametrize("graded", [0, 1, 12, 17, 31, 43])
def test_closed_half_way_it_is_gone_on_with_at_the_same_coupon_in_the_same_order(file: Path, graded: int) -> None:
    first = started(file, seed=9)
    grade_on(first, graded)
    then = practice(file, seed=1)  # another program run: nothing but the file is left
    assert then.unfinished("Ann") == graded
    then.go_on("Ann")
    assert then.number == graded
    assert [each.number for each in then.wanted()] == [graded, graded + 1][: TOTAL - graded]
    assert then.wanted()[0] == exercise(9)[graded]
    grade_on(then, TOTAL - graded)
    assert then.outcome() is not None
    assert then.unfinished("Ann") is None
    assert len(then.history("Ann")) == 1


def test_a_new_exercise_takes_the_place_of_one_that_was_not_finished(file: Path) -> None:
    grade_on(started(file, seed=9), 5)
    found = started(file, seed=10)
    grade_on(found, 2)
    assert practice(file).unfinished("Ann") == 2
    assert practice(file).history("Ann") == []


def test_an_exercise_whose_coupons_would_be_drawn_otherwise_is_not_gone_on_with(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    grade_on(started(file), 5)
    monkeypatch.setattr(practice_module, "PLAN", 2)
    assert practice(file).unfinished("Ann") is None
    with pytest.raises(InputError, match="no unfinished exercise"):
        practice(file).go_on("Ann")


def test_graders_are_kept_apart_however_their_names_are_capitalised(file: Path) -> None:
    grade_on(started(file, "Ann"), TOTAL)
    grade_on(started(file, "Berta"), 3)
    grade_on(started(file, "ANN "), 1)
    found = practice(file)
    assert found.graders() == ["ANN", "Berta"]
    assert len(found.history("ann")) == 1
    assert (found.unfinished("ann"), found.unfinished("Berta"), found.unfinished("Carl")) == (1, 3, None)
    assert found.history("Berta") == []


def test_of_very_many_names_the_latest_are_offered_and_all_are_known(file: Path) -> None:
    for number in range(MOST_GRADERS + 5):
        started(file, f"Grader {number}")
    found = practice(file)
    assert found.graders() == [f"Grader {number}" for number in range(MOST_GRADERS + 4, 4, -1)]
    assert found.unfinished("Grader 0") == 0


def test_the_figures_are_those_of_before_and_after(file: Path) -> None:
    found = started(file)
    given = []
    for coupon in exercise(5):
        # One too good before, right while learning, one too bad on grade 5 alone afterwards.
        off = 1 if coupon.part == "before" else -1 if coupon.part == "after" and coupon.grade == 5 else 0
        given.append(rather(coupon, off) - coupon.grade)
        found.take(painting(coupon))
        found.answer(rather(coupon, off))
    past = found.outcome()
    assert past is not None
    assert past.before.offset == pytest.approx(sum(given[:12]) / 12)
    assert past.after.offset == pytest.approx(sum(given[32:]) / 12)
    assert (past.before.n, past.after.n) == (12, 12)
    assert past.after.within_one == 12
    (kept,) = practice(file).history("Ann")
    assert (kept.before, kept.after, kept.habits) == (past.before, past.after, past.habits)


def test_there_are_no_figures_before_the_last_coupon(file: Path) -> None:
    found = started(file)
    assert Practice(file).outcome() is None
    grade_on(found, TOTAL - 1)
    assert found.outcome() is None
    assert practice(file).history("Ann") == []


def test_while_the_disk_refuses_the_exercise_goes_on_and_nothing_is_lost_when_it_gives_in(file: Path) -> None:
    found = started(file)
    grade_on(found, 2)
    kept = file.read_bytes()
    file.unlink()
    file.mkdir()  # nothing can be written there
    grade_on(found, 3)
    assert "practice.jsonl" in found.trouble
    assert found.unkept() == 3
    file.rmdir()
    file.write_bytes(kept)
    grade_on(found, 1)
    assert (found.trouble, found.unkept()) == ("", 0)
    assert [number for number, _ in answers_on_disk(file)] == list(range(6))
    assert practice(file).unfinished("Ann") == 6


def test_an_exercise_begun_on_a_disk_that_refuses_is_kept_when_it_gives_in(file: Path) -> None:
    file.mkdir()
    found = started(file)
    assert found.trouble
    grade_on(found, TOTAL)
    assert found.unkept() == TOTAL
    assert found.outcome() is not None, "figures do not wait for the disk"
    file.rmdir()
    found.keep_again()
    assert found.unkept() == 0
    assert len(practice(file).history("Ann")) == 1


def test_a_history_that_cannot_be_read_is_told_and_the_exercise_begins(file: Path) -> None:
    file.write_bytes(b"no history\n")
    found = practice(file)
    assert found.graders() == []
    assert "cannot be read" in found.problem
    found.start("Ann")
    assert found.trouble == ""
    assert found.graders() == ["Ann"]
    assert found.problem == ""


def test_the_same_exercise_in_two_windows_keeps_the_first_answer_of_each_coupon(file: Path) -> None:
    one = started(file)
    other = practice(file)
    other.go_on("Ann")
    grade_on(one, TOTAL, off=0)
    grade_on(other, TOTAL, off=1)
    assert len(answers_on_disk(file)) == TOTAL
    (past,) = practice(file).history("Ann")
    assert past.before.exact == 12
    assert other.outcome() == past


def test_a_coupon_painted_for_another_exercise_is_dropped(file: Path) -> None:
    found = started(file, seed=5)
    late = painting(found.wanted()[0])
    found.start("Ann")
    found._coupons = exercise(6)
    found.take(late)
    assert found.shown() is None
