"""The calendar file: RFC 5545 on the bytes, and read back by the library."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, time, timedelta
from pathlib import Path

import pytest
from icalendar import Calendar, Event
from report_boards import HOSTILE, START, BoardBuilder, small_board

from rustboard.board.inspection_days import InspectionDays
from rustboard.board.model import Board, Plan, Treatment
from rustboard.board.record import BoardRecord
from rustboard.report.calendar_file import calendar_bytes, write_calendar
from rustboard.session.looking import look_at_board
from rustboard.session.new_board import copy_board, create_from_plan
from rustboard.support.problems import InputError

UID = "0123456789abcdef01234567"
WRITTEN = datetime(2026, 3, 1, 18, 0, tzinfo=UTC)


def planned(record: BoardRecord, *days: int, hour: time = time(16, 30), remind: bool = True) -> BoardRecord:
    record.calendars[1] = InspectionDays(days, hour, remind, 1, UID)
    return record


def empty(name: str = "B", **fields: object) -> BoardRecord:
    return BoardBuilder(Board(name, **fields)).record  # type: ignore[arg-type]


def events(content: bytes) -> list[Event]:
    return list(Calendar.from_ical(content).walk("VEVENT"))


def hostile() -> BoardRecord:
    return empty("; ".join(HOSTILE), site="\r\nBEGIN:VEVENT\nUID:x\r\n" + "🧲" * 90, started=START)


@pytest.mark.parametrize("board", [small_board, hostile])
def test_the_bytes_keep_to_rfc_5545(board: object) -> None:
    """Sections 3.1 (lines, folding), 3.6 (blocks), 3.6.1 (UID, DTSTAMP), 3.7 (PRODID, VERSION); from memory."""
    content = calendar_bytes(planned(board(), 0, 1, 2, 4), written=WRITTEN)  # type: ignore[operator]
    assert content.endswith(b"\r\n")
    lines = content[:-2].split(b"\r\n")
    assert all(len(line) <= 75 and b"\n" not in line and b"\r" not in line for line in lines)
    content.decode()
    unfolded = content.replace(b"\r\n ", b"").decode().split("\r\n")
    open_blocks: list[str] = []
    for line in unfolded:
        name, _, value = line.partition(":")
        if name == "BEGIN":
            open_blocks.append(value)
        elif name == "END":
            assert open_blocks.pop() == value
    assert open_blocks == []
    assert unfolded[0] == "BEGIN:VCALENDAR"
    assert unfolded.count("BEGIN:VEVENT") == 4
    assert unfolded.count("VERSION:2.0") == 1
    assert sum(line.startswith("PRODID:") for line in unfolded) == 1
    uids = [line for line in unfolded if line.startswith("UID:")]
    assert len(set(uids)) == len(uids) == 4
    assert unfolded.count("DTSTAMP:20260301T180000Z") == 4


def test_every_planned_look_is_half_an_hour_by_the_clock_on_the_wall() -> None:
    content = calendar_bytes(planned(small_board(), 0, 1, 28), written=WRITTEN)
    # No Z behind the time and no TZID before it: a floating time (RFC 5545, section 3.3.5, form 1; from memory).
    assert b"DTSTART:20260302T090000\r\n" in content
    assert b"DTSTART:20260303T163000\r\n" in content
    assert b"DTEND:20260330T170000\r\n" in content
    assert b"TZID" not in content
    first, second, _ = events(content)
    assert first["summary"] == "Harbour wall spring: look, day 0"
    assert second["summary"] == "Harbour wall spring: look, day 1"
    assert second["location"] == "harbour wall"
    assert "grade all 4 coupons in one go" in second["description"]
    assert "Exposure began on 2026-03-02; this is day 1." in second["description"]
    assert "before anything has happened" in first["description"]


def test_a_file_written_again_updates_the_same_events() -> None:
    record = planned(small_board(), 0, 1, 2)
    before = [each["uid"] for each in events(calendar_bytes(record, written=WRITTEN))]
    record.board = replace(record.board, name="Quay", site="garden", started=START + timedelta(days=2))
    planned(record, 0, 1, 2, 4, hour=time(8))
    after = events(calendar_bytes(record, written=WRITTEN + timedelta(days=1)))
    assert [each["uid"] for each in after][:3] == before
    assert after[1].decoded("dtstart") == datetime(2026, 3, 5, 8)
    assert after[0].decoded("dtstamp") > WRITTEN


def test_boards_alike_have_events_of_their_own(tmp_path: Path) -> None:
    plan = Plan(Board("B", started=START), calendar=InspectionDays((0, 7)))
    for name in ("one", "other"):
        create_from_plan(tmp_path / name, replace(plan, treatments=(Treatment("T1"),)))
    copy_board(tmp_path / "one", tmp_path / "copy")
    one, other, copy = (
        [each["uid"] for each in events(calendar_bytes(look_at_board(tmp_path / name), written=WRITTEN))]
        for name in ("one", "other", "copy")
    )
    assert len({*one, *other}) == 4
    assert copy == one


def test_texts_come_back_as_they_were_and_begin_nothing() -> None:
    record = empty('=1+1; a, b\\n "c": 🧲', site="dock; 3, left\nBEGIN:VALARM", started=START)
    (event,) = events(calendar_bytes(planned(record, 3, remind=False), written=WRITTEN))
    assert event["summary"] == '=1+1; a, b\\n "c": 🧲: look, day 3'
    assert event["location"] == "dock; 3, left BEGIN:VALARM"
    assert event.subcomponents == []


def test_an_alarm_rings_an_hour_before_only_where_the_user_wants_reminders() -> None:
    (event,) = events(calendar_bytes(planned(small_board(), 5), written=WRITTEN))
    (alarm,) = event.subcomponents
    assert (alarm["action"], alarm.decoded("trigger")) == ("DISPLAY", timedelta(hours=-1))
    assert b"VALARM" not in calendar_bytes(planned(small_board(), 5, remind=False), written=WRITTEN)


def test_days_count_from_the_first_inspection_where_no_start_is_stated() -> None:
    made = BoardBuilder(Board("B"))
    made.inspection(10)
    (event,) = events(calendar_bytes(planned(made.record, 4), written=WRITTEN))
    assert event.decoded("dtstart") == datetime(2026, 3, 16, 16, 30)
    assert "location" not in event


def test_without_a_start_or_without_days_it_says_what_is_missing(tmp_path: Path) -> None:
    path = tmp_path / "board.ics"
    with pytest.raises(InputError, match="say when the exposure begins"):
        write_calendar(planned(empty(), 1, 2), path, written=WRITTEN)
    with pytest.raises(InputError, match="No inspections are planned"):
        write_calendar(empty(started=START), path, written=WRITTEN)
    assert not path.exists()


def test_the_file_is_replaced_whole_and_the_number_of_looks_is_told(tmp_path: Path) -> None:
    path = tmp_path / "board.ics"
    path.write_bytes(b"older")
    record = planned(small_board(), 0, 1, 2)
    assert write_calendar(record, path, written=WRITTEN) == 3
    assert path.read_bytes() == calendar_bytes(record, written=WRITTEN)
    with pytest.raises(InputError, match=r"board\.ics"):
        write_calendar(record, path / "beyond" / "board.ics", written=WRITTEN)
    assert [each.name for each in tmp_path.iterdir()] == ["board.ics"]
