"""Which inspections were graded blind and how, which were not, and how the board's grades came about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Final

from rustboard.board.blind_result import RULE
from rustboard.board.record import BoardRecord
from rustboard.report.blind_sheet import BlindVisit, blind_visits
from rustboard.report.cells import short
from rustboard.report.choice import WRITINGS, Writing
from rustboard.support.text import counted

MOST_NAMED: Final = 40
"""Inspections named one by one."""


def blind_lines(
    record: BoardRecord, *, where: str = "the sheet of blind grades has them", writing: Writing = WRITINGS[0]
) -> Iterator[str]:
    """Yield the sentences; none where nobody has inspected the board yet.

    ``where`` says where the inspections are that are not named; ``writing`` how dates are written.
    """
    if not record.inspections:
        return
    visits = blind_visits(record)
    if visits:
        yield (
            "Graded blind means: treatments, coupon ids and all earlier grades were hidden, each grader saw the "
            f"coupons in an order drawn for him, and nothing was shown before all were done. {RULE}"
        )
    for each in visits[:MOST_NAMED]:
        yield _line(each, writing)
    if len(visits) > MOST_NAMED:
        yield f"So were {len(visits) - MOST_NAMED} later inspections; {where}."
    yield from _agreed(record)
    blind = {each.inspection.key for each in visits}
    openly = [each.at for each in record.inspections_in_order() if each.key not in blind]
    if openly:
        yield (
            "Not graded blind, so that the grader could know which coupon it was: "
            f"{counted(len(openly), 'inspection')} ({_days(openly, writing)})."
        )


def _line(visit: BlindVisit, writing: Writing) -> str:
    at = writing.moment(visit.inspection.at)
    if visit.blind.revealed is None:
        return f"{at}: being graded blind and still hidden; its blind grades are not in yet."
    how = "from a photo" if visit.blind.basis == "photo" else "at the bench, by position alone"
    names = short(", ".join(short(each.grader, 40) for each in visit.rounds), 300)
    graders = counted(len(visit.rounds), "grader")
    return f"{at}: graded blind by {graders} ({names}) {how}; {_repeats(visit)}."


def _repeats(visit: BlindVisit) -> str:
    twice = sorted({sum(shown.again for shown in each.showings) for each in visit.rounds})
    if not twice or twice[-1] == 0:
        return "no coupon was shown twice"
    number = counted(twice[0], "coupon") if len(twice) == 1 else f"{twice[0]} to {twice[-1]} coupons"
    turned = ", the second time turned otherwise" if visit.blind.basis == "photo" else ""
    return f"{number} shown twice to each{turned}"


def _agreed(record: BoardRecord) -> Iterator[str]:
    number = sum(each.source == "agreed" for graded in record.current.values() for each in graded.values())
    if number:
        was = "was" if number == 1 else "were"
        yield (
            f"{counted(number, 'grade')} {was} agreed on by the graders after their blind grades were revealed; the "
            "board keeps what the rule gave before."
        )


def _days(times: Sequence[datetime], writing: Writing) -> str:
    named = ", ".join(writing.day(each) for each in times[:MOST_NAMED])
    return named if len(times) <= MOST_NAMED else f"{named} and {len(times) - MOST_NAMED} more"
