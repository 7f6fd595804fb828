"""Names that the tests of the dialogs share."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from PySide6.QtCore import QLocale
from PySide6.QtWidgets import QDialog

D = TypeVar("D", bound=QDialog)
Show = Callable[[D], D]
SetCountry = Callable[[QLocale.Country], None]

PLATE = ((30.0, 40.0), (90.0, 40.0), (90.0, 160.0), (30.0, 160.0))
BRACKET = ((110.0, 40.0), (170.0, 40.0), (170.0, 160.0), (140.0, 170.0), (110.0, 160.0))
