"""Problems of one file: gathered, bounded, in the file's order."""

from rustboard.board.problem_list import MOST_LISTED, ProblemList
from rustboard.support.problems import InputError


def test_problems_are_listed_by_row_with_the_name_of_the_file():
    problems = ProblemList("a.csv")
    problems.add("Second.", row=7)
    problems.add("First.", row=3, column="grade")
    problems.add("On the whole.")
    assert [each.sentence() for each in problems.listed()] == [
        "a.csv: On the whole.",
        "a.csv, row 3, column grade: First.",
        "a.csv, row 7: Second.",
    ]


def test_problems_beyond_the_limit_are_counted_only():
    problems = ProblemList("a.csv")
    for row in range(MOST_LISTED + 37):
        problems.add("Wrong.", row=row)
    assert len(problems) == MOST_LISTED + 37
    assert len(problems.listed()) == MOST_LISTED + 1
    assert problems.listed()[-1].sentence() == "a.csv: And 37 more problems are not listed; mend these first."


def test_one_problem_beyond_the_limit_is_spoken_of_as_one():
    problems = ProblemList("", most=1)
    problems.add("Wrong.")
    problems.add("Wrong.")
    assert problems.listed()[-1].what == "And 1 more problem is not listed; mend these first."


def test_an_error_keeps_the_column_it_names_and_gets_the_row():
    problems = ProblemList("a.csv")
    problems.add_error(InputError("Wrong.", column="distribution"), row=2, column="grade")
    assert problems.listed()[0].sentence() == "a.csv, row 2, column distribution: Wrong."


def test_the_first_problem_is_told_without_the_file():
    problems = ProblemList("a.csv")
    assert problems.first() == ""
    problems.add("Wrong.", row=2)
    assert problems.first() == "row 2: Wrong."


def test_a_refusal_names_the_file():
    assert str(ProblemList("a.csv").refusal("Empty.")) == "a.csv: Empty."
