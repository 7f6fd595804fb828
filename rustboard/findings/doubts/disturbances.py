"""What happened to coupons or to the board during the exposure, by the day log."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping
from datetime import datetime
from typing import Final

from rustboard.board.measured import STARTS_ANEW, Disturbance, DisturbanceKind
from rustboard.board.record import BoardRecord
from rustboard.findings.amounts import listed, listing
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.doubts.results import Doubt, Weight
from rustboard.findings.doubts.wording import coupon_names
from rustboard.findings.sentence import Sentence
from rustboard.support.text import one_line

MOST_NOTES: Final = 3
_LONGEST_NOTE: Final = 160

_TO_COUPONS: Final[Mapping[DisturbanceKind, tuple[str, str]]] = {
    "debris cleared": ("debris was cleared off {0}", "debris was cleared off {0}"),
    "touched": ("{0} was touched", "{0} were touched"),
    "cleaned": ("{0} was cleaned", "{0} were cleaned"),
    "replaced": ("{0} was replaced by another piece", "{0} were replaced by other pieces"),
    "lost": ("{0} was lost", "{0} were lost"),
    "rotated": ("{0} was moved, turned or hung anew", "{0} were moved, turned or hung anew"),
    "board moved": ("{0} was moved", "{0} were moved"),
    "other": ("something else happened to {0}", "something else happened to {0}"),
}
_TO_BOARD: Final[Mapping[DisturbanceKind, str]] = {
    "debris cleared": "debris was cleared off the board",
    "touched": "the coupons were touched",
    "cleaned": "the coupons were cleaned",
    "replaced": "coupons were replaced",
    "lost": "coupons were lost",
    "rotated": "coupons were moved, turned or hung anew",
    "board moved": "the board was moved",
    "other": "something happened to the board",
}
_TELLS_OF_ONE: Final = re.compile(
    r"\b(storm|gale|hail|blew|blown|fell|fallen|dropped|knock|bump|kick|moved|turned|touch|wip|clean|wash|rins|hos|"
    r"scratch|scrap|splash|spill|spray|sprinkler|vandal|stolen|bird|dog|cat\b|spider|insect|leaf|leaves|pollen|dust|"
    r"smoke|fire|salt|gritt)",
    re.IGNORECASE,
)


def disturbance_doubts(subject: Subject) -> list[Doubt]:
    """Return what the day log tells of the exposure until the last inspection."""
    record = subject.record
    inspections = record.inspections_in_order()
    if not inspections:
        return []
    start, end = record.day_zero() or inspections[0].at, inspections[-1].at
    to_coupons: dict[DisturbanceKind, list[Disturbance]] = defaultdict(list)
    to_board: dict[DisturbanceKind, list[Disturbance]] = defaultdict(list)
    for each in sorted(record.disturbances.values(), key=lambda each: (each.at, each.key)):
        if not start <= each.at <= end:
            continue
        if each.coupon is None:
            to_board[each.kind].append(each)
        elif each.coupon in record.coupons and each.coupon not in subject.left_out:
            to_coupons[each.kind].append(each)
    return [
        *(_of_coupons(subject, kind, found) for kind, found in to_coupons.items()),
        *(_of_board(kind, found) for kind, found in to_board.items()),
        *_noted_days(record, start, end),
    ]


def _of_coupons(subject: Subject, kind: DisturbanceKind, found: list[Disturbance]) -> Doubt:
    coupons = frozenset(each.coupon for each in found if each.coupon is not None)
    touched = [group for group in subject.groups if not coupons.isdisjoint(group.coupons)]
    shares = {len(coupons.intersection(group.coupons)) / len(group.coupons) for group in subject.groups}
    uneven = len(shares) > 1 and bool(touched)
    who, notes = "{0}", _notes(found)
    if uneven and len(touched) < len(subject.groups):
        who = "{0} ({1} alone)" if len(coupons) > 1 else "{0} ({1})"
    elif uneven:
        who = "{0} (some groups more than others)"
    said = _TO_COUPONS[kind][len(coupons) > 1].replace("{0}", who)
    pattern = f"During the exposure {said} (day log, {{2}})"
    weight: Weight = "serious" if kind in STARTS_ANEW else "caution" if uneven else "note"
    if kind in STARTS_ANEW:
        why = Sentence("What is graded since then is not the exposure from the beginning.")
    elif uneven:
        why = Sentence("It did not meet all groups alike, so it may pass for a difference between them.")
    else:
        why = Sentence("It met all groups alike.")
    return Doubt(
        "disturbance",
        weight,
        Sentence(
            f"{pattern}: {{3}}." if notes else f"{pattern}.",
            (coupon_names(subject.record, coupons), listed(each.name for each in touched), _days(found), notes),
        ),
        why,
        coupons,
    )


def _of_board(kind: DisturbanceKind, found: list[Disturbance]) -> Doubt:
    anew = kind in STARTS_ANEW
    notes = _notes(found)
    pattern = f"During the exposure {_TO_BOARD[kind]} (day log, {{0}})"
    return Doubt(
        "disturbance",
        "serious" if anew else "caution" if kind == "board moved" else "note",
        Sentence(f"{pattern}: {{1}}." if notes else f"{pattern}.", (_days(found), notes)),
        Sentence("What is graded since then is not the exposure from the beginning.")
        if anew
        else Sentence("It met all groups alike, but the exposure before and after may not be the same."),
    )


def _notes(found: list[Disturbance]) -> str:
    shown = [f"“{one_line(each.note, _LONGEST_NOTE)}”" for each in found if each.note.strip()]
    return listed([*shown[:MOST_NOTES], *([f"{len(shown) - MOST_NOTES} more"] if len(shown) > MOST_NOTES else [])])


def _days(found: list[Disturbance]) -> str:
    return listing((day,) for day in dict.fromkeys(each.at.date() for each in found))


def _noted_days(record: BoardRecord, start: datetime, end: datetime) -> list[Doubt]:
    """Return the weather notes whose words sound as if something had happened; a person must read them."""
    notes = [
        each
        for each in sorted(record.day_notes.values(), key=lambda each: (each.day, each.key))
        if start.date() <= each.day <= end.date() and _TELLS_OF_ONE.search(each.note)
    ]
    found = [
        Doubt(
            "disturbance",
            "note",
            Sentence("The notes of {0} say: “{1}”.", (listing([(each.day,)]), one_line(each.note, _LONGEST_NOTE))),
            Sentence("If that met some coupons more than others, it may pass for a difference between groups."),
        )
        for each in notes[:MOST_NOTES]
    ]
    if len(notes) > MOST_NOTES:
        more = len(notes) - MOST_NOTES
        pattern = "1 more note of a day may" if more == 1 else "{0} more notes of days may"
        found.append(Doubt("disturbance", "note", Sentence(f"{pattern} tell of something that happened.", (more,))))
    return found
