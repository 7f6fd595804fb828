"""``rustboard agreement``: how graders agree, with one another, with themselves and with the photo."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from rustboard.app.commands.opening import read_board
from rustboard.app.commands.outcome import Outcome, Tell
from rustboard.board.record import BoardRecord
from rustboard.session.agreement import (
    ALL_BLIND,
    OPEN,
    AgreementRequest,
    Differing,
    StudiedAgreement,
    graders_at,
    how_it_counts,
    revealed,
    study_grades,
)
from rustboard.session.agreement_figures import Compared, compared
from rustboard.session.jobs import Progress
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from rustboard.findings.agreement.intraclass import Intraclass
    from rustboard.findings.agreement.kappa import Interval, Kappa
    from rustboard.findings.agreement.offsets import Offset

_HEADINGS = {
    "repeats": "One grader twice",
    "graders": "Graders with one another",
    "coupons": "Coupons told apart",
    "photo": "Eye and photo",
    "look_again": "Look again",
    "cautions": "What this leans on",
}
_OPENLY = "Not blind: these grades were given knowing which coupon it was, so they prove less."


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("board", metavar="BOARD", type=Path, help="the board's folder or its board.rustboard file")
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Tell how grades agree, of all blind inspections that were revealed. Works while a window has the board open.

    Raises:
        InputError: there is no sound board, or no inspection of it was graded blind and revealed.
    """
    record = read_board(arguments.board)
    if not revealed(record):
        raise InputError(
            "No inspection of this board was graded blind and revealed, so there is nothing to compare; grade one "
            "blind in the window (Board menu).",
            file=str(arguments.board)[:200],
        )
    blind = study_grades(AgreementRequest(record, ALL_BLIND), Progress())
    openly = study_grades(AgreementRequest(record, OPEN), Progress())
    return Outcome("\n".join(_lines(blind, openly)), _data(record, blind, openly))


# ---- for people


def _lines(blind: StudiedAgreement, openly: StudiedAgreement) -> Iterator[str]:
    first = True
    for name, heading in _HEADINGS.items():
        sentences = [each.text() for each in getattr(blind.words, name)]
        if sentences:
            yield heading if first else f"\n{heading}"
            first = False
            yield from sentences
    if not blind.study.pairs and not blind.study.repeats:
        yield "No coupon was graded by two graders, or twice by one: of the graders themselves nothing can be said."
    if openly.words.photo:
        yield "\nOpen grades and photo"
        yield _OPENLY
        for each in openly.words.photo:
            yield each.text()


# ---- for scripts


def _data(record: BoardRecord, blind: StudiedAgreement, openly: StudiedAgreement) -> dict[str, object]:
    figures = compared(blind.study)
    together = blind.study.together
    return {
        "board": record.board.name,
        "inspections": [
            {"inspected": record.inspections[key].at.isoformat(), "graders": graders_at(record, key)}
            for key in blind.inspections
        ],
        "graders": [
            {"grader": each, "repeats": next((_figures(one) for one in figures if _repeats(one, each)), None)}
            for each in blind.graders
        ],
        "pairs": [{"graders": [each.a, each.b], **_figures(each)} for each in figures if each.kind == "graders"],
        "all": None
        if together is None
        else {
            "graders": list(together.graders),
            "left_out": list(together.too_few),
            "coupons": together.subjects,
            "icc": _icc(together.reliability),
            "offsets": [{"grader": each.grader, **_offset(each.offset)} for each in together.offsets],
            "spread": together.spread,
        },
        "photo": _photo(blind),
        "photo_not_blind": _photo(openly),
        "differing": [_differing(record, each) for each in blind.differing],
        "words": [each.text() for each in blind.words.all()],
        "problems": [],
    }


def _repeats(figures: Compared, grader: str) -> bool:
    return figures.kind == "repeat" and figures.a == grader


def _figures(each: Compared) -> dict[str, object]:
    found = each.agreement
    data: dict[str, object] = {"coupons": each.coupons}
    if found is not None:
        data |= {
            "exact": found.exact,
            "within_one": found.within_one,
            "kappa_linear": _kappa(found.linear),
            "kappa_quadratic": _kappa(found.quadratic),
        }
    if each.offset is not None:
        data["offset"] = _offset(each.offset)
    if each.kind == "repeat":
        data |= {"sd": each.sd, "icc": _icc(each.reliability)}
    return data


def _kappa(kappa: Kappa | None) -> dict[str, object] | None:
    return None if kappa is None else {"value": kappa.value, **_interval(kappa.interval)}


def _icc(found: Intraclass | None) -> dict[str, object] | None:
    if found is None or found.absolute is None:
        return None
    return {"value": found.absolute, **_interval(found.interval), "of_the_mean": found.absolute_mean}


def _offset(offset: Offset) -> dict[str, object]:
    return {"value": offset.mean, **_interval(offset.interval)}


def _interval(interval: Interval | None) -> dict[str, float | None]:
    low, high = (None, None) if interval is None else interval
    return {"low": low, "high": high}


def _photo(studied: StudiedAgreement) -> dict[str, object] | None:
    if studied.study.photo is None:
        return None
    figures = [each for each in compared(studied.study) if each.kind == "photo"]
    return {"graders": [{"grader": each.a, **_figures(each)} for each in figures]}


def _differing(record: BoardRecord, each: Differing) -> dict[str, object]:
    coupon, counts = record.coupons[each.coupon], record.grading(each.coupon, each.inspection)
    return {
        "coupon": coupon.id,
        "position": None if coupon.position is None else coupon.position.label,
        "inspected": record.inspections[each.inspection].at.isoformat(),
        "width": each.width,
        "grades": [{"grader": one.grader, "grade": one.grade, "again": one.again} for one in each.given],
        "photo": each.photo,
        "by_rule": None if each.by_rule is None else each.by_rule.grade,
        "board": None if counts is None else counts.grade,
        "how": how_it_counts(each.by_rule, counts),
    }
