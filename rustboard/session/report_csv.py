"""The data of a report as CSV files, the twins of the workbook's data sheets."""

from __future__ import annotations

import codecs
from pathlib import Path
from typing import TYPE_CHECKING

from rustboard.session.jobs import Progress
from rustboard.support.file_sets import write_together
from rustboard.support.files import disk_problem

if TYPE_CHECKING:
    from rustboard.report.content import ReportContent


def write_data_csv(content: ReportContent, folder: Path, progress: Progress) -> list[Path]:
    """Write all data of a board as CSV files into a folder, all or none; return where they are.

    The files are UTF-8 and begin with its byte order mark: without it the most used spreadsheet program takes a file
    that is double-clicked for one in the old code page of its system and shows every “é” and “µ” wrong; others, and
    pandas, know the mark and leave it out. After the mark, the grades are letter for letter what `rustboard grades
    --csv` prints. A table for which the board has nothing is written with its headings alone, so that scripts find
    the same files for every board.

    Raises:
        InputError: the folder cannot be made or the disk refused; nothing was changed.
        Cancelled: ``progress`` was asked to stop; nothing was changed.
    """
    from rustboard.report.data_tables import DATA_TABLES  # brings the workbook's library with it

    steps = len(DATA_TABLES) + 1
    files: dict[str, bytes] = {}
    for number, table in enumerate(DATA_TABLES):
        progress.step(number, steps)
        files[table.file] = codecs.BOM_UTF8 + table.csv(content).encode()
    progress.step(len(DATA_TABLES), steps)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise disk_problem(error, folder) from error

    def last_look() -> None:
        progress.step(len(DATA_TABLES), steps)

    return write_together(folder, files, last_look)
