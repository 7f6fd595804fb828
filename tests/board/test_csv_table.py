"""CSV files from any spreadsheet program: encodings, delimiters, headers, row numbers."""

import pytest

from rustboard.board.csv_table import MOST_BYTES, open_table
from rustboard.board.problem_list import ProblemList
from rustboard.board.table_rows import MOST_ROWS_IN_FILE, Layout, plain_name
from rustboard.support.problems import InputError

LAYOUT = Layout(("coupon",), ("coupon", "cost_per_m2", "note"), ("source",), {"piece": "coupon"})


def rows_of(data, layout=LAYOUT):
    problems = ProblemList("a.csv")
    raw = data.encode() if isinstance(data, str) else data
    rows = list(open_table(raw, layout, problems).rows(problems))
    return rows, [problem.sentence() for problem in problems.listed()]


def refusal_of(data):
    with pytest.raises(InputError) as caught:
        rows_of(data)
    return caught.value.problem.sentence()


def column_of(data, column="coupon"):
    rows, problems = rows_of(data)
    assert problems == []
    return [row.text(column) for row in rows]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_the_encodings_of_spreadsheet_programs_are_recognised(encoding):
    assert column_of("coupon,note\nblåmes,é\n".encode(encoding)) == ["blåmes"]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_the_delimiter_is_the_one_under_which_the_header_makes_sense(delimiter):
    text = f'coupon{delimiter}cost per m2\nC1{delimiter}"3,1"\n'
    assert column_of(text) == ["C1"]
    assert column_of(text, "cost_per_m2") == ["3,1"]


def test_a_header_in_quotation_marks_under_another_delimiter_is_read():
    assert column_of('"coupon";"note"\n"C1";"a;b"\n', "note") == ["a;b"]


def test_header_names_may_differ_in_case_blanks_and_hyphens():
    assert {plain_name(name) for name in (" Cost per m² ", "COST_PER_M2", "cost-per m2")} == {"cost_per_m2"}


def test_a_column_is_known_by_its_other_name_and_problems_name_it_so():
    problems = ProblemList("a.csv")
    (row,) = open_table(b"Piece\nC1\n", LAYOUT, problems).rows(problems)
    assert row.text("coupon") == "C1"
    assert not row.failed
    row.refuse(InputError("Wrong."), "coupon")
    assert row.failed
    assert problems.listed()[0].sentence() == "a.csv, row 2, column piece: Wrong."


def test_a_row_with_more_cells_than_the_header_is_left_out_and_named():
    rows, problems = rows_of("piece\nC1,C2\nC3\n")
    assert [row.text("coupon") for row in rows] == ["C3"]
    assert problems == [
        "a.csv, row 2: This row has 2 cells and the header names 1; put quotation marks around a text or number that "
        "holds the separator."
    ]


def test_columns_without_a_meaning_are_kept_in_the_note():
    rows, _ = rows_of("coupon,Bar,note,,source\nC1,7,first,x,eye\nC2,,,,\n")
    assert [row.note() for row in rows] == ["first\nBar: 7\ncolumn 4: x", ""]


def test_row_numbers_are_those_of_a_spreadsheet():
    rows, _ = rows_of('\ncoupon,note\nC1,"two\nlines"\n\n,\nC2,\n')
    assert [(row.number, row.text("coupon")) for row in rows] == [(3, "C1"), (6, "C2")]


def test_the_hint_line_for_spreadsheets_is_no_row():
    rows, _ = rows_of("sep=;\ncoupon;note\nC1;a\n")
    assert [row.number for row in rows] == [2]


def test_rows_with_fewer_cells_than_the_header_are_read():
    assert column_of("coupon,note\nC1\n", "note") == [""]


def test_empty_cells_beyond_the_header_do_no_harm():
    assert column_of("coupon,note,,\nC1,a,,,,\n") == ["C1"]


def test_the_apostrophe_against_formulas_is_taken_off():
    assert column_of("coupon,note\n'=1+1,\n'tis,\n") == ["=1+1", "'tis"]


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"", "a.csv: The file is empty."),
        (b"\xef\xbb\xbf \r\n", "a.csv: The file is empty."),
        (b"coupon\nC\x001\n", "a.csv: This is not a text file; save it as CSV (UTF-8) from the spreadsheet program."),
        (b"\xff\xfec", "a.csv: This is not a text file; save it as CSV (UTF-8) from the spreadsheet program."),
        (
            b"PK\x03\x04...",
            "a.csv: This is a workbook and not a CSV file; save it as CSV from the spreadsheet program.",
        ),
        (
            b"id,note\nC1,\n",
            "a.csv, row 1: The column “coupon” is missing; name it in the first row, which holds: id, note.",
        ),
        (
            b"coupon," + b"x," * 1_000 + b"note\nC1\n",
            "a.csv: The file has more than 1000 columns; delete those that are not used.",
        ),
        (b"coupon,Coupon\nC1,C2\n", "a.csv, row 1: The column “coupon” is there twice; keep one of them."),
        (
            b'coupon,note\nC1,"open\nC2,a\n',
            "a.csv, row 2: A quotation mark in this row is not closed, or text follows a closing one; "
            "mend the quotation marks.",
        ),
        (
            b"coupon,note\nC1," + b"a" * 200_000,
            "a.csv, row 2: A cell in this row is longer than any spreadsheet allows; "
            "look for a quotation mark that is not closed.",
        ),
    ],
)
def test_a_file_that_cannot_be_read_is_refused_in_one_sentence(data, sentence):
    assert refusal_of(data) == sentence


def test_several_missing_columns_are_named_together():
    layout = Layout(("date", "coupon", "grade"), ("date", "coupon", "grade"))
    with pytest.raises(InputError) as caught:
        rows_of("mark\n1\n", layout)
    assert caught.value.problem.what == (
        "The columns “date”, “coupon” and “grade” are missing; name them in the first row, which holds: mark."
    )


def test_a_file_that_is_too_large_is_refused_before_it_is_read():
    assert refusal_of(b"a" * (MOST_BYTES + 1)) == "a.csv: The file is larger than 32 MB; split it into several files."


def test_more_rows_than_the_limit_are_refused():
    data = b"coupon\n" + b"C\n" * MOST_ROWS_IN_FILE
    assert len(rows_of(data)[0]) == MOST_ROWS_IN_FILE
    assert len(rows_of(data + b"\n" * 1_000)[0]) == MOST_ROWS_IN_FILE
    assert refusal_of(data + b"C\n") == "a.csv: The file has more than 200000 rows; split it into several files."
