"""What is where on the canvas: tiles by place, labels, pictures, read from the session."""

from __future__ import annotations

from rustboard.board.damages_noted import damages_at
from rustboard.board.model import Axis
from rustboard.board.record import left_out_by_coupon
from rustboard.session.session import Session
from rustboard.ui.board.tile_painter import TilePicture
from rustboard.ui.board.tile_view import TileView, seen_inspections, tile_view
from rustboard.ui.grid.geometry import Place


class BoardContent:
    """The tiles of a session's board with one inspection in view.

    Attributes:
        tiles: views by place. labels: of rows and columns. pictures: by coupon key.
    """

    def __init__(self, session: Session) -> None:
        """Read everything."""
        self.session = session
        self.tiles: dict[Place, TileView] = {}
        self.labels: dict[tuple[Axis, int], str] = {}
        self.pictures: dict[int, TilePicture] = {}
        self.reload()

    def reload(self) -> None:
        """Read everything again."""
        record = self.session.record
        inspection = record.inspections.get(self.session.selection.inspection or 0)
        seen = seen_inspections(record, inspection)
        damages, left_out = damages_at(record, inspection.key if inspection else 0), left_out_by_coupon(record)
        self.labels = {(each.axis, each.number): each.label for each in record.axis_labels.values()}
        self.tiles = {}
        spot = 0
        for coupon in record.coupons_in_order():
            place = Place(coupon.position) if coupon.position is not None else Place(tray=spot)
            spot += coupon.position is None
            self.tiles[place] = tile_view(
                record, coupon, inspection, seen, damages.get(coupon.key, ()), left_out.get(coupon.key)
            )

    def refresh(self, coupons: frozenset[int]) -> list[Place]:
        """Read the tiles of these coupons again, when only grades or damage changed; return their places."""
        record = self.session.record
        inspection = record.inspections.get(self.session.selection.inspection or 0)
        seen = seen_inspections(record, inspection)
        damages, left_out = damages_at(record, inspection.key if inspection else 0), left_out_by_coupon(record)
        places = [place for place, tile in self.tiles.items() if tile.key in coupons]
        for place in places:
            coupon = record.coupons.get(self.tiles[place].key)
            if coupon is not None:
                self.tiles[place] = tile_view(
                    record, coupon, inspection, seen, damages.get(coupon.key, ()), left_out.get(coupon.key)
                )
        return places

    @property
    def tray(self) -> int:
        """How many coupons are off the board."""
        return sum(each.tray >= 0 for each in self.tiles)

    def has(self, place: Place) -> bool:
        """Return whether there is such a place."""
        if place.position is not None:
            return self.session.record.board.has(place.position)
        return place in self.tiles

    def place_of(self, coupon: int) -> Place | None:
        """Return where a coupon is shown, or None."""
        return next((place for place, tile in self.tiles.items() if tile.key == coupon), None)

    def coupon_of(self, place: Place | None) -> int | None:
        """Return the key of the coupon shown at a place, or None."""
        tile = self.tiles.get(place) if place is not None else None
        return None if tile is None else tile.key

    def toggle(self, coupon: int | None) -> None:
        """Choose a coupon, or no longer, beside those chosen already."""
        if coupon is not None:
            self.session.selection.choose(self.session.selection.coupons ^ {coupon}, coupon)
