"""The things a board is made of, as frozen values.

Lengths are in millimetres, y downward from the board's top left corner. Times are wall-clock times at the board,
without a zone. ``key`` is the number the store gives a row (0 = not stored yet); ``id`` is what the maker wrote.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal, NamedTuple

from rustboard.board.inspection_days import InspectionDays
from rustboard.board.layout import Layout
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.recipe import Recipe

Role = Literal["test", "control"]
ROLES: tuple[Role, ...] = ("test", "control")

Axis = Literal["row", "column"]

Outline = tuple[tuple[float, float], ...]
"""Corner points (x mm, y mm) of a closed polygon on the board."""

MOST_COUPONS = 1_000
MOST_TREATMENTS = 500
MOST_OUTLINE_POINTS = 400


@dataclass(frozen=True, slots=True)
class Board:
    """The physical board and the circumstances of its exposure.

    Attributes:
        rows, columns: size of the grid of positions.
        width_mm, height_mm: size of the board; 0 = not given.
        edge_margin_mm: strip along every outline that does not count.
        started: when exposure began, or None.
        shelter: such as ``open`` or ``under a roof``.
        incline_deg: angle from the horizontal, or None.
        facing_deg: compass bearing the board faces (180 = south), or None.
        customer, shop: for whom and by whom; shown on the report.
    """

    name: str
    rows: int = 3
    columns: int = 7
    width_mm: float = 0.0
    height_mm: float = 0.0
    edge_margin_mm: float = 0.0
    started: datetime | None = None
    site: str = ""
    shelter: str = ""
    incline_deg: float | None = None
    facing_deg: float | None = None
    customer: str = ""
    shop: str = ""
    note: str = ""

    def has(self, position: Position) -> bool:
        """Return whether the grid has this position."""
        return 0 <= position.row < self.rows and 0 <= position.column < self.columns


@dataclass(frozen=True, slots=True)
class Treatment:
    """A whole recipe: preparation, finish, protectant, and what it costs.

    Attributes:
        id: short code such as ``T1``, unique on the board.
        cost_per_m2: in the user's own currency, or None.
        minutes_per_m2: work, or None.
    """

    id: str
    name: str = ""
    family: str = ""
    preparation: str = ""
    finish: str = ""
    protectant: str = ""
    coats: int | None = None
    batch: str = ""
    cost_per_m2: float | None = None
    minutes_per_m2: float | None = None
    note: str = ""
    key: int = 0

    @property
    def title(self) -> str:
        """The name people read: the name, or the id where there is none."""
        return self.name or self.id


@dataclass(frozen=True, slots=True)
class Coupon:
    """One test piece.

    Attributes:
        id: what the maker wrote on it, unique on the board.
        position: where it hangs, or None when it is off the board.
        treatment: key of its treatment, or None.
        outline_mm: polygon on the board; empty = not given.
    """

    id: str
    position: Position | None = None
    treatment: int | None = None
    role: Role = "test"
    substrate: str = ""
    outline_mm: Outline = ()
    note: str = ""
    key: int = 0


@dataclass(frozen=True, slots=True)
class Inspection:
    """One visit to the board.

    Attributes:
        surface: ``dry``, ``wet`` or empty when not noted.
        light: free words such as ``overcast``.
    """

    at: datetime
    grader: str = ""
    light: str = ""
    surface: str = ""
    note: str = ""
    key: int = 0


class Grading(NamedTuple):
    """One grade given to one coupon at one inspection. A tuple, because boards hold a hundred thousand.

    Attributes:
        coupon, inspection: keys.
        percent: % of the significant surface rusted when it was stated, else None: the grade then stands for
            its whole interval.
        recorded: when it was written down, ISO date and time.
        state: ``current``, ``superseded`` (corrected by a later one) or ``withdrawn``.
        replaces: key of the grading that this one corrects, or None.
    """

    key: int
    coupon: int
    inspection: int
    grade: int
    distribution: str
    percent: float | None
    grader: str
    source: str
    note: str
    recorded: str
    state: str = "current"
    replaces: int | None = None


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture of the board.

    Attributes:
        name: the name the file had when it was added.
        file: name inside the board's ``photos`` folder.
        sha256: of the bytes, hexadecimal.
        width_px, height_px: of the upright picture (EXIF orientation applied).
        mm_to_px: homography from board millimetres to pixels of the upright picture, 9 numbers row by row, or
            None when the board was not found in it.
        inspection: key, or None.
        taken: wall-clock time at the board, a wrong camera clock put right.
        camera_time: as the camera wrote it, or None. offset_minutes: its zone's offset from UTC where it wrote one.
        lens: how the lens bends (see `rustboard.photo.placement`), 0 = not at all.
        placed_by: how the board was found: ``given``, ``markers``, ``view``, ``corners``, or empty.
        placing_error_px: how far, root mean square, the markers or points are from where they should be; or None.
        unplaced_because: why the board was not found when it was looked for.
        warnings: what measuring noticed of the photo as a whole, in plain words.
    """

    name: str
    file: str
    sha256: str
    width_px: int
    height_px: int
    taken: datetime | None = None
    inspection: int | None = None
    mm_to_px: tuple[float, ...] | None = None
    camera_time: datetime | None = None
    offset_minutes: int | None = None
    lens: float = 0.0
    placed_by: str = ""
    placing_error_px: float | None = None
    unplaced_because: str = ""
    warnings: tuple[str, ...] = ()
    key: int = 0


@dataclass(frozen=True, slots=True)
class AxisLabel:
    """A name for a row or a column of positions. Neighbours with the same label make one zone.

    Attributes:
        number: 0 is the top row or the leftmost column.
    """

    axis: Axis
    number: int
    label: str
    key: int = 0


@dataclass(frozen=True, slots=True)
class Marker:
    """A printed square of a known pattern at a corner of the board, for finding the board in a photo."""

    id: int
    centre_mm: tuple[float, float]
    size_mm: float


@dataclass(frozen=True, slots=True)
class PlannedCoupon:
    """A coupon as a plan names it: like `Coupon`, with the treatment by its id.

    Attributes:
        drawn: where the lots put it, or None when no lots were drawn for it.
    """

    id: str
    position: Position
    treatment: str = ""
    role: Role = "test"
    substrate: str = ""
    outline_mm: Outline = ()
    note: str = ""
    drawn: Position | None = None


@dataclass(frozen=True, slots=True)
class Plan:
    """The board before exposure: what goes where, and what for.

    Attributes:
        recipes: the id of a treatment and its recipe, for those that have one.
        questions: the question as it was first written and every later change, oldest first; the last one counts.
        layout: how the lots were drawn, or None.
        calendar: planned inspections, or None.
    """

    board: Board
    treatments: tuple[Treatment, ...] = ()
    coupons: tuple[PlannedCoupon, ...] = ()
    markers: tuple[Marker, ...] = field(default=())
    recipes: tuple[tuple[str, Recipe], ...] = ()
    questions: tuple[Question, ...] = ()
    layout: Layout | None = None
    calendar: InspectionDays | None = None
