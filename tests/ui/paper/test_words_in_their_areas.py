"""Names of any kind stay inside the area they are given, on screen and on paper."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from report_boards import HOSTILE

from rustboard.report.paper.shapes import Area, Page, Words
from rustboard.ui.paper.renderer import page_picture
from rustboard.ui.paper.shape_painter import UNITS_PER_MM, fitted

PX_PER_MM = 10.0
NAMES = (
    *HOSTILE,
    "W" * 1_000,
    "שלום עולם " * 30,
    "\u202ereversed\u202c text",
    "مرحبا بالعالم",
    "Z͑ͫ̓ͪ̂ͫ̽͏̴̙̤̞͉͚̯̞̠͍A̴̵̜̰͔ͫ͗͢" * 5,
    "👩‍👩‍👧‍👦" * 40,
    "one\ntwo\nthree\nfour\nfive",
    "tab\there",
)
AREA = Area(20, 20, 18, 4)


def ink(words: Words) -> np.ndarray:
    """Where a page with nothing but these words is not white."""
    picture = page_picture(Page(60, 45, (words,), "words"), PX_PER_MM)
    pixels = np.frombuffer(picture.constBits(), np.uint8).reshape(picture.height(), picture.bytesPerLine() // 4, 4)
    return (pixels[:, : picture.width(), :3] < 250).any(axis=2)


@pytest.mark.parametrize("text", NAMES, ids=[str(number) for number in range(len(NAMES))])
@pytest.mark.parametrize("kind", [{}, {"wrapped": True}, {"turned": 270}, {"side": "right", "bold": True}])
def test_no_name_leaves_its_area(text, kind):
    dark = ink(Words(text, AREA, 4.0, **kind))
    left, top, right, bottom = (round(each * PX_PER_MM) for each in (*AREA.corners[0], *AREA.corners[1]))
    inside = dark[top:bottom, left:right].sum()
    assert dark.sum() == inside
    assert inside > 0 or not text.strip()


def test_words_that_fit_keep_their_size():
    font, text = fitted(Words("C01", AREA, 3.0), QRectF(0, 0, 18 * UNITS_PER_MM, 4 * UNITS_PER_MM))
    assert font.pixelSize() == round(3.0 * 0.8 * UNITS_PER_MM)
    assert text == "C01"


def test_words_that_do_not_fit_get_smaller_first_and_are_cut_only_then():
    rect = QRectF(0, 0, 18 * UNITS_PER_MM, 4 * UNITS_PER_MM)
    smaller, whole = fitted(Words("harbour wall", AREA, 4.0), rect)
    cut, part = fitted(Words("harbour wall" * 20, AREA, 4.0), rect)
    assert whole == "harbour wall"
    full = round(4.0 * 0.8 * UNITS_PER_MM)
    assert 0 < smaller.pixelSize() < full
    assert 0.5 * full < cut.pixelSize() < full
    assert part.endswith("…")
    assert len(part) > 4


def test_right_to_left_words_begin_where_the_others_begin():
    dark = np.flatnonzero(ink(Words("שלום", Area(20, 20, 30, 4), 3.0)).any(axis=0))
    assert dark[0] < 22 * PX_PER_MM


def test_wrapped_words_are_cut_at_the_end_of_their_area():
    rect = QRectF(0, 0, 18 * UNITS_PER_MM, 4 * UNITS_PER_MM)
    _, text = fitted(Words("several words in a row " * 30, AREA, 3.0, wrapped=True), rect)
    assert text.startswith("several words")
    assert text.endswith("…")
