"""A file with bytes changed at random opens, or is refused with a sentence; no accident, no waiting without end."""

import random
import time

import pytest
from store_boards import NOW, do, graded_board, opened

from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.store.board_store import BoardStore
from rustboard.store.check import check_board
from rustboard.support.problems import InputError

FLIPS = 400
LONGEST_SECONDS = 5.0


@pytest.fixture(scope="module")
def sound(tmp_path_factory):
    folder = graded_board(tmp_path_factory.mktemp("sound") / "b", coupons=10, inspections=4)
    return (folder / "board.rustboard").read_bytes()


def damaged(content, dice):
    """Return the content with one to eight bytes changed, often in places that matter most."""
    changed = bytearray(content)
    for _ in range(dice.choice([1, 1, 1, 2, 8])):
        where = dice.choice([100, 4096, len(content), len(content)])
        changed[dice.randrange(16, where)] = dice.choice([0, 0xFF, dice.randrange(256)])
    return bytes(changed)


def use(folder):
    """Do with a board what the program does; refusals are expected, anything else is not."""
    outcomes = []
    for work in (check_board, look, work_on):
        try:
            work(folder)
            outcomes.append("")
        except InputError as error:
            outcomes.append(error.problem.what)
    return outcomes


def look(folder):
    with opened(folder, read_only=True) as store:
        store.read()
        store.audit()


def work_on(folder):
    store = BoardStore(folder, now=NOW)
    try:
        record = store.read()
        for _ in range(3):
            store.step("undo", now=NOW, who="")
        coupon, inspection = min(record.coupons, default=1), min(record.inspections, default=1)
        do(store, grade_coupon, GivenGrade(coupon, inspection, 3))
        store.read()
    finally:
        store.close()


@pytest.mark.parametrize("part", range(4))
def test_bytes_flipped_at_random_never_cause_more_than_a_sentence(tmp_path, sound, part):
    dice = random.Random(part)
    folder = tmp_path / "b"
    folder.mkdir()
    sentences = set()
    for _ in range(FLIPS // 4):
        for each in folder.glob("board.rustboard*"):
            each.unlink()
        (folder / "board.rustboard").write_bytes(damaged(sound, dice))
        began = time.monotonic()
        sentences.update(use(folder))
        assert time.monotonic() - began < LONGEST_SECONDS
    assert "" in sentences, "no flip was harmless, which is not to be believed"
    assert len(sentences) > 2, "no flip did harm, which is not to be believed"
    assert all(sentence.endswith(".") for sentence in sentences if sentence)
