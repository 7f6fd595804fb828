"""Putting outcomes on standard output and standard error, whatever console or pipe is behind them."""

from __future__ import annotations

import errno
import json
import math
import os
import sys
from typing import Any, TextIO

from rustboard.app.commands.outcome import Outcome
from rustboard.support.problems import InputError
from rustboard.support.text import printable


class ReaderLeftError(Exception):
    """Nobody reads standard output any more: ``rustboard grades BOARD | head`` has seen enough."""


def prepare_streams() -> None:
    """Make both streams take any text: UTF-8 into files and pipes; characters a console lacks as escapes."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is None:  # no stream at all, or one that a program around us put there
            continue
        reconfigure(errors="backslashreplace")
        if not stream.isatty() and "PYTHONIOENCODING" not in os.environ:
            reconfigure(encoding="utf-8", errors="backslashreplace")


def print_outcome(outcome: Outcome, *, as_json: bool) -> None:
    """Print what was done on standard output and the problems on standard error, one a line.

    Raises:
        ReaderLeftError: standard output was closed by its reader.
        InputError: standard output is a file that could not be written.
    """
    for problem in outcome.problems:
        tell(problem.sentence())
    if as_json:
        put(sys.stdout, as_json_text(outcome.data) + "\n")
    elif outcome.verbatim:
        put(sys.stdout, outcome.text)
    elif outcome.text:
        put(sys.stdout, printable(_whole(outcome.text), lines=True) + "\n")


def tell(sentence: str) -> None:
    """Print one line on standard error."""
    try:
        put(sys.stderr, printable(_whole(sentence)) + "\n")
    except (ReaderLeftError, InputError):
        return  # there is nobody left to tell


def _whole(text: str) -> str:
    """Put file names together again that Python took apart into bytes because the locale knows only ASCII."""
    try:
        return text.encode("utf-8", "surrogateescape").decode("utf-8", "replace")
    except UnicodeEncodeError:  # surrogates that are no bytes of a file name
        return text


def put(stream: TextIO | None, text: str) -> None:
    """Write a text and see that it has left the program; raises as `print_outcome`."""
    if stream is None:
        return
    try:
        stream.write(text)
        stream.flush()
    except OSError as error:
        _silence(stream)
        # Windows reports a pipe that nobody reads as an invalid argument.
        if error.errno in {errno.EPIPE, errno.EINVAL}:
            raise ReaderLeftError from error
        raise InputError(
            f"The output could not be written ({error.strerror}); free some space or choose another place for it."
        ) from error


def _silence(stream: TextIO) -> None:
    """Let what is still in a stream's buffer go nowhere, or Python complains about it when it ends."""
    try:
        number = stream.fileno()
    except (OSError, ValueError):
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, number)
    os.close(nowhere)


def as_json_text(data: object) -> str:
    r"""Return JSON in ASCII, so that no console alters it (``\u00e9`` for é); infinite numbers become ``null``.

    A list is written one element a line.
    """
    if isinstance(data, list):
        return "[\n" + ",\n".join(_dumped(each) for each in data) + "\n]" if data else "[]"
    return _dumped(data, indent=1)


def _dumped(data: object, indent: int | None = None) -> str:
    try:
        return json.dumps(data, indent=indent, allow_nan=False)
    except ValueError:
        return json.dumps(_finite(data), indent=indent, allow_nan=False)


def _finite(data: Any) -> Any:
    """Return the data with None for numbers that JSON does not have."""
    if isinstance(data, float):
        return data if math.isfinite(data) else None
    if isinstance(data, dict):
        return {key: _finite(value) for key, value in data.items()}
    if isinstance(data, list | tuple):
        return [_finite(each) for each in data]
    return data
