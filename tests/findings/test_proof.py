"""What a board will be able to prove, in figures and in words."""

from dataclasses import replace

import pytest

from rustboard.board.layout import Layout, Lot
from rustboard.board.model import Board, Coupon, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord
from rustboard.findings.proof import MOST_COMPARISONS, proof_of, proof_request, quick_proof, spread_for
from rustboard.findings.proof_groups import groups_of
from rustboard.findings.sentence import Sentence, of_grades
from rustboard.findings.spread import ASSUMED_SD, Spread


def board(*rows, question=None, names=("hot wax", "oil", "varnish", "bare"), drawn=True, lots=None, **rules):
    """A board from its rows of treatments (digits, . = empty, - = no treatment); the last treatment is a control."""
    rules.setdefault("fair_edges", False)
    coupons = {}
    for row, line in enumerate(rows):
        for column, char in enumerate(line):
            if char != ".":
                key = len(coupons) + 1
                treatment = None if char == "-" else int(char)
                role = "control" if treatment == len(names) else "test"
                coupons[key] = Coupon(f"C{key}", Position(row, column), treatment, role, key=key)
    treatments = {key: Treatment(f"T{key}", name, key=key) for key, name in enumerate(names, 1)}
    found = BoardRecord(Board("b", len(rows), len(rows[0])), treatments, coupons)
    found.layouts = {1: Layout(seed=7 if drawn else None, key=1, **rules)}
    if drawn:
        found.lots = {key: Lot(key, (lots or {}).get(key, coupon.position), key) for key, coupon in coupons.items()}
    found.questions = {1: question or Question(key=1)}
    return found


def told(table):
    return [each.text() for each in table.cautions]


def words(proof):
    return [each.text() for each in proof.sentences]


def quick(record, earlier=None):
    return quick_proof(proof_request(record, earlier))


ASSUMED = "That coupons treated alike differ by 1 grade (standard deviation) is assumed, not measured."


def test_three_of_each_over_the_whole_board_cannot_be_settled_by_an_exact_test():
    table = quick(board("111444", names=("hot wax", "b", "c", "bare"), method="complete"))
    (proof,) = table.proofs
    assert proof.smallest_p == pytest.approx(0.10)
    assert words(proof) == [
        "With 3 coupons each, the exact test can never come below p = 0.10, so it alone cannot settle hot wax "
        "against control."
    ]
    assert told(table) == [ASSUMED]


def test_five_of_each_can_be_settled():
    (proof,) = quick(board("1111144444", method="complete")).proofs
    assert words(proof) == [
        "With 5 coupons each, the exact test can come down to p = 0.0079, which would settle hot wax against control."
    ]


def test_what_settles_one_comparison_may_be_too_little_for_one_of_several():
    proof, *_ = quick(board("1111222233334444", method="complete")).proofs
    assert words(proof) == [
        "With 4 coupons each, the exact test can come down to p = 0.029: enough to settle hot wax against control "
        "taken alone, too little for one of 3 comparisons."
    ]


def test_lots_within_rows_leave_fewer_arrangements_and_that_is_said():
    (proof,) = quick(board("14", "41", "14", method="rows")).proofs
    assert proof.smallest_p == pytest.approx(0.25)
    assert words(proof)[0].startswith("With 3 coupons each, hung by lot within rows, the exact test can never")


def test_groups_of_unequal_numbers_are_both_named():
    (proof,) = quick(board("114444", method="complete")).proofs
    assert words(proof)[0].startswith("With 2 and 4 coupons, the exact test can never come below p = 0.067")


def test_one_coupon_each_tells_a_story():
    table = proof_of(proof_request(board("1234", method="complete"), None))
    assert {proof.smallest_p for proof in table.proofs} == {1.0}
    assert words(table.proofs[0])[:2] == [
        "One coupon each can only tell a story: it shows an order, not a difference.",
        "Nothing on this board is done twice, so nothing shows how much luck there is in a difference.",
    ]
    assert table.proofs[0].simulated.detectable is None
    assert table.proofs[0].simulated.needed > 1


def test_a_side_of_one_coupon_is_said_to_tell_only_a_story():
    (proof,) = quick(board("14444", method="complete")).proofs
    assert words(proof)[0] == "hot wax is a single coupon, which can only tell a story."
    assert words(proof)[1].startswith("With 1 and 4 coupons, the exact test can never come below p = 0.2")


def test_coupons_beside_the_board_are_said_not_to_count():
    record = board("1144", method="complete")
    key = max(record.coupons)
    record.coupons[key] = replace(record.coupons[key], position=None)
    assert "1 coupon is not on the board and does not count here." in told(quick(record))


def test_rows_that_hold_only_one_of_the_groups_link_nothing():
    (proof,) = proof_of(proof_request(board("11", "44", method="rows"), None)).proofs
    assert words(proof)[:2] == [
        "Too few rows hold both hot wax and control for an exact test to show anything.",
        "No rows link hot wax and control, so a difference between them cannot be told from one between rows.",
    ]
    assert proof.simulated.no_test == "rows"


def test_whole_columns_are_what_counts():
    table = quick(board("1414", "1414", method="rows", drain="columns"))
    (proof,) = table.proofs
    assert (proof.units_a, proof.units_b, proof.by_column) == (2, 2, True)
    assert words(proof)[0].startswith("With 2 columns each, the exact test can never come below p = 0.33")
    assert told(table)[0].startswith("Lots are drawn for whole columns: the coupons of one column hang together")


def test_what_simulation_finds_is_said_in_grades():
    question = Question(worthwhile=1.0, assumed_sd=0.8, key=1)
    (proof,) = proof_of(proof_request(board("111444", method="complete", question=question), None)).proofs
    found = proof.simulated
    assert 2.0 < found.detectable < 3.5
    assert 9 < found.needed < 16  # unrounded it would be 12 (statsmodels: 11.1 of each); rounding takes more or less
    assert words(proof)[1:] == [
        f"A t test, which trusts more than the lots, would find a difference of {found.detectable:g} grades 8 times "
        "in 10.",
        f"For a difference of 1 grade it takes {found.needed} coupons of every treatment.",
    ]


def test_what_cannot_be_found_is_said():
    question = Question(worthwhile=0.1, assumed_sd=5.0, key=1)
    (proof,) = proof_of(proof_request(board("1144", method="complete", question=question), None)).proofs
    assert words(proof)[1:] == [
        "A t test would not find even a difference of the whole scale 8 times in 10.",
        "To find a difference of 0.1 grades, even 50 coupons of every treatment are too few.",
    ]


def test_other_treatments_lend_their_error():
    alone, *_ = proof_of(proof_request(board("1144", method="complete"), None)).proofs
    helped, *_ = proof_of(
        proof_request(board("11442233", method="complete", question=Question("chosen", (("T1", "T4"),), key=1)), None)
    ).proofs
    assert helped.simulated.detectable < alone.simulated.detectable


def test_comparisons_alike_in_design_get_the_same_figures():
    table = proof_of(proof_request(board("123412341234", method="complete"), None))
    assert len({(each.simulated.detectable, each.simulated.needed) for each in table.proofs}) == 1
    assert len(table.proofs) == 3


def test_lots_that_are_not_drawn_yet_are_tried():
    # In reading order row A would hold hot wax alone; lots will mix them.
    table = quick(board("1111", "4444", method="rows", drawn=False))
    assert table.proofs[0].smallest_p == pytest.approx(2 / 36)
    assert told(table)[0] == (
        "The lots are not drawn yet; these figures are for lots drawn by the rules of the layout."
    )


def test_a_board_that_hung_without_lots_leans_on_an_assumption():
    said = (
        "Nobody drew lots for the positions. Every p value then leans on the assumption that no position is better "
        "than another."
    )
    assert told(quick(board("1144", method="hand", drawn=False)))[0] == said
    begun = board("1144", method="rows", drawn=False)
    begun.inspections = {1: Inspection(None, key=1)}
    assert told(quick(begun))[0] == said


def test_coupons_hung_elsewhere_than_drawn_are_counted_and_the_test_goes_by_the_lots():
    record = board("1414", "1414", method="rows", lots={1: Position(1, 0), 5: Position(0, 0)})
    table = quick(record)
    assert told(table)[0] == "2 coupons hang elsewhere than the lots put them; the exact test goes by the lots."
    del record.lots[2]
    assert (
        "1 coupon was hung or given its treatment after the lots were drawn; the exact test leaves it where it is. "
        "Before the exposure, lots can be drawn again to include it."
    ) in told(quick(record))


def test_coupons_without_a_lot_are_not_exchanged():
    record = board("11114444", method="complete")
    assert quick(record).proofs[0].arrangements == 70
    del record.lots[1], record.lots[8]
    assert quick(record).proofs[0].arrangements == 20  # three of each are left to exchange
    record = board("1414", "1414", method="rows", drain="columns")
    assert quick(record).proofs[0].arrangements == 6
    del record.lots[2]
    assert quick(record).proofs[0].arrangements == 3  # of the column of that coupon nobody knows how it was drawn


def test_drips_and_coupons_without_treatment_are_told():
    said = told(quick(board("1-4", "4.1", method="complete")))
    assert said[:2] == [
        "2 coupons drip on one of another treatment; what runs down can make treatments look alike.",
        "1 test coupon has no treatment and is in no comparison.",
    ]


def test_the_spread_is_the_users_or_that_of_earlier_boards_or_assumed():
    seen = Spread(0.7, 20, 6, ("Wall",))
    assert spread_for(Question(assumed_sd=0.5), seen) == Spread(0.5, 0)
    assert spread_for(Question(), seen) == seen
    assert spread_for(Question(), None) == Spread(ASSUMED_SD, 0)
    assert told(quick(board("1144", method="complete"), seen)) == []
    assert told(quick(board("1144", method="complete"), Spread(0.7, 5, 2, ("Wall",)))) == [
        "The spread on earlier boards was seen in few coupons; the true one may well be twice as large."
    ]


def test_too_few_coupons_on_earlier_boards_leave_the_spread_assumed():
    table = quick(board("1144", method="complete"), Spread(0.0, 1, 1, ("Wall",)))
    assert table.spread.sd == ASSUMED_SD
    assert told(table) == [
        "Your earlier boards have too few coupons treated alike to tell the spread: 1 beyond the first of each "
        "treatment, where it takes 5. That they differ by 1 grade (standard deviation) is assumed."
    ]


def test_the_spread_of_columns_and_that_of_coupons_are_told_apart():
    columns = board("1414", "1414", method="rows", drain="columns")
    whole = "Lots are drawn for whole columns: the coupons of one column hang together and count as one."
    taken = (
        " The spread of a column is taken to be that of a coupon: the mean of a column mostly varies less, but more "
        "where columns differ in sun or rain."
    )
    assert told(quick(columns))[0] == whole + taken
    assert told(quick(columns, Spread(0.7, 20, 6, ("Wall",)))) == [whole + taken]
    assert told(quick(columns, Spread(0.7, 20, 6, ("Wall",), of_columns=20))) == [whole]
    assert told(quick(board("1144", method="complete"), Spread(0.7, 20, 6, ("Wall",), of_columns=8))) == [
        "The spread was partly seen between whole columns of earlier boards, which mostly vary less than single "
        "coupons; the figures may be too good."
    ]


def test_a_board_without_a_question_is_asked_the_usual_one():
    record = board("1144", method="complete")
    record.questions = {}
    assert [(each.comparison.a, each.comparison.b) for each in quick(record).proofs] == [("hot wax", "control")]


def test_more_comparisons_than_can_be_shown_are_cut_and_that_is_said():
    names = [f"wax {number}" for number in range(22)]
    record = board("1", names=names, method="complete", question=Question("pairs", key=1))
    record.board = Board("b", 3, 8)
    record.coupons = {
        key: Coupon(f"C{key}", Position((key - 1) // 8, (key - 1) % 8), key, key=key) for key in range(1, 23)
    }
    table = quick(record)
    assert len(table.proofs) == MOST_COMPARISONS
    assert "The question has 231 comparisons; the first 200 are worked out here." in told(table)


def test_comparisons_that_are_not_worked_out_count_among_those_that_luck_may_fool(monkeypatch):
    record = board("12341234", "43214321", method="complete", question=Question("pairs", key=1))
    whole = proof_of(proof_request(record, None))
    monkeypatch.setattr("rustboard.findings.proof.MOST_COMPARISONS", 1)
    cut = proof_of(proof_request(record, None))
    assert (len(cut.proofs), cut.asked, whole.asked) == (1, 6, 6)
    assert cut.proofs[0].sentences[0] == whole.proofs[0].sentences[0]
    assert "too little for one of 6 comparisons" in words(cut.proofs[0])[0]
    # By Bonferroni's bound for six, which is no smaller than what six simulated together need.
    assert 0 <= cut.proofs[0].simulated.detectable - whole.proofs[0].simulated.detectable < 0.5
    alone = replace(proof_request(record, None), asked=1)
    assert proof_of(alone).proofs[0].simulated.detectable < whole.proofs[0].simulated.detectable
    assert proof_of(alone).proofs[0].simulated.needed <= cut.proofs[0].simulated.needed


def test_progress_is_told_and_may_end_the_work():
    class StopError(Exception):
        pass

    class Progress:
        def __init__(self, most):
            self.seen, self._most = [], most

        def step(self, done, total):
            self.seen.append((done, total))
            if len(self.seen) > self._most:
                raise StopError

    request = proof_request(board("12341234", method="complete"), None)
    patient = Progress(10_000)
    proof_of(request, patient)
    assert patient.seen[-1] == (2, 2)
    assert all(0 <= done <= total for done, total in patient.seen)
    with pytest.raises(StopError):
        proof_of(request, Progress(3))


def test_sentences_are_written_with_the_numbers_of_the_reader():
    sentence = of_grades(1.5, "one grade of {1}", "{0} grades of {1}", "wax {0}")
    assert sentence.text() == "1.5 grades of wax {0}"
    assert sentence.text("{1}: {0} Grade", lambda part: str(part).replace(".", ",")) == "wax {0}: 1,5 Grade"
    assert of_grades(1.0, "one grade of {1}", "{0} grades", "wax") == Sentence("one grade of {1}", (1.0, "wax"))


def test_a_board_of_any_kind_is_worked_out():
    for compared in ("control", "pairs", "families", "grid", "chosen"):
        for record in (board("....", question=Question(compared, key=1)), BoardRecord(Board("b"))):
            assert proof_of(proof_request(record, None)).proofs == ()


def test_comparisons_alike_are_put_together_and_named_no_more():
    table = proof_of(proof_request(board("1111222233444444", method="complete"), None))
    two, one = groups_of(table)
    assert [each.comparison.a for each in two.proofs] == ["hot wax", "oil"]
    assert two.sentences[0].text() == (
        "With 4 and 6 coupons, the exact test can come down to p = 0.0048, which would settle each of them."
    )
    assert two.sentences[1:] == two.first.sentences[1:]
    assert one.first.comparison.a == "varnish"
    assert one.sentences == one.first.sentences


def test_what_is_said_of_several_alike_names_none():
    stories = groups_of(quick(board("1234", method="complete")))
    assert [len(each.proofs) for each in stories] == [3]
    (rows,) = groups_of(proof_of(proof_request(board("1122", "3344", method="rows", names=("a", "b", "c", "d"),
        question=Question("chosen", (("T1", "T3"), ("T2", "T4")), key=1)), None)))  # fmt: skip
    assert [each.text() for each in rows.sentences[:2]] == [
        "Too few rows hold both sides of a comparison for an exact test to show anything.",
        "No rows link the two sides, so a difference cannot be told from one between rows.",
    ]
    (never,) = groups_of(quick(board("112233444", method="complete")))
    assert never.sentences[0].text().endswith("so it alone cannot settle any of them.")
    (alone,) = groups_of(quick(board("1111222233334444", method="complete")))
    assert (
        "enough to settle one of them taken alone, too little for one of 3 comparisons" in alone.sentences[0].text()
    )
