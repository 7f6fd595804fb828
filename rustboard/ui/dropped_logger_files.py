"""Loggers' files dropped on the board; all else that is dropped there is left to those who take photos."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QDropEvent

from rustboard.ui.dropped_photos import DroppedPhotos, paths_in

LOGGER_ENDINGS: Final = frozenset({".csv", ".txt", ".tsv", ".dat"})
"""Files with these endings are taken for a logger's when they are dropped; one that is chosen may end as it likes."""


def is_logger_name(path: Path) -> bool:
    """Return whether a file that was dropped is taken for a logger's."""
    return path.suffix.lower() in LOGGER_ENDINGS


class DroppedLoggerFiles(DroppedPhotos):
    """Takes what is dropped when all of it are loggers' files.

    Whoever watches a screen last is asked first, so this one has to watch it after those who take photos.
    """

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take loggers' files, leave all else alone."""
        if isinstance(event, QDropEvent):
            paths = paths_in(event.mimeData())
            if not paths or not all(map(is_logger_name, paths)):
                return False
        return super().eventFilter(watched, event)
