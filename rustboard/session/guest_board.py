"""Another board's histories, to be laid over the timeline of the open one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rustboard.board.comparisons import CONTROL
from rustboard.board.exposure_clock import ClockKind, control_clock, day_clock, has_graded_controls
from rustboard.board.record import BoardRecord, left_out_by_coupon
from rustboard.board.series import BandSeries, band_series, inspection_days
from rustboard.findings.boards.matching import Common
from rustboard.session.other_boards import PooledBoards


@dataclass(frozen=True, slots=True)
class GuestTrack:
    """One treatment of the other board that the open one has too.

    Attributes:
        name: over all boards.
        own: id of the treatment on the open board; ``control`` for the controls.
        series: its replicates by time.
    """

    name: str
    own: str
    series: BandSeries


@dataclass(frozen=True, slots=True)
class GuestBoard:
    """Another board as the timeline lays it over.

    Attributes:
        name: of the board.
        places: of its inspections by time, on every clock on which it can be laid over.
        tracks: what both boards have.
    """

    name: str
    places: Mapping[ClockKind, tuple[float, ...]]
    tracks: tuple[GuestTrack, ...]


def matched_coupons(pooled: PooledBoards, row: Common, board: int) -> list[int]:
    """Return the coupons that count of a matched treatment, or of the controls, on a board (its number)."""
    return coupons_of_row(pooled.whole[board].record, row, board)


def coupons_of_row(record: BoardRecord, row: Common, board: int) -> list[int]:
    """Return the coupons of a board (its number) that count of a matched treatment, as one reads the board."""
    wanted = row.treatments[board]
    left_out = left_out_by_coupon(record)
    counted = [each for each in record.coupons_in_order() if each.key not in left_out]
    if row.controls:
        return [each.key for each in counted if each.role == "control"]
    keys = {key for key, each in record.treatments.items() if wanted and each.id == wanted}
    return [each.key for each in counted if each.treatment in keys and each.role == "test"]


def guest_board(pooled: PooledBoards, guest: int, host: int) -> GuestBoard:
    """Return a board (its number) as the timeline of another (its number) lays it over.

    It can be laid over by days, by the clock of the controls where it has some, and by the clock of the result.
    """
    whole = pooled.whole[guest]
    record, days = whole.record, inspection_days(whole.record)
    places: dict[ClockKind, tuple[float, ...]] = {"days": day_clock(days).places}
    if has_graded_controls(record):
        places["controls"] = control_clock(record, days).places
    places[whole.clock.kind] = whole.clock.places
    tracks = []
    for row in pooled.request.matching.common:
        if row.treatments[guest] and row.treatments[host]:
            series = band_series(record, matched_coupons(pooled, row, guest), days)
            if series.points:
                tracks.append(GuestTrack(row.name, CONTROL if row.controls else row.treatments[host], series))
    return GuestBoard(pooled.findings.boards[guest], places, tuple(tracks))
