"""The weather of the board in the window, worked out once for all screens that show it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from rustboard.session.changes import ChangeSet
from rustboard.session.jobs import Progress
from rustboard.session.session import Session
from rustboard.session.weather import WEATHER_TABLES, has_weather, request_of, work_out_track
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge

if TYPE_CHECKING:
    from rustboard.weather.track import WeatherTrack


class WeatherSource(QObject):
    """Holds the track of the weather, and works it out again when what it is made from has changed.

    Signals:
        arrived(): another track is there, or none any more.
        failed(object): an `InputError`: the weather cannot be read.
    """

    arrived = Signal()
    failed = Signal(object)

    def __init__(self, session: Session, bridge: JobBridge, parent: QObject | None = None) -> None:
        """Start without a track; nothing is worked out before `want`."""
        super().__init__(parent)
        self._session, self._bridge = session, bridge
        self._track: WeatherTrack | None = None
        self._wanted = self._stale = False
        self._job: Progress | None = None
        self._contents: dict[str, bytes] = {}

    def track(self) -> WeatherTrack | None:
        """Return the track; None while it is worked out, and where nothing is known of the weather."""
        return self._track

    def is_working(self) -> bool:
        """Return whether a track is on its way."""
        return self._wanted and self._stale

    def want(self) -> None:
        """Work the track out, unless it is there or on its way; `arrived` tells when it is."""
        if not self._wanted:
            self._wanted = True
            self._start()

    def apply(self, changes: ChangeSet) -> None:
        """Work the track out again where a change reaches it."""
        if self._wanted and changes.touches(*WEATHER_TABLES):
            self._start()

    def _start(self) -> None:
        if self._job is not None:
            self._job.cancel()  # its track is of what the board knew before
        if not has_weather(self._session.record):
            self._stale, self._track = False, None
            self.arrived.emit()
            return
        self._stale = True
        try:
            request = request_of(self._session.record, self._content)
        except InputError as error:
            self._fail(error)
            return
        self._job = self._bridge.start(
            ("weather", id(self)), work_out_track, request, done=self._take, failed=self._fail, owner=self
        )

    def _content(self, sha256: str) -> bytes:
        """Return the readings of a file, read from the disk once: a day noted by hand does not change them."""
        if sha256 not in self._contents:
            named = {each.content for each in self._session.record.weather_files.values()}
            self._contents = {each: kept for each, kept in self._contents.items() if each in named}
            self._contents[sha256] = self._session.weather_content(sha256)
        return self._contents[sha256]

    def _take(self, track: WeatherTrack) -> None:
        self._stale, self._track = False, track
        self.arrived.emit()

    def _fail(self, error: InputError) -> None:
        self._stale, self._track = False, None
        self.arrived.emit()
        self.failed.emit(error)
