"""Sentences about what was done."""

from rustboard.support.summary import Summary


def test_the_parts_go_into_their_places_also_of_a_translated_pattern():
    summary = Summary("Move {0} to {1}", ("C1", "B2"))
    assert summary.text() == "Move C1 to B2"
    assert summary.text("Nach {1} gehängt: {0}") == "Nach B2 gehängt: C1"


def test_a_part_that_looks_like_a_place_stays_as_it_is():
    assert Summary("Swap {0} and {1}", ("{1}", "{0}")).text() == "Swap {1} and {0}"
    assert Summary("Add {0}", ("{0.__class__} %s",)).text() == "Add {0.__class__} %s"


def test_a_place_without_a_part_stays_as_it_is():
    assert Summary("Add {0} at {1}", ("C1",)).text() == "Add C1 at {1}"
