"""A report in all the forms wanted: worked out once, each made beside its place, all put there together."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.session.jobs import Progress
from rustboard.session.report_forms_wanted import FormKind, FormTarget
from rustboard.session.report_targets import TargetHeldError, first_held, staged

if TYPE_CHECKING:
    from rustboard.report.content import ReportContent
    from rustboard.session.report_pages import Which
    from rustboard.session.reporting import ReportRequest

STEP_PARTS: Final = 100
"""Into which each step is divided, as progress is told."""

_Writer = Callable[["ReportContent", Path, Progress], object]


def step_names(targets: Sequence[FormTarget]) -> tuple[str, ...]:
    """Return what is done, in order, for progress told as `STEP_PARTS` of each."""
    return ("gathering", *(each.kind for each in targets), "placing")


def write_forms(
    request: ReportRequest, targets: Sequence[FormTarget], replaceable: frozenset[Path], progress: Progress
) -> list[Path]:
    """Write a report in several forms; return the files. A job: stopped or refused, all files are as they were.

    Args:
        request: what it is written from.
        targets: the forms, and where they go.
        replaceable: files that are replaced although a lock lies beside them.
        progress: told by `step_names`.

    Raises:
        TargetHeldError: another program has one of the files open.
        InputError: the disk refused, or something of the board is damaged.
        Cancelled: ``progress`` was asked to stop.
    """
    from rustboard.session.reporting import gather_content

    found = first_held([each for each in targets if each.path not in replaceable])
    if found is not None:
        raise TargetHeldError(found)
    steps = len(targets) + 2
    with staged(targets) as staging:
        content = gather_content(request, _Step(progress, 0, steps))
        for number, target in enumerate(targets):
            step = _Step(progress, number + 1, steps)
            step.step(0, 1)
            _writer(target.kind)(content, staging.part(number), step)
        progress.step((steps - 1) * STEP_PARTS, steps * STEP_PARTS)  # the last moment to think better of it
        return staging.put_in_place()


class _Step(Progress):
    """One step of several; what it tells is told as a part of the whole."""

    def __init__(self, whole: Progress, number: int, steps: int) -> None:
        super().__init__()
        self._whole, self._number, self._steps = whole, number, steps

    @property
    def cancelled(self) -> bool:
        """Whether the whole was asked to stop."""
        return self._whole.cancelled

    def step(self, done: int, total: int) -> None:
        """Tell how far the whole is."""
        part = min(STEP_PARTS - 1, max(0, done) * STEP_PARTS // max(total, 1))
        self._whole.step(self._number * STEP_PARTS + part, self._steps * STEP_PARTS)


def _writer(kind: FormKind) -> _Writer:
    """Return what writes a form; each brings libraries that whoever writes another form does not need."""
    if kind == "workbook":
        return _write_workbook
    if kind == "data":
        from rustboard.session.report_csv import write_data_csv

        return write_data_csv
    from rustboard.session import report_pages

    if kind == "pdf":
        return report_pages.write_pdf
    return report_pages.write_one_page if kind == "one page" else partial(_write_picture, kind)


def _write_workbook(content: ReportContent, path: Path, progress: Progress) -> None:
    from rustboard.report.workbook import write_workbook

    write_workbook(content, path, partial(progress.step, 1, 2))


def _write_picture(which: Which, content: ReportContent, path: Path, progress: Progress) -> None:
    from rustboard.session.report_pages import write_picture

    write_picture(content, which, path, progress)
