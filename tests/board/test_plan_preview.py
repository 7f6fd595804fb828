"""A plan file as it was read, cell by cell, and where its problems are."""

import json

import pytest
from plan_reading import read_plan_csv, read_plan_json

from rustboard.board.csv_table import open_table
from rustboard.board.plan_csv import PLAN_LAYOUT
from rustboard.board.plan_preview import MOST_ROWS_SHOWN, PreviewCell, preview_json, preview_table
from rustboard.board.problem_list import ProblemList
from rustboard.support.problems import InputError


def preview_csv(text):
    problems = ProblemList("p.csv")
    return preview_table(open_table(text.encode(), PLAN_LAYOUT, problems), problems)


def test_a_table_is_shown_as_it_stands_in_the_file():
    shown = preview_csv("Bar;Coupon;Position;\n7;C1;A1;\n\n;C2;a2;\n")
    assert shown.header == ("Bar", "Coupon", "Position")
    assert shown.names == ("2", "4")
    assert shown.rows == (("7", "C1", "A1"), ("", "C2", "a2"))
    assert (shown.problems, shown.left_out, shown.row_count) == ((), 0, 2)
    assert len(shown.plan.coupons) == 2


def test_a_problem_is_placed_in_the_cell_it_is_about():
    text = "piece,coupon,position,coats,treatment\nx,C1,A1,2,wax\nx,C2,17,2,wax\nx,C3,A1,many,wax\nx,C4,A3\n"
    shown = preview_csv(text)
    assert shown.faults() == {
        PreviewCell(1, 2): ("“17” is not a position; write a row letter and a column number, such as B3.",),
        PreviewCell(2, 3): ("“many” is not a number; write digits with one decimal point or comma, such as 2.5.",),
        PreviewCell(2, 2): ("Position A1 is taken by coupon “C1” in row 2; give coupon “C3” another one.",),
    }
    assert shown.left_out == 2
    assert [shown.problems[number].row for number in range(3)] == [3, 4, 4]


def test_a_problem_in_a_column_by_its_other_name_is_placed_in_it():
    shown = preview_csv("coupon,position,Cost per m²,treatment\nC1,A1,dear,wax\n")
    assert list(shown.faults()) == [PreviewCell(0, 2)]


def test_a_row_that_is_too_wide_is_marked_whole_and_shown_with_its_cells():
    shown = preview_csv("coupon,position\nC1,A1,x,,y\nC2,A2\n")
    assert shown.header == ("coupon", "position", "column 3", "column 4", "column 5")
    assert shown.rows == (("C1", "A1", "x", "", "y"), ("C2", "A2", "", "", ""))
    assert list(shown.faults()) == [PreviewCell(0, None)]


def test_the_preview_says_what_reading_says():
    text = "coupon,position,treatment\nC1,A1,wax\nC1,A2,wax\n,A3,oil\n"
    shown = preview_csv(text)
    assert (shown.plan, list(shown.problems)) == read_plan_csv(text.encode(), "p.csv")


def test_a_file_of_which_nothing_can_be_used_is_refused():
    with pytest.raises(InputError, match="No coupon of this plan can be used"):
        preview_csv("coupon,position\nC1,1\n")


def test_of_a_very_long_file_the_first_rows_are_shown_and_all_are_counted():
    rows = "".join(f"C{number},A{number},x\n" for number in range(1, MOST_ROWS_SHOWN + 500))
    shown = preview_csv("coupon,position\n" + "C0,A1\n" + rows)
    assert len(shown.rows) == MOST_ROWS_SHOWN
    assert shown.row_count == MOST_ROWS_SHOWN + 500
    assert shown.left_out == MOST_ROWS_SHOWN + 499


def test_long_and_strange_cells_are_cut_and_made_safe():
    shown = preview_csv('coupon,position,note\nC1,A1,"' + "x" * 9_000 + '"\nC2,A2,a\x07b\n')
    assert len(shown.rows[0][2]) == 200
    assert shown.rows[1][2] == "a\ufffdb"


def test_the_coupons_of_a_json_plan_are_shown_as_a_table():
    content = {
        "board": {"rows": "x"},
        "coupons": [
            {"id": "C1", "position": "A1", "treatment": "T1", "outline_mm": [[0, 0], [60, 0], [60, 90]]},
            {"id": "C2", "position": 7, "role": None},
            "C3",
            {"id": "C4", "position": "B1", "role": "spy"},
        ],
    }  # fmt: skip
    data = json.dumps(content).encode()
    shown = preview_json(data, "p.json")
    assert shown.header == ("coupon", "position", "treatment", "role", "outline, mm")
    assert shown.rows == (
        ("C1", "A1", "T1", "", "3 points"), ("C2", "7", "", "", ""), ("", "", "", "", ""),
        ("C4", "B1", "", "spy", ""),
    )  # fmt: skip
    assert shown.names == ("C1", "C2", "coupons[2]", "C4")
    assert shown.rows_left_out == {1, 2, 3}
    assert set(shown.faults()) == {
        PreviewCell(0, 2), PreviewCell(1, 1), PreviewCell(2, None), PreviewCell(3, 3),
    }  # fmt: skip
    assert shown.left_out == 3
    assert (shown.plan, list(shown.problems)) == read_plan_json(data, "p.json")
    assert shown.places.count(None) == 1  # the one about the board


def test_a_problem_inside_a_coupon_marks_its_row():
    content = {"coupons": [{"id": "C1", "position": "A1", "outline_mm": [[0, 0], [1]], "colour": 1}]}
    shown = preview_json(json.dumps(content).encode(), "p.json")
    assert set(shown.faults()) == {PreviewCell(0, 2), PreviewCell(0, None)}


def test_json_shows_a_treatment_by_its_name():
    content = {
        "treatments": [{"id": "T3", "name": "hot beeswax"}, {"id": "T4"}],
        "coupons": [
            {"id": "C1", "position": "A1", "treatment": "T3"}, {"id": "C2", "position": "A2", "treatment": "T4"},
        ],
    }  # fmt: skip
    shown = preview_json(json.dumps(content).encode(), "p.json")
    assert [row[2] for row in shown.rows] == ["T3 · hot beeswax", "T4"]


def test_of_two_rows_with_an_id_the_one_that_was_kept_is_not_called_left_out():
    shown = preview_csv("coupon,position,coats\nC1,?,1\nC1,A2,many\nC1,A2,2\nC2,A3,2\n")
    assert [each.id for each in shown.plan.coupons] == ["C1", "C2"]
    assert len(shown.rows_left_out) == shown.left_out == 2
    assert 0 in shown.rows_left_out
