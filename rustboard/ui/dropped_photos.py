"""Files dropped on a screen, and what the clipboard holds, as photos to add."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import datetime
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import (
    QBuffer,
    QByteArray,
    QEvent,
    QIODevice,
    QMimeData,
    QObject,
    QPoint,
    Qt,
    QTimer,
    Signal,
    Slot,
)
from PySide6.QtGui import QDragEnterEvent, QDragMoveEvent, QDropEvent, QGuiApplication, QImage
from PySide6.QtWidgets import QWidget

from rustboard.session.intake import Source
from rustboard.session.jobs import Progress

if TYPE_CHECKING:
    from rustboard.session.looked_over import LookedOver

MOST_DROPPED = 20_000
_ENOUGH = 20  # to see, at each move of the pointer, whether there are files in what is dragged


class DroppedPhotos(QObject):
    """Lets screens take files that are dropped on them.

    Signals:
        dropped(object): the files and folders, a list of `Path`.
        dropped_at(object, QPoint): the same, and where on the screen that is watched.
    """

    dropped = Signal(object)
    dropped_at = Signal(object, QPoint)

    def __init__(self, parent: QObject | None = None) -> None:
        """Watch nothing yet."""
        super().__init__(parent)
        self._paths: list[Path] = []
        self._place = QPoint()

    def watch(self, screen: QWidget) -> None:
        """Take what is dropped on a screen."""
        screen.setAcceptDrops(True)
        screen.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take files, leave all else alone."""
        if isinstance(event, QDropEvent) and not isinstance(event, QDragEnterEvent | QDragMoveEvent):
            self._paths = paths_in(event.mimeData())
            self._place = event.position().toPoint()
            if self._paths:
                event.setDropAction(Qt.DropAction.CopyAction)
                event.accept()
                # Not from inside the drop: the other program waits for it to end, and a dialog would keep it waiting.
                QTimer.singleShot(0, self, self._tell)
                return True
        elif isinstance(event, QDragEnterEvent | QDragMoveEvent) and paths_in(event.mimeData(), _ENOUGH):
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()
            return True
        return super().eventFilter(watched, event)

    @Slot()
    def _tell(self) -> None:
        paths, self._paths = self._paths, []
        self.dropped.emit(paths)
        self.dropped_at.emit(paths, self._place)


def paths_in(data: QMimeData, most: int = MOST_DROPPED) -> list[Path]:
    """Return the local files and folders in what is dropped or pasted."""
    urls = data.urls()[:most] if data.hasUrls() else []
    return [Path(each.toLocalFile()) for each in urls if each.isLocalFile() and each.toLocalFile()]


class PastedPicture:
    """A picture from the clipboard; it becomes the bytes of a PNG file when a job first asks for them."""

    def __init__(self, name: str, picture: QImage) -> None:
        """Hold a picture under the name that its file will have."""
        self._name, self._picture = name, picture
        self._content = b""
        self._lock = Lock()

    def source(self) -> Source:
        """Return name and bytes. It takes a large picture more than a second: on any thread but the window's."""
        with self._lock:
            if not self._content:
                self._content = png_bytes(self._picture)
                self._picture = QImage()
            return self._name, self._content


Brought = Source | PastedPicture
"""What a person brings: a file or folder, a picture by name and bytes, or one from the clipboard."""


def pasted_sources(now: datetime) -> list[Path | PastedPicture]:
    """Return what the clipboard holds: files, else a picture; else nothing."""
    data = cast("QMimeData | None", QGuiApplication.clipboard().mimeData())  # none on some systems when it is empty
    if data is None:
        return []
    paths = paths_in(data)
    if paths:
        return list(paths)
    picture = data.imageData() if data.hasImage() else None
    if not isinstance(picture, QImage) or picture.isNull():
        return []
    return [PastedPicture(f"pasted {now:%Y-%m-%d %H.%M.%S}.png", picture)]


def look_over_brought(brought: Sequence[Brought], known: Collection[str], progress: Progress) -> LookedOver:
    """Look over what a person brought, as `rustboard.session.looked_over.look_over` does; a job."""
    from rustboard.session.looked_over import look_over

    sources: list[Source] = []
    for each in brought:
        progress.step(0, 0)  # how long a picture takes is not known
        sources.append(each.source() if isinstance(each, PastedPicture) else each)
    return look_over(sources, known, progress)


def png_bytes(picture: QImage) -> bytes:
    """Return a picture as the bytes of a PNG file; on any thread."""
    content = QByteArray()
    buffer = QBuffer(content)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    picture.save(buffer, "PNG")  # type: ignore[call-overload] # the stub asks for bytes, which Qt refuses
    return bytes(content.data())
