"""The list of treatments on the plan: coupons, controls, cost, and what its buttons ask for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path
from types import SimpleNamespace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QCheckBox, QDialog, QLabel, QPushButton, QSpinBox, QWidget
from pytestqt.qtbot import QtBot

from rustboard.board.model import Board, Coupon, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.board.recipe import Recipe, RecipeStep
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.recipes import set_recipe
from rustboard.operations.treatments import add_treatment
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.tables import BoardRow
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.plan.treatment_card import TreatmentCard
from rustboard.ui.plan.treatments_panel import TreatmentsPanel
from rustboard.ui.recipe_commands import RecipeCommands
from rustboard.ui.recipe_wording import minutes, money
from rustboard.ui.recipes.library_dialog import LibraryDialog
from rustboard.ui.recipes.recipe_dialog import RecipeDialog
from rustboard.ui.theme import DARK, LIGHT
from rustboard.ui.treatment_colours import treatment_inks

NOW = datetime(2026, 2, 1, 10)
FACE = ((0.0, 0.0), (100.0, 0.0), (100.0, 150.0), (0.0, 150.0))
WAX = RecipeStep(
    "coat", "beeswax", quantity=4, unit="g", container_price=18, container_quantity=500, container_unit="g", minutes=6
)
DRY = RecipeStep("dry", minutes=20, hands_on=False)


class Bench:
    """A session, its panel, and what was refused."""

    def __init__(self, session: Session, qtbot: QtBot) -> None:
        self.session, self.refused = session, []
        self.panel = TreatmentsPanel(session, self.do, LIGHT)
        qtbot.addWidget(self.panel)
        self.panel.resize(430, 900)
        self.panel.show()
        session.feed.subscribe(self.panel.apply)

    def do(self, operation: Callable[..., object], *arguments: object, origin: object = None) -> ChangeSet | None:
        try:
            return self.session.do(operation, *arguments, origin=origin)
        except InputError as error:
            self.refused.append(str(error))
            return None

    def cards(self) -> list[TreatmentCard]:
        QApplication.processEvents()  # a new card shows when the layout has placed it
        found = [each for each in self.panel.findChildren(TreatmentCard) if each.isVisible()]
        return sorted(found, key=lambda each: each.y())

    def texts(self, row: int) -> str:
        return "\n".join(each.text() for each in self.cards()[row].findChildren(QLabel) if each.isVisible())

    def counts(self) -> list[tuple[int | None, str]]:
        return [(each.treatment, each.role) for each in self.session.record.coupons.values()]


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    create_board(tmp_path / "b", BoardRow(Board("Harbour wall", rows=2, columns=4)))
    with closing(Session(tmp_path / "b", clock=lambda: NOW)) as session:
        session.do(add_treatment, Treatment("T1", "hot wax", "wax", "brushed"))
        session.do(add_treatment, Treatment("T2", cost_per_m2=2.5, minutes_per_m2=40))
        for number in range(2):
            session.do(add_coupon, Coupon(f"C{number}", Position(0, number), 1, outline_mm=()))
        yield session


@pytest.fixture
def bench(session: Session, qtbot: QtBot) -> Bench:
    return Bench(session, qtbot)


def child(card: QWidget, kind: type[QWidget], text: str = "") -> QWidget:
    return next(each for each in card.findChildren(kind) if not text or each.text().startswith(text))


def click(widget: QWidget) -> None:
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton)


def test_each_treatment_has_a_card_in_the_order_they_were_made(bench: Bench) -> None:
    assert len(bench.cards()) == 2
    assert bench.texts(0).startswith("T1  hot wax\nwax · brushed\n")
    assert "Cost: 2.5 for a m²\nWork: 40\xa0min for a m²" in bench.texts(1)
    assert "2 coupons; 2 of 8 positions are taken." in bench.panel._sum.text()
    assert "No coupon is an untreated control" in bench.panel._sum.text()


def test_an_empty_board_says_what_to_do(tmp_path: Path, qtbot: QtBot) -> None:
    create_board(tmp_path / "new", BoardRow(Board("New")))
    with closing(Session(tmp_path / "new")) as session:
        bench = Bench(session, qtbot)
        assert "Add the first one" in bench.panel._sum.text()
        assert bench.cards() == []


def test_the_number_of_coupons_is_set_where_it_stands(bench: Bench) -> None:
    spin = child(bench.cards()[1], QSpinBox)
    spin.setFocus()
    QTest.keyClick(spin, Qt.Key.Key_Up)
    QTest.keyClick(spin, Qt.Key.Key_Up)
    assert bench.counts() == [(1, "test"), (1, "test"), (2, "test"), (2, "test")]
    bench.session.undo()
    assert spin.value() == 1
    spin.setValue(0)
    assert bench.counts() == [(1, "test"), (1, "test")]


def test_a_number_that_is_refused_goes_back(bench: Bench) -> None:
    bench.session.do(add_inspection, Inspection(NOW))
    for coupon in (1, 2):
        bench.session.do(grade_coupon, GivenGrade(coupon, 1, 8))
    spin = child(bench.cards()[0], QSpinBox)
    spin.setValue(1)
    assert "never erased" in bench.refused[0]
    assert spin.value() == 2


def test_a_treatment_is_made_the_control_and_new_coupons_follow(bench: Bench) -> None:
    box = child(bench.cards()[0], QCheckBox)
    assert box.text() == "Untreated control"
    box.click()
    assert bench.counts() == [(1, "control"), (1, "control")]
    child(bench.cards()[0], QSpinBox).setValue(3)
    assert bench.counts()[-1] == (1, "control")
    assert "No coupon is an untreated control" not in bench.panel._sum.text()
    box.click()
    assert {role for _, role in bench.counts()} == {"test"}
    assert not child(bench.cards()[1], QCheckBox).isEnabled()  # no coupon yet that could be one


def test_some_controls_among_the_coupons_show_as_some(bench: Bench) -> None:
    bench.session.do(add_coupon, Coupon("C9", treatment=1, role="control"))
    box = child(bench.cards()[0], QCheckBox)
    assert box.checkState() == Qt.CheckState.PartiallyChecked
    assert box.toolTip() == "1 of 3 are controls"
    box.click()
    assert box.checkState() == Qt.CheckState.Checked
    assert {role for _, role in bench.counts()} == {"control"}


def test_one_tap_adds_as_many_controls_as_a_treatment_has_coupons(bench: Bench) -> None:
    click(bench.panel._controls)
    assert bench.counts()[2:] == [(None, "control"), (None, "control")]
    assert len(bench.cards()) == 3
    assert bench.texts(2).startswith("No treatment")
    assert not bench.panel._controls.isEnabled()
    assert not any(each.isVisible() for each in bench.cards()[2].findChildren(QPushButton))
    child(bench.cards()[2], QSpinBox).setValue(3)
    assert bench.counts()[-1] == (None, "control")
    bench.session.undo()
    bench.session.undo()
    assert len(bench.cards()) == 2
    assert bench.panel._controls.isEnabled()


def test_cost_and_time_come_from_the_recipe_when_there_is_one(bench: Bench) -> None:
    bench.session.do(set_recipe, 2, Recipe((WAX, DRY)))
    assert "Cost: 0.144 for a coupon\nWork: 6\xa0min for a coupon; waiting: 20\xa0min\nNot all steps" in bench.texts(
        1
    )
    assert child(bench.cards()[1], QPushButton, "Steps (2)") is not None
    bench.session.do(add_coupon, Coupon("C9", treatment=2, outline_mm=FACE))
    assert "Cost: 0.144 for a coupon, 4.8 for a m²" in bench.texts(1)


def test_a_treatment_goes_only_when_no_coupon_has_it(bench: Bench) -> None:
    asked: list[tuple[str, int]] = []
    bench.panel.remove_asked.connect(lambda key: asked.append(("remove", key)))
    bench.panel.recipe_asked.connect(lambda key: asked.append(("steps", key)))
    bench.panel.treatment_asked.connect(lambda key: asked.append(("details", key)))
    bench.panel.library_asked.connect(lambda: asked.append(("library", 0)))
    assert not child(bench.cards()[0], QPushButton, "Remove").isEnabled()
    for card, text in ((1, "Remove"), (0, "Steps"), (0, "Details")):
        click(child(bench.cards()[card], QPushButton, text))
    click(bench.panel._add)
    click(bench.panel._library)
    assert asked == [("remove", 2), ("steps", 1), ("details", 1), ("details", 0), ("library", 0)]


def test_what_another_screen_changes_is_shown(bench: Bench) -> None:
    bench.session.do(add_treatment, Treatment("T3", "oil"))
    assert bench.texts(2).startswith("T3  oil")
    bench.session.undo()
    assert len(bench.cards()) == 2


def test_inks_are_those_of_the_map_in_every_scheme(bench: Bench) -> None:
    for scheme in (LIGHT, DARK):
        bench.panel.set_scheme(scheme)
        inks = treatment_inks(bench.session.record, scheme)
        assert list(inks) == [None, 1, 2]
        for key, card in zip((1, 2), bench.cards(), strict=True):
            assert inks[key] in card._band.styleSheet()
    many = SimpleNamespace(treatments=dict.fromkeys(range(1, 12)))
    inks = treatment_inks(many, LIGHT)
    assert inks[9] == inks[1] == LIGHT.series[0]


def test_a_board_that_may_only_be_read_offers_nothing(session: Session, qtbot: QtBot) -> None:
    with closing(Session(session.folder, read_only=True)) as reader:
        bench = Bench(reader, qtbot)
        fields = [*bench.panel.findChildren(QPushButton), *bench.panel.findChildren(QSpinBox)]
        assert not any(each.isEnabled() for each in fields)
        assert not any(each.isEnabled() for each in bench.panel.findChildren(QCheckBox))


def test_every_control_has_a_name_and_fits_a_narrow_column(bench: Bench) -> None:
    bench.session.do(add_treatment, Treatment("T" * 900, "W" * 900, "x" * 900))
    bench.panel.resize(360, 900)
    assert bench.panel.width() == 360
    for card in bench.cards():
        for each in (*card.findChildren(QSpinBox), *card.findChildren(QCheckBox), *card.findChildren(QPushButton)):
            assert each.accessibleName()
        assert card.minimumSizeHint().width() <= 330


class Answering:
    """Answers dialogs as they come."""

    def __init__(self, *answers: Callable[[QDialog], bool]) -> None:
        self.answers = list(answers)

    def dialog(self, dialog: QDialog) -> bool:
        return self.answers.pop(0)(dialog)


def commands(bench: Bench, *answers: Callable[[QDialog], bool]) -> RecipeCommands:
    commands = RecipeCommands(bench.panel, Answering(*answers), bench.do, Settings(grader="Ann"))  # type: ignore[arg-type]
    commands.page = SimpleNamespace(session=bench.session)  # type: ignore[assignment]
    return commands


def accepted(dialog: QDialog) -> bool:
    dialog.accept()
    return dialog.result() == QDialog.DialogCode.Accepted


def test_steps_are_written_through_the_dialog_and_undone_in_one_step(bench: Bench) -> None:
    def write(dialog: QDialog) -> bool:
        assert isinstance(dialog, RecipeDialog)
        dialog._editor.add()
        return accepted(dialog)

    commands(bench, write).edit_recipe(1)
    assert bench.session.record.recipe_of(1) == Recipe((RecipeStep("degrease", who="Ann"),))
    bench.session.undo()
    assert bench.session.record.recipe_of(1) == Recipe()


def test_a_dialog_that_changed_nothing_does_nothing(bench: Bench) -> None:
    bench.session.do(set_recipe, 1, Recipe((WAX,)))
    steps = len(bench.session.audit())
    commands(bench, accepted).edit_recipe(1)
    commands(bench, lambda dialog: False).edit_recipe(1)
    commands(bench).edit_recipe(99)
    assert len(bench.session.audit()) == steps


def test_cost_goes_to_the_treatment_when_the_person_says_so(bench: Bench) -> None:
    bench.session.do(add_coupon, Coupon("C9", treatment=2, outline_mm=FACE))
    bench.session.do(set_recipe, 2, Recipe((WAX,)))

    def give(dialog: QDialog) -> bool:
        dialog._use_cost.click()
        return accepted(dialog)

    commands(bench, give).edit_recipe(2)
    assert (bench.session.record.treatments[2].cost_per_m2, bench.session.record.treatments[2].minutes_per_m2) == (
        4.8,
        200,
    )


def test_a_recipe_of_the_library_becomes_a_treatment_of_the_board(bench: Bench) -> None:
    def take_old(dialog: QDialog) -> bool:
        assert isinstance(dialog, LibraryDialog)
        dialog._versions.setCurrentIndex(1)
        return accepted(dialog)

    making = commands(bench, take_old, lambda dialog: False)
    kept = making.library.keep_new(Treatment("T7", "bitumen", "film"), (WAX,))
    making.library.keep_version(kept.id, (WAX, DRY))
    making.from_library()
    assert bench.session.record.treatments[3] == Treatment("T3", "bitumen", "film", key=3)
    assert bench.session.record.recipe_of(3) == Recipe((WAX,), kept.id, 1)
    making.from_library()
    assert len(bench.session.record.treatments) == 3


def test_steps_of_the_library_are_taken_into_the_treatment_being_edited(bench: Bench) -> None:
    def ask(dialog: QDialog) -> bool:
        dialog._take.click()
        return accepted(dialog)

    taking = commands(bench, ask, accepted)
    kept = taking.library.keep_new(Treatment("T7", "bitumen"), (WAX,))
    taking.edit_recipe(1)
    assert bench.session.record.recipe_of(1) == Recipe((WAX,), kept.id, 1)
    assert bench.session.record.treatments[1].name == "hot wax"


def test_a_card_says_how_many_reminders_its_recipe_calls_for(bench: Bench) -> None:
    bench.session.do(add_treatment, Treatment("S1", "blasted", preparation="blasted with silica sand"))
    bench.session.do(add_treatment, Treatment("S2", "bare"))
    bench.panel.refresh()
    shown = {each.text(): each.toolTip() for each in bench.panel.findChildren(QLabel) if "Take care" in each.text()}
    assert [text for text in shown if text.startswith("Take care: 1 reminder, see Details…")]
    assert all("silica sand" in tip.lower() or "dust" in tip.lower() for tip in shown.values())


def test_figures_are_as_exact_as_anybody_needs() -> None:
    assert [minutes(each) for each in (566.7, 10.4, 9.96, 7.26, 0)] == ["567", "10", "10", "7.3", "0"]
    assert [money(each) for each in (123.456, 2.5, 0.14444, 0.0012345, 0, -1)] == [
        "123.46", "2.5", "0.144", "0.00123", "0", "-1",
    ]  # fmt: skip


def test_the_library_shows_the_care_a_chosen_recipe_calls_for(bench: Bench) -> None:
    seen: list[str] = []

    def look(dialog: QDialog) -> bool:
        assert isinstance(dialog, LibraryDialog)
        for row in range(2):
            dialog.table.selectRow(row)
            seen.append(dialog._care.text())
        return False

    making = commands(bench, look)
    making.library.keep_new(Treatment("T7", "a bare one"), (DRY,))
    making.library.keep_new(Treatment("T8", "blasted"), (RecipeStep("blast", "silica sand"),))
    making.from_library()
    assert seen[0] == ""
    assert "Dust of silica sand" in seen[1]
    assert "is not thereby safe" in seen[1]
