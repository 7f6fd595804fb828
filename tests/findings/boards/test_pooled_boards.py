"""Several boards together: differences, the exact test over all of them, and words."""

from dataclasses import replace
from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from several_boards import board, subject, texts

from rustboard.findings.boards import across
from rustboard.findings.boards.across import across_boards, step_down
from rustboard.findings.boards.effects import sides_on
from rustboard.findings.boards.matching import suggest
from rustboard.findings.boards.pooled import pooled_findings


def together(*records, compared="control", **asked):
    return pooled_findings([subject(each, **asked) for each in records], suggest(records), compared)


def three():
    return [
        board({"wax": [9, 9, 8, 9], "oil": [6, 7, 6, 6], "bare": [3, 4, 3, 4]}, name="Wall"),
        board({"wax": [8, 9, 8, 8], "oil": [7, 6, 6, 7], "bare": [4, 4, 3, 3]}, name="Yard"),
        board({"wax": [9, 8, 9, 9], "oil": [5, 6, 6, 5], "bare": [2, 3, 3, 2]}, name="Roof"),
    ]


def test_a_clear_difference_over_three_boards_is_said_with_size_interval_and_order():
    found = together(*three())
    assert found.boards == ("Wall", "Yard", "Roof")
    wax, _ = found.pooled
    assert (wax.name_a, wax.name_b) == ("wax", "control")
    # By hand: means 8.75 - 3.5, 8.25 - 3.5, 8.75 - 2.5.
    assert [each.difference for each in wax.effects] == pytest.approx([5.25, 4.75, 6.25])
    assert sum(each.weight for each in wax.effects) == pytest.approx(1)
    assert 3 < wax.low < wax.difference < wax.high
    assert texts(found.verdict)[0].startswith("Over 3 boards wax did better than control by 5.4 grades (")
    assert texts(found.verdict)[0].endswith("); on every board it was ahead.")
    assert texts(found.verdict)[1].startswith("Over 3 boards oil did better than control by 2.9 grades (")


def test_spread_of_a_board_is_pooled_over_all_its_treatments_and_not_below_rounding():
    # By hand: squares 0.75 + 0.75 + 1 with 9 degrees of freedom: variance 2.5 / 9; difference of two means of four.
    effect = together(*three()).pooled[0].effects[0]
    assert effect.standard_error == pytest.approx((2.5 / 9 / 2) ** 0.5)
    assert effect.high - effect.difference == pytest.approx(2.262157 * effect.standard_error)  # t table, 9
    alike = [board({"wax": [9, 9], "bare": [5, 5]}) for _ in range(2)]
    assert together(*alike).pooled[0].effects[0].standard_error == pytest.approx((1 / 12) ** 0.5)


def test_rows_are_blocks_on_a_board_that_was_drawn_so():
    # By hand: differences by row 4, 5, 3: mean 4, and their spread alone counts: sd 1 over sqrt 3.
    rows = board({"wax": [9, 8, 5], "bare": [5, 3, 2]}, method="rows")
    effect = together(rows, rows).pooled[0].effects[0]
    assert effect.difference == pytest.approx(4)
    assert effect.standard_error == pytest.approx(1 / 3**0.5)


def enumerated(boards):
    """Two-sided p over all ways to label every board by itself, written out one by one."""
    ways, seen = [], 0
    for a, b in boards:
        both = [*a, *b]
        ways.append([sum(both[at] for at in chosen) for chosen in combinations(range(len(both)), len(a))])
        seen += sum(a)
    sums = [sum(each) for each in product(*ways)]
    mean = sum(sums) / len(sums)
    return sum(abs(each - mean) >= abs(seen - mean) - 1e-9 for each in sums) / len(sums)


def exact_over(boards, *, fair=False, **more):
    records = [board({"wax": a, "bare": b}, fair=fair) for a, b in boards]
    subjects, matching = [subject(each) for each in records], suggest(records)
    a, b = matching.common
    sides = [sides_on(each, a, b, number) for number, each in enumerate(subjects)]
    return across_boards(sides, subjects, **more)


grades = st.lists(st.integers(0, 10), min_size=1, max_size=3)


@settings(max_examples=25)
@given(st.lists(st.tuples(grades, grades), min_size=2, max_size=3))
def test_the_exact_test_over_boards_is_the_count_of_all_ways_to_label_each_board_by_itself(boards):
    found = exact_over(boards)
    assert found.p == pytest.approx(enumerated(boards))
    assert found.p >= found.smallest - 1e-12
    assert found.sampled == 0


def test_arrangements_too_many_to_count_are_drawn_and_agree_with_the_count(monkeypatch):
    boards = [([9, 8, 7], [7, 6, 8]), ([8, 8, 6], [5, 7, 6])]
    found = exact_over(boards, most_states=2)
    assert found.sampled == across.DRAWS
    assert found.p == pytest.approx(enumerated(boards), abs=0.012)  # 4 standard errors of 20,000 draws near 0.2
    assert found == exact_over(boards, most_states=2)
    monkeypatch.setattr(across, "LEAST_DRAWS", across.DRAWS + 1)
    assert exact_over(boards, most_states=2).p is None


def test_lots_that_kept_the_edges_fair_are_drawn_so_too():
    boards = [([9, 8, 7, 6, 9, 8], [7, 6, 8, 5, 6, 7]), ([8, 8, 6, 7, 5, 8], [5, 7, 6, 6, 4, 7])]
    counted, drawn = exact_over(boards, fair=True), exact_over(boards, fair=True, most_states=2)
    assert drawn.sampled == across.DRAWS
    assert drawn.p == pytest.approx(counted.p, abs=0.01)
    assert counted.sampled == 0


def test_a_board_hung_by_hand_is_told():
    many = [board({"wax": [9, 8, 9], "bare": [4, 3, 5]}, name=name, method="hand") for name in ("Wall", "Yard")]
    assert any(each.startswith("Wall, Yard were hung without lots") for each in texts(together(*many).cautions))


def test_one_coupon_each_counts_in_the_exact_test_and_for_the_order_only():
    single = [board({"wax": [9], "bare": [grade]}, name=f"B{grade}") for grade in (3, 4, 5, 2, 1, 6)]
    found = together(*single)
    (pooled,) = found.pooled
    assert (pooled.difference, pooled.low, pooled.tau, pooled.q_p) == (None,) * 4
    assert all(each.standard_error is None and each.weight == 0 for each in pooled.effects)
    assert pooled.p_exact == pytest.approx(2 / 2**6)  # all six the same way: the sign test's smallest p
    assert texts(found.verdict) == [
        "Over 6 boards wax did better than control (exact test, p = 0.031), but by how much is not known: too few of "
        "the boards have replicates; it was ahead on 6 of them."
    ]
    assert texts(together(*single[:2]).verdict) == [
        "Over 2 boards wax and control cannot be told apart: wax was ahead on 2 of them, which may be luck (exact "
        "test, p = 0.50)."
    ]


def test_one_board_with_replicates_beside_one_without_gives_no_pooled_interval():
    found = together(board({"wax": [9, 9, 8], "bare": [3, 4, 3]}), board({"wax": [9], "bare": [3]}))
    (pooled,) = found.pooled
    assert [each.standard_error is None for each in pooled.effects] == [False, True]
    assert pooled.difference is None
    assert any("b (2) does not show how much" in each for each in texts(found.cautions))


def test_boards_that_disagree_are_told():
    found = together(
        board({"wax": [9, 9, 8, 9], "bare": [3, 4, 3, 4]}, name="Wall"),
        board({"wax": [5, 5, 6, 5], "bare": [6, 6, 7, 6]}, name="Yard"),
    )
    (pooled,) = found.pooled
    assert pooled.q_p < 0.001
    assert pooled.i_squared > 0.9
    assert pooled.tau > 3
    assert pooled.low < 0 < pooled.high
    assert any(each.startswith("The boards disagree on wax and control") for each in texts(found.cautions))


def test_what_only_one_board_has_is_not_pooled_and_all_pairs_hold_the_controls():
    one = board({"wax": [9, 8], "oil": [7, 6], "bare": [3, 4]})
    other = board({"wax": [9, 8], "varnish": [7, 6], "bare": [3, 4]})
    assert [(each.name_a, each.name_b) for each in together(one, other, compared="pairs").pooled] == [
        ("wax", "control")
    ]
    both = together(one, one, compared="pairs").pooled
    assert [(each.name_a, each.name_b) for each in both] == [("wax", "oil"), ("wax", "control"), ("oil", "control")]


def test_nothing_to_pool_says_why():
    one, other = board({"wax": [9, 8]}), board({"oil": [7, 6]})
    assert texts(together(one, other).verdict)[0].startswith("No two of these boards have controls")
    assert texts(together(one, other, compared="pairs").verdict)[0].startswith("No treatment is on two")
    assert texts(together(one).verdict) == ["One board alone cannot be pooled; choose at least two."]
    assert texts(pooled_findings([], suggest([]), "pairs").verdict)[0].startswith("One board alone")
    ungraded = board({"wax": [None], "bare": [None]})
    assert texts(together(ungraded, ungraded).verdict)[0].startswith("No two of these boards have graded")


@pytest.mark.parametrize("measure", ["last grade", "mean grade", "days to failing grade"])
@pytest.mark.parametrize("grade", [10, 0])
def test_all_tens_and_all_zeros_come_out_level_without_a_figure_that_is_none(measure, grade):
    same = [board({"wax": [grade] * 3, "bare": [grade] * 3}) for _ in range(3)]
    found = together(*same, measure=measure)
    (pooled,) = found.pooled
    assert pooled.p_exact == 1
    assert not any(
        word in text for text in texts((*found.verdict, *found.cautions)) for word in ("nan", "inf", "None")
    )
    assert "came out level" in texts(found.verdict)[0]


def test_time_above_the_failing_grade_is_told_in_days_and_what_has_not_failed_is_told():
    many = [
        board({"wax": [(10, 9, 9)] * 3, "bare": [(8, 5, 4), (6, 5, 4), (9, 6, 3)]}, days=(10, 20, 30), name=name)
        for name in ("Wall", "Yard", "Roof")
    ]
    found = together(*many, measure="days to failing grade")
    assert "days above the failing grade" in texts(found.verdict)[0]
    assert any(each.startswith("9 coupons have not failed yet") for each in texts(found.cautions))


def test_other_sites_and_seasons_are_told_but_not_on_the_clock_of_the_controls():
    many = [
        board({"wax": [9, 8, 9], "bare": [4, 3, 5]}, name="Wall", site="harbour"),
        board({"wax": [9, 8, 8], "bare": [4, 3, 4]}, name="Yard", site="garden"),
    ]
    assert any("did not hang alike (site)" in each for each in texts(together(*many).cautions))
    assert not any("hang alike" in each for each in texts(together(*many, clock="controls").cautions))


def test_boards_asked_different_questions_are_our_mistake():
    one, other = board({"wax": [9], "bare": [4]}), board({"wax": [9], "bare": [4]})
    with pytest.raises(ValueError, match="one measure"):
        pooled_findings([subject(one), subject(other, "mean grade")], suggest([one, other]), "pairs")
    with pytest.raises(ValueError, match="other boards"):
        pooled_findings([subject(one)], suggest([one, other]), "pairs")


sets = st.lists(
    st.tuples(*[st.lists(st.integers(0, 10), min_size=2, max_size=3) for _ in range(3)]), min_size=2, max_size=3
)


def made(boards, names=("wax", "oil", "bare"), turn=lambda grade: grade):
    return [
        board({name: [turn(grade) for grade in given] for name, given in zip(names, each, strict=True)})
        for each in boards
    ]


@settings(max_examples=15)
@given(sets)
def test_mirrored_grades_mirror_the_result_and_the_order_of_boards_does_not_matter(boards):
    found = together(*made(boards), compared="pairs").pooled
    turned = together(*made(boards, turn=lambda grade: 10 - grade), compared="pairs").pooled
    back = together(*made(boards[::-1]), compared="pairs").pooled
    for one, mirror, other in zip(found, turned, back, strict=True):
        assert (mirror.difference, mirror.low) == pytest.approx((-one.difference, -one.high), abs=1e-6)
        assert (other.difference, other.low, other.tau) == pytest.approx((one.difference, one.low, one.tau), abs=1e-6)
        assert one.p_exact == pytest.approx(mirror.p_exact) == pytest.approx(other.p_exact)


@settings(max_examples=10)
@given(sets)
def test_other_names_and_an_ungraded_coupon_change_nothing(boards):
    found = together(*made(boards), compared="pairs").pooled
    renamed = together(*made(boards, names=("oil", "wax", "bare")), compared="pairs").pooled
    more = made(boards)
    for record in more:
        extra = replace(record.coupons[100], id="new", position=None, key=999)
        record.coupons[999] = extra
    again = together(*more, compared="pairs").pooled
    assert again == found
    figures = [(each.difference, each.p_exact, each.p_exact_family) for each in renamed]
    assert figures == [(each.difference, each.p_exact, each.p_exact_family) for each in found]


def test_step_down_by_hand():
    # Holm by hand: 0.01 * 3, 0.02 * 2, 0.04 * 1 raised to the one before; 1 at most.
    first, second, none, third = step_down([0.04, 0.01, None, 0.02])
    assert (first, second, third) == pytest.approx((0.04, 0.03, 0.04))
    assert none is None
    assert step_down([0.6, 0.7]) == [1.0, 1.0]


def test_progress_hears_every_comparison():
    heard = []

    class Listening:
        def step(self, done, total):
            heard.append((done, total))

    records = three()
    pooled_findings([subject(each) for each in records], suggest(records), "control", Listening())
    assert heard == [(0, 2), (1, 2)]
