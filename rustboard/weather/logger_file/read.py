"""The readings of a logger's file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rustboard.board.weather import Quantity
from rustboard.support.problems import Problem
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.options import FileOptions
from rustboard.weather.readings import ReadingTable


@dataclass(frozen=True, slots=True)
class ReadLoggerFile:
    """What was read of a file.

    Attributes:
        table: all rows with a time and at least one number, in the order of the file, repeated ones included; only
            quantities of which there is at least one number.
        left_out: rows without a time or without any number.
        told: what is wrong with rows and cells, in words, with row as the line in the file and the column's title; at
            most `rustboard.board.weather.MOST_TOLD`.
        missing: of each quantity, rows in the table where its cell is empty or says that there is no reading.
        unusable: of each quantity, rows in the table where its cell holds no number, or one that cannot be true.
        repeated_times: rows in the table whose time was there before. repeated_rows: those of them with the very same
            numbers.
    """

    table: ReadingTable
    left_out: int
    told: tuple[Problem, ...]
    missing: Mapping[Quantity, int]
    unusable: Mapping[Quantity, int]
    repeated_times: int
    repeated_rows: int


def read_logger_file(text: LoggerText, options: FileOptions) -> ReadLoggerFile:
    """Read a file. A second or two for a million rows: for a job.

    Raises:
        InputError: the options cannot be (see `rustboard.weather.logger_file.options.check_options`), more than
            `rustboard.board.weather.MOST_READINGS` rows, or no row can be used.
    """
    raise NotImplementedError
