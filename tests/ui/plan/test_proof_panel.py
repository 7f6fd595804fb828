"""What the board can prove, on the plan screen: at once what is counted, then what is simulated."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from concurrent.futures import Executor, ThreadPoolExecutor
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

import rustboard.ui.plan.proof_panel as panel_module
from rustboard.board.layout import Layout
from rustboard.board.model import Board, Coupon, Inspection, Plan, PlannedCoupon, Treatment
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.findings.proof import ProofRequest, proof_of
from rustboard.findings.proof_table import ProofTable
from rustboard.operations.coupons import add_coupon, move_coupon, take_off
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.layouts import draw_board_lots, set_grid
from rustboard.operations.questions import set_question
from rustboard.operations.treatments import add_treatment
from rustboard.session.jobs import InlineExecutor, Progress
from rustboard.session.new_board import create_from_plan
from rustboard.session.session import Session
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.plan.earlier_boards import EarlierBoards
from rustboard.ui.plan.proof_card import ProofCard, p_text
from rustboard.ui.plan.proof_panel import ProofPanel
from rustboard.ui.theme import DARK, apply_scheme

NOW = datetime(2026, 3, 2, 9)


def plan(
    rows: tuple[str, ...] = ("1144", "1144", "2244"), names: tuple[str, ...] = ("wax", "oil", "", "bare")
) -> Plan:
    coupons = tuple(
        PlannedCoupon(f"C{row}{column}", Position(row, column), f"T{char}", "control" if char == "4" else "test")
        for row, line in enumerate(rows)
        for column, char in enumerate(line)
        if char != "."
    )
    treatments = tuple(Treatment(f"T{number}", name) for number, name in enumerate(names, 1))
    return Plan(Board("Harbour wall", 3, 4), treatments, coupons, layout=Layout("complete", fair_edges=False))


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    create_from_plan(tmp_path / "b", plan(), clock=lambda: NOW)
    session = Session(tmp_path / "b", clock=lambda: NOW)
    yield session
    session.close()


def sitting(
    session: Session, qtbot: QtBot, executor: Executor | None = None, settings: Settings | None = None
) -> tuple[ProofPanel, JobBridge]:
    bridge = JobBridge(executor=executor or InlineExecutor())
    panel = ProofPanel(session, bridge, EarlierBoards(settings, session.folder, bridge))
    session.feed.subscribe(panel.apply)
    qtbot.addWidget(panel)
    panel.resize(400, 700)
    panel.show()
    return panel, bridge


@pytest.fixture
def panel(session: Session, qtbot: QtBot) -> ProofPanel:
    return sitting(session, qtbot)[0]


def cards(panel: ProofPanel) -> list[str]:
    return [each.text() for each in panel.findChildren(ProofCard) if not each.isHidden()]


def figures(card: ProofCard) -> list[str]:
    return [each.text() for each in card._figures]


def test_each_comparison_has_its_figures_and_its_sentences(panel: ProofPanel) -> None:
    wax, oil = panel.findChildren(ProofCard)
    assert wax.text().startswith("wax against control\n")
    p, found, needed = figures(wax)
    assert p == "0.0048"  # 4 v 6: 1 of 210
    assert found.endswith(" grades")
    assert int(needed) > 2
    assert "With 4 and 6 coupons, the exact test can come down to p = 0.0048" in wax.text()
    assert oil.text().startswith("oil against control\n")
    assert figures(oil)[0] == "0.036"  # 2 v 6: 1 of 28


def test_cautions_stand_on_top(panel: ProofPanel, session: Session, qtbot: QtBot) -> None:
    assert "The lots are not drawn yet" in panel._caution_words.text()
    assert "differ by 1 grade (standard deviation) is assumed, not measured" in panel._caution_words.text()
    session.do(draw_board_lots, 7)
    qtbot.waitUntil(lambda: "not drawn yet" not in panel._caution_words.text())


def test_it_follows_the_plan_shortly_after_the_last_change(panel: ProofPanel, session: Session, qtbot: QtBot) -> None:
    before = cards(panel)
    session.do(set_question, Question("chosen", (("T1", "T2"),)))
    assert cards(panel) == before
    qtbot.waitUntil(lambda: len(cards(panel)) == 1)
    assert cards(panel)[0].startswith("wax against oil\n")
    session.undo()
    qtbot.waitUntil(lambda: cards(panel) == before)


def test_what_does_not_concern_it_begins_nothing(
    panel: ProofPanel, session: Session, qtbot: QtBot, qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun: list[ProofRequest] = []

    def counted(request: ProofRequest, progress: Progress) -> ProofTable:
        begun.append(request)
        return proof_of(request, progress)

    monkeypatch.setattr(panel_module, "proof_of", counted)
    panel.refresh()
    apply_scheme(qapp, DARK)
    session.do(set_question, Question(words="in other words"))
    qtbot.wait(200)
    assert begun == []
    session.do(set_question, Question(worthwhile=1.0))
    qtbot.waitUntil(lambda: len(begun) == 1)


def test_an_empty_board_says_what_to_do(qtbot: QtBot, tmp_path: Path) -> None:
    create_from_plan(tmp_path / "b", plan(rows=()), clock=lambda: NOW)
    session = Session(tmp_path / "b", clock=lambda: NOW)
    try:
        panel, _ = sitting(session, qtbot)
        assert panel._empty.isVisible()
        assert panel._empty.text().startswith("Nothing hangs on the board yet. Add treatments")
        assert not panel._cautions.isVisible()
        assert cards(panel) == []
    finally:
        session.close()


def test_a_question_without_comparisons_says_what_is_missing(
    panel: ProofPanel, session: Session, qtbot: QtBot
) -> None:
    for compared, words in (
        ("chosen", "No pair is chosen"),
        ("grid", "no two treatments share the one"),
        ("families", "there are not two of them on the board"),
    ):
        session.do(set_question, Question(compared))
        qtbot.waitUntil(lambda words=words: panel._empty.isVisible() and words in panel._empty.text())
        assert cards(panel) == []
    for coupon in [key for key, each in session.record.coupons.items() if each.role == "control"]:
        session.do(take_off, coupon)
    session.do(set_question, Question("control"))
    qtbot.waitUntil(lambda: "Add untreated controls under Treatments" in panel._empty.text())


class Gate:
    """Lets a simulation begin and holds it there."""

    def __init__(self) -> None:
        self.begun, self.open = threading.Event(), threading.Event()

    def __call__(self, request: ProofRequest, progress: Progress) -> ProofTable:
        progress.step(1, 4)
        self.begun.set()
        while not self.open.wait(0.01):
            progress.step(1, 4)
        return proof_of(request, progress)


@pytest.fixture
def gate(monkeypatch: pytest.MonkeyPatch) -> Gate:
    gate = Gate()
    monkeypatch.setattr(panel_module, "proof_of", gate)
    return gate


@pytest.fixture
def pool() -> Iterator[ThreadPoolExecutor]:
    with ThreadPoolExecutor(1) as pool:
        yield pool


def test_what_is_counted_is_there_before_the_simulation(
    session: Session, qtbot: QtBot, gate: Gate, pool: ThreadPoolExecutor
) -> None:
    panel, bridge = sitting(session, qtbot, pool)
    try:
        wax = panel.findChildren(ProofCard)[0]
        assert figures(wax) == ["0.0048", "…", "…"]
        assert panel._working.isVisible()
        qtbot.waitUntil(lambda: panel._bar.maximum() == 5 and panel._bar.value() == 2)
        gate.open.set()
        qtbot.waitUntil(lambda: "…" not in figures(panel.findChildren(ProofCard)[0]))
        assert not panel._working.isVisible()
    finally:
        bridge.close()


def test_stop_ends_the_simulation_and_it_can_be_begun_again(
    session: Session, qtbot: QtBot, gate: Gate, pool: ThreadPoolExecutor
) -> None:
    panel, bridge = sitting(session, qtbot, pool)
    try:
        assert gate.begun.wait(5)
        qtbot.mouseClick(panel._stop, Qt.MouseButton.LeftButton)
        assert not panel._working.isVisible()
        assert panel._again.isVisible()
        assert figures(panel.findChildren(ProofCard)[0]) == ["0.0048", "–", "–"]
        qtbot.waitUntil(lambda: not bridge.busy())
        gate.open.set()
        qtbot.mouseClick(panel._again, Qt.MouseButton.LeftButton)
        qtbot.waitUntil(lambda: figures(panel.findChildren(ProofCard)[0])[1].endswith("grades"))
        assert not panel._again.isVisible()
    finally:
        bridge.close()


def test_a_newer_plan_takes_the_place_of_an_older_one(
    session: Session, qtbot: QtBot, gate: Gate, pool: ThreadPoolExecutor
) -> None:
    panel, bridge = sitting(session, qtbot, pool)
    try:
        assert gate.begun.wait(5)
        session.do(set_question, Question("chosen", (("T1", "T2"),)))
        qtbot.waitUntil(lambda: len(cards(panel)) == 1)
        gate.open.set()
        qtbot.waitUntil(lambda: not panel._working.isVisible())
        assert cards(panel)[0].startswith("wax against oil\n")
        qtbot.waitUntil(lambda: not bridge.busy())
        assert len(cards(panel)) == 1
    finally:
        bridge.close()


def test_the_spread_of_earlier_boards_is_waited_for_and_named(session: Session, qtbot: QtBot, tmp_path: Path) -> None:
    boards = tmp_path / "boards"
    boards.mkdir()
    create_from_plan(boards / "old", plan(), clock=lambda: NOW)
    old = Session(boards / "old", clock=lambda: NOW)
    old.do(add_inspection, Inspection(NOW))
    for number, coupon in enumerate(sorted(old.record.coupons)):
        old.do(grade_coupon, GivenGrade(coupon, 1, 5 + number % 3))
    old.close()
    panel, _ = sitting(session, qtbot, settings=Settings(boards_folder=str(boards)))
    assert "from 1 board (Harbour wall)" in panel._spread.text()
    assert "assumed" not in panel._caution_words.text()
    assert figures(panel.findChildren(ProofCard)[0])[1].endswith("grades")


def test_earlier_boards_that_show_nothing_leave_the_assumption(
    session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    panel, _ = sitting(session, qtbot, settings=Settings(boards_folder=str(tmp_path / "none")))
    assert "is assumed, not measured" in panel._caution_words.text()
    assert figures(panel.findChildren(ProofCard)[0])[1].endswith("grades")


def test_comparisons_alike_share_a_card_that_names_them(panel: ProofPanel, session: Session, qtbot: QtBot) -> None:
    for number in range(3):
        session.do(add_treatment, Treatment(f"X{number}", f"a wax with a very long name indeed, number {number}"))
        session.do(add_coupon, Coupon(f"X{number}", None, 5 + number))
    session.do(set_grid, 3, 5)
    for number, coupon in enumerate(key for key, each in session.record.coupons.items() if each.id.startswith("X")):
        session.do(move_coupon, coupon, Position(number, 4))
    qtbot.waitUntil(lambda: len(cards(panel)) == 3)
    *_, alike = cards(panel)
    assert alike.splitlines()[:4] == [
        "3 comparisons alike",
        "– a wax with a very long name indeed,… against control",
        "– a wax with a very long name indeed,… against control",
        "– a wax with a very long name indeed,… against control",
    ]


def test_no_text_is_cut_at_the_narrowest(panel: ProofPanel, qtbot: QtBot) -> None:
    panel.resize(340, 700)
    qtbot.wait(10)
    assert panel.minimumSizeHint().width() <= 340
    for label in panel.findChildren(QLabel):
        if label.isVisible() and label.wordWrap():
            assert label.height() >= label.heightForWidth(label.width())


@pytest.mark.parametrize(
    ("p", "text"), [(0.1, "0.10"), (2 / 70, "0.029"), (1.0, "1"), (0.000976, "0.00098"), (1e-9, "below 0.0001")]
)
def test_p_values_have_two_figures(p: float, text: str) -> None:
    assert p_text(p) == text
