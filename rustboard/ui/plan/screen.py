"""The plan screen: the map of the board, and beside it the steps from treatments to paper."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final, Protocol, runtime_checkable

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QRectF, Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.position import Position
from rustboard.operations.coupons import move_coupon, take_off
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.ui.doing import Do
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.labels import words_label
from rustboard.ui.grid.fitting_scroll import FittingScroll
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.plan.plan_map import PlanMap
from rustboard.ui.theme import Scheme

_NARROW = 860
_PANEL_SHARE = 0.42
STEPS: Final[tuple[tuple[str, str], ...]] = (
    ("treatments", str(QT_TRANSLATE_NOOP("plan", "&1 Treatments"))),
    ("question", str(QT_TRANSLATE_NOOP("plan", "&2 Question"))),
    ("layout", str(QT_TRANSLATE_NOOP("plan", "&3 Layout"))),
    ("proof", str(QT_TRANSLATE_NOOP("plan", "&4 Proof"))),
    ("visits", str(QT_TRANSLATE_NOOP("plan", "&5 Visits"))),
    ("paper", str(QT_TRANSLATE_NOOP("plan", "&6 Paper"))),
    ("map", str(QT_TRANSLATE_NOOP("plan", "&Map"))),
)
"""Id and text of each step; the map is a step of its own only where it has no room beside the others."""


class Panel(Protocol):
    """What every panel of the plan screen offers."""

    def apply(self, changes: ChangeSet) -> None:
        """Show what changed."""

    def refresh(self) -> None:
        """Show everything as it is now."""


@runtime_checkable
class Coloured(Protocol):
    """What a panel offers whose colours are more than the palette's."""

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""


@runtime_checkable
class Working(Protocol):
    """What a panel offers that works something out beside the window."""

    def cancel(self) -> None:
        """Stop it."""


PanelMaker = Callable[[], QWidget]


class PlanScreen(OwnScreen):
    """Map and steps. A panel is made when its step is first chosen.

    Signals:
        left(): the user goes back to the board.
    """

    left = Signal()

    def __init__(
        self,
        session: Session,
        do: Do,
        scheme: Scheme,
        makers: Mapping[str, PanelMaker],
        parent: QWidget | None = None,
    ) -> None:
        """Show a session's plan; ``makers`` make the panels by step."""
        super().__init__(parent)
        self._session, self._do, self._scheme, self._makers = session, do, scheme, makers
        self.map = PlanMap(session, scheme)
        self.panels: dict[str, QWidget] = {}
        self._pages: dict[str, QScrollArea] = {}
        self._stale: set[str] = set()
        self._buttons: dict[str, QPushButton] = {}
        self._group = QButtonGroup(self)
        self._looked_at = words_label(muted=True)
        self._scroll = FittingScroll()
        self._back = QPushButton(self.tr("Bac&k to the board"))
        self._map_side = self._built_map_side()
        self._stack = QStackedWidget()
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._narrow = False
        self._build()
        self._wire()
        self._tell_place("")
        self.choose("treatments")

    def _built_map_side(self) -> QWidget:
        side = QWidget()
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setWidget(self.map)
        self._scroll.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column = QVBoxLayout(side)
        column.setContentsMargins(4, 2, 4, 2)
        head = QHBoxLayout()
        head.addWidget(self._looked_at, 1)
        head.addWidget(self._back)
        column.addLayout(head)
        column.addWidget(self._scroll, 1)
        return side

    def _build(self) -> None:
        for name, text in STEPS:
            button = QPushButton(QCoreApplication.translate("plan", text))
            button.setCheckable(True)
            button.setObjectName(name)
            self._buttons[name] = button
            self._group.addButton(button)
        side = QWidget()
        inside = QVBoxLayout(side)
        inside.setContentsMargins(4, 2, 4, 2)
        inside.addWidget(flowing(*self._buttons.values()))
        self._buttons["map"].hide()
        inside.addWidget(self._stack, 1)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self._map_side)
        self._split.addWidget(side)
        self._split.setStretchFactor(0, 3)
        self._split.setStretchFactor(1, 2)
        column = QVBoxLayout(self)
        column.setContentsMargins(2, 0, 2, 2)
        column.addWidget(self._split)

    def _wire(self) -> None:
        self._group.buttonClicked.connect(self._step_chosen)
        self._back.clicked.connect(self.left)
        self._scroll.room_changed.connect(self._fit)
        self.map.move_asked.connect(self._move)
        self.map.off_asked.connect(self._take_off)
        self.map.looked_at.connect(self._tell_place)
        self.map.focus_moved.connect(self._bring_into_view)
        self._session.feed.subscribe(self.apply)

    def close_feed(self) -> None:
        """Listen to the session no longer and stop what is worked out; the screen is about to go."""
        self._session.feed.unsubscribe(self.apply)
        for panel in self.panels.values():
            if isinstance(panel, Working):
                panel.cancel()

    @Slot()
    def finish_typing(self) -> None:
        """Have what is being typed kept before anything else is done: a field keeps it when the keyboard leaves."""
        typed = self.focusWidget()
        if isinstance(typed, QLineEdit | QAbstractSpinBox | QPlainTextEdit):
            typed.clearFocus()

    # ---- steps

    def step(self) -> str:
        """Return the step in view."""
        return next((name for name, button in self._buttons.items() if button.isChecked()), "treatments")

    def choose(self, name: str) -> None:
        """Bring a step into view."""
        self._buttons[name].setChecked(True)
        if name == "map":
            self._stack.addWidget(self._map_side)
            self._stack.setCurrentWidget(self._map_side)
            self._map_side.show()
            return
        if name not in self._pages:
            self._add_page(name)
        elif name in self._stale:
            self._refresh(name)
        self._stack.setCurrentWidget(self._pages[name])

    def _add_page(self, name: str) -> None:
        panel = self._makers[name]()
        if isinstance(panel, Coloured):
            panel.set_scheme(self._scheme)  # the colours may be others than when the screen was made
        page = QScrollArea()
        page.setWidgetResizable(True)
        page.setFrameShape(QFrame.Shape.NoFrame)
        page.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        page.setWidget(panel)
        self.panels[name], self._pages[name] = panel, page
        self._stack.addWidget(page)
        self._wire_panel(panel)

    def _wire_panel(self, panel: QWidget) -> None:
        # A button pressed by its letter leaves the keyboard where it is, in a field with something half typed.
        for button in panel.findChildren(QPushButton):
            button.pressed.connect(self.finish_typing)

    def _refresh(self, name: str) -> None:
        self._stale.discard(name)
        panel: Panel = self.panels[name]  # type: ignore[assignment] # every maker makes one
        panel.refresh()

    @Slot()
    def _step_chosen(self) -> None:
        self.choose(self.step())

    # ---- what changed

    def apply(self, changes: ChangeSet) -> None:
        """Show what changed: the map and the step in view at once, the others when they are next chosen."""
        if changes.touches("board", "coupon", "treatment", "layout", "lot"):
            self.map.refresh()
        now = self.step()
        for name, panel in self.panels.items():
            if name == now and self.isVisible():
                shown: Panel = panel  # type: ignore[assignment] # every maker makes one
                shown.apply(changes)
            else:
                self._stale.add(name)

    def showEvent(self, event: QShowEvent) -> None:
        """Show what changed while the screen was away."""
        super().showEvent(event)
        if self.step() in self._stale:
            self._refresh(self.step())

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.map.set_scheme(scheme)
        for panel in self.panels.values():
            if isinstance(panel, Coloured):
                panel.set_scheme(scheme)

    # ---- the map

    @Slot(str)
    def _tell_place(self, text: str) -> None:
        self._looked_at.setText(text or self._hint())

    def _hint(self) -> str:
        if self._session.read_only_reason:
            return ""
        return self.tr(
            "Drag a coupon to where it really hangs, or pick it up with Enter and carry it with the arrows."
        )

    @Slot(int, object)
    def _move(self, coupon: int, position: Position) -> None:
        if self._do(move_coupon, coupon, position, origin=self) is None:
            self.map.refresh()

    @Slot(int)
    def _take_off(self, coupon: int) -> None:
        self._do(take_off, coupon, origin=self)

    @Slot()
    def _fit(self) -> None:
        self.map.set_space(self._scroll.room())

    @Slot(object)
    def _bring_into_view(self, rect: QRectF) -> None:
        centre = rect.center().toPoint()
        self._scroll.ensureVisible(centre.x(), centre.y(), round(rect.width() / 2) + 8, round(rect.height() / 2) + 8)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the map becomes a step of its own."""
        super().resizeEvent(event)
        narrow = event.size().width() < _NARROW
        if narrow == self._narrow and event.oldSize().width() > 0:
            return
        self._narrow = narrow
        self._buttons["map"].setVisible(narrow)
        self._back.setVisible(not narrow)  # the tool bar's own button does it, and room is dear
        if narrow:
            self._map_side.setParent(None)
            self.choose(self.step())
        else:
            if self.step() == "map":
                self.choose("layout")
            self._split.insertWidget(0, self._map_side)
            self._map_side.show()
            width = max(event.size().width(), _NARROW)
            self._split.setSizes([round(width * (1 - _PANEL_SHARE)), round(width * _PANEL_SHARE)])
