"""What the board can prove, live while the plan changes."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, QTimer, Slot
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.question import Question
from rustboard.findings.proof import ProofRequest, proof_of, proof_request, quick_proof
from rustboard.findings.proof_groups import groups_of
from rustboard.findings.proof_table import ProofTable
from rustboard.session.changes import ChangeSet
from rustboard.session.jobs import Progress
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.forms.labels import words_label
from rustboard.ui.plan.earlier_boards import EarlierBoards, spread_words
from rustboard.ui.plan.proof_card import ProofCard, sentence_text

_PAUSE_MS: Final = 150
_MOST_CARDS: Final = 60


class ProofPanel(QWidget):
    """For each comparison of the question the smallest p, the difference found, and the coupons it takes.

    What can be counted is there at once. What is simulated follows from beside the window and is begun anew when the
    plan changes.
    """

    def __init__(
        self, session: Session, bridge: JobBridge, earlier: EarlierBoards, parent: QWidget | None = None
    ) -> None:
        """Show what a session's board can prove at the spread of the user's earlier boards."""
        super().__init__(parent)
        self._session, self._bridge, self._earlier = session, bridge, earlier
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_PAUSE_MS)
        self._request: ProofRequest | None = None
        self._counted: ProofTable | None = None
        self._waiting = False
        self._job: Progress | None = None
        self._empty, self._spread, self._more, self._reading = (words_label(narrow=True) for _ in range(4))
        self._cautions = QFrame()
        self._caution_words = words_label(narrow=True)
        self._bar = QProgressBar()
        self._stop = QPushButton(self.tr("&Stop"))
        self._again = QPushButton(self.tr("&Simulate"))
        self._working = QWidget()
        self._problem = ProblemLine()
        self._cards: list[ProofCard] = []
        self._column = QVBoxLayout()
        self._build()
        self._wire()
        self.refresh()

    def _build(self) -> None:
        self._reading.setProperty("muted", True)
        self._reading.setText(
            self.tr(
                "How to read this: p says how often luck alone would show so large a difference; 0.05 (5 in 100) or "
                "less counts as shown. The exact test trusts nothing but the lots: with few coupons there are few "
                "other lots, and p stays large however clear the difference is. The t test also trusts that coupons "
                "treated alike scatter evenly; it shows more, and what it shows is less certain. The findings will "
                "give both."
            )
        )
        self._cautions.setProperty("message", "note")
        inside = QVBoxLayout(self._cautions)
        inside.setContentsMargins(10, 6, 10, 6)
        inside.addWidget(self._caution_words)
        self._bar.setAccessibleName(self.tr("Simulation"))
        self._bar.setTextVisible(False)
        line = QHBoxLayout(self._working)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(QLabel(self.tr("Simulating…")))
        line.addWidget(self._bar, 1)
        line.addWidget(self._stop)
        for each in (self._spread, self._more):
            each.setProperty("muted", True)
        column = QVBoxLayout(self)
        column.addWidget(self._empty)
        column.addWidget(self._cautions)
        column.addWidget(self._spread)
        column.addWidget(self._working)
        column.addWidget(self._again, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self._problem)
        column.addLayout(self._column)
        column.addWidget(self._more)
        column.addWidget(self._reading)
        column.addStretch(1)
        self._working.hide()
        self._again.hide()

    def _wire(self) -> None:
        self._timer.timeout.connect(self.refresh)
        self._stop.clicked.connect(self._stop_work)
        self._again.clicked.connect(self._simulate)
        self._earlier.changed.connect(self.refresh)

    # ---- what it shows

    def apply(self, changes: ChangeSet) -> None:
        """Work it out again shortly after the last change."""
        if changes.touches("board", "coupon", "treatment", "question", "layout", "lot", "inspection"):
            self._timer.start()

    @Slot()
    def refresh(self) -> None:
        """Show what can be counted now, and have the rest simulated."""
        self._timer.stop()
        self._earlier.look()
        request = proof_request(self._session.record, self._earlier.spread)
        self._empty.setText(self._empty_words())
        if request == self._request and not self._waiting:
            return
        self._request = request
        self._waiting = bool(request.comparisons) and self._waits_for_spread()
        self._problem.say("")
        self._counted = quick_proof(request)
        self._show_table(self._counted, working=bool(request.comparisons))
        if request.comparisons and not self._waiting:
            self._simulate()
        else:
            self._end_work()

    def _waits_for_spread(self) -> bool:
        question = self._session.record.question or Question()
        return question.assumed_sd is None and self._earlier.state != "read"

    def _show_table(self, table: ProofTable, *, working: bool) -> None:
        self._empty.setVisible(not table.proofs)
        self._reading.setVisible(bool(table.proofs))
        self._caution_words.setText("\n".join(f"• {sentence_text(each)}" for each in table.cautions))
        self._cautions.setVisible(bool(table.proofs and table.cautions))
        self._spread.setText(self._spread_line(table))
        self._spread.setVisible(bool(table.proofs) and bool(self._spread.text()))
        groups = groups_of(table)
        for place, group in enumerate(groups[:_MOST_CARDS]):
            if place == len(self._cards):
                self._cards.append(ProofCard())
                self._column.addWidget(self._cards[place])
            self._cards[place].show_group(group, table.worthwhile, working=working)
            self._cards[place].show()
        for card in self._cards[len(groups) :]:
            card.hide()
        more = len(groups) - _MOST_CARDS
        self._more.setText(self.tr("{0} more kinds of comparison are not shown.").format(more) if more > 0 else "")
        self._more.setVisible(more > 0)

    def _spread_line(self, table: ProofTable) -> str:
        if self._waits_for_spread():
            return self._earlier.words()
        if table.spread.degrees_of_freedom:
            return self.tr("Spread of coupons treated alike: {0}.").format(spread_words(table.spread))
        return ""  # that it is assumed stands among the cautions

    def _empty_words(self) -> str:
        record, question = self._session.record, self._session.record.question or Question()
        if all(each.position is None for each in record.coupons.values()):
            return self.tr(
                "Nothing hangs on the board yet. Add treatments and say how many coupons each gets; then this page "
                "says what the board will be able to prove."
            )
        return {
            "control": self.tr(
                "The question compares every treatment with the controls, and there are not both on the board. Add "
                "untreated controls under Treatments, or compare something else under Question."
            ),
            "pairs": self.tr("There is only one treatment on the board, so there is nothing to compare it with."),
            "families": self.tr(
                "The question compares families, and there are not two of them on the board. Give the treatments "
                "their families, or compare something else under Question."
            ),
            "grid": self.tr(
                "The question crosses finishes and protectants, and no two treatments share the one and differ in "
                "the other. Fill in their finishes and protectants, or compare something else under Question."
            ),
            "chosen": self.tr("No pair is chosen of which both hang on the board. Choose pairs under Question."),
        }[question.compared]

    # ---- the simulation

    @Slot()
    def _simulate(self) -> None:
        if self._request is None:
            return
        self._bar.setRange(0, 0)
        self._working.show()
        self._again.hide()
        # Before the start, because an inline pool of a test is done within it.
        self._job = None
        job = self._bridge.start(
            ("proof", id(self)),
            proof_of,
            self._request,
            done=self._done,
            failed=self._failed,
            told=self._told,
            owner=self,
        )
        if not self._working.isHidden():
            self._job = job

    def _told(self, done: int, total: int) -> None:
        # Never full before the end: the last part would seem to hang.
        self._bar.setRange(0, total + 1)
        self._bar.setValue(done + 1)

    def _done(self, table: ProofTable) -> None:
        self._end_work()
        self._show_table(table, working=False)

    def _failed(self, error: InputError) -> None:
        self._end_work()
        self._problem.say(error.problem.what)

    @Slot()
    def _stop_work(self) -> None:
        self._end_work()
        self._again.show()
        self._again.setFocus()
        if self._counted is not None:
            self._show_table(self._counted, working=False)

    def cancel(self) -> None:
        """Stop what is worked out; the board is left."""
        self._timer.stop()
        self._end_work()

    def _end_work(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._job = None
        self._working.hide()
        self._again.hide()
