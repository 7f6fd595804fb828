"""Bytes of any kind end in readings or in a sentence, never in a crash."""

from __future__ import annotations

import contextlib
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.weather import MOST_TOLD, QUANTITY_LIMITS
from rustboard.support.problems import InputError
from rustboard.weather.logger_file import decode
from rustboard.weather.logger_file.clock_hint import clock_hint
from rustboard.weather.logger_file.decode import LONGEST_LINE, decode_logger_file
from rustboard.weather.logger_file.guess import guess_options, with_titles
from rustboard.weather.logger_file.options import Column, FileOptions, options_from_json, options_to_json
from rustboard.weather.logger_file.preview import preview
from rustboard.weather.logger_file.read import read_logger_file
from rustboard.weather.logger_file.summary import reading_sentences
from rustboard.weather.packing import pack

SCRAPS = st.sampled_from(
    ["2026-03-02 10:00", "2026-03-02", "10:00", "02.03.26", "12,5", "-1.5", "1e999", "inf", "NaN", '"', '""', ",",
     ";", "\t", "|", " ", "\n", "\r\n", "\n\n", "time", "Temp (°C)", "RH %", "sep=;\n", "#", "1772445900",
     "46083,5", "9" * 40, "99999", "24:00", "PM", "Z", "+99:99", "\ufeff", "\u2028", "True", "0x1F", "1_000", "１２",
     "٣", "é", "=1+1", "\x1a"]
)  # fmt: skip
SIMPLE_JSON = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5)
ANY_JSON = st.recursive(
    SIMPLE_JSON, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=4)
)


def survives(data: bytes) -> None:
    with contextlib.suppress(InputError):
        text = decode_logger_file(data, "any.csv")
        guess = guess_options(text)
        preview(text, guess.options)
        assert options_from_json(options_to_json(guess.options)) == guess.options
        with_titles(text, guess.options, len(data) % 7, len(data) % 5)
        clock_hint(read_logger_file(text, guess.options).table.seconds, "Europe/Berlin")
        read = read_logger_file(text, guess.options)
        assert len(read.table) > 0
        assert len(read.told) <= MOST_TOLD
        pack(read.table)
        reading_sentences(read.table)
        for name, numbers in read.table.values.items():
            low, high = QUANTITY_LIMITS[name]
            assert not ((numbers < low) | (numbers > high)).any()


@given(st.binary(max_size=400))
def test_any_bytes(data: bytes) -> None:
    survives(data)


@given(st.text(max_size=400), st.sampled_from(["utf-8", "utf-16", "cp1252"]))
def test_any_text(text: str, encoding: str) -> None:
    survives(text.encode(encoding, errors="replace"))


@given(st.lists(SCRAPS, max_size=80))
def test_scraps_of_logger_files(scraps: list[str]) -> None:
    survives("".join(scraps).encode())
    survives(("time,temp C\n2026-03-02 10:00,1\n" + "".join(scraps)).encode())


@given(st.lists(SCRAPS, max_size=60), st.sampled_from(",;\t| "), st.sampled_from(".,"))
def test_scraps_read_by_options_that_somebody_chose(scraps: list[str], delimiter: str, mark: str) -> None:
    read = (Column("c", "temperature", "F"), Column("d", "rain", "in"))
    columns = (Column("a", "date"), Column("b", "clock time"), *read)
    options = FileOptions(delimiter, mark, 1, 1, "day first", columns, "UTC")  # type: ignore[arg-type]
    with contextlib.suppress(InputError):
        text = decode_logger_file(("x\n02.03.2026;10:00;1;1\n" + "".join(scraps)).encode())
        preview(text, options)
        read_logger_file(text, options)


@given(ANY_JSON)
def test_any_json_is_no_profile(content: object) -> None:
    with pytest.raises(InputError):
        options_from_json(content)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "empty"),
        (b" \r\n\t\n", "empty"),
        (b"\xff\xfe", "empty"),
        (b"time\0", "not a text file"),
        (b"\xff\xfea", "not a text file"),
        (b"PK\x03\x04rest", "workbook"),
        (b"\xd0\xcf\x11\xe0rest", "workbook"),
        (b"time,temp\n" + b"1" * (LONGEST_LINE + 1), "longer than"),
    ],
)
def test_what_is_no_text_of_lines_is_refused(data: bytes, said: str) -> None:
    with pytest.raises(InputError, match=said) as caught:
        decode_logger_file(data, "log.csv")
    assert caught.value.problem.file == "log.csv"


def test_a_file_too_large_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(decode, "MOST_BYTES", 20)
    with pytest.raises(InputError, match="larger than"):
        decode_logger_file(b"time,temp\n2026-03-02 10:00,1\n")


def test_too_many_rows_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(decode, "MOST_READINGS", 20)
    with pytest.raises(InputError, match="more than 20 rows"):
        decode_logger_file(b"2026-03-02 10:00,1\n" * 1_100)


@pytest.mark.parametrize(
    "line",
    [
        b"2026-03-02 10:00," * 1_000,
        b'  ,  ,  ,  ,"' * 1_000,
        b"(" * 19_000,
        b" " * 19_000 + b"x",
        b'"' * 19_000,
        b"1;" * 9_000,
        b"UTC+1 " * 3_000,
    ],
)
def test_long_lines_take_no_time_to_speak_of(line: bytes) -> None:
    """Ends at all: a pattern that tries every way to part such a line would not in a lifetime."""
    survives(b"time,temp C\n" + b"2026-03-02 10:00,1\n" * 3 + (line + b"\n") * 5 + b'2026-03-02 10:10,"1\n')
    survives(line + b"\ntime,temp C\n" + b"2026-03-02 10:00,1\n" * 30)
    survives((line + b"\n") * 20)


def test_nothing_heavy_is_loaded_before_a_file_is_read() -> None:
    code = (
        "import sys, rustboard.session.logger_profiles, rustboard.weather.logger_file.preview; "
        "raise SystemExit('pandas' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False, timeout=60).returncode == 0
