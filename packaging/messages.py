"""What the start script says to the user, and how it says that it cannot go on."""

from __future__ import annotations


class CannotStartError(Exception):
    """Something outside of the program is missing; the text is the sentence for the user."""


def say(text: str) -> None:
    """Print one line of progress at once."""
    print(text, flush=True)


def dotted(version: tuple[int, ...]) -> str:
    """Return a version as people write it."""
    return ".".join(str(part) for part in version)
