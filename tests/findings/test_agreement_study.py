"""A study of grading in figures: graders with themselves, with one another, and with the photo."""

import random
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from rustboard.findings.agreement.intraclass import intraclass
from rustboard.findings.agreement.looks import Look, Subject, grades_by_grader
from rustboard.findings.agreement.offsets import offset_of
from rustboard.findings.agreement.study import PHOTO, Apart, PhotoGrade, study_agreement
from rustboard.findings.spread import ROUNDING_SD
from rustboard.support.problems import InputError

ANN, BOB = [8, 6, 4, 9, 2, 7], [7, 5, 4, 8, 2, 4]


def looks(again=False, inspection=0, **grades):
    """First looks, or second ones, by grader: a grade for each coupon 1, 2, 3…, None where there is none."""
    return [
        Look(grader, coupon, grade, again, inspection)
        for grader, series in grades.items()
        for coupon, grade in enumerate(series, 1)
        if grade is not None
    ]


def many_looks(seed=1, coupons=14, graders=("Ann", "Bob", "Cy")):
    draw, found = random.Random(seed), []
    for coupon in range(coupons):
        true = draw.uniform(1, 9)
        for grader in graders:
            seen = [min(max(round(true + draw.gauss(0, 1)), 0), 10) for _ in range(2)]
            found += [Look(grader, coupon, grade, bool(again), coupon % 3) for again, grade in enumerate(seen)]
    return found


def test_nothing_looked_at_is_an_empty_study():
    found = study_agreement([])
    assert (found.repeats, found.pairs, found.apart) == ((), (), ())
    assert found.together is found.photo is None


def test_a_grader_alone_is_compared_with_himself():
    found = study_agreement(looks(Ann=ANN) + looks(again=True, Ann=BOB))
    (repeat,) = found.repeats
    assert (repeat.grader, repeat.agreement.pairs) == ("Ann", 6)
    assert (repeat.agreement.exact, repeat.agreement.within_one) == (2, 5)
    # Differences of second less first by hand: -1 -1 0 -1 0 -3.
    assert repeat.shift.mean == -1
    assert repeat.sd == pytest.approx((6 / 5) ** 0.5 / 2**0.5)
    assert repeat.reliability == intraclass(list(zip(ANN, BOB, strict=True)))
    assert repeat.apart[0] == (Subject(6), 7, 4)
    assert [each[0].coupon for each in repeat.apart] == [6, 1, 2, 4]
    assert (found.pairs, found.apart, found.together) == ((), (), None)


def test_second_looks_without_a_first_are_left_out():
    found = study_agreement(looks(Ann=[5, None, 6]) + looks(again=True, Ann=[5, 7, None], Bob=[1, 2, 3]))
    (repeat,) = found.repeats
    assert repeat.agreement.pairs == 1
    assert repeat.sd is repeat.reliability is repeat.shift.interval is None


def test_two_graders_are_compared_on_what_both_graded():
    found = study_agreement(looks(Bob=BOB[:5], Ann=[*ANN[:4], None, 7]) + looks(again=True, Ann=[0] * 6))
    (pair,) = found.pairs
    assert (pair.a, pair.b) == ("Ann", "Bob")
    assert (pair.agreement.pairs, pair.agreement.exact, pair.agreement.within_one) == (4, 1, 4)
    assert pair.offset.mean == 0.75
    # Student's t with 3 degrees, 97.5 %: 3.182 (any table); the standard deviation of 1 1 0 1 is 0.5.
    assert pair.offset.interval == pytest.approx((0.75 - 3.182 * 0.25, 0.75 + 3.182 * 0.25), abs=1e-3)
    assert pair.offset.could_be_chance


def test_a_coupon_counts_once_for_each_inspection():
    found = study_agreement(looks(Ann=[8], Bob=[7]) + looks(inspection=2, Ann=[6], Bob=[3]))
    assert found.pairs[0].agreement.pairs == 2
    assert found.apart[0] == Apart(Subject(1, 2), (("Ann", 6), ("Bob", 3)), 3)


def test_a_corrected_grade_takes_the_place_of_the_first():
    given_twice = [Look("Ann", 1, 5), Look("Ann", 1, 6)]
    assert grades_by_grader(given_twice, again=False) == {"Ann": {Subject(1): 6}}


def test_all_graders_are_compared_on_what_all_graded():
    cy = [9, 7, None, 9, 5, 8]
    found = study_agreement(looks(Ann=ANN, Bob=BOB, Cy=cy)).together
    rows = [row for row in zip(ANN, BOB, cy, strict=True) if None not in row]
    assert (found.graders, found.too_few, found.subjects, found.left_out) == (("Ann", "Bob", "Cy"), (), 5, 1)
    assert found.reliability == intraclass(rows)
    # Ann's grades less the mean of the others, by hand: 0 0 0.5 -1.5 1.
    assert found.offsets[0].grader == "Ann"
    assert found.offsets[0].offset.mean == pytest.approx(0)
    expected = stats.ttest_1samp([0, 0, 0.5, -1.5, 1], 0).confidence_interval()
    assert found.offsets[0].offset.interval == pytest.approx(tuple(expected))
    assert found.spread == pytest.approx((38 - 26) / 5)  # means of Cy and Bob
    assert sum(each.offset.mean for each in found.offsets) == pytest.approx(0)


def test_who_helped_out_once_does_not_take_the_coupons_from_the_others():
    found = study_agreement(looks(Ann=ANN, Bob=BOB, Cy=[8, None, None, None, None, None])).together
    assert (found.graders, found.too_few, found.subjects) == (("Ann", "Bob"), ("Cy",), 6)


def test_graders_who_share_nothing_cannot_be_compared():
    found = study_agreement(looks(Ann=[5, None], Bob=[None, 6]))
    assert found.pairs == ()
    assert (found.together.subjects, found.together.reliability, found.together.offsets) == (0, None, ())
    assert found.together.spread is None


def test_graders_who_never_met_on_one_coupon_have_no_common_figure():
    found = study_agreement(looks(Ann=[5, 6, None], Bob=[None, 6, 7], Cy=[5, None, 7])).together
    assert (found.graders, found.subjects, found.left_out) == (("Ann", "Bob", "Cy"), 0, 3)
    assert found.reliability is None


def test_coupons_on_which_graders_differ_come_widest_first():
    found = study_agreement(looks(Ann=[5, 6, 7], Bob=[6, 6, 3]))
    assert [(each.subject.coupon, each.width) for each in found.apart] == [(3, 4), (1, 1)]
    assert found.apart[0].grades == (("Ann", 7), ("Bob", 3))


def test_the_photo_is_compared_with_each_grader_and_with_no_other_figure():
    photos = {
        (1, 0): PhotoGrade(grade=5),
        (2, 0): PhotoGrade(percent=0.2),
        (3, 0): PhotoGrade(),
        (9, 0): PhotoGrade(1),
    }
    without = study_agreement(looks(Ann=ANN, Bob=BOB))
    found = study_agreement(looks(Ann=ANN, Bob=BOB), photos)
    assert replace(found, photo=None) == without
    assert [(each.a, each.b, each.agreement.pairs) for each in found.photo.graders] == [
        ("Ann", PHOTO, 2),
        ("Bob", PHOTO, 2),
    ]
    # 0.2 % is grade 7 (ASTM D610).
    assert found.photo.graders[0].offset.mean == (8 - 5 + 6 - 7) / 2
    assert found.photo.apart[0] == Apart(Subject(1), (("Ann", 8), ("Bob", 7), (PHOTO, 5)), 3)
    assert found.photo.apart[1].width == 2  # Bob's 5 against 7, not Ann's 6


def test_a_grade_of_the_photo_goes_before_its_percent():
    found = study_agreement(looks(Ann=[5]), {(1, 0): PhotoGrade(0.2, 5)})
    assert found.photo.graders[0].agreement.exact == 1


def test_photos_of_nothing_that_was_graded_are_no_study():
    assert study_agreement(looks(Ann=ANN), {(99, 0): PhotoGrade(grade=5)}).photo is None
    assert study_agreement([], {(1, 0): PhotoGrade(grade=5)}).photo is None


def test_a_percent_that_cannot_be_is_refused():
    with pytest.raises(InputError):
        study_agreement(looks(Ann=[5]), {(1, 0): PhotoGrade(percent=101)})


def test_differences_all_alike_are_not_taken_for_sure():
    # Two coupons, a grade apart each: standard deviation 0, but whole grades cannot tell that.
    assert offset_of([1, 1]).could_be_chance
    low, high = offset_of([1] * 8).interval
    reach = stats.t.ppf(0.975, 7) * ROUNDING_SD * 2**0.5 / 8**0.5
    assert (low, high) == pytest.approx((1 - reach, 1 + reach))
    assert not offset_of([1] * 8).could_be_chance


@given(st.randoms(use_true_random=False), st.integers(0, 50))
def test_the_order_of_looks_does_not_matter(draw, seed):
    found = many_looks(seed)
    shuffled = list(found)
    draw.shuffle(shuffled)
    assert study_agreement(shuffled) == study_agreement(found)


def test_other_names_change_nothing_but_names():
    called = {"Ann": "Xaver", "Bob": "Yves", "Cy": "Zoe"}  # in the same order
    found = many_looks()
    renamed = study_agreement([each._replace(grader=called[each.grader]) for each in found])
    plain = study_agreement(found)
    assert [each.agreement for each in renamed.pairs] == [each.agreement for each in plain.pairs]
    assert [each.offset for each in renamed.pairs] == [each.offset for each in plain.pairs]
    assert renamed.together.reliability == plain.together.reliability
    assert [each.grader for each in renamed.repeats] == ["Xaver", "Yves", "Zoe"]


def test_names_in_another_order_turn_offsets_around():
    found = many_looks(graders=("Ann", "Bob"))
    other = {"Ann": "Zoe", "Bob": "Bob"}
    (turned,) = study_agreement([each._replace(grader=other[each.grader]) for each in found]).pairs
    (plain,) = study_agreement(found).pairs
    assert turned.offset.mean == -plain.offset.mean
    assert turned.offset.interval == pytest.approx([-each for each in reversed(plain.offset.interval)])
    assert turned.agreement.quadratic.value == pytest.approx(plain.agreement.quadratic.value)


@given(st.lists(st.tuples(st.integers(0, 7), st.integers(0, 7), st.integers(0, 10)), min_size=2), st.integers(1, 3))
def test_a_milder_grader_is_milder_by_just_that(grades, milder):
    ann, bob, cy = zip(*grades, strict=True)
    before = study_agreement(looks(Ann=ann, Bob=bob, Cy=cy)).together
    after = study_agreement(looks(Ann=[each + milder for each in ann], Bob=bob, Cy=cy)).together
    assert after.offsets[0].offset.mean == pytest.approx(before.offsets[0].offset.mean + milder)
    assert after.offsets[1].offset.mean == pytest.approx(before.offsets[1].offset.mean - milder / 2)
    assert after.reliability.consistent == before.reliability.consistent
