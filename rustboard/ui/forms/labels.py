"""Labels that wrap, and forms of labelled fields that fit a narrow panel."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFormLayout, QLabel, QSizePolicy, QWidget


def words_label(text: str = "", *, muted: bool = False, narrow: bool = False) -> QLabel:
    """Return a label for sentences: wrapped, never taken for markup.

    ``narrow``: it never asks for more width than its place has, however long its words are.
    """
    label = QLabel(text)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setProperty("muted", muted)
    if narrow:
        label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.MinimumExpanding)
    return label


def flowing_words(text: str = "") -> QLabel:
    """Return a muted label for sentences that takes the width it is given, and just the height they need there."""
    label = words_label(text, muted=True)
    policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
    policy.setHeightForWidth(True)
    label.setSizePolicy(policy)
    label.setMinimumSize(1, label.fontMetrics().lineSpacing())  # else it asks for the height of a very narrow one
    return label


def panel_form() -> QFormLayout:
    """Return a form whose long rows put the field under its label."""
    form = QFormLayout()
    form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
    form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
    return form


def add_labelled(form: QFormLayout, text: str, field: QWidget, buddy: QWidget | None = None) -> QLabel:
    """Add a field with its label; the label's letter with ``&`` brings the keyboard to ``buddy`` or the field."""
    label = QLabel(text)
    label.setBuddy(buddy or field)
    form.addRow(label, field)
    return label
