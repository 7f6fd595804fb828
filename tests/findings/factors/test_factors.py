"""Finish and protectant apart: against a textbook, statsmodels and the rules of the board."""

from dataclasses import replace
from itertools import product

import numpy as np
import pandas as pd
import pytest
import statsmodels.formula.api as smf
from asked_boards import asked, placed_board, treatment
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.stats.anova import anova_lm

from rustboard.findings.factors.factors import factor_findings
from rustboard.findings.factors.words import factor_words, interaction_sentence
from rustboard.findings.factors.words import main_sentence as said


def grid_board(tried, values=None, *, rows=None, grades=None, **rules):
    """A board from its combinations ``(finish, protectant) -> values``, one a row unless rows are given."""
    treatments = {
        number: treatment(number, finish=finish, protectant=protectant)
        for number, (finish, protectant) in enumerate(tried, 1)
    }
    lines = rows or [str(number) * len(each) for number, each in enumerate(tried.values(), 1)]
    widest = max(map(len, lines))
    flat = [value for each in tried.values() for value in each]
    record = placed_board(
        [line.ljust(widest, ".") for line in lines], [grades or [5] * len(flat)], treatments=treatments, **rules
    )
    subject = asked(record)
    if grades is None:
        # Values of any size, as if they had been measured.
        subject.__dict__["values"] = dict(zip(sorted(record.coupons), values or map(float, flat), strict=True))
    return subject


# Battery life in hours by plate material and temperature, Montgomery, Design and Analysis of Experiments, example 5.1
# (data and table of the analysis of variance seen in public copies of the exercise).
BATTERIES = {
    ("1", "15"): [130, 155, 74, 180], ("1", "70"): [34, 40, 80, 75], ("1", "125"): [20, 70, 82, 58],
    ("2", "15"): [150, 188, 159, 126], ("2", "70"): [136, 122, 106, 115], ("2", "125"): [25, 70, 58, 45],
    ("3", "15"): [138, 110, 168, 160], ("3", "70"): [174, 120, 150, 139], ("3", "125"): [96, 104, 82, 60],
}  # fmt: skip


def test_a_textbook_two_way_example():
    found = factor_findings(grid_board(BATTERIES))
    assert found.interaction_p == pytest.approx(0.0186, abs=0.00005)  # Montgomery: F = 3.56, p = 0.0186
    assert found.finishes == ("1", "2", "3")
    assert found.protectants == ("15", "70", "125")
    assert found.complete
    assert found.whole
    # Means of the materials, Montgomery: 83.17, 108.33, 125.08 (by hand from the data above).
    materials = {(each.a, each.b): each for each in found.main if each.factor == "finish"}
    assert materials["1", "2"].effect.difference == pytest.approx(83.1667 - 108.3333, abs=1e-3)
    assert materials["1", "3"].effect.difference == pytest.approx(83.1667 - 125.0833, abs=1e-3)
    assert materials["1", "3"].over == ("15", "70", "125")
    # Studentized range for 3 means and 27 degrees of freedom: q(0.05) = 3.506 (scipy.stats.studentized_range), error
    # mean square 675.21 (Montgomery): half width q * sqrt(675.21 / 12).
    width = materials["1", "2"].effect.high - materials["1", "2"].effect.difference
    assert width == pytest.approx(3.506 * (675.21 / 12) ** 0.5, rel=0.005)


def frame_of(tried):
    rows = [(f, p, value) for (f, p), values in tried.items() for value in values]
    return pd.DataFrame(rows, columns=["f", "p", "y"])


@settings(max_examples=12)
@given(
    st.integers(0, 10_000),
    st.sets(st.sampled_from(list(product("abc", "xyz"))), max_size=3),
)
def test_the_interaction_test_is_that_of_nested_models_in_statsmodels(seed, missing):
    draw = np.random.default_rng(seed)
    combinations = [each for each in product("abc", "xyz") if each not in missing]
    tried = {each: list(draw.normal(40, 9, draw.integers(2, 5))) for each in combinations}
    found = factor_findings(grid_board(tried))
    data = frame_of(tried)
    additive = smf.ols("y ~ C(f) + C(p)", data).fit()
    full = smf.ols("y ~ C(cell)", data.assign(cell=data.f + data.p)).fit()
    if full.df_model == additive.df_model:
        assert found.interaction_p is None
        return
    assert found.interaction_p == pytest.approx(anova_lm(additive, full)["Pr(>F)"].iloc[1], rel=1e-6, abs=1e-12)
    assert found.complete == (len(combinations) == len(found.finishes) * len(found.protectants))


@pytest.mark.parametrize("kind", [2, 3])
def test_on_a_complete_grid_it_is_the_table_of_types_two_and_three(kind):
    draw = np.random.default_rng(4)
    tried = {each: list(draw.normal(40, 9, draw.integers(2, 5))) for each in product("abc", "xy")}
    table = anova_lm(smf.ols("y ~ C(f, Sum) * C(p, Sum)", frame_of(tried)).fit(), typ=kind)
    expected = table.loc["C(f, Sum):C(p, Sum)", "PR(>F)"]
    assert factor_findings(grid_board(tried)).interaction_p == pytest.approx(expected, rel=1e-6)


def test_contrasts_and_their_errors_are_those_of_statsmodels():
    draw = np.random.default_rng(5)
    tried = {each: list(draw.normal(40, 9, draw.integers(2, 5))) for each in product("ab", "xy")}
    found = factor_findings(grid_board(tried))
    fit = smf.ols("y ~ 0 + C(cell)", frame_of(tried).assign(cell=lambda d: d.f + d.p)).fit()  # ax ay bx by
    (finish,) = (each.effect for each in found.main if each.factor == "finish")
    (protectant,) = (each.effect for each in found.main if each.factor == "protectant")
    (both,) = (each.effect for each in found.interactions)
    for effect, weights in (
        (finish, [0.5, 0.5, -0.5, -0.5]),
        (protectant, [0.5, -0.5, 0.5, -0.5]),
        (both, [1, -1, -1, 1]),
    ):
        expected = fit.t_test(weights)
        assert effect.difference == pytest.approx(float(expected.effect[0]), rel=1e-9)
        assert (effect.low, effect.high) == pytest.approx(tuple(expected.conf_int()[0]), rel=1e-9)
        assert effect.p == pytest.approx(float(expected.pvalue), rel=1e-9)
    assert found.interaction_p == pytest.approx(both.p, rel=1e-9)  # one degree of freedom: the same test


def test_rows_are_blocks_where_lots_were_drawn_within_rows():
    draw = np.random.default_rng(6)
    tried = {each: [0.0, 0.0, 0.0] for each in product("ab", "xy")}
    rows = ["1234", "2143", "4321"]
    values = list(draw.normal(40, 5, 12) + np.repeat([0.0, 30.0, 60.0], 4))
    subject = grid_board(tried, values, rows=rows, method="rows")
    found = factor_findings(subject)
    cells = [int(char) - 1 for row in rows for char in row]
    data = pd.DataFrame({"y": values, "row": np.repeat([0, 1, 2], 4), "f": [each // 2 for each in cells],
                         "p": [each % 2 for each in cells]})  # fmt: skip
    table = anova_lm(smf.ols("y ~ C(row) + C(f) * C(p)", data).fit(), typ=2)
    assert found.interaction_p == pytest.approx(table.loc["C(f):C(p)", "PR(>F)"], rel=1e-6)


def test_controls_count_in_the_error_but_not_in_the_grid():
    grades = [9, 8, 8, 7, 6, 5, 5, 4, 2, 6, 1, 4]
    treatments = {
        1: treatment(1, finish="blued", protectant="oil"), 2: treatment(2, finish="blued", protectant="wax"),
        3: treatment(3, finish="", protectant="oil"), 4: treatment(4, finish="none", protectant="Wax"),
    }  # fmt: skip
    with_controls = factor_findings(asked(placed_board(["112233", "440000"], [grades], treatments=treatments)))
    without = factor_findings(asked(placed_board(["112233", "44...."], [grades[:8]], treatments=treatments)))
    assert with_controls.finishes == ("no finish", "blued")
    assert with_controls.protectants == ("oil", "wax")
    assert (
        [each.mean for each in with_controls.cells] == [each.mean for each in without.cells] == [5.5, 4.5, 8.5, 7.5]
    )
    assert with_controls.interactions[0].effect.high != without.interactions[0].effect.high


def test_treatments_of_one_combination_count_as_one_and_that_is_said():
    treatments = {
        1: treatment(1, finish="blued", protectant="oil", coats=1),
        2: treatment(2, finish="blued", protectant="oil", coats=2),
        3: treatment(3, finish="bare", protectant="oil"), 4: treatment(4, finish="blued", protectant="wax"),
        5: treatment(5, finish="bare", protectant="wax"),
    }  # fmt: skip
    subject = asked(placed_board(["11223", "34455"], [[9, 8, 5, 4, 6, 7, 3, 4, 2, 2]], treatments=treatments))
    found = factor_findings(subject)
    both = next(each for each in found.cells if len(each.groups) == 2)
    assert both.groups == ("T1", "T2")
    assert both.mean == pytest.approx(6.5)
    assert any(
        "T1 and T2 have the same finish and protectant" in each.text() for each in factor_words(found, subject)
    )
    (interaction,) = found.interactions
    # bare: oil less wax 6.5 - 2, blued: 6.5 - 3.5.
    assert interaction.effect.difference == pytest.approx(4.5 - 3.0)


def test_where_nothing_was_done_twice_only_main_effects_can_be_told():
    tried = {
        each: [value] for each, value in zip(product("abc", "xyz"), (50, 61, 69, 40, 52, 58, 71, 80, 88), strict=True)
    }
    subject = grid_board(tried)
    found = factor_findings(subject)
    assert not found.whole
    assert found.interaction_p is None
    assert found.interactions == ()
    fit = smf.ols("y ~ C(f) + C(p)", frame_of(tried)).fit()
    first = next(each for each in found.main if (each.a, each.b) == ("a", "b"))
    assert first.effect.difference == pytest.approx(-fit.params["C(f)[T.b]"])
    # Three balanced pairs: the studentized range over the root of 2, 4 degrees of freedom: 5.040 (scipy).
    expected = 5.040 / 2**0.5 * fit.bse["C(f)[T.b]"]
    assert first.effect.high - first.effect.difference == pytest.approx(expected, rel=0.01)
    assert any("done twice" in each.text() for each in factor_words(found, subject))


def test_where_controls_alone_were_hung_twice_it_is_said_that_luck_was_seen_there():
    treatments = {
        number: treatment(number, finish=finish, protectant=protectant)
        for number, (finish, protectant) in enumerate(product("ab", "xy"), 1)
    }
    subject = asked(placed_board(["1234000"], [[8, 7, 6, 4, 2, 3, 1]], treatments=treatments))
    found = factor_findings(subject)
    assert found.whole
    # By hand: the controls' variance is 1 with 2 degrees of freedom, t(0.975, 2) = 4.3027; the contrast has 4 values.
    effect = found.interactions[0].effect
    assert (effect.difference, effect.high - effect.difference) == pytest.approx((-1.0, 4.3027 * 2), abs=1e-3)
    assert factor_words(found, subject)[0].text().startswith("No combination was tried twice")


def test_without_any_error_nothing_is_claimed():
    subject = grid_board({("a", "x"): [50], ("a", "y"): [60], ("b", "x"): [70]})
    found = factor_findings(subject)
    assert (found.main, found.interactions, found.interaction_p) == ((), (), None)
    assert any("Nothing can be told" in each.text() for each in factor_words(found, subject))


@pytest.mark.parametrize(
    "tried",
    [
        [("a", "x"), ("b", "y")],  # nothing shared
        [
            ("a", "x"),
            ("b", "x"),
            ("c", "y"),
        ],  # two finishes under one protectant, never two protectants on one finish
        [("a", "x"), ("a", "y"), ("b", "z")],  # the other way round
    ],
)
def test_treatments_that_do_not_cross_the_two_factors_are_no_grid(tried):
    assert factor_findings(grid_board({each: [50, 51, 53] for each in tried})) is None


def test_without_two_levels_of_each_there_is_no_grid():
    assert factor_findings(grid_board({("a", "x"): [50, 51], ("a", "y"): [60, 62]})) is None
    assert factor_findings(asked(placed_board(["00"], [[5, 5]], treatments={}))) is None
    treatments = {1: treatment(1, finish="a", protectant="x"), 2: treatment(2, finish="b", protectant="y")}
    assert factor_findings(asked(placed_board(["12"], [[None, 5]], treatments=treatments))) is None


@pytest.mark.parametrize("grade", [0, 10, 5])
def test_grades_all_alike_keep_the_spread_of_rounding(grade):
    tried = {each: [grade] * 3 for each in product(("bare", "blued"), ("none", "wax"))}
    subject = grid_board(tried, grades=[grade] * 12)
    found = factor_findings(subject)
    assert found.interaction_p == pytest.approx(1.0)
    assert all(
        each.effect.low < 0 < each.effect.high and each.effect.p > 0.9999
        for each in (*found.main, *found.interactions)
    )
    assert all("nan" not in each.text() and "inf" not in each.text() for each in factor_words(found, subject))


def test_a_protectant_that_helps_more_on_one_finish_is_said_so():
    tried = {
        ("bare", ""): [2, 3, 2],
        ("bare", "wax"): [4, 5, 4],
        ("blued", ""): [3, 3, 2],
        ("blued", "wax"): [8, 9, 8],
    }
    subject = grid_board(tried, grades=[each for cell in tried.values() for each in cell])
    found = factor_findings(subject)
    texts = [each.text() for each in factor_words(found, subject)]
    assert "wax helps more on blued than on bare: by 3.7 grades more (2.1 to 5.2)." in texts
    assert texts[0].startswith("What a protectant does depends on the finish under it")
    assert texts[-1].startswith("Since one depends on the other")


def test_what_cannot_be_told_is_said_to_be_so():
    tried = {
        ("bare", "oil"): [2, 5, 3],
        ("bare", "wax"): [4, 6, 3],
        ("blued", "oil"): [5, 3, 6],
        ("blued", "wax"): [6, 8, 4],
    }
    subject = grid_board(tried, grades=[each for cell in tried.values() for each in cell])
    texts = [each.text() for each in factor_words(factor_findings(subject), subject)]
    assert texts[0].startswith("It cannot be told whether what a protectant does depends on the finish")
    assert any(
        each.startswith("It cannot be told whether what wax has over oil is more on blued than on bare")
        for each in texts
    )
    assert any(each.startswith("It cannot be told whether blued does better than bare") for each in texts)


def test_of_several_levels_the_clear_pairs_are_said_and_the_others_counted():
    tried = {("", "oil"): [2, 3, 2], ("", "wax"): [3, 2, 3], ("blued", "oil"): [3, 3, 2], ("blued", "wax"): [2, 3, 3],
             ("painted", "oil"): [8, 9, 8], ("painted", "wax"): [9, 8, 8]}  # fmt: skip
    subject = grid_board(tried, grades=[each for cell in tried.values() for each in cell])
    texts = [each.text() for each in factor_words(factor_findings(subject), subject)]
    # By hand: error mean square 1/3 with 12 degrees of freedom, studentized range 3.773 (table): 3.773 * sqrt(1/18).
    assert "painted does better than no finish, averaged over oil and wax: by 5.8 grades (4.9 to 6.7)." in texts
    assert "1 pair of finishes cannot be told apart, averaged over the protectants." in texts
    assert any(each.startswith("It cannot be told whether wax does better than oil") for each in texts)


def test_an_incomplete_grid_says_what_is_missing():
    tried = {("a", "x"): [5, 6], ("a", "y"): [7, 6], ("b", "x"): [3, 2], ("b", "y"): [3, 4], ("c", "x"): [8, 7]}
    subject = grid_board(tried, grades=[each for cell in tried.values() for each in cell])
    found = factor_findings(subject)
    assert not found.complete
    assert [each.mean for each in found.cells][-1] is None
    assert {(each.a, each.b): each.over for each in found.main}["a", "c"] == ("x",)
    assert len(found.interactions) == 1
    assert factor_words(found, subject)[0].text().startswith("1 of the 6 combinations")


@settings(max_examples=10)
@given(st.lists(st.integers(0, 10), min_size=12, max_size=12), st.permutations(list(range(4))))
def test_what_treatments_are_called_and_their_order_change_nothing(grades, order):
    tried = dict(zip(product("ab", "xy"), (grades[:3], grades[3:6], grades[6:9], grades[9:]), strict=True))
    names = list(tried)
    mixed = {names[each]: tried[names[each]] for each in order}
    one, other = (
        factor_findings(grid_board(each, grades=[value for cell in each.values() for value in cell]))
        for each in (tried, mixed)
    )
    assert other.interaction_p == pytest.approx(one.interaction_p)
    assert [each.effect.difference for each in other.main] == pytest.approx(
        [each.effect.difference for each in one.main]
    )
    assert [each.effect.p for each in other.main] == pytest.approx([each.effect.p for each in one.main])


@settings(max_examples=10)
@given(st.lists(st.integers(0, 10), min_size=12, max_size=12))
def test_mirrored_grades_mirror_the_effects_and_their_sentences(grades):
    def of(seen):
        tried = dict(zip(product("ab", "xy"), (seen[:3], seen[3:6], seen[6:9], seen[9:]), strict=True))
        return grid_board(tried, grades=seen)

    subject = of(grades)
    one, other = factor_findings(subject), factor_findings(of([10 - each for each in grades]))
    for seen, mirrored in zip(one.main, other.main, strict=True):
        assert mirrored.effect.difference == pytest.approx(-seen.effect.difference, abs=1e-9)
        assert mirrored.effect.low == pytest.approx(-seen.effect.high, abs=1e-9)
    turned = replace(one.interactions[0], finishes=one.interactions[0].finishes[::-1])
    assert "nan" not in interaction_sentence(turned, subject).text() + said(one.main[0], subject).text()


def test_an_ungraded_coupon_changes_nothing():
    treatments = {
        number: treatment(number, finish=finish, protectant=protectant)
        for number, (finish, protectant) in enumerate(product("ab", "xy"), 1)
    }
    grades = [5, 6, 7, 6, 3, 2, 4, 4]
    plain = factor_findings(asked(placed_board(["11223344."], [grades], treatments=treatments)))
    more = factor_findings(asked(placed_board(["112233441"], [[*grades, None]], treatments=treatments)))
    assert more == plain
