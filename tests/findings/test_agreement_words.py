"""A study of grading in sentences."""

import pytest

from rustboard.findings.agreement.looks import Look
from rustboard.findings.agreement.study import PhotoGrade, study_agreement
from rustboard.findings.agreement.words import MOST_NAMED, agreement_word, study_words

MIXED = [10, 9, 8, 7, 6, 5, 4, 3, 2, 1, 8, 6]


def looks(again=False, **grades):
    return [
        Look(grader, coupon, grade, again, 3)
        for grader, series in grades.items()
        for coupon, grade in enumerate(series, 1)
        if grade is not None
    ]


def told(found, photos=None, inspections=None):
    names = {number: f"C{number}" for number in range(1, 40)}
    parts = study_words(study_agreement(found, photos), names, inspections)
    return {heading: [each.text() for each in sentences] for heading, sentences in parts._asdict().items()}


def changed(series, **by):
    """A series with some grades moved: ``c3=-2`` makes the third two lower."""
    return [grade + by.get(f"c{place}", 0) for place, grade in enumerate(series, 1)]


def test_a_grader_who_looked_twice_is_told_how_often_he_said_the_same():
    found = told(looks(Ann=MIXED) + looks(again=True, Ann=changed(MIXED, c2=-1, c3=1, c7=-3)))
    assert found["repeats"] == [
        "Ann looked twice at 12 coupons without knowing it: the same grade again on 9, at most one grade apart on "
        "11.",
        "Agreement beyond chance: 0.94, with 95 % confidence 0.86 to 1 (0 is chance alone, 1 full agreement), often "
        "called close.",
        "One look of Ann is off by about 0.7 grades (standard deviation).",
    ]
    assert found["coupons"] == [
        "Of the differences among Ann’s first and second grades of 12 coupons, about 95 % come from the coupons; the "
        "rest is the error of grading (with 95 % confidence 84 to 98 % from the coupons)."
    ]
    assert found["look_again"] == ["Look again at C7: Ann gave it 4, then 1."]
    assert found["graders"] == found["photo"] == []


def test_a_grader_who_grew_harsher_is_told_so():
    harsher = [grade - 1 for grade in MIXED]
    found = told(looks(Ann=MIXED) + looks(again=True, Ann=harsher))
    assert "Ann graded 1 grade harsher the second time; that is more than chance makes." in found["repeats"]
    back = told(looks(Ann=harsher) + looks(again=True, Ann=MIXED))
    assert "Ann graded 1 grade milder the second time; that is more than chance makes." in back["repeats"]


def test_a_single_pair_shows_nothing_yet():
    found = told(looks(Ann=[5], Bob=[5]) + looks(again=True, Ann=[4]))
    assert found["repeats"] == ["Ann looked twice at 1 coupon only, and gave it another grade."]
    assert found["graders"] == ["Ann and Bob both graded 1 coupon only, and gave it the same grade."]
    assert found["cautions"][0].startswith("Some comparisons rest on fewer than 10 coupons (the fewest on 1)")


def test_of_two_graders_the_milder_is_named():
    found = told(looks(Ann=MIXED, Bob=[grade - 1 for grade in MIXED]))
    assert found["graders"][0] == (
        "Ann and Bob both graded 12 coupons: the same grade on 0, at most one grade apart on 12."
    )
    assert found["graders"][2] == (
        "Ann grades milder than Bob by 1 grade on average (with 95 % confidence 0.7 to 1.3); that is more than "
        "chance makes."
    )
    assert (
        "With the constant offsets between the graders’ grades taken off, it would be about 100 %."
        in (found["coupons"])
    )
    assert found["look_again"] == ["No coupon was graded more than one grade apart."]


def test_an_offset_that_could_be_chance_is_called_that():
    found = told(looks(Ann=MIXED, Bob=changed(MIXED, c1=-2, c2=1, c5=-3)))
    assert "Ann grades milder than Bob by 0.3 grades on average; that could be chance." in found["graders"]
    alike = told(looks(Ann=MIXED, Bob=changed(MIXED, c2=1, c5=-1)))
    assert "Ann grades neither milder nor harsher than Bob." in alike["graders"]


def test_of_three_graders_each_is_set_against_the_others():
    harsh = [max(grade - 2, 0) for grade in MIXED]
    found = told(looks(Ann=MIXED, Bob=harsh, Cy=changed(MIXED, c4=1)))
    words = " ".join(found["graders"])
    assert "Bob grades harsher than the others by 2 grades on average" in words
    assert "Ann grades milder than the others by 0.9 grades on average" in words
    assert "milder than Bob" not in words
    assert "Between the mildest and the harshest lie 2 grades on average." in found["graders"]
    assert any(each.startswith("With the constant offsets between the graders’ grades") for each in found["coupons"])
    assert any(each.startswith("For the mean grade of all 3 graders it is about ") for each in found["coupons"])


def test_equal_grades_throughout_cannot_be_told_from_chance():
    found = told(looks(Ann=[10] * 12, Bob=[10] * 12))
    assert (
        "All these grades are one and the same, so agreement cannot be told from chance. Take coupons that differ."
    ) in found["graders"]
    assert found["coupons"] == [
        "All the graders’ grades of 12 coupons are equal, so nothing shows how well they tell coupons apart."
    ]


def test_grades_that_do_not_tell_coupons_apart_are_called_that():
    found = told(looks(Ann=[3, 7, 4, 6, 5, 5], Bob=[7, 3, 6, 4, 5, 5]))
    assert found["coupons"] == [
        "Among the graders’ grades of 6 coupons, those of one coupon differ as much as those of different coupons: "
        "they do not tell the coupons apart."
    ]


def test_few_coupons_have_a_figure_without_a_word_for_it():
    found = told(looks(Ann=MIXED[:5], Bob=MIXED[:5]))
    assert found["graders"][1] == (
        "Agreement beyond chance: 1 (0 is chance alone, 1 full agreement); so few coupons do not make that sure."
    )
    assert found["cautions"][0] == (
        "Some comparisons rest on fewer than 10 coupons (the fewest on 5): a few more can change them much."
    )


def test_many_coupons_need_no_caution_about_their_number():
    found = told(looks(Ann=MIXED, Bob=MIXED))
    assert len(found["cautions"]) == 1
    assert "(weighted kappa)" in found["cautions"][0]


def test_the_widest_differences_come_first_and_name_who_gave_what():
    found = told(looks(Ann=MIXED, Bob=changed(MIXED, c1=-2, c4=-5, c6=-1)), inspections={3: "3 May"})
    assert found["look_again"] == [
        "Look again at C4 (3 May): Ann 7, Bob 2.",
        "Look again at C1 (3 May): Ann 10, Bob 8.",
    ]


def test_a_long_list_of_differences_ends_with_how_many_more():
    found = told(looks(Ann=[10] * 15, Bob=[7] * 15))
    assert len(found["look_again"]) == MOST_NAMED + 1
    assert found["look_again"][-1] == "There are 7 more differences of more than one grade."


def test_the_eye_is_set_against_the_photo():
    photos = {(number, 3): PhotoGrade(grade=max(grade - 1, 0)) for number, grade in enumerate(MIXED, 1)}
    photos[(2, 3)] = PhotoGrade(grade=4)
    found = told(looks(Ann=MIXED), photos)
    assert found["photo"][0] == (
        "Ann and the photo can be compared on 12 coupons: the same grade on 0, at most one grade apart on 11."
    )
    assert found["photo"][2].startswith("Ann grades milder than the photo by 1.3 grades on average (with 95 % ")
    assert found["look_again"] == ["Look again at C2: Ann 9, the photo 4."]


def test_a_single_photo_is_told_as_one():
    found = told(looks(Ann=[5]), {(1, 3): PhotoGrade(grade=6)})
    assert found["photo"] == ["On 1 coupon only Ann can be compared with the photo, and gave another grade."]


def test_what_is_left_out_is_said():
    found = told(looks(Ann=MIXED, Bob=[*MIXED[:11], None], Cy=[8, *[None] * 11]))
    assert found["cautions"][-1] == (
        "Cy graded fewer than half of the coupons that others share, and is left out where all are compared."
    )
    three = told(looks(Ann=MIXED, Bob=[*MIXED[:11], None], Cy=MIXED))
    assert three["cautions"][-1] == "1 coupon that not all graders graded is left out where all are compared."
    three = told(looks(Ann=MIXED, Bob=[*MIXED[:10], None, None], Cy=MIXED))
    assert three["cautions"][-1] == "2 coupons that not all graders graded are left out where all are compared."


def test_with_several_inspections_it_is_said_what_counts():
    said = "A coupon counts once for each inspection at which it was compared."
    grades = looks(Ann=MIXED, Bob=MIXED)
    assert said in told(grades, inspections={3: "3 May", 4: "4 June"})["cautions"]
    assert said not in told(grades, inspections={3: "3 May"})["cautions"]
    assert said not in told(looks(Ann=MIXED), inspections={3: "3 May", 4: "4 June"})["cautions"]


def test_nothing_compared_says_nothing():
    assert not any(told([]).values())
    assert not any(told(looks(Ann=MIXED)).values())


def test_a_coupon_without_a_name_is_called_by_its_key():
    found = study_words(study_agreement(looks(Ann=[9], Bob=[2])), {})
    assert found.look_again[0].text() == "Look again at 1: Ann 9, Bob 2."
    assert found.look_again[0] in found.all()


@pytest.mark.parametrize(
    ("value", "word"),
    # Limits of Landis & Koch 1977: 0.20, 0.40, 0.60, 0.80.
    [
        (0.2, "slight"),
        (0.21, "fair"),
        (0.41, "moderate"),
        (0.61, "substantial"),
        (0.8, "substantial"),
        (0.81, "close"),
    ],
)
def test_what_an_agreement_is_often_called(value, word):
    assert agreement_word(value) == word
