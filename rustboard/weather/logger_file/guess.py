"""A guess how a logger's file is written, and what is not certain in it."""

from __future__ import annotations

from dataclasses import dataclass

from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.options import FileOptions


@dataclass(frozen=True, slots=True)
class Guess:
    """What a file seems to be.

    Attributes:
        options: the best guess.
        doubts: what the file does not settle, one plain sentence each; empty when all is settled.
    """

    options: FileOptions
    doubts: tuple[str, ...] = ()


def guess_options(text: LoggerText) -> Guess:
    """Guess how a file is written, from a sample of its lines.

    Raises:
        InputError: no line holds a time, or none holds a number beside it: this is no file of readings.
    """
    raise NotImplementedError
