"""The screen that asks all boards of the shelf about one treatment."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSpinBox,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.question import DEFAULT_FAILING_GRADE, FAILING_GRADES
from rustboard.findings.boards.sought import PARTS, Sought
from rustboard.session.jobs import Progress
from rustboard.session.learning import Answer, Askable, LearnRequest, answer_lines, learn, what_can_be_asked
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.support.text import printable
from rustboard.ui.bridge import JobBridge
from rustboard.ui.flow_layout import FlowLayout
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.forms.labels import words_label
from rustboard.ui.learnt import learnt_words as words
from rustboard.ui.matched.several_words import sentence_text
from rustboard.ui.matched.work_line import WorkLine
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.wording import number, tool_tip

_BOARD: Final = Qt.ItemDataRole.UserRole
_MOST_UNREAD: Final = 20


class LearntScreen(OwnScreen):
    """What did we learn about a treatment?

    Signals:
        left(): back to where the user came from. open_asked(object): open the board in this folder (`Path`).
        copied(str): what was copied.

    Attributes:
        back, part, text, failing, ask, copy, open: what can be pressed and chosen. table: board by board.
        work: what goes on. problem: what was refused. answer: what is shown, or None.
    """

    left = Signal()
    open_asked = Signal(object)
    copied = Signal(str)

    def __init__(self, settings: Settings, bridge: JobBridge, parent: QWidget | None = None) -> None:
        """Build it empty; `reload` reads the shelf."""
        super().__init__(parent)
        self._settings, self._bridge = settings, bridge
        self._askable: Askable | None = None
        self._wanted: Sought | None = None
        self._job: Progress | None = None
        self.answer: Answer | None = None
        self.back, self.ask = QPushButton(self.tr("&Back")), QPushButton(self.tr("&Ask all boards"))
        self.copy, self.open = QPushButton(self.tr("&Copy as text")), QPushButton(self.tr("&Open the board"))
        self.ask.setProperty("primary", True)
        self.part, self.text, self.failing = QComboBox(), QComboBox(), QSpinBox()
        self._typed = QLineEdit()
        self.problem, self.work = ProblemLine(), WorkLine()
        self.table = QTableWidget(0, 0)
        self._words = QScrollArea()
        self._unread = words_label(muted=True, narrow=True)
        self._set_up()
        self._lay_out()
        self._wire()
        self._say([self.tr("Choose what to ask about. All boards of the shelf that can be read are asked.")], [])

    def _set_up(self) -> None:
        self.part.addItems([words.say(words.PARTS[each]) for each in PARTS])
        self.part.setAccessibleName(self.tr("What is sought"))
        self.text.setLineEdit(self._typed)
        self._typed.setPlaceholderText(self.tr("choose, or type its name"))
        self.text.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.text.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.text.setMinimumContentsLength(28)
        self.text.setAccessibleName(self.tr("Its name"))
        self.failing.setRange(FAILING_GRADES[0], FAILING_GRADES[-1])
        self.failing.setValue(DEFAULT_FAILING_GRADE)
        self.failing.setAccessibleName(self.tr("Failing grade"))
        self.table.setAccessibleName(self.tr("Board by board"))
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self._words.setWidgetResizable(True)
        self._words.setFrameShape(QFrame.Shape.NoFrame)
        self._words.setAccessibleName(self.tr("What was learnt"))

    def _lay_out(self) -> None:
        title = QLabel(self.tr("What did we learn about"))
        title.setProperty("heading", True)
        bar = QWidget()
        flow = FlowLayout(bar)
        flow.setContentsMargins(0, 0, 0, 0)
        failing = QLabel(self.tr("&failed at"))
        failing.setBuddy(self.failing)
        for each in (self.back, title, self.part, self.text, failing, self.failing, self.ask):
            flow.addWidget(each)
        below = QHBoxLayout()
        below.addWidget(self.open)
        below.addWidget(self.copy)
        below.addWidget(self._unread, 1)
        parts = QSplitter(Qt.Orientation.Vertical)
        parts.setChildrenCollapsible(False)
        parts.addWidget(self._words)
        parts.addWidget(self.table)
        line = self.fontMetrics().height()
        self._words.setMinimumHeight(line * 5)
        self.table.setMinimumHeight(line * 5)
        parts.setSizes([line * 16, line * 16])
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 8)
        column.addWidget(bar)
        column.addWidget(self.problem)
        column.addWidget(self.work)
        column.addWidget(parts, 1)
        column.addLayout(below)
        self.setFocusProxy(self.text)

    def _wire(self) -> None:
        self.back.clicked.connect(self.left)
        self.part.activated.connect(self._offer)
        self.text.activated.connect(self._ask)
        self.ask.clicked.connect(self._ask)
        self._typed.returnPressed.connect(self._ask)
        self.failing.editingFinished.connect(self._ask_again)
        self.copy.clicked.connect(self._copy)
        self.open.clicked.connect(self._open)
        self.table.cellActivated.connect(self._open)
        self.work.stopped.connect(self._stop)

    # ---- what there is to ask

    def reload(self, wanted: Sought | None = None) -> None:
        """Read the shelf; then ask what is wanted, or what is shown already, anew."""
        self._wanted = wanted or (self.answer.learnt.sought if self.answer is not None else None)
        self._forget()
        self.work.say(self.tr("Reading the boards…"))
        self._start("shelf", what_can_be_asked, self._settings, done=self._show_askable)

    def _show_askable(self, askable: Askable) -> None:
        self.work.say("")
        self._askable = askable
        count = askable.boards
        text = self.tr("1 board can be asked.") if count == 1 else self.tr("{0} boards can be asked.").format(count)
        unread = [f"{printable(each.name)}: {printable(each.why)}" for each in askable.unread]
        if unread:
            text = self.tr("{0} Not asked: {1}").format(text, " ".join(unread[:_MOST_UNREAD]))
            if len(unread) > _MOST_UNREAD:
                text = self.tr("{0} … and {1} more").format(text, len(unread) - _MOST_UNREAD)
        self._unread.setText(text)
        self._unread.setToolTip(tool_tip("\n".join(unread)))
        wanted, self._wanted = self._wanted, None
        if wanted is not None:
            self.part.setCurrentIndex(PARTS.index(wanted.part))
        self._offer(0)
        if wanted is not None:
            self.text.setEditText(printable(wanted.text))
            self._ask()

    @Slot(int)
    def _offer(self, at: int) -> None:
        self.text.clear()
        if self._askable is not None:
            for each in self._askable.of(PARTS[max(self.part.currentIndex(), 0)]):
                self.text.addItem(printable(each.sought.text))
        self.text.setCurrentIndex(-1)

    # ---- the answer

    @Slot()
    def _ask(self) -> None:
        typed = self.text.currentText()
        if self._askable is None or not typed.strip():
            return
        self.problem.say("")
        found = self._askable.find(PARTS[max(self.part.currentIndex(), 0)], typed)
        if found is None:
            self._forget()
            self.problem.say(self.tr("No board that can be read has this on a test coupon; choose from the list."))
            return
        self.work.say(self.tr("Asking the boards…"))
        self._start("learn", learn, LearnRequest(found, self.failing.value()), done=self._show_answer)

    @Slot()
    def _ask_again(self) -> None:
        if self.answer is not None and self.failing.value() != self.answer.failing_grade:
            self._ask()

    def _show_answer(self, answer: Answer) -> None:
        self.work.say("")
        self.answer = answer
        cautions = [sentence_text(each) for each in answer.learnt.cautions]
        if answer.learnt.shared is not None and answer.learnt.pooled:
            text = self.tr("Pooled over the first {0} days, as far as all these boards were watched.")
            cautions.insert(0, text.format(number(answer.learnt.shared, 0)))
        if answer.left_out:
            text = self.tr("{0} more boards have it; so many cannot be put together, and they are left out.")
            cautions.insert(0, text.format(answer.left_out))
        self._say([sentence_text(each) for each in answer.learnt.sentences], cautions)
        self._fill(words.titles(answer), words.rows(answer), words.NUMBERS)
        for button in (self.copy, self.open):
            button.setEnabled(bool(answer.learnt.rows))

    def _fill(self, titles: Sequence[str], rows: Sequence[Sequence[str]], numeric: Sequence[int]) -> None:
        self.table.setColumnCount(len(titles))
        self.table.setRowCount(len(rows))
        self.table.setHorizontalHeaderLabels(list(titles))
        for at, row in enumerate(rows):
            for column, text in enumerate(row):
                item = QTableWidgetItem(text)
                item.setToolTip(tool_tip(text))
                if column in numeric:
                    item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                self.table.setItem(at, column, item)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.table.resizeColumnsToContents()
        most = self.fontMetrics().averageCharWidth() * 30
        for column in range(len(titles)):
            self.table.setColumnWidth(column, min(self.table.columnWidth(column), most))
        self.table.resizeRowsToContents()
        if rows:
            self.table.setCurrentCell(0, 0)

    def _say(self, sentences: Sequence[str], cautions: Sequence[str]) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(2, 4, 8, 4)
        column.setSpacing(6)
        for each in sentences:
            column.addWidget(self._line(each))
        if cautions:
            head = QLabel(self.tr("Before you trust this"))
            head.setProperty("heading", True)
            column.addWidget(head)
        for each in cautions:
            column.addWidget(self._line(each))
        column.addStretch(1)
        self._words.setWidget(inside)
        self._told = [*sentences, *cautions]

    def _line(self, text: str) -> QLabel:
        label = words_label(text, narrow=True)
        label.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        return label

    def sentences(self) -> list[str]:
        """Return all that is said."""
        return list(self._told)

    def _forget(self) -> None:
        self.answer = None
        self._say([self.tr("Choose what to ask about. All boards of the shelf that can be read are asked.")], [])
        self.table.setRowCount(0)
        self.table.setColumnCount(0)
        for button in (self.copy, self.open):
            button.setEnabled(False)

    # ---- what else can be done

    @Slot()
    def _copy(self) -> None:
        if self.answer is not None:
            table = [words.titles(self.answer), *words.rows(self.answer)]
            QGuiApplication.clipboard().setText(answer_lines(self.answer, self.sentences(), table))
            self.copied.emit(self.tr("Copied as text."))

    @Slot()
    def _open(self) -> None:
        folder = self.chosen()
        if folder is not None:
            self.open_asked.emit(folder)

    def chosen(self) -> Path | None:
        """Return the folder of the board whose row is chosen, or None."""
        at = self.table.currentRow()
        if self.answer is None or not 0 <= at < len(self.answer.learnt.rows):
            return None
        return self.answer.facts[self.answer.learnt.rows[at].board].folder

    def _start(
        self, what: str, function: Callable[..., Any], *arguments: object, done: Callable[[Any], None]
    ) -> None:
        key = ("learnt", what, id(self))
        self._job = self._bridge.start(
            key, function, *arguments, done=done, failed=self._refuse, told=self.work.tell, owner=self
        )

    @Slot()
    def _stop(self) -> None:
        if self._job is not None:
            self._job.cancel()
        self.work.say("")

    def _refuse(self, error: InputError) -> None:
        self._forget()
        self.work.say("")
        self.problem.say(str(error))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back by Esc."""
        if event.key() == Qt.Key.Key_Escape and not event.isAutoRepeat():
            self.left.emit()
        else:
            super().keyPressEvent(event)
