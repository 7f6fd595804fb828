"""Every coupon judged over all its photos, and what comes of it as measurements."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Final

from rustboard.board.measured import FIRST_IS_AWAY, SETTINGS_PARTS, Measurement, Present, SettingsPart, changed_parts
from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.photo.cutting import significant
from rustboard.photo.judging.judge import Disturbance as Done
from rustboard.photo.judging.judge import Reset
from rustboard.photo.looks import CouponFinding
from rustboard.photo.one_photo import ALGORITHM
from rustboard.session.mask_views import on_board
from rustboard.session.measuring_plan import (
    coupon_settings,
    disturbances_of,
    firsts_of,
    neighbours_of,
    settings_of,
    strokes_by_place,
)
from rustboard.session.measuring_start import Start
from rustboard.session.measuring_tasks import CouponLook, JudgeTask, LookAnswer, judge

_SECONDS_A_DAY: Final = 86_400
_RESETS: Final = {
    "cleaned": Done.CLEANED,
    "replaced": Done.REPLACED,
    "touched": Done.TOUCHED,
    "rotated": Done.TOUCHED,
    "board moved": Done.MOVED,
}
_WHY: Final[Mapping[SettingsPart, str]] = {
    "shape": "its outline or what counts of it changed",
    "log": "the day log says otherwise what was done to it",
    "order": "photos came, went, or were placed or dated anew",
    "strokes": "corrected by hand",
}
_DIGITS: Final = 5
"""Significant digits of a percentage that is kept."""

Judged = list[tuple[CouponFinding, str]]


class Judging:
    """Makes the tasks of judging, and measurements of their answers."""

    judge = staticmethod(judge)

    def __init__(
        self,
        record: BoardRecord,
        start: Start,
        times: Sequence[datetime],
        shown: tuple[Sequence[Photo], Sequence[datetime]],
        cache: Path,
        coupons: Sequence[int],
        away: Collection[int] = (),
    ) -> None:
        """Prepare to judge some coupons.

        Args:
            record: the board.
            start: what all photos are compared with.
            times: of all dated photos, rising.
            shown: the photos that show the board, and their times, rising.
            cache: folder of what can be made again.
            coupons: which to judge.
            away: photos, by key, whose files cannot be read.
        """
        self._record, self._start, self._times, self._cache = record, start, times, cache
        self._shown, self._coupons, self._away = shown, coupons, away
        self._strokes = strokes_by_place(record)
        self._order = {key: number for number, key in enumerate(start.frames)}  # in which a photo tells of them

    def tasks(self, answers: Mapping[int, LookAnswer]) -> list[JudgeTask]:
        """Return a task for each coupon; ``answers`` by the photo's place."""
        return [self._task(coupon, answers) for coupon in self._coupons]

    def _task(self, coupon: int, answers: Mapping[int, LookAnswer]) -> JudgeTask:
        frame, happened = self._start.frames[coupon], disturbances_of(self._record, coupon)
        whole = coupon_settings(ALGORITHM, frame, happened, self._shown[1])
        beside = neighbours_of(happened, *self._shown)
        looks, settings = [], []
        for place, answer in _told(answers):
            look = answer.coupons[self._order[coupon]]
            strokes = self._strokes.get((answer.photo, coupon), ())
            drawn = tuple(on_board(each, frame) for each in strokes)
            looks.append((self._days(self._times[place]), look.evidence, look.pixels_per_mm, answer.blur_px, drawn))
            settings.append(settings_of(whole, frame.pixels_per_mm, beside[answer.photo], strokes))
        resets = tuple(Reset(self._days(each.at), _RESETS[each.kind]) for each in happened if each.kind in _RESETS)
        return JudgeTask(frame, tuple(looks), resets, tuple(settings), self._cache)

    def _days(self, when: datetime) -> float:
        return (when - self._times[self._start.place]).total_seconds() / _SECONDS_A_DAY

    def measurements(
        self, answers: Mapping[int, LookAnswer], judged: Sequence[Judged], rough: Collection[int]
    ) -> list[Measurement]:
        """Return what is to be recorded.

        Args:
            answers: of the photos, by their places.
            judged: in the order of `tasks`.
            rough: photos whose place is only roughly known, so that nothing in them is taken over unseen.
        """
        told = _told(answers)
        found = []
        for coupon, findings in zip(self._coupons, judged, strict=True):
            counts = bool(significant(self._start.frames[coupon]).any())
            olds = [self._record.measured.get(answer.photo, {}).get(coupon) for _, answer in told]
            names = [name for _, name in findings]
            by_hand = any("strokes" in _changed(old, name) for old, name in zip(olds, names, strict=True))
            told_of_first = self._told_of_first(coupon, told)
            for (_, answer), (finding, masks), old in zip(told, findings, olds, strict=True):
                look = answer.coupons[self._order[coupon]]
                reason = _reason(old, finding, masks, by_hand=by_hand)
                one = _measurement(answer.photo, look, finding, masks, reason, counts=counts)
                warning = told_of_first.get(answer.photo, "")
                if warning:
                    one = one._replace(warnings=(warning, *one.warnings))
                found.append(one._replace(confident=False) if warning or answer.photo in rough else one)
        return found

    def _told_of_first(self, coupon: int, told: Sequence[tuple[int, LookAnswer]]) -> dict[int, str]:
        """Return what is to be told, by photo, where the photo is away with which a coupon's stretch begins."""
        firsts = firsts_of(disturbances_of(self._record, coupon), *self._shown)
        begins: dict[int, str] = {}  # by the photo that is away: the day of the one that stands for it
        warnings: dict[int, str] = {}
        for place, answer in told:
            first = firsts.get(answer.photo)
            if first is not None and first.key in self._away:
                day = begins.setdefault(first.key, self._times[place].date().isoformat())
                warnings[answer.photo] = (
                    f"{FIRST_IS_AWAY}, {first.name}, is missing or damaged, so it was compared with that of {day};"
                    " rust it had by then is not counted"
                )
        return warnings


def _told(answers: Mapping[int, LookAnswer]) -> list[tuple[int, LookAnswer]]:
    """Return the photos that said anything, by time."""
    return [(place, answers[place]) for place in sorted(answers) if answers[place].coupons]


def _measurement(
    photo: int, look: CouponLook, finding: CouponFinding, masks: str, reason: str, *, counts: bool
) -> Measurement:
    measured = look.evidence is not None and counts
    return Measurement(
        key=0,
        photo=photo,
        coupon=look.coupon,
        algorithm=ALGORITHM,
        inputs=masks,
        percent=_rounded(finding.percent) if measured else None,
        low=_rounded(finding.low) if measured else None,
        high=_rounded(finding.high) if measured else None,
        spots=finding.spots,
        largest_mm2=_rounded(finding.largest_mm2),
        distribution=finding.distribution if measured else "",
        debris_percent=_rounded(finding.debris_percent),
        unseen_percent=_rounded(finding.unseen_percent),
        resolvable_percent=_rounded(min(100.0, finding.resolvable_percent)),
        confident=finding.confident and look.certain and look.present == "there",
        newest=finding.newest,
        motion=look.motion,
        present=_present(look.present),
        warnings=tuple(dict.fromkeys((*look.warnings, *finding.warnings)))
        if look.evidence is not None
        else look.warnings,
        measured="",
        reason=reason,
    )


def _present(word: str) -> Present:
    return word if word in ("there", "missing", "other") else "unsure"  # type: ignore[return-value]


def _changed(old: Measurement | None, masks: str) -> frozenset[SettingsPart]:
    """Return what says otherwise how to measure since an earlier answer by this method."""
    comparable = old is not None and old.percent is not None and old.algorithm == ALGORITHM
    return changed_parts(old.inputs, masks) if old is not None and comparable else frozenset()


def _reason(old: Measurement | None, finding: CouponFinding, masks: str, *, by_hand: bool) -> str:
    """Return why an earlier answer is revised, in words.

    Args:
        old: the earlier answer.
        finding: the new one.
        masks: the name of its masks, which begins with how it was measured.
        by_hand: whether the coupon was painted otherwise in some photo.
    """
    if old is None or old.percent is None:
        return ""
    if old.algorithm != ALGORITHM:
        return "measured by a newer method of this program"
    changed = _changed(old, masks)
    if changed:
        return "; ".join(_WHY[part] for part in SETTINGS_PARTS if part in changed)
    if by_hand:
        return "judged together with another photo, which was corrected by hand"
    if finding.percent < old.percent and finding.debris_percent > old.debris_percent:
        return "what lay there has gone since, so it was dirt"
    return "judged together with other photos"


def _rounded(value: float) -> float:
    return float(f"{value:.{_DIGITS}g}")
