"""Keeping a picture of a chart where the user says."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from rustboard.session.new_board import folder_name
from rustboard.support.files import write_whole
from rustboard.support.problems import InputError
from rustboard.ui.ask import Asker

if TYPE_CHECKING:
    from rustboard.ui.charts.view import ChartView


def save_chart(
    view: ChartView, asker: Asker, folder: Path, refuse: Callable[[InputError], None], about: str = ""
) -> Path | None:
    """Ask where a picture is to be kept, and write it: as SVG where its name ends so, else as PNG.

    Args:
        view: has the picture.
        asker: asks.
        folder: where to begin.
        refuse: shows what the disk refused.
        about: what the name begins with, such as that of the board.

    Returns:
        The file written, or None.
    """
    chart = view.chart()
    if chart is None:
        return None
    start = f"{folder_name(about)} - {folder_name(chart.title)}" if about else folder_name(chart.title)
    title = QCoreApplication.translate("pictures", "Save the picture")
    kinds = QCoreApplication.translate("pictures", "Pictures (*.png *.svg)")
    path = asker.save_file(title, folder / f"{start}.png", kinds)
    if path is None:
        return None
    if path.suffix.casefold() not in (".png", ".svg"):
        path = path.with_name(f"{path.name}.png")
    try:
        write_whole(path, view.svg() if path.suffix.casefold() == ".svg" else view.png())
    except InputError as error:
        refuse(error)
        return None
    return path
