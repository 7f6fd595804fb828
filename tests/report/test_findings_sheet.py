"""The sheet of findings: sentences, figures as numbers in tables, and who left which coupon out and why."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import datetime

import pytest
from openpyxl import Workbook, load_workbook
from report_boards import HOSTILE, MADE, BoardBuilder, hostile_board, planned_board, small_board
from workbook_reading import SHEETS, opened, rows, texts

from rustboard.board.exposure_clock import day_clock
from rustboard.board.left_out import MOST_REASON, LeftOut
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord
from rustboard.board.series import inspection_days
from rustboard.findings.compare.results import Compared, Comparing, ExactResult, ModelResult
from rustboard.findings.conclude.findings import Findings
from rustboard.findings.coupons.subject import FindingsRequest, subject_of
from rustboard.findings.doubts.results import Doubts
from rustboard.findings.sentence import Sentence
from rustboard.report.cells import LINE_POINTS, lines_of
from rustboard.report.content import ReportContent
from rustboard.report.findings_content import FindingsContent, LeftOutLine
from rustboard.report.tidy import cell_text
from rustboard.report.workbook import workbook_bytes
from rustboard.session.findings_report import findings_content
from rustboard.session.reporting import write_whole_workbook

SUMMARY, COMPARISONS, DOUBTS = "Summary", "Comparisons", "Doubts"
NAN = float("nan")


def found_on(record: BoardRecord, question: Question | None = None, *figures: Compared, complete: bool = True):
    """Findings whose comparisons get the figures given here, one after another; no tests are computed."""
    request = FindingsRequest(record, day_clock(inspection_days(record)), question or Question("pairs"))
    subject = subject_of(request)
    compared = tuple(
        replace(figures[number], comparison=each) if number < len(figures) else Compared(each, "", "", (), ())
        for number, each in enumerate(subject.comparisons)
    )
    verdict = (Sentence("{0} is shown better than {1}.", ("hot beeswax blend", "baked linseed oil")),)
    cautions = (Sentence("Of {0} coupons, none was graded blind.", (4,)),)
    groups = tuple(sorted(subject.group_results, key=lambda each: -(each.mean or 0)))
    return Findings(
        subject, groups, Comparing(compared, {}), None, None, None, Doubts((), (), (), ()), None, verdict, cautions,
        complete,
    )  # fmt: skip


def figures(standing="better", **exact) -> Compared:
    model = ModelResult(2.5, 0.75, 4.25, 0.0123, 0.7, 1.1, 6, "studentized range")
    given = {"p": 0.1, "smallest": 0.1, "arrangements": 10, "p_family": 0.1, **exact}
    return Compared(None, "", "", (), (), model=model, exact=ExactResult(**given), standing=standing)


def left_out(record: BoardRecord, coupon: int, reason: str, who: str = "Ann", when: str = "2026-03-05T10:00:00"):
    key = len(record.left_out) + 1
    record.left_out[key] = LeftOut(key, coupon, reason, who, when)
    return record


def opened_with(record: BoardRecord, content: FindingsContent | None) -> Workbook:
    return load_workbook(io.BytesIO(workbook_bytes(ReportContent(record, MADE, findings=content))))


def told(workbook: Workbook) -> list[str]:
    return [
        text
        for sheet in (SUMMARY, COMPARISONS, DOUBTS)
        if sheet in workbook.sheetnames
        for text in texts(workbook[sheet])
    ]


def row_of(workbook: Workbook, first: str, sheet: str = SUMMARY) -> tuple[object, ...]:
    return next(row for row in rows(workbook[sheet]) if row[0] == first)


def test_without_findings_there_is_no_such_sheet():
    assert opened(small_board()).sheetnames == list(SHEETS)


def test_the_summary_stands_behind_cover_and_contents_and_before_the_plan():
    record = planned_board()
    names = opened_with(record, findings_content(found_on(record))).sheetnames
    assert names[:4] == ["Cover", "Contents", SUMMARY, "Plan"]


def test_sentences_come_first_then_treatments_then_comparisons_then_cautions_then_what_was_left_out():
    record = small_board()
    read = told(opened_with(record, findings_content(found_on(record, None, figures()))))
    order = [
        "hot beeswax blend is shown better than baked linseed oil.", "What each treatment came to",
        "Which did better than which",
        "Of 4 coupons, none was graded blind.", "Left out of the findings", "No coupon was left out.",
    ]  # fmt: skip
    assert [each for each in read if each in order] == order


def test_each_treatment_has_its_line_with_numbers_the_best_first():
    record = small_board()
    workbook = opened_with(record, findings_content(found_on(record)))
    # By hand from the last grades of C01 and C02, 8 and 7, the failing grade being 7.
    assert row_of(workbook, "hot beeswax blend")[1:8] == (
        "wax", None, 2, 7.5, pytest.approx(0.5**0.5), 1, None,
    )  # fmt: skip
    assert row_of(workbook, "baked linseed oil")[3:7] == (1, 5, None, 1)
    names = [row[0] for row in rows(workbook[SUMMARY])]
    assert names.index("hot beeswax blend") < names.index("baked linseed oil") < names.index("control")


def test_a_comparison_has_its_figures_as_numbers():
    record = small_board()
    workbook = opened_with(record, findings_content(found_on(record, None, figures())))
    line = next(row for row in rows(workbook[COMPARISONS]) if row[9] == "the first is better")
    assert line[2:9] == (2.5, 0.75, 4.25, 0.0123, 0.1, 0.1, 0.1)


@pytest.mark.parametrize(("standing", "words"), [
    ("better", "the first is better"), ("worse", "the second is better"),
    ("leans better", "leans to the first, not shown"), ("leans worse", "leans to the second, not shown"),
    ("open", "cannot be told apart"),
])  # fmt: skip
def test_how_two_stand_is_told_in_words(standing, words):
    content = findings_content(found_on(small_board(), None, figures(standing)))
    assert content.compared[0].standing == words


def test_where_neither_model_nor_exact_test_has_an_answer_it_is_not_called_a_tie():
    content = findings_content(found_on(small_board()))
    assert {each.standing for each in content.compared} == {"nothing can be said"}


def test_what_cannot_be_had_or_is_no_number_is_empty():
    strange = replace(figures(p_family=None), model=ModelResult(NAN, -float("inf"), 1.0, NAN, 0.0, 0.0, 0, "one"))
    record = small_board()
    content = findings_content(found_on(record, None, strange))
    assert content.compared[0][2:9] == (None, None, 1.0, None, 0.1, 0.1, None)
    assert not {"nan", "inf", "-inf", "None"} & set(told(opened_with(record, content)))


def test_a_p_that_is_only_known_to_be_as_large_or_larger_says_so_and_a_tiny_one_is_not_shown_as_nothing():
    record = small_board()
    content = findings_content(found_on(record, None, figures(p_family=0.4, at_least=True, p=0.00001)))
    sheet = opened_with(record, content)[COMPARISONS]
    line = next(row for row in sheet.iter_rows() if row[9].value == "the first is better")
    assert (line[8].value, line[8].number_format) == (0.4, '0.0000" or more"')
    assert (line[6].value, line[6].number_format) == (0.00001, '[<0.0001]"< 0.0001";0.0000')


def test_figures_stand_in_native_tables_whose_headings_are_those_of_the_cells():
    record = left_out(small_board(), 2, "fell off")
    workbook = opened_with(record, findings_content(found_on(record, None, figures())))
    found = {
        name: (sheet, table)
        for sheet in workbook
        for name, table in zip(sheet.tables, sheet.tables.values(), strict=True)
    }
    assert {"FindingsRanked", "FindingsCompared", "FindingsLeftOut", "LiveTreatments", "LiveCoupons"} <= set(found)
    assert len(found) == sum(len(sheet.tables) for sheet in workbook), "no two tables of one workbook share a name"
    for sheet, table in found.values():
        head = [cell.value for cell in sheet[table.ref][0]]
        assert head == [each.name for each in table.tableColumns]


def test_each_coupon_left_out_has_its_reason_who_and_when():
    record = left_out(left_out(small_board(), 3, "scratched on day 3"), 1, "fell off", "Bo", "some day")
    content = findings_content(found_on(record))
    assert content.left_out == (
        LeftOutLine("C01", "A1", "fell off", "Bo", "some day"),
        LeftOutLine("C03", "A3", "scratched on day 3", "Ann", datetime(2026, 3, 5, 10)),
    )
    workbook = opened_with(record, content)
    assert row_of(workbook, "C03", DOUBTS)[:5] == ("C03", "scratched on day 3", "A3", "Ann", datetime(2026, 3, 5, 10))
    assert row_of(workbook, "hot beeswax blend")[3:5] == (1, 7), "C01 no longer counts"


def test_the_longest_reason_is_printed_whole_in_both_sheets():
    reason = ("blown off, found in the gutter with a bent corner " * 11)[:MOST_REASON]
    record = left_out(small_board(), 2, reason)
    workbook = opened_with(record, findings_content(found_on(record)))
    for sheet, column, width in ((workbook[DOUBTS], 2, 28), (workbook["Coupons"], 7, 40)):
        row = next(row for row in sheet.iter_rows() if row[0].value == "C02" and row[column - 1].value)
        assert row[column - 1].value.startswith(reason)
        lines = lines_of(row[column - 1].value, width)
        assert sheet.row_dimensions[row[0].row].height >= lines * LINE_POINTS


def test_a_first_answer_says_that_the_exact_tests_are_to_come():
    record = small_board()
    read = told(opened_with(record, findings_content(found_on(record, complete=False))))
    assert any(each.startswith("The exact tests had not been worked out") for each in read)


@pytest.mark.parametrize(("measure", "words"), [
    ("last grade", "grades: the last grade of each coupon"),
    ("mean grade", "grades: the mean grade of each coupon over the days of exposure"),
    ("days to failing grade", "days: how long each coupon stayed above the failing grade, so far"),
])  # fmt: skip
def test_what_the_means_are_of_is_told(measure, words):
    record = small_board()
    content = findings_content(found_on(record, Question("pairs", measure=measure, failing_grade=6)))
    assert content.measure == words
    read = told(opened_with(record, content))
    assert any(f"in {words}. " in each and "grade 6 or below" in each for each in read)


def test_a_board_without_anything_to_say_still_makes_a_sheet():
    record = BoardBuilder().record
    read = told(opened_with(record, findings_content(found_on(record))))
    assert read[0] == "Doubts and disturbances"
    assert "No coupon was left out." in read


def test_hostile_texts_stay_texts_and_bounded():
    record = hostile_board()
    for coupon, text in zip(list(record.coupons), HOSTILE, strict=False):
        left_out(record, coupon, text, text, text)
    content = findings_content(found_on(record, None, *[figures()] * 5))
    content = replace(content, verdict=tuple(HOSTILE), cautions=tuple(HOSTILE), measure=HOSTILE[0])
    workbook = opened_with(record, content)
    for row in (row for sheet in workbook for row in sheet.iter_rows()):
        for cell in row:
            # What is a formula is one of the program's own: see test_live_formulas.
            assert cell.data_type != "f" or cell.parent.title == SUMMARY
            if isinstance(cell.value, str) and cell.data_type != "f":
                assert cell.value == cell_text(cell.value)
                if cell.value[:1] in tuple("=+-@"):
                    assert cell.quotePrefix


def test_it_is_part_of_the_whole_workbook(tmp_path):
    record = small_board()
    write_whole_workbook(record, tmp_path / "a.xlsx", MADE, findings=findings_content(found_on(record)))
    assert load_workbook(tmp_path / "a.xlsx").sheetnames[2] == SUMMARY


# ---- the sheet of coupons


def test_the_sheet_of_coupons_marks_those_left_out_even_without_findings():
    workbook = opened(left_out(left_out(small_board(), 2, "fell off"), 3, "lost", "", ""))
    sheet = workbook["Coupons"]
    head = [cell.value for cell in sheet[1]]
    assert head[-2:] == ["Left out of the findings because", "Note"]
    why = {row[0]: row[-2] for row in list(rows(sheet))[1:]}
    assert why == {"C01": None, "C02": "fell off (Ann, 2026-03-05)", "C03": "lost", "C04": None}


def test_the_method_says_that_other_sheets_still_count_those_left_out():
    heading = "Left out of the findings"
    assert heading in texts(opened(left_out(small_board(), 2, "fell off"))["Method and cautions"])
    assert heading not in texts(opened(small_board())["Method and cautions"])


def test_where_none_is_left_out_the_sheet_of_coupons_is_as_before():
    assert "Left out of the findings because" not in [cell.value for cell in opened(small_board())["Coupons"][1]]
