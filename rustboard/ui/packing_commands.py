"""What the user does to send a board as one file, and to open one that was received."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QCoreApplication, Signal, Slot
from PySide6.QtWidgets import QWidget

from rustboard.session.pack_names import PACK_ENDING
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.busy_commands import BusyCommands
from rustboard.ui.doing import Do
from rustboard.ui.wording import size_text

if TYPE_CHECKING:
    from rustboard.session.packing import PackPreview, PackResult, Travels, UnpackResult

_MOST_SHOWN = 6


class PackingCommands(BusyCommands):
    """Commands about packed boards, of the board in the window and of any other.

    Signals:
        unpacked(object): a received board is in this folder (`Path`) now and wants to be opened.
    """

    unpacked = Signal(object)

    def __init__(self, window: QWidget, asker: Asker, do: Do, settings: Settings, bridge: JobBridge) -> None:
        """Start without a page."""
        super().__init__(window, asker, do, bridge)
        self._settings = settings

    def _start(
        self,
        saying: str,
        work: Callable[..., Any],
        *arguments: object,
        done: Callable[[Any], None],
        pattern: str = "",
    ) -> None:
        """Begin work beside the window; ``pattern`` tells how far it is."""
        self.working.emit(saying)
        told = partial(self._tell_progress, pattern) if pattern else None
        self.job = self._bridge.start(
            ("packing", id(self)), work, *arguments, done=done, failed=self._refuse, told=told, owner=self
        )

    def _tell_progress(self, pattern: str, done: int, total: int) -> None:
        if self.job is None or not self.job.cancelled:
            self.working.emit(pattern.format(100 * done // max(total, 1)))

    # ---- sending

    @Slot()
    def pack_this(self) -> None:
        """Pack the board in the window."""
        if self.page is not None:
            self.pack(self.page.session.file)

    @Slot(object)
    def pack(self, board: Path) -> None:
        """Tell what of a board (its folder or file) travels, ask where to, and pack it beside the window."""
        from rustboard.session.packing import what_travels

        self._start(self.tr("Looking at what will be sent…"), what_travels, board, done=partial(self._ask, board))

    def _ask(self, board: Path, travels: Travels) -> None:
        from rustboard.session.packing import pack_board
        from rustboard.ui.packing.send_dialog import SendDialog

        self.told.emit(self.tr("This is what will be sent."))
        dialog = SendDialog(travels, self._window)
        if not self._asker.dialog(dialog):
            return
        photos = dialog.with_photos.isChecked()
        kinds = self.tr("Packed boards (*{0})").format(PACK_ENDING)
        target = self._ask_save(self.tr("Pack to send"), travels.target, kinds, PACK_ENDING)
        if target is None:
            return
        self._start(
            self.tr("Packing…"), partial(pack_board, photos=photos), board, target,
            done=self._packed, pattern=self.tr("Packing: {0} %"),
        )  # fmt: skip

    def _packed(self, result: PackResult) -> None:
        size = size_text(result.size)
        said = self.tr("Packed {0} as {1} ({2})").format(result.board, str(result.file), size)
        if not result.left_out:
            self.told.emit(said)
            return
        lines = [said, self.tr("Left out of it:")]
        lines.extend(each.sentence() for each in result.left_out[:_MOST_SHOWN])
        if len(result.left_out) > _MOST_SHOWN:
            lines.append(self.tr("And {0} more.").format(len(result.left_out) - _MOST_SHOWN))
        self.failed.emit("\n".join(lines))

    # ---- receiving

    @Slot()
    def open_received(self) -> None:
        """Ask for a packed board, then open it as `receive` does."""
        kinds = QCoreApplication.translate("files", "Packed boards (*{0});;All files (*)").format(PACK_ENDING)
        start = self._settings.boards_path()
        path = self._asker.open_file(self.tr("Open a received board"), start, kinds)
        if path is not None:
            self.receive(path)

    @Slot(object)
    def receive(self, path: Path) -> None:
        """Look into a packed board beside the window, show what it is, and unpack it when the user agrees."""
        from rustboard.session.packing import look_into_pack

        self._start(
            self.tr("Looking into the received board…"), look_into_pack, path, self._settings.boards_path(),
            done=self._show,
        )  # fmt: skip

    def _show(self, preview: PackPreview) -> None:
        from rustboard.session.packing import unpack_board
        from rustboard.ui.packing.received_dialog import ReceivedDialog

        self.told.emit(self.tr("This is what was received; nothing of it is unpacked yet."))
        dialog = ReceivedDialog(preview, self._window)
        if not self._asker.dialog(dialog):
            return
        if dialog.wants_own:
            self.unpacked.emit(preview.same_as)
            return
        self._start(
            self.tr("Unpacking…"), unpack_board, preview.file, self._settings.boards_path(),
            done=self._arrived, pattern=self.tr("Unpacking: {0} %"),
        )  # fmt: skip

    def _arrived(self, result: UnpackResult) -> None:
        self.unpacked.emit(result.folder)
        self.told.emit(self.tr("This is the board you received: {0}").format(str(result.folder)))
