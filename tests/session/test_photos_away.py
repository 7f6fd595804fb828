"""Photos whose files are missing or damaged: said, remembered, and never silently done without."""

from __future__ import annotations

from contextlib import closing

import pytest
from painted_boards import add, board_of, measured, painted

from rustboard.operations.photos import remove_photo
from rustboard.session import measuring_run, measuring_tasks
from rustboard.session.out_of_date import OutOfDate
from rustboard.session.photo_days import photos_in_order
from rustboard.support.problems import InputError

AWAY = "its first photo"


@pytest.fixture
def session(tmp_path):
    with closing(board_of(tmp_path / "board", painted(), photos=3)) as opened:
        yield opened


@pytest.fixture
def cache(tmp_path):
    return tmp_path / "cache"


@pytest.fixture
def judged(monkeypatch):
    """Return a list that grows by the number of coupons judged in each run that judges any."""
    counts = []
    inner = measuring_run.Judging.tasks

    def counted(self, answers):
        tasks = inner(self, answers)
        counts.append(len(tasks))
        return tasks

    monkeypatch.setattr(measuring_run.Judging, "tasks", counted)
    return counts


def file_of(session, place):
    return session.folder / "photos" / photos_in_order(session.record)[place].file


def damage(path):
    path.write_bytes(path.read_bytes()[:-2000])


def told(session):
    """Return by photo whether the figures say that the first photo was away, and whether any is confident."""
    record = session.record
    return {
        photo.name: (
            all(any(each.startswith(AWAY) for each in m.warnings) for m in record.measured[photo.key].values()),
            any(m.confident for m in record.measured[photo.key].values()),
        )
        for photo in photos_in_order(record)
        if photo.key in record.measured
    }


@pytest.mark.parametrize("place", [1, 2])
def test_a_damaged_photo_is_judged_around_once_and_told_every_time(session, cache, judged, place):
    sound = file_of(session, place).read_bytes()
    damage(file_of(session, place))
    first = measured(session, cache)
    assert len(judged) == 1
    again = measured(session, cache)
    assert len(judged) == 1, "nothing has changed, so nothing is judged again"
    assert again.problems == first.problems
    assert again.measurements == ()
    file_of(session, place).write_bytes(sound)
    assert measured(session, cache).problems == ()
    assert len(judged) == 2
    assert len(session.record.measured) == 3


def test_when_the_newest_photo_is_damaged_after_it_was_measured_nothing_is_judged_for_ever(session, cache, judged):
    measured(session, cache)
    damage(file_of(session, 2))
    add(session, painted().photos[3], taken=photos_in_order(session.record)[0].taken.replace(second=7))
    for _ in range(3):
        measured(session, cache)
    assert len(judged) <= 3
    before = len(judged)
    measured(session, cache)
    assert len(judged) == before


def test_without_the_first_photo_the_figures_say_what_they_were_compared_with(session, cache):
    measured(session, cache)
    names = [each.name for each in photos_in_order(session.record)]
    assert not any(away for away, _ in told(session).values())
    first = file_of(session, 0)
    away = first.rename(first.with_suffix(".away"))
    assert measured(session, cache).measurements == (), "away for a while changes nothing"
    add(session, painted().photos[3])
    measured(session, cache)
    found = told(session)
    assert {name: found[name] for name in found if name != names[0]} == dict.fromkeys(
        (*names[1:], painted().photos[3].name), (True, False)
    )
    warning = next(
        each
        for m in session.record.measured[photos_in_order(session.record)[-1].key].values()
        for each in m.warnings
        if each.startswith(AWAY)
    )
    assert names[0] in warning
    assert photos_in_order(session.record)[1].taken.date().isoformat() in warning
    assert measured(session, cache).measurements == ()
    assert all(not OutOfDate(session.record).in_photo(each.key) for each in photos_in_order(session.record)[1:])
    away.rename(first)
    measured(session, cache)
    assert not any(away for away, _ in told(session).values())


def test_a_first_photo_taken_off_the_board_is_missed_by_nobody(session, cache):
    measured(session, cache)
    file_of(session, 0).unlink()
    session.do(remove_photo, photos_in_order(session.record)[0].key)
    assert measured(session, cache).problems == ()
    assert not any(away for away, _ in told(session).values())
    assert measured(session, cache).measurements == ()


def test_what_may_be_otherwise_next_time_is_not_remembered(session, cache, monkeypatch):
    inner = measuring_tasks.upright_pixels
    short = InputError("There is not enough memory to open this picture; save it smaller.")

    def failing(*arguments, **named):
        raise short

    monkeypatch.setattr(measuring_tasks, "upright_pixels", failing)
    monkeypatch.setattr(measuring_run, "upright_pixels", failing)
    assert measured(session, cache).problems != ()
    monkeypatch.setattr(measuring_tasks, "upright_pixels", inner)
    monkeypatch.setattr(measuring_run, "upright_pixels", inner)
    assert measured(session, cache).problems == ()
    assert len(session.record.measured) == 3
