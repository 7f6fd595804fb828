"""Start rustboard from a checkout: private environment, system libraries, then the program or its tests.

Plain Python without dependencies. The syntax of this folder stays readable for Python 3.8, so that an old Python
ends in one plain sentence and not in a syntax error; what runs after `suitable_python` may count on Python 3.11.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from pathlib import Path

from messages import CannotStartError, say
from private_environment import Environment, clean_environment, environment_home
from system_libraries import has_display, have_system_libraries
from which_python import suitable_python

CHECKOUT = Path(__file__).resolve().parent.parent
TOOL_GROUPS = ("test", "check")


def hand_over(command: list[str], environment: dict[str, str]) -> None:
    """Run ``command`` in this process's place and end with its exit code; never returns."""
    sys.stdout.flush()
    if os.name == "posix":
        os.execvpe(command[0], command, environment)
    # Windows' exec returns to the shell at once, before the program ends.
    raise SystemExit(subprocess.call(command, env=environment))


def parser() -> argparse.ArgumentParser:
    """Return the reader of the command line."""
    top = argparse.ArgumentParser(prog="start.py", description="Install rustboard for this checkout and start it.")
    commands = top.add_subparsers(dest="do", metavar="COMMAND")
    demo = commands.add_parser("demo", help="write the demo boards, open the first (the default)")
    demo.add_argument("folder", nargs="?", default="rustboard-demo", help="where to; default: rustboard-demo")
    demo.add_argument("--no-window", action="store_true", help="only write the boards, workbooks, pictures and pages")
    run = commands.add_parser("run", help="open the window on the shelf, or on BOARD")
    run.add_argument("board", nargs="?", help="a board's folder")
    commands.add_parser("test", help="run all tests; what follows is handed to pytest")
    tool = commands.add_parser("tool", help="run a development tool of the environment: ruff, mypy, lint-imports...")
    tool.add_argument("name")
    return top


def understood(arguments: list[str]) -> argparse.Namespace:
    """Return what the command line asks for; ``rest`` is what belongs to pytest or to the tool."""
    own = {"test": 1, "tool": 2}.get(arguments[0] if arguments else "", len(arguments))
    chosen = parser().parse_args(arguments[:own] or ["demo"])
    chosen.rest = arguments[own:]
    return chosen


def command_line(chosen: argparse.Namespace, environment: Environment, variables: dict[str, str]) -> list[str]:
    """Return the command to hand over to; ``variables`` gets what it needs around it.

    Raises:
        CannotStartError: a window was asked for where none can be shown.
    """
    if chosen.do == "test":
        variables["QT_QPA_PLATFORM"] = "offscreen"
        os.chdir(environment.checkout)
        # On all cores; the tests of one file stay together, because they share what is dear to make.
        return [environment.program("python"), "-m", "pytest", "-n", "auto", "--dist", "loadfile", *chosen.rest]
    if chosen.do == "tool":
        os.chdir(environment.checkout)
        return [environment.program(chosen.name), *chosen.rest]
    window = has_display(variables)
    if chosen.do == "run":
        if not window:
            raise CannotStartError("There is no display here, so no window can open; `start.py demo` works without.")
        return [environment.program("rustboard"), *([chosen.board] if chosen.board else [])]
    if window and not chosen.no_window:
        return [environment.program("rustboard"), "demo", chosen.folder]
    if not window:
        say("There is no display here: the demo is written as boards, workbooks, pictures of the window and pages.")
    variables["QT_QPA_PLATFORM"] = "offscreen"
    return [environment.program("rustboard"), "demo", chosen.folder, "--no-window"]


def start(arguments: list[str]) -> None:
    """Do what the command line asks; ends in the started program."""
    chosen = understood(arguments)
    python = suitable_python()
    if python:
        hand_over([*python, str(Path(__file__).resolve()), *arguments], dict(os.environ))
    tools = chosen.do in {"test", "tool"}
    have_system_libraries(window=not tools and has_display(dict(os.environ)))
    environment = Environment(environment_home(CHECKOUT, dict(os.environ)), CHECKOUT)
    environment.prepare(TOOL_GROUPS if tools else ())
    variables = clean_environment()
    command = command_line(chosen, environment, variables)
    if not Path(command[0]).exists():
        raise CannotStartError(f"There is no command {Path(command[0]).name} in the environment.")
    hand_over(command, variables)


def main(arguments: list[str]) -> int:
    """Start, and turn what can go wrong outside of the program into one sentence; return the exit code."""
    try:
        start(arguments)
    except CannotStartError as error:
        print(error, file=sys.stderr)
    except KeyboardInterrupt:
        print("Stopped. Start again at any time.", file=sys.stderr)
        return 130
    except OSError as error:
        where = f" ({error.filename})" if error.filename else ""
        print(
            f"The computer refused: {error.strerror or error}{where}. Mend that, then start again.", file=sys.stderr
        )
    return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
