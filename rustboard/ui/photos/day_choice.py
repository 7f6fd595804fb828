"""Which day is in view, and which one it is compared with."""

from __future__ import annotations

from rustboard.board.model import Photo
from rustboard.session.photo_days import photos_in_order
from rustboard.session.session import Session
from rustboard.ui.photos.compare_row import Partner


class DayChoice:
    """Two photos of a board.

    Attributes:
        this: key of the photo in view, or None. partner: how the other one is chosen.
    """

    def __init__(self, session: Session) -> None:
        """Start with the newest photo of the inspection in view, or the newest of all."""
        self._session = session
        self.partner: Partner = "before"
        self.this: int | None = None
        self._chosen: int | None = None
        self.follow_inspection()

    def follow_inspection(self) -> None:
        """Look at the newest photo of the inspection in view; where it has none, stay."""
        photos = photos_in_order(self._session.record)
        inspection = self._session.selection.inspection
        same = [each for each in photos if each.inspection == inspection]
        current = self.photo()
        if same and (current is None or current.inspection != inspection):
            self.this = same[-1].key
        elif current is None:
            self.this = photos[-1].key if photos else None

    def lead_inspection(self) -> None:
        """Let the board show the inspection of the photo in view; where it has none, leave the board alone."""
        photo = self.photo()
        if photo is not None and photo.inspection is not None:
            self._session.selection.look_at(photo.inspection)

    def is_elsewhere(self) -> bool:
        """Return whether the board shows another inspection than that of the photo in view."""
        photo, inspection = self.photo(), self._session.selection.inspection
        return photo is not None and inspection is not None and photo.inspection != inspection

    def keep(self) -> None:
        """Look at another photo when the one in view is gone."""
        record = self._session.record
        if self._chosen not in record.photos:
            self._chosen = None
        if self.this not in record.photos:
            self.this = None
            self.follow_inspection()

    def choose_other(self, photo: int) -> None:
        """Compare with this photo."""
        self.partner, self._chosen = "chosen", photo

    def photo(self) -> Photo | None:
        """Return the photo in view, or None."""
        return self._session.record.photos.get(self.this or 0)

    def other(self) -> Photo | None:
        """Return the photo to compare with, or None where there is no other."""
        photos = photos_in_order(self._session.record)
        place = next((at for at, each in enumerate(photos) if each.key == self.this), None)
        if place is None or len(photos) < 2:
            return None
        if self.partner == "chosen" and self._chosen is not None:
            return self._session.record.photos.get(self._chosen)
        placed = [each for each in photos if each.mm_to_px is not None and each.key != self.this]
        before = [each for each in placed if each in photos[:place]]
        if not placed:
            return None
        if self.partner == "first" or not before:
            return placed[0]
        return before[-1]
