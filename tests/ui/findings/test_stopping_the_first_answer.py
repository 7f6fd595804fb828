"""Stopping the findings before there is a first answer."""

from __future__ import annotations

from later import Later
from window_driving import Desk, graded, made_board, settle


def test_stopped_before_the_first_answer_nothing_is_worked_out_until_asked_again(qapp, tmp_path, desk: Desk):
    folder = graded(made_board(tmp_path / "Fence"), 1, {"C01": 9, "C02": 4})
    later = Later()
    waiting = Desk(desk.settings, executor=lambda: later)
    person = waiting.sit_down(folder)
    try:
        later.run()
        person.do("findings.show")
        settle()
        screen = person.window.findings.screen
        assert screen is not None
        assert later.waiting
        screen.head.stop.click()
        later.run()
        assert screen.findings is None
        assert screen.head.again.isVisible()
        screen.head.again.click()
        later.run()
        assert screen.findings is not None
        assert screen.findings.complete
    finally:
        waiting.close_all()
