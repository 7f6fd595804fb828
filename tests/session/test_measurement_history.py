"""Every measurement of a coupon in a photo is kept, those that were revised too."""

from __future__ import annotations

from session_boards import NOW, prepared

from rustboard.board.measured import Measurement
from rustboard.board.model import Photo
from rustboard.operations.measuring import keep_measuring
from rustboard.operations.photos import add_photo


def measured(percent: float, reason: str = "") -> Measurement:
    numbers = (1, "a" * 40, percent, 0.0, 1.0, 2, 0.5, "S", 0.0, 0.0, 0.01, True, False)
    return Measurement(0, 1, 1, *numbers, (0.0, 0.0, 0.0, 1.0), "there", (), "", reason=reason)


def test_superseded_measurements_are_read_oldest_first(tmp_path):
    session = prepared(tmp_path / "b")
    session.do(add_photo, Photo("a.jpg", "a.jpg", "0" * 64, 100, 100, NOW, 1))
    assert session.measurements(1, 1) == []
    session.do(keep_measuring, (), [measured(0.5)])
    session.do(keep_measuring, (), [measured(0.2, "what lay there was gone")])
    found = session.measurements(1, 1)
    assert [(each.percent, each.state) for each in found] == [(0.5, "superseded"), (0.2, "current")]
    assert found[1].replaces == found[0].key
    assert found[1].reason == "what lay there was gone"
    session.undo()
    assert [each.percent for each in session.measurements(1, 1)] == [0.5]
    session.close()
