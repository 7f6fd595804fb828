"""Which photo commands are about: the one the photo screen shows, else the newest up to the inspection in view."""

from __future__ import annotations

from rustboard.board.model import Photo
from rustboard.session.photo_days import photos_in_order
from rustboard.ui.board_page import BoardPage


def photo_in_view(page: BoardPage, *, placed: bool = False) -> Photo | None:
    """Return the photo that commands are about; with ``placed`` only one in which the board was found."""
    record = page.session.record
    photos = [each for each in photos_in_order(record) if not placed or each.mm_to_px is not None]
    for each in photos:
        if each.key == page.session.selection.photo:
            return each
    inspection = page.session.selection.inspection
    at_visit = [each for each in photos if each.inspection == inspection]
    if at_visit:
        return at_visit[-1]
    return record.newest_photo(record.inspections.get(inspection or 0)) or (photos[-1] if photos else None)
