"""The lines above the plot: what is shown, as coupons or as treatments, and how many days of it."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from PySide6.QtCore import QEvent, QSize, Qt, Signal, Slot
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QButtonGroup,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from rustboard.ui.theme import Scheme
from rustboard.ui.timeline.content import Mode

SIGN_PX: Final = 38


class ElidedLabel(QLabel):
    """One line of plain text that gives way in its middle when the room is short."""

    def __init__(self) -> None:
        """Build it empty."""
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def minimumSizeHint(self) -> QSize:
        """Ask for no width; Qt calls this."""
        return QSize(0, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw what fits; Qt calls this."""
        painter = QPainter(self)
        shown = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideMiddle, self.width())
        painter.drawText(self.rect(), int(Qt.AlignmentFlag.AlignVCenter), shown)
        painter.end()


class TimelineHeader(QWidget):
    """Title and buttons.

    Signals:
        mode_chosen(): the user chose what to show.
        zoom_asked(int): 1 to see fewer days, -1 to see more.
        whole_asked(): show all days.
        weather_switched(bool): show the weather under the lines, or hide it.
    """

    mode_chosen = Signal()
    zoom_asked = Signal(int)
    whole_asked = Signal()
    weather_switched = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build it; the chosen coupons are shown as soon as there are any."""
        super().__init__(parent)
        self._title = ElidedLabel()
        self._title.setProperty("heading", True)
        self._wanted: Mode = "coupons"
        self._all_words = (self.tr("All treatments"), self.tr("All"))
        self._modes: dict[Mode, QToolButton] = {
            "coupons": tool_button(self.tr("Coupons")),
            "treatments": tool_button(self.tr("Treatments")),
            "all": tool_button(self._all_words[0]),
        }
        self._weather = tool_button(self.tr("Weather"))
        self._weather.setCheckable(True)
        explain(self._weather, self.tr("Show the weather and what was noted under the lines"))
        self._weather.hide()
        self._more = tool_button("+", self.tr("Show fewer days, larger"))
        self._less = tool_button("−", self.tr("Show more days"))
        self._whole = tool_button(self.tr("All days"))
        explain(self._whole, self.tr("Show all days"))
        explain(self._modes["all"], self.tr("Show all treatments of the board, each with the median of its coupons"))
        self._group = QButtonGroup(self)
        for each in self._modes.values():
            each.setCheckable(True)
            self._group.addButton(each)
        self._arrange()
        self._wire()
        self.show_mode("all", chosen=0)

    def _arrange(self) -> None:
        modes, days = QHBoxLayout(), QHBoxLayout()
        for each in self._modes.values():
            modes.addWidget(each)
        for each in (self._less, self._more, self._whole):
            days.addWidget(each)
        for each in (self._more, self._less):
            each.setFixedWidth(SIGN_PX)
        self._modes["all"].setMinimumWidth(SIGN_PX)  # its words give way before the panel has to grow
        modes.addStretch(1)
        modes.addWidget(self._weather)
        for row in (modes, days):
            row.setSpacing(4)
        grid = QGridLayout(self)
        grid.setContentsMargins(8, 6, 6, 4)
        grid.setSpacing(4)
        grid.addWidget(self._title, 0, 0)
        grid.addLayout(days, 0, 1)
        grid.addLayout(modes, 1, 0, 1, 2)
        grid.setColumnStretch(0, 1)
        order = (*self._modes.values(), self._weather, self._less, self._more, self._whole)
        for before, after in pairwise(order):
            QWidget.setTabOrder(before, after)

    def _wire(self) -> None:
        self._group.buttonClicked.connect(self._choose)
        self._more.clicked.connect(self._see_fewer)
        self._less.clicked.connect(self._see_more)
        self._whole.clicked.connect(self.whole_asked)
        self._weather.clicked.connect(self.weather_switched)

    def dress(self, scheme: Scheme) -> None:
        """Take on the inks of a scheme: what is drawn is to be seen at a glance, in the dark and in the sun."""
        self.setStyleSheet(lit_sheet(scheme))

    def show_title(self, title: str) -> None:
        """Show what is drawn."""
        self._title.setText(title)
        self._title.setToolTip(title.replace("&", "&amp;").replace("<", "&lt;"))

    def title(self) -> str:
        """Return what is drawn."""
        return self._title.text()

    def mode(self) -> Mode:
        """Return what the user wants to see once coupons are chosen."""
        return self._wanted

    def show_mode(self, mode: Mode, *, chosen: int) -> None:
        """Light the button of what is drawn; the chosen coupons can be asked for only when there are some."""
        self._modes[mode].setChecked(True)
        if chosen:
            coupons = self.tr("Show the chosen coupons, each with its own line")
            treatments = self.tr("Show the treatments of the chosen coupons, each with the median of its coupons")
        else:
            coupons = self.tr("Choose coupons on the board to see each with its own line")
            treatments = self.tr("Choose coupons on the board to see their treatments alone")
        explain(self._modes["coupons"], coupons)
        explain(self._modes["treatments"], treatments)
        for each in ("coupons", "treatments"):
            self._modes[each].setEnabled(chosen > 0)

    def show_weather(self, *, there: bool, shown: bool) -> None:
        """Offer the weather where there is some; light its button while it is shown."""
        self._weather.setVisible(there)
        self._weather.setChecked(there and shown)
        self._fit_words()

    def show_zoom(self, *, whole: bool, drawable: bool) -> None:
        """Offer only what can be done."""
        self._whole.setEnabled(drawable and not whole)
        self._less.setEnabled(drawable and not whole)
        self._more.setEnabled(drawable)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Shorten words where the room is short; Qt calls this."""
        super().resizeEvent(event)
        self._fit_words()

    def changeEvent(self, event: QEvent) -> None:
        """Fit the words again in another font; Qt calls this."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._fit_words()

    def _fit_words(self) -> None:
        button = self._modes["all"]
        metrics = button.fontMetrics()
        beside_words = button.sizeHint().width() - metrics.horizontalAdvance(button.text())
        others = sum(self._modes[each].sizeHint().width() + 4 for each in ("coupons", "treatments"))
        if not self._weather.isHidden():
            others += self._weather.sizeHint().width() + 4
        room = self.contentsRect().width() - 14 - others - beside_words
        long, short = self._all_words
        button.setText(long if metrics.horizontalAdvance(long) <= room else short)

    @Slot(QAbstractButton)
    def _choose(self, button: QAbstractButton) -> None:
        self._wanted = next(mode for mode, each in self._modes.items() if each is button)
        self.mode_chosen.emit()

    @Slot()
    def _see_fewer(self) -> None:
        self.zoom_asked.emit(1)

    @Slot()
    def _see_more(self) -> None:
        self.zoom_asked.emit(-1)


def lit_sheet(scheme: Scheme) -> str:
    """Return the style sheet of choices whose lit button is to be seen at a glance."""
    return (
        f"QToolButton:checked {{ background: {scheme.accent}; color: {scheme.on_accent};"
        f" border: 1px solid {scheme.accent}; border-radius: 3px; }}"
        f"QToolButton:checked:focus {{ border: 2px solid {scheme.text}; }}"
    )


def tool_button(text: str, name: str = "") -> QToolButton:
    """Return a button; ``name`` is what is said of one whose text is a sign."""
    button = QToolButton()
    button.setText(text)
    button.setAccessibleName(name or text)
    button.setToolTip(name)
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return button


def explain(button: QToolButton, what: str) -> None:
    """Say what a button does, to whoever points at it and to whoever hears the screen."""
    button.setToolTip(what)
    button.setAccessibleDescription(what)
