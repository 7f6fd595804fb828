"""The user's errors: where, then what."""

from rustboard.support.problems import InputError, Problem


def test_a_sentence_names_only_the_places_that_are_known():
    assert Problem("Wrong.").sentence() == "Wrong."
    assert Problem("Wrong.", "a.csv").sentence() == "a.csv: Wrong."
    assert Problem("Wrong.", "a.csv", 3, "grade").sentence() == "a.csv, row 3, column grade: Wrong."
    assert Problem("Wrong.", column="grade").sentence() == "column grade: Wrong."


def test_an_error_reads_like_its_problem():
    assert str(InputError("Wrong.", file="a.csv", row=3)) == "a.csv, row 3: Wrong."


def test_places_are_filled_in_and_never_overwritten():
    inner = InputError("Wrong.", column="distribution")
    assert str(inner.located(file="a.csv", row=3, column="grade")) == "a.csv, row 3, column distribution: Wrong."
    assert str(inner.located(row=3).located(row=9)) == "row 3, column distribution: Wrong."
