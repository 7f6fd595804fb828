"""Cost and minutes against protection."""

from dataclasses import replace

import pytest
from exposed_boards import exposed_board, subject
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.model import Treatment
from rustboard.board.recipe import Recipe, RecipeStep, TreatmentRecipe
from rustboard.findings.value.frontier import Offer, on_frontier
from rustboard.findings.value.points import value_findings
from rustboard.findings.value.words import AS_SEEN, value_words

WAX = Treatment("T1", "wax", cost_per_m2=2.0, minutes_per_m2=30.0)
OIL = Treatment("T2", "oil", cost_per_m2=3.0, minutes_per_m2=10.0)
BARE = Treatment("T3", "bare")


def found_of(days, histories, treatments, *, change=None, **question):
    record = exposed_board(days, histories, treatments=treatments)
    if change is not None:
        change(record)
    about = subject(record, **question)
    return value_findings(about, about.group_results)


def test_protection_is_the_mean_with_its_lowest_and_highest_coupon_best_first():
    found = found_of([10], {"T1": [[5], [8]], "T2": [[9], [9]]}, [WAX, OIL])
    assert [(each.name, each.protection, each.low, each.high) for each in found.points] == [
        ("oil", 9.0, 9.0, 9.0),
        ("wax", 6.5, 5.0, 8.0),
    ]


def test_the_frontier_holds_what_nobody_beats_in_money_and_apart_from_it_in_time():
    found = found_of([10], {"T1": [[8]], "T2": [[8]]}, [WAX, OIL])
    assert {each.name: (each.best_for_money, each.best_for_time) for each in found.points} == {
        "wax": (True, False),
        "oil": (False, True),
    }


def test_treatments_that_cost_and_protect_alike_are_both_on_the_frontier():
    assert on_frontier([Offer(2.0, 8.0), Offer(2.0, 8.0), Offer(2.0, 7.0), Offer(3.0, 8.0)]) == [
        True, True, False, False,
    ]  # fmt: skip
    assert on_frontier([Offer(0.1 + 0.2, 8.0), Offer(0.3, 8.0)]) == [True, True]  # differ in the last digit alone
    assert on_frontier([Offer(None, 10.0), Offer(1.0, 2.0)]) == [False, True]


@given(
    st.lists(
        st.tuples(st.one_of(st.none(), st.integers(0, 5)), st.integers(0, 5)).map(lambda each: Offer(*each)),
        max_size=7,
    ),
    st.randoms(use_true_random=False),
)
def test_every_offer_off_the_frontier_is_beaten_by_one_on_it_in_whatever_order_they_come(offers, random):
    marks = on_frontier(offers)
    front = [each for each, mark in zip(offers, marks, strict=True) if mark]
    for each, mark in zip(offers, marks, strict=True):
        beaten = each.price is None or any(
            other.price <= each.price and other.protection >= each.protection and other != each for other in front
        )
        assert mark != beaten
    order = list(range(len(offers)))
    random.shuffle(order)
    assert on_frontier([offers[at] for at in order]) == [marks[at] for at in order]


def test_cost_and_minutes_come_from_the_recipe_where_none_are_written_and_only_when_it_is_whole():
    step = RecipeStep(
        "coat",
        "wax",
        quantity=100,
        unit="ml",
        per="m2",
        container_price=12.0,
        container_quantity=1,
        container_unit="l",
    )

    def with_recipe(*steps):
        def change(record):
            record.recipes[1] = TreatmentRecipe(1, Recipe(steps), key=1)

        return change

    found = found_of([10], {"T1": [[8]]}, [replace(WAX, cost_per_m2=None)], change=with_recipe(step))
    assert found.points[0].cost_per_m2 == pytest.approx(1.2)  # by hand: 0.1 l of 12.00 a litre
    assert found.points[0].minutes_per_m2 == 30.0
    # What is written counts before the recipe.
    assert found_of([10], {"T1": [[8]]}, [WAX], change=with_recipe(step)).points[0].cost_per_m2 == 2.0
    # A recipe with a step that has no price shows no cost: half a sum would pass for the whole.
    half = with_recipe(step, replace(step, container_price=None))
    nothing = replace(WAX, cost_per_m2=None, minutes_per_m2=None)
    assert found_of([10], {"T1": [[8]]}, [nothing], change=half) is None


def test_nothing_to_say_without_cost_and_minutes_and_bare_steel_is_free_only_where_that_is_written():
    assert found_of([10], {"T3": [[8]], "control": [[2]]}, [BARE]) is None
    found = found_of([10], {"T1": [[8]], "T3": [[3]], "control": [[2]]}, [WAX, BARE])
    assert [each.name for each in found.points] == ["wax"]
    assert found.unknown == ("bare",)  # controls of no treatment have no price to write down
    free = found_of([10], {"T1": [[8]], "T3": [[3]]}, [WAX, replace(BARE, cost_per_m2=0.0)])
    assert [(each.name, each.cost_per_m2, each.best_for_money) for each in free.points] == [
        ("wax", 2.0, True),
        ("bare", 0.0, True),
    ]


def test_treatments_that_were_never_graded_take_no_part():
    found = found_of([10], {"T1": [[8]], "T2": [[None]], "T3": [[None]]}, [WAX, OIL, BARE])
    assert [each.name for each in found.points] == ["wax"]
    assert found.unknown == ()


def test_a_group_that_has_not_reached_its_median_lasted_at_least_as_long_as_it_was_watched():
    found = found_of([30.4375, 60.875], {"T1": [[9, 8], [9, 9]]}, [WAX])
    wax = found.points[0]
    assert (wax.days_above, wax.at_least) == (60.875, True)
    assert wax.cost_per_month == pytest.approx(1.0)  # 2.00 over two months of 30.4375 days


def test_a_known_median_counts_in_days_and_its_month_costs_that_much():
    record = exposed_board([100], {"T1": [[2]]}, treatments=[WAX])
    about = subject(record)
    results = [replace(each, days_to_failure=60.875) for each in about.group_results]
    wax = value_findings(about, results).points[0]
    assert (wax.days_above, wax.at_least, wax.cost_per_month) == (60.875, False, pytest.approx(1.0))


def test_what_failed_at_its_first_grading_has_no_price_of_a_month():
    wax = found_of([10], {"T1": [[2], [1]]}, [WAX]).points[0]
    assert (wax.days_above, wax.at_least, wax.cost_per_month) == (0.0, True, None)


def test_coupons_that_failed_early_or_were_taken_down_early_do_not_lengthen_what_a_group_lasted():
    # Above grade 7 until 10, 30 and 40 days at least: the middle one is 30.
    wax = found_of([10, 30, 40], {"T1": [[9, 5, 3], [9, 9, None], [9, 8, 8]]}, [WAX]).points[0]
    assert (wax.days_above, wax.at_least) == (30.0, True)


def test_words_name_the_frontier_and_what_it_beats():
    found = found_of([10], {"T1": [[8]], "T2": [[7]], "T3": [[9]]}, [WAX, OIL, replace(BARE, cost_per_m2=9.5)])
    texts = [each.text() for each in value_words(found)]
    assert texts[:3] == [
        "bare costs 9.5 for a square metre, and nothing cheaper came out as well.",
        "wax costs 2 for a square metre, and nothing cheaper came out as well.",
        "oil is beaten on price: wax costs no more and came out as well or better.",
    ]
    assert AS_SEEN.text() in texts


def test_words_of_one_treatment_compare_nothing_and_name_what_is_not_known():
    found = found_of([10], {"T1": [[8]], "T3": [[9]]}, [WAX, BARE])
    assert [each.text() for each in value_words(found)] == [
        "Of bare neither cost nor minutes are known; write them down to see it here."
    ]


def test_controls_are_never_the_cheapest_way_to_keep_steel_above_the_failing_grade():
    free = replace(BARE, cost_per_m2=0.1)

    def price_the_controls(record):
        for key, each in record.coupons.items():
            if each.role == "control":
                record.coupons[key] = replace(each, treatment=3)
        record.treatments[3] = replace(free, key=3)

    found = found_of([10, 30], {"T1": [[9, 8]], "T2": [[9, 9]], "control": [[9, 2]]}, [WAX, OIL],
                     change=price_the_controls)  # fmt: skip
    assert [each.control for each in found.points] == [False, False, True]
    (month,) = [each.text() for each in value_words(found) if "a month" in each.text()]
    assert month.startswith("wax keeps")
