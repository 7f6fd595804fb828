"""Pictures of coupons that do not say which they are, as images."""

from __future__ import annotations

from PySide6.QtGui import QImage, QTransform

from rustboard.board.blind import Turn
from rustboard.session.jobs import Progress
from rustboard.session.nameless_pictures import NamelessPictures, cut_nameless, turned_by
from rustboard.ui.coupon_pictures import image_of


def nameless_images(request: NamelessPictures, progress: Progress) -> dict[int, QImage]:
    """Cut the coupons of a photo, as images by coupon; a job."""
    return {key: image_of(rgb, mask) for key, (rgb, mask) in cut_nameless(request, progress).items()}


def turned(image: QImage, turn: Turn) -> QImage:
    """Return an image turned or mirrored."""
    across, down = turned_by(turn)
    return image.transformed(QTransform().scale(across, down))
