"""The question on the plan screen: every field keeps what is chosen, and the screen says when it was written."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QListWidget, QPushButton, QWidget
from pytestqt.qtbot import QtBot
from window_driving import Person, reopened, settle

from rustboard.board.model import Board, Inspection, Plan, PlannedCoupon, Treatment
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.questions import set_question
from rustboard.operations.treatments import add_treatment, remove_treatment
from rustboard.session.changes import ChangeSet
from rustboard.session.jobs import InlineExecutor
from rustboard.session.new_board import create_from_plan
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.plan.earlier_boards import EarlierBoards
from rustboard.ui.plan.pairs_editor import PairsEditor
from rustboard.ui.plan.question_panel import QuestionPanel
from rustboard.ui.wording import date_time

NOW = datetime(2026, 3, 2, 9)
TREATMENTS = (Treatment("T1", "hot wax"), Treatment("T2", "oil"), Treatment("T3"))


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    create_from_plan(tmp_path / "b", Plan(Board("Harbour wall"), TREATMENTS), clock=lambda: NOW)
    session = Session(tmp_path / "b", clock=lambda: NOW)
    yield session
    session.close()


def sitting(session: Session, qtbot: QtBot, settings: Settings | None = None) -> QuestionPanel:
    def do(operation: Callable[..., object], *arguments: object, origin: object = None) -> ChangeSet | None:
        try:
            return session.do(operation, *arguments, origin=origin)  # type: ignore[arg-type]
        except InputError:
            return None

    panel = QuestionPanel(session, do, EarlierBoards(settings, session.folder, JobBridge(executor=InlineExecutor())))
    session.feed.subscribe(panel.apply)
    qtbot.addWidget(panel)
    panel.resize(400, 700)
    panel.show()
    return panel


@pytest.fixture
def panel(session: Session, qtbot: QtBot) -> QuestionPanel:
    return sitting(session, qtbot)


def press(panel: QWidget, text: str, qtbot: QtBot) -> None:
    button = next(each for each in panel.findChildren(QPushButton) if each.text().replace("&", "") == text)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def choose(field: QWidget, text: str, qtbot: QtBot) -> None:
    """Choose by keyboard, as a person does who types the beginning of an entry."""
    field.setFocus()
    field.setCurrentIndex(field.findText(text))
    field.activated.emit(field.currentIndex())


def type_number(field: QWidget, text: str, qtbot: QtBot) -> None:
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def test_the_usual_question_is_shown_and_can_be_written_down(
    session: Session, panel: QuestionPanel, qtbot: QtBot
) -> None:
    assert "Not written down yet" in panel._written.text()
    press(panel, "Write this question down", qtbot)
    assert session.record.question == Question(written=NOW, key=1)
    assert panel._written.text() == f"Written down {date_time(NOW)}, before the exposure."
    assert panel._write.isHidden()
    session.undo()
    assert "Not written down yet" in panel._written.text()


def test_every_field_keeps_what_is_chosen(session: Session, panel: QuestionPanel, qtbot: QtBot) -> None:
    choose(panel._compared, "Families: wax, oil, paint…", qtbot)
    choose(panel._measure, "Mean grade over the exposure", qtbot)
    choose(panel._failing, "4 or below", qtbot)
    type_number(panel._worthwhile, "1,5", qtbot)
    assert session.record.question == Question("families", (), 4, "mean grade", 1.5, written=NOW, key=1)
    assert "All treatments of a family count together" in panel._compared_words.text()
    for _ in range(4):
        session.undo()
    assert session.record.question is None
    assert panel._compared.currentIndex() == 0
    assert panel._worthwhile.text() == "2"


def test_own_words_are_kept_when_the_keyboard_leaves_them(
    session: Session, panel: QuestionPanel, qtbot: QtBot
) -> None:
    panel._words.setFocus()
    qtbot.keyClicks(panel._words, " Which wax?")
    assert session.record.question is None
    panel._worthwhile.setFocus()
    assert session.record.question.words == "Which wax?"
    steps = len(session.audit())
    panel._words.setFocus()
    panel._worthwhile.setFocus()
    assert len(session.audit()) == steps


def test_what_is_no_number_is_told_and_nothing_is_changed(
    session: Session, panel: QuestionPanel, qtbot: QtBot
) -> None:
    type_number(panel._worthwhile, "much", qtbot)
    assert "“much” is not a number" in panel.findChild(ProblemLine).text()
    assert session.record.question is None
    type_number(panel._worthwhile, "3", qtbot)
    assert panel.findChild(ProblemLine).text() == ""
    assert session.record.question.worthwhile == 3


def test_what_the_rules_refuse_is_taken_back(session: Session, panel: QuestionPanel, qtbot: QtBot) -> None:
    type_number(panel._worthwhile, "99", qtbot)
    assert session.record.question is None
    assert panel._worthwhile.text() == "2"


def test_an_own_assumption_takes_the_place_of_earlier_boards(
    session: Session, panel: QuestionPanel, qtbot: QtBot
) -> None:
    assert panel._assumed.isHidden()
    choose(panel._spread, "My own assumption", qtbot)
    assert session.record.question.assumed_sd == 1.0
    type_number(panel._assumed, "0.7", qtbot)
    assert session.record.question.assumed_sd == 0.7
    choose(panel._spread, "As on my earlier boards", qtbot)
    assert session.record.question.assumed_sd is None
    assert panel._assumed.isHidden()


@pytest.mark.parametrize(("grades", "said", "assumed"), [
    ((6, 6, 6, 7, 8, 8, 8), "1 grade, from 1 board (Porch)", 1.0),
    # 0.29 is the square root of 1/12: the spread of a value evenly spread over one grade (textbook).
    ((7, 7, 7, 7, 7, 7), "0.29 grades, the least that whole grades can show, from 1 board (Porch)", 0.3),
    ((7, 7), "Your earlier boards have too few coupons treated alike to tell the spread: 1 beyond the first of each "
     "treatment, where it takes 5. So 1 grade is assumed.", 1.0),
])  # fmt: skip
def test_the_spread_of_earlier_boards_is_read_and_named(
    session: Session, qtbot: QtBot, tmp_path: Path, grades: tuple[int, ...], said: str, assumed: float
) -> None:
    boards = tmp_path / "boards"
    boards.mkdir()
    coupons = tuple(PlannedCoupon(f"C{number}", Position(0, number), "T1") for number in range(len(grades)))
    create_from_plan(boards / "old", Plan(Board("Porch"), TREATMENTS, coupons))
    old = Session(boards / "old", clock=lambda: NOW)
    old.do(add_inspection, Inspection(NOW))
    for coupon, grade in zip(sorted(old.record.coupons), grades, strict=True):
        old.do(grade_coupon, GivenGrade(coupon, 1, grade))
    old.close()
    panel = sitting(session, qtbot, Settings(boards_folder=str(boards)))
    assert panel._spread_words.text() == said
    choose(panel._spread, "My own assumption", qtbot)
    assert session.record.question is not None
    assert session.record.question.assumed_sd == assumed


def test_pairs_are_added_and_taken_out(session: Session, panel: QuestionPanel, qtbot: QtBot) -> None:
    editor = panel.findChild(PairsEditor)
    assert editor.isHidden()
    choose(panel._compared, "Only these pairs", qtbot)
    assert editor.isVisible()
    assert editor._empty.isVisible()
    press(editor, "Add pair", qtbot)
    assert session.record.question.pairs == (("T1", "T2"),)
    assert not editor._add.isEnabled()  # the pair is there already
    editor._other.setCurrentIndex(editor._other.findData("T3"))
    press(editor, "Add pair", qtbot)
    shown = editor.findChild(QListWidget)
    assert [shown.item(row).text() for row in range(shown.count())] == [
        "T1 · hot wax with T2 · oil", "T1 · hot wax with T3",
    ]  # fmt: skip
    shown.item(0).setSelected(True)
    press(editor, "Take pair out", qtbot)
    assert session.record.question.pairs == (("T1", "T3"),)


def test_a_treatment_is_not_compared_with_itself_and_a_gone_one_is_said_to_be(
    session: Session, panel: QuestionPanel, qtbot: QtBot
) -> None:
    session.do(set_question, Question("chosen", (("T1", "T3"),)))
    editor = panel.findChild(PairsEditor)
    editor._other.setCurrentIndex(editor._one.currentIndex())
    assert not editor._add.isEnabled()
    session.do(remove_treatment, 3)
    assert editor.findChild(QListWidget).item(0).text() == "T1 · hot wax with T3 (gone)"


def test_a_change_after_the_exposure_began_is_said_to_be_late(
    session: Session, panel: QuestionPanel, qtbot: QtBot
) -> None:
    press(panel, "Write this question down", qtbot)
    session.do(add_inspection, Inspection(NOW + timedelta(days=1)))
    choose(panel._failing, "5 or below", qtbot)
    assert panel._written.text().splitlines() == [
        f"Written down {date_time(NOW)}, before the exposure.",
        f"Changed {date_time(NOW)}, after the exposure began. The report shows both.",
    ]


def test_a_first_question_after_the_exposure_began_is_said_to_be_late(
    session: Session, panel: QuestionPanel, qtbot: QtBot
) -> None:
    session.do(add_inspection, Inspection(NOW))
    press(panel, "Write this question down", qtbot)
    assert panel._written.text() == f"Written down {date_time(NOW)}, after the exposure began."


def test_a_board_that_is_only_read_changes_nothing(session: Session, qtbot: QtBot) -> None:
    reader = Session(session.folder, read_only=True)
    try:
        panel = sitting(reader, qtbot)
        for field in (panel._compared, panel._worthwhile, panel._spread, panel._write):
            assert not field.isEnabled()
        assert panel._words.isReadOnly()
    finally:
        reader.close()


def test_words_being_typed_stay_while_other_things_change(
    session: Session, panel: QuestionPanel, qtbot: QtBot
) -> None:
    panel._words.setFocus()
    qtbot.keyClicks(panel._words, "half a que")
    session.do(add_treatment, Treatment("T4"))
    session.do(set_question, Question(failing_grade=3))
    assert panel._words.toPlainText() == "half a que"
    panel._worthwhile.setFocus()
    assert session.record.question.words == "half a que"
    session.undo()
    assert panel._words.toPlainText() == ""


def test_words_being_typed_are_kept_when_the_window_closes(yard: Path, sitting_at: Callable[[Path], Person]) -> None:
    person = sitting_at(yard)
    person.do("board.plan")
    person.window.plan.screen.choose("question")
    settle()
    panel = person.window.plan.screen.panels["question"]
    panel._words.setFocus()
    QTest.keyClicks(panel._words, "which wax?")
    person.stand_up()
    with reopened(yard) as session:
        assert session.record.question.words == "which wax?"
