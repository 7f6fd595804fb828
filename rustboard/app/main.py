"""The command line: which command, its arguments, its exit code; and what happens when the program is at fault.

Exit codes: 0 done; 1 done, but something was refused and is listed; 2 could not; 130 stopped with Ctrl-C; 141 when
whoever read the output left.
"""

from __future__ import annotations

import argparse
import difflib
import importlib
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Final, NoReturn, Protocol, cast

import rustboard
from rustboard.app.commands.outcome import COULD_NOT, Outcome, Tell, refusal
from rustboard.app.commands.printing import ReaderLeftError, prepare_streams, print_outcome, tell
from rustboard.app.crash import keep_log_lines, report_fault
from rustboard.support.problems import InputError, Problem

INTERRUPTED: Final = 130
READER_LEFT: Final = 141

COMMANDS: Final = {
    "demo": "write two demo boards and open the first",
    "new": "make a new board, from a plan or empty",
    "add-photos": "add photographs of the board",
    "add-grades": "add grades typed elsewhere, from a CSV file",
    "add-weather": "add readings of weather loggers, from CSV files",
    "measure": "measure the rust in a board's photos",
    "grades": "print the grades as a table, CSV or JSON",
    "agreement": "say how graders agree, after blind inspections",
    "exposure": "tell the weather from inspection to inspection",
    "findings": "say which treatment beat which, and how sure that is",
    "report": "write the workbook",
    "pack": "pack a board into one file to send",
    "unpack": "open a packed board that somebody sent",
    "import-grades": "make a new board of an old table of grades",
    "check": "see whether a board's file and photos are sound",
}
"""The commands and what they do. Each has a module of its name in `rustboard.app.commands`, loaded when asked for."""

_EPILOG = "\n".join(
    [
        "commands:",
        *(f"  {name:<14}{does}" for name, does in COMMANDS.items()),
        "",
        "“rustboard COMMAND --help” says what a command takes. A board whose folder is named like a command is",
        "given as ./NAME. Exit code 0: done; 1: done, but something was refused and is listed; 2: could not.",
    ]
)


class _Command(Protocol):
    """What each module of `rustboard.app.commands` that is a command offers."""

    def add_arguments(self, parser: argparse.ArgumentParser) -> None: ...

    def carry_out(self, arguments: argparse.Namespace, tell: Tell) -> Outcome: ...


class _Parser(argparse.ArgumentParser):
    """A parser whose complaints are sentences."""

    def error(self, message: str) -> NoReturn:
        text = message[:1].upper() + message[1:].removesuffix(".")
        raise InputError(f"{text}. See “{self.prog} --help”.")


def run(argv: list[str] | None = None) -> int:
    """Carry out a command line and return the exit code; nothing but an exit code leaves this function.

    Args:
        argv: the arguments without the program's name; None = those that the program was started with.
    """
    arguments = sys.argv[1:] if argv is None else argv
    as_json = "--json" in arguments
    prepare_streams()
    keep_log_lines()
    try:
        outcome = _carried_out(arguments)
        if outcome.afterwards is None:
            return outcome.code
        as_json = False  # one JSON text is out already, and two are none
        return outcome.afterwards()
    except KeyboardInterrupt:
        return INTERRUPTED
    except ReaderLeftError:
        return READER_LEFT
    except SystemExit as finished:  # the parser has printed a help text or the version
        return finished.code if isinstance(finished.code, int) else 0
    except InputError as error:
        return _refused(error.problem, as_json)
    except Exception as error:  # noqa: BLE001 - the one place where a fault of ours ends
        return _refused(Problem(report_fault(error)), as_json)


def _refused(problem: Problem, as_json: bool) -> int:
    try:
        print_outcome(refusal(problem), as_json=as_json)
    except (ReaderLeftError, InputError):
        return COULD_NOT
    return COULD_NOT


def _carried_out(arguments: Sequence[str]) -> Outcome:
    """Do what a command line asks and print it; what is left to do afterwards is not done yet."""
    if arguments and arguments[0] in COMMANDS:
        name = arguments[0]
        command = _command(name)
        parser = _Parser(prog=f"rustboard {name}", description=_sentence(COMMANDS[name]), allow_abbrev=False)
        command.add_arguments(parser)
        chosen = parser.parse_args(arguments[1:])
    else:
        command = _command("window")
        chosen = _window_arguments(arguments)
    outcome = command.carry_out(chosen, tell)
    print_outcome(outcome, as_json=getattr(chosen, "json", False))
    return outcome


def _command(name: str) -> _Command:
    return cast("_Command", importlib.import_module(f"rustboard.app.commands.{name.replace('-', '_')}"))


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


def _window_arguments(arguments: Sequence[str]) -> argparse.Namespace:
    """Read the command line of the window: nothing, or a board."""
    parser = _Parser(
        prog="rustboard",
        usage="rustboard [BOARD]\n       rustboard COMMAND ...",
        description="Plan, grade and judge boards of coated steel coupons exposed to the weather. Without a command "
        "the window opens: on BOARD, or on the shelf of all boards.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument(
        "board", metavar="BOARD", nargs="?", type=Path, help="a board's folder or board.rustboard file"
    )
    parser.add_argument("--version", action="version", version=f"rustboard {rustboard.__version__}")
    chosen, rest = parser.parse_known_args(arguments)
    first = arguments[0] if arguments else ""
    if rest or (chosen.board is not None and not os.path.exists(chosen.board) and chosen.board.name == first):
        if first.startswith("-"):
            parser.error(f"there is no option {rest[0]}" if rest else f"there is no board {first}")
        raise InputError(_not_a_command(first, os.path.exists(first)))
    return chosen


def _not_a_command(first: str, is_there: bool) -> str:
    if is_there:
        return f"The board {first} is given alone, without anything after it. See “rustboard --help”."
    near = difflib.get_close_matches(first, COMMANDS, n=1)
    hint = f"did you mean “rustboard {near[0]}”?" if near else f"the commands are {', '.join(COMMANDS)}."
    return f"“{first}” is neither a command nor a board; {hint}"
