"""Each doubt of a board, provoked once, and none of them on a board that gives no reason for any."""

from dataclasses import replace
from datetime import date, timedelta
from statistics import variance

import pytest
from asked_boards import START, asked, placed_board, treatment
from scipy.stats import f

from rustboard.board.exposure_clock import ExposureClock
from rustboard.board.layout import Lot
from rustboard.board.left_out import LeftOut
from rustboard.board.measured import Disturbance
from rustboard.board.model import Coupon, Inspection
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.weather import DayNote
from rustboard.findings.coupons.subject import FindingsRequest, subject_of
from rustboard.findings.doubts.doubts import doubts_of

SQUARE = ["1230", "2301", "3012", "0123"]
LEVELS = [{"1": 10, "2": 10, "3": 10, "0": 10}, {"1": 9, "2": 9, "3": 9, "0": 8}, {"1": 9, "2": 8, "3": 8, "0": 6},
          {"1": 9, "2": 7, "3": 6, "0": 4}, {"1": 8, "2": 6, "3": 4, "0": 2}]  # fmt: skip
BUMPS = [0, 1, 0, 1, 1, 0, 0, 0, 1, 0, 1, 1, 0, 0, 1, 0]


def grades(levels=LEVELS, rows=SQUARE):
    """Grades of coupons treated alike that differ by one now and then, and never get better."""
    flat = "".join(rows)
    return [
        [min(10, each[char] - (number > 0) * BUMPS[place % 16]) for place, char in enumerate(flat)]
        for number, each in enumerate(levels)
    ]


def clean_board(given=None, rows=SQUARE, **rules):
    treatments = {key: treatment(key, name) for key, name in ((1, "paint"), (2, "wax"), (3, "lacquer"))}
    record = placed_board(rows, given or grades(), treatments=treatments, **rules)
    record.questions[1] = Question(written=START - timedelta(days=1), key=1)
    return record


def found_in(record, question=None):
    subject = asked(record, question)
    return doubts_of(subject, subject.group_results)


def of_kind(record, kind, question=None):
    return [each for each in found_in(record, question).doubts if each.kind == kind]


def texts(doubts):
    return [each.sentence.text() for each in doubts]


def only(record, kind, question=None):
    (found,) = of_kind(record, kind, question)
    return found


def test_a_clean_board_gives_no_reason_to_doubt():
    found = found_in(clean_board())
    assert texts(found.doubts) == []
    assert len(found.residuals) == 16
    assert found.odd == ()
    assert {each.kind for each in found.positions} == {"rows", "columns", "edge"}


def test_the_weightiest_come_first():
    record = clean_board(rows=["1230", "1230", "1230", "0123"], method="hand")
    record.questions.clear()
    record.left_out[1] = LeftOut(1, 4, "dropped", "Ada", "2026-04-01T09:00:00")
    weights = [each.weight for each in found_in(record).doubts]
    assert weights == sorted(weights, key=["serious", "caution", "note"].index)
    assert set(weights) >= {"caution", "note"}


# ---- the scale


def test_groups_wholly_at_the_end_of_the_scale_cannot_be_told_apart():
    levels = [dict.fromkeys("1230", 10)] * 4 + [{"1": 10, "2": 10, "3": 6, "0": 3}]
    given = grades(levels)
    given[-1] = [10 if char in "12" else grade for char, grade in zip("".join(SQUARE), given[-1], strict=True)]
    given[1:-1] = [[10] * 16] * 3
    found = only(clean_board(given), "ceiling")
    assert found.sentence.text() == "All coupons of paint and wax are at grade 10, where the scale ends."
    assert found.weight == "caution"
    assert len(found.coupons) == 8


@pytest.mark.parametrize("grade", [0, 10])
def test_a_board_all_at_one_end_says_nothing(grade):
    record = clean_board([[grade] * 16])
    found = only(record, "ceiling")
    assert found.weight == "serious"
    assert "cannot tell any of them apart" in found.why.text()


def test_without_failures_nothing_is_known_of_days():
    found = only(clean_board(), "ceiling", Question(measure="days to failing grade", failing_grade=0, key=1,
                                                    written=START - timedelta(days=1)))  # fmt: skip
    assert found.sentence.text().startswith("No coupon of paint, wax, lacquer and control has fallen")


def test_groups_that_scatter_unequally():
    record = clean_board([[5, 5, 1, 9, 5, 5, 8, 2, 4, 5, 1, 9, 5, 5, 7, 3]], rows=["1100", "1100", "1100", "1100"])
    found = only(record, "spread")
    assert found.weight == "caution"
    assert "Brown-Forsythe test, p below 0.0001)" in found.sentence.text()
    assert "control most" in found.sentence.text()
    assert "paint least" in found.sentence.text()


def test_a_large_ratio_of_spreads_is_a_note_where_no_test_shows_it():
    found = only(clean_board([[5, 8, 5, 6, 5, 5, 5, 5]], rows=["1010", "0101"]), "spread")
    assert found.weight == "note"
    assert "though that may be luck" in found.sentence.text()


def test_a_coupon_that_failed_and_got_better_again():
    given = grades()
    given[2][1], given[3][1], given[4][1] = 7, 8, 8
    found = only(clean_board(given), "recovered")
    assert found.sentence.text() == "C02 was graded 7 or below, and better again later."
    assert found.coupons == {2}


def test_a_very_small_p_is_said_to_be_below_what_is_shown():
    given = grades()
    for key, grade in ((4, 0), (7, 9), (10, 0), (13, 9)):
        given[-1][key - 1] = grade
    assert "p below 0.0001)" in only(clean_board(given), "controls").sentence.text()


# ---- controls


def test_missing_controls_are_serious_where_everything_is_compared_with_them():
    rows = ["123", "231", "312", "123"]
    record = clean_board(grades(rows=rows), rows=rows)
    found = only(record, "controls")
    assert found.weight == "serious"
    assert found.sentence.text().startswith("No control was graded")
    assert only(record, "controls", Question("pairs")).weight == "caution"


def test_a_single_control():
    rows = ["1230", "2312", "3123", "1231"]
    found = only(clean_board(grades(rows=rows), rows=rows), "controls")
    assert found.sentence.text() == "There is a single control, C04."


def test_controls_without_rust_say_that_the_exposure_was_too_mild():
    given = [
        [10 if char == "0" else grade for char, grade in zip("".join(SQUARE), each, strict=True)] for each in grades()
    ]
    found = only(clean_board(given), "controls")
    assert found.weight == "serious"
    assert found.sentence.text().startswith("None of the 4 controls shows any rust yet")


def test_controls_that_disagree():
    given = grades()
    for key, grade in ((4, 1), (7, 5), (10, 2), (13, 4)):
        given[-1][key - 1] = grade
    found = only(clean_board(given), "controls")
    assert found.sentence.text().startswith(
        "The controls disagree with each other more than coupons of one treatment do: they lie from 1 to 5 grades"
    )
    # Second source: scipy's F distribution on variances by hand; the controls' is 10 / 3.
    others = [[given[-1][place] for place, char in enumerate("".join(SQUARE)) if char == name] for name in "123"]
    usual = sum(variance(each) for each in others) / 3
    p = f"p = {f.sf(10 / 3 / usual, 3, 9):.2g}"
    assert f"(F test of the spreads, 1.8 against {usual**0.5:.1f}, {p}" in found.sentence.text()
    assert found.coupons == {4, 7, 10, 13}


def test_controls_of_several_treatments():
    record = clean_board()
    record.coupons[4] = replace(record.coupons[4], treatment=1)
    assert texts(of_kind(record, "controls"))[0].startswith("The controls are not all alike")


# ---- layout


def test_a_board_hung_by_hand():
    assert texts(of_kind(clean_board(method="hand"), "layout")) == ["Nobody drew lots for the positions."]


def test_coupons_moved_or_without_lot():
    record = clean_board()
    record.lots[1], record.lots[6] = Lot(1, Position(1, 1), 1), Lot(6, Position(0, 0), 6)
    del record.lots[16]
    found = of_kind(record, "layout")
    assert texts(found) == [
        "C01 and C06 hang elsewhere than the lots put them.",
        "C16 was hung, or given its treatment, after the lots were drawn.",
    ]
    assert [each.coupons for each in found] == [{1, 6}, {16}]


def test_a_grid_changed_since_the_lots():
    record = clean_board()
    record.layouts[1] = replace(record.layout, drawn_rows=5)
    assert texts(of_kind(record, "layout")) == ["The board's rows or columns were changed after the lots were drawn."]


def test_drips_on_coupons_of_other_treatments():
    record = clean_board()
    record.board = replace(record.board, incline_deg=45.0)
    found = only(record, "layout")
    assert len(found.coupons) == 12
    assert "hang below coupons of other treatments" in found.sentence.text()


def test_groups_in_one_row_or_column_are_confounded_with_it():
    rows = ["1111", "2222", "3333", "0000"]
    by_lot = only(clean_board(grades(rows=rows), rows=rows), "layout")
    assert by_lot.weight == "caution"
    assert by_lot.sentence.text() == (
        "In each of these groups all coupons hang in one row: paint, wax, lacquer and control."
    )
    by_hand, _ = of_kind(clean_board(grades(rows=rows), rows=rows, method="hand"), "layout")
    assert by_hand.weight == "serious"
    rows = ["1230", "1203", "1320", "1023"]
    assert texts(of_kind(clean_board(grades(rows=rows), rows=rows), "layout")) == [
        "All coupons of paint hang in one column."
    ]


def test_graded_coupons_beside_the_board_and_coupons_without_treatment():
    record = clean_board()
    record.coupons[1] = replace(record.coupons[1], position=None)
    record.coupons[2] = replace(record.coupons[2], treatment=None)
    found = texts(of_kind(record, "layout"))
    assert "C01 was graded but hangs nowhere on the board, and is in no comparison." in found
    assert "1 test coupon has no treatment and is in no comparison." in found


# ---- disturbances


def disturbed(record, kind, coupon=None, day=25, note="", key=1):
    record.disturbances[key] = Disturbance(START + timedelta(days=day), kind, coupon, note, key)
    return record


def test_a_coupon_cleaned_during_the_exposure():
    found = only(disturbed(clean_board(), "cleaned", 1), "disturbance")
    assert found.weight == "serious"
    assert found.sentence.text() == "During the exposure C01 (paint) was cleaned (day log, 2026-03-27)."
    assert found.coupons == {1}


def test_coupons_touched_unevenly_and_evenly():
    record = disturbed(disturbed(clean_board(), "touched", 1), "touched", 8, note="by a hand", key=2)
    found = only(record, "disturbance")
    assert found.weight == "caution"
    assert found.sentence.text() == (
        "During the exposure C01 and C08 (paint alone) were touched (day log, 2026-03-27): “by a hand”."
    )
    for key, coupon in enumerate((1, 2, 3, 4), 1):
        record = disturbed(clean_board() if key == 1 else record, "touched", coupon, key=key)
    found = only(record, "disturbance")
    assert found.weight == "note"
    assert found.why.text() == "It met all groups alike."
    assert "some groups more" in only(disturbed(record, "touched", 8, key=9), "disturbance").sentence.text()


def test_the_board_moved_and_what_was_before_or_after():
    record = disturbed(clean_board(), "board moved", note="gale")
    disturbed(record, "touched", 1, day=-3, key=2)
    disturbed(record, "touched", 1, day=70, key=3)
    found = only(record, "disturbance")
    assert found.sentence.text() == "During the exposure the board was moved (day log, 2026-03-27): “gale”."
    assert found.weight == "caution"


def test_notes_of_days_that_sound_like_a_disturbance():
    record = clean_board()
    for number, (day, note) in enumerate(((5, "Storm, board swinging"), (6, "sunny"), (90, "hail")), 1):
        record.day_notes[number] = DayNote((START + timedelta(days=day)).date(), note=note, key=number)
    assert texts(of_kind(record, "disturbance")) == ["The notes of 2026-03-07 say: “Storm, board swinging”."]
    for number in range(4, 9):
        record.day_notes[number] = DayNote(date(2026, 3, 10 + number), note="hail", key=number)
    assert texts(of_kind(record, "disturbance"))[-1] == "3 more notes of days may tell of something that happened."


# ---- grading


def graded_by(record, of):
    """Change every grade: ``of(coupon, inspection)`` is the source and the grader."""
    for coupon, mine in record.current.items():
        for inspection, each in mine.items():
            source, grader = of(coupon, inspection)
            mine[inspection] = each._replace(source=source, grader=grader)
    return record


def test_grades_given_openly():
    found = only(graded_by(clean_board(), lambda *_: ("eye", "Bo")), "not blind")
    assert found.sentence.text() == (
        "None of the 16 grades that decide was given blind: Bo could know which treatment they looked at."
    )
    some = graded_by(clean_board(), lambda coupon, _: ("photo confirmed" if coupon < 3 else "agreed", "Bo"))
    found = only(some, "not blind")
    assert found.sentence.text() == "2 of the 16 grades that decide were not given blind, by Bo."
    assert found.coupons == {1, 2}


def test_the_grades_that_decide_are_the_last_unless_all_do():
    early = graded_by(clean_board(), lambda _, visit: ("eye" if visit == 1 else "blind", "Bo"))
    assert of_kind(early, "not blind") == []
    question = replace(early.question, measure="mean grade")
    assert texts(of_kind(early, "not blind", question)) == [
        "16 of the 80 grades that decide were not given blind, by Bo."
    ]


def test_grades_that_the_photo_alone_gave_are_not_open():
    assert of_kind(graded_by(clean_board(), lambda *_: ("photo", "")), "not blind") == []


def test_graders_who_did_not_share_the_groups():
    record = clean_board()
    of_control = {key for key, each in record.coupons.items() if each.role == "control"}
    found = only(graded_by(record, lambda key, _: ("blind", "Bo" if key in of_control else "Ada")), "not blind")
    assert found.weight == "serious"
    assert found.sentence.text().startswith("Ada and Bo gave the last grades, but no group")
    uneven = graded_by(clean_board(), lambda key, _: ("blind", "Bo" if key in of_control | {1} else "Ada"))
    assert texts(of_kind(uneven, "not blind"))[0].startswith("Ada and Bo gave the last grades and did not share")
    even = graded_by(clean_board(), lambda key, _: ("blind", "Bo" if key < 9 else "Ada"))
    assert of_kind(even, "not blind") == []


# ---- gaps


def test_coupons_not_graded_at_the_last_inspection():
    given = grades()
    given[4][2] = given[4][5] = given[3][5] = None
    found = only(clean_board(given), "gaps")
    assert found.sentence.text() == (
        "C03 and C06 were not graded at the last inspection: "
        "their grades end at 30 days or later, those of others at 50."
    )
    assert found.coupons == {3, 6}


def test_an_inspection_at_which_nobody_graded_is_no_gap():
    record = clean_board()
    record.inspections[9] = Inspection(START + timedelta(days=60), key=9)
    assert of_kind(record, "gaps") == []


def test_coupons_never_graded_or_graded_late():
    given = grades()
    given[0][1] = None
    for each in given:
        each[2] = None
    assert texts(of_kind(clean_board(given), "gaps")) == [
        "C03 hangs but was never graded.",
        "C02 was first graded later than others.",
    ]


def test_failures_in_a_long_gap():
    given = grades()
    record = clean_board(given)
    for coupon in record.current.values():
        del coupon[2], coupon[3]
    found = only(record, "gaps")
    assert found.sentence.text() == (
        "12 coupons fell to the failing grade in gaps of up to 30 days in which nobody looked."
    )
    assert found.weight == "note"
    assert of_kind(record, "gaps", replace(record.question, measure="days to failing grade"))[0].weight == "caution"


def test_a_clock_that_knows_little():
    record = clean_board()
    subject = asked(record)
    clock = ExposureClock("rain", subject.request.clock.places, (0.0, 50.0), (0.0, 50.0), known=0.4)
    subject = subject_of(FindingsRequest(record, clock, record.question))
    doubts = doubts_of(subject, subject.group_results).doubts
    assert [each.sentence.text() for each in doubts if each.kind == "weather"] == [
        "What the clock counts is known for 40 % of the exposure only; the rest counts as nothing."
    ]


def test_coupons_left_out_are_always_told_with_the_reason():
    record = clean_board()
    record.left_out[1] = LeftOut(1, 4, "the cat sat on it", "Ada", "2026-04-01T09:00:00")
    found = found_in(record)
    assert texts(each for each in found.doubts if each.kind == "left out") == [
        "C04 is left out of all comparisons: “the cat sat on it”."
    ]
    assert 4 not in {each.coupon for each in found.residuals}


# ---- the question


def test_a_question_written_or_changed_after_the_start():
    record = clean_board()
    record.questions[1] = Question(written=START + timedelta(days=5), late=True, key=1)
    assert texts(of_kind(record, "question")) == ["The question was written down after the exposure had begun."]
    record = clean_board()
    record.questions[2] = Question("pairs", written=START + timedelta(days=5), late=True, key=2)
    found = only(record, "question")
    assert found.sentence.text() == "The question was written or changed once after the exposure had begun."
    assert found.weight == "caution"
    record.questions.clear()
    assert only(record, "question").weight == "note"


def test_a_view_that_asks_otherwise_than_the_board():
    record = clean_board()
    other = replace(record.question, failing_grade=5, measure="mean grade", compared="pairs")
    assert texts(of_kind(record, "question", other)) == [
        "These findings ask otherwise than the board's own question: every pair of treatments instead of each "
        "treatment against the controls, by mean grade instead of last grade and failing grade 5 instead of 7."
    ]
    assert of_kind(record, "question", replace(record.question, words="in other words")) == []
    chosen = replace(record.question, compared="chosen", pairs=(("T1", "T2"),))
    record.questions[1] = chosen
    assert of_kind(record, "question", replace(chosen, pairs=(("T2", "T1"),))) == []
    assert texts(of_kind(record, "question", replace(chosen, pairs=(("T1", "T3"),)))) == [
        "These findings ask otherwise than the board's own question: other pairs."
    ]


# ---- odd coupons and places, as doubts


def test_an_odd_coupon_is_told_and_stays():
    given = grades()
    given[4][1] = 0
    record = clean_board(given)
    found = found_in(record)
    (doubt,) = [each for each in found.doubts if each.kind == "odd coupon"]
    assert doubt.sentence.text().startswith("C02 is unlike the other coupons of wax: ")
    assert "below what they lead one to expect" in doubt.sentence.text()
    assert doubt.why.text().startswith("It stays in all figures.")
    assert 2 in {each.coupon for each in found.residuals}


def test_an_effect_of_place_is_told():
    given = [[max(0, grade - 3 * (place % 4 == 0)) for place, grade in enumerate(each)] for each in grades()]
    assert texts(of_kind(clean_board(given), "position"))[0].startswith("Columns of the board came out differently")


# ---- degenerate boards


@pytest.mark.parametrize("measure", ["last grade", "mean grade", "days to failing grade"])
@pytest.mark.parametrize(
    ("rows", "given"),
    [
        (["1"], [[5]]),
        (["0"], [[10]]),
        (["1"], [[None]]),
        (["1"], []),
        (["."], []),
        (["12"], [[10, 10]]),
        (["1230", "1230"], [[0] * 8]),
        (["1230", "1230"], [[10] * 8] * 3),
        (["1230", "1230"], [[None] * 7 + [4]]),
        (["11", "22"], [[3, 3, 3, 3]]),
        (["1230", "1230"], [[10, 0] * 4, [0, 10] * 4]),
    ],
)
def test_degenerate_boards_have_words_without_numbers_that_are_none(rows, given, measure):
    for method in ("complete", "rows", "hand"):
        record = clean_board(given, rows=rows, method=method) if given else _ungraded(rows, method)
        found = found_in(record, Question(measure=measure))
        for each in found.doubts:
            shown = each.sentence.text() + (each.why.text() if each.why else "")
            assert not {"nan", "inf"} & set(shown.replace("(", " ").replace(",", " ").split())
            assert "{" not in shown
        assert all(abs(each.residual) <= 100 for each in found.residuals)


def _ungraded(rows, method):
    record = clean_board([[None] * sum(char != "." for line in rows for char in line)], rows=rows, method=method)
    record.inspections.clear()
    return record


def test_an_ungraded_coupon_without_lot_changes_no_figure():
    record = clean_board()
    found = found_in(record)
    record.coupons[99] = Coupon("C99", None, 1, key=99)
    more = found_in(record)
    assert (more.residuals, more.odd, more.positions) == (found.residuals, found.odd, found.positions)
