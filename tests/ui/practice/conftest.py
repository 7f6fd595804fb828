"""The practice dialog over the window with all boards; its coupons take no time to draw."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
from window_driving import Desk, settle

from rustboard.scales.practice import PracticeCoupon
from rustboard.scales.practice_coupons import PaintedCoupon
from rustboard.session.jobs import InlineExecutor, Progress
from rustboard.session.practice import Practice
from rustboard.support import paths
from rustboard.ui.bridge import JobBridge
from rustboard.ui.practice import dialog as dialog_module
from rustboard.ui.practice.dialog import PracticeDialog
from rustboard.ui.theme import LIGHT

Open = Callable[..., PracticeDialog]


def quick_coupon(coupon: PracticeCoupon, progress: Progress | None = None) -> PaintedCoupon:
    """Return a coupon of few pixels, its colour telling its number, that says the true percent."""
    rust = np.zeros((12, 8), np.bool_)
    rust[3, 2:5] = True
    rgb = np.full((12, 8, 3), 100 + coupon.number, np.uint8)
    rgb[rust] = (180, 90, 40)
    return PaintedCoupon(coupon, rgb, np.ones_like(rust), rust, coupon.percent)


@pytest.fixture
def file() -> Path:
    return paths.practice_file()


@pytest.fixture
def practising(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> Iterator[Open]:
    """Opens the dialog for somebody; the seed decides the coupons."""
    monkeypatch.setattr(dialog_module, "paint_practice_coupon", quick_coupon)
    bridge = JobBridge(executor=InlineExecutor())
    opened: list[PracticeDialog] = []

    def show(grader: str = "Ann", seed: int = 5, own_bridge: JobBridge | None = None) -> PracticeDialog:
        practice = Practice(draw_seed=lambda bits: seed)
        found = PracticeDialog(practice, own_bridge or bridge, LIGHT, grader)
        opened.append(found)
        found.show()
        found.activateWindow()
        settle()
        return found

    yield show
    for each in opened:
        each._practice._entries.clear()  # what a test left off the disk is not asked about
        each.close()
        each.deleteLater()
    bridge.close()
    settle()
