"""``rustboard``, ``rustboard BOARD`` and ``rustboard demo``, with stand-ins for the window and the painter."""

from __future__ import annotations

import json
import signal
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType

import pytest
from command_line import Rustboard

import rustboard.app.demo
import rustboard.ui
from rustboard.app.commands.new import make_board
from rustboard.app.commands.window import window_library_problem
from rustboard.board.model import Board, Plan
from rustboard.support.problems import InputError

pytestmark = pytest.mark.usefixtures("own_hooks")


@dataclass
class Screens:
    """What the stand-ins were asked for.

    Attributes:
        opened: board and whether it is the demo, once for each window.
        ends_with: what the window's loop returns or raises.
    """

    opened: list[tuple[Path | None, bool]] = field(default_factory=list)
    ends_with: int | Exception = 0

    def open_window(self, board: Path | None, *, demo: bool = False, make_demo: object = None) -> int:
        assert callable(make_demo)
        self.opened.append((board, demo))
        if isinstance(self.ends_with, Exception):
            raise self.ends_with
        return self.ends_with

    def write_pictures(self, boards: list[Path], folder: Path) -> list[Path]:
        pictures = [folder / f"{each.name}.png" for each in boards]
        for each in pictures:
            each.write_bytes(b"\x89PNG")
        return pictures


def build_demo(folder: Path, progress: Callable[[str, int, int], None]) -> list[Path]:
    boards = [folder / "Harbour wall", folder / "Porch roof"]
    for step, each in enumerate(boards):
        progress(f"Writing {each.name}", step, 2)
        progress(f"Writing {each.name}", step, 2)
        make_board(each, Plan(Board(each.name)))
    return boards


def stand_in(monkeypatch: pytest.MonkeyPatch, room: ModuleType, name: str, **offered: object) -> None:
    module = ModuleType(f"{room.__name__}.{name}")
    vars(module).update(offered)
    monkeypatch.setitem(sys.modules, module.__name__, module)
    monkeypatch.setattr(room, name, module, raising=False)


@pytest.fixture
def screens(monkeypatch: pytest.MonkeyPatch) -> Screens:
    screens = Screens()
    stand_in(monkeypatch, rustboard.ui, "start", open_window=screens.open_window)
    stand_in(monkeypatch, rustboard.ui, "pictures", write_pictures=screens.write_pictures)
    stand_in(monkeypatch, rustboard.app.demo, "build", build_demo=build_demo)
    return screens


@pytest.fixture
def no_display(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)


def test_alone_it_opens_the_shelf(rustboard: Rustboard, screens: Screens) -> None:
    assert rustboard().code == 0
    assert screens.opened == [(None, False)]


def test_a_board_is_opened_and_the_windows_code_returned(rustboard: Rustboard, screens: Screens, board: Path) -> None:
    screens.ends_with = 3
    assert rustboard(board).code == 3
    assert screens.opened == [(board, False)]


def test_a_board_named_like_a_command_is_given_with_its_folder(
    rustboard: Rustboard, screens: Screens, board: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(board.rename(board.with_name("new")).parent)
    assert rustboard("./new").code == 0
    assert screens.opened == [(Path("new"), False)]


def test_control_c_in_the_terminal_is_pythons_again_after_the_window(rustboard: Rustboard, screens: Screens) -> None:
    before = signal.getsignal(signal.SIGINT)
    rustboard()
    assert signal.getsignal(signal.SIGINT) is before


def test_a_board_that_the_window_refuses_is_explained(rustboard: Rustboard, screens: Screens, board: Path) -> None:
    screens.ends_with = InputError("This is not a board file.", file="board.rustboard")
    finished = rustboard(board)
    assert (finished.code, finished.err) == (2, "board.rustboard: This is not a board file.\n")


@pytest.mark.usefixtures("no_display")
def test_without_a_display_no_window_is_tried(rustboard: Rustboard, screens: Screens) -> None:
    finished = rustboard()
    assert finished.code == 2
    assert len(finished.sentences) == 1
    assert "There is no display here" in finished.err
    assert screens.opened == []


@pytest.mark.usefixtures("no_display")
@pytest.mark.parametrize("variable", ["DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"])
def test_any_kind_of_display_will_do(
    rustboard: Rustboard, screens: Screens, monkeypatch: pytest.MonkeyPatch, variable: str
) -> None:
    monkeypatch.setenv(variable, ":0")
    assert rustboard().code == 0
    assert screens.opened == [(None, False)]


def test_the_demo_is_written_and_its_first_board_opened(
    rustboard: Rustboard, screens: Screens, tmp_path: Path
) -> None:
    finished = rustboard("demo", tmp_path / "demo")
    assert finished.code == 0
    assert screens.opened == [(tmp_path / "demo" / "Harbour wall", True)]
    assert finished.sentences == ["Writing Harbour wall (0 %)", "Writing Porch roof (50 %)"]
    assert str(tmp_path / "demo" / "Porch roof") in finished.out


def test_the_demo_without_a_window_writes_workbooks_and_pictures(
    rustboard: Rustboard, screens: Screens, tmp_path: Path
) -> None:
    folder = tmp_path / "demo"
    finished = rustboard("demo", folder, "--no-window", "--json")
    assert finished.code == 0
    assert finished.data == {
        "folder": str(folder),
        "boards": [str(folder / "Harbour wall"), str(folder / "Porch roof")],
        "workbooks": [str(folder / "Harbour wall.xlsx"), str(folder / "Porch roof.xlsx")],
        "pages": [
            str(folder / f"{name}{rest}")
            for name in ("Harbour wall", "Porch roof")
            for rest in (".pdf", ", one page.pdf", ", one page.txt")
        ],
        "pictures": [str(folder / "Harbour wall.png"), str(folder / "Porch roof.png")],
        "problems": [],
        "verdicts": {
            str(folder / name): ["No coupon of this board was graded yet, so there is nothing to conclude."]
            for name in ("Harbour wall", "Porch roof")
        },
    }
    assert all(Path(each).exists() for name in ("workbooks", "pages", "pictures") for each in finished.data[name])
    assert screens.opened == []


@pytest.mark.usefixtures("no_display")
def test_the_demo_without_a_display_says_so_and_does_the_same(
    rustboard: Rustboard, screens: Screens, tmp_path: Path
) -> None:
    finished = rustboard("demo", tmp_path / "demo")
    assert finished.code == 0
    assert finished.sentences[0].startswith("There is no display here: ")
    for title in ("Boards:", "Workbooks:", "Pages:", "Pictures:"):
        assert title in finished.out.splitlines()
    assert screens.opened == []


def test_the_demo_without_a_window_library_still_writes_boards_and_workbooks(
    rustboard: Rustboard, screens: Screens, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class NoWindowLibrary(ModuleType):
        def __getattr__(self, name: str) -> object:
            raise ImportError("libEGL.so.1: cannot open shared object file", name="PySide6.QtGui")

    monkeypatch.setitem(sys.modules, "rustboard.ui.pictures", NoWindowLibrary("rustboard.ui.pictures"))
    finished = rustboard("demo", tmp_path / "demo", "--no-window", "--json")
    assert finished.code == 1
    assert (len(finished.data["workbooks"]), finished.data["pictures"]) == (2, [])
    assert "The window library cannot be loaded (libEGL.so.1" in finished.data["problems"][0]["sentence"]


def test_a_window_that_fails_after_json_adds_no_second_json(
    rustboard: Rustboard, screens: Screens, tmp_path: Path
) -> None:
    screens.ends_with = InputError("The board is gone.")
    finished = rustboard("demo", tmp_path / "demo", "--json")
    assert (finished.code, finished.sentences[-1]) == (2, "The board is gone.")
    assert len(json.loads(finished.out)["boards"]) == 2


def test_a_missing_module_of_our_own_is_a_fault_and_not_the_users() -> None:
    with pytest.raises(ImportError, match="no module named"):
        window_library_problem(ImportError("no module named rustboard.ui.nowhere", name="rustboard.ui.nowhere"))
