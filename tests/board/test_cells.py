"""Reading one typed cell: numbers, grades, roles, letters."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.cells import (
    identity,
    quoted,
    read_decimal,
    read_distribution,
    read_grade,
    read_needed,
    read_percent,
    read_role,
    read_whole,
)
from rustboard.support.problems import InputError

NO_GRADE_AT_ALL = (
    "is not a grade; write a whole number from 0 to 10, with a letter S, G, P or H if you like, such as 7 or 7-S."
)


def sentence_of(reader, text):
    with pytest.raises(InputError) as caught:
        reader(text)
    return caught.value.problem.sentence()


@pytest.mark.parametrize(
    ("text", "grade"),
    [
        ("7", (7, "")),
        ("7-S", (7, "S")),
        ("7 S", (7, "S")),
        ("7s", (7, "S")),
        ("7 - g", (7, "G")),
        ("7–P", (7, "P")),
        ("7.0", (7, "")),
        ("7,0", (7, "")),
        ("07", (7, "")),
        ("0", (0, "")),
        ("10", (10, "")),
        ("+9H", (9, "H")),
    ],
)
def test_a_grade_is_read_in_all_the_ways_people_write_it(text, grade):
    assert read_grade(text) == grade


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("9/8", "“9/8” names two grades; write one grade in each row."),
        ("9-S / 8-S", "“9-S / 8-S” names two grades; write one grade in each row."),
        ("n/a", "“n/a” is not a grade; leave the row out if the coupon was not graded."),
        ("-", "“-” is not a grade; leave the row out if the coupon was not graded."),
        ("", "The grade is missing; write it, or leave the row out if the coupon was not graded."),
        ("11", "“11” is not a grade; grades are whole numbers from 0 to 10."),
        ("-1", "“-1” is not a grade; grades are whole numbers from 0 to 10."),
        ("−1", "“−1” is not a grade; grades are whole numbers from 0 to 10."),
        ("7.5", "“7.5” lies between two grades; write the whole grade that fits better."),
        ("7,5", "“7,5” lies between two grades; write the whole grade that fits better."),
        ("7-X", "“X” is not a distribution letter; write S, G, P or H, or leave it out."),
        ("10-S", "Grade 10 carries no distribution letter; letters go with grades 9 to 1."),
        ("seven", f"“seven” {NO_GRADE_AT_ALL}"),
        ("٧", f"“٧” {NO_GRADE_AT_ALL}"),
    ],
)  # fmt: skip
def test_what_is_no_grade_is_refused_with_the_way_to_mend_it(text, sentence):
    assert sentence_of(read_grade, text) == sentence


def test_a_grade_of_thousands_of_digits_is_refused_in_a_short_sentence():
    assert len(sentence_of(read_grade, "9" * 100_000)) < 120


@given(st.text(max_size=30))
def test_any_text_in_a_grade_cell_is_a_grade_or_is_refused(text):
    try:
        grade, letter = read_grade(text)
    except InputError:
        pass
    else:
        assert 0 <= grade <= 10
        assert letter in {"", "S", "G", "P", "H"}


@pytest.mark.parametrize(
    ("text", "value"),
    [("2.5", 2.5), ("2,5", 2.5), ("-3", -3.0), (".5", 0.5), ("5.", 5.0), ("1e-05", 1e-05), ("+4", 4.0)],
)
def test_a_number_has_a_decimal_point_or_comma(text, value):
    assert read_decimal(text) == value


@pytest.mark.parametrize("text", ["", "1,234.5", "1.234,5", "two", "1 000", "0x10", "nan", "inf", "1e", "٣"])
def test_what_is_no_number_is_refused(text):
    assert sentence_of(read_decimal, text) == (
        f"“{text}” is not a number; write digits with one decimal point or comma, such as 2.5."
    )


def test_a_number_too_large_for_any_use_is_refused():
    assert sentence_of(read_decimal, "1e999") == "“1e999” is too large a number; mend it."


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_every_number_this_program_writes_is_read_back(value):
    assert read_decimal(repr(value)) == value


def test_a_whole_number_may_have_an_empty_fraction():
    assert read_whole("2,0") == 2
    assert sentence_of(read_whole, "2.5") == "“2.5” is not a whole number; write digits only, such as 2."


def test_a_percentage_may_carry_its_sign_and_may_be_absent():
    assert read_percent("0,3 %") == 0.3
    assert read_percent("12%") == 12
    assert read_percent("") is None
    assert sentence_of(read_percent, "101") == (
        "“101” is not a percentage of a surface; percent rusted is from 0 to 100."
    )


def test_a_distribution_is_read_by_letter_or_word():
    assert [read_distribution(text) for text in ("s", "Pinpoint", "", "H")] == ["S", "P", "", "H"]
    assert sentence_of(read_distribution, "edge") == (
        "“edge” is not a distribution letter; write S, G, P or H, or leave it out."
    )


def test_a_role_is_test_unless_stated():
    assert [read_role(text) for text in ("", "Test", "CONTROL")] == ["test", "test", "control"]
    assert sentence_of(read_role, "bare") == "“bare” is not a role; write test or control."


def test_a_needed_cell_that_is_empty_is_refused():
    assert read_needed("C1") == "C1"
    assert sentence_of(read_needed, "") == "This must not be left empty."


@pytest.mark.parametrize("twin", ["c01", "Ｃ０１", "C\u200b01", "C01\u00ad"])
def test_ids_that_nobody_could_tell_apart_are_the_same(twin):
    assert identity(twin) == identity("C01")


def test_different_ids_are_different():
    assert identity("C01") != identity("C1")


def test_what_is_quoted_in_a_sentence_is_short_and_safe():
    assert quoted("a" * 60) == f"“{'a' * 40}…”"
    assert quoted("a\nb\x07") == "“a b\ufffd”"
