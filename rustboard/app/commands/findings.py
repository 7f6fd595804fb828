"""``rustboard findings``: which treatment beat which, how sure that is, and what the board cannot say."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final, cast

from rustboard.app.commands.opening import existing
from rustboard.app.commands.outcome import Outcome, Tell
from rustboard.app.commands.plain_table import plain_table
from rustboard.board.exposure_clock import CLOCK_KINDS, ClockKind
from rustboard.board.question import COMPARED, FAILING_GRADES, MEASURES, Compared, Measure
from rustboard.session.findings import FindingsAsked, View, view_of, whole_findings
from rustboard.session.findings_json import findings_data
from rustboard.session.jobs import Progress
from rustboard.session.looking import look_at_board, look_at_weather
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings, load_settings

if TYPE_CHECKING:
    from rustboard.findings.compare.results import ExactResult
    from rustboard.findings.conclude.findings import Findings

_CLOCKS: Final = {each.replace(" ", "-"): each for each in CLOCK_KINDS}
_MEASURES: Final[dict[str, Measure]] = {each.replace(" ", "-"): each for each in MEASURES}
_STANDINGS: Final = {
    "better": "did better", "worse": "did worse", "leans better": "looks better", "leans worse": "looks worse",
    "open": "not told apart",
}  # fmt: skip


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument(
        "boards",
        metavar="BOARD",
        type=Path,
        nargs="+",
        help="a board's folder or its board.rustboard file; several boards are taken together",
    )
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")
    parser.add_argument(
        "--failing-grade", type=int, choices=FAILING_GRADES, help="in place of the one in the board's question"
    )
    parser.add_argument("--measure", choices=tuple(_MEASURES), help="in place of the one in the board's question")
    parser.add_argument("--clock", choices=tuple(_CLOCKS), default="days", help="what exposure is told by")
    parser.add_argument("--compare", choices=COMPARED, help="in place of what the board's question compares")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Say what boards show. Works while a window has them open.

    Raises:
        InputError: there is no sound board, or it cannot be told by the clock that was asked for.
    """
    boards = [existing(each) for each in arguments.boards]
    if len(boards) > 1:
        from rustboard.app.commands.findings_together import carry_out_together

        return carry_out_together(boards, arguments, tell)
    findings = findings_of(boards[0], arguments)
    return Outcome("\n".join(_lines(findings)), findings_data(findings))


def findings_of(board: Path, arguments: argparse.Namespace) -> Findings:
    """Return the findings of a board as the arguments ask for them.

    Raises:
        InputError: there is no sound board, or the clock cannot be had.
    """
    return whole_findings(asked_of(board, arguments), Progress())


def asked_of(board: Path, arguments: argparse.Namespace, settings: Settings | None = None) -> FindingsAsked:
    """Return what is asked of a board.

    Raises:
        InputError: there is no sound board, or one of its inspections is hidden.
    """
    clock: ClockKind = _CLOCKS[arguments.clock]
    record, weather = (
        look_at_weather(board) if clock in ("wet hours", "rain") else (look_at_board(board), None)
    )  # fmt: skip
    if record.hidden_inspection is not None:
        raise InputError(
            f"“{record.board.name}” is being graded blind; reveal that inspection in the window, then ask again."
        )
    own = view_of(record)
    view = View(
        own.failing_grade if arguments.failing_grade is None else arguments.failing_grade,
        own.measure if arguments.measure is None else _MEASURES[arguments.measure],
        clock,
        own.compared if arguments.compare is None else cast("Compared", arguments.compare),
    )
    return FindingsAsked(record, view, weather, None, settings or load_settings(), board)


# ---- for people


def _lines(findings: Findings) -> Iterator[str]:
    yield findings.subject.record.board.name
    yield ""
    for each in findings.verdict:
        yield each.text()
    if findings.groups:
        yield ""
        yield from _groups(findings)
    if findings.comparing.compared:
        yield ""
        yield from _comparisons(findings)
    if findings.cautions:
        yield ""
        yield "Before you trust this:"
        for each in findings.cautions:
            yield f"- {each.text()}"
    if findings.growth is not None and findings.growth.advice:
        yield ""
        yield "Is it time to stop?"
        for each in findings.growth.advice:
            yield f"- {each.text()}"


def _groups(findings: Findings) -> Iterator[str]:
    titles = ("Treatment", "Coupons", "Mean", "Spread", "Letters", "Failed", "Half failed by")
    rows = [
        (
            each.group.name,
            str(len(each.counted)),
            _number(each.mean, 2),
            _number(each.sd, 2),
            each.rank_group or "–",
            f"{each.failed} of {len(each.counted)}",
            _number(each.median_to_failure, 1),
        )
        for each in findings.groups
    ]
    yield plain_table(titles, rows, right=frozenset(titles[1:4] + titles[5:]))
    if any(each.rank_group for each in findings.groups):
        yield (
            "Treatments that share a letter cannot be told apart (all pairs together, 5 in 100; that asks more than "
            "comparisons with the controls alone, so two of one letter may differ there)."
        )


def _comparisons(findings: Findings) -> Iterator[str]:
    titles = ("", "against", "Difference", "from", "to", "p, model", "p, exact", "smallest", "p, family", "")
    rows = []
    for each in findings.comparing.compared:
        model, exact = each.model, each.exact
        rows.append(
            (
                each.comparison.a,
                each.comparison.b,
                _number(None if model is None else model.difference, 2),
                _number(None if model is None else model.low, 2),
                _number(None if model is None else model.high, 2),
                _p(None if model is None else model.p),
                _p(None if exact is None else exact.p),
                _p(None if exact is None else exact.smallest),
                _family_p(exact),
                _STANDINGS[each.standing],
            )
        )
    yield plain_table(titles, rows, right=frozenset(titles[2:9]))
    yield (
        "Intervals (95 %) and p of the model hold for all comparisons together. p, exact: of one comparison alone, "
        "by all ways the coupons could have hung; smallest: the smallest it could be; p, family: closed testing, "
        "≥ where it is that at least."
    )


def _number(value: float | None, decimals: int) -> str:
    return "–" if value is None else f"{round(value, decimals) + 0.0:.{decimals}f}"


def _family_p(exact: ExactResult | None) -> str:
    if exact is None:
        return _p(None)
    return f"≥{_p(exact.p_family)}" if exact.at_least and exact.p_family is not None else _p(exact.p_family)


def _p(value: float | None) -> str:
    if value is None:
        return "–"
    return "<0.0001" if value < 0.0001 else f"{value:.4f}"
