"""Where this user's settings, cache, log and boards live.

When the environment variable ``RUSTBOARD_HOME`` is set, all of them are below that folder; tests and people who
carry the program on a stick use it.
"""

from __future__ import annotations

import getpass
import os
from pathlib import Path

import platformdirs

HOME_VARIABLE = "RUSTBOARD_HOME"


def _home() -> Path | None:
    value = os.environ.get(HOME_VARIABLE, "")
    return Path(value).absolute() if value else None


def settings_file() -> Path:
    """Return the path of the settings file; its folder may not exist yet."""
    home = _home()
    return (home or Path(platformdirs.user_config_dir("rustboard", appauthor=False))) / "settings.json"


def library_file() -> Path:
    """Return the path of the user's recipes, beside the settings; its folder may not exist yet."""
    return settings_file().with_name("recipes.json")


def loggers_file() -> Path:
    """Return the path of how the user's loggers write, beside the settings; its folder may not exist yet."""
    return settings_file().with_name("loggers.json")


def matchings_file() -> Path:
    """Return the path of which treatments of several boards are the same; its folder may not exist yet."""
    return settings_file().with_name("matchings.json")


def reports_file() -> Path:
    """Return the path of what was chosen for reports; its folder may not exist yet."""
    return settings_file().with_name("reports.json")


def practice_file() -> Path:
    """Return the path of the history of grading practice, beside the settings; its folder may not exist yet."""
    return settings_file().with_name("practice.jsonl")


def cache_folder() -> Path:
    """Return the folder of derived pictures, which can always be made again."""
    home = _home()
    return home / "cache" if home else Path(platformdirs.user_cache_dir("rustboard", appauthor=False))


def log_folder() -> Path:
    """Return the folder of the log and of crash files."""
    home = _home()
    return home / "log" if home else Path(platformdirs.user_log_dir("rustboard", appauthor=False))


def default_boards_folder() -> Path:
    """Return where new boards go unless the user chose another folder."""
    home = _home()
    return home / "boards" if home else Path(platformdirs.user_documents_dir()) / "Rustboard boards"


def login_name() -> str:
    """Return the name this user logs in with, or an empty text where the system knows none."""
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):  # no entry for this user; Windows without the variables
        return ""


def same_folder(one: Path, other: Path) -> bool:
    """Return whether two paths lead to one folder."""
    try:
        return one.resolve() == other.resolve()
    except (OSError, RuntimeError):
        return one == other
