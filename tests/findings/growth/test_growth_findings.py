"""What growth says of a board: curves with bands, what more exposure may settle, and invariants."""

from dataclasses import replace

import numpy as np
import pytest
from exposed_boards import clock_of, comparing_of, exposed_board, subject
from hypothesis import given, settings
from hypothesis import strategies as st
from rust_courses import Truth, grades_from_log, looks_at, random_truth

from rustboard.board.exposure_clock import ExposureClock
from rustboard.board.model import Treatment
from rustboard.findings.compare.results import Comparing, ExactResult, ModelResult
from rustboard.findings.growth.findings import growth_findings
from rustboard.findings.growth.fit import fit_growth
from rustboard.findings.sentence import Sentence
from rustboard.support.problems import InputError

DAYS = [2, 4, 8, 16, 32, 64]


def findings(record, more=None, clock=None, progress=None, change=None, **question):
    about = subject(record, clock, **({"compared": "pairs"} | question))
    comparing = comparing_of(about)
    return growth_findings(about, comparing if change is None else change(comparing), more, progress)


def histories(ends, *, each=4, days=DAYS, seed=0, slope=2.0, coupon_sd=0.2, look_sd=0.1):
    """Grades of treatments that end at so many percent (as tenth powers) on the last day."""
    slopes = np.full(len(ends), slope)
    truth = Truth(np.array(ends) - slopes * np.log10(days[-1]), slopes, each, coupon_sd, look_sd, seed)
    grades = grades_from_log(truth.log_percent(days))
    return {
        f"T{number + 1}": [list(map(int, row)) for row in grades[truth.group_of == number]]
        for number in range(len(ends))
    }


# ---- forecast


def test_bands_of_the_forecast_hold_the_grades_that_come_about_nine_times_in_ten():
    # 40 boards of 3 treatments with 4 coupons and 8 looks, forecast half as far again. Means of whole grades are
    # coarse, so that bands hold somewhat more than 90 in 100.
    held, off = [], []
    for seed in range(40):
        truth = random_truth(seed, groups=3, each=4, last=120)
        fit = fit_growth(looks_at(truth, np.geomspace(4, 120, 8)))
        expected = grades_from_log(fit.draws(500, seed).log_percent(180.0))
        came = grades_from_log(truth.log_percent(180.0))[:, 0]
        for group in range(3):
            means = expected[:, truth.group_of == group].mean(axis=1)
            low, high = np.quantile(means, [0.05, 0.95])
            mean = came[truth.group_of == group].mean()
            held.append(low <= mean <= high)
            off.append(means.mean() - mean)
    assert 0.87 <= np.mean(held) <= 0.99
    assert abs(np.mean(off)) < 0.1


def test_curves_fit_what_was_seen_fall_beyond_it_and_widen():
    found = findings(exposed_board(DAYS, histories([0.0, -1.0])), more=64)
    assert found.more == 64
    for curve, seen in zip(found.curves, (5.5, 7.5), strict=True):
        assert curve.why_none is None
        assert curve.seen_until == 64
        places = [each.place for each in curve.band]
        assert places == sorted(places)
        assert places[-1] == pytest.approx(128)
        at_end = next(each for each in curve.band if each.place == pytest.approx(64))
        assert at_end.middle == pytest.approx(seen, abs=0.8)  # 1 % is the limit of 6 and 5, 0.1 % that of 8 and 7
        assert all(each.low <= each.middle <= each.high for each in curve.band)
        middles = [each.middle for each in curve.band]
        assert middles == sorted(middles, reverse=True)
        assert curve.band[-1].high - curve.band[-1].low >= at_end.high - at_end.low


def test_the_forecast_looks_half_as_far_again_where_nobody_says_how_far():
    assert findings(exposed_board(DAYS, histories([0.0, -1.0]))).more == 32


@pytest.mark.parametrize("more", [0.0, -5.0, float("nan"), float("inf")])
def test_a_forecast_of_nothing_is_refused(more):
    with pytest.raises(InputError, match="give how much more exposure"):
        findings(exposed_board(DAYS, histories([0.0, -1.0])), more=more)


def test_the_clock_of_the_controls_is_not_forecast_beyond_what_they_have_to_lose():
    record = exposed_board(DAYS, histories([0.0, -1.0]))
    clock = ExposureClock("controls", (1, 3, 5, 7, 8, 9), tuple(DAYS), (1, 3, 5, 7, 8, 9))
    assert findings(record, clock=clock).more == 1.0
    stopped = ExposureClock("controls", (1, 3, 5, 7, 8, 10), tuple(DAYS), (1, 3, 5, 7, 8, 10))
    found = findings(record, clock=stopped)
    assert found.more == 0.0
    assert not any("more grade" in each.text() for each in found.advice)


# ---- what more exposure may settle


def test_what_is_settled_likely_and_unlikely_depends_on_how_far_one_looks():
    slopes = np.array([2.0, 2.0, 2.0, 0.5])
    ends = np.array([0.2, 0.2, -3.0, -0.2])
    truth = Truth(ends - slopes * np.log10(64), slopes, 5, 0.15, 0.1, 4)
    grades = grades_from_log(truth.log_percent(DAYS))
    board = exposed_board(
        DAYS, {f"T{1 + n}": [list(map(int, row)) for row in grades[truth.group_of == n]] for n in (0, 1, 2, 3)}
    )
    soon, late = ({(each.id_a, each.id_b): each for each in findings(board, more).expected} for more in (16, 192))
    assert soon["T1", "T2"].outlook == "unlikely"
    assert soon["T1", "T2"].chance < 0.1
    assert soon["T1", "T3"].outlook == "settled"
    # Alike until now, but the one grows with the square of time and the other with its root.
    assert soon["T1", "T4"].outlook in ("open", "unlikely")
    apart = late["T1", "T4"]
    assert apart.outlook == "likely"
    assert apart.low <= apart.then <= apart.high < 0
    assert abs(apart.then) > apart.needed > abs(apart.now)


def test_what_the_lots_can_never_show_stays_unlikely_however_long_the_board_hangs():
    def bound(comparing):
        exact = ExactResult(0.2, smallest=0.1, arrangements=20)
        return Comparing(
            tuple(
                replace(each, standing="leans worse", exact=exact, doubts=(Sentence("spread differs"),))
                for each in comparing.compared
            ),
            {},
        )

    found = findings(exposed_board(DAYS, histories([1.0, -2.0], each=3)), change=bound)
    assert (found.expected[0].outlook, found.expected[0].chance) == ("unlikely", 0.0)
    assert any(each.text().startswith("No length of time can settle T1 against T2") for each in found.advice)


def test_a_board_without_replicates_forecasts_differences_and_no_chance():
    found = findings(exposed_board(DAYS, histories([0.5, -1.0], each=1)))
    only = found.expected[0]
    assert only.then is not None
    assert (only.needed, only.chance, only.outlook) == (None, None, "unknown")


def test_with_one_coupon_each_no_length_of_time_is_said_to_tell_a_difference():
    def borrowed(comparing):
        model = ModelResult(-2.0, -4.5, 0.5, 0.2, 1.0, 1.0, 8, "one")
        return Comparing(tuple(replace(each, model=model, borrowed=True) for each in comparing.compared), {})

    board = exposed_board(DAYS, histories([0.5, -1.0], each=1))
    only = findings(board, change=borrowed).expected[0]
    assert (only.now, only.needed, only.chance, only.outlook) == (-2.0, None, None, "unknown")


def test_another_measure_is_forecast_in_last_grades_and_that_is_said():
    board = exposed_board(DAYS, histories([0.5, -0.5]))
    found = findings(board, measure="mean grade")
    assert found.expected[0].now == pytest.approx(
        np.mean([each[-1] for each in histories([0.5, -0.5])["T1"]])
        - np.mean([each[-1] for each in histories([0.5, -0.5])["T2"]])
    )
    assert any("another measure" in each.text() for each in found.advice)
    assert not any("another measure" in each.text() for each in findings(board).advice)


def test_rust_that_breaks_out_late_is_called_doubtful_and_nothing_is_promised_of_it():
    early = [[9, 9, 8, 8, 8, 8]] * 4
    late = [[9, 9, 8, 8, 8, 0]] * 4  # gives way at the last look
    found = findings(exposed_board(DAYS, {"T1": early, "T2": late}))
    assert any(each.text().startswith("T2 did not rust as the forecast takes it to") for each in found.advice)
    assert found.expected[0].outlook in ("settled", "open")


# ---- degenerate boards


ALL_10, ALL_0 = [[10] * 6] * 3, [[0] * 6] * 3
RUSTING = [[10, 10, 9, 8, 6, 5], [10, 9, 9, 7, 6, 4], [10, 10, 10, 8, 7, 6]]


def reasons(found):
    return {each.group: each.why_none.text() for each in found.curves if each.why_none is not None}


def test_a_board_never_graded_has_no_growth():
    assert findings(exposed_board(DAYS, {"T1": [[None] * 6] * 2, "T2": [[None] * 6]})) is None


def test_groups_without_rust_or_with_nothing_else_say_why_they_have_no_curve():
    found = findings(exposed_board(DAYS, {"T1": ALL_10, "T2": ALL_0, "T3": RUSTING}))
    assert reasons(found) == {
        "T1": "T1 shows no rust yet, so nothing tells how it will grow.",
        "T2": "T2 was rusted all over when it was first graded; nothing is left to grow.",
    }
    assert all(not each.band for each in found.curves if each.why_none is not None)
    expected = {(each.id_a, each.id_b): each for each in found.expected}
    assert expected["T1", "T3"].then is None
    assert expected["T2", "T3"].then is not None  # what is rusted all over stays so
    assert -10 <= expected["T2", "T3"].low <= expected["T2", "T3"].high <= 0


@pytest.mark.parametrize("grade", [10, 0])
def test_all_tens_and_all_zeros_forecast_nothing_and_crash_nothing(grade):
    found = findings(exposed_board(DAYS, {"T1": [[grade] * 6] * 3, "T2": [[grade] * 6] * 3}))
    assert set(reasons(found)) == {"T1", "T2"}
    assert found.advice


def test_one_inspection_and_inspections_before_the_start_show_no_growth():
    once = findings(exposed_board([5], {"T1": [[8], [7]], "T2": [[9], [6]]}))
    assert reasons(once)["T1"] == "T1 was graded at one place on the clock only; it takes two to see how rust grows."
    before = findings(exposed_board([-3, -1], {"T1": [[10, 10], [9, 9]], "T2": [[9, 8], [6, 6]]}))
    assert "since the clock began to run" in reasons(before)["T2"]
    assert [each.outlook for each in before.expected] == ["unknown"]


def test_a_clock_that_stands_still_shows_no_growth():
    record = exposed_board(DAYS, {"T1": RUSTING, "T2": RUSTING})
    found = findings(record, clock=ExposureClock("rain", (3.0,) * 6, (0.0, 64.0), (3.0, 3.0)))
    assert set(reasons(found)) == {"T1", "T2"}
    never = findings(record, clock=ExposureClock("rain", (0.0,) * 6, (0.0, 64.0), (0.0, 0.0)))
    assert never.more == 0.0
    assert set(reasons(never)) == {"T1", "T2"}


def test_a_board_of_one_coupon_has_a_curve_and_no_comparison():
    found = findings(exposed_board(DAYS, {"T1": RUSTING[:1]}))
    assert found.expected == ()
    assert found.curves[0].band


def test_whoever_listens_to_the_progress_may_end_the_work():
    class StoppedError(Exception):
        pass

    class Listener:
        heard = 0

        def step(self, done, total):
            assert 0 <= done <= total
            self.heard += 1
            if self.heard == 5:
                raise StoppedError

    with pytest.raises(StoppedError):
        findings(exposed_board(DAYS, histories([0.0, -1.0])), progress=Listener())


# ---- invariants

looks = st.one_of(st.integers(0, 10), st.floats(0.0, 100.0), st.none())
coupons = st.lists(looks, min_size=4, max_size=4)
boards = st.dictionaries(
    st.sampled_from(["T1", "T2", "T3", "control"]), st.lists(coupons, min_size=1, max_size=3), min_size=1
)


@given(boards)
@settings(max_examples=25)
def test_whatever_was_graded_nothing_crashes_and_every_number_is_one(board):
    found = findings(exposed_board([-1, 0, 7, 30], board))
    if found is None:
        assert all(look is None for each in board.values() for row in each for look in row)
        return
    numbers = [value for curve in found.curves for each in curve.band for value in (each.low, each.middle, each.high)]
    for each in found.expected:
        numbers += [value for value in (each.now, each.then, each.low, each.high, each.chance) if value is not None]
    assert np.isfinite(numbers).all()
    assert all(curve.band or curve.why_none for curve in found.curves)
    assert all(0 <= each.low <= each.high <= 10 for curve in found.curves for each in curve.band)
    text = " ".join(each.text() for each in found.advice)
    assert "nan" not in text
    assert "inf" not in text


@given(st.integers(0, 1000), st.permutations(["A", "B", "C"]))
@settings(max_examples=4)
def test_names_of_treatments_and_the_order_of_coupons_change_no_figure(seed, names):
    board = histories([0.3, -0.5, -1.5], each=2, seed=seed)
    plain = exposed_board(DAYS, board)
    renamed = exposed_board(DAYS, board)
    for key, treatment in renamed.treatments.items():
        renamed.treatments[key] = Treatment(names[key - 1], key=treatment.key)
    renamed.coupons = dict(reversed(renamed.coupons.items()))
    renamed.current = dict(reversed(renamed.current.items()))
    one, other = findings(plain), findings(renamed)
    by_name = {each.group: each for each in other.curves}
    for number, curve in enumerate(one.curves):
        theirs = by_name[names[number]]
        for mine, yours in zip(curve.band, theirs.band, strict=True):
            assert (yours.place, yours.middle) == (pytest.approx(mine.place), pytest.approx(mine.middle, abs=1e-6))
            assert (yours.low, yours.high) == (pytest.approx(mine.low), pytest.approx(mine.high))
    chances = {frozenset({each.id_a, each.id_b}): each.chance for each in other.expected}
    for each in one.expected:
        a, b = (names[int(name[1]) - 1] for name in (each.id_a, each.id_b))
        assert chances[frozenset({a, b})] == pytest.approx(each.chance)


@given(st.integers(0, 1000), st.sampled_from([0.01, 24.0, 1000.0]))
@settings(max_examples=4)
def test_the_unit_of_the_clock_scales_places_and_nothing_else(seed, unit):
    record = exposed_board(DAYS, histories([0.3, -0.5], each=2, seed=seed))
    days = clock_of(record)
    scaled = ExposureClock("wet hours", tuple(unit * each for each in days.places), (0.0, 64.0), (0.0, unit * 64.0))
    one, other = findings(record), findings(record, clock=scaled)
    assert other.more == pytest.approx(unit * one.more)
    for curve, theirs in zip(one.curves, other.curves, strict=True):
        for mine, yours in zip(curve.band, theirs.band, strict=True):
            assert yours.place == pytest.approx(unit * mine.place)
            assert yours.middle == pytest.approx(mine.middle, abs=0.01)
    for mine, yours in zip(one.expected, other.expected, strict=True):
        assert yours.chance == pytest.approx(mine.chance, abs=0.01)


def test_a_coupon_that_was_never_graded_changes_nothing():
    board = histories([0.3, -0.5], each=2)
    more = {name: [*each, [None] * 6] for name, each in board.items()}
    one, other = findings(exposed_board(DAYS, board)), findings(exposed_board(DAYS, more))
    # Its hanging between the others gives these other keys, but they keep their order.
    assert one.curves == other.curves
    for mine, theirs in zip(one.expected, other.expected, strict=True):
        assert (mine.then, mine.chance) == (theirs.then, theirs.chance)
