"""What the window's message bar says was refused, for a dialog that stands over it."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from rustboard.ui.message_bar import MessageBar


def refusal_in(window: QWidget) -> str:
    """Return the error that a window shows, or an empty text."""
    bar = getattr(window, "message", None)
    return bar.text() if isinstance(bar, MessageBar) and bar.is_error() else ""
