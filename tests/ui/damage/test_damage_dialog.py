"""Damage of a coupon, noted beside its grade by keys, mouse and touch, and taken back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from PySide6.QtCore import QLocale, QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QDialog, QLabel, QLineEdit, QPushButton, QWidget
from window_driving import Person, graded, grades_on_disk, made_board, settle, wait_until

from rustboard.board.damage import DAMAGE_KINDS, Damage
from rustboard.board.damages_noted import damages_of
from rustboard.operations.damage import GivenDamage, note_damage
from rustboard.session.session import Session
from rustboard.ui.damage.dialog import DamageDialog
from rustboard.ui.damage.row import CreepRow, DamageRow, ShareRow
from rustboard.ui.theme import SCHEMES, Scheme, apply_scheme, px_of_mm

KEY = Qt.Key
ALT = Qt.KeyboardModifier.AltModifier
SMALLEST_ROOM = QSize(683 - 16, 384 - 48)
"""What a dialog may take of 1366 x 768 pixels at twice the usual scale."""


def noted(person: Person, coupon: int = 1, inspection: int = 1) -> dict[str, Damage]:
    return {each.kind: each for each in damages_of(person.session.record, coupon, inspection)}


def row(dialog: QDialog, kind: str) -> DamageRow:
    assert isinstance(dialog, DamageDialog)
    return next(each for each in dialog.rows if each.kind == kind)


def share(dialog: QDialog, kind: str) -> ShareRow:
    found = row(dialog, kind)
    assert isinstance(found, ShareRow)
    return found


def creep(dialog: QDialog) -> CreepRow:
    found = row(dialog, "creep")
    assert isinstance(found, CreepRow)
    return found


def active(dialog: QDialog) -> None:
    dialog.activateWindow()
    assert QTest.qWaitForWindowActive(dialog)
    settle()


def press(*keys: Qt.Key | str, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    """Press keys where the keyboard is, in whichever window."""
    for each in keys:
        widget = QApplication.focusWidget()
        assert widget is not None, "nothing has the keyboard"
        QTest.keyClick(widget, each, modifier)
        settle()


def click(widget: QWidget) -> None:
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
    settle()


def tick(dialog: QDialog, kind: str) -> None:
    box = row(dialog, kind).box
    at = box.rect().center()
    at.setX(8)
    QTest.mouseClick(box, Qt.MouseButton.LeftButton, pos=at)
    settle()


def button(dialog: QDialog, text: str) -> QPushButton:
    return next(each for each in dialog.findChildren(QPushButton) if each.text().replace("&", "") == text)


def does(person: Person, answer: Callable[[QDialog], object]) -> None:
    """Open the damage of the coupon in hand and do something in the dialog."""
    person.answers.dialogs = [answer]
    person.do("coupon.damage")
    assert person.answers.asked[-1] == "DamageDialog"


def stained(dialog: QDialog) -> None:
    """Answer: a stain on 5 %."""
    share(dialog, "stain").box.setChecked(True)
    share(dialog, "stain").percent.setText("5")


# ---- by keys, by mouse, by touch


def test_blisters_are_noted_by_keys_alone_and_grading_goes_on(person, yard):
    def by_keys(dialog: QDialog) -> bool:
        active(dialog)
        assert dialog.windowTitle() == "Damage of C01"
        press("b", modifier=ALT)
        wait_until(row(dialog, "blisters").box.isChecked, "for the box, which shows for a moment that it is pressed")
        press(KEY.Key_Tab, "1", "5", KEY.Key_Tab)
        press(KEY.Key_Down, KEY.Key_Down, KEY.Key_Down, KEY.Key_Tab, *"low")
        assert row(dialog, "blisters").rating.text() == "Appearance rating 2 of 10, written -/2mG (ISO 10289)"
        press(KEY.Key_Escape)
        return False

    person.tap("A1")
    person.answers.dialogs = [by_keys]
    person.key("d")
    (blisters,) = noted(person).values()
    assert (blisters.percent, blisters.severity, blisters.note, blisters.grader) == (15.0, "m", "low", "Ann")
    assert person.reads("A1 · C01 · beeswax blend · blisters")
    assert grades_on_disk(yard) == {}
    person.key("7")
    assert grades_on_disk(yard) == {"C01": "7"}
    assert person.grading() == "C02"
    assert person.reads("A2 · C02 · beeswax blend")
    assert not person.reads("· blisters")


def test_creep_is_noted_by_mouse_and_rated_while_it_is_typed(person):
    def by_mouse(dialog: QDialog) -> bool:
        active(dialog)
        tick(dialog, "creep")
        fields = creep(dialog)
        click(fields.scribe)
        press(*"0,5")
        assert not fields.rating.isVisible()
        click(fields.widths)
        press(*"2,1 3,0; 2,4")
        # (2.5 - 0.5) / 2 = 1.0 mm by hand; rating 8 up to 1 mm (ASTM D1654, public copy).
        assert fields.rating.text() == "Mean creep 1 mm: rating 8 of 10 (ASTM D1654)"
        assert fields.rating.isVisible()
        click(button(dialog, "Close"))
        assert not dialog.isVisible()
        return False

    person.tap("A1")
    person.answers.dialogs = [by_mouse]
    person.press("Damage…")
    (found,) = noted(person).values()
    assert (found.scribe_mm, found.widths_mm) == (0.5, (2.1, 3.0, 2.4))
    assert person.reads("· creep")
    assert any(each.text() == "Damage (1)…" for each in person.panel.findChildren(QPushButton))


def test_a_finger_ticks_a_kind(person, qapp):
    device = QTest.createTouchDevice()

    def by_touch(dialog: QDialog) -> None:
        dialog.move(0, 0)
        active(dialog)
        box = row(dialog, "stain").box
        at = box.rect().center()
        at.setX(8)
        person.touch(box, at, device)
        assert box.isChecked()
        share(dialog, "stain").percent.setText("4")

    does(person, by_touch)
    assert noted(person)["stain"].percent == 4.0


def test_a_kind_is_kept_as_its_fields_are_left_and_waits_while_only_ticked(person):
    def walk(dialog: QDialog) -> None:
        active(dialog)
        tick(dialog, "edge rust")
        tick(dialog, "peeling")
        assert noted(person) == {}
        assert dialog.problem.text() == ""
        click(share(dialog, "edge rust").percent)
        press(*"30")
        assert noted(person) == {}
        click(share(dialog, "peeling").percent)
        assert noted(person)["edge rust"].percent == 30.0
        press(*"2.5")

    does(person, walk)
    assert {kind: each.percent for kind, each in noted(person).items()} == {"edge rust": 30.0, "peeling": 2.5}


def test_no_kind_of_damage_changes_a_grade(tmp_path, sitting_at):
    folder = graded(made_board(tmp_path / "b"), 1, {"C01": 9})
    person = sitting_at(folder)
    before = person.session.record.grading(1, 1)

    def all_kinds(dialog: QDialog) -> None:
        assert any("Nothing here changes the grade" in each.text() for each in dialog.findChildren(QLabel))
        for each in dialog.rows:
            each.box.setChecked(True)
        for kind in DAMAGE_KINDS[:-1]:
            share(dialog, kind).percent.setText("90")
        creep(dialog).scribe.setText("1")
        creep(dialog).widths.setText("60 60")

    does(person, all_kinds)
    assert list(noted(person)) == list(DAMAGE_KINDS)
    assert person.session.record.grading(1, 1) == before
    assert person.digit("A1") == "9"


def test_without_a_severity_only_the_rating_is_said(person):
    def without(dialog: QDialog) -> None:
        active(dialog)
        tick(dialog, "peeling")
        fields = share(dialog, "peeling")
        click(fields.percent)
        press(*"0,3")
        # More than 0.25 and up to 0.5 %: rating 7 (ISO 10289, public copies).
        assert (
            fields.rating.text() == "Appearance rating 7 of 10 (ISO 10289); choose a severity to have it written out"
        )
        press(KEY.Key_Tab, KEY.Key_Down, KEY.Key_Down)
        assert fields.rating.text() == "Appearance rating 7 of 10, written -/7sF (ISO 10289)"

    does(person, without)
    assert (noted(person)["peeling"].percent, noted(person)["peeling"].severity) == (0.3, "s")


def test_edge_rust_and_stains_get_no_rating(person):
    def unrated(dialog: QDialog) -> None:
        for kind in ("edge rust", "stain"):
            share(dialog, kind).box.setChecked(True)
            share(dialog, kind).percent.setText("5")
            share(dialog, kind).severity.setCurrentIndex(3)
            share(dialog, kind).severity.activated.emit(3)
            assert not share(dialog, kind).rating.isVisible()
            assert any("it has no rating" in each.text() for each in share(dialog, kind).findChildren(QLabel))

    does(person, unrated)
    assert [each.severity for each in noted(person).values()] == ["m", "m"]


# ---- taken back


def test_unticked_it_is_withdrawn_and_undo_brings_it_back(person):
    person.session.do(note_damage, GivenDamage(1, 1, "blisters", 15.0, "m"))
    steps = len(person.session.audit())

    def untick(dialog: QDialog) -> None:
        tick(dialog, "blisters")
        assert noted(person) == {}
        assert not share(dialog, "blisters").percent.isVisible()

    does(person, untick)
    assert len(person.session.audit()) == steps + 1
    assert person.message() == "Withdraw damage of C01: blisters"
    person.do("edit.undo")
    assert noted(person)["blisters"].percent == 15.0


def test_ticked_again_what_was_typed_is_kept_again(person):
    person.session.do(note_damage, GivenDamage(1, 1, "blisters", 15.0, "m"))

    def twice(dialog: QDialog) -> None:
        tick(dialog, "blisters")
        tick(dialog, "blisters")

    does(person, twice)
    assert (noted(person)["blisters"].percent, noted(person)["blisters"].severity) == (15.0, "m")


def test_undo_of_each_step_shows_on_the_tile_and_in_the_panel(person):
    person.tap("A1")
    person.window.do(note_damage, GivenDamage(1, 1, "blisters", 15.0, "m"))
    person.window.do(note_damage, GivenDamage(1, 1, "edge rust", 5.0))
    tile = person.page.tiles.canvas
    place = tile.content.place_of(1)
    assert tile.text_of(place).endswith("damage: edges, blisters")
    person.do("edit.undo")
    assert tile.text_of(place).endswith("damage: blisters")
    assert person.reads("A1 · C01 · beeswax blend · blisters")
    person.do("edit.undo")
    assert "damage" not in tile.text_of(place)
    assert not person.reads("· blisters")


def test_looked_at_and_closed_nothing_is_written(person):
    person.session.do(note_damage, GivenDamage(1, 1, "stain", 15.0, "m", grader="Ben", note="first\nsecond"))
    steps = len(person.session.audit())
    does(person, lambda dialog: None)
    assert len(person.session.audit()) == steps


def test_a_note_of_several_lines_stays_when_another_field_is_changed(person):
    person.session.do(note_damage, GivenDamage(1, 1, "stain", 15.0, note="first\nsecond"))

    def change(dialog: QDialog) -> None:
        active(dialog)
        share(dialog, "stain").percent.setFocus()
        share(dialog, "stain").percent.selectAll()
        press(*"20")

    does(person, change)
    assert (noted(person)["stain"].percent, noted(person)["stain"].note) == (20.0, "first\nsecond")


# ---- what cannot be


@pytest.mark.parametrize(
    ("percent", "words"),
    [
        ("abc", "not a number"),
        ("101", "0 to 100"),
        ("-1", "0 to 100"),
        ("nan", "not a number"),
        ("1e999", "too large"),
        ("1,2,3", "not a number"),
        ("", "how much"),
        ("٣", "not a number"),
    ],
)
def test_a_percent_that_cannot_be_is_said_and_the_other_kinds_are_kept(person, percent, words):
    def wrong(dialog: QDialog) -> bool:
        active(dialog)
        share(dialog, "stain").box.setChecked(True)
        share(dialog, "stain").percent.setText("5")
        share(dialog, "blisters").box.setChecked(True)
        share(dialog, "blisters").percent.setText(percent)
        dialog.accept()
        assert dialog.isVisible()
        assert words in dialog.problem.text()
        assert dialog.problem.text().startswith("Blisters: ")
        assert share(dialog, "blisters").percent.hasFocus()
        press(KEY.Key_Escape)
        assert dialog.isVisible(), "asked once more, because something typed would be lost"
        press(KEY.Key_Escape)
        assert not dialog.isVisible()
        return False

    does(person, wrong)
    assert list(noted(person)) == ["stain"]


@pytest.mark.parametrize(
    ("scribe", "widths", "words"),
    [
        ("", "2.1", "Creep needs"),
        ("0.5", "", "Creep needs"),
        ("5", "2.1", "never narrower"),
        ("0.5", "2.1 x", "not a number"),
        ("0.5", "2,1,3", "not a number"),
        ("0.5", "1001", "from 0 to 1000 mm"),
        ("-1", "2", "from 0 to 1000 mm"),
        ("0.5", "2 " * 101, "At most 100 widths"),
        ("1e400", "2", "too large"),
    ],
)
def test_widths_that_cannot_be_are_said_and_mended(person, scribe, widths, words):
    def wrong(dialog: QDialog) -> None:
        active(dialog)
        tick(dialog, "creep")
        fields = creep(dialog)
        fields.scribe.setText(scribe)
        fields.widths.setText(widths)
        dialog.accept()
        assert words in dialog.problem.text()
        assert not fields.rating.isVisible()
        for field, text in ((fields.scribe, "0.5"), (fields.widths, "2.5")):
            field.setFocus()
            field.selectAll()
            press(*text)
        assert dialog.problem.text() == ""

    does(person, wrong)
    assert noted(person)["creep"].widths_mm == (2.5,)


def test_what_the_disk_refuses_is_said_in_the_dialog(person):
    person.session.do(note_damage, GivenDamage(1, 1, "stain", 5.0))

    def refused(dialog: QDialog) -> bool:
        person.window.message.show_error("The disk is full.")
        dialog._do = lambda *arguments, **named: None
        tick(dialog, "stain")
        assert row(dialog, "stain").box.isChecked()
        assert dialog.problem.text() == "The disk is full."
        tick(dialog, "peeling")
        share(dialog, "peeling").percent.setText("5")
        dialog.accept()
        assert dialog.isVisible()
        assert dialog.problem.text() == "The disk is full."
        dialog.reject()
        dialog.reject()
        return False

    does(person, refused)
    assert list(noted(person)) == ["stain"]


# ---- around it


def test_a_note_being_typed_for_the_grade_is_not_lost(person):
    person.tap("A1")
    person.key("7", KEY.Key_Left)
    person.key("n")
    person.key(*"rough")
    person.answers.dialogs = [stained]
    person.press("Damage…")
    assert noted(person)["stain"].percent == 5.0
    assert person.session.record.grading(1, 1).note == "rough"


def test_a_board_for_reading_shows_no_dialog(person, yard, desk):
    reader = desk.sit_down(yard)
    reader.tap("A1")
    reader.key("d")
    assert "DamageDialog" not in reader.answers.asked


def test_the_damage_is_of_the_inspection_in_view(tmp_path, sitting_at):
    person = sitting_at(made_board(tmp_path / "b", inspections=2))
    person.session.do(note_damage, GivenDamage(1, 2, "blisters", 15.0, "m"))
    person.tap("A1")
    assert person.reads("· blisters")
    person.do("inspection.earlier")
    assert not person.reads("· blisters")
    does(person, stained)
    assert list(noted(person, inspection=1)) == ["stain"]
    assert list(noted(person, inspection=2)) == ["blisters"]


# ---- for everybody


HOSTILE = ('=HYPERLINK("x")', "🧲" * 200, "W" * 400, "a\x00b\u202ec\x07", "<h1>x</h1> & \ud800", "&&&")


@pytest.fixture
def shown(tmp_path, desk, qtbot):
    """Shows the dialog of a coupon with every kind noted; id, grader and notes are the text given."""

    def show(name: str = "C01") -> DamageDialog:
        session = Session(made_board(tmp_path / "b"))
        for kind in DAMAGE_KINDS[:-1]:
            session.do(note_damage, GivenDamage(1, 1, kind, 15.0, "m", grader=name, note=name))
        session.do(note_damage, GivenDamage(1, 1, "creep", scribe_mm=0.5, widths_mm=(2.1, 3.0), note=name))
        coupon = replace(session.record.coupons[1], id=name)
        dialog = DamageDialog(session, coupon, session.record.inspections[1], session.do)
        qtbot.addWidget(dialog, before_close_func=lambda _: session.close())
        dialog.show()
        return dialog

    return show


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_any_text_is_shown_and_kept_in_bounds(shown, text):
    dialog = shown(text)
    assert dialog.width() <= dialog.screen().availableGeometry().width()
    assert len(dialog.windowTitle()) < 100
    assert not {"\x00", "\u202e", "\x07"} & set(dialog.windowTitle())
    assert not dialog.grab().isNull()
    before = len(dialog._session.audit())
    dialog.accept()
    assert not dialog.isVisible()
    assert len(dialog._session.audit()) == before


def test_every_control_has_a_name_and_every_letter_is_given_once(shown):
    dialog = shown()
    for each in dialog.findChildren(QWidget):
        if isinstance(each, QLineEdit | QComboBox):
            assert each.accessibleName(), each
    names = [each.accessibleName() for each in dialog.findChildren(QLineEdit)]
    assert len(names) == len(set(names))
    texts = [each.box.text() for each in dialog.rows] + [each.text() for each in dialog.findChildren(QPushButton)]
    letters = [each[each.index("&") + 1].casefold() for each in texts]
    assert len(letters) == len(set(letters))


def test_a_screen_reader_hears_the_rating_with_its_field(shown):
    dialog = shown()
    assert share(dialog, "blisters").percent.accessibleDescription() == row(dialog, "blisters").rating.text() != ""


def test_what_is_touched_is_large_enough(shown):
    dialog = shown()
    for each in (
        *(each.box for each in dialog.rows),
        *dialog.findChildren(QLineEdit),
        *dialog.findChildren(QComboBox),
    ):
        assert each.height() >= px_of_mm(dialog, 9.0)


@pytest.mark.parametrize("scheme", list(SCHEMES.values()), ids=list(SCHEMES))
def test_it_fits_a_low_screen_at_twice_the_usual_scale(shown, qapp, monkeypatch, scheme: Scheme):
    apply_scheme(qapp, scheme)
    monkeypatch.setattr(DamageDialog, "_room", lambda dialog: SMALLEST_ROOM)
    dialog = shown()
    dialog.resize(SMALLEST_ROOM)
    settle()
    assert dialog.size() == SMALLEST_ROOM
    assert dialog._inside.width() <= dialog._scroll.viewport().width()
    for each in dialog.findChildren(QLineEdit):
        assert dialog._inside.rect().contains(each.mapTo(dialog._inside, each.rect().bottomRight()))


def test_numbers_are_shown_as_the_user_writes_them(shown):
    before = QLocale()
    QLocale.setDefault(QLocale(QLocale.Language.German, QLocale.Country.Germany))
    try:
        dialog = shown()
    finally:
        QLocale.setDefault(before)
    assert creep(dialog).widths.text() == "2,1 3"
    assert creep(dialog).scribe.text() == "0,5"
