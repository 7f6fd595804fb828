"""Questions that stop the user: file names and dialogs. One object, so that tests can answer."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QDialog, QFileDialog, QWidget


class Asker:
    """Asks on behalf of one window."""

    def __init__(self, parent: QWidget) -> None:
        """Remember the window the questions stand over."""
        self._parent = parent

    def save_file(self, title: str, start: Path, kinds: str) -> Path | None:
        """Return where to write a file, or None when the user thinks better of it.

        A name without an ending gets that of ``start`` before the dialog asks whether to replace a file.
        """
        dialog = QFileDialog(self._parent, title, str(start.parent), kinds)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix(start.suffix.lstrip("."))
        dialog.selectFile(start.name)
        accepted = self.dialog(dialog)
        names = dialog.selectedFiles()
        return Path(names[0]) if accepted and names else None

    def open_file(self, title: str, start: Path, kinds: str) -> Path | None:
        """Return a file to read, or None."""
        name, _ = QFileDialog.getOpenFileName(self._parent, title, str(start), kinds)
        return Path(name) if name else None

    def open_files(self, title: str, start: Path, kinds: str) -> list[Path]:
        """Return files to read; none when the user thinks better of it."""
        names, _ = QFileDialog.getOpenFileNames(self._parent, title, str(start), kinds)
        return [Path(each) for each in names]

    def folder(self, title: str, start: Path) -> Path | None:
        """Return a folder, or None."""
        name = QFileDialog.getExistingDirectory(self._parent, title, str(start))
        return Path(name) if name else None

    def dialog(self, dialog: QDialog) -> bool:
        """Run a dialog; return whether it was accepted.

        The dialog goes with the next turn of the event loop; read what it holds before.
        """
        accepted = dialog.exec() == QDialog.DialogCode.Accepted
        dialog.deleteLater()
        return accepted
