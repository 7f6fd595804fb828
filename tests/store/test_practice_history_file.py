"""The file of the practice history: added to, never changed, and sound whatever somebody did to it."""

from __future__ import annotations

import json
import threading
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from filelock import FileLock
from hypothesis import given
from hypothesis import strategies as st
from real_disks import fill, read_only, small_disk

from rustboard.scales.practice_results import Answer
from rustboard.store import practice_history
from rustboard.store.practice_history import Begun, Given, History, add_entries, read_history
from rustboard.support.problems import InputError

WHEN = datetime(2026, 3, 2, 9)
ANN = Begun("a1", "Ann", 77, 1, WHEN)
LEFT_OUT = "One line of your practice history practice.jsonl cannot be read and is left out."


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "config" / "practice.jsonl"


def gave(number: int, grade: int = 5, exercise: str = "a1", percent: float = 2.0) -> Given:
    return Given(exercise, Answer(number, percent, grade), WHEN + timedelta(seconds=number))


def grades(history: History) -> dict[str, list[tuple[int, int]]]:
    return {each.begun.id: [(one.number, one.grade) for one in each.answers] for each in history.exercises}


def line(**changed: object) -> bytes:
    kept = {"format": 1, "is": "given", "exercise": "a1", "number": 1, "percent": 2.0, "grade": 5, "at": "2026-03-02"}
    return json.dumps({**kept, **changed}).encode() + b"\n"


def test_a_history_that_is_not_there_yet_is_empty_and_nothing_is_written(file: Path) -> None:
    assert read_history(file) == History()
    assert not file.parent.exists()


def test_what_is_added_comes_back_in_order(file: Path) -> None:
    add_entries(file, [ANN])
    add_entries(file, [gave(1, 4), gave(0, 9)])
    add_entries(file, [Begun("b2", "Berta", 3, 1, WHEN), gave(0, 2, "b2")])
    history = read_history(file)
    assert history.problem == ""
    assert grades(history) == {"a1": [(0, 9), (1, 4)], "b2": [(0, 2)]}
    assert history.exercises[0].begun == ANN
    assert history.exercises[0].last == WHEN + timedelta(seconds=1)


def test_adding_leaves_every_byte_before_as_it_was(file: Path) -> None:
    add_entries(file, [ANN, gave(0)])
    before = file.read_bytes()
    add_entries(file, [gave(1)])
    assert file.read_bytes().startswith(before)
    assert len(file.read_bytes()) < len(before) + 200


def test_of_two_answers_to_one_coupon_the_first_counts(file: Path) -> None:
    add_entries(file, [ANN, gave(3, 9), gave(3, 1)])
    assert grades(read_history(file)) == {"a1": [(3, 9)]}


names = st.text(min_size=1, max_size=200).map(practice_history.one_line).filter(bool)


@given(names, st.floats(0, 100), st.integers(0, 43), st.integers(0, 10))
def test_any_name_and_any_percent_come_back_as_they_were(tmp_path_factory, name, percent, number, grade) -> None:
    file = tmp_path_factory.mktemp("history") / "practice.jsonl"
    add_entries(file, [Begun("a1", name, 2**60, 1, WHEN), gave(number, grade, percent=percent)])
    (exercise,) = read_history(file).exercises
    assert exercise.begun.grader == name
    assert exercise.answers == (Answer(number, percent, grade),)


@pytest.mark.parametrize("cut", [1, 5, 40, 90])
def test_a_line_torn_by_a_power_cut_is_left_out_and_the_next_begins_on_its_own(file: Path, cut: int) -> None:
    add_entries(file, [ANN, gave(0), gave(1)])
    file.write_bytes(file.read_bytes()[:-cut])
    left = read_history(file)
    assert grades(left) == {"a1": [(0, 5)] if cut > 1 else [(0, 5), (1, 5)]}
    add_entries(file, [gave(2)])
    assert (2, 5) in grades(read_history(file))["a1"]
    assert read_history(file).problem == (LEFT_OUT if cut > 1 else "")


@pytest.mark.parametrize(
    "hostile",
    [
        line(format=2),
        line(format=True),
        line(number=44),
        line(number=-1),
        line(number=True),
        line(number=1.0),
        line(grade=11),
        line(grade="7"),
        line(grade=True),
        line(percent=100.1),
        line(percent=float("nan")),
        line(percent="1"),
        line(exercise=""),
        line(exercise="nobody's"),
        line(at="yesterday"),
        line(at="0001-01-01"),
        line(**{"is": "taken back"}),
        line(**{"is": "begun"}),
        line(**{"is": "begun", "grader": "Ann", "seed": -1, "plan": 1}),
        line(**{"is": "begun", "grader": "\ud800", "seed": 2**70, "plan": 1}),
        line(note="x" * 3_000),
        b"[" * 2_000 + b"\n",
        b"\x00\xff\xfe\n",
        b"null\n",
        b"7\n",
    ],
)
def test_a_hostile_line_is_left_out_and_the_others_stay(file: Path, hostile: bytes) -> None:
    add_entries(file, [ANN, gave(0)])
    with file.open("ab") as stream:
        stream.write(hostile)
    add_entries(file, [gave(2)])
    history = read_history(file)
    assert grades(history) == {"a1": [(0, 5), (2, 5)]}
    assert history.problem == LEFT_OUT


def test_a_name_from_a_hostile_file_is_one_safe_line(file: Path) -> None:
    file.parent.mkdir()
    file.write_bytes(line(**{"is": "begun", "grader": "a\u202eb\nc" + "W" * 500, "seed": 1, "plan": 1}))
    (exercise,) = read_history(file).exercises
    assert exercise.begun.grader.startswith("a\ufffdb c")
    assert len(exercise.begun.grader) == 200


@pytest.mark.parametrize(
    "data",
    [b"{", b"[]\n", b"\xff\xfe\x00", b"word " * 2_000, b"\n" * 9 + b"x", b" " * ((8 << 20) + 1)],
    ids=["torn", "list", "bytes", "words", "late", "large"],
)
def test_a_file_that_is_no_history_is_put_aside_when_something_is_added(file: Path, data: bytes) -> None:
    file.parent.mkdir()
    file.write_bytes(data)
    told = "Your practice history practice.jsonl cannot be read; it is put aside when you next grade."
    assert read_history(file) == History(problem=told)
    add_entries(file, [gave(1)], whole=[ANN, gave(0), gave(1)])
    assert grades(read_history(file)) == {"a1": [(0, 5), (1, 5)]}
    assert file.with_name("practice.damaged-1.jsonl").read_bytes() == data


def test_an_empty_file_is_taken_as_it_is(file: Path) -> None:
    file.parent.mkdir()
    file.touch()
    add_entries(file, [ANN])
    assert grades(read_history(file)) == {"a1": []}
    assert list(file.parent.glob("*damaged*")) == []


def test_an_exercise_goes_on_whole_in_a_new_file_when_somebody_moved_the_old_one_away(file: Path) -> None:
    add_entries(file, [ANN, gave(0)])
    file.unlink()
    add_entries(file, [gave(1)], whole=[ANN, gave(0), gave(1)])
    assert grades(read_history(file)) == {"a1": [(0, 5), (1, 5)]}


def test_two_windows_do_not_lose_each_others_answers(file: Path) -> None:
    add_entries(file, [ANN, Begun("b2", "Berta", 3, 1, WHEN)])

    def grade(exercise: str) -> None:
        for number in range(20):
            add_entries(file, [gave(number, number % 11, exercise)])

    threads = [threading.Thread(target=grade, args=(each,)) for each in ("a1", "b2")]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    expected = [(number, number % 11) for number in range(20)]
    assert grades(read_history(file)) == {"a1": expected, "b2": expected}
    assert read_history(file).problem == ""


def test_a_window_that_is_busy_for_long_is_told_of(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    add_entries(file, [ANN])
    monkeypatch.setattr(practice_history, "_WAIT_SECONDS", 0.05)
    with (
        FileLock(file.with_name(".practice.jsonl.lock")),
        pytest.raises(InputError, match="Another window is busy with the practice history"),
    ):
        add_entries(file, [gave(0)])
    assert grades(read_history(file)) == {"a1": []}


def test_a_full_history_takes_no_more_and_stays_whole(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    add_entries(file, [ANN, gave(0)])
    before = file.read_bytes()
    monkeypatch.setattr(practice_history, "MOST_BYTES", len(before) + 50)
    with pytest.raises(InputError, match=r"practice\.jsonl: The practice history is full; move the file away"):
        add_entries(file, [gave(1)])
    assert file.read_bytes() == before


def test_a_full_disk_keeps_no_half_line(tmp_path: Path) -> None:
    with small_disk(tmp_path / "disk", 64) as disk:
        file = disk / "practice.jsonl"
        add_entries(file, [ANN, *(gave(number) for number in range(10))])
        before = file.read_bytes()
        filler = fill(disk)
        with pytest.raises(InputError, match="The disk is full"):
            add_entries(file, [gave(number) for number in range(10, 44)])
        assert file.read_bytes() == before
        filler.unlink()
        add_entries(file, [gave(10)])
        assert grades(read_history(file))["a1"][-1] == (10, 5)


def test_a_folder_for_reading_only_is_told_and_its_history_is_still_read(file: Path) -> None:
    add_entries(file, [ANN, gave(0)])
    with read_only(file.parent):
        with pytest.raises(InputError, match=r"practice\.jsonl"):
            add_entries(file, [gave(1)])
        assert grades(read_history(file)) == {"a1": [(0, 5)]}


def test_a_folder_in_the_place_of_the_file_is_told(file: Path) -> None:
    file.mkdir(parents=True)
    for act in (read_history, lambda path: add_entries(path, [ANN])):
        with pytest.raises(InputError, match=r"practice\.jsonl"):
            act(file)
