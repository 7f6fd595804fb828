"""What the timeline shows for a choice of coupons or treatments, read from the record."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Final, Literal

from PySide6.QtCore import QCoreApplication

from rustboard.board.model import Coupon
from rustboard.board.record import BoardRecord
from rustboard.board.series import (
    BandPoint,
    BandSeries,
    Days,
    StepPoint,
    StepSeries,
    band_series,
    coupon_series,
    inspection_days,
)
from rustboard.session.changes import ChangeSet
from rustboard.session.selection import Selection
from rustboard.support.text import one_line
from rustboard.ui import wording

Mode = Literal["coupons", "treatments", "all"]
"""The chosen coupons, the treatments of the chosen coupons, or all treatments."""

MOST_BANDS: Final = 2
"""More bands than this cover each other; then only their medians are drawn."""

NAME_LIMIT: Final = 120
UNTREATED_CONTROL: Final = -1
NOT_NOTED: Final = -2
"""Groups of coupons without a treatment; treatments are groups by their own key."""


def _say(text: str) -> str:
    return QCoreApplication.translate("timeline", text)


@dataclass(frozen=True, slots=True)
class Track:
    """One line of the timeline.

    Attributes:
        label: short name at the end of the line. name: the name in the list.
        style: number of its look; a treatment keeps its own while others come and go.
        series: one coupon's history, or that of replicates.
        coupons: keys of the coupons it stands for.
        with_band: whether lowest to highest is drawn beside the median.
    """

    label: str
    name: str
    style: int
    series: StepSeries | BandSeries
    coupons: tuple[int, ...]
    with_band: bool = False

    def is_partial(self, point: StepPoint | BandPoint) -> bool:
        """Return whether fewer coupons were graded then than there are: then the median may jump for that alone."""
        return isinstance(point, BandPoint) and point.graded < len(self.coupons)


@dataclass(frozen=True, slots=True)
class Content:
    """Everything the timeline shows.

    Attributes:
        mode: what is shown, which is all treatments while nothing is chosen.
        chosen: how many coupons are chosen.
        days: every inspection of the board by time.
        empty: why there is nothing to draw, in a sentence; empty when there is.
        styles: how many looks are in use.
    """

    mode: Mode = "all"
    chosen: int = 0

    title: str = ""
    days: Days = ()
    tracks: tuple[Track, ...] = ()
    empty: str = ""
    styles: int = 0


@dataclass(frozen=True, slots=True)
class _Group:
    key: int
    name: str
    coupons: tuple[int, ...]


@dataclass(slots=True)
class ContentReader:
    """Reads contents and keeps histories that did not change, so that one more grade costs one more history."""

    _days: Days | None = None
    _coupons: dict[int, StepSeries] = field(default_factory=dict)
    _bands: dict[tuple[int, ...], BandSeries] = field(default_factory=dict)

    def forget(self, changes: ChangeSet) -> None:
        """Forget the histories that a change may have touched."""
        if changes.touches("inspection", "board"):
            self._days = None
            self._coupons.clear()
            self._bands.clear()
            return
        for key in changes.coupons:
            self._coupons.pop(key, None)
        self._bands = {keys: band for keys, band in self._bands.items() if not changes.coupons & set(keys)}

    def read(self, record: BoardRecord, selection: Selection, mode: Mode) -> Content:
        """Return what to show for the chosen coupons; all treatments when none is chosen, whatever the mode."""
        if self._days is None:
            self._days = inspection_days(record)
        chosen = [each for each in record.coupons_in_order() if each.key in selection.coupons]
        shown_mode: Mode = mode if chosen else "all"
        if shown_mode == "coupons":
            title, tracks, styles = _coupons_title(record, chosen), self._coupon_tracks(record, chosen), len(chosen)
        else:
            groups = _groups(record)
            styles = len(groups)
            shown = groups if shown_mode == "all" else _groups_of(groups, chosen)
            title = _groups_title(shown, whole_board=shown_mode == "all")
            tracks = self._group_tracks(record, groups, shown)
        drawn = tuple(each for each in tracks if each.series.points)
        return Content(
            mode=shown_mode,
            chosen=len(chosen),
            title=title,
            days=self._days,
            tracks=drawn,
            empty=_why_empty(record, self._days, drawn),
            styles=styles,
        )

    def _coupon_tracks(self, record: BoardRecord, chosen: Sequence[Coupon]) -> list[Track]:
        return [
            Track(
                label=one_line(each.id, NAME_LIMIT),
                name=wording.coupon_title(record, each)[:NAME_LIMIT],
                style=number,
                series=self._coupon(record, each.key),
                coupons=(each.key,),
            )
            for number, each in enumerate(chosen)
        ]

    def _group_tracks(self, record: BoardRecord, groups: Sequence[_Group], shown: Sequence[_Group]) -> list[Track]:
        with_band = len(shown) <= MOST_BANDS
        return [
            Track(
                label=each.name,
                name=each.name,
                style=groups.index(each),
                series=self._band(record, each.coupons),
                coupons=each.coupons,
                with_band=with_band,
            )
            for each in shown
        ]

    def _coupon(self, record: BoardRecord, key: int) -> StepSeries:
        if key not in self._coupons:
            self._coupons[key] = coupon_series(record, key, self._days)
        return self._coupons[key]

    def _band(self, record: BoardRecord, keys: tuple[int, ...]) -> BandSeries:
        if keys not in self._bands:
            self._bands[keys] = band_series(record, keys, self._days)
        return self._bands[keys]


def _groups(record: BoardRecord) -> list[_Group]:
    """Return treatments that have coupons, in the order they were made, then coupons without one."""
    members: dict[int, list[int]] = {key: [] for key in (*sorted(record.treatments), UNTREATED_CONTROL, NOT_NOTED)}
    for coupon in record.coupons_in_order():
        members[_group_key(coupon, record)].append(coupon.key)
    names = {key: one_line(each.title, NAME_LIMIT) for key, each in record.treatments.items()}
    names[UNTREATED_CONTROL] = _say("control, no treatment noted")
    names[NOT_NOTED] = _say("no treatment noted")
    return [_Group(key, names[key], tuple(coupons)) for key, coupons in members.items() if coupons]


def _group_key(coupon: Coupon, record: BoardRecord) -> int:
    if coupon.treatment is not None and coupon.treatment in record.treatments:
        return coupon.treatment
    return UNTREATED_CONTROL if coupon.role == "control" else NOT_NOTED


def _groups_of(groups: Sequence[_Group], chosen: Iterable[Coupon]) -> list[_Group]:
    keys = {each.key for each in chosen}
    return [each for each in groups if keys & set(each.coupons)]


def _coupons_title(record: BoardRecord, chosen: Sequence[Coupon]) -> str:
    if len(chosen) == 1:
        return wording.coupon_title(record, chosen[0])[:NAME_LIMIT]
    return _say("{0} coupons").format(len(chosen))


def _groups_title(shown: Sequence[_Group], *, whole_board: bool) -> str:
    if len(shown) == 1:
        return _say("{0}, median").format(shown[0].name)
    pattern = _say("All {0} treatments, medians") if whole_board else _say("{0} treatments, medians")
    return pattern.format(len(shown))


def _why_empty(record: BoardRecord, days: Days, drawn: Sequence[Track]) -> str:
    if drawn:
        return ""
    if not record.coupons:
        return _say("There are no coupons on this board yet. Add one, and its history will be drawn here.")
    if not days:
        return _say("No inspections yet. Add the first one and grade a coupon; its history will be drawn here.")
    if not any(record.current.values()):
        return _say("Nothing graded yet. Grade a coupon, and its history will be drawn here.")
    return _say("What you have chosen was not graded yet. Grade it, or choose other coupons on the board.")
