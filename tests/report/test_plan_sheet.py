"""The plan in the workbook: the question and its changes, lots and moves, drips, planned inspections."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from openpyxl.worksheet.worksheet import Worksheet
from report_boards import HOSTILE, MADE, START, BoardBuilder, door_board, hostile_board, planned_board, small_board
from workbook_reading import SHEETS, opened, rows, texts

from rustboard.board.model import Board
from rustboard.board.position import Position
from rustboard.board.question import COMPARED, MEASURES, Question
from rustboard.board.record import BoardRecord
from rustboard.report import plan_sheet
from rustboard.report.content import ReportContent
from rustboard.report.plan_words import compared_words, drip_words, measure_words, question_changes
from rustboard.report.workbook import workbook_bytes


def facts(sheet: Worksheet) -> list[tuple[object, object]]:
    return [(row[0], row[1]) for row in rows(sheet) if row[0] is not None]


def table(sheet: Worksheet, head: str) -> list[tuple[object, ...]]:
    """The rows below the one that begins with ``head``, up to the next blank one."""
    found = rows(sheet)
    begin = next(number for number, row in enumerate(found) if row[0] == head and row[1] is not None) + 1
    length = next((n for n, row in enumerate(found[begin:]) if row[0] is None), len(found) - begin)
    return found[begin : begin + length]


def plan(record: BoardRecord) -> Worksheet:
    return opened(record)["Plan"]


def one_row(*treatments: int | None) -> BoardBuilder:
    made = BoardBuilder(Board("B", rows=len(treatments), columns=1, started=START))
    for number in range(3):
        made.treatment(f"T{number + 1}")
    for row, treatment in enumerate(treatments):
        made.coupon(f"C{row + 1}", f"{'ABC'[row]}1", treatment)
    return made


def test_the_sheet_is_there_only_when_something_was_planned() -> None:
    assert "Plan" not in opened(door_board()).sheetnames
    assert tuple(opened(planned_board()).sheetnames) == (*SHEETS[:3], "Plan", *SHEETS[3:])
    for part in ("question", "lots", "calendar"):
        made = BoardBuilder(Board("B", started=START))
        coupon = made.coupon("C01", "A1")
        if part == "question":
            made.question(written=MADE)
        elif part == "lots":
            made.lots({coupon: "A1"}, seed=1)
        else:
            made.calendar(1)
        sheet = plan(made.record)
        assert (plan_sheet.NO_QUESTION in texts(sheet)) == (part != "question")


def test_the_question_stands_as_the_user_wrote_it() -> None:
    made = BoardBuilder()
    made.record = small_board()
    made.question(words="Wax or oil?", written=datetime(2026, 2, 28, 8, 0), worthwhile=1.5)
    said = dict(facts(plan(made.record)))
    assert said["In the user's words"] == "Wax or oil?"
    assert said["Compared"] == "every treatment with the controls"
    assert said["On this board"] == (
        "hot beeswax blend with control (2 and 1 coupons)\nbaked linseed oil with control (1 and 1 coupons)"
    )
    assert said["Main measure"] == "the last grade of each coupon"
    assert said["Failing grade"] == "7: at this grade or below a coupon has failed"
    assert said["Difference that matters"] == "1.5 grades or more"
    assert said["Written down"] == "2026-02-28 08:00, before the exposure began"
    assert "Changed" not in said
    assert plan_sheet.LATE not in texts(plan(made.record))


def test_every_later_change_is_listed_as_such_with_its_date() -> None:
    sheet = plan(planned_board())
    changed = [text for label, text in facts(sheet) if label == "Changed"]
    assert changed == [
        "2026-02-28 08:00, before the exposure began: in words: “Does any finish outlast wax at the harbour?” "
        "instead of “Does a second coat of wax pay on a door at the harbour?”",
        "2026-03-20 18:30, AFTER the exposure had begun: main measure: the days until each coupon fell to the "
        "failing grade instead of the last grade of each coupon; failing grade: 6 instead of 7; spread: a standard "
        "deviation of 0.8 grades, as the user assumed instead of as the user's earlier boards show it, "
        "or 1 grade where they show none",
    ]
    assert ("First written", "2026-02-27 10:15, before the exposure began") in facts(sheet)
    assert plan_sheet.LATE in texts(sheet)


def test_a_change_that_changed_nothing_says_so() -> None:
    assert question_changes(Question(), Question(key=2, written=MADE)) == "nothing but its date"


@pytest.mark.parametrize("compared", COMPARED)
@pytest.mark.parametrize("measure", MEASURES)
def test_every_kind_of_question_has_words_of_its_own(compared: str, measure: str) -> None:
    question = Question(compared=compared, measure=measure, pairs=(("T1", "T2"), ("T1", "T3")))  # type: ignore[arg-type]
    others = {compared_words(replace(question, compared=each)) for each in COMPARED}
    assert len(others) == len(COMPARED)
    assert len({measure_words(replace(question, measure=each)) for each in MEASURES}) == len(MEASURES)
    if compared == "chosen":
        assert compared_words(question).endswith("T1 with T2; T1 with T3")


def test_lots_and_what_hangs_elsewhere_now_are_shown() -> None:
    sheet = plan(planned_board())
    said = dict(facts(sheet))
    assert said["Lots"] == (
        "drawn 2026-02-28 09:00 with the number 2026; the same number on the same plan gives the same lots"
    )
    assert said["Since then"] == "2 of 21 coupons hang elsewhere than drawn; they are marked below"
    coupons = table(sheet, "Coupon")
    assert [row[0] for row in coupons] == [f"C{number:02d}" for number in range(1, 22)]
    assert coupons[0][:5] == ("C01", "T1 hot beeswax blend", "test", "A2", "A1")
    assert [row[0] for row in coupons if "moved" in str(row[5])] == ["C01", "C02"]


def test_lots_for_another_grid_are_not_said_to_come_again() -> None:
    made = one_row(1, 1)
    made.lots({1: "A1", 2: "A2"}, seed=1, drawn_rows=2, drawn_columns=2)
    assert dict(facts(plan(made.record)))["Lots"] == (
        "drawn at a time that is not noted with the number 1, for other rows and columns than the board has now"
    )


def test_a_coupon_off_the_board_and_one_added_later_are_marked() -> None:
    made = one_row(1, 1)
    made.lots({1: "A1"}, seed=1)
    made.record.coupons[1] = replace(made.record.coupons[1], position=None)
    coupons = {row[0]: row for row in table(plan(made.record), "Coupon")}
    assert coupons["C1"][3:] == ("A1", "off the board", "moved")
    assert coupons["C2"][3:] == ("–", "B1", "added after the lots")


def test_where_every_coupon_hangs_as_drawn_it_says_so() -> None:
    made = one_row(1, 1)
    made.lots({1: "A1", 2: "B1"}, seed=1)
    assert dict(facts(plan(made.record)))["Since then"] == "every coupon hangs where the lots put it"


@pytest.mark.parametrize(
    ("drain", "incline", "words"),
    [
        ("none", 45.0, "BROKEN at 2 places"),
        ("columns", 45.0, "BROKEN at 2 places"),
        ("spacing", 45.0, "BROKEN at 2 places"),
        ("none", None, "the incline is not noted"),
        ("drip edges", 45.0, "kept, as long as a drip edge is fitted under every row"),
        ("none", 0.0, "the board lies flat"),
    ],
)
def test_breaks_of_the_drip_rule_are_marked_honestly(drain: str, incline: float | None, words: str) -> None:
    made = one_row(1, 2, None)
    made.record.board = replace(made.record.board, incline_deg=incline)
    made.lots({1: "A1", 2: "B1", 3: "C1"}, seed=1, drain=drain)
    sheet = plan(made.record)
    assert words in str(dict(facts(sheet))["Drip rule"])
    marks = [row[5] for row in table(sheet, "Coupon")]
    broken = words.startswith("BROKEN") or "not noted" in words
    assert marks == (["drips on C2 (B1)", "drips on C3 (C1)", None] if broken else [None] * 3)


def test_a_board_of_one_treatment_keeps_the_drip_rule() -> None:
    made = one_row(1, 1, 1)
    assert drip_words(made.record, []).startswith("kept: no coupon drips on one of another treatment")


def test_planned_inspections_stand_beside_what_was_done() -> None:
    made = BoardBuilder()
    made.calendar(0, 7, 14, 28, 100)
    for day in (0, 8, 27):
        made.inspection(day)
    assert [(row[0], row[2], row[5]) for row in table(plan(made.record), "Day")] == [
        (0, datetime(2026, 3, 2, 9), "on the day"),
        (7, datetime(2026, 3, 10, 9), "1 day late"),
        (14, None, "not done"),
        (28, datetime(2026, 3, 29, 9), "1 day early"),
        (100, None, "to come"),
    ]
    said = f"Planned looks done: 3 of 5. Inspections in all: 3. {plan_sheet.COUNTS_FOR}"
    assert said in texts(plan(made.record))


def test_without_a_start_the_calendar_has_days_alone() -> None:
    made = BoardBuilder(Board("B"))
    made.calendar(1, 2)
    assert [row[:3] for row in table(plan(made.record), "Day")] == [
        (1, "no start noted", None),
        (2, "no start noted", None),
    ]


def test_the_cover_has_the_question_in_three_lines() -> None:
    said = {row[0]: row[1] for row in rows(opened(planned_board())["Cover"]) if row[0]}
    assert said["Question"] == "Does any finish outlast wax at the harbour?"
    assert said["Judged by"] == (
        "the days until each coupon fell to the failing grade; failed at 6 or below; a difference of 2 grades would "
        "matter"
    )
    assert said["Question written down"] == (
        "2026-03-20 18:30, AFTER the exposure had begun; 2 changes since the first, listed on the sheet Plan"
    )
    assert "Question" not in {row[0] for row in rows(opened(door_board())["Cover"])}


def test_a_question_without_words_stands_on_the_cover_by_what_it_compares() -> None:
    made = BoardBuilder()
    made.question(compared="families")
    said = {row[0]: row[1] for row in rows(opened(made.record)["Cover"]) if row[0]}
    assert said["Question"] == "Compared: every family with every other"
    assert said["Question written down"] == "at a time that is not noted, before the exposure began"


def test_hostile_texts_stay_text_and_stay_bounded() -> None:
    record = planned_board(hostile_board())
    question = replace(record.questions[3], words="=1+1\n" + HOSTILE[10] * 500, compared="chosen", key=3)
    record.questions[3] = replace(question, pairs=tuple((text, "=1+1") for text in HOSTILE))
    sheet = plan(record)
    assert {cell.data_type for row in sheet.iter_rows() for cell in row}.isdisjoint({"f", "e"})
    words = next(cell for cell in sheet["B"] if str(cell.value).startswith("=1+1\n"))
    assert words.quotePrefix
    assert max(each.height or 0 for each in sheet.row_dimensions.values()) <= 600
    assert HOSTILE[7] in texts(sheet)


def test_many_comparisons_are_counted_when_they_are_too_many_to_list() -> None:
    made = BoardBuilder(Board("B", rows=1, columns=12, started=START))
    for number in range(12):
        made.coupon(f"C{number}", f"A{number + 1}", made.treatment(f"T{number + 1}"))
    made.question(compared="pairs")
    lines = str(dict(facts(plan(made.record)))["On this board"]).split("\n")
    assert len(lines) == 41
    assert lines[-1] == "and 26 more"


def test_the_same_plan_makes_the_same_bytes() -> None:
    assert workbook_bytes(ReportContent(planned_board(), MADE)) == workbook_bytes(
        ReportContent(planned_board(), MADE)
    )


def test_a_board_with_positions_beyond_its_lots_is_no_trouble() -> None:
    made = one_row(1, 2)
    made.lots({1: "A1"}, drain="spacing", free_rows=2, method="hand")
    made.record.coupons[2] = replace(made.record.coupons[2], position=Position(40, 3))
    said = dict(facts(plan(made.record)))
    assert said["Positions"] == "by hand, without lots"
    assert said["Care against drips"].startswith("at least 2 empty positions")  # type: ignore[union-attr]
    assert said["Lots"] == "not drawn"
