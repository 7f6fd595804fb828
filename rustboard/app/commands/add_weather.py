"""``rustboard add-weather``: readings of weather loggers."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Final, get_args

from rustboard.app.commands.opening import existing
from rustboard.app.commands.outcome import Outcome, Tell, problem_objects
from rustboard.board.clock_names import is_zone
from rustboard.board.record import site_of
from rustboard.operations.weather import add_weather_file, describe_site
from rustboard.session.jobs import Progress
from rustboard.session.session import Session
from rustboard.support.problems import InputError, Problem
from rustboard.support.settings import load_settings
from rustboard.support.text import counted, printable

if TYPE_CHECKING:
    from rustboard.session.weather_columns import OptionChanges, SaidColumn
    from rustboard.session.weather_intake import LoggerReading

_EXPLANATION = """
How a file is written is guessed, unless a kept profile fits its columns or an option says otherwise; what the guess
is not sure of is told on standard error, and the exit code is 0 all the same. Rows that cannot be used are left out
and listed, with exit code 1. The same file twice, read in the same way, adds nothing; read otherwise it takes its own
place. Files of one logger make one series. All files are added in one step, which the window can undo.
"""

_DELIMITERS: Final = {
    ",": ",", ";": ";", "|": "|", "\t": "\t", " ": " ", "\\t": "\t",
    "comma": ",", "semicolon": ";", "bar": "|", "tab": "\t", "blank": " ",
}  # fmt: skip
_DECIMAL_MARKS: Final = {".": ".", ",": ",", "point": ".", "comma": ","}
_DATE_ORDERS: Final = {"year-first": "year first", "day-first": "day first", "month-first": "month first"}


@dataclass(frozen=True, slots=True)
class _Added:
    """What became of one file."""

    reading: LoggerReading
    already_there: bool
    replaced: bool


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.epilog = _EXPLANATION
    add = parser.add_argument
    add("board", metavar="BOARD", type=Path, help="the board's folder or its board.rustboard file")
    add("files", metavar="FILE.csv", nargs="+", type=Path, help="loggers' files")
    add("--delimiter", metavar="MARK", help="what stands between cells: comma, semicolon, tab, bar or blank")
    add("--decimal", metavar="MARK", help="the decimal mark: point or comma")
    add("--date-order", metavar="ORDER", help="order of a date: year-first, day-first or month-first")
    add("--clock", metavar="CLOCK", help="what the times are told by: board, UTC, UTC+01:00 or Europe/Berlin")
    add("--header-rows", metavar="N", help="lines before the first row of readings")
    add(
        "--column", metavar="TITLE=QUANTITY[:UNIT]", action="append", default=[],
        help="what a column holds, by title or number, such as “T1=temperature:F” or “4=ignored”; may be repeated",
    )  # fmt: skip
    add("--logger", metavar="NAME", help="which logger wrote the files")
    add("--profile", metavar="NAME", help="read them by this kept profile")
    add("--save-profile", metavar="NAME", help="keep how the first file was read as a profile")
    add("--board-zone", metavar="ZONE", help="the zone of the board's own clock, kept with the board")
    add("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Add the readings of all files that can be used, in one step.

    Raises:
        InputError: an option cannot be, or the board cannot be read or written; nothing was added.
    """
    changes = _changes(arguments)
    zone: str | None = arguments.board_zone
    if zone is not None and not is_zone(zone):
        raise InputError(f"No zone is called “{zone[:60]}”; give one such as Europe/Berlin.")
    with closing(Session(existing(arguments.board), who=load_settings().grader)) as session:
        if session.read_only_reason:
            raise InputError(f"{session.read_only_reason.removesuffix('.')}; no reading was added.")
        added, problems = _add_all(session, arguments, changes, tell)
        return _outcome(session.record.board.name, added, problems)


def _add_all(
    session: Session, arguments: argparse.Namespace, changes: OptionChanges, tell: Tell
) -> tuple[list[_Added], list[Problem]]:
    from rustboard.session.weather_intake import zone_is_wanting

    added: list[_Added] = []
    problems: list[Problem] = []
    step = 0
    if arguments.board_zone is not None:
        changed = session.do(describe_site, replace(site_of(session.record), zone=arguments.board_zone))
        step = session.newest_step() if changed.tables else 0
    for path in dict.fromkeys(arguments.files):
        try:
            each = _read(session, path, arguments.profile, changes)
            if each.given is not None and session.do(add_weather_file, each.given, joins=step).tables:
                step = session.newest_step()
        except InputError as error:
            problems.append(error.located(file=path.name[:200]).problem)
            continue
        added.append(_Added(each, each.standing == "same", each.standing == "replaces"))
        if each.standing != "same":  # what was told when it was added is not told again
            _tell_doubts(each, tell)
            problems.extend(_left_out(each))
    if arguments.save_profile is not None and added:
        _keep(arguments.save_profile, added[0].reading)
    if any(zone_is_wanting(each.reading.options.clock, site_of(session.record).zone) for each in added):
        tell(
            "The board does not say which zone its own clock shows, so these times are taken as they are; say it "
            "with --board-zone."
        )
    return added, problems


def _read(session: Session, path: Path, profile: str | None, changes: OptionChanges) -> LoggerReading:
    from rustboard.session.weather_intake import ReadRequest, load_logger_file, read_readings

    record = session.record
    request = ReadRequest(
        load_logger_file(path, Progress()), changes=changes, profile=profile, zone=site_of(record).zone,
        on_board=tuple(record.weather_files.values()),
    )  # fmt: skip
    reading = read_readings(request, Progress())
    if reading.problem is not None:
        raise InputError(reading.problem.what, file=reading.problem.file)
    return reading


def _tell_doubts(reading: LoggerReading, tell: Tell) -> None:
    for each in reading.doubts:
        tell(f"{reading.file.name}: note: {each}")


def _left_out(reading: LoggerReading) -> list[Problem]:
    read = reading.read
    if read is None:
        return []
    told = list(read.told)
    untold = read.left_out - sum(each.row is not None for each in told)
    if untold > 0:
        told.append(Problem(f"{untold:,} more rows were left out.", reading.file.name))
    return told


def _keep(name: str, reading: LoggerReading) -> None:
    from rustboard.session.logger_profiles import LoggerProfiles

    LoggerProfiles().keep(name, reading.options)


# ---- what is said on the command line


def _changes(arguments: argparse.Namespace) -> OptionChanges:
    from rustboard.session.weather_columns import OptionChanges
    from rustboard.weather.logger_file.options import checked_clock

    clock: str | None = arguments.clock
    rows: str | None = arguments.header_rows
    if rows is not None and not (rows.isascii() and rows.isdecimal() and len(rows) <= 4):
        raise InputError(f"“{rows[:40]}” is no number of lines; give --header-rows a whole number such as 3.")
    return OptionChanges(
        delimiter=_one_of(arguments.delimiter, _DELIMITERS, "--delimiter"),  # type: ignore[arg-type]
        decimal_mark=_one_of(arguments.decimal, _DECIMAL_MARKS, "--decimal"),  # type: ignore[arg-type]
        date_order=_one_of(arguments.date_order, _DATE_ORDERS, "--date-order"),  # type: ignore[arg-type]
        clock=None if clock is None else "" if clock == "board" else checked_clock(clock),
        header_rows=None if rows is None else int(rows),
        logger=arguments.logger,
        columns=tuple(map(_column, arguments.column)),
    )


def _one_of(text: str | None, allowed: dict[str, str], option: str) -> str | None:
    if text is None:
        return None
    if text not in allowed:
        words = ", ".join(each for each in allowed if len(each) > 2)
        raise InputError(f"“{text[:40]}” cannot be; give {option} one of {words}.")
    return allowed[text]


def _column(text: str) -> SaidColumn:
    from rustboard.session.weather_columns import SaidColumn
    from rustboard.weather.logger_file.options import ROLES, Unit, fitting_unit

    name, separator, said = text.rpartition("=")
    word, _, unit = said.partition(":")
    role = next((each for each in ROLES if each == word.strip().replace("-", " ").replace("_", " ")), None)
    if not separator or role is None:
        raise InputError(
            f"“{text[:80]}” says of no column what it holds; write TITLE=QUANTITY or TITLE=QUANTITY:UNIT, with one "
            f"of {', '.join(ROLES)}."
        )
    if unit and unit not in get_args(Unit):
        raise InputError(f"“{unit[:20]}” is no unit; give one of {', '.join(filter(None, get_args(Unit)))}.")
    if unit and fitting_unit(role, unit) != unit:  # type: ignore[arg-type]
        raise InputError(f"A column of {role} cannot have the unit {unit}; see “rustboard add-weather --help”.")
    return SaidColumn(name.strip(), role, unit)


# ---- what is printed


def _outcome(board: str, added: Sequence[_Added], problems: Sequence[Problem]) -> Outcome:
    data = {"board": board, "files": [_object(each) for each in added], "problems": problem_objects(problems)}
    if not added:
        return Outcome(f"No reading was added; the board {board} is as it was.", data, tuple(problems), failed=True)
    return Outcome("\n".join(_line(each) for each in added), data, tuple(problems))


def _line(added: _Added) -> str:
    given = added.reading.given
    if given is None:  # never: a file without readings is a problem
        return ""
    name = printable(added.reading.file.name)
    if added.already_there:
        return f"{name}: on the board already, read in the same way; nothing was added."
    verb = "took the place of those the board had of this file" if added.replaced else "added"
    return (
        f"{name}: {counted(given.count, 'reading')} of {given.logger} {verb}, {given.first:%Y-%m-%d %H:%M} to "
        f"{given.last:%Y-%m-%d %H:%M}, {counted(given.left_out, 'row')} left out."
    )


def _object(added: _Added) -> dict[str, object]:
    reading = added.reading
    given, options = reading.given, reading.options
    columns = [{"title": each.title, "holds": each.role, "unit": each.unit} for each in options.columns]
    return {
        "file": reading.file.name,
        "logger": None if given is None else given.logger,
        "readings": 0 if given is None else given.count,
        "from": None if given is None else given.first.isoformat(),
        "to": None if given is None else given.last.isoformat(),
        "interval_seconds": reading.interval_seconds,
        "left_out": 0 if given is None else given.left_out,
        "already_there": added.already_there,
        "replaced": added.replaced,
        "clock": options.clock,
        "delimiter": options.delimiter,
        "decimal": options.decimal_mark,
        "date_order": options.date_order,
        "header_rows": options.header_rows,
        "columns": columns,
        "profile": reading.profile or None,
        "doubts": list(reading.doubts),
    }
