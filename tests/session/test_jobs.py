"""Long work beside the window: what is delivered, what is dropped, and how it ends."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

import pytest

from rustboard.session.jobs import Cancelled, InlineExecutor, Jobs, Outcome, Progress
from rustboard.support.problems import InputError

PATIENCE = 10.0


class Delivered:
    """Keeps outcomes, from whatever thread they come."""

    def __init__(self) -> None:
        self.outcomes: list[Outcome] = []
        self.threads: set[str] = set()

    def __call__(self, outcome: Outcome) -> None:
        self.outcomes.append(outcome)
        self.threads.add(threading.current_thread().name)

    def wait_for(self, count: int) -> None:
        give_up = time.monotonic() + PATIENCE
        while len(self.outcomes) < count:
            assert time.monotonic() < give_up
            time.sleep(0.001)

    @property
    def values(self) -> list[object]:
        return [each.value for each in self.outcomes]


class Gate:
    """Work that waits until it is let through, as a slow picture does.

    Attributes:
        entered: set once the work has begun. stopped: whether it noticed that it was cancelled.
    """

    def __init__(self) -> None:
        self.entered, self._open = threading.Event(), threading.Event()
        self.stopped = False

    def let_through(self) -> None:
        self._open.set()

    def __call__(self, value: object, progress: Progress) -> object:
        self.entered.set()
        assert self._open.wait(PATIENCE)
        return value

    def minding(self, value: object, progress: Progress) -> object:
        """The same, but asks again and again whether it should stop."""
        self.entered.set()
        give_up = time.monotonic() + PATIENCE
        try:
            while not self._open.is_set() and time.monotonic() < give_up:
                progress.step(0, 1)
                time.sleep(0.001)
        except Cancelled:
            self.stopped = True
            raise
        return value


def double(value: int, progress: Progress) -> int:
    return 2 * value


def refuse(progress: Progress) -> None:
    raise InputError("The picture is damaged.", file="a.jpg")


def stumble(progress: Progress) -> None:
    raise ZeroDivisionError


@pytest.fixture
def told() -> Delivered:
    return Delivered()


@pytest.fixture
def pool(told: Delivered) -> Iterator[Jobs]:
    """Jobs in a real pool."""
    jobs = Jobs(told)
    yield jobs
    jobs.close()


def test_an_inline_job_is_done_when_it_was_asked_for(told):
    jobs = Jobs(told, InlineExecutor())
    job = jobs.submit("a", double, 21)
    assert told.outcomes == [Outcome("a", job, 42)]


def test_a_job_runs_beside_the_caller_and_its_outcome_comes_from_there(pool, told):
    pool.submit("a", double, 21)
    told.wait_for(1)
    assert told.values == [42]
    assert all(name.startswith("rustboard-job") for name in told.threads)


def test_a_newer_request_under_the_same_key_makes_the_older_stale(pool, told):
    gate = Gate()
    older = pool.submit("a", gate, "old")
    assert gate.entered.wait(PATIENCE)
    pool.submit("a", double, 1)
    told.wait_for(1)
    gate.let_through()
    pool.close()
    assert older.cancelled
    assert told.values == [2]


def test_a_request_that_still_waits_is_never_begun_once_it_is_stale(told):
    jobs = Jobs(told, ThreadPoolExecutor(1))
    gate = Gate()
    begun = []
    jobs.submit("busy", gate, 0)
    assert gate.entered.wait(PATIENCE)

    def begin(progress: Progress) -> None:
        begun.append(1)

    jobs.submit("a", begin)
    jobs.submit("a", double, 1)
    gate.let_through()
    told.wait_for(2)
    jobs.close()
    assert begun == []
    assert sorted(told.values) == [0, 2]


def test_requests_under_different_keys_do_not_disturb_each_other(pool, told):
    for number in range(20):
        pool.submit(number, double, number)
    told.wait_for(20)
    assert sorted(told.values) == [2 * number for number in range(20)]


def test_a_cancelled_job_notices_at_its_next_step(pool, told):
    gate = Gate()
    job = pool.submit("a", gate.minding, "late")
    assert gate.entered.wait(PATIENCE)
    job.cancel()
    told.wait_for(1)
    assert gate.stopped
    assert [type(each.error) for each in told.outcomes] == [Cancelled]


def test_an_outcome_knows_its_job_so_that_a_cancelled_one_can_be_told_apart(pool, told):
    gate = Gate()
    job = pool.submit("a", gate, "finished all the same")
    assert gate.entered.wait(PATIENCE)
    job.cancel()
    gate.let_through()
    told.wait_for(1)
    assert told.outcomes[0].job is job
    assert told.outcomes[0].job.cancelled


@pytest.mark.parametrize(("work", "kind"), [(refuse, InputError), (stumble, ZeroDivisionError)])
def test_both_families_of_errors_are_carried_to_the_caller(told, work, kind):
    Jobs(told, InlineExecutor()).submit("a", work)
    assert [type(each.error) for each in told.outcomes] == [kind]
    assert told.values == [None]


def test_a_job_after_one_that_failed_is_delivered(told):
    jobs = Jobs(told, InlineExecutor())
    jobs.submit("a", stumble)
    jobs.submit("a", double, 4)
    assert told.values == [None, 8]


def test_closing_while_a_job_runs_waits_for_it_and_delivers_nothing(told):
    jobs = Jobs(told)
    gate = Gate()
    jobs.submit("a", gate.minding, "late")
    jobs.submit("b", gate.minding, "late")
    jobs.submit("c", gate.minding, "never begun")
    assert gate.entered.wait(PATIENCE)
    jobs.close()
    assert gate.stopped
    assert told.outcomes == []
    assert not any(each.name.startswith("rustboard-job") for each in threading.enumerate())


def test_closing_waits_for_work_that_must_not_be_cut_off(told):
    jobs = Jobs(told)
    gate = Gate()
    written = []

    def write(progress: Progress) -> None:
        gate(None, progress)
        written.append("whole")

    jobs.submit("report", write)
    assert gate.entered.wait(PATIENCE)
    threading.Timer(0.05, gate.let_through).start()
    jobs.close()
    assert written == ["whole"]


def test_progress_tells_how_far_a_job_is():
    steps: list[tuple[int, int]] = []
    progress = Progress(lambda done, total: steps.append((done, total)))
    progress.step(1, 3)
    progress.step(2, 3)
    progress.cancel()
    with pytest.raises(Cancelled):
        progress.step(3, 3)
    assert steps == [(1, 3), (2, 3)]


def test_many_requests_from_many_threads_leave_each_key_its_newest(told):
    jobs = Jobs(told)
    asked = [threading.Thread(target=lambda: [jobs.submit(n % 5, double, n) for n in range(100)]) for _ in range(4)]
    for each in asked:
        each.start()
    for each in asked:
        each.join()
    jobs.submit("end", double, 0)
    give_up = time.monotonic() + PATIENCE
    while {each.key for each in told.outcomes} != {0, 1, 2, 3, 4, "end"}:
        assert time.monotonic() < give_up
        time.sleep(0.001)
    jobs.close()
    assert all(each.error is None for each in told.outcomes)
