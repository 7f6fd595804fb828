"""Colours, sizes and the three schemes: light, dark, and high contrast for sunlight."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from rustboard.scales.grade_colours import GRADE_COLOURS, ink_on
from rustboard.scales.inks import SERIES

MM_PER_INCH: Final = 25.4
_LARGE_BUTTON_MM: Final = 12.0
_LEAST_SCREEN_MM: Final = 150.0  # height of a screen on which large buttons leave room for the keys

# Masks lie over photographs, which are the same in every scheme. Blue stands off orange and brown, and off grey,
# for all kinds of colour-blind eyes; sky blue, yellow and near white are three of the colours of Okabe and Ito
# ("Color universal design", 2008), told apart in lightness too, and each has a pattern of its own.
MASK_RUST: Final = "#00a8ff"
MASK_DIRT: Final = "#f0e442"
MASK_UNSEEN: Final = "#ffffff"
MASK_SHADE: Final = "#101820"
"""The dark line beside every bright one, so that it shows on light ground too."""


@dataclass(frozen=True, slots=True)
class Scheme:
    """The colours of one scheme, ``#rrggbb``.

    Attributes:
        window: ground of the window. base: ground of lists, fields and cards. text, muted: inks.
        line: borders. accent: what is chosen or pressed. on_accent: ink on it.
        tile: ground of a tile. disabled: ink of what cannot be done now.
        error, error_text: a message that stays until read.
        series: inks of the lines in the timeline, told apart by colour-blind eyes as well as eight can be.
        line_width: px of borders that carry meaning. font_scale: of the system's font size.
    """

    name: str
    window: str
    base: str
    text: str
    muted: str
    line: str
    accent: str
    on_accent: str
    tile: str
    disabled: str
    error: str
    error_text: str
    series: tuple[str, ...]
    line_width: float = 1.0
    font_scale: float = 1.0


LIGHT: Final = Scheme(
    name="light",
    window="#f3f1ec",
    base="#ffffff",
    text="#1b1e21",
    muted="#565c62",
    line="#c9c4ba",
    accent="#1f5c94",
    on_accent="#ffffff",
    tile="#e6e2d9",
    disabled="#7d8389",
    error="#fbe3dc",
    error_text="#6d1708",
    series=SERIES,
)
DARK: Final = Scheme(
    name="dark",
    window="#1b1e21",
    base="#25292d",
    text="#eeece8",
    muted="#aab0b6",
    line="#454b52",
    accent="#86b8e0",
    on_accent="#10161b",
    tile="#30353a",
    disabled="#82898f",
    error="#4b1f16",
    error_text="#ffd9cf",
    series=("#86b8e0", "#f0a06a", "#86c795", "#c8a2e8", "#e3c75a", "#62c9d6", "#f08ba6", "#c9c9c9"),
)
SUNLIGHT: Final = Scheme(
    name="sunlight",
    window="#ffffff",
    base="#ffffff",
    text="#000000",
    muted="#1c1c1c",
    line="#000000",
    accent="#003a75",
    on_accent="#ffffff",
    tile="#f2f2f2",
    disabled="#757575",
    error="#ffe1d6",
    error_text="#500c00",
    series=("#003a75", "#9a3300", "#1d5e2b", "#54207c", "#5e4700", "#005863", "#7d0f2e", "#000000"),
    line_width=2.0,
    font_scale=1.15,
)
SCHEMES: Final = {each.name: each for each in (LIGHT, DARK, SUNLIGHT)}


@dataclass(frozen=True, slots=True)
class WeatherInks:
    """The colours of weather in one scheme; wet, dry and not known differ in lightness too, and by hatching.

    Attributes:
        rain: of bars. wet, dry: grounds of the strip. warmth: line and band of the air's temperature.
    """

    rain: str
    wet: str
    dry: str
    warmth: str


_WEATHER_INKS: Final = {
    "light": WeatherInks(rain="#1f5c94", wet="#2f7fc0", dry="#f1e3b4", warmth="#a8461a"),
    "dark": WeatherInks(rain="#86b8e0", wet="#66b0ea", dry="#574c2b", warmth="#f0a06a"),
    "sunlight": WeatherInks(rain="#003a75", wet="#0058b0", dry="#ffe9a3", warmth="#9a3300"),
}


def weather_inks(scheme: Scheme) -> WeatherInks:
    """Return the colours of weather that go with a scheme."""
    return _WEATHER_INKS[scheme.name]


def scheme_named(name: str) -> Scheme:
    """Return a scheme by its name; ``system`` and unknown names follow the desktop's light or dark."""
    if name in SCHEMES:
        return SCHEMES[name]
    hints = QGuiApplication.styleHints()
    return DARK if hints is not None and hints.colorScheme() == Qt.ColorScheme.Dark else LIGHT


def apply_scheme(app: QApplication, scheme: Scheme) -> None:
    """Dress the whole program in a scheme."""
    if app.style().name() != "fusion":
        app.setStyle("Fusion")
    if not app.property("plainFontSize"):
        app.setProperty("plainFontSize", app.font().pointSizeF())
    font = app.font()
    font.setPointSizeF(float(app.property("plainFontSize")) * scheme.font_scale)
    font.setWeight(QFont.Weight.DemiBold if scheme is SUNLIGHT else QFont.Weight.Normal)
    app.setFont(font)
    app.setPalette(_palette(scheme))
    app.setStyleSheet(_style_sheet(scheme))


def _palette(scheme: Scheme) -> QPalette:
    palette = QPalette()
    role = QPalette.ColorRole
    for each, colour in (
        (role.Window, scheme.window),
        (role.WindowText, scheme.text),
        (role.Base, scheme.base),
        (role.AlternateBase, scheme.tile),
        (role.Text, scheme.text),
        (role.Button, scheme.window),
        (role.ButtonText, scheme.text),
        (role.ToolTipBase, scheme.base),
        (role.ToolTipText, scheme.text),
        (role.PlaceholderText, scheme.muted),
        (role.Highlight, scheme.accent),
        (role.HighlightedText, scheme.on_accent),
        (role.Link, scheme.accent),
        (role.Mid, scheme.line),
    ):
        palette.setColor(each, QColor(colour))
    for each in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, each, QColor(scheme.disabled))
    return palette


def _style_sheet(scheme: Scheme) -> str:
    values = {
        "base": scheme.base,
        "window": scheme.window,
        "text": scheme.text,
        "muted": scheme.muted,
        "line": scheme.line,
        "accent": scheme.accent,
        "on_accent": scheme.on_accent,
        "disabled": scheme.disabled,
        "error": scheme.error,
        "error_text": scheme.error_text,
        "width": f"{scheme.line_width:.0f}px",
    }
    sheet = _SHEET
    for name, value in values.items():
        sheet = sheet.replace(f"@{name}@", value)
    return sheet


_SHEET = """
QToolBar { border: none; spacing: 4px; padding: 4px 6px; }
QPushButton { border: @width@ solid @line@; border-radius: 6px; padding: 5px 12px; background: @base@; }
QToolBar QToolButton { border-color: transparent; background: transparent; padding: 5px 9px; }
QToolBar QToolButton#qt_toolbar_ext_button { padding: 0px; min-width: 16px; background: @base@; }
QToolBar QToolButton:hover, QPushButton:hover { border-color: @accent@; }
QToolBar QToolButton:pressed, QPushButton:pressed, QToolBar QToolButton:checked, QPushButton:checked {
    background: @accent@; color: @on_accent@; border-color: @accent@; }
QPushButton:focus { border: 2px solid @accent@; padding: 4px 11px; }
QToolBar QToolButton:focus { border: 2px solid @accent@; }
QToolBar QToolButton:disabled, QPushButton:disabled { color: @disabled@; background: transparent; }
QPushButton[primary="true"] { background: @accent@; color: @on_accent@; border-color: @accent@; font-weight: 600; }
QPushButton[primary="true"]:disabled { background: transparent; color: @disabled@; border-color: @line@; }
QPushButton[primary="true"]:focus { border: 2px solid @text@; }
QLineEdit, QPlainTextEdit {
    border: @width@ solid @line@; border-radius: 5px; padding: 3px 6px; background: @base@; color: @text@;
    selection-background-color: @accent@; selection-color: @on_accent@; }
QLineEdit:focus, QPlainTextEdit:focus {
    border: 2px solid @accent@; padding: 2px 5px; }
QLabel[muted="true"] { color: @muted@; }
QLabel[heading="true"] { font-weight: 600; }
QFrame[card="true"] { background: @base@; border: @width@ solid @line@; border-radius: 8px; }
QFrame[message="error"] { background: @error@; border: @width@ solid @error_text@; border-radius: 6px; }
QFrame[message="error"] QLabel { color: @error_text@; }
QFrame[message="note"] QPushButton { padding: 1px 10px; }
QFrame[message="note"] QPushButton:focus { padding: 0px 9px; }
QFrame[message="note"] { background: @base@; border: @width@ solid @accent@; border-radius: 6px; }
QTableView { gridline-color: @line@; background: @base@; alternate-background-color: @window@; }
QHeaderView::section { background: @window@; color: @text@; border: none; border-bottom: @width@ solid @line@;
    padding: 4px 6px; font-weight: 600; }
QComboBox { padding: 2px 4px; }
QCheckBox::indicator:unchecked { border: 1px solid @muted@; border-radius: 2px; background: @base@;
    width: 11px; height: 11px; }
QCheckBox::indicator:unchecked:disabled { border-color: @line@; }
QStatusBar QLabel { padding: 0 8px; }
QSplitter::handle { background: @window@; }
QToolTip { border: 1px solid @line@; }
"""


def grade_colour(grade: int) -> QColor:
    """Return the ground colour of a grade, the same in window, workbook and pictures."""
    return QColor(GRADE_COLOURS[grade])


def grade_ink(grade: int) -> QColor:
    """Return the ink of the digit on that ground."""
    return QColor(ink_on(GRADE_COLOURS[grade]))


def px_of_mm(widget: QWidget, mm: float) -> int:
    """Return how many px of this widget's screen are ``mm`` millimetres, by the desktop's own scale."""
    return round(mm / MM_PER_INCH * widget.logicalDpiX())


def least_button_height(widget: QWidget, *, large: bool) -> int:
    """Return how high the buttons beside the keys for grades are at least, px: for gloves, where there is room."""
    roomy = widget.screen().size().height() >= px_of_mm(widget, _LEAST_SCREEN_MM)
    return px_of_mm(widget, _LARGE_BUTTON_MM) if large and roomy else 0
