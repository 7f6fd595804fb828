"""The user's few settings, in one small JSON file. A torn or foreign file is put aside, never a reason to stop."""

from __future__ import annotations

import contextlib
import json
import logging
import os
from dataclasses import asdict, dataclass, field
from pathlib import Path

from rustboard.support import paths
from rustboard.support.files import read_bounded, write_whole
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

_LOG = logging.getLogger(__name__)
_MOST_BYTES = 1 << 20
_LONGEST_PATH = 4096
_GRADER_LIMIT = 200
_PAPER_LIMIT = 20
MOST_RECENT = 24
SCHEMES = ("system", "light", "dark", "sunlight")


@dataclass(slots=True)
class Settings:
    """What the user chose.

    Attributes:
        boards_folder: where the shelf looks and new boards go; empty = the default.
        recent: folders of boards opened lately, newest first.
        scheme: ``light``, ``dark``, ``sunlight`` or ``system``.
        grader: name written beside grades.
        paper: name of the size of paper to print on; empty = the usual one of the country.
        hide_suggestion: what a photo says of a coupon is hidden until the person has graded it.
        by_percent: coupons are graded by a percent chosen by eye, and not by the eleven keys.
        large_keys: what is pressed while grading is large enough for gloves.
        say_grades: each grade is said through the desktop's screen reader.
        weather_lane: the weather is shown under the timeline.
        unread: whether there are settings on the disk that could not be read this time, so that these must not take
            their place; never written.
    """

    boards_folder: str = ""
    recent: list[str] = field(default_factory=list)
    scheme: str = "system"
    grader: str = ""
    paper: str = ""
    hide_suggestion: bool = True
    by_percent: bool = False
    large_keys: bool = False
    say_grades: bool = False
    weather_lane: bool = True
    unread: bool = field(default=False, repr=False, compare=False)

    def boards_path(self) -> Path:
        """Return the boards folder; it may not exist yet."""
        return Path(self.boards_folder) if self.boards_folder else paths.default_boards_folder()

    def remember(self, folder: Path) -> None:
        """Put a board at the head of the recent ones."""
        name = os.path.abspath(folder)
        self.recent = [name, *(each for each in self.recent if each != name)][:MOST_RECENT]

    def follow_move(self, old: Path, new: Path) -> None:
        """Keep a board among the recent ones where it was, now that its folder is another."""
        before, after = {os.path.abspath(old), os.path.realpath(old)}, os.path.abspath(new)
        self.recent = [after if each in before else each for each in self.recent if each != after]


def load_settings() -> Settings:
    """Return the settings on disk, or fresh ones where there are none or they cannot be read.

    What can never be read is put aside. What cannot be read for a moment stays, and `save_settings` leaves it alone.
    """
    path = paths.settings_file()
    try:
        data = read_bounded(path, _MOST_BYTES)
    except InputError as error:
        cause = error.__cause__
        if isinstance(cause, OSError):
            return Settings(unread=not isinstance(cause, FileNotFoundError))
        _put_aside(path)  # too large
        return Settings()
    try:
        content = json.loads(data)
    except (ValueError, RecursionError):
        content = None
    if not isinstance(content, dict):
        _put_aside(path)
        return Settings()
    return _from_json(content)


def _put_aside(path: Path) -> None:
    _LOG.info("settings file cannot be read; starting with fresh settings")
    with contextlib.suppress(OSError):
        os.replace(path, path.with_name(f"{path.name}.damaged"))


def _from_json(content: dict[str, object]) -> Settings:
    settings = Settings(boards_folder=_path_text(content.get("boards_folder")))
    recent = content.get("recent")
    if isinstance(recent, list):
        settings.recent = [text for each in recent if (text := _path_text(each))][:MOST_RECENT]
    scheme, grader, paper = content.get("scheme"), content.get("grader"), content.get("paper")
    if isinstance(scheme, str) and scheme in SCHEMES:
        settings.scheme = scheme
    if isinstance(grader, str):
        settings.grader = one_line(grader, _GRADER_LIMIT)
    if isinstance(paper, str):
        settings.paper = one_line(paper, _PAPER_LIMIT)
    settings.hide_suggestion = content.get("hide_suggestion") is not False
    settings.by_percent = content.get("by_percent") is True
    settings.large_keys = content.get("large_keys") is True
    settings.say_grades = content.get("say_grades") is True
    settings.weather_lane = content.get("weather_lane") is not False
    return settings


def _path_text(value: object) -> str:
    """Return a value that can be the name of a folder, or an empty text."""
    if not isinstance(value, str) or len(value) > _LONGEST_PATH or "\0" in value:
        return ""
    try:
        os.fsencode(value)
    except UnicodeEncodeError:
        return ""
    return value


def save_settings(settings: Settings) -> None:
    """Write the settings, unless those on the disk could not be read when these were made.

    Raises:
        InputError: the disk refused.
    """
    if settings.unread:
        _LOG.info("settings are not saved: those on the disk could not be read, and are kept")
        return
    content = {name: value for name, value in asdict(settings).items() if name != "unread"}
    # Escaped, because the name of a folder may hold bytes that are no text.
    write_whole(paths.settings_file(), json.dumps(content, indent=1).encode("ascii"))
