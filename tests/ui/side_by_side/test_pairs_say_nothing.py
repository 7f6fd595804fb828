"""While two coupons are compared, nothing in the window says which they are."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from datetime import datetime

import pytest
from comparing import Comparer
from photographed_boards import photographed
from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QAccessible, QAccessibleInterface, QAction
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLabel, QLineEdit, QPlainTextEdit, QWidget
from window_driving import settle

from rustboard.board.measured import ExcludedArea
from rustboard.board.model import Coupon, Treatment
from rustboard.operations.areas import set_excluded_areas
from rustboard.operations.coupons import edit_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.treatments import add_treatment
from rustboard.session.session import Session

SECRET_IDS = ("Qx71", "Qx72", "Qx73", "Qx74")
SECRETS = (*SECRET_IDS, "walnut varnish", "IMG_", "A1", "A2", "A3", "B1", "grade 4")
START = datetime(2026, 3, 2, 9)


@pytest.fixture
def secret(tmp_path, sitting_at) -> Comparer:
    """A board whose every id, treatment and grade would be known again."""
    folder = photographed(tmp_path / "Quay")
    with closing(Session(folder, clock=lambda: START)) as session:
        session.do(add_treatment, Treatment("T1", "walnut varnish"))
        for key, name in enumerate(SECRET_IDS, start=1):
            old = session.record.coupons[key]
            session.do(edit_coupon, Coupon(name, old.position, 1, outline_mm=old.outline_mm, key=key))
            session.do(grade_coupon, GivenGrade(key, 2, 4, grader="Ann", note="walnut varnish"))
        # On the coupon, 60 x 80 mm: a label from its middle to its lower edge.
        session.do(set_excluded_areas, 4, [ExcludedArea(4, "label", ((0, 40), (60, 40), (60, 80), (0, 80)))])
    return Comparer(sitting_at(folder))


def texts_of(thing: QObject) -> Iterator[str]:
    """Yield all that a widget or an action says, shown or read aloud."""
    if isinstance(thing, QAction):
        yield from (thing.text(), thing.toolTip(), thing.statusTip(), thing.whatsThis(), thing.iconText())
    if isinstance(thing, QWidget):
        yield from (thing.windowTitle(), thing.toolTip(), thing.statusTip(), thing.whatsThis())
        yield from (thing.accessibleName(), thing.accessibleDescription(), thing.windowFilePath())
    if isinstance(thing, QLabel | QAbstractButton | QLineEdit):
        yield thing.text()
    if isinstance(thing, QPlainTextEdit):
        yield thing.toPlainText()
    if isinstance(thing, QComboBox):
        yield from (thing.itemText(number) for number in range(thing.count()))


def seen_texts() -> set[str]:
    """Return every text of every window that is in view."""
    found = set()
    for window in QApplication.topLevelWidgets():
        for thing in (window, *window.findChildren(QObject)):
            if not isinstance(thing, QWidget) or thing.isVisible():
                found.update(texts_of(thing) if not _is_in_hidden(thing) else ())
    return {each for each in found if each}


def _is_in_hidden(thing: QObject) -> bool:
    parent = thing.parent()
    return not isinstance(thing, QWidget) and isinstance(parent, QWidget) and not parent.isVisible()


def read_aloud(window: QWidget) -> set[str]:
    """Return every name, description and value that a screen reader can reach in a window."""
    found: set[str] = set()

    def walk(interface: QAccessibleInterface | None, depth: int = 0) -> None:
        if interface is None or depth > 40 or interface.state().invisible:
            return
        for kind in (QAccessible.Text.Name, QAccessible.Text.Description, QAccessible.Text.Value):
            found.add(interface.text(kind))
        for number in range(interface.childCount()):
            walk(interface.child(number), depth + 1)

    walk(QAccessible.queryAccessibleInterface(window))
    return found - {""}


def leaks(texts: set[str]) -> set[str]:
    return {text for text in texts for secret in SECRETS if secret.casefold() in text.casefold()}


def test_the_walk_would_find_what_the_board_says(secret):
    assert leaks(seen_texts())
    assert leaks(read_aloud(secret.person.window))


def test_nothing_says_which_coupons_are_compared(secret):
    person = secret.person
    person.tap("A1")
    person.tap_grade(4)  # the status line and the tool tips now say so
    person.key(Qt.Key.Key_Escape)
    person.window.message.show_error("Coupon Qx71 has grades, which are never erased.")
    secret.begin()
    count = 0
    while secret.is_comparing():
        assert leaks(seen_texts()) == set()
        assert leaks(read_aloud(person.window)) == set()
        secret.key((Qt.Key.Key_Left, Qt.Key.Key_Space, Qt.Key.Key_Right)[count % 3])
        count += 1
        if count == 3:
            person.do("edit.undo")
    assert count > 3
    settle()
    assert leaks(read_aloud(person.window)), "the order says it all"


def test_nothing_is_said_while_the_pictures_are_cut(secret):
    secret.begin()
    secret.screen.compare.begin(secret.screen._comparison, go_on=False)
    settle()
    assert leaks(seen_texts()) == set()


def test_a_label_in_the_photo_is_painted_over(secret):
    secret.begin()
    image = secret.screen._images[4]
    upper, lower = (
        image.pixelColor(image.width() // 2, round(image.height() * share)).getRgb()[:3] for share in (0.3, 0.7)
    )
    assert upper == (120, 200, 0)  # the coupon's own colour in the second photo
    assert lower == (128, 128, 128)


def test_what_belongs_to_coupons_cannot_be_done_meanwhile(secret):
    secret.begin()
    can = secret.person.enabled()
    assert not {"edit.undo", "edit.redo", "file.go_back", "round.next", "view.table", "coupon.grade"} & can
    secret.key(Qt.Key.Key_Left)
    assert "edit.undo" in secret.person.enabled()
