"""The spread of grades on the user's earlier boards."""

from __future__ import annotations

import logging
from pathlib import Path

from rustboard.findings.spread import Spread, board_spread, pooled_spread
from rustboard.session.jobs import Progress
from rustboard.session.looking import look_at_board
from rustboard.session.shelf import shelf_entries
from rustboard.support.paths import same_folder
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings

_LOG = logging.getLogger(__name__)


def earlier_spread(settings: Settings, but: Path, progress: Progress | None = None) -> Spread | None:
    """Return the spread between coupons treated alike, over all boards on the shelf; None where none shows it.

    Boards that cannot be read are left out. Nothing is locked or written.

    Args:
        settings: where the boards are.
        but: folder of the board this is asked for, which does not count: its spread is still to come.
        progress: told after every board, and asked whether to stop.

    Raises:
        Cancelled: ``progress`` was asked to stop.
    """
    entries = [
        each for each in shelf_entries(settings, progress) if each.inspections and not same_folder(each.folder, but)
    ]
    found = []
    for number, entry in enumerate(entries):
        if progress is not None:
            progress.step(number, len(entries))
        try:
            spread = board_spread(look_at_board(entry.folder))
        except InputError as error:
            _LOG.info("a board on the shelf cannot be read: %s", error)
            continue
        if spread is not None:
            found.append(spread)
    return pooled_spread(found)
