"""The time."""

from datetime import datetime, timedelta

from rustboard.support.clock import wall_clock


def test_the_wall_clock_is_local_to_the_second_and_has_no_zone():
    now = wall_clock()
    assert now.tzinfo is None
    assert now.microsecond == 0
    assert abs(datetime.now() - now) < timedelta(minutes=1)
