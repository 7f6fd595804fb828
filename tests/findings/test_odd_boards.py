"""Odd but legal boards: findings neither break nor say more than their figures."""

from dataclasses import replace
from types import SimpleNamespace

from judged_boards import judged_board, subject_for

from rustboard.findings.compare.comparing import compare
from rustboard.findings.survival.turnbull import Span
from rustboard.findings.survival.weibull import weibull_fit
from rustboard.findings.verdict.verdict import _worthwhile


def test_a_fit_that_climbs_to_ever_steeper_shapes_is_given_up_without_breaking():
    spans = [Span(0.0, 0.0), Span(0.0, 10.0), Span(10.0, 10.0), Span(10.0, float("inf"))]
    for some in ([*spans[:3]], spans, [Span(0.0, 0.0), Span(0.0, 1.0)], [Span(0.0, 1.0), Span(1.0, 10.0)]):
        found = weibull_fit(some)
        assert found is None or 0.05 < found.shape < 40


def test_an_interval_on_both_sides_of_nothing_is_never_surely_worthwhile():
    subject = subject_for(judged_board({"one": [8, 9, 9], "two": [3, 4, 3]}, method="rows"))
    comparing = compare(subject)
    each = comparing.compared[0]
    for standing in ("better", "worse"):
        wide = replace(each, standing=standing, model=replace(each.model, low=-3.0, high=3.0))
        said = _worthwhile(subject, SimpleNamespace(compared=(wide,)))
        assert [sentence.pattern.startswith("Whether any") for sentence in said] == [True]
