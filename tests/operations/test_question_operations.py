"""The question: written before the exposure, changed later, and never lost."""

import math
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from rustboard.board.model import Board, Inspection, Photo, Treatment
from rustboard.board.question import MOST_PAIRS, Question
from rustboard.operations.boards import edit_board
from rustboard.operations.inspections import add_inspection
from rustboard.operations.photos import add_photo
from rustboard.operations.questions import set_question
from rustboard.operations.treatments import add_treatments, edit_treatment, remove_treatment
from rustboard.support.summary import Summary

NOW = datetime(2026, 3, 2, 9)


def plant(tx, *ids):
    add_treatments(tx, [Treatment(each) for each in ids])
    return Summary("Plant treatments")


def test_the_question_is_written_down_and_replaced_before_the_exposure(session):
    changes = session.do(set_question, Question("pairs", worthwhile=1.5, words="  Does wax\nlast? "))
    assert changes.summary.text() == "Write the question down"
    first = Question("pairs", worthwhile=1.5, words="Does wax\nlast?", written=NOW, key=1)
    assert session.record.questions == {1: first}
    changes = session.do(set_question, replace(first, failing_grade=5, assumed_sd=0.8, key=0))
    assert changes.summary.text() == "Change the question: failing grade, assumed sd"
    assert session.record.questions == {1: replace(first, failing_grade=5, assumed_sd=0.8)}


def test_the_usual_question_can_be_written_down_as_it_is(session):
    session.do(set_question, Question())
    assert session.record.question == Question(written=NOW, key=1)


def test_what_changes_nothing_is_not_written(session):
    session.do(set_question, Question())
    assert session.do(set_question, replace(Question(), written=NOW + timedelta(days=1), late=True)).tables == {}


@pytest.mark.parametrize("begin", ["inspection", "start"])
def test_after_the_exposure_began_a_change_is_kept_beside_what_was_written(session, begin):
    session.do(set_question, Question(words="first"))
    if begin == "inspection":
        session.do(add_inspection, Inspection(NOW))
    else:
        session.do(edit_board, Board("Harbour wall", started=NOW))
    changes = session.do(set_question, Question(words="second"))
    assert changes.summary.text() == "Change the question after the exposure began: words"
    session.do(set_question, Question(words="second"))
    session.do(set_question, Question(words="third"))
    assert [(each.words, each.late) for each in session.record.questions.values()] == [
        ("first", False), ("second", True), ("third", True),
    ]  # fmt: skip
    assert session.record.question.words == "third"
    session.undo()
    assert session.record.question.words == "second"


def test_a_start_still_to_come_is_no_exposure(session):
    session.do(edit_board, Board("Harbour wall", started=NOW + timedelta(minutes=1)))
    session.do(set_question, Question(words="first"))
    session.do(set_question, Question(words="second"))
    assert [(each.words, each.late) for each in session.record.questions.values()] == [("second", False)]


@pytest.mark.parametrize("begin", [
    (add_inspection, Inspection(NOW)),
    (add_photo, Photo("a.jpg", "a.jpg", "0" * 64, 700, 300)),
    (edit_board, Board("Harbour wall", started=NOW)),
])  # fmt: skip
def test_a_first_question_after_the_exposure_began_is_late(session, begin):
    session.do(*begin)
    assert session.record.has_begun(NOW)
    session.do(set_question, Question())
    assert session.record.question.late


def test_a_late_question_stays_late_and_is_kept_when_the_start_is_put_off(session):
    session.do(edit_board, Board("Harbour wall", started=NOW))
    session.do(set_question, Question(words="first"))
    session.do(edit_board, Board("Harbour wall", started=NOW + timedelta(days=300)))
    session.do(set_question, Question(words="second"))
    assert [(each.words, each.late) for each in session.record.questions.values()] == [
        ("first", True), ("second", True),
    ]  # fmt: skip


@pytest.mark.parametrize(("question", "sentence"), [
    (Question("everything"), "A question compares one of: control, pairs, families, grid, chosen."),
    (Question(measure="luck"), "Treatments are judged by one of: last grade, mean grade, days to failing grade."),
    (Question(failing_grade=10), "The failing grade is a whole number from 0 to 9."),
    (Question(worthwhile=0.0), "The difference that matters is from 0.1 to 10 grades; mend the number."),
    (Question(worthwhile=math.nan), "The difference that matters is from 0.1 to 10 grades; mend the number."),
    (Question(assumed_sd=9.0), "The assumed spread is from 0.05 to 5 grades; mend the number."),
    (Question(pairs=(("T1", "T9"),)), "The board has no treatment “T9”; choose another one for this pair."),
    (Question(pairs=(("T1", "t1"),)), "A treatment cannot be compared with itself; choose two different ones."),
])  # fmt: skip
def test_what_cannot_be_asked_is_refused(session, refused, question, sentence):
    session.do(plant, "T1", "T2")
    assert refused(set_question, question) == sentence


def test_pairs_are_spelled_as_on_the_board_and_kept_once(session):
    session.do(plant, "T1", "T2", "T3")
    session.do(set_question, Question("chosen", (("t1", "T2"), ("T2", "T1"), ("T3", "t2"))))
    assert session.record.question.pairs == (("T1", "T2"), ("T3", "T2"))


def test_a_question_has_no_more_pairs_than_can_be_kept(session, refused):
    names = [f"T{number}" for number in range(MOST_PAIRS + 2)]
    session.do(plant, *names)
    pairs = tuple((names[0], each) for each in names[1:])
    assert refused(set_question, Question("chosen", pairs)) == (
        f"A question has at most {MOST_PAIRS} pairs; compare all treatments instead."
    )
    session.do(set_question, Question("chosen", pairs[:MOST_PAIRS]))


def test_a_pair_whose_treatment_is_gone_does_not_keep_the_rest_from_being_changed(session):
    session.do(plant, "T1", "T2")
    session.do(set_question, Question("chosen", (("T1", "T2"),)))
    session.do(remove_treatment, 2)
    session.do(set_question, replace(session.record.question, worthwhile=1.0))
    assert session.record.question.pairs == (("T1", "T2"),)


def test_pairs_follow_a_treatment_that_gets_another_id(session):
    session.do(plant, "T1", "T2")
    session.do(set_question, Question("chosen", (("T1", "T2"),)))
    session.do(add_inspection, Inspection(NOW))
    session.do(set_question, Question("chosen", (("T1", "T2"),), failing_grade=4))
    session.do(edit_treatment, replace(session.record.treatments[1], id="Wax"))
    assert [each.pairs for each in session.record.questions.values()] == [(("Wax", "T2"),)] * 2
    assert session.record.question.written == NOW
    session.undo()
    assert session.record.question.pairs == (("T1", "T2"),)
