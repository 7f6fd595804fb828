"""One run of measuring, step by step: the first photos, every photo by itself, every coupon over all its photos."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from rustboard.board.measured import Measurement, PhotoPlacing
from rustboard.board.model import Photo
from rustboard.photo.decode import DAMAGED, NOT_A_PICTURE, upright_pixels
from rustboard.photo.finding.view import PlacedView, placed_view
from rustboard.photo.looks import CouponFrame, Rgb
from rustboard.photo.one_photo import ALGORITHM
from rustboard.photo.placement import Placement
from rustboard.session.coupon_frames import frames_of
from rustboard.session.jobs import Progress
from rustboard.session.measuring_cache import MeasuringCache, hash_of
from rustboard.session.measuring_job import MeasureRequest, MeasureResult
from rustboard.session.measuring_judging import Judging
from rustboard.session.measuring_plan import (
    coupon_settings,
    disturbances_of,
    firsts_of,
    is_settled,
    is_told_of_first,
    neighbours_of,
    photos_showing,
    settings_of,
    strokes_by_place,
)
from rustboard.session.measuring_pool import Pool
from rustboard.session.measuring_start import Start, made_start, plan_of
from rustboard.session.measuring_tasks import Finder, LookAnswer, LookTask, look_at_photo, placed
from rustboard.session.photo_days import photos_in_order, time_of
from rustboard.session.photo_files import ANOTHER_FILE, PhotoFile, photo_file, placement_of
from rustboard.support.problems import InputError, Problem
from rustboard.support.text import some_of

FOUND_BY_ITSELF: Final = frozenset({"markers", "view"})
_NAMES_TOLD: Final = 10
_ROUGH_MM: Final = 0.2
_NO_MARKERS: Final = (
    "The board has no markers and no photo of it is placed yet; tap the four corners of the board in this photo."
)


@dataclass(slots=True)
class Dated:
    """A photo that can be measured: there, and with a time."""

    file: PhotoFile
    when: datetime
    placement: Placement | None


class MeasuringRun:
    """One run; see `rustboard.session.measuring.measure`."""

    def __init__(self, request: MeasureRequest, pool: Pool, progress: Progress) -> None:
        """Prepare a run; nothing is read yet."""
        self._request, self._pool, self._progress = request, pool, progress
        self._record = request.record
        self._cache = MeasuringCache(request.cache)
        self._placings: dict[int, PhotoPlacing] = {}
        self._problems: list[Problem] = []
        self._dated: list[Dated] = []
        self._away: set[int] = set()  # photos whose files are missing, or damaged
        self._done, self._total = 0, 1

    def result(self) -> MeasureResult:
        """Do the work."""
        self._dated = self._dated_photos()
        self._total = len(self._dated)
        first = self._first()
        if first is None:
            return self._found(())
        frames = self._frames(first)
        needed = self._needed(first, frames)
        if not needed:
            return self._found(())
        self._total = len(self._dated) + len(needed)
        start = self._start(first, frames)
        answers = self._looks(start)
        times = [each.when for each in self._dated]
        shown = photos_showing(self._record, self._placings)
        judging = Judging(self._record, start, times, shown, self._request.cache, needed, self._away)
        tasks = judging.tasks(answers)
        judged = self._pool.run(judging.judge, tasks, self._told)
        return self._found(judging.measurements(answers, judged, self._rough(answers)))

    def _rough(self, answers: Mapping[int, LookAnswer]) -> frozenset[int]:
        """Return the photos whose place was only recognised by the view of another, and not closely."""
        found = set()
        for answer in answers.values():
            placing = answer.placing or _placing_of(self._record.photos[answer.photo])
            scale = min((each.pixels_per_mm for each in answer.coupons), default=1.0)
            if placing.placed_by == "view" and (placing.error_px or 0.0) > _ROUGH_MM * scale:
                found.add(answer.photo)
        return frozenset(found)

    def _found(self, measurements: Sequence[Measurement]) -> MeasureResult:
        problems = tuple(dict.fromkeys(self._problems))  # a photo may be read more than once
        return MeasureResult(tuple(self._placings.values()), tuple(measurements), problems)

    def _told(self, done: int) -> None:
        self._progress.step(self._done + done, max(self._total, self._done + done, 1))

    # ---- which photos, which coupons

    def _dated_photos(self) -> list[Dated]:
        found: list[Dated] = []
        for photo in photos_in_order(self._record):
            if self._request.photos is not None and photo.key not in self._request.photos:
                continue
            file, when = photo_file(self._request.folder, photo), time_of(self._record, photo)
            if file is None:
                self._away.add(photo.key)
                self._refuse(photo, "This photo is missing; put it back into the photos folder.")
            elif not self._request.again and (damage := self._cache.damage(damage_name(file))):
                self._away.add(photo.key)
                self._refuse(photo, damage)
            elif when is None:
                self._refuse(photo, "This photo has no time, so it cannot be judged among the others; give it one.")
            else:
                anew = self._request.again and photo.placed_by in FOUND_BY_ITSELF
                found.append(Dated(file, when, None if anew else placement_of(photo)))
        return found

    def _refuse(self, photo: Photo, sentence: str) -> None:
        self._problems.append(InputError(sentence, file=photo.name).problem)

    def _first(self) -> int | None:
        """Return the place of the first photo in which the board is found; look for it where that is not known."""
        if not self._record.markers and all(each.placement is None for each in self._dated):
            for dated in self._dated:
                self._note(dated, PhotoPlacing(dated.file.photo.key, None, because=_NO_MARKERS))
            return None
        for place, dated in enumerate(self._dated):
            if dated.placement is None and self._record.markers and self._worth_looking(dated):
                self._find(dated)
            if dated.placement is not None:
                return self._earliest(place)
        return None

    def _earliest(self, placed_at: int) -> int:
        """Return the place of the first photo in which the board is found, those before the first placed one too.

        A person may have tapped the corners in any photo; those taken earlier are recognised by its view.
        """
        earlier = [place for place in range(placed_at) if self._worth_looking(self._dated[place])]
        views = self._views([placed_at]) if earlier else ()
        for place in earlier:
            self._find(self._dated[place], views)
        return next(place for place in range(placed_at + 1) if self._dated[place].placement is not None)

    def _worth_looking(self, dated: Dated) -> bool:
        """Return whether the board may still be found in a photo: not looked for yet, or asked for again."""
        photo = dated.file.photo
        untried = photo.unplaced_because in ("", _NO_MARKERS)
        return photo.key not in self._placings and (self._request.again or untried)

    def _find(self, dated: Dated, views: tuple[PlacedView, ...] = ()) -> None:
        self._told(0)
        picture = self._read(dated)
        if picture is None:
            remember_damage(self._cache, dated.file, self._problems[-1])
        else:
            placing, dated.placement = placed(dated.file, picture, self._finder(views))
            self._note(dated, placing)

    def _note(self, dated: Dated, placing: PhotoPlacing) -> None:
        self._placings[placing.photo] = placing
        if placing.mm_to_px is None:
            self._refuse(dated.file.photo, placing.because)

    def _read(self, dated: Dated) -> Rgb | None:
        try:
            return upright_pixels(dated.file.read(), dated.file.photo.name)
        except InputError as error:
            located = error if error.problem.file else error.located(file=dated.file.photo.name)
            self._problems.append(located.problem)
            return None

    def _finder(self, views: tuple[PlacedView, ...] = ()) -> Finder:
        return Finder(self._record.board, self._record.markers, views)

    def _frames(self, first: int) -> dict[int, CouponFrame]:
        dated = self._dated[first]
        place = dated.placement
        assert place is not None
        deciding = replace(dated.file.photo, mm_to_px=place.mm_to_px, lens=place.lens)
        shown, _ = photos_showing(self._record, self._placings)
        if shown and shown[0].key in self._away:  # the grids stay as fine as they were
            deciding = shown[0]
        frames = frames_of(self._record, deciding)
        if not frames:
            raise InputError("No coupon can be measured: draw the outlines of the coupons on the board first.")
        hung = [each for each in self._record.coupons_in_order() if each.position is not None]
        without = [each.id for each in hung if each.key not in frames]
        if without:
            names = some_of(without, _NAMES_TOLD)
            self._problems.append(
                InputError(
                    f"Not measured for want of an outline in the photos: {names}. Draw their outlines."
                ).problem
            )
        return frames

    def _needed(self, first: int, frames: dict[int, CouponFrame]) -> list[int]:
        """Return the coupons that are not measured yet, or not by these settings, in some photo."""
        strokes, shown = strokes_by_place(self._record), photos_showing(self._record, self._placings)
        there = [(photo, when) for photo, when in zip(*shown, strict=True) if photo.key not in self._away]
        hopeful = [
            each.file.photo for each in self._dated[first:] if each.placement is not None or self._worth_looking(each)
        ]
        needed = []
        for key, frame in frames.items():
            if self._request.coupons is not None and key not in self._request.coupons:
                continue
            happened = disturbances_of(self._record, key)
            whole = coupon_settings(ALGORITHM, frame, happened, shown[1])
            beside, firsts = neighbours_of(happened, *shown), firsts_of(happened, *shown)
            seen = neighbours_of(happened, [each for each, _ in there], [when for _, when in there])
            for photo in hopeful:
                its = beside.get(photo.key)
                settings = settings_of(whole, frame.pixels_per_mm, its, strokes.get((photo.key, key), ()))
                found = self._record.measured.get(photo.key, {}).get(key)
                alone = photo.key in seen and seen[photo.key].last
                settled = is_settled(found, settings, its, alone=alone)
                # Its first photo is back: what was measured without it is measured with it.
                compared = firsts.get(photo.key)
                back = compared is not None and is_told_of_first(found) and compared.key not in self._away
                if self._request.again or not settled or back:
                    needed.append(key)
                    break
        return needed

    # ---- the first photos, then every photo

    def _start(self, first: int, frames: dict[int, CouponFrame]) -> Start:
        happened = {key: disturbances_of(self._record, key) for key in frames}
        plan = plan_of(self._record, frames)
        pictures = {place: dated for place, dated in enumerate(self._dated) if place >= first}
        return made_start(first, frames, happened, plan, pictures, self._picture, self._request.cache)

    def _picture(self, place: int) -> tuple[Rgb, Placement] | None:
        """Return a photo and where the board is in it, for the first photos of a stretch; None when not to be had."""
        dated = self._dated[place]
        if dated.placement is None and self._record.markers and self._worth_looking(dated):
            self._find(dated)
        if dated.placement is None:
            return None
        self._told(0)
        picture = self._read(dated)
        return None if picture is None else (picture, dated.placement)

    def _looks(self, start: Start) -> dict[int, LookAnswer]:
        """Return what every photo said, by its place; look once more at those in which the board was not found."""
        answers: dict[int, LookAnswer] = {}
        views = self._views([start.place])  # for boards without markers, and where markers are hidden
        places = [place for place in range(start.place, len(self._dated)) if self._is_to_look_at(place)]
        self._look(start, places, views, answers)
        lost = [place for place in places if self._is_lost(answers[place])]
        if lost and len(lost) < len(places):
            # By the view of the first photo alone they were not found; by that of a nearer day they may be.
            self._done -= len(lost)
            for place in lost:
                near = sorted((each for each in places if each not in lost), key=lambda each: abs(each - place))[:2]
                self._look(start, [place], self._views(near), answers)
        for place in places:
            self._take(place, answers[place])
        return answers

    def _is_to_look_at(self, place: int) -> bool:
        return self._dated[place].placement is not None or self._worth_looking(self._dated[place])

    @staticmethod
    def _is_lost(answer: LookAnswer) -> bool:
        return answer.placing is not None and answer.placing.mm_to_px is None

    def _look(
        self, start: Start, places: list[int], views: tuple[PlacedView, ...], answers: dict[int, LookAnswer]
    ) -> None:
        tasks = [self._task(start, place, views) for place in places]
        found = self._pool.run(look_at_photo, tasks, self._told)
        self._done += len(places)
        for place, answer in zip(places, found, strict=True):
            answers[place] = answer
            if answer.placing is not None and answer.placing.mm_to_px is not None:
                photo, placing = self._dated[place].file.photo, answer.placing
                self._dated[place].placement = placement_of(
                    replace(photo, mm_to_px=placing.mm_to_px, lens=placing.lens)
                )

    def _task(self, start: Start, place: int, views: tuple[PlacedView, ...]) -> LookTask:
        dated = self._dated[place]
        frames = tuple(start.frames.values())
        begins = [(frame.coupon, start.begin_of(frame.coupon, place)) for frame in frames]
        bases = tuple(start.bases[each] for each in begins)
        pictures = tuple(start.pictures[each] for each in begins)
        finder, fresh = self._finder(views), self._request.again
        cache = self._request.cache
        return LookTask(
            dated.file,
            dated.placement,
            finder,
            frames,
            start.plan,
            start.board,
            bases,
            pictures,
            start.motions,
            cache,
            fresh,
        )

    def _views(self, places: Sequence[int]) -> tuple[PlacedView, ...]:
        board = self._record.board
        if not (board.width_mm and board.height_mm) or all(each.placement is not None for each in self._dated):
            return ()  # there is nothing to compare, or nobody to compare it with
        outlines = [each.outline_mm for each in self._record.coupons.values() if each.outline_mm]
        views = []
        for place in places:
            dated = self._dated[place]
            picture = self._read(dated)
            if picture is not None and dated.placement is not None:
                views.append(placed_view(picture, dated.placement, board, outlines))
        return tuple(views)

    def _take(self, place: int, answer: LookAnswer) -> None:
        """Keep where the board was found, and what was noticed of the photo."""
        dated = self._dated[place]
        if answer.problem is not None:
            self._problems.append(answer.problem)
            remember_damage(self._cache, dated.file, self._problems[-1])
            return
        placing = answer.placing or self._placings.get(dated.file.photo.key) or _placing_of(dated.file.photo)
        if placing.mm_to_px is not None:
            told = (*placing.warnings, *answer.warnings)
            placing = replace(placing, warnings=tuple(dict.fromkeys(told)))
        self._note(dated, placing)


def remember_damage(cache: MeasuringCache, file: PhotoFile, problem: Problem) -> None:
    """Remember that a file is damaged, as long as it stays the same; it is not read again for each run.

    What may be otherwise the next time (memory, the disk, where the board is in the photo) is not remembered.
    """
    if problem.what in (DAMAGED, NOT_A_PICTURE, ANOTHER_FILE):
        cache.keep_look(damage_name(file), problem.what.encode())


def damage_name(file: PhotoFile) -> str:
    """Return under which name is kept that a file cannot be read; another one when the file is replaced."""
    try:
        state = file.path.stat()
    except OSError:
        return hash_of(("damaged", file.photo.sha256))
    return hash_of(("damaged", file.photo.sha256, state.st_size, state.st_mtime_ns))


def _placing_of(photo: Photo) -> PhotoPlacing:
    """Return where the record says the board is in a photo."""
    by = photo.placed_by
    return PhotoPlacing(photo.key, photo.mm_to_px, photo.lens, by, photo.placing_error_px)  # type: ignore[arg-type]
