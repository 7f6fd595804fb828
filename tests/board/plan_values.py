"""Any valid plan, for tests that try many."""

from datetime import datetime, time

from hypothesis import strategies as st

from rustboard.board.inspection_days import LONGEST_DAYS, InspectionDays
from rustboard.board.layout import DRAIN_CARES, LARGEST_SEED, METHODS, Layout
from rustboard.board.model import Board, Marker, Plan, PlannedCoupon, Treatment
from rustboard.board.plan_rules import RANGES
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS, Position
from rustboard.board.question import COMPARED, MEASURES, Question
from rustboard.board.recipe import PERS, STEP_KINDS, UNITS, Recipe, RecipeStep
from rustboard.support.text import many_lines, one_line

lines = st.text(max_size=12).map(one_line)
notes = st.text(max_size=20).map(many_lines)
ids = st.text("abcXYZ019-_ é蜡=+", min_size=1, max_size=8).map(one_line).filter(bool)
sizes = st.floats(0, 100_000, allow_subnormal=False) | st.just(0.0)
times = st.datetimes(datetime(1900, 1, 1), datetime(2200, 12, 31))


def distinct(values, **limits):
    """Lists of texts that differ in more than their case."""
    return st.lists(values, unique_by=str.casefold, **limits)


def amounts(name):
    """Numbers within the range that the rules give by name."""
    low, high, _ = RANGES[name]
    return st.floats(low, high, allow_subnormal=False)


anywhere = st.builds(Position, st.integers(0, 59), st.integers(0, 59))
steps = st.builds(
    RecipeStep, kind=st.sampled_from(STEP_KINDS), product=lines, batch=lines,
    quantity=st.none() | amounts("quantity"), unit=st.sampled_from(UNITS), per=st.sampled_from(PERS),
    container_price=st.none() | amounts("container_price"),
    container_quantity=st.none() | amounts("container_quantity"), container_unit=st.sampled_from(UNITS),
    minutes=st.none() | amounts("minutes"), hands_on=st.booleans(),
    temperature_c=st.none() | amounts("temperature_c"), who=lines, note=notes,
)  # fmt: skip
recipes_of_a_plan = st.builds(
    Recipe, st.lists(steps, max_size=3).map(tuple), lines, st.integers(0, 1_000_000)
).filter(lambda recipe: recipe != Recipe())  # fmt: skip
layouts = st.builds(
    Layout, method=st.sampled_from(METHODS), drain=st.sampled_from(DRAIN_CARES), free_rows=st.integers(1, 10),
    fair_edges=st.booleans(), seed=st.none() | st.integers(0, LARGEST_SEED), drawn_at=st.none() | times,
    coupon_width_mm=amounts("coupon_width_mm"), coupon_height_mm=amounts("coupon_height_mm"),
    hole_below_top_mm=amounts("hole_below_top_mm"), drawn_rows=st.integers(0, MOST_ROWS),
    drawn_columns=st.integers(0, MOST_COLUMNS), drawn_in_columns=st.booleans(), key=st.just(0),
)  # fmt: skip
calendars = st.builds(
    InspectionDays, st.lists(st.integers(0, LONGEST_DAYS), unique=True, max_size=9).map(sorted).map(tuple),
    st.builds(time, st.integers(0, 23), st.integers(0, 59)), st.booleans(), st.just(0),
)  # fmt: skip


def questions_about(treatments):
    """Lists of questions whose pairs name these treatments."""
    pairs = st.lists(st.tuples(*[st.sampled_from(treatments)] * 2), max_size=4) if treatments else st.just([])
    return st.lists(st.builds(
        Question, compared=st.sampled_from(COMPARED), pairs=pairs.map(tuple), failing_grade=st.integers(0, 9),
        measure=st.sampled_from(MEASURES), worthwhile=amounts("worthwhile"),
        assumed_sd=st.none() | amounts("assumed_sd"), words=notes, written=st.none() | times, late=st.booleans(),
        key=st.just(0),
    ), max_size=3)  # fmt: skip


@st.composite
def plans(draw):
    """Plans of any kind that `check_plan` leaves as they are."""
    board = draw(st.builds(
        Board, name=lines.filter(bool), rows=st.integers(1, 60), columns=st.integers(1, 60),
        edge_margin_mm=st.floats(0, 9), started=st.none() | times, site=lines, shelter=lines,
        incline_deg=st.none() | st.floats(0, 180),
        facing_deg=st.none() | st.floats(0, 360), customer=lines, shop=lines, note=notes,
    ))  # fmt: skip
    treatments = [
        draw(st.builds(
            Treatment, id=st.just(name), name=lines, family=lines, preparation=lines, finish=lines, protectant=lines,
            coats=st.none() | st.integers(0, 100), batch=lines, cost_per_m2=st.none() | st.floats(0, 1e9),
            minutes_per_m2=st.none() | st.floats(0, 1e6), note=notes, key=st.just(0),
        ))
        for name in draw(distinct(ids, max_size=3))
    ]  # fmt: skip
    coupons = draw(distinct(ids, min_size=1, max_size=min(4, board.rows * board.columns)))
    places = st.builds(Position, st.integers(0, board.rows - 1), st.integers(0, board.columns - 1))
    positions = draw(st.lists(places, unique=True, min_size=len(coupons), max_size=len(coupons)))
    corners = st.floats(0, 900).map(lambda x: ((x, x), (x + 50, x), (x + 50, x + 20.5), (x, x + 20.5)))
    planned = [
        draw(st.builds(
            PlannedCoupon, id=st.just(name), position=st.just(position), substrate=lines, note=notes,
            treatment=st.sampled_from(["", *(each.id for each in treatments)]),
            role=st.sampled_from(["test", "control"]), outline_mm=st.just(()) | corners, drawn=st.none() | anywhere,
        ))
        for name, position in zip(coupons, positions, strict=True)
    ]  # fmt: skip
    markers = [Marker(number, draw(st.tuples(sizes, sizes)), draw(st.floats(1, 100)))
               for number in draw(st.lists(st.integers(0, 3), unique=True))]  # fmt: skip
    known = [each.id for each in treatments]
    recipes = [(name, draw(recipes_of_a_plan)) for name in known if draw(st.booleans())]
    return Plan(
        board, tuple(treatments), tuple(planned), tuple(markers), tuple(recipes), tuple(draw(questions_about(known))),
        draw(st.none() | layouts), draw(st.none() | calendars),
    )  # fmt: skip
