"""``rustboard findings`` of several boards: treatments matched, differences board by board and pooled."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import cast

from rustboard.app.commands.outcome import Outcome, Tell
from rustboard.app.commands.plain_table import plain_table
from rustboard.board.exposure_clock import ClockKind
from rustboard.board.question import Compared, Measure
from rustboard.findings.boards.matching import Common, Matching
from rustboard.findings.boards.matching_changes import certain_only
from rustboard.session.boards_json import boards_data
from rustboard.session.findings import view_of
from rustboard.session.jobs import Progress
from rustboard.session.other_boards import (
    PooledBoards,
    PoolRequest,
    ReadBoards,
    ReadRequest,
    pool_boards,
    read_boards,
)


def carry_out_together(boards: Sequence[Path], arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Say what several boards show together. Works while windows have them open.

    Treatments are matched as the user confirmed it in the window for these boards; otherwise only those with the very
    same recipe are, and what is only likely the same is listed and left apart: nobody can be asked here.

    Raises:
        InputError: a board cannot be read or is being graded blind, or one of them does not have the clock.
    """
    read = read_boards(ReadRequest(tuple(boards)), Progress())
    if read.problem:
        tell(read.problem)
    matching = read.matching if read.confirmed else certain_only(read.matching)
    pooled = pool_boards(_request(read, matching, arguments), Progress())
    left = [] if read.confirmed else [each for each in read.matching.common if each.sure == "likely"]
    unsure = [_left_apart(each, read.matching) for each in left if not each.controls]
    data = boards_data(pooled)
    data["cautions"] = [*cast("list[str]", data["cautions"]), *unsure]
    return Outcome("\n".join(_lines(pooled, read, unsure)), data)


def _request(read: ReadBoards, matching: Matching, arguments: argparse.Namespace) -> PoolRequest:
    """Return what is asked: as the first board's question has it, where the arguments do not say otherwise."""
    own = view_of(read.records[0])
    compared = own.compared if arguments.compare is None else cast("Compared", arguments.compare)
    measure = own.measure if arguments.measure is None else cast("Measure", arguments.measure.replace("-", " "))
    return PoolRequest(
        read,
        matching,
        "control" if compared == "control" else "pairs",
        measure,
        own.failing_grade if arguments.failing_grade is None else arguments.failing_grade,
        cast("ClockKind", arguments.clock.replace("-", " ")),
    )


def _left_apart(row: Common, matching: Matching) -> str:
    boards = ", ".join(name for name, own in zip(matching.boards, row.treatments, strict=True) if own)
    return (
        f"{row.name} on {boards} is likely the same treatment, but not by its whole recipe; it was left apart. "
        "Confirm it in the window to put it together."
    )


def _lines(pooled: PooledBoards, read: ReadBoards, unsure: Sequence[str]) -> Iterator[str]:
    yield " + ".join(pooled.findings.boards)
    yield ""
    for each in pooled.findings.verdict:
        yield each.text()
    yield ""
    yield from _matched(pooled)
    if read.confirmed:
        yield "Treatments are matched as you confirmed it."
    else:
        yield "Only treatments with the very same recipe are matched; nothing was confirmed for these boards."
    if pooled.findings.pooled:
        yield ""
        yield from _compared(pooled)
    cautions = [*(each.text() for each in pooled.findings.cautions), *unsure]
    if cautions:
        yield ""
        yield "Before you trust this:"
        for text in cautions:
            yield f"- {text}"


def _matched(pooled: PooledBoards) -> Iterator[str]:
    titles = ("Treatment", *pooled.findings.boards, "How sure")
    rows = [
        (each.name, *(own or "–" for own in each.treatments), each.sure if each.boards > 1 else "one board only")
        for each in pooled.request.matching.common
    ]
    yield plain_table(titles, rows)


def _compared(pooled: PooledBoards) -> Iterator[str]:
    titles = ("", "against", "Board", "Coupons", "Difference", "from", "to", "Weight", "p, exact", "p, disagree")
    rows: list[tuple[str, ...]] = []
    for each in pooled.findings.pooled:
        for effect in each.effects:
            weight = f"{100 * effect.weight:.0f} %" if effect.weight > 0 else "–"
            figures = map(_number, (effect.difference, effect.low, effect.high))
            counts = f"{effect.units_a} and {effect.units_b}"
            rows.append((each.name_a, each.name_b, effect.board, counts, *figures, weight, "", ""))
        figures = map(_number, (each.difference, each.low, each.high))
        rows.append((each.name_a, each.name_b, "together", "", *figures, "", _p(each.p_exact_family), _p(each.q_p)))
    yield plain_table(titles, rows, right=frozenset(titles[4:]))
    yield (
        "Intervals: 95 %, each comparison by itself. p, exact: over all boards, none exchanged between boards, all "
        "comparisons here counted (Holm). p, disagree: that boards differ so much by luck alone (Cochran)."
    )


def _number(value: float | None) -> str:
    return "–" if value is None else f"{round(value, 2) + 0.0:.2f}"


def _p(value: float | None) -> str:
    if value is None:
        return "–"
    return "<0.0001" if value < 0.0001 else f"{value:.4f}"
