"""The text in a label's code, and its squares.

The text is ``RB1|board|coupon``: three parts between vertical bars, UTF-8. ``RB1`` names this form; the board's name
is at most 24 characters and the coupon's id at most 40; a vertical bar in either is written ``/``.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from rustboard.support.text import one_line

FORM: Final = "RB1"
MOST_OF_BOARD: Final = 24
MOST_OF_COUPON: Final = 40
QUIET_CELLS: Final = 4
"""White squares that must stay round a code (ISO/IEC 18004, from memory)."""


def label_text(board: str, coupon: str) -> str:
    """Return what the code of a coupon's label says."""
    return "|".join((FORM, _part(board, MOST_OF_BOARD), _part(coupon, MOST_OF_COUPON)))


def _part(text: str, most: int) -> str:
    return one_line(text.replace("|", "/"), most)


@lru_cache(maxsize=2_048)
def code_rows(text: str) -> tuple[str, ...]:
    """Return the squares of the QR code of a text, ``1`` black, with the white rim it needs.

    It takes some milliseconds, so it is done when a label is drawn, and remembered.
    """
    import segno

    code = segno.make_qr(text, error="m", encoding="utf-8", boost_error=False)
    return tuple("".join("1" if dark else "0" for dark in row) for row in code.matrix_iter(border=QUIET_CELLS))
