"""What the verdict says, and that it never says more than the figures."""

import warnings
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from judged_boards import judged_board

from rustboard.board.exposure_clock import day_clock
from rustboard.board.question import Question
from rustboard.board.series import inspection_days
from rustboard.findings.conclude.whole import first_findings, whole_findings
from rustboard.findings.coupons.subject import FindingsRequest
from rustboard.findings.spread import Spread


def request(record, earlier=None, **question):
    asked = replace(record.question or Question(), **question)
    return FindingsRequest(record, day_clock(inspection_days(record)), asked, earlier)


def verdict(record, earlier=None, **question):
    return [each.text() for each in whole_findings(request(record, earlier, **question)).verdict]


def test_nothing_graded_is_nothing_concluded():
    record = judged_board({"wax": [None], "oil": [None]})
    assert verdict(record) == ["No coupon of this board was graded yet, so there is nothing to conclude."]


def test_one_group_has_nothing_to_be_compared_with():
    told = verdict(judged_board({"wax": [8, 7]}))
    assert told[:3] == [
        "Judged by the last grade, after 30 days of exposure.",
        "Only wax was graded: mean 7.5.",
        "There are no two groups to compare.",
    ]


def test_what_surely_matters_is_told_of_the_pair_and_only_where_the_user_said_what_matters():
    question = Question("pairs")
    told = verdict(judged_board({"wax": [9, 8, 9, 8], "film": [2, 1, 2, 1]}, question=question))
    assert "Each of them is surely at least the 2 grades that matter to you." in told
    near = judged_board({"wax": [9, 8, 9, 8], "oil": [6, 7, 6, 7], "film": [2, 1, 2, 1]}, question=question)
    assert "Surely at least the 2 grades that matter to you: wax against film and oil against film." in verdict(near)
    near.questions = {}
    assert not any("that matter to you" in each for each in verdict(near, compared="pairs"))


def test_all_at_one_end_of_the_scale_is_said_without_an_interval():
    told = verdict(judged_board({"wax": [10] * 3, "oil": [10] * 3}))
    assert "All groups came out alike, with a mean of 10." in told
    assert "Wax and oil cannot be told apart: all coupons of both are at grade 10, where the scale ends." in told


def test_a_clear_winner_over_the_controls():
    told = verdict(judged_board({"wax": [9, 8, 9, 8], "oil": [3, 2, 3, 2]}, control=[2, 3, 2, 1]))
    assert told[1] == "From best to worst, mean of each in grades: wax 8.5, oil 2.5 and control (bare) 2."
    assert any(each.startswith("Wax did better than control: by 6.5 grades (95 % interval ") for each in told)
    assert any(each.startswith("Oil and control cannot be told apart") for each in told)
    assert any("a mistake of luck on at most 5 boards in 100" in each for each in told)
    assert any(each.endswith("the way coupons were hung, agrees.") for each in told)
    assert "Each of them is surely at least the 2 grades that matter to you." in told


@pytest.mark.parametrize(
    ("worthwhile", "sentence"),
    [
        (1, "Each of them is surely at least the 1 grade that matters to you."),
        (2, "Surely at least the 2 grades that matter to you: wax."),
        (9, "Whether any of them reaches the 9 grades that matter to you is not sure."),
    ],
)
def test_what_is_shown_may_still_be_too_little_to_matter(worthwhile, sentence):
    record = judged_board({"wax": [9, 8, 9, 8], "oil": [5, 4, 5, 4]}, control=[2, 3, 2, 1])
    assert sentence in verdict(record, worthwhile=worthwhile)


def test_nothing_shown():
    told = verdict(judged_board({"wax": [5, 8, 3]}, control=[4, 7, 5]))
    assert not any("did better" in each for each in told)
    assert any("cannot be told apart" in each for each in told)


def test_one_coupon_each_with_and_without_a_spread_from_earlier_boards():
    record = judged_board({"wax": [9], "oil": [2]})
    borrowed = verdict(record, Spread(0.8, 12, 4, ("Pier 2025",)))
    assert "One coupon each can only tell a story: it shows an order, not a difference." in borrowed
    assert any("borrowed from earlier boards (Pier 2025)" in each for each in borrowed)
    assert any(each.startswith("Wax is ahead of oil by 7 grades") for each in borrowed)
    alone = verdict(record)
    assert not any("did better" in each or "Pier" in each for each in (*alone, *borrowed[2:3]))
    assert any("One coupon each" in each for each in alone)


def test_all_pairs_of_many_groups_are_told_by_name():
    grades = {f"t{number}": [number, number, min(number + 1, 10)] for number in range(9)}
    told = verdict(judged_board(grades))
    (best,) = [each for each in told if each.startswith("T8 did better than ")]
    assert "t0" in best
    assert any(each.endswith("of 36 pairs cannot be told apart; the table has them all.") for each in told)
    assert len(told) < 25


def test_where_the_scale_ends_it_only_looks_better():
    told = verdict(judged_board({"wax": [10, 10, 9], "oil": [10, 9, 10]}, control=[6, 6, 5]))
    leaning = [each for each in told if "looks better than control" in each]
    assert len(leaning) == 2
    assert all("but that is not shown" in each for each in leaning)
    assert not any("did better" in each for each in told)


def test_a_treatment_that_was_never_graded_and_controls_that_are_missing_are_named():
    told = verdict(judged_board({"wax": [9, 8], "oil": [None, None]}, control=[2, 1]))
    assert "Nothing can be said of oil: no coupon that counts was graded." in told
    told = verdict(judged_board({"wax": [9, 8], "oil": [3, 2]}), compared="control")
    assert "No coupon is a control, so nothing can be compared with controls; compare all pairs." in told


def test_times_are_told_in_days_and_the_survival_of_best_and_controls_follows():
    record = judged_board(
        {"wax": [[10, 10, 9], [10, 9, 9], [10, 10, 10]]}, control=[[6, 3, 1], [5, 2, 1], [6, 4, 2]], days=(10, 20, 30)
    )
    told = verdict(record, measure="days to failing grade")
    assert told[0] == "Judged by how long coupons stayed above failing grade 7, after 30 days of exposure."
    assert "None of the 3 coupons of wax had failed at day 30." in told
    assert any(each.startswith("Half of the coupons of control (bare) had failed by day ") for each in told)
    assert not any("that matter to you" in each for each in told)


def test_cost_is_in_the_verdict_and_coupons_hung_by_hand_had_no_lots():
    record = judged_board(
        {"wax": [9, 8, 9, 8], "oil": [3, 2, 3, 2]}, control=[2, 3, 2, 1], method="hand",
        wax={"cost_per_m2": 2.0}, oil={"cost_per_m2": 3.0},
    )  # fmt: skip
    told = verdict(record)
    assert any("Wax" in each and "for a square metre" in each for each in told)
    (exact,) = [each for each in told if each.startswith("The exact test")]
    assert "as if lots had been drawn" in exact
    assert "the way coupons were hung" not in " ".join(told)


def test_what_a_grid_says_of_finish_and_protectant_is_in_the_verdict():
    facts = {
        name: {"finish": finish, "protectant": protectant}
        for name, finish, protectant in (
            ("a", "bare", "wax"),
            ("b", "bare", "oil"),
            ("c", "blued", "wax"),
            ("d", "blued", "oil"),
        )
    }
    grades = {"a": [5, 4, 5], "b": [2, 1, 2], "c": [8, 7, 8], "d": [5, 4, 5]}
    findings = whole_findings(request(judged_board(grades, **facts)))
    assert findings.factors is not None
    told = " ".join(each.text() for each in findings.verdict)
    assert "what a protectant does depends on the finish" in told


# ---- whatever the board

grade = st.one_of(st.none(), st.integers(0, 10), st.sampled_from([0, 10]))
coupons = st.lists(st.tuples(grade, grade), min_size=1, max_size=3)


@settings(max_examples=15, deadline=None)
@given(
    st.lists(coupons, min_size=1, max_size=3),
    st.one_of(st.just([]), coupons),
    st.sampled_from(["complete", "rows", "hand"]),
    st.sampled_from(["last grade", "mean grade", "days to failing grade"]),
    st.sampled_from(["control", "pairs"]),
)
def test_no_board_brings_forth_a_sentence_that_is_broken_or_says_too_much(groups, control, method, measure, compared):
    record = judged_board(
        {f"t{number}": each for number, each in enumerate(groups)}, control=control, method=method, days=(10, 30)
    )
    asked = request(record, measure=measure, compared=compared)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        found = [first_findings(asked), whole_findings(asked)]
    for each in found:
        texts = [sentence.text() for sentence in (*each.verdict, *each.cautions)]
        assert texts
        for text in texts:
            words = text.lower().replace("(", " ").replace(")", " ").replace(",", " ").split()
            assert not {"nan", "inf", "-inf", "none:", "-0"} & set(words), text
            assert "None" not in text.replace("None of the", ""), text
            assert "  " not in text, text
            assert " ." not in text, text
            assert not text.startswith(" "), text
        shown = {c.comparison.a if c.standing == "better" else c.comparison.b
                 for c in each.comparing.compared if c.standing in ("better", "worse")}  # fmt: skip
        winners = {text.split(" did better than ")[0].lower() for text in texts if " did better than " in text}
        assert winners <= shown


@pytest.mark.parametrize("grade", [0, 10])
def test_boards_at_one_end_of_the_scale_show_nothing(grade):
    told = verdict(judged_board({"wax": [grade] * 3, "oil": [grade] * 3}, control=[grade] * 3))
    assert not any("better" in each and "cannot" not in each for each in told if "all such" not in each)
