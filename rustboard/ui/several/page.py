"""The page of several boards: boards and matched treatments on the left, what they say on the right."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QSplitter, QStackedWidget, QTabWidget, QVBoxLayout, QWidget

from rustboard.board.question import Question
from rustboard.findings.boards.matching import Matching
from rustboard.session.board_matchings import BoardMatchings
from rustboard.session.jobs import Progress
from rustboard.session.other_boards import PooledBoards, ReadBoards, ReadRequest, pool_boards, read_boards
from rustboard.session.shelf import ShelfEntry, shelf_entries
from rustboard.support.paths import same_folder
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.forms.labels import words_label
from rustboard.ui.matched.matching_table import MatchingTable
from rustboard.ui.matched.work_line import WorkLine
from rustboard.ui.several.asked_line import AskedLine
from rustboard.ui.several.boards_list import BoardsList
from rustboard.ui.several.forest_panel import ForestPanel
from rustboard.ui.several.pictures_panel import PicturesPanel
from rustboard.ui.several.results_panel import EffectsTable, VerdictPanel
from rustboard.ui.theme import Scheme
from rustboard.ui.turned_split import turn_split

_NARROW: Final = 820
_LEFT_SHARE: Final = 0.42


class SeveralPage(QWidget):
    """Several boards put together; nothing is pooled before the user confirmed which treatments are the same.

    Signals:
        laid_over(object): a `GuestBoard` is to be laid over the timeline of the open board.
        copied(str): what was copied, to be told. save_asked(object): the `ChartView` whose picture is to be saved.

    Attributes:
        boards, matching, asked: the choices. work: what is being worked on.
        problem: what was refused, until the next choice.
        verdict, effects, forest, pictures: the result. tabs: where they are. pooled: what is shown, or None.
    """

    laid_over = Signal(object)
    copied = Signal(str)
    save_asked = Signal(object)

    def __init__(
        self,
        settings: Settings,
        bridge: JobBridge,
        ask: Asker,
        scheme: Scheme,
        open_board: Path | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """Build the page; nothing is read before it is shown."""
        super().__init__(parent)
        self._settings, self._bridge, self._open_board = settings, bridge, open_board
        self._read: ReadBoards | None = None
        self._confirmed = False
        self.pooled: PooledBoards | None = None
        self.boards, self.matching, self.asked = BoardsList(ask), MatchingTable(), AskedLine()
        self.problem = ProblemLine()
        self.verdict, self.effects = VerdictPanel(), EffectsTable(scheme)
        self.forest, self.pictures = ForestPanel(scheme), PicturesPanel(scheme)
        self.tabs = QTabWidget()
        self._hint = words_label(muted=True)
        self._hint.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.work = WorkLine()
        self._job: Progress | None = None
        self._right = QStackedWidget()
        self._lay_out()
        self._wire()
        self._show_hint()

    def _lay_out(self) -> None:
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(4, 4, 4, 4)
        column.addWidget(self.boards, 2)
        column.addWidget(self.matching, 3)
        words = QSplitter(Qt.Orientation.Vertical)
        words.setChildrenCollapsible(False)
        words.addWidget(self.verdict)
        words.addWidget(self.effects)
        self.tabs.addTab(words, self.tr("Verdict and fi&gures"))
        self.tabs.addTab(self.forest, self.tr("For&est"))
        self.tabs.addTab(self.pictures, self.tr("T&wo boards by eye"))
        self._right.addWidget(self._hint)
        self._right.addWidget(self.tabs)
        right = QWidget()
        column = QVBoxLayout(right)
        column.setContentsMargins(4, 4, 4, 4)
        column.addWidget(self.asked)
        column.addWidget(self.work)
        column.addWidget(self._right, 1)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(left)
        self._split.addWidget(right)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(2, 2, 2, 2)
        whole.addWidget(self.problem)
        whole.addWidget(self._split, 1)

    def _wire(self) -> None:
        self.boards.changed.connect(self._choose_boards)
        self.matching.changed.connect(self._change_matching)
        self.matching.confirmed.connect(self._confirm)
        self.matching.refused.connect(self._refuse)
        self.asked.changed.connect(self._ask)
        self.work.stopped.connect(self._stop)
        self.pictures.laid_over.connect(self.laid_over)
        self.forest.view.save_asked.connect(self._save_forest)
        self.pictures.overlay.save_asked.connect(self._save_histories)
        for view in (self.forest.view, self.pictures.overlay):
            view.copied.connect(self.copied)

    # ---- which boards

    def showEvent(self, event: QShowEvent) -> None:
        """Look for boards each time the page comes into view."""
        super().showEvent(event)
        if not event.spontaneous():
            self.reload()

    def reload(self) -> None:
        """Read the shelf, and the checked boards, anew."""
        self._start("shelf", shelf_entries, self._settings, done=self._show_entries, failed=self._refuse)

    def take_question(self, question: Question) -> None:
        """Ask what the open board's question asks, as far as several boards can."""
        self.asked.take_question(question)
        self._ask()

    def _show_entries(self, entries: list[ShelfEntry]) -> None:
        self.boards.show_entries(entries, self._open_board)
        self._choose_boards()

    @Slot()
    def _choose_boards(self) -> None:
        folders = self.boards.folders()
        self.problem.say("")
        if len(folders) < 2:
            self._read, self._confirmed = None, False
            self.matching.clear()
            self._forget()
            return
        self.work.say(self.tr("Reading the boards…"))
        self._start("boards", read_boards, ReadRequest(folders), done=self._show_boards, failed=self._fail_reading)

    def _show_boards(self, boards: ReadBoards) -> None:
        if boards.folders != self.boards.folders():
            return  # the choice went on meanwhile
        self.work.say("")
        same = self._read is not None and self._read.folders == boards.folders and not boards.confirmed
        self._read, self._confirmed = boards, boards.confirmed
        if not same or not _is_of(self.matching.matching(), boards):
            self.matching.show_boards(boards)
        self.problem.say(boards.problem)
        if self._confirmed:
            self._ask()
        else:
            self._forget()

    # ---- which treatments

    @Slot()
    def _change_matching(self) -> None:
        self.problem.say("")
        self._confirmed = False
        self._forget()

    @Slot()
    def _confirm(self) -> None:
        matching = self.matching.matching()
        if self._read is None or matching is None:
            return
        try:
            BoardMatchings().confirm(self._read.folders, matching)
        except InputError as error:
            self._refuse(error)  # it holds for this sitting all the same
        else:
            self.problem.say("")
        self._confirmed = True
        self.matching.tell(confirmed=True)
        self._ask()

    # ---- what they say

    @Slot()
    def _ask(self) -> None:
        matching = self.matching.matching()
        if self._read is None or matching is None or not self._confirmed:
            return
        self.work.say(self.tr("Putting the boards together…"))
        request = self.asked.request(self._read, matching)
        self._start("pool", pool_boards, request, done=self._show_pooled, failed=self._fail_pooling)

    def _show_pooled(self, pooled: PooledBoards) -> None:
        if not self._confirmed:
            return
        self.work.say("")
        self.problem.say("")
        self.pooled = pooled
        self.verdict.show_pooled(pooled)
        self.effects.show_pooled(pooled)
        self.forest.show_pooled(pooled)
        self.pictures.show_pooled(pooled, _host(pooled, self._open_board))
        self._right.setCurrentIndex(1)

    def _forget(self) -> None:
        """Show no result: none is asked for, or what it rested on has changed."""
        self.pooled = None
        self.work.say("")
        self._show_hint()

    def _show_hint(self) -> None:
        if self._read is None:
            text = self.tr(
                "Check two or more boards on the left. Treatments that they share are then compared on each board "
                "and over all of them."
            )
        elif self._confirmed:
            text = self.tr("There is no result to show.")
        else:
            text = self.tr(
                "Look through the treatments on the left and confirm which are the same. Nothing is put together "
                "before that."
            )
        self._hint.setText(text)
        self._right.setCurrentIndex(0)

    # ---- jobs

    def _start(
        self,
        what: str,
        function: Callable[..., Any],
        *arguments: object,
        done: Callable[[Any], None],
        failed: Callable[[InputError], None],
    ) -> None:
        key = ("several", what, id(self))
        self._job = self._bridge.start(
            key, function, *arguments, done=done, failed=failed, told=self.work.tell, owner=self
        )

    @Slot()
    def _stop(self) -> None:
        """Work on no longer; what was asked last has no result then."""
        if self._job is not None:
            self._job.cancel()
        self._forget()

    def _fail_reading(self, error: InputError) -> None:
        self._read, self._confirmed = None, False
        self.matching.clear()
        self._refuse(error)

    @Slot(object)
    def _refuse(self, error: InputError) -> None:
        """Show what was refused; what is shown already stays."""
        self.work.say("")
        self.problem.say(str(error))

    def _fail_pooling(self, error: InputError) -> None:
        self._forget()
        self._refuse(error)

    @Slot()
    def _save_forest(self) -> None:
        self.save_asked.emit(self.forest.view)

    @Slot()
    def _save_histories(self) -> None:
        self.save_asked.emit(self.pictures.overlay)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.effects.set_scheme(scheme)
        self.forest.set_scheme(scheme)
        self.pictures.set_scheme(scheme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the result below the choices where it has no room beside them."""
        super().resizeEvent(event)
        turn_split(self._split, event, _NARROW, _LEFT_SHARE)


def _is_of(shown: Matching | None, boards: ReadBoards) -> bool:
    """Return whether what the user is changing is of the treatments that the boards have now."""
    if shown is None:
        return False
    now = boards.matching
    return all(
        {each.treatments[at] for each in shown.common} - {""} == {each.treatments[at] for each in now.common} - {""}
        for at in range(len(boards.folders))
    )


def _host(pooled: PooledBoards, open_board: Path | None) -> int | None:
    """Return the number of the open board among those of a result, or None."""
    folders = pooled.request.boards.folders
    if open_board is None:
        return None
    return next((at for at, each in enumerate(folders) if same_folder(each, open_board)), None)
