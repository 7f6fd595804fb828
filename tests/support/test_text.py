"""Text from strangers, made safe."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.support.text import (
    NAME_LIMIT,
    NOTE_LIMIT,
    from_spreadsheet,
    many_lines,
    one_line,
    printable,
    spreadsheet_safe,
)

any_text = st.text(st.characters())  # lone surrogates included


def test_ordinary_text_in_any_script_is_left_alone():
    for text in ("hot beeswax blend", "Leinöl, gebacken", "蜜蝋", "👩🏽‍🏭 wax", "a\u00a0b"):
        assert printable(text) == text


@pytest.mark.parametrize("char", ["\x00", "\x1b", "\x7f", "\x85", "\ud800", "\u202e", "\u2066", "\ufffe", "\ufdd0",
                                  "\U0001ffff"])  # fmt: skip
def test_what_cannot_be_shown_is_replaced_so_that_the_loss_is_seen(char):
    assert printable(f"a{char}b") == "a\ufffdb"
    assert printable(f"a{char}b", lines=True) == "a\ufffdb"


def test_line_breaks_become_spaces_in_a_single_line():
    assert one_line(" a\r\nb\tc\u2028d\re ") == "a b c d e"


def test_every_kind_of_line_break_is_kept_as_one_in_a_note():
    assert many_lines("a\r\nb\rc\u2029d\n\te\n") == "a\nb\nc\nd\n\te"


@given(any_text)
def test_one_line_is_printable_and_stays_the_same_when_made_safe_again(text):
    line = one_line(text, 20)
    assert one_line(line, 20) == line == line.strip()
    assert len(line) <= 20
    assert not any(char in line for char in "\n\r\t\x00\u202e")
    line.encode("utf-8")


@given(any_text)
def test_a_note_stays_the_same_when_made_safe_again(text):
    note = many_lines(text, 20)
    assert many_lines(note, 20) == note
    assert len(note) <= 20
    note.encode("utf-8")


def test_a_cut_leaves_no_blank_at_the_end():
    assert one_line("a" * (NAME_LIMIT - 1) + " b") == "a" * (NAME_LIMIT - 1)
    assert many_lines("a" * (NOTE_LIMIT - 1) + "\nb") == "a" * (NOTE_LIMIT - 1)


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\tx", '=HYPERLINK("x")', "'=1", "''+1"])
def test_what_a_spreadsheet_would_run_gets_an_apostrophe(text):
    assert spreadsheet_safe(text) == "'" + text


@pytest.mark.parametrize("text", ["C1", "", "'tis", "a=b", "'"])
def test_other_text_goes_to_the_spreadsheet_as_it_is(text):
    assert spreadsheet_safe(text) == text


@given(st.one_of(any_text, st.text("'=+-@\tab", max_size=6)))
def test_what_went_to_a_spreadsheet_comes_back_the_same(text):
    assert from_spreadsheet(spreadsheet_safe(text)) == text
    assert spreadsheet_safe(text)[:1] not in {"=", "+", "-", "@", "\t", "\r"}
