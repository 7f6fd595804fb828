"""Showing the photos of the board in the window, measuring them, and taking over what they say."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.operations.measuring import accept_measurement, accept_measurements, keep_measuring
from rustboard.session.grading_round import next_ungraded
from rustboard.session.jobs import Progress
from rustboard.session.out_of_date import OutOfDate
from rustboard.support.problems import InputError, Problem
from rustboard.support.settings import Settings
from rustboard.support.text import printable, some_of
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.intake_commands import IntakeCommands
from rustboard.ui.photo_keeping_commands import PhotoKeepingCommands
from rustboard.ui.placing_commands import PlacingCommands
from rustboard.ui.screen_commands import ScreenCommands
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.session.measuring import MeasureRequest, MeasureResult
    from rustboard.session.session import Session
    from rustboard.ui.photos.screen import PhotoScreen

_MOST_SHOWN = 6


class PhotoCommands(ScreenCommands["PhotoScreen"]):
    """Brings the photo screen in and out of view, and answers it.

    Signals:
        working(str): how far measuring is, while the photos are not in view.
    """

    working = Signal(str)

    def __init__(
        self,
        window: QWidget,
        asker: Asker,
        do: Do,
        scheme: Scheme,
        stack: QStackedWidget,
        bridge: JobBridge,
        settings: Settings,
        others: tuple[IntakeCommands, PlacingCommands, PhotoKeepingCommands],
    ) -> None:
        """Start without a page; ``others`` add photos, place them, and take them off."""
        super().__init__(window, asker, do, scheme, stack)
        self._bridge, self._settings = bridge, settings
        self._intake, self._placing, self._keeping = others
        self._job: Progress | None = None

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page; the photos of the one before go, and what is measured of them stops."""
        self._end_job(cancel=True)
        super().attach(page)

    def _build(self, page: BoardPage) -> PhotoScreen:
        from rustboard.ui.photos.screen import PhotoScreen

        screen = PhotoScreen(page.session, self._bridge, self._do, self._scheme, self._settings)
        self._wire_screen(screen)
        return screen

    def _wire_screen(self, screen: PhotoScreen) -> None:
        screen.left.connect(self.leave)
        screen.add_asked.connect(self._intake.add_photos)
        self._intake.watch(screen)
        screen.place_asked.connect(self._placing.place)
        screen.head.find_asked.connect(self._keeping.find_asked)
        screen.strip.row.menu_asked.connect(self._keeping.show_menu)
        screen.measure_asked.connect(self.measure)
        screen.stop_asked.connect(self.stop)
        screen.accept_asked.connect(self.accept)
        screen.confident_asked.connect(self.accept_confident)
        screen.painted.connect(self._measure_painted)

    # ---- measuring

    @Slot()
    def measure(self) -> None:
        """Measure what is not measured yet or is to be measured again; everything anew when there is nothing."""
        from rustboard.session.measuring import measure, measuring_request

        if self.page is None or (self._job is not None and self._bridge.busy()):
            return
        session = self.page.session
        if session.read_only_reason:
            self.failed.emit(session.read_only_reason)
            return
        if not session.record.photos:
            self.told.emit(self.tr("This board has no photo yet; add one first."))
            return
        self._show_progress(0, max(1, len(session.record.photos)))
        request = measuring_request(session, again=not OutOfDate(session.record).to_measure())
        self._job = self._bridge.start(
            ("measure", id(session)), measure, request,
            done=partial(self._measured, session, request), failed=self._not_measured, told=self._tell_progress,
            owner=self,
        )  # fmt: skip
        if self._job.cancelled:
            self._end_job()

    @Slot()
    def stop(self) -> None:
        """Stop measuring; what was worked out is kept for the next time."""
        if self._job is not None:
            self._end_job(cancel=True)
            self.told.emit(self.tr("Stopped measuring; what was worked out so far is not worked out again."))

    def _end_job(self, *, cancel: bool = False) -> None:
        job, self._job = self._job, None
        if job is not None and cancel:
            job.cancel()
        if self.screen is not None:
            self.screen.head.show_progress(0, 0)

    def _tell_progress(self, done: int, total: int) -> None:
        if self._job is not None and not self._job.cancelled:  # a stopped job may still tell for a moment
            self._show_progress(done, total)

    def _show_progress(self, done: int, total: int) -> None:
        if self.screen is not None:
            self.screen.head.show_progress(done, total)
        if not self.is_shown():
            self.working.emit(self.tr("Measuring the photos: {0} of {1}").format(done, total))

    def _measured(self, session: Session, request: MeasureRequest, result: MeasureResult) -> None:
        from rustboard.ui.photos.still_true import painted_meanwhile, reshaped_meanwhile

        self._end_job()
        painted = painted_meanwhile(request.record, session.record)
        reshaped = reshaped_meanwhile(request.record, session.record)
        kept = self._keep_measured(session, request, result)
        if kept is None:
            return
        result = kept
        for coupon in sorted(painted) if session.record.measured else ():
            self._measure_again(session, coupon)
        photos = len({each.photo for each in result.measurements})
        if reshaped:
            names = some_of([session.record.coupons[key].id for key in sorted(reshaped)], _MOST_SHOWN)
            self.told.emit(
                self.tr("Measured {0} photos. Changed meanwhile, so to be measured again: {1}").format(
                    photos, printable(names)
                )
            )
        elif photos:
            self.told.emit(self.tr("Measured {0} photos").format(photos))
        elif not result.problems:
            self.told.emit(self.tr("Measured; nothing new was found."))
        if result.problems:
            self.failed.emit(_sentences(result.problems, self.tr("And {0} more.")))

    def _not_measured(self, error: InputError) -> None:
        self._end_job()
        self._refuse(error)

    @Slot(int, int)
    def _measure_painted(self, photo: int, coupon: int) -> None:
        """Work the figures of a coupon out anew after the brush; another stroke meanwhile begins it again."""
        if self.page is not None:
            self._measure_again(self.page.session, coupon, self.page.session.newest_step())

    def _measure_again(self, session: Session, coupon: int, stroke: int = 0) -> None:
        """Measure a coupon with its strokes; the figures are undone together with the step of the newest stroke."""
        from rustboard.session.measuring import brushed_request, measure

        request = brushed_request(session, coupon)
        self._bridge.start(
            ("brushed", id(session), coupon), measure, request,
            done=partial(self._keep_painted, session, request, stroke), failed=self._refuse, owner=self.screen,
        )  # fmt: skip

    def _keep_painted(self, session: Session, request: MeasureRequest, stroke: int, result: MeasureResult) -> None:
        if self._keep_measured(session, request, result, stroke) is not None and result.problems:
            self.failed.emit(_sentences(result.problems, self.tr("And {0} more.")))

    def _keep_measured(
        self, session: Session, request: MeasureRequest, result: MeasureResult, joins: int = 0
    ) -> MeasureResult | None:
        """Keep what still holds of what was found, and return it; None when nothing could be kept."""
        from rustboard.ui.photos.still_true import still_true

        if self.page is None or self.page.session is not session:
            return None  # the answer was on its way when the board was left
        result = still_true(request.record, session.record, result)
        found = result.placings or result.measurements
        if found and self._do(keep_measuring, result.placings, result.measurements, joins=joins) is None:
            return None
        return result

    # ---- taking over

    def _grader(self, photo: int) -> str:
        """Return in whose name a grade of a photo's inspection is given, as while grading."""
        if self.page is None:
            return ""
        session = self.page.session
        found = session.record.photos.get(photo)
        inspection = None if found is None else session.record.inspections.get(found.inspection or 0)
        return (inspection.grader if inspection is not None else "") or session.who

    @Slot(int, int)
    def accept(self, photo: int, coupon: int) -> None:
        """Take over what a photo says of a coupon, and go on to the next that has no grade there."""
        if self.page is None or self._do(accept_measurement, photo, coupon, self._grader(photo)) is None:
            return
        session = self.page.session
        taken = session.record.photos.get(photo)
        following = None
        if taken is not None and taken.inspection is not None:
            following = next_ungraded(session.record, taken.inspection, coupon)
        if following is not None:
            session.selection.choose({following}, following)

    @Slot(int)
    def accept_confident(self, key: int) -> None:
        """Take over what a photo says of every coupon it is sure of; say which are left out, and why."""
        from rustboard.ui.photos.photo_words import grouped, left_out

        photo = None if self.page is None else self.page.session.record.photos.get(key)
        if self.page is None or photo is None:
            return
        record = self.page.session.record
        coupons = OutOfDate(record).confident(photo)
        out = grouped(left_out(record, photo))
        if self._do(accept_measurements, key, coupons, self._grader(key)) is None:
            return
        text = self.tr("Took over {0} grades. Left out: {1}") if out else self.tr("Took over {0} grades.")
        self.told.emit(text.format(len(coupons), out))


def _sentences(problems: tuple[Problem, ...], more: str) -> str:
    lines = [printable(each.sentence()) for each in problems[:_MOST_SHOWN]]
    if len(problems) > _MOST_SHOWN:
        lines.append(more.format(len(problems) - _MOST_SHOWN))
    return "\n".join(lines)
