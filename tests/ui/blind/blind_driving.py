"""A grader before a board that is graded blind, and everything that the program lets anybody read."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

from photographed_boards import photographed
from PySide6.QtCore import QAbstractListModel, QCoreApplication, QEvent, QModelIndex, QObject, Qt
from PySide6.QtGui import QAccessible, QAction
from PySide6.QtWidgets import QAbstractItemView, QApplication, QComboBox, QStatusBar, QWidget
from window_driving import Person, settle

from rustboard.board.model import Treatment
from rustboard.operations.coupons import edit_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.treatments import add_treatment
from rustboard.session.session import Session
from rustboard.ui.blind.page import BlindPage
from rustboard.ui.blind.round_page import RoundPage

HIDDEN = (
    "Zinkweiss",
    "Lanolin",
    "T77",
    "T78",
    "C01",
    "C02",
    "C03",
    "C04",
    "6-S",
    "4-G",
    "pitted at the hole",
    "IMG_",
)
"""What nobody may read while the second inspection of `secret_board` is graded blind."""


def secret_board(folder: Path) -> Path:
    """Make a board with photos, treatments, ids, and grades, notes and steps of an earlier inspection."""
    photographed(folder)
    with closing(Session(folder)) as session:
        session.do(add_treatment, Treatment("T77", "Zinkweiss"))
        session.do(add_treatment, Treatment("T78", "Lanolin"))
        for coupon in list(session.record.coupons.values()):
            session.do(edit_coupon, replace(coupon, treatment=1 + coupon.key % 2))
        for coupon, (grade, letter) in zip((1, 2, 3), ((6, "S"), (4, "G"), (10, "")), strict=True):
            note = "pitted at the hole" if coupon == 1 else ""
            session.do(grade_coupon, GivenGrade(coupon, 1, grade, letter, grader="Ann", note=note))
    return folder


def choose(basis: str, share: int = 0):
    """Answer: grade from the photo or at the bench, this share of the coupons twice."""

    def answer(dialog: QWidget) -> None:
        boxes = [each for each in dialog.findChildren(QComboBox) if not each.isEditable()]
        basis_box, share_box = boxes
        basis_box.setCurrentIndex(0 if basis == "photo" else basis_box.count() - 1)
        share_box.setCurrentIndex(share_box.findData(share))

    return answer


def hide(person: Person, basis: str = "photo", share: int = 0) -> None:
    """Grade the inspection in view blind from now on."""
    person.answers.dialogs = [choose(basis, share)]
    person.do("inspection.blind")
    settle_deleted()


def settle_deleted() -> None:
    """Let the window do what waits, and what is to be deleted go."""
    settle()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    settle()


def page_of(person: Person) -> BlindPage:
    page = person.window.blind.blind_page
    assert page is not None, "nothing is hidden"
    return page


def round_of(person: Person) -> RoundPage:
    return page_of(person).round


def begin(person: Person, grader: str) -> RoundPage:
    """Begin a round by typing a name and pressing Enter."""
    page = page_of(person)
    line = page.overview.name.lineEdit()
    line.setFocus()
    line.selectAll()
    person.key(*grader)
    person.key(Qt.Key.Key_Return)
    settle()
    assert not page.is_overview()
    return page.round


def shown(person: Person) -> int:
    """Return the key of the coupon being shown."""
    page = round_of(person)
    return page.sitting.round().showings[page.number].coupon


def blind_grades(folder: Path) -> dict[tuple[str, int], str]:
    """Return what the board folder says: grade and letter by grader and number of the showing."""
    with closing(Session(folder, read_only=True)) as session:
        record = session.record
        return {
            (record.blind_rounds[key].grader, number): f"{each.grade}{each.distribution}"
            for key, given in record.blind_grades.items()
            for number, each in given.items()
        }


# ---- what can be read


def everything_readable() -> Iterator[tuple[str, str]]:
    """Yield every text of every widget and action of the program, shown or not, with where it is from."""
    for widget in QApplication.allWidgets():
        where = type(widget).__name__
        for name in (
            "windowTitle", "toolTip", "statusTip", "whatsThis", "accessibleName", "accessibleDescription",
            "objectName", "windowFilePath", "windowIconText", "text", "title", "placeholderText", "toPlainText",
            "currentText",
        ):  # fmt: skip
            found = getattr(widget, name, None)
            if callable(found):
                text = found()
                if isinstance(text, str) and text:
                    yield f"{where}.{name}", text
        yield from _of_model(widget, where)
        yield from _of_actions(widget, where)
        yield from _of_accessibility(widget, where)
        if isinstance(widget, QStatusBar):
            yield f"{where}.currentMessage", widget.currentMessage()
    yield "clipboard", QApplication.clipboard().text()


def _of_model(widget: QWidget, where: str) -> Iterator[tuple[str, str]]:
    if not isinstance(widget, QComboBox | QAbstractItemView) or widget.model() is None:
        return
    model = widget.model()
    for row in range(model.rowCount(QModelIndex())):
        for column in range(1 if isinstance(model, QAbstractListModel) else model.columnCount(QModelIndex())):
            index = model.index(row, column)
            for role in Qt.ItemDataRole:
                value = index.data(role)
                if isinstance(value, str):
                    yield f"{where} row {row}", value


def _of_actions(widget: QObject, where: str) -> Iterator[tuple[str, str]]:
    for action in widget.findChildren(QAction):
        for text in (
            action.text(),
            action.toolTip(),
            action.statusTip(),
            action.iconText(),
            str(action.data() or ""),
        ):
            yield f"{where} action", text


def _of_accessibility(widget: QWidget, where: str) -> Iterator[tuple[str, str]]:
    interface = QAccessible.queryAccessibleInterface(widget)
    if interface is None:
        return
    for kind in (
        QAccessible.Text.Name, QAccessible.Text.Description, QAccessible.Text.Value, QAccessible.Text.Help,
        QAccessible.Text.Accelerator,
    ):  # fmt: skip
        yield f"{where} accessible {kind.name}", interface.text(kind)


def leaks(words: tuple[str, ...] = HIDDEN) -> list[str]:
    """Return where any of these words can be read."""
    return [f"{where}: {text!r}" for where, text in everything_readable() if any(word in text for word in words)]
