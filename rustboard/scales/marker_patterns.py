"""The printed squares by which a board is found in a photo."""

from __future__ import annotations

from typing import Final

MARKER_PATTERNS: Final = (
    ("1011", "0101", "0011", "0010"),
    ("0000", "1111", "1001", "1010"),
    ("0011", "0011", "0010", "1101"),
    ("1001", "1001", "0100", "0110"),
)
"""Ids 0 to 3 of OpenCV's ArUco dictionary DICT_4X4_50, 1 white, without the black frame one cell wide."""
