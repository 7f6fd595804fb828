"""Two parts beside one another where there is room, else one above the other."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSplitter


def turn_split(split: QSplitter, event: QResizeEvent, narrow_px: int, first_share: float) -> None:
    """Turn a splitter when what it fills crosses a width; each time its first part begins with this share."""
    narrow = event.size().width() < narrow_px
    wanted = Qt.Orientation.Vertical if narrow else Qt.Orientation.Horizontal
    if event.oldSize().width() <= 0 or wanted != split.orientation():
        split.setOrientation(wanted)
        whole = event.size().height() if narrow else event.size().width()
        split.setSizes([round(whole * first_share), round(whole * (1 - first_share))])
