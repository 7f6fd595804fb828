"""Pictures on a sheet: where they stand, how large, and what they show for whoever cannot see them."""

from __future__ import annotations

import io
from typing import Final

from openpyxl.drawing.fill import Blip
from openpyxl.drawing.geometry import PresetGeometry2D
from openpyxl.drawing.image import Image
from openpyxl.drawing.picture import PictureFrame
from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, OneCellAnchor
from openpyxl.drawing.xdr import XDRPositiveSize2D
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.cells import short
from rustboard.report.choice import ReportPicture

_EMU_A_POINT: Final = 12_700
_DESCRIPTION_LIMIT: Final = 2_000
_NAME_LIMIT: Final = 120


def put_picture(
    sheet: Worksheet,
    picture: ReportPicture,
    row: int,
    column: int,
    *,
    width: float,
    height: float,
    room: float = 0.0,
    middle: bool = True,
    name: str = "",
) -> tuple[float, float]:
    """Put a picture into a box whose top left corner is a cell's, as large as fits; return its size in points.

    It moves with that cell and keeps its shape whatever a program makes of the widths of columns.

    Args:
        sheet: where.
        picture: what.
        row: of the cell, counted from 1.
        column: of the cell, counted from 1.
        width: of the box in points.
        height: of the box in points.
        room: points left free on each side.
        middle: of the box, or else its top left corner.
        name: as a list of the sheet's pictures shows it; else the caption.
    """
    share = min(
        max(1.0, width - 2 * room) / max(1, picture.width_px), max(1.0, height - 2 * room) / max(1, picture.height_px)
    )
    wide, high = picture.width_px * share, picture.height_px * share
    image = Image(io.BytesIO(picture.image))
    across, down = ((width - wide) / 2, (height - high) / 2) if middle else (room, room)
    marker = AnchorMarker(col=column - 1, row=row - 1, colOff=_emu(across), rowOff=_emu(down))
    frame = PictureFrame()
    told = frame.nvPicPr.cNvPr
    told.id = len(sheet._images) + len(sheet._charts) + 1  # type: ignore[attr-defined]
    told.name = short(name or picture.caption, _NAME_LIMIT)
    told.descr = short(picture.description, _DESCRIPTION_LIMIT)
    frame.blipFill.blip = Blip(cstate="print")
    frame.spPr.prstGeom = PresetGeometry2D(prst="rect")
    frame.spPr.ln = None
    image.anchor = OneCellAnchor(_from=marker, ext=XDRPositiveSize2D(_emu(wide), _emu(high)), pic=frame)
    sheet.add_image(image)
    return wide, high


def logo_size(png: bytes) -> tuple[int, int]:
    """Return the pixels across and down of a PNG that the program made: they stand behind its signature."""
    return int.from_bytes(png[16:20], "big"), int.from_bytes(png[20:24], "big")


def _emu(points: float) -> int:
    return max(0, round(points * _EMU_A_POINT))
