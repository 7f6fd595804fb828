"""Zones: neighbours with one name."""

from rustboard.board.zones import zones


def test_neighbours_with_one_name_make_a_zone_and_those_without_a_name_none():
    assert zones(["a", "a", "", "b", "a"]) == [(0, 1, "a"), (3, 3, "b"), (4, 4, "a")]
    assert zones(["", "a", "", "a"]) == [(1, 1, "a"), (3, 3, "a")]


def test_an_axis_without_names_has_no_zones():
    assert zones([]) == zones(["", ""]) == []
