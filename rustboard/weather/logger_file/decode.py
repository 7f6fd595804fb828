"""The bytes of a logger's file as lines of text, bounded."""

from __future__ import annotations

import codecs
import re
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from rustboard.board.weather import MOST_READINGS
from rustboard.support.problems import InputError
from rustboard.weather.logger_file.options import MOST_HEADER_ROWS, Delimiter
from rustboard.weather.readings import Seconds

MOST_BYTES: Final = 400 << 20
LONGEST_LINE: Final = 20_000
"""Bytes of one line; more than a table of 1,000 columns has."""
_HINT: Final = re.compile(rb"sep=([,;\t|])")
# Blanks and minus signs that look like plain ones and are written by programs that care for looks.
_LOOK_ALIKES: Final = {"\u00a0": b" ", "\u2009": b" ", "\u202f": b" ", "\u2212": b"-"}


@dataclass(frozen=True, slots=True)
class LoggerText:
    """A file's text.

    Attributes:
        name: of the file, for messages; may be empty.
        data: the text in UTF-8, every line ended by a line feed alone.
        ends: where each line ends in ``data``: the place of its line feed.
        hint: the delimiter that a first line such as ``sep=;`` names, or None.
    """

    name: str
    data: bytes = field(repr=False)
    ends: Seconds = field(repr=False)
    hint: Delimiter | None = None

    def __len__(self) -> int:
        """Return the number of lines."""
        return len(self.ends)

    def line(self, number: int) -> str:
        """Return a line by its number, 1 = the first; without its line feed."""
        return self.data[self.start(number) : int(self.ends[number - 1])].decode("utf-8", errors="replace")

    def start(self, number: int) -> int:
        """Return where a line begins in ``data``; one more than the last line is allowed."""
        return 0 if number <= 1 else int(self.ends[number - 2]) + 1

    def refusal(self, what: str, row: int | None = None) -> InputError:
        """Return the error that refuses the file."""
        return InputError(what, file=self.name, row=row)


def decode_logger_file(data: bytes, name: str = "") -> LoggerText:
    """Return the text of a file in UTF-8, in UTF-16 with its mark, or else in Windows' Western code page.

    Args:
        data: the whole file.
        name: of the file, for messages.

    Raises:
        InputError: empty, larger than `MOST_BYTES`, a workbook, not text, too many lines, or a line far too long.
    """
    if len(data) > MOST_BYTES:
        raise InputError(f"The file is larger than {MOST_BYTES >> 20} MB; split it into several files.", file=name)
    if data.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")):
        raise InputError("This is a workbook and not a text file; save its sheet as CSV.", file=name)
    plain = _plain(data)
    if plain is None:
        raise InputError("This is not a text file; export the readings as CSV or text.", file=name)
    if not plain.strip():
        raise InputError("The file is empty.", file=name)
    if not plain.endswith(b"\n"):
        plain += b"\n"
    return _bounded(plain, name)


def _plain(data: bytes) -> bytes | None:
    """Return the text as UTF-8 with line feeds only; None for what is no text."""
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        try:
            text = data.decode("utf-16")
        except UnicodeDecodeError:
            return None
        data = text.encode("utf-8", errors="replace")
    elif not data.isascii():
        data = _as_utf8(data.removeprefix(codecs.BOM_UTF8))
    if not data.isascii():
        for look_alike, plain in _LOOK_ALIKES.items():
            data = data.replace(look_alike.encode(), plain)
    if b"\0" in data:
        return None
    if b"\r" in data:
        data = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    return data


def _as_utf8(data: bytes) -> bytes:
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace").encode("utf-8")
    return data


def _bounded(plain: bytes, name: str) -> LoggerText:
    if plain.count(b"\n") > MOST_READINGS + MOST_HEADER_ROWS:
        raise InputError(f"The file has more than {MOST_READINGS:,} rows; split it into several files.", file=name)
    ends = np.flatnonzero(np.frombuffer(plain, np.uint8) == ord("\n")).astype(np.int64)
    lengths = np.diff(ends, prepend=-1)
    longest = int(lengths.argmax())
    if int(lengths[longest]) > LONGEST_LINE:
        raise InputError(
            f"This line is longer than {LONGEST_LINE:,} characters, and so no row of readings; "
            "export the readings as a table with one row for each time.",
            file=name,
            row=longest + 1,
        )
    found = _HINT.fullmatch(plain[: int(ends[0])].rstrip())
    # A tab is stripped as a blank; the line `sep=` alone means it.
    hint: Delimiter | None = found[1].decode() if found else None  # type: ignore[assignment]
    return LoggerText(name, plain, ends, hint)
