"""All boards of the shelf asked about one treatment."""

from __future__ import annotations

from contextlib import closing

import pytest
from boards_together import later, three_boards

from rustboard.operations.blind import BlindChoice, start_blind
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.learning import LearnRequest, answer_lines, learn, what_can_be_asked
from rustboard.session.session import Session
from rustboard.support.settings import Settings


@pytest.fixture
def shelf(tmp_path):
    three_boards(tmp_path / "boards")
    return Settings(boards_folder=str(tmp_path / "boards"))


def askable(shelf):
    return what_can_be_asked(shelf, Progress())


def test_what_most_boards_have_is_offered_first(shelf):
    offers = askable(shelf).of("protectant")
    assert [(each.sought.text.lower(), len(each.folders)) for each in offers] == [
        ("beeswax blend", 3), ("linseed oil", 2), ("clear varnish", 1),
    ]  # fmt: skip


def test_all_boards_that_have_it_answer(shelf):
    offer = askable(shelf).find("protectant", "BEESWAX  blend")
    answer = learn(LearnRequest(offer), Progress())
    assert set(answer.learnt.boards) == {"Harbour wall", "Back yard", "Roof"}
    assert len(answer.facts) == 3
    assert {each.site for each in answer.facts} == {"harbour", "yard", "roof"}
    assert answer.unread == ()
    assert answer_lines(answer, ["One."], [["a", "b"]]) == "One.\n\na\tb"


def test_boards_that_cannot_be_read_or_are_graded_blind_are_named_with_the_reason(shelf, tmp_path):
    (tmp_path / "boards" / "broken").mkdir()
    (tmp_path / "boards" / "broken" / "board.rustboard").write_bytes(b"no board")
    with closing(Session(tmp_path / "boards" / "roof", clock=later)) as session:
        session.do(start_blind, BlindChoice(max(session.record.inspections), "bench", None, 50.0))
    found = askable(shelf)
    assert {each.name for each in found.unread} == {"broken", "Roof"}
    assert any("is being graded blind" in each.why for each in found.unread)
    assert found.boards == 2
    assert "wax, brushed on" not in {each.sought.text for each in found.of("name")}


def test_a_board_that_went_meanwhile_is_named(shelf, tmp_path):
    offer = askable(shelf).find("name", "oil")
    (tmp_path / "boards" / "wall" / "board.rustboard").unlink()
    answer = learn(LearnRequest(offer), Progress())
    assert answer.learnt.boards == ("Back yard",)
    assert [each.name for each in answer.unread] == ["wall"]


def test_it_can_be_stopped(shelf):
    stopped = Progress()
    offer = askable(shelf).find("name", "oil")
    stopped.cancel()
    with pytest.raises(Cancelled):
        what_can_be_asked(shelf, stopped)
    with pytest.raises(Cancelled):
        learn(LearnRequest(offer), stopped)
