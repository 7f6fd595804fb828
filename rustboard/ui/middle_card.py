"""A card in the middle of a page, which scrolls where it has no room."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

_WIDEST = 760


def new_card() -> tuple[QFrame, QVBoxLayout]:
    """Return an empty card and the column inside it."""
    card = QFrame()
    card.setProperty("card", True)
    card.setMaximumWidth(_WIDEST)
    card.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
    inside = QVBoxLayout(card)
    inside.setContentsMargins(22, 18, 22, 18)
    inside.setSpacing(12)
    return card, inside


def in_the_middle(card: QWidget) -> QScrollArea:
    """Return a page with the card in its middle, a little above."""
    around = QWidget()
    column = QVBoxLayout(around)
    middle = QHBoxLayout()  # aligned in the middle, its sentences would not get the height they need
    middle.addStretch(1)
    middle.addWidget(card, 100)
    middle.addStretch(1)
    column.addStretch(1)
    column.addLayout(middle)
    column.addStretch(2)
    scroll = QScrollArea()
    scroll.setWidgetResizable(True)
    scroll.setFrameShape(QFrame.Shape.NoFrame)
    scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    scroll.setWidget(around)
    return scroll
