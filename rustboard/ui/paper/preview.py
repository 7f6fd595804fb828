"""One page at a time as it will be printed, with keys and buttons to leaf through."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QEvent, QSize, Qt, Signal, Slot
from PySide6.QtGui import QImage, QKeyEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QFrame, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from rustboard.report.paper.shapes import Page
from rustboard.ui.flow_layout import flowing
from rustboard.ui.grid.fitting_scroll import FittingScroll
from rustboard.ui.paper.renderer import page_picture
from rustboard.ui.theme import MM_PER_INCH

_RIM_PX: Final = 8
_SMALLEST_PX_PER_MM: Final = 0.2
_WHEEL_STEP: Final = 120


class PagePreview(QWidget):
    """Shows pages."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start without pages."""
        super().__init__(parent)
        self._pages: Sequence[Page] = ()
        self._number = 0
        self._fits = True
        self._paper = _Picture()
        self._scroll = _PageScroll()
        self._scroll.setWidget(self._paper)
        self._before = QPushButton("‹")
        self._after = QPushButton("›")
        self._where = QLabel()
        self._fit = QPushButton(self.tr("&Whole page"))
        self._true = QPushButton(self.tr("100 &%"))
        self._build()
        self._wire()
        self.show_pages(())

    def _build(self) -> None:
        self._before.setAccessibleName(self.tr("Page before"))
        self._after.setAccessibleName(self.tr("Next page"))
        self._scroll.setAccessibleName(self.tr("Preview"))
        self._true.setToolTip(self.tr("As large as on paper, if the screen knows its own size"))
        for each in (self._fit, self._true):
            each.setCheckable(True)
            each.setAutoDefault(False)
        for each in (self._before, self._after):
            each.setAutoDefault(False)
            each.setFixedWidth(each.fontMetrics().height() * 2 + 8)
        self._where.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        bar = flowing(self._before, self._after, self._where, self._fit, self._true)  # on a small screen in two lines
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._scroll, 1)
        column.addWidget(bar)

    def _wire(self) -> None:
        self._before.clicked.connect(self.go_back)
        self._after.clicked.connect(self.go_on)
        self._fit.clicked.connect(self.fit)
        self._true.clicked.connect(self.true_size)
        self._scroll.turned.connect(self.turn)
        self._scroll.room_changed.connect(self._resized)

    def show_pages(self, pages: Sequence[Page]) -> None:
        """Show other pages; the number of the page in view stays where it can."""
        self._pages = pages
        self._number = max(0, min(self._number, len(pages) - 1))
        self._show()

    def page_number(self) -> int:
        """Return which page is in view; 0 is the first."""
        return self._number

    def show_page(self, number: int) -> None:
        """Bring a page into view."""
        number = max(0, min(number, len(self._pages) - 1))
        if number != self._number:
            self._number = number
            self._show()

    @Slot()
    def go_back(self) -> None:
        """Show the page before."""
        self.turn(-1)

    @Slot()
    def go_on(self) -> None:
        """Show the next page."""
        self.turn(1)

    @Slot(int)
    def turn(self, by: int) -> None:
        """Leaf a number of pages on or back."""
        self.show_page(self._number + by)

    @Slot()
    def fit(self) -> None:
        """Show the whole page."""
        self._fits = True
        self._show()

    @Slot()
    def true_size(self) -> None:
        """Show the page as large as it will be."""
        self._fits = False
        self._show()

    @Slot()
    def _resized(self) -> None:
        if self._fits:
            self._show()

    def _show(self) -> None:
        total = len(self._pages)
        self._fit.setChecked(self._fits)
        self._true.setChecked(not self._fits)
        self._before.setEnabled(self._number > 0)
        self._after.setEnabled(self._number + 1 < total)
        if not total:
            self._where.setText(self.tr("No pages"))
            self._paper.show_picture(QImage(), 1.0)
            return
        page = self._pages[self._number]
        self._where.setText(self.tr("Page {0} of {1}: {2}").format(self._number + 1, total, page.title))
        ratio = self.devicePixelRatioF()
        self._paper.show_picture(page_picture(page, self._px_per_mm(page) * ratio), ratio)

    def _px_per_mm(self, page: Page) -> float:
        if not self._fits:
            return self.logicalDpiX() / MM_PER_INCH
        room = self._scroll.viewport().size() - QSize(2 * _RIM_PX, 2 * _RIM_PX)
        return max(_SMALLEST_PX_PER_MM, min(room.width() / page.width_mm, room.height() / page.height_mm))


class _Picture(QWidget):
    """The page, with a rim round it."""

    def __init__(self) -> None:
        super().__init__()
        self._image = QImage()

    def show_picture(self, image: QImage, ratio: float) -> None:
        """Show another picture, whose pixels are finer than the screen's by ``ratio``."""
        image.setDevicePixelRatio(ratio)
        self._image = image
        size = image.deviceIndependentSize().toSize()
        self.setFixedSize(size + QSize(2 * _RIM_PX, 2 * _RIM_PX))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the page."""
        if self._image.isNull():
            return
        painter = QPainter(self)
        painter.drawImage(_RIM_PX, _RIM_PX, self._image)
        size = self._image.deviceIndependentSize().toSize()
        painter.setPen(self.palette().mid().color())
        painter.drawRect(_RIM_PX - 1, _RIM_PX - 1, size.width() + 1, size.height() + 1)


class _PageScroll(FittingScroll):
    """Scrolls within a page; at its ends the wheel, and always Page Up and Page Down, turn to another one.

    Signals:
        turned(int): so many pages on.
    """

    turned = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self._wheel = 0

    def sizeHint(self) -> QSize:
        """Ask for little: it takes what the options beside it leave."""
        return self.minimumSizeHint()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Turn pages."""
        steps = {
            Qt.Key.Key_PageDown: 1,
            Qt.Key.Key_PageUp: -1,
            Qt.Key.Key_Home: -1_000_000,
            Qt.Key.Key_End: 1_000_000,
        }
        by = steps.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
        else:
            self.turned.emit(by)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scroll, or turn the page where there is nothing more to scroll."""
        delta = event.angleDelta().y()
        bar = self.verticalScrollBar()
        at_end = bar.value() == (bar.minimum() if delta > 0 else bar.maximum())
        if not at_end:
            self._wheel = 0
            super().wheelEvent(event)
            return
        self._wheel += delta
        if abs(self._wheel) >= _WHEEL_STEP:
            self._wheel = 0
            self.turned.emit(-1 if delta > 0 else 1)
        event.accept()

    def changeEvent(self, event: QEvent) -> None:
        """Follow the screen's fineness."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.DevicePixelRatioChange:
            self.room_changed.emit()
