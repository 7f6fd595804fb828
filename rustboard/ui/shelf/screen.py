"""The screen of the shelf: find a board, open it, start another."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Final

from PySide6.QtCore import QModelIndex, QPoint, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QImage, QKeySequence, QResizeEvent, QShortcut, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from rustboard.session.pack_names import is_pack
from rustboard.session.shelf import MOST_BOARDS, ShelfEntry, shelf_entries
from rustboard.session.shelf_filter import ShelfFilter, ShelfIndex
from rustboard.session.shelf_picture import shelf_picture
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.dropped_photos import DroppedPhotos
from rustboard.ui.message_bar import MessageBar
from rustboard.ui.shelf.board_actions import BoardActions
from rustboard.ui.shelf.cards import CardDelegate, CardView, ShelfModel
from rustboard.ui.shelf.empty_page import EmptyPage
from rustboard.ui.shelf.filter_bar import FilterBar
from rustboard.ui.shelf.no_match_page import NoMatchPage
from rustboard.ui.shelf.past_actions import PastActions
from rustboard.ui.theme import Scheme

_SETTLE_MILLISECONDS: Final = 60
_BETWEEN_BUTTONS: Final = 6
_MARGIN: Final = 12


class ShelfScreen(QWidget):
    """All boards the user has.

    Signals:
        open_asked(object): open the board in this folder (`Path`), here.
        open_in_new_window_asked(object): open it in another window.
        new_asked(): a new board.
        plan_asked(): a new board from a plan file. grades_asked(): one from a table of old grades.
        demo_asked(): make the demo boards and open the first.
        copy_asked(object): make a copy of the board in this folder.
        like_asked(object): make a new board like the one in this folder.
        browse_asked(): open a board that is elsewhere.
        received_dropped(object): a packed board (`Path`) was dropped on the shelf.
        photos_dropped(object, object): photos (a list of `Path`) were dropped on the board in this folder.

    Attributes:
        board: what can be done with the chosen board.
        past: what can be learned from those chosen together. filters: what is asked for.
    """

    open_asked = Signal(object)
    open_in_new_window_asked = Signal(object)
    new_asked = Signal()
    plan_asked = Signal()
    grades_asked = Signal()
    demo_asked = Signal()
    copy_asked = Signal(object)
    like_asked = Signal(object)
    browse_asked = Signal()
    received_dropped = Signal(object)
    photos_dropped = Signal(object, object)

    def __init__(self, settings: Settings, bridge: JobBridge, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Build the screen; `reload` fills it."""
        super().__init__(parent)
        self._settings = settings
        self._bridge = bridge
        self._asked: set[Path] = set()
        self._wanted: Path | None = None
        self._model = ShelfModel(self)
        self._cards = CardView()
        self._cards.setAccessibleName(self.tr("Your boards"))
        self._cards.setModel(self._model)
        self._delegate = CardDelegate(self._model, scheme, self)
        self._cards.setItemDelegate(self._delegate)
        self._empty = EmptyPage()
        self._no_match = NoMatchPage()
        self._index = ShelfIndex.of(())
        self.filters = FilterBar()
        self.board, self.past = BoardActions(self), PastActions(self)
        self.board.add(self.past.actions())
        self._find = QShortcut(QKeySequence(QKeySequence.StandardKey.Find), self)
        self._looking = QLabel(self.tr("Looking for your boards…"))
        self._looking.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._pages = QStackedWidget()
        for each in (self._looking, self._cards, self._empty, self._no_match):
            self._pages.addWidget(each)
        self._message = MessageBar()
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MILLISECONDS)
        self._drops = DroppedPhotos(self)
        self._drops.watch(self._cards.viewport())
        self._drops.watch(self._empty)
        self._drops.watch(self._no_match)
        self._lay_out()
        self._wire()
        self._follow_choice()

    def _lay_out(self) -> None:
        self._title = QLabel(self.tr("Your boards"))
        self._title.setProperty("heading", True)
        self._title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._new = QPushButton(self.tr("New board…"))
        self._new.setProperty("primary", True)
        self._plan = QPushButton(self.tr("From a plan file…"))
        self._grades = QPushButton(self.tr("Old grades…"))
        self._grades.setToolTip(self.tr("Make a board of a workbook or CSV file of past grades"))
        self._browse = QPushButton(self.tr("Open another…"))
        header = QHBoxLayout()
        header.setSpacing(_BETWEEN_BUTTONS)
        header.addWidget(self._title, 1)
        for button in (self._new, self._plan, self._grades, self._browse):
            header.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(_MARGIN, 8, _MARGIN, 8)
        column.addWidget(self._message)
        column.addLayout(header)
        column.addWidget(self.filters)
        column.addWidget(self._pages, 1)
        column.addWidget(self.board.bar)
        self.filters.hide()  # until it is known what there is to ask for
        self.board.bar.hide()
        self.setFocusProxy(self._cards)

    def _wire(self) -> None:
        self._new.clicked.connect(self.new_asked)
        self._plan.clicked.connect(self.plan_asked)
        self._grades.clicked.connect(self.grades_asked)
        self._browse.clicked.connect(self.browse_asked)
        self._empty.new_asked.connect(self.new_asked)
        self._empty.demo_asked.connect(self.demo_asked)
        self._empty.grades_asked.connect(self.grades_asked)
        self._cards.activated.connect(self._open_at)
        self._cards.opened.connect(self._open_at)
        self._cards.customContextMenuRequested.connect(self._show_menu)
        self._cards.selectionModel().currentChanged.connect(self._follow_choice)
        self._cards.selectionModel().selectionChanged.connect(self._follow_choice)
        self._drops.dropped_at.connect(self._take_dropped)
        self._cards.verticalScrollBar().valueChanged.connect(self._settle.start)
        self._settle.timeout.connect(self._bring_pictures)
        self.board.open_asked.connect(self.open_asked)
        self.board.open_beside_asked.connect(self.open_in_new_window_asked)
        self.board.copy_asked.connect(self.copy_asked)
        self.board.like_asked.connect(self.like_asked)
        self.board.failed.connect(self._message.show_error)
        self.filters.changed.connect(self._sift)
        self.filters.left.connect(self._go_to_cards)
        self._no_match.clear_asked.connect(self.filters.clear)
        self._no_match.archive_asked.connect(self.filters.look_in_archive)
        self._find.activated.connect(self.filters.go_to_words)

    # ---- what it shows

    def reload(self, choose: Path | None = None) -> None:
        """Look again which boards there are, beside the window; then choose the one in this folder, if any."""
        self._wanted = choose
        self._bridge.start("shelf", shelf_entries, self._settings, done=self._fill, failed=self._tell, owner=self)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._delegate.scheme = scheme
        self._cards.scheduleDelayedItemsLayout()
        self._cards.viewport().update()

    def chosen(self) -> ShelfEntry | None:
        """Return the chosen board, or None."""
        return self._model.entry(self._cards.currentIndex())

    def choose(self, folder: Path) -> None:
        """Choose the board in a folder, when it is on the shelf."""
        index = self._model.index_of(folder)
        if index.isValid():
            self._cards.setCurrentIndex(index)
            self._cards.scrollTo(index)

    def showEvent(self, event: QShowEvent) -> None:
        """Bring the pictures of the cards that are seen now."""
        super().showEvent(event)
        self._settle.start()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Bring the pictures of the cards that are seen now."""
        super().resizeEvent(event)
        self.filters.show_room(self.height())
        buttons = (self._new, self._plan, self._grades, self._browse)
        room = self.width() - 2 * _MARGIN - sum(each.sizeHint().width() + _BETWEEN_BUTTONS for each in buttons)
        self._title.setVisible(room >= self._title.sizeHint().width())  # whole or not at all
        self._settle.start()

    def known_tags(self) -> list[str]:
        """Return the tags of all boards, by name."""
        return [each.value for each in self._index.offers(ShelfFilter(archived="also"), "tag")]

    def entries(self) -> tuple[ShelfEntry, ...]:
        """Return all boards, whether they are asked for or not."""
        return self._index.entries

    def _fill(self, entries: list[ShelfEntry]) -> None:
        self._asked.clear()
        self._index = ShelfIndex.of(entries)
        self._sift()
        if self._wanted is not None:
            self.choose(self._wanted)
            self._wanted = None
        if len(entries) >= MOST_BOARDS:
            sentence = self.tr("The shelf shows {0} boards at most; open others with “Open another…”.")
            self._message.show_note(sentence.format(MOST_BOARDS))

    @Slot()
    def _sift(self) -> None:
        """Show the boards that are asked for; the chosen one stays so where it is among them."""
        before = self.chosen()
        asked = self.filters.asked()
        found = self._index.matching(asked)
        self._model.set_entries(found)
        index = self._model.index_of(before.folder if before is not None else None)
        if found:
            self._cards.setCurrentIndex(index if index.isValid() else self._model.index(0))
        self.filters.offer(self._index, len(found))
        self.filters.setVisible(bool(self._index.entries))
        self.board.bar.setVisible(bool(found))
        if not self._index.entries:
            self._pages.setCurrentWidget(self._empty)
        elif found:
            self._pages.setCurrentWidget(self._cards)
        else:
            archived = self._index.matching(replace(asked, archived="only")) if asked.archived == "hidden" else []
            self._no_match.say(asked=asked != ShelfFilter(), in_archive=len(archived))
            self._pages.setCurrentWidget(self._no_match)
        self._follow_choice()
        self._settle.start()

    @Slot()
    def _go_to_cards(self) -> None:
        if self._model.rowCount():
            self._cards.setFocus()

    def _tell(self, error: InputError) -> None:
        self._message.show_error(error.problem.sentence())

    @Slot()
    def _bring_pictures(self) -> None:
        window = self._cards.viewport().rect()
        for row in range(self._model.rowCount()):
            index = self._model.index(row)
            entry = self._model.entry(index)
            if entry is None or entry.photo is None or entry.folder in self._asked:
                continue
            if self._model.picture(entry) is None and self._cards.visualRect(index).intersects(window):
                self._asked.add(entry.folder)
                key = ("shelf picture", entry.folder)
                self._bridge.start(key, shelf_picture, entry, done=self._show_picture, failed=self._tell, owner=self)

    def _show_picture(self, brought: tuple[ShelfEntry, bytes]) -> None:
        entry, png = brought
        self._asked.discard(entry.folder)
        self._model.set_picture(entry, QImage.fromData(png))

    # ---- what the user asks

    @Slot()
    def _follow_choice(self) -> None:
        self.board.follow(self.chosen())
        rows = sorted(each.row() for each in self._cards.selectionModel().selectedIndexes())
        entries = (self._model.entry(self._model.index(row)) for row in rows)
        self.past.follow([each for each in entries if each is not None])

    @Slot(QPoint)
    def _show_menu(self, place: QPoint) -> None:
        index = self._cards.indexAt(place)
        if index.isValid():
            if not self._cards.selectionModel().isSelected(index):
                self._cards.setCurrentIndex(index)
            self.board.show_menu(self._cards.viewport().mapToGlobal(place))

    @Slot(QModelIndex)
    def _open_at(self, index: QModelIndex) -> None:
        entry = self._model.entry(index)
        if entry is not None:
            self.open_asked.emit(entry.folder)

    @Slot(object, QPoint)
    def _take_dropped(self, paths: list[Path], place: QPoint) -> None:
        if is_pack(paths[0]):
            self.received_dropped.emit(paths[0])
            return
        if self._pages.currentWidget() is not self._cards:
            return
        entry = self._model.entry(self._cards.indexAt(place))
        if entry is not None and not entry.problem:
            self.photos_dropped.emit(entry.folder, paths)
