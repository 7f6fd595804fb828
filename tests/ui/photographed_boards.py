"""Boards with photos: plain colours, so that a test can see which photo and which coupon a picture is from."""

from __future__ import annotations

import io
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

from PIL import Image, ImageDraw
from PySide6.QtGui import QColor, QImage

from rustboard.board.model import Board, Coupon, Inspection, Photo
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.photos import add_photo
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.folder import photo_path
from rustboard.store.photos import keep_photo
from rustboard.store.tables import BoardRow

START = datetime(2026, 3, 2, 9)
PX_PER_MM = 2
COLUMNS = 3
CELL_MM = 100
COUPON_MM = (60, 80)
BACKGROUND = (40, 60, 40)


def outline(number: int) -> tuple[tuple[float, float], ...]:
    """Return a coupon's outline in mm, in the middle of its cell of the board."""
    row, column = divmod(number, COLUMNS)
    left, top = column * CELL_MM + 20.0, row * CELL_MM + 10.0
    width, height = COUPON_MM
    return ((left, top), (left + width, top), (left + width, top + height), (left, top + height))


def photo_bytes(red: int, coupons: int = 4) -> bytes:
    """Return a photo of the board: ``red`` says which photo, green which coupon (50 times its number)."""
    image = Image.new("RGB", (COLUMNS * CELL_MM * PX_PER_MM, 2 * CELL_MM * PX_PER_MM), BACKGROUND)
    draw = ImageDraw.Draw(image)
    for number in range(coupons):
        (left, top), _, (right, bottom), _ = outline(number)
        box = tuple(round(each * PX_PER_MM) for each in (left, top, right, bottom))
        draw.rectangle(box, fill=(red, 50 * (number + 1), 0))
    stream = io.BytesIO()
    image.save(stream, "PNG")
    return stream.getvalue()


def photographed(folder: Path, reds: tuple[int, ...] = (200, 120), *, outlines: bool = True) -> Path:
    """Make a board of four coupons with one inspection and photo a week for each of ``reds``."""
    size = {"width_mm": COLUMNS * CELL_MM, "height_mm": 2 * CELL_MM}
    create_board(folder, BoardRow(Board(folder.name, rows=2, columns=COLUMNS, started=START, **size)))
    with closing(Session(folder, clock=lambda: START)) as session:
        for number in range(4):
            shape = outline(number) if outlines else ()
            session.do(add_coupon, Coupon(f"C{number + 1:02}", Position(*divmod(number, COLUMNS)), outline_mm=shape))
        for number, red in enumerate(reds):
            at = START + timedelta(days=7 * number)
            session.do(add_inspection, Inspection(at, "Ann"))
            file, digest = keep_photo(folder, f"IMG_{number}.png", photo_bytes(red), at)
            place = (PX_PER_MM, 0, 0, 0, PX_PER_MM, 0, 0, 0, 1)
            whole = (COLUMNS * CELL_MM * PX_PER_MM, 2 * CELL_MM * PX_PER_MM)
            photo = Photo(f"IMG_{number}.png", file, digest, *whole, at, number + 1, tuple(map(float, place)))
            session.do(add_photo, photo)
    return folder


def photo_file(folder: Path, key: int) -> Path:
    """Return where a photo's bytes are."""
    with closing(Session(folder, read_only=True)) as session:
        path = photo_path(folder, session.record.photos[key].file)
        assert path is not None
        return path


def middle(image: QImage | None) -> tuple[int, int]:
    """Return red and green of the middle of a picture: the photo and the coupon."""
    assert image is not None
    colour = QColor(image.pixel(image.width() // 2, image.height() // 2))
    return colour.red(), colour.green()
