"""The outline editor while something else goes on beside it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from later import Later
from photo_bench import Bench
from photographed_boards import outline, photographed
from PySide6.QtWidgets import QApplication
from window_driving import settle

from rustboard.operations.coupons import take_off
from rustboard.session import outline_suggestions
from rustboard.session.outline_suggestions import Suggestions
from rustboard.ui.bridge import JobBridge
from rustboard.ui.outline_commands import OutlineCommands
from rustboard.ui.outlines.dialog import OutlinesDialog
from rustboard.ui.outlines.parts import Part
from rustboard.ui.outlines.shapes import moved
from rustboard.ui.theme import LIGHT


@pytest.fixture
def bench(qapp: QApplication, tmp_path: Path) -> Iterator[Bench]:
    bench = Bench(photographed(tmp_path / "Yard", (200,)))
    yield bench
    bench.close()


def test_what_was_recorded_meanwhile_is_not_undone_in_place_of_what_was_drawn(bench: Bench) -> None:
    commands = OutlineCommands(bench.widget, bench.answers, bench.do, bench.bridge, LIGHT)  # type: ignore[arg-type]
    bench.serve(commands)
    drawn = moved(outline(0), 5, 5)

    def work(dialog: OutlinesDialog) -> bool:
        dialog.choose(Part("outline", 1))
        dialog.outline_wanted.emit(1, drawn)
        bench.do(take_off, 4)  # stands for what measuring beside the window finds
        dialog.undo_asked.emit()
        settle()
        assert "meanwhile" in dialog.problem.text()
        assert not dialog._undo.isEnabled()
        dialog.outline_wanted.emit(2, moved(outline(1), 3, 3))
        dialog.undo_asked.emit()
        dialog.reject()
        return False

    bench.answers.dialogs = [work]
    commands.edit_outlines()
    coupons = bench.session.record.coupons
    assert coupons[4].position is None
    assert coupons[1].outline_mm == drawn
    assert coupons[2].outline_mm == outline(1), "what was drawn afterwards is undone as ever"


def test_what_was_drawn_while_outlines_were_looked_for_stays(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    later = Later()
    bench.bridge = JobBridge(bench.widget, later)
    commands = OutlineCommands(bench.widget, bench.answers, bench.do, bench.bridge, LIGHT)  # type: ignore[arg-type]
    bench.serve(commands)
    drawn, suggested = moved(outline(0), 5, 5), {1: moved(outline(0), 9, 9), 2: moved(outline(1), 9, 9)}
    monkeypatch.setattr(outline_suggestions, "suggest_outlines", lambda *given: Suggestions(suggested, ()))

    def work(dialog: OutlinesDialog) -> bool:
        later.run()
        dialog.suggest_asked.emit([1, 2])
        dialog.outline_wanted.emit(1, drawn)
        later.run()
        dialog.reject()
        return False

    bench.answers.dialogs = [work]
    commands.edit_outlines()
    coupons = bench.session.record.coupons
    assert coupons[1].outline_mm == drawn
    assert coupons[2].outline_mm == suggested[2]
