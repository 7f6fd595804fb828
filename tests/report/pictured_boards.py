"""Boards with pictures for the tests of the report."""

from __future__ import annotations

import io
from datetime import timedelta

from PIL import Image
from report_boards import MADE, START

from rustboard.board.record import BoardRecord
from rustboard.report.choice import PictureMoment, ReportPicture, ReportPictures
from rustboard.report.content import ReportContent


def picture(colour: tuple[int, int, int], size: tuple[int, int], caption: str, description: str) -> ReportPicture:
    """A picture of one colour."""
    stream = io.BytesIO()
    Image.new("RGB", size, colour).save(stream, "JPEG")
    return ReportPicture(stream.getvalue(), *size, caption, description)


def pictures_of(record: BoardRecord, *, photos: int = 3, times: int = 3) -> ReportPictures:
    """Pictures of all coupons and of the board at so many times, and some photos."""
    inspections = record.inspections_in_order()
    names = ("start", "middle", "end")[:times] if times != 2 else ("start", "end")
    of_time = dict(zip(names, (inspections[0], inspections[len(inspections) // 2], inspections[-1]), strict=False))
    of_time |= {"end": inspections[-1]} if "end" in names else {}
    moments = tuple(
        PictureMoment(name, each.at + timedelta(minutes=4), record.day_of(each.at), each.key)  # type: ignore[arg-type]
        for name, each in of_time.items()
    )
    coupons = tuple(
        {
            key: picture((60 * number, 90, 60), (130, 260), f"{each.id}", f"Coupon {each.id} at time {number}")
            for key, each in record.coupons.items()
            if each.position is not None
        }
        for number in range(len(moments))
    )
    boards = tuple(picture((90, 90, 90), (1000, 570), f"The board {name}", f"The board, {name}") for name in of_time)
    taken = tuple(
        picture((120, 100, 90), (1000, 600), f"Photo {number}", f"What photo {number} shows")
        for number in range(photos)
    )
    return ReportPictures(boards, coupons, taken, moments)


def pictured(record: BoardRecord, **more: int) -> ReportContent:
    """What a report with pictures is written from."""
    return ReportContent(record, MADE, pictures=pictures_of(record, **more))


__all__ = ["START", "picture", "pictured", "pictures_of"]
