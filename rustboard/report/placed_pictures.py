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
    name: str = "",
) -> tuple[float, float]:
    """Put a picture into the middle of a box whose top left corner is a cell's, as large as fits; return its size.

    It moves with that cell and keeps its shape whatever a program makes of the widths of columns.

    Args:
        sheet: where.
        picture: what.
        row: of the cell, counted from 1.
        column: of the cell, counted from 1.
        width: of the box in points.
        height: of the box in points.
        name: as a list of the sheet's pictures shows it; else the caption.
    """
    share = min(width / max(1, picture.width_px), height / max(1, picture.height_px))
    wide, high = picture.width_px * share, picture.height_px * share
    image = Image(io.BytesIO(picture.image))
    marker = AnchorMarker(
        col=column - 1, row=row - 1, colOff=_emu((width - wide) / 2), rowOff=_emu((height - high) / 2)
    )
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


def _emu(points: float) -> int:
    return max(0, round(points * _EMU_A_POINT))
