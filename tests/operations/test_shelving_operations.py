"""Tags, the archive and the earlier board: given, changed, taken back, and refused in a sentence."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from rustboard.board.record import forerunner_of, is_archived, tags_of
from rustboard.board.shelving import Forerunner
from rustboard.operations.shelving import archive, bring_back, set_forerunner, set_tags

EARLIER = Forerunner("Autumn", datetime(2025, 9, 1, 8), "beeswax blend", "two coats instead of one", "Autumn board")


def test_a_board_gets_tags_each_once_and_in_order(session):
    changes = session.do(set_tags, ["wax", " Harbour  wall\n", "WAX", ""])
    assert tags_of(session.record) == ["wax", "Harbour wall"]
    assert changes.summary.text() == "Tag the board: wax, Harbour wall"
    assert changes.tables == {"tag": frozenset({1, 2})}


def test_other_tags_replace_the_first_and_a_tag_that_stays_keeps_its_row(session):
    session.do(set_tags, ["wax", "oil"])
    session.do(set_tags, ["Oil", "paint"])
    assert {key: each.word for key, each in session.record.tags.items()} == {2: "Oil", 3: "paint"}
    session.undo()
    assert tags_of(session.record) == ["wax", "oil"]
    session.redo()
    assert tags_of(session.record) == ["Oil", "paint"]


def test_all_tags_can_be_taken_off(session):
    session.do(set_tags, ["wax"])
    assert session.do(set_tags, []).summary.text() == "Take all tags off the board"
    assert session.record.tags == {}


def test_too_many_or_too_long_tags_are_refused(session, refused):
    assert refused(set_tags, [f"t{number}" for number in range(21)]) == (
        "A board has at most 20 tags; leave some out."
    )
    assert refused(set_tags, ["x" * 41]) == f"A tag has at most 40 characters; shorten “{'x' * 40}…”."


def test_a_board_is_put_away_and_brought_back(session, refused):
    assert not is_archived(session.record)
    assert refused(bring_back) == "This board is not in the archive."
    assert session.do(archive).summary.text() == "Put the board into the archive"
    assert is_archived(session.record)
    assert refused(archive) == "This board is in the archive already."
    session.do(bring_back)
    assert not is_archived(session.record)
    session.undo()
    assert is_archived(session.record)
    assert [each[2] for each in session.audit()] == ["undo", "bring_back", "archive"]


def test_the_earlier_board_is_kept_and_can_be_taken_back(session):
    changes = session.do(set_forerunner, replace(EARLIER, name=" Autumn\n", changed="two coats\tinstead of one"))
    assert forerunner_of(session.record) == EARLIER
    assert changes.summary.text() == (
        "Say that the board follows Autumn, with one thing changed: two coats instead of one"
    )
    session.do(set_forerunner, None)
    assert forerunner_of(session.record) is None
    session.undo()
    assert forerunner_of(session.record) == EARLIER


@pytest.mark.parametrize(("spoilt", "sentence"), [
    ({"name": " "}, "Name the earlier board that this one follows."),
    ({"changed": "\n"}, "Say what is changed on this board."),
    ({"kept": "x" * 501}, "What was kept and what was changed have at most 500 characters each; make it shorter."),
    ({"started": datetime(1066, 10, 14)}, "The year of the start is between 1900 and 2200; check the date."),
])  # fmt: skip
def test_what_cannot_be_said_of_the_earlier_board_is_refused(refused, spoilt, sentence):
    assert refused(set_forerunner, replace(EARLIER, **spoilt)) == sentence
