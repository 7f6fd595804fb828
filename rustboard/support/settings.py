"""The user's few settings, in one small JSON file. A torn or foreign file is put aside, never a reason to stop."""

from __future__ import annotations

import json
import logging
from dataclasses import asdict, dataclass, field, fields
from pathlib import Path

from rustboard.support import paths
from rustboard.support.files import read_bounded, write_whole
from rustboard.support.problems import InputError

_LOG = logging.getLogger(__name__)
_MOST_BYTES = 1 << 20
MOST_RECENT = 24


@dataclass(slots=True)
class Settings:
    """What the user chose.

    Attributes:
        boards_folder: where the shelf looks and new boards go; empty = the default.
        recent: folders of boards opened lately, newest first.
        scheme: ``light``, ``dark``, ``sunlight`` or ``system``.
        grader: name written beside grades.
    """

    boards_folder: str = ""
    recent: list[str] = field(default_factory=list)
    scheme: str = "system"
    grader: str = ""

    def boards_path(self) -> Path:
        """Return the boards folder; it may not exist yet."""
        return Path(self.boards_folder) if self.boards_folder else paths.default_boards_folder()

    def remember(self, folder: Path) -> None:
        """Put a board at the head of the recent ones."""
        name = str(folder)
        self.recent = [name, *(each for each in self.recent if each != name)][:MOST_RECENT]


def load_settings() -> Settings:
    """Return the settings on disk, or fresh ones where there are none or they cannot be read."""
    path = paths.settings_file()
    if not path.exists():
        return Settings()
    try:
        content = json.loads(read_bounded(path, _MOST_BYTES))
    except (InputError, ValueError, RecursionError):
        _LOG.info("settings file cannot be read; starting with fresh settings")
        return Settings()
    return _from_json(content)


def _from_json(content: object) -> Settings:
    settings = Settings()
    if not isinstance(content, dict):
        return settings
    for each in fields(Settings):
        value = content.get(each.name)
        if each.name == "recent":
            if isinstance(value, list):
                settings.recent = [item for item in value if isinstance(item, str)][:MOST_RECENT]
        elif isinstance(value, str):
            setattr(settings, each.name, value)
    return settings


def save_settings(settings: Settings) -> None:
    """Write the settings.

    Raises:
        InputError: the disk refused.
    """
    text = json.dumps(asdict(settings), ensure_ascii=False, indent=1)
    write_whole(paths.settings_file(), text.encode("utf-8", "surrogatepass"))
