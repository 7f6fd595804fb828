"""Which treatment of one board is the same as which of another."""

from dataclasses import replace

import pytest
from several_boards import board

from rustboard.board.recipe import Recipe, RecipeStep, TreatmentRecipe
from rustboard.findings.boards.matching import check_matching, match_of, suggest
from rustboard.findings.boards.matching_changes import certain_only, changed, judged, renamed
from rustboard.support.problems import InputError


def described(**titles):
    """A board with one coupon of each treatment, described as given: protectant, or a whole dict of fields."""
    record = board({title: [8] for title in titles})
    for (key, treatment), (_, more) in zip(list(record.treatments.items()), titles.items(), strict=True):
        fields = more if isinstance(more, dict) else {"protectant": more}
        record.treatments[key] = replace(treatment, **{"protectant": "", **fields})
    return record


def with_steps(record, treatment, *steps):
    record.recipes[treatment] = TreatmentRecipe(treatment, Recipe(steps), treatment)
    return record


def rows(matching):
    return [(each.name, each.treatments, each.sure) for each in matching.common]


def test_the_same_recipe_under_other_names_is_certain_and_the_same_name_alone_likely():
    one = described(wax="beeswax blend", oil="linseed oil", lacquer="")
    other = described(oil="something else", blend=" Beeswax  BLEND", varnish="")
    assert rows(suggest([one, other])) == [
        ("wax", ("T1", "T2"), "certain"),
        ("oil", ("T2", "T1"), "likely"),
        ("lacquer", ("T3", ""), "none"),
        ("varnish", ("", "T3"), "none"),
    ]


def test_other_coats_are_another_recipe():
    one = described(a={"protectant": "wax", "coats": 2})
    other = described(b={"protectant": "wax", "coats": 3})
    assert match_of(one, one.treatments[1], other, other.treatments[1]).sure == "none"


def test_steps_make_it_certain_whatever_batch_price_or_person_and_other_steps_make_it_only_likely():
    step = RecipeStep("coat", "Beeswax blend", quantity=5, minutes=10)
    one = with_steps(described(a="wax"), 1, step)
    same = with_steps(described(b="wax"), 1, replace(step, product="beeswax blend", batch="7", who="Bo", note="x"))
    hotter = with_steps(described(c="wax"), 1, replace(step, temperature_c=80.0))
    unwritten = described(d="wax")
    for other, sure in ((same, "certain"), (hotter, "likely"), (unwritten, "likely")):
        assert match_of(one, one.treatments[1], other, other.treatments[1]).sure == sure


def test_a_quantity_that_is_not_known_has_no_unit_that_counts():
    one = with_steps(described(a=""), 1, RecipeStep("coat", "wax", unit="ml"))
    other = with_steps(described(b=""), 1, RecipeStep("coat", "wax", unit="kg", per="m2"))
    assert match_of(one, one.treatments[1], other, other.treatments[1]).sure == "certain"


def test_controls_match_controls_whatever_treatment_they_name():
    one, other = board({"wax": [8], "bare": [3]}), board({"wax": [8], "untouched": [3]}, controls=False)
    for key, each in list(other.coupons.items()):
        if each.treatment == 2:
            other.coupons[key] = replace(each, role="control", treatment=None)
    assert rows(suggest([one, other])) == [
        ("wax", ("T1", "T1"), "certain"),
        ("control", ("control", "control"), "likely"),  # one names a recipe, the other none
    ]
    assert rows(suggest([one, board({"wax": [8]})]))[-1] == ("control", ("control", ""), "none")
    assert suggest([one, one]).common[-1].sure == "certain"


def test_two_alike_on_one_board_go_by_name_and_each_is_matched_once():
    one = described(first="wax", second="wax")
    other = described(second="wax", first="wax")
    assert rows(suggest([one, other])) == [
        ("first", ("T1", "T2"), "certain"),
        ("second", ("T2", "T1"), "certain"),
    ]


def test_three_boards_are_as_sure_as_their_weakest_match():
    boards = [described(wax="beeswax"), described(wax="beeswax"), described(wax="")]
    assert rows(suggest(boards)) == [("wax", ("T1", "T1", "T1"), "likely")]


def test_boards_of_one_name_and_treatments_of_one_name_are_told_apart():
    one, other = described(wax="a"), described(wax="b", control="c")
    other.treatments[1] = replace(other.treatments[1], name="wax")
    matching = suggest([one, described(oil="x"), other])
    assert matching.boards == ("b", "b (2)", "b (3)")
    assert [each.name for each in suggest([one, described(control="x")]).common] == ["wax", "control (2)"]


def test_every_treatment_is_in_a_suggestion_once():
    boards = [described(a="x", b="y"), described(b="x", c="z"), described(a="y", d="z", e="q")]
    matching = suggest(boards)
    check_matching(matching, boards)
    for number, record in enumerate(boards):
        assert sorted(matching.names_on(number)) == sorted(each.id for each in record.treatments.values())


def test_the_user_changes_a_match_and_what_was_there_changes_places():
    one, other = described(a="x", b="y"), described(c="x", d="z")
    matching = suggest([one, other])
    assert rows(matching) == [("a", ("T1", "T1"), "certain"), ("b", ("T2", ""), "none"), ("d", ("", "T2"), "none")]
    told = changed(matching, 1, 1, "T2")
    assert rows(told) == [("a", ("T1", "T1"), "certain"), ("b", ("T2", "T2"), "chosen")]
    check_matching(told, [one, other])
    swapped = changed(told, 0, 1, "T2")
    assert rows(swapped) == [("a", ("T1", "T2"), "chosen"), ("b", ("T2", "T1"), "chosen")]
    parted = changed(swapped, 0, 1, "")
    assert rows(parted) == [("a", ("T1", ""), "none"), ("T2", ("", "T2"), "none"), ("b", ("T2", "T1"), "chosen")]
    check_matching(parted, [one, other])
    assert [each.name for each in renamed(parted, 1, " c two ").common] == ["a", "c two", "b"]


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda rows: [replace(rows[0], treatments=("T9", "T1")), *rows[1:]], "has no treatment “T9”"),
        (lambda rows: [*rows, replace(rows[0], name="again")], "is in two rows"),
        (lambda rows: [replace(rows[0], name=" "), *rows[1:]], "has no name"),
        (lambda rows: [replace(rows[0], name="OIL"), *rows[1:]], "are called"),
        (lambda rows: [replace(rows[0], treatments=("T1",)), *rows[1:]], "matched for other boards"),
    ],
)
def test_a_matching_that_makes_no_sense_is_refused(spoil, words):
    boards = [described(wax="x", oil="y"), described(wax="x", oil="y")]
    matching = suggest(boards)
    with pytest.raises(InputError, match=words):
        check_matching(replace(matching, common=tuple(spoil(list(matching.common)))), boards)


def test_a_name_that_another_row_has_is_refused():
    matching = suggest([described(wax="x", oil="y"), described(wax="x")])
    with pytest.raises(InputError, match="are called"):
        renamed(matching, 0, "oil")


def test_no_boards_and_empty_boards_match_nothing():
    assert suggest([]).common == ()
    assert suggest([board({"a": []}), board({"a": []})]).common == ()


def test_a_changed_match_is_judged_by_what_the_boards_say():
    one, other = described(a="x", b="y"), described(c="x", d="z")
    parted = changed(changed(suggest([one, other]), 0, 1, ""), 1, 1, "T2")
    again = changed(parted, 0, 1, "T1")
    told = rows(judged(again, [one, other]))
    assert ("a", ("T1", "T1"), "certain") in told
    assert [sure for _, treatments, sure in told if treatments == ("", "T2")] in (["chosen"], ["none"])


def test_without_anybody_to_ask_only_what_is_certain_is_put_together():
    one, other = described(wax="x", oil="y"), described(wax="x", oil="z")
    assert rows(certain_only(suggest([one, other]))) == [
        ("wax", ("T1", "T1"), "certain"),
        ("oil", ("T2", ""), "none"),
        ("oil (2)", ("", "T2"), "none"),
    ]
