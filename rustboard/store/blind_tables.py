"""How blind inspections, rounds and grades, paired choices and damage become rows and come back."""

from __future__ import annotations

import json
from typing import Any, Final

from rustboard.board.blind import (
    BASES,
    MOST_SHOWINGS,
    TURNS,
    BlindGrade,
    BlindInspection,
    BlindRound,
    Showing,
)
from rustboard.board.damage import DAMAGE_KINDS, LARGEST_WIDTH_MM, MOST_WIDTHS, SEVERITIES, Damage
from rustboard.board.grade import DISTRIBUTIONS, GRADES
from rustboard.board.pair_choice import RUSTIER, PairChoice
from rustboard.store import values
from rustboard.store.table import Row, Table, key_of, names, real

_LETTERS: Final = ("", *DISTRIBUTIONS)
_STATES: Final = ("current", "superseded", "withdrawn")
_LARGEST_SEED: Final = 2**62


def _blind_to_row(each: BlindInspection) -> Row:
    return (
        each.inspection,
        each.basis,
        each.photo,
        float(each.repeat_percent),
        each.started.isoformat(),
        values.moment_text(each.revealed),
    )


def _blind_from_row(row: Row) -> BlindInspection:
    key, inspection, basis, photo, repeat, started, revealed = row
    return BlindInspection(
        values.key(inspection),
        values.one_of(basis, BASES),
        values.key_or_none(photo),
        values.percent(repeat),
        values.moment(started),
        values.moment_or_none(revealed),
        values.key(key),
    )


def _round_to_row(each: BlindRound) -> Row:
    shown = [[showing.coupon, TURNS.index(showing.turn), int(showing.again)] for showing in each.showings]
    return (
        each.blind,
        each.grader,
        each.seed,
        json.dumps(shown),
        each.started.isoformat(),
        values.moment_text(each.finished),
    )


def _round_from_row(row: Row) -> BlindRound:
    key, blind, grader, seed, shown, started, finished = row
    return BlindRound(
        values.key(blind),
        values.needed(grader),
        values.whole(seed, 0, _LARGEST_SEED),
        tuple(_showing(*each) for each in values.items(shown, MOST_SHOWINGS)),
        values.moment(started),
        values.moment_or_none(finished),
        values.key(key),
    )


def _showing(coupon: object, turn: object, again: object) -> Showing:
    return Showing(values.key(coupon), TURNS[values.whole(turn, 0, len(TURNS) - 1)], values.flag(again))


def _blind_grade_from_row(row: Row) -> BlindGrade:
    key, of_round, number, coupon, grade, letter, percent, note, recorded, state, replaces = row
    return BlindGrade(
        values.key(key),
        values.key(of_round),
        values.whole(number, 0, MOST_SHOWINGS - 1),
        values.key(coupon),
        values.whole(grade, GRADES[0], GRADES[-1]),
        values.one_of(letter, _LETTERS),
        None if percent is None else values.percent(percent),
        values.note(note),
        values.line(recorded),
        values.one_of(state, _STATES),
        values.key_or_none(replaces),
    )


def _choice_from_row(row: Row) -> PairChoice:
    key, inspection, grader, left, right, rustier, recorded, state, replaces = row
    return PairChoice(
        values.key(key),
        values.key(inspection),
        values.line(grader),
        values.key(left),
        values.key(right),
        values.one_of(rustier, RUSTIER),
        values.line(recorded),
        values.one_of(state, _STATES),
        values.key_or_none(replaces),
    )


def _damage_to_row(each: Damage) -> Row:
    widths = json.dumps([float(width) for width in each.widths_mm])
    return (
        each.coupon,
        each.inspection,
        each.kind,
        real(each.percent),
        each.severity,
        real(each.scribe_mm),
        widths,
        each.grader,
        each.note,
        each.recorded,
        each.state,
        each.replaces,
    )


def _damage_from_row(row: Row) -> Damage:
    key, coupon, inspection, kind, percent, severity, scribe, widths, grader, note, recorded, state, replaces = row
    return Damage(
        values.key(key),
        values.key(coupon),
        values.key(inspection),
        values.one_of(kind, DAMAGE_KINDS),
        None if percent is None else values.percent(percent),
        values.one_of(severity, SEVERITIES),
        None if scribe is None else values.within(scribe, 0, LARGEST_WIDTH_MM),
        tuple(values.within(each, 0, LARGEST_WIDTH_MM) for each in values.items(widths, MOST_WIDTHS)),
        values.line(grader),
        values.note(note),
        values.line(recorded),
        values.one_of(state, _STATES),
        values.key_or_none(replaces),
    )


BLIND_INSPECTIONS: Final[Table[BlindInspection]] = Table(
    "blind_inspection",
    names("inspection basis photo repeat_percent started revealed"),
    _blind_to_row,
    _blind_from_row,
    key_of,
)
BLIND_ROUNDS: Final[Table[BlindRound]] = Table(
    "blind_round",
    names("blind grader seed showings started finished"),
    _round_to_row,
    _round_from_row,
    key_of,
)
BLIND_GRADES: Final[Table[BlindGrade]] = Table(
    "blind_grade",
    names("round number coupon grade distribution percent note recorded state replaces"),
    lambda each: (*each[1:6], real(each.percent), *each[7:]),
    _blind_grade_from_row,
    key_of,
)
PAIR_CHOICES: Final[Table[PairChoice]] = Table(
    "pair_choice",
    names("inspection grader left_coupon right_coupon rustier recorded state replaces"),
    lambda each: each[1:],
    _choice_from_row,
    key_of,
)
DAMAGES: Final[Table[Damage]] = Table(
    "damage",
    names(
        "coupon inspection kind percent severity scribe_mm widths_mm grader note recorded state replaces",
    ),
    _damage_to_row,
    _damage_from_row,
    key_of,
)

BLIND_TABLES: Final[tuple[Table[Any], ...]] = (BLIND_INSPECTIONS, BLIND_ROUNDS, BLIND_GRADES, PAIR_CHOICES, DAMAGES)
