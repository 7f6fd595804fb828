"""Zones: neighbouring rows or columns with one name."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby


def zones(labels: Sequence[str]) -> list[tuple[int, int, str]]:
    """Return (first, last, label) of each zone along one axis: neighbours with the same label.

    Args:
        labels: of every row or every column, in order; empty where there is none, which makes no zone.
    """
    found: list[tuple[int, int, str]] = []
    for label, run in groupby(enumerate(labels), key=lambda each: each[1]):
        numbers = [number for number, _ in run]
        if label:
            found.append((numbers[0], numbers[-1], label))
    return found
