"""Outcomes of jobs on the thread of the window: the newest only, told apart by family, and none after the end."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from functools import partial

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QObject
from window_driving import settle, wait_until

from rustboard.session.jobs import InlineExecutor, Progress
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge


class Caller:
    """Keeps what it is called with, and on which thread."""

    def __init__(self) -> None:
        self.values: list[object] = []
        self.errors: list[str] = []
        self.steps: list[tuple[int, int]] = []
        self.threads: set[threading.Thread] = set()

    def done(self, value: object) -> None:
        self.values.append(value)
        self.threads.add(threading.current_thread())

    def failed(self, error: InputError) -> None:
        self.errors.append(str(error))

    def told(self, done: int, total: int) -> None:
        self.steps.append((done, total))


class Held:
    """Work that waits until it is let go.

    Attributes:
        begun, go: set when it has begun; to be set for it to end.
    """

    def __init__(self) -> None:
        self.begun, self.go = threading.Event(), threading.Event()

    def __call__(self, value: object, progress: Progress) -> object:
        self.begun.set()
        assert self.go.wait(10)
        return value


def same(value: object, progress: Progress) -> object:
    return value


def refuse(progress: Progress) -> None:
    raise InputError("The picture is damaged.", file="a.jpg")


def stumble(progress: Progress) -> None:
    raise ZeroDivisionError("ours")


def three_steps(progress: Progress) -> str:
    for done in (1, 2, 3):
        progress.step(done, 3)
    return "end"


@pytest.fixture
def bridge(qapp) -> Iterator[JobBridge]:
    bridge = JobBridge()
    yield bridge
    bridge.close()
    bridge.deleteLater()


@pytest.fixture
def caller() -> Caller:
    return Caller()


@pytest.fixture
def start(bridge: JobBridge, caller: Caller) -> Callable[..., Progress]:
    return partial(bridge.start, done=caller.done, failed=caller.failed)


def idle(bridge: JobBridge) -> None:
    wait_until(lambda: not bridge.busy())
    settle()


def test_values_come_back_on_the_thread_of_the_window(bridge, start, caller):
    for number in range(50):
        start(number, same, number)
    idle(bridge)
    assert sorted(caller.values) == list(range(50))
    assert caller.threads == {threading.main_thread()}


def test_progress_is_told_before_the_end(bridge, start, caller):
    start("a", three_steps, told=caller.told)
    idle(bridge)
    assert caller.steps == [(1, 3), (2, 3), (3, 3)]
    assert caller.values == ["end"]


def test_a_sentence_for_the_user_goes_to_whoever_asked(bridge, start, caller):
    start("a", refuse)
    idle(bridge)
    assert caller.errors == ["a.jpg: The picture is damaged."]
    assert caller.values == []


def test_a_fault_of_ours_is_raised_where_the_crash_hook_sees_it_and_nobody_goes_on_waiting(
    bridge, start, caller, qtbot
):
    with qtbot.capture_exceptions() as caught:
        start("a", stumble)
        idle(bridge)
    assert [kind for kind, *_ in caught] == [ZeroDivisionError]
    assert caller.values == []
    (sentence,) = caller.errors
    assert "mistake of its own" in sentence


def test_a_newer_request_wins_however_long_the_older_takes(bridge, start, caller):
    slow = Held()
    start("a", slow, "old")
    assert slow.begun.wait(10)
    start("a", same, "new")
    wait_until(lambda: caller.values)
    slow.go.set()
    idle(bridge)
    assert caller.values == ["new"]


def test_an_older_outcome_on_its_way_is_not_taken_for_the_newer_ones(bridge, start, caller):
    slow, second = Held(), Held()
    start("a", slow, "old")
    slow.go.set()
    wait_until_sent(bridge)
    start("a", second, "new")  # before the window has come round to the old outcome
    settle()
    assert caller.values == []
    second.go.set()
    idle(bridge)
    assert caller.values == ["new"]


def wait_until_sent(bridge: JobBridge) -> None:
    """Wait, without letting the window work, until the job has handed in its outcome."""
    bridge._jobs._executor.submit(int).result(10)
    done = threading.Event()
    bridge._jobs._executor.submit(done.set)
    assert done.wait(10)
    while bridge._jobs._newest:
        pass


def test_a_cancelled_job_calls_nobody_even_when_it_was_done_already(bridge, start, caller):
    quick = Held()
    job = start("a", quick, "late")
    quick.go.set()
    wait_until_sent(bridge)
    job.cancel()
    idle(bridge)
    assert (caller.values, caller.errors) == ([], [])


def test_after_closing_nobody_is_called_and_nothing_begins(bridge, start, caller):
    slow = Held()
    start("a", slow, "late")
    assert slow.begun.wait(10)
    threading.Timer(0.05, slow.go.set).start()
    bridge.close()
    job = start("b", same, "too late")
    settle()
    assert job.cancelled
    assert caller.values == []
    assert not bridge.busy()


def test_a_screen_that_is_gone_is_not_called(bridge, start, caller):
    screen, slow = QObject(), Held()
    start("a", slow, "late", owner=screen)
    assert slow.begun.wait(10)
    screen.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    slow.go.set()
    idle(bridge)
    assert caller.values == []


def test_an_inline_bridge_has_called_back_when_it_returns(qapp, caller):
    bridge = JobBridge(executor=InlineExecutor())
    bridge.start("a", same, 1, done=caller.done, failed=caller.failed)
    bridge.start("b", refuse, done=caller.done, failed=caller.failed)
    assert (caller.values, len(caller.errors)) == ([1], 1)
    bridge.close()


def test_two_thousand_outcomes_from_the_pool_all_arrive(bridge, start, caller):
    for number in range(2_000):
        start(number, same, number)
    idle(bridge)
    assert len(caller.values) == 2_000
