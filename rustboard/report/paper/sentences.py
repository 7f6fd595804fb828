"""The words on paper, in plain English."""

from __future__ import annotations

from typing import Final

BOARD_MAP: Final = "Board map"
LABELS: Final = "Coupon labels"
MARKERS: Final = "Corner markers"
GRADING_SHEET: Final = "Grading sheet"

CORNERS: Final = ("top left", "top right", "bottom right", "bottom left")
"""Of the markers 0 to 3: clockwise, facing the board."""


def decimal(value: float, mark: str = ".") -> str:
    """Return millimetres to a tenth, without a needless zero."""
    text = f"{value:.1f}".removesuffix(".0")
    return ("0" if text == "-0" else text).replace(".", mark)


def page_of(number: int, total: int, made_on: str) -> str:
    """Return the right end of a footer."""
    page = f"page {number} of {total}"
    return f"{made_on} · {page}" if made_on else page


def must_measure(length_mm: float) -> str:
    """Return what to do with a scale bar."""
    return (
        f"Measure this bar after printing: it must be exactly {length_mm:g} mm; "
        "otherwise print at 100 %, not “fit to page”."
    )


def sheet_of(number: int, total: int, row: int, column: int) -> str:
    """Return which part of the board a sheet shows."""
    return f"{number} of {total}, row {row} column {column}"


def joining(total: int) -> str:
    """Return how the sheets of the map become one."""
    if total == 1:
        return "The next sheet shows the whole board at true scale."
    return (
        f"The next {total} sheets show the board at true scale; the grey frames and numbers show which part each of "
        "them is. Cut along the dashed frame, lay each sheet over the one before so that the crosses with the same "
        "number meet, and tape."
    )


def scale(denominator: float, mark: str) -> str:
    """Return the scale of the overview."""
    return f"Scale 1 : {decimal(denominator, mark)}"


def on_board(length_mm: float) -> str:
    """Return what a bar of the overview stands for."""
    return f"{length_mm:g} mm on the board"


def holes(hole_mm: float, mark: str) -> str:
    """Return what the drill marks mean."""
    return (
        f"Drill at the crosses in the circles, {decimal(hole_mm, mark)} mm wide. x and y are in mm from the board's "
        "top left corner, seen from the front."
    )


def without_outline(ids: list[str]) -> str:
    """Return which coupons the drill map lacks."""
    return f"Without an outline, and so not on the drill map: {_some(ids)}."


def beyond_edge(labels: list[str]) -> str:
    """Return which holes cannot be drilled."""
    return f"The hole would lie beyond the board's edge at {_some(labels)}: move the coupon, or its hole."


def too_many_sheets(count: int, paper: str, most: int) -> str:
    """Return why the board is not printed at true scale."""
    return (
        f"At true scale this board would take {count:,} sheets of {paper}, and {most} are the most that are printed; "
        "check the board's size or choose larger paper."
    )


NO_OUTLINES: Final = (
    "Not to scale. For a map with drill marks at true scale, give the width and height of the board and of the "
    "coupons, and set the coupons out (on the plan screen, under Paper)."
)
NO_BOARD_SIZE: Final = "The board's width and height are not known; the map ends with the outermost coupon."
BOARD_EDGE: Final = "Board edge. This corner is x 0, y 0."
DRIP_EDGE: Final = "drip edge"
DRIP_EDGES: Final = "Drip edge, a strip that leads drips aside"
NO_COUPONS: Final = "No coupon hangs on this board yet."


def _some(names: list[str], most: int = 12) -> str:
    shown = ", ".join(name[:20] for name in names[:most])
    return f"{shown} and {len(names) - most} more" if len(names) > most else shown


def hole_at(x: float, y: float, mark: str) -> str:
    """Return the place of a hole."""
    return f"x {decimal(x, mark)}  y {decimal(y, mark)}"


def marker_here(number: int) -> str:
    """Return what goes where a marker is drawn on the map."""
    return f"marker {number}"


def marker_name(number: int) -> str:
    """Return the caption of a printed marker."""
    return f"Marker {number}: {CORNERS[number]} corner"


BAR_HERE_TOO: Final = "and this one too, along the other side of the paper"
MARKER_ADVICE: Final = (
    "Cut along the dashed lines; leave the white rim on. Fix each marker flat in its corner, its small arrow to the "
    "board's top edge as you face it. Matt paper or film shines less in photos."
)


def label_does_not_fit(width_mm: float, height_mm: float, paper: str) -> str:
    """Return why no label is printed."""
    return (
        f"A label of {width_mm:g} x {height_mm:g} mm does not fit on {paper}; make it smaller or choose larger paper."
    )


def marker_does_not_fit(size_mm: float, paper: str) -> str:
    """Return why no marker is printed."""
    return f"A marker of {size_mm:g} mm does not fit on {paper}; make it smaller or choose larger paper."


NO_ROOM_TO_GRADE: Final = "This paper is too small for a grading sheet; choose a larger one."

GRADE_LIMITS: Final = "Rust grade by % of the surface rusted (limits of ASTM D610)"
LETTERS: Final = "Letter: S spot, G general, P pinpoint, H hybrid; none with 10 and 0. Stains and dirt are not rust."
DATE_AND_HOUR: Final = "Date, hour"
GRADED_BY: Final = "Graded by"
LIGHT: Final = "Light"
SURFACE: Final = "Surface"
DRY: Final = "dry"
WET: Final = "wet"
POSITION: Final = "Position"
COUPON: Final = "Coupon"
GRADE: Final = "Grade"
LETTER: Final = "Letter"
PERCENT: Final = "%"
NOTE: Final = "Note"
BOARD: Final = "Board"
PERCENT_RUSTED: Final = "% rusted"


def up_to(percent: float, mark: str) -> str:
    """Return the upper limit of a grade."""
    return f"to {percent:g}".replace(".", mark)


def over(percent: float) -> str:
    """Return the limit of grade 0."""
    return f"over {percent:g}"
