"""The sheet of blind grades, and what the method says of blind grading."""

from __future__ import annotations

from datetime import datetime

from blind_boards import blind_board, hide, let_grade
from report_boards import HOSTILE, BoardBuilder, small_board
from workbook_reading import SHEETS, opened, rows, texts

from rustboard.board.blind import Showing
from rustboard.board.blind_result import RULE
from rustboard.board.record import BoardRecord
from rustboard.report.blind_sheet import COLUMNS, SHEET, STILL_HIDDEN
from rustboard.report.blind_words import MOST_NAMED
from rustboard.report.tidy import grade_rows

BLIND, HIDDEN = datetime(2026, 3, 9, 9, 0), datetime(2026, 3, 16, 9, 0)


def method_of(record: BoardRecord) -> list[str]:
    return texts(opened(record)["Method and cautions"])


def test_the_sheet_stands_before_the_method_where_any_inspection_was_graded_blind() -> None:
    names = tuple(opened(blind_board()).sheetnames)
    assert names[names.index("Method and cautions") - 1] == SHEET
    assert tuple(each for each in names if each != SHEET) == SHEETS
    assert SHEET not in opened(small_board()).sheetnames


def test_each_blind_grade_has_a_row_in_the_order_it_was_given() -> None:
    found = rows(opened(blind_board())[SHEET])
    assert found[0] == tuple(each.heading for each in COLUMNS)
    assert found[1:7] == [
        (BLIND, "Ann", 1, "C02", "first", "mirrored", 6, "S", None, 7, "agreed", "'=drip"),
        (BLIND, "Ann", 2, "C01", "first", "as taken", 8, "S", None, 8, "blind", None),
        (BLIND, "Ann", 3, "C02", "second", "half turn", 7, "S", None, 7, "agreed", None),
        (BLIND, "Bo", 1, "C01", "first", "half turn", 9, "S", None, 8, "blind", None),
        (BLIND, "Bo", 2, "C02", "first", "as taken", 7, "S", None, 7, "agreed", None),
        (BLIND, "Bo", 3, "C02", "second", "mirrored", 7, "S", None, 7, "agreed", None),
    ]


def test_a_hidden_inspection_is_named_without_any_of_its_grades() -> None:
    workbook = opened(blind_board())
    hidden = (
        "The inspection of 2026-03-16 09:00 is being graded blind and still hidden; its blind grades are not in yet."
    )
    assert f"•  {hidden}" in texts(workbook["Cover"])
    assert rows(workbook[SHEET])[7] == (HIDDEN, *(None,) * 10, STILL_HIDDEN)
    assert "secret" not in {text for sheet in workbook for text in texts(sheet)}


def test_the_rule_stands_below_the_table() -> None:
    sheet = opened(blind_board())[SHEET]
    assert sheet.tables["BlindGrades"].ref == "A1:L8"
    assert rows(sheet)[-1][0] == RULE
    assert sheet.print_area == "'Blind grades'!$A$1:$L$10"


def test_a_coupon_without_a_grade_of_the_board_leaves_that_cell_empty() -> None:
    record = blind_board()
    del record.current[1][2]
    assert rows(opened(record)[SHEET])[2][9:11] == (None, None)


def test_hostile_names_and_notes_stay_text() -> None:
    made = BoardBuilder()
    key = made.inspection(0)
    coupons = [made.coupon(text, None) for text in HOSTILE]
    blind = hide(made.record, key, "bench")
    for text in HOSTILE[:3]:
        let_grade(made.record, blind, text, [(Showing(each), 5, HOSTILE[each - 1]) for each in coupons])
    kinds = {cell.data_type for row in opened(made.record)[SHEET].iter_rows() for cell in row}
    assert kinds == {"s", "n", "d"}  # neither "f" nor "e"


def test_the_method_says_which_inspections_were_blind_how_by_whom_and_which_were_not() -> None:
    said = method_of(blind_board())
    assert "Blind grading" in said
    assert (
        "2026-03-09 09:00: graded blind by 2 graders (Ann, Bo) from a photo; 1 coupon shown twice to each, the "
        "second time turned otherwise."
    ) in said
    assert "2026-03-16 09:00: being graded blind and still hidden; its blind grades are not in yet." in said
    assert ("Not graded blind, so that the grader could know which coupon it was: 1 inspection (2026-03-02).") in said
    assert any(RULE in each for each in said)
    assert (
        "1 grade was agreed on by the graders after their blind grades were revealed; the board keeps what the rule "
        "gave before."
    ) in said


def test_at_the_bench_nothing_is_turned_and_without_repeats_that_is_said() -> None:
    record = blind_board()
    let_grade(record, hide(record, 1, "bench"), "Cy", [(Showing(1), 5, ""), (Showing(2), 5, "")])
    assert (
        "2026-03-02 09:00: graded blind by 1 grader (Cy) at the bench, by position alone; no coupon was shown twice."
    ) in method_of(record)
    assert rows(opened(record)[SHEET])[1][5] == "at the bench"


def test_an_inspection_revealed_without_any_grade_that_counts_was_not_graded_blind() -> None:
    made = BoardBuilder()
    coupon = made.coupon("C01", "A1")
    made.histories((0, 7), {coupon: (10, 9)})
    let_grade(made.record, hide(made.record, 2), "Ann", [])
    said = method_of(made.record)
    assert any(each.startswith("Not graded blind") and "2 inspections" in each for each in said)
    assert not any("graded blind by" in each for each in said)
    assert SHEET not in opened(made.record).sheetnames
    hide(made.record, 1, revealed=False)
    assert SHEET in opened(made.record).sheetnames


def test_a_board_without_blind_grading_says_so_and_one_without_inspections_says_nothing() -> None:
    said = method_of(small_board())
    assert any(each.startswith("Not graded blind") and "4 inspections" in each for each in said)
    assert not any(RULE in each for each in said)
    assert "Blind grading" not in method_of(BoardBuilder().record)


def test_very_many_inspections_are_counted_and_not_all_named() -> None:
    made = BoardBuilder()
    coupon = made.coupon("C01", "A1")
    for day in range(2 * MOST_NAMED + 10):
        key = made.inspection(day)
        if day % 2:
            let_grade(made.record, hide(made.record, key), "Ann", [(Showing(coupon), 5, "")])
    said = method_of(made.record)
    assert sum("graded blind by 1 grader" in each for each in said) == MOST_NAMED
    assert "So were 5 later inspections; the sheet of blind grades has them." in said
    assert any(each.endswith("and 5 more).") for each in said)


def test_the_source_column_says_blind_and_agreed_and_the_method_what_that_means() -> None:
    record = blind_board()
    assert [row["source"] for row in grade_rows(record)] == ["eye", "eye", "blind", "agreed"]
    said = " ".join(method_of(record))
    assert "blind (by eye, without knowing which coupon it was)" in said
    assert "agreed (settled between the graders after their blind grades were revealed)" in said
