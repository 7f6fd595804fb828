"""An open board for each test, and the one way to see an operation refuse."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path

import pytest

from rustboard.board.model import Board
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.tables import BoardRow
from rustboard.support.problems import InputError

NOW = datetime(2026, 3, 2, 9)


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """An empty board of 3 rows of 7."""
    create_board(tmp_path / "b", BoardRow(Board("Harbour wall")))
    session = Session(tmp_path / "b", who="tester", clock=lambda: NOW)
    yield session
    with_disk = Session(tmp_path / "b", read_only=True)
    try:
        assert with_disk.record == session.record, "the record and the disk differ"
    finally:
        with_disk.close()
        session.close()


@pytest.fixture
def refused(session: Session) -> Callable[..., str]:
    """Run an operation that must refuse; return its sentence. Nothing may have changed."""

    def run(operation: Callable[..., object], *arguments: object) -> str:
        told: list[object] = []
        session.feed.subscribe(told.append)
        steps = session.undo_summary(), len(session.audit())
        with pytest.raises(InputError) as caught:
            session.do(operation, *arguments)
        assert (session.undo_summary(), len(session.audit())) == steps
        assert told == []
        session.feed.unsubscribe(told.append)
        return str(caught.value)

    return run
