"""Somebody who practises in the real dialog, and all that the dialog says in words."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QTableWidget, QWidget

from rustboard.scales.practice import TOTAL
from rustboard.ui.practice.dialog import PracticeDialog


def key(dialog: PracticeDialog, *keys: Qt.Key | str) -> None:
    """Press keys where the keyboard is."""
    for each in keys:
        focused = dialog.focusWidget()
        assert focused is not None, "nothing has the keyboard"
        QTest.keyClick(focused, each)
        QApplication.processEvents()


def grade_by_key(dialog: PracticeDialog, grade: int) -> None:
    """Press the key of a grade, and go on where the truth is told."""
    key(dialog, Qt.Key.Key_T if grade == 10 else str(grade))
    if dialog.grading.card.tells():
        key(dialog, Qt.Key.Key_Return)


def grade_all(dialog: PracticeDialog, off: int = 0, until: int = TOTAL) -> None:
    """Grade up to a coupon, off by so much."""
    practice = dialog._practice
    while practice.number < until:
        coupon = practice._coupons[practice.number]
        grade_by_key(dialog, min(10, max(0, coupon.grade + off)))


def click(widget: QWidget) -> None:
    """Click the middle of a widget."""
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
    QApplication.processEvents()


def shown_words(dialog: PracticeDialog) -> list[str]:
    """Return the texts that are to be read in the dialog just now."""
    return [each.text() for each in dialog.findChildren(QLabel) if each.isVisible() and each.text()]


def says(dialog: PracticeDialog, text: str) -> bool:
    """Return whether a text stands in the dialog just now."""
    return any(text in each for each in shown_words(dialog))


def everything_said(dialog: PracticeDialog) -> list[str]:
    """Return all that each widget holds in words, shown or hidden: texts, tips, names, titles, cells."""
    found = []
    for each in [dialog, *dialog.findChildren(QWidget)]:
        words = [each.toolTip(), each.accessibleName(), each.accessibleDescription(), each.windowTitle()]
        words += [each.statusTip(), each.whatsThis(), each.objectName()]
        if isinstance(each, QLabel | QAbstractButton):
            words.append(each.text())
        if isinstance(each, QComboBox):
            words += [each.currentText(), *(each.itemText(place) for place in range(each.count()))]
        if isinstance(each, QTableWidget):
            items = [each.item(row, place) for row in range(each.rowCount()) for place in range(each.columnCount())]
            words += [item.text() for item in items if item is not None]
        found.append("\n".join(words))
    return found
