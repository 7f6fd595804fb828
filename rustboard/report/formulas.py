"""Formulas with their values: openpyxl writes the formula alone, and previews would show an empty cell."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final
from xml.sax.saxutils import escape

from openpyxl.cell import Cell
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.cells import wear
from rustboard.report.styles import Look

_FORMULA_CELL: Final = re.compile(rb'<c r="([A-Z]+[0-9]+)"([^>]*)>(<f>[^<]*</f>)<v(?: ?/>|></v>)</c>')


class Formulas:
    """The formulas of one sheet, put into its cells, and the value of each for `making.Written.cached`."""

    def __init__(self, sheet: Worksheet) -> None:
        """Start without any."""
        self._sheet = sheet
        self.values: dict[str, str | float] = {}

    def put(self, row: int, column: int, formula: str, value: str | float, look: Look) -> None:
        """Write a formula, without its ``=``, and note what it comes to.

        No text of a user may stand in a formula: only references, numbers and our own words.
        """
        cell = self._sheet.cell(row, column)
        assert isinstance(cell, Cell)
        wear(cell, look)
        cell.value = f"={formula}"
        self.values[cell.coordinate] = value


def with_cached_values(sheet: bytes, values: Mapping[str, str | float]) -> bytes:
    """Return a sheet's part in which every formula carries its value.

    Raises:
        ValueError: a formula has no value, or a value no formula.
    """
    left = dict(values)

    def filled(found: re.Match[bytes]) -> bytes:
        place, attributes, formula = found.groups()
        value = left.pop(place.decode(), None)
        if value is None:
            raise ValueError(f"the formula in {place.decode()} has no value")
        kind = b' t="str"' if isinstance(value, str) else b""
        shown = escape(value) if isinstance(value, str) else repr(value)
        return b'<c r="%s"%s%s>%s<v>%s</v></c>' % (place, attributes, kind, formula, shown.encode())

    done = _FORMULA_CELL.sub(filled, sheet)
    if left:
        raise ValueError(f"no formula for the values of {', '.join(sorted(left))}")
    return done
