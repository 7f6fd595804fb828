"""Times as people type them, and what is none."""

from datetime import datetime

from rustboard.ui.forms.typed_time import read_time

SHOWN = datetime(2026, 5, 4, 9, 0)


def test_a_number_no_clock_has_is_no_time():
    assert read_time("99999999999999999999:00", SHOWN) is None
    assert read_time("2026-05-04 25:00", SHOWN) is None
    assert read_time("2026-05-04 07:30", SHOWN) == datetime(2026, 5, 4, 7, 30)
