"""The coupon and one reference picture, large and side by side."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from rustboard.session.jobs import Progress
from rustboard.session.pictures import CutRequest, GuideRequest, guide_picture, same_cut, same_guide
from rustboard.support.problems import InputError
from rustboard.ui.ahead import Ahead
from rustboard.ui.coupon_pictures import cut_images, image_of
from rustboard.ui.guide.strip import limits_text
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import number

_TALLEST = 1_440
_SHARE_OF_WINDOW = 0.92


def large_guide(request: GuideRequest, grade: int, progress: Progress) -> tuple[QImage, float]:
    """Draw one reference picture large, as an image, and say its percent; a job."""
    picture = guide_picture(replace(request, height_px=_TALLEST), grade, progress)
    return image_of(picture.rgb, picture.mask), picture.percent


def prepare_large(ahead: Ahead, request: GuideRequest, grade: int, cut: CutRequest | None) -> None:
    """Make ahead what the comparison of another coupon will begin with.

    Args:
        ahead: keeps it.
        request: for its reference pictures.
        grade: it begins at.
        cut: how to cut the coupon large, or None when there is no photo of it.
    """
    if cut is not None:
        ahead.prepare("large coupon", same_cut(cut), cut_images, cut)
    if request.coupon is not None:  # on plain steel it is soon drawn, and the same for every coupon
        ahead.prepare("large guide", (*same_guide(request), grade), large_guide, request, grade)


class LargePicture(QWidget):
    """One picture as large as there is room."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without a picture."""
        super().__init__(parent)
        self._scheme = scheme
        self._image: QImage | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """Return a comfortable size."""
        return QSize(300, 480)

    def minimumSizeHint(self) -> QSize:
        """Return the least size."""
        return QSize(120, 120)

    def show_image(self, image: QImage | None, name: str) -> None:
        """Show a picture; ``name`` says in words what it is."""
        self._image = image
        self.setAccessibleName(name)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the picture."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        if self._image is None:
            painter.setPen(QColor(self._scheme.muted))
            painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, self.tr("no picture"))
        else:
            size = self._image.size().toSizeF().scaled(self.size().toSizeF(), Qt.AspectRatioMode.KeepAspectRatio)
            target = QRectF(QPointF(), size)
            target.moveCenter(QRectF(self.rect()).center())
            painter.drawImage(target, self._image)
        painter.end()


class CompareDialog(QDialog):
    """Compares one coupon with the reference picture of one grade after the other.

    Signals:
        given(int): the user gives this grade.
    """

    given = Signal(int)

    def __init__(
        self,
        title: str,
        request: GuideRequest,
        ahead: Ahead,
        scheme: Scheme,
        parent: QWidget,
    ) -> None:
        """Show a coupon; the reference picture follows when it is drawn."""
        super().__init__(parent)
        self._request, self._ahead = request, ahead
        self._grade = 5
        self.setWindowTitle(title[:200])
        self._coupon, self._guide = LargePicture(scheme), LargePicture(scheme)
        self._day = QLabel()
        self._day.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._day.setProperty("heading", True)
        self._text = QLabel()
        self._text.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._text.setProperty("heading", True)
        self._less = QPushButton(self.tr("Less rust"))
        self._more = QPushButton(self.tr("More rust"))
        self._give = QPushButton()
        self._give.setProperty("primary", True)
        self._give.setDefault(True)
        self._close = QPushButton(self.tr("Close"))
        self._lay_out(parent.window())
        self._wire()

    def _lay_out(self, window: QWidget) -> None:
        pictures = QHBoxLayout()
        pictures.addWidget(self._coupon)
        pictures.addWidget(self._guide)
        keys = QHBoxLayout()
        for each in (self._less, self._more):
            keys.addWidget(each)
        keys.addStretch(1)
        for each in (self._give, self._close):
            keys.addWidget(each)
        column = QVBoxLayout(self)
        column.addLayout(pictures, 1)
        captions = QHBoxLayout()
        captions.addWidget(self._day, 1)
        captions.addWidget(self._text, 1)
        column.addLayout(captions)
        column.addLayout(keys)
        self.resize(QSize(900, 720).boundedTo(window.size() * _SHARE_OF_WINDOW))

    def _wire(self) -> None:
        self._less.clicked.connect(self.show_less)
        self._more.clicked.connect(self.show_more)
        self._give.clicked.connect(self._give_shown)
        self._close.clicked.connect(self.reject)
        for each in (self, self._less, self._more, self._give, self._close):
            each.installEventFilter(self)

    def show_coupon(self, image: QImage | None, request: CutRequest | None, day: str) -> None:
        """Show the coupon at once as it was cut for the board, then cut large; ``day`` says of when it is."""
        self._day.setText(self.tr("The coupon: {0}").format(day))
        self._coupon.show_image(image, self._day.text())
        if request is not None:
            self._ahead.ask(
                "large coupon", same_cut(request), cut_images, request, done=self._cut, failed=self._keep, owner=self
            )

    def _cut(self, images: dict[int, QImage]) -> None:
        for image in images.values():
            self._coupon.show_image(image, self._day.text())

    def _keep(self, error: InputError) -> None:
        """Keep the smaller picture; what is wrong with the photo is told where photos are."""

    def grade(self) -> int:
        """Return the grade whose picture is shown."""
        return self._grade

    def set_least_height(self, px: int) -> None:
        """Make everything to press at least this high; 0 for as high as it is otherwise."""
        for each in (self._less, self._more, self._give, self._close):
            each.setMinimumHeight(px)

    def forbid_giving(self) -> None:
        """Only look: the board may not be changed here."""
        self._give.setEnabled(False)

    def start_at(self, grade: int) -> None:
        """Show this grade first."""
        self._show(grade)

    def _show(self, grade: int) -> None:
        self._grade = max(0, min(10, grade))
        self._less.setEnabled(self._grade < 10)
        self._more.setEnabled(self._grade > 0)
        self._give.setText(self.tr("Give grade {0}").format(self._grade))
        self._text.setText(self.tr("Reference for grade {0}: {1}").format(self._grade, limits_text(self._grade)))
        self._ahead.ask(
            "large guide",
            (*same_guide(self._request), self._grade),
            large_guide,
            self._request,
            self._grade,
            done=self._come,
            failed=self._fail,
            owner=self,
        )

    def _come(self, drawn: tuple[QImage, float]) -> None:
        image, percent = drawn
        self._guide.show_image(image, self.tr("Reference picture of {0} % rusted").format(number(percent, 3)))

    def _fail(self, error: InputError) -> None:
        self._guide.show_image(None, str(error))

    @Slot()
    def show_less(self) -> None:
        """Show the next better grade."""
        self._show(self._grade + 1)

    @Slot()
    def show_more(self) -> None:
        """Show the next worse grade."""
        self._show(self._grade - 1)

    @Slot()
    def _give_shown(self) -> None:
        self.accept()
        self.given.emit(self._grade)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Up and Down change the reference, digits bring it, whichever button has the keyboard."""
        if event.type() != QEvent.Type.KeyPress or not isinstance(event, QKeyEvent):
            return super().eventFilter(watched, event)
        text = event.text().upper()
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Left):
            self.show_less()
        elif event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Right):
            self.show_more()
        elif len(text) == 1 and text in "0123456789T":
            self._show(10 if text == "T" else int(text))
        else:
            return super().eventFilter(watched, event)
        return True
