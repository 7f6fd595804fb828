"""The report on pages and in pictures, written beside and put in place in one step; jobs, without a window."""

from __future__ import annotations

import os
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

from rustboard.session.jobs import Progress
from rustboard.support.file_sets import write_together
from rustboard.support.files import replace_file
from rustboard.support.problems import InputError
from rustboard.support.writing_out import not_written

if TYPE_CHECKING:
    from rustboard.report.content import ReportContent
    from rustboard.report.drawings.svg import Drawing

Which = Literal["board", "timeline"]
PICTURE_PX: Final = 1_600
"""Width of a picture where nobody asks for another."""
_FORMS: Final[dict[str, Literal["pdf", "png", "svg"]]] = {".pdf": "pdf", ".png": "png", ".svg": "svg"}
LEAST_PX: Final = 200
MOST_PX: Final = 10_000


def write_pdf(content: ReportContent, path: Path, progress: Progress) -> Path:
    """Write the report as a PDF, the parts that were chosen; return where.

    Raises:
        InputError: the disk refused.
        Cancelled: ``progress`` was asked to stop; the file is as it was.
    """
    from rustboard.report.pages.report_pdf import report_pdf

    data = report_pdf(content, step=progress.step)
    progress.step(1, 1)
    _put(path, data, "report")
    return path


def write_one_page(content: ReportContent, path: Path, progress: Progress) -> Path:
    """Write the one-page summary as PDF, PNG or SVG by the name, with a twin of its words beside it; return where.

    The twin is a text file of the same name that ends in ``.txt``, for a post.

    Raises:
        InputError: the name ends otherwise, or the disk refused.
        Cancelled: ``progress`` was asked to stop; both files are as they were.
    """
    from rustboard.report.pages.one_page import one_page

    form = _form(path, (".pdf", ".png", ".svg"))
    progress.step(0, 2)
    page = one_page(content, _FORMS[form])
    progress.step(1, 2)
    try:
        real = Path(os.path.realpath(path))  # a link keeps pointing where it did
        twin = words_beside(real)
        write_together(
            real.parent, {real.name: page.data, twin.name: page.words.encode()}, partial(progress.step, 2, 2)
        )
    except InputError as error:
        why = error.__cause__
        if isinstance(why, (OSError, ValueError)):  # the same sentences as for the other forms
            raise not_written(why, path, "summary") from why
        raise
    return path


def words_beside(path: Path) -> Path:
    """Return where the words of a one-page summary are."""
    return path.with_suffix(".txt")


def write_picture(
    content: ReportContent, which: Which, path: Path, progress: Progress, *, width_px: int = PICTURE_PX
) -> Path:
    """Write the board as it was last graded, or the timeline along the chosen clock, as PNG or SVG by the name.

    Raises:
        InputError: the name ends otherwise, the width cannot be, or the disk refused.
        Cancelled: ``progress`` was asked to stop; the file is as it was.
    """
    from rustboard.report.pages.setting import picture_of

    form = _form(path, (".png", ".svg"))
    if not LEAST_PX <= width_px <= MOST_PX:
        raise InputError(f"A picture is {LEAST_PX} to {MOST_PX} px wide; choose a width between.", file=path.name)
    progress.step(0, 2)
    drawing = _drawn(content, which)
    progress.step(1, 2)
    width = _bounded(drawing, width_px)
    data = drawing.at_width(width) if form == ".svg" else picture_of(drawing, width, content.generated)
    progress.step(2, 2)
    _put(path, data, "picture")
    return path


def _drawn(content: ReportContent, which: Which) -> Drawing:
    if which == "timeline":
        from rustboard.report.drawings.timeline_drawing import timeline_drawing

        return timeline_drawing(content, 640.0)
    from rustboard.report.drawings.board_drawing import board_picture

    return board_picture(content)


def _bounded(drawing: Drawing, width_px: int) -> int:
    """Return the width at which a very high drawing stays a picture that programs can open."""
    return max(1, min(width_px, int(MOST_PX * 2 * drawing.width / max(drawing.height, 1.0))))


def _form(path: Path, endings: tuple[str, ...]) -> str:
    ending = path.suffix.lower()
    if ending not in endings:
        said = " or ".join(endings)
        raise InputError(f"The name of the file must end in {said}; give it one of these.", file=path.name)
    return ending


def _put(path: Path, data: bytes, what: str) -> None:
    try:
        replace_file(Path(os.path.realpath(path)), data)  # a link keeps pointing where it did
    except (OSError, ValueError) as error:
        raise not_written(error, path, what) from error
