"""More coats, better or not."""

import pytest
from judged_boards import judged_board, subject_for

from rustboard.findings.compare.coats import coats_trends, coats_words
from rustboard.findings.conclude.whole import whole_findings


def coated(grades, **more):
    """A board of one, two and three coats of the same wax."""
    names = ("one", "two", "three")
    fields = {
        name: {"protectant": "beeswax", "preparation": "brushed", "coats": number}
        for number, name in enumerate(names, 1)
    }
    return judged_board(dict(zip(names, grades, strict=True)), **fields, **more)


def test_rows_that_all_rise_are_told_by_page():
    subject = subject_for(coated([[4, 5, 4], [6, 7, 6], [8, 9, 8]], method="rows"))
    (trend,) = coats_trends(subject, subject.values)
    # One of the 3! orders rises in each of three rows: 1 in 216 one-sided, twice that two-sided (by hand).
    assert (trend.coats, trend.test, trend.rising) == ((1, 2, 3), "Page", True)
    assert trend.p == pytest.approx(2 / 216)
    assert coats_words(trend).text() == (
        "More coats of beeswax went with better results: with 1, 2 and 3 coats the means are 4.3, 6.3 and 8.3 "
        "(trend, p = 0.0093 taken alone)."
    )


def test_without_rows_labels_are_exchanged_over_the_board():
    subject = subject_for(coated([[8, 9, 8], [6, 7, 6], [4, 5, 4]]))
    (trend,) = coats_trends(subject, subject.values)
    assert (trend.test, trend.rising) == ("exchanged", False)
    # Wholly apart in one order or its mirror image: 2 of the 1680 splits, 1e-3 by hand.
    assert trend.p == pytest.approx(2 / 1680, abs=2e-3)
    assert coats_words(trend).text().startswith("More coats of beeswax went with worse results")


def test_no_trend_is_said_to_be_none():
    subject = subject_for(coated([[5, 6, 5], [5, 5, 6], [6, 5, 5]], method="rows"))
    (trend,) = coats_trends(subject, subject.values)
    assert coats_words(trend).text().startswith("Whether more coats of beeswax do better cannot be told")


def test_two_numbers_of_coats_or_another_preparation_are_no_trend():
    record = judged_board(
        {"one": [5, 6], "two": [6, 7], "three": [8, 8]},
        one={"protectant": "wax", "coats": 1}, two={"protectant": "wax", "coats": 2},
        three={"protectant": "wax", "coats": 3, "preparation": "blasted"},
    )  # fmt: skip
    subject = subject_for(record)
    assert coats_trends(subject, subject.values) == ()


def test_the_verdict_tells_it():
    findings = whole_findings(subject_for(coated([[4, 5, 4], [6, 7, 6], [8, 9, 8]], method="rows")).request)
    assert any(each.text().startswith("More coats of beeswax went with better results") for each in findings.verdict)
