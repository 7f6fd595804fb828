"""Parts of a measurement run in other processes."""

from __future__ import annotations

import signal

import pytest

from rustboard.session.jobs import Cancelled
from rustboard.session.measuring_pool import LEAST_FOR_PROCESSES, pool_of


def nothing(done):
    """Hear how far it is."""


def test_the_processes_leave_an_interruption_from_the_keyboard_to_the_one_that_started_them():
    with pool_of(1) as pool:
        handlers = pool.run(signal.getsignal, [signal.SIGINT] * LEAST_FOR_PROCESSES, nothing)
    assert handlers == [signal.SIG_IGN] * LEAST_FOR_PROCESSES


@pytest.mark.parametrize("processes", [0, 1])
def test_answers_come_in_the_order_of_the_parts_and_progress_is_told(processes):
    told = []
    with pool_of(processes) as pool:
        assert pool.run(abs, [-3, 2, -1, 0], told.append) == [3, 2, 1, 0]
    assert (told[0], told[-1]) == (0, 4)
    assert told == sorted(told)


@pytest.mark.parametrize("processes", [0, 1])
def test_who_listens_may_stop_it(processes):
    def stop(done):
        raise Cancelled

    with pool_of(processes) as pool, pytest.raises(Cancelled):
        pool.run(abs, [1, 2, 3], stop)
