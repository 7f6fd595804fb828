"""A board is packed to send from its window and from the shelf; a received one is looked at, then opened."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QLabel
from window_driving import Person, accept, cancel, graded, made_board

from rustboard.session.looking import look_at_board
from rustboard.session.packing import pack_board
from rustboard.ui.packing.received_dialog import ReceivedDialog
from rustboard.ui.packing.send_dialog import SendDialog


@pytest.fixture
def theirs(tmp_path: Path) -> Path:
    """The sender's board."""
    return graded(made_board(tmp_path / "theirs" / "Yard"), 1, {"C01": 7})


@pytest.fixture
def sent(theirs: Path, tmp_path: Path) -> Path:
    pack = tmp_path / "sent.rustboard-pack"
    pack_board(theirs, pack)
    return pack


def texts(dialog: SendDialog | ReceivedDialog) -> str:
    return "\n".join(each.text() for each in dialog.findChildren(QLabel))


def receive(person: Person, pack: Path) -> None:
    person.desk.open(pack, new_window=False, source=person.window)


def test_before_packing_the_sender_is_told_what_travels(person: Person, yard: Path) -> None:
    told: list[str] = []

    def look(dialog: SendDialog) -> bool:
        told.append(texts(dialog))
        assert not dialog.with_photos.isEnabled()
        dialog.reject()
        return False

    person.answers.dialogs = [look]
    person.do("file.pack")
    assert "Whoever gets it can read all of this" in told[0]
    assert "Ann" in told[0]
    assert "It always goes along" in told[0]
    assert "the place where it was taken" in told[0]
    assert not list(yard.parent.glob("*.rustboard-pack"))


def test_a_board_open_for_reading_only_is_packed(person: Person, yard: Path) -> None:
    reader = person.desk.sit_down(yard)
    target = yard.parent / "a.rustboard-pack"
    reader.answers.dialogs, reader.answers.files = [accept], [target]
    reader.do("file.pack")
    assert target.is_file()


def test_a_place_inside_the_board_is_refused_and_the_sentence_stays(person: Person, yard: Path) -> None:
    person.answers.dialogs, person.answers.files = [accept], [yard / "a.rustboard-pack"]
    person.do("file.pack")
    assert "choose another place" in person.message()
    assert not (yard / "a.rustboard-pack").exists()


def test_a_board_is_packed_from_the_shelf(person: Person, yard: Path) -> None:
    boards = person.desk.settings.boards_path()
    made_board(boards / "Porch")
    person.do("file.shelf")
    screen = person.window.shelf.screen()
    screen.choose(boards / "Porch")
    target = yard.parent / "porch.rustboard-pack"
    person.answers.dialogs, person.answers.files = [accept], [target]
    screen.board.pack_asked.emit(screen.chosen().folder)
    assert target.is_file()
    assert person.window.page is None


def test_a_received_board_is_shown_before_it_is_unpacked(person: Person, sent: Path) -> None:
    told: list[str] = []

    def look(dialog: ReceivedDialog) -> bool:
        told.append(texts(dialog))
        dialog.reject()
        return False

    person.answers.dialogs = [look]
    receive(person, sent)
    assert "Yard" in told[0]
    assert "nothing in it can run" in told[0]
    assert not person.desk.settings.boards_path().exists()


def test_given_to_the_program_it_is_looked_at_over_the_shelf_and_then_opened(person: Person, sent: Path) -> None:
    person.do("file.shelf")
    person.answers.dialogs = [accept]
    receive(person, sent)
    folder = person.desk.settings.boards_path() / "Yard"
    assert person.session.folder == folder
    assert str(folder) in person.message()
    assert look_at_board(folder).grading(1, 1).grade == 7


def test_dropped_on_the_shelf_it_is_looked_at(person: Person, sent: Path) -> None:
    made_board(person.desk.settings.boards_path() / "Porch")
    person.do("file.shelf")
    person.answers.dialogs = [cancel]
    person.window.shelf.screen()._drops.dropped_at.emit([sent], QPoint(2, 2))
    assert person.answers.asked == ["ReceivedDialog"]


def test_where_the_very_same_board_is_here_it_can_be_opened_instead(person: Person, theirs: Path, sent: Path) -> None:
    own = person.desk.settings.boards_path() / "Yard"
    own.parent.mkdir()
    shutil.copytree(theirs, own)

    def choose_own(dialog: ReceivedDialog) -> None:
        assert "You have this very board already" in texts(dialog)
        dialog._own.click()

    person.answers.dialogs = [choose_own]
    receive(person, sent)
    assert person.session.folder == own
    assert [each.name for each in own.parent.iterdir()] == ["Yard"]


def test_another_board_of_the_name_stays_and_the_received_one_gets_a_free_name(person: Person, sent: Path) -> None:
    own = made_board(person.desk.settings.boards_path() / "Yard")

    def look(dialog: ReceivedDialog) -> None:
        assert "it stays as it is" in texts(dialog)

    person.answers.dialogs = [look]
    receive(person, sent)
    assert person.session.folder == own.parent / "Yard 2"


def test_an_altered_one_is_a_sentence_that_stays_and_the_board_in_the_window_too(
    person: Person, yard: Path, sent: Path
) -> None:
    sent.write_bytes(sent.read_bytes()[:-30])
    receive(person, sent)
    assert person.answers.asked == []
    assert "ask the sender to pack it again" in person.message()
    assert person.window.message.is_error()
    assert person.session.folder == yard


def test_a_name_and_a_customer_from_a_stranger_are_shown_as_plain_text(person: Person, yard: Path) -> None:
    from contextlib import closing
    from dataclasses import replace

    from rustboard.operations.boards import edit_board
    from rustboard.session.session import Session

    other = made_board(yard.parent / "Other")
    with closing(Session(other)) as session:
        evil = replace(session.record.board, name="<b>x</b> & %1 {0} " + "W" * 900, customer="\u202e<img src=x>")
        session.do(edit_board, evil)
    pack = yard.parent / "evil.rustboard-pack"
    pack_board(other, pack)

    def look(dialog: ReceivedDialog) -> bool:
        assert "<b>x</b> & %1 {0}" in texts(dialog)
        assert "\u202e" not in texts(dialog)
        assert dialog.width() <= dialog.screen().availableGeometry().width()
        dialog.reject()
        return False

    person.answers.dialogs = [look]
    receive(person, pack)
    assert person.answers.asked == ["ReceivedDialog"]
