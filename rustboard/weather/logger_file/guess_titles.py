"""The title of each column of a logger's file."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from rustboard.support.text import counted, one_line
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.guess_head import is_logger_word
from rustboard.weather.logger_file.guess_times import TimeColumns
from rustboard.weather.logger_file.numbers import split_number
from rustboard.weather.logger_file.sample import Sample
from rustboard.weather.logger_file.titles import is_time_title, known_units

_LONGEST_WORD: Final = 30
_FEWEST_WORDS: Final = 3
_LOOKED_AT: Final = 200


def titles_above(
    sample: Sample, title_row: int, width: int, times: TimeColumns, text: LoggerText
) -> tuple[list[str], list[str]]:
    """Return the titles of all columns, empty ones where there are none, and doubts about them."""
    if not title_row:
        return [""] * width, []
    titles = [each.lstrip("#").strip() for each in sample.head[title_row - 1]]
    if sample.delimiter == " " and len(titles) != width:
        titles = _parted_widely(text.line(title_row), width, titles)
    titles = _with_line_above(titles, sample, title_row)
    while titles and not titles[-1]:
        titles.pop()
    first = min(times.columns.values())
    if 0 < first < len(titles) < width and is_time_title(titles[first - 1]) and not is_time_title(titles[first]):
        titles.insert(0, "")  # rows are numbered and the numbers have no title
    if len(titles) == width - 1 and set(times.columns) == {"date", "clock time"} and sample.delimiter == " ":
        place = min(times.columns.values())
        titles.insert(place + 1, titles[place])
    doubt = _doubt(titles, sample, width)
    titles = [one_line(each) for each in titles[:width]]
    return titles + [""] * (width - len(titles)), [doubt] if doubt else []


def _doubt(titles: Sequence[str], sample: Sample, width: int) -> str:
    filled = max((index + 1 for row in sample.rows[:_LOOKED_AT] for index, each in enumerate(row) if each), default=0)
    if len(titles) < filled and sample.delimiter == ",":
        return (
            f"The rows have {filled} cells and there are only {counted(len(titles), 'title')}; if commas are decimal "
            "marks too, export the file with semicolons."
        )
    if sample.delimiter == " " and len(titles) != width:
        return "The titles do not stand above the columns one by one; look which column holds what."
    return ""


def _parted_widely(line: str, width: int, otherwise: list[str]) -> list[str]:
    """Return titles with blanks in them, which stand at least two blanks or a tab apart."""
    wide = [each.strip() for each in re.split(r"\s{2,}|\t", line.strip().lstrip("#").strip())]
    return wide if len(wide) in (width, width - 1) else otherwise


def _with_line_above(titles: list[str], sample: Sample, title_row: int) -> list[str]:
    """Return titles that go over two lines, such as *Temp* above *Out*, as one text each."""
    if title_row < 2 or sample.delimiter == " ":
        return titles
    above = sample.head[title_row - 2]
    filled = [each for each in above if each]
    words = all(len(each) <= _LONGEST_WORD and not re.search("[0-9:=]", each) for each in filled)
    if len(above) != len(titles) or len(filled) < _FEWEST_WORDS or not words or known_units(above):
        return titles
    return [f"{upper} {lower}".strip() for upper, lower in zip(above, titles, strict=True)]


def named_in_rows(titles: Sequence[str], sample: Sample) -> str:
    """Return the logger's name where a column holds it, the same in all rows; or an empty text."""
    for index, title in enumerate(titles):
        if not title or len(title) > _LONGEST_WORD or not is_logger_word(title):
            continue
        names = {row[index] for row in sample.rows if index < len(row) and row[index]}
        if len(names) == 1 and split_number(name := names.pop(), ".") is None:
            return one_line(name, 80)
    return ""
