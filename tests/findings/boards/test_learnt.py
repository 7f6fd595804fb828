"""What all boards say of one treatment."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from several_boards import board, request, texts

from rustboard.board.question import Question
from rustboard.findings.boards.learnt import learnt_of
from rustboard.findings.boards.sought import Sought, differing_parts, offers_of, plain, treated

WALL = {"wax": (10, 9, 10, 9), "oil": (6, 5, 6, 5), "bare": (2, 1, 2, 2)}
YARD = {"oil": (7, 6, 6, 7), "wax": (9, 9, 9, 10), "bare": (3, 2, 2, 3)}
LEVEL = {"wax": (9, 8, 9, 8), "oil": (8, 9, 8, 9), "bare": (8, 9, 9, 8)}
NO_WAX = {"oil": (7, 6, 6, 7), "bare": (3, 2, 2, 3)}
WAX = Sought("name", "Wax ")


def boards(*grades, **more):
    return [
        replace(request(board(each, name=f"board {n}", **more)), question=Question()) for n, each in enumerate(grades)
    ]


def learnt(requests, sought=WAX):
    return learnt_of(requests, sought)


def test_each_board_tells_its_coupons_and_how_the_treatment_stood():
    found = learnt(boards(WALL, LEVEL))
    assert found.boards == ("board 0", "board 1")
    assert [(each.coupons, each.mean, each.failed) for each in found.rows] == [(4, 9.5, 0), (4, 8.5, 0)]
    assert found.rows[0].against == {"control": "better", "oil": "better"}
    assert found.rows[1].against == {"control": "open", "oil": "open"}
    assert found.rivals == ("oil",)


def test_the_sentences_say_no_more_than_the_numbers():
    told = texts(learnt(boards(WALL, YARD, LEVEL)).sentences)
    assert told[0] == "Wax was on 3 boards, with 12 coupons graded." or told[0].startswith("Wax")
    assert told[1] == (
        "Against the controls, board by board: it did better on 2 boards and could not be told apart on 1 board."
    )
    assert any(each.startswith("Over 3 boards ") for each in told)
    assert told[-1] == "None of its coupons fell to grade 7 or lower while it was watched."


def test_one_board_alone_is_never_pooled():
    found = learnt(boards(WALL))
    assert found.pooled == ()
    assert "One board alone cannot be pooled: what it shows may be the board's own." in texts(found.sentences)
    assert found.cautions == ()


def test_without_controls_that_is_said():
    found = learnt(boards({"wax": (9, 9), "oil": (5, 5)}, {"wax": (9, 8), "oil": (5, 6)}))
    assert "No board can compare it with controls." in texts(found.sentences)
    assert all("control" not in each.against for each in found.rows)


def test_nobody_has_it():
    found = learnt(boards(NO_WAX))
    assert found.rows == ()
    assert texts(found.sentences) == ["No board has Wax  on a test coupon."]


def test_boards_watched_for_different_lengths_are_pooled_over_what_all_reached():
    short = replace(request(board(WALL, days=(20,))), question=Question())
    found = learnt([short, *boards(YARD)])
    assert found.shared == 20


def test_recipes_that_differ_are_told_by_their_parts():
    one, other = boards(WALL, YARD)
    treatments = other.record.treatments
    key = next(key for key, each in treatments.items() if each.name == "wax")
    treatments[key] = replace(treatments[key], protectant="lanolin", coats=3)
    found = learnt([one, other])
    assert texts(found.sentences)[-1] == (
        "The recipes are not the same everywhere; they differ in: protectant and number of coats."
    )
    assert any("rests on its name" in each for each in texts(found.cautions))


def test_a_part_of_the_recipe_takes_all_treatments_that_have_it():
    both = {"wax": (10, 9, 10), "hot wax": (9, 9, 9), "oil": (5, 5, 6), "bare": (2, 1, 2)}
    requests = boards(both, both)
    for each in requests:
        treatments = each.record.treatments
        for key in (1, 2):
            treatments[key] = replace(treatments[key], family="Waxes")
    found = learnt(requests, Sought("family", "waxes"))
    assert [(each.board, each.treatment) for each in found.rows] == [
        (0, "wax"), (0, "hot wax"), (1, "wax"), (1, "hot wax"),
    ]  # fmt: skip
    pooled = next(each for each in found.pooled if each.name_b == "control")
    assert [(each.units_a, each.units_b) for each in pooled.effects] == [(6, 3), (6, 3)]
    assert "in 4 treatments counted board by board" in texts(found.sentences)[0]


def test_what_can_be_sought_is_offered_once_however_it_is_written():
    records = [each.record for each in boards(WALL, YARD)]
    records[1].treatments[2] = replace(records[1].treatments[2], name=" WAX", protectant="none")
    offers = offers_of(records)
    assert offers["name", "wax"] == "wax"
    assert ("protectant", "none") not in offers
    assert treated(records[1], Sought("name", "wax"))
    assert differing_parts([(records[0], records[0].treatments[1]), (records[1], records[1].treatments[2])]) == [
        "protectant"
    ]
    assert plain(" None ") == ""


def figures(found):
    """What may not depend on the order of the boards."""
    rows = sorted((found.boards[each.board], each.mean, sorted(each.against.items())) for each in found.rows)
    pooled = {
        each.name_b: tuple(
            None if value is None else round(value, 9) for value in (each.difference, each.low, each.high)
        )
        for each in found.pooled
    }
    return rows, pooled


@settings(max_examples=6, deadline=None)
@given(st.permutations(range(3)))
def test_the_order_of_the_boards_changes_no_figure(order):
    requests = boards(WALL, YARD, LEVEL)
    assert figures(learnt([requests[each] for each in order])) == figures(learnt(requests))


@settings(max_examples=4, deadline=None)
@given(st.integers(0, 2))
def test_a_board_that_lacks_it_changes_nothing(at):
    requests = boards(WALL, LEVEL)
    more = requests.copy()
    more.insert(at, boards(NO_WAX)[0])
    assert learnt(more) == learnt(requests)
