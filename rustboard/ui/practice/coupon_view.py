"""The coupon to be graded, large, with its rust marked on demand."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPainter, QPixmap

from rustboard.session.practice import Shown
from rustboard.ui.coupon_pictures import image_of
from rustboard.ui.theme import MASK_RUST, Scheme
from rustboard.ui.zooming.view import ZoomView

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_TINT: Final = 190
_FEW: Final = 0.02  # of the picture: up to here each spot of rust gets a rim, or nobody would find it


class CouponView(ZoomView):
    """Shows a coupon by the mean of its pixels, so that no speck falls between two of the screen."""

    def __init__(self, scheme: Scheme) -> None:
        """Start without a coupon."""
        super().__init__(scheme)
        self._rust: NDArray[np.bool_] | None = None
        self._overlay: QImage | None = None
        self._overlay_size = QSize()
        self._small: tuple[int, QSize, QImage] | None = None
        self.setAccessibleName(self.tr("The coupon to grade"))

    def sizeHint(self) -> QSize:
        """Ask for much: the coupon is what this is about."""
        return QSize(640, 480)

    def show_coupon(self, shown: Shown | None) -> None:
        """Show a coupon without marks, whole; None shows nothing."""
        self.mark(None)
        image = QImage() if shown is None else image_of(shown.rgb, shown.steel)
        self.show_image(image, QSizeF(image.size()) if shown is not None else QSizeF(100, 100))
        self.fit()

    def mark(self, rust: NDArray[np.bool_] | None) -> None:
        """Mark where it is rusted; None takes the marks away."""
        self._rust, self._overlay = rust, None
        self.update()

    def is_marked(self) -> bool:
        """Return whether the rust is marked."""
        return self._rust is not None

    # ---- painting

    def _painted_backdrop(self) -> QPixmap:
        ratio = self.devicePixelRatioF()
        backdrop = QPixmap(self.size() * ratio)
        backdrop.setDevicePixelRatio(ratio)
        backdrop.fill(QColor(self.scheme.tile))
        if self.has_image():
            painter = QPainter(backdrop)
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(self._target(), self._meant(self.image()))
            painter.end()
        return backdrop

    def _target(self) -> QRectF:
        extent = self.extent()
        return QRectF(self.to_widget(0, 0), self.to_widget(extent.width(), extent.height()))

    def _meant(self, image: QImage) -> QImage:
        """Return a picture at the size in which it is painted, where that is smaller than its own."""
        size = (self._target().size() * self.devicePixelRatioF()).toSize()
        if size.width() >= image.width() or size.isEmpty():
            return image
        key = (image.cacheKey(), size)
        if self._small is None or self._small[:2] != key:
            mode = Qt.TransformationMode.SmoothTransformation
            self._small = (*key, image.scaled(size, Qt.AspectRatioMode.IgnoreAspectRatio, mode))
        return self._small[2]

    def paint_over(self, painter: QPainter) -> None:
        """Paint the marks over the coupon."""
        if self._rust is None:
            return
        size = (self._target().size() * self.devicePixelRatioF()).toSize()
        if self._overlay is None or size != self._overlay_size:
            pixels_a_dot = self.image().width() / max(1, size.width())
            overlay = _overlay_of(self._rust, pixels_a_dot)
            if pixels_a_dot > 1:
                mode = Qt.TransformationMode.SmoothTransformation
                overlay = overlay.scaled(size, Qt.AspectRatioMode.IgnoreAspectRatio, mode)
            self._overlay, self._overlay_size = overlay, size
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.drawImage(self._target(), self._overlay)

    # ---- keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave the digits to whoever takes grades; plus and minus zoom."""
        if event.text().isdigit():
            event.ignore()
        else:
            super().keyPressEvent(event)


def _overlay_of(rust: NDArray[np.bool_], pixels_a_dot: float) -> QImage:
    """Return the marks as a picture as large as the coupon's, transparent where there is no rust."""
    import numpy as np

    colour = QColor(MASK_RUST)
    pixels = np.zeros((*rust.shape, 4), np.uint8)
    pixels[..., :3] = (colour.red(), colour.green(), colour.blue())
    pixels[..., 3] = np.where(rust, _TINT, 0)
    if np.count_nonzero(rust) < _FEW * rust.size:
        rim = _grown(rust, max(2, round(2 * pixels_a_dot))) & ~_grown(rust, max(1, round(pixels_a_dot)))
        pixels[rim, 3] = 255
    height, width = rust.shape
    return QImage(pixels.tobytes(), width, height, width * 4, QImage.Format.Format_RGBA8888).copy()


def _grown(mask: NDArray[np.bool_], by: int) -> NDArray[np.bool_]:
    """Return a mask with so many pixels more on every side."""
    for _ in range(by):
        wider = mask.copy()
        wider[1:] |= mask[:-1]
        wider[:-1] |= mask[1:]
        wider[:, 1:] |= mask[:, :-1]
        wider[:, :-1] |= mask[:, 1:]
        mask = wider
    return mask
