"""The layout of a board: its rules, its lots, its grid, and where things go on it in millimetres."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Final

from rustboard.board.layout import DRAIN_CARES, LARGEST_SEED, METHODS, MOST_FREE_ROWS, Layout, Lot
from rustboard.board.lots import draw_lots
from rustboard.board.model import Coupon, Outline, Role
from rustboard.board.next_id import next_id
from rustboard.board.plan_rules import RANGES
from rustboard.board.position import Position
from rustboard.board.setting_out import corner_markers, on_a_marker, setting_out, was_set_out
from rustboard.operations.boards import check_grid
from rustboard.operations.coupons import add_coupons, check_role, remove_coupon
from rustboard.operations.lookup import (
    changed_names,
    coupon_was_graded,
    exposure_has_begun,
    shown,
    the_board,
    the_board_row,
    the_layout,
    the_treatment,
)
from rustboard.operations.outlines import brought_to, outlines_if_they_fit, shifted
from rustboard.store.plan_tables import LAYOUTS, LOTS
from rustboard.store.tables import AXIS_LABELS, BOARD, COUPONS, INSPECTIONS, PHOTOS, BoardRow
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import counted, some_of

_RANGE_SENTENCES = {
    "coupon_width_mm": "The width of a coupon is from 0 (not given) to 10,000 mm.",
    "coupon_height_mm": "The height of a coupon is from 0 (not given) to 10,000 mm.",
    "hole_below_top_mm": "The hole is from 1,000 mm above a coupon's top edge (-1000) to 10,000 mm below it.",
}
MOST_REPLICATES: Final = 200
_MOST_NAMED = 5


def set_layout(tx: Transaction, layout: Layout) -> Summary:
    """Choose the rules of the layout and the size of coupons; when and from which seed lots were drawn stays.

    Lots belong to the rules they were drawn by. Other rules take the lots away, but a layout by hand keeps them as
    what was drawn once, until rules for lots are chosen again. Coupons stay where they hang.

    Raises:
        InputError: a rule or a number that cannot be, or other rules for lots after the exposure has begun.
    """
    before = the_layout(tx)
    _check_layout(layout)
    after = replace(
        layout,
        seed=before.seed,
        drawn_at=before.drawn_at,
        drawn_rows=before.drawn_rows,
        drawn_columns=before.drawn_columns,
        drawn_in_columns=before.drawn_in_columns,
        key=1,
    )
    lots = tx.find(LOTS)
    dropped = bool(lots or before.seed is not None) and _rules(before) != _rules(after) and after.method != "hand"
    if _rules(before) != _rules(after) and lots and exposure_has_begun(tx):
        raise InputError(
            "Lots were drawn by these rules and the exposure has begun since, so the rules stay as they are."
        )
    if dropped:
        after = after.undrawn()
        for lot in lots:
            tx.drop(LOTS, lot.key)
    if after == replace(before, key=1):
        return Summary("Change the layout: {0}", ("",))
    tx.put(LAYOUTS, after)
    names = changed_names(before, after, ("method", "drain", "free_rows", "fair_edges", *_RANGE_SENTENCES))
    if dropped:
        return Summary("Change the layout: {0}; lots are to be drawn again", (names,))
    return Summary("Change the layout: {0}", (names,))


def draw_board_lots(tx: Transaction, seed: int) -> Summary:
    """Hang every coupon of the board, those beside it too, where lots put it.

    Outlines are set out for the new positions when the sizes of board and coupons are known and fit. Else each goes
    along: to the corner of the outline that was at the position before, or by the pitch of the grid.

    Raises:
        InputError: the exposure has begun, no coupon, no room, no such seed, or a layout by hand.
    """
    _refuse_lots_too_late(tx)
    if not 0 <= seed <= LARGEST_SEED:
        raise InputError(f"The number of the lots is from 0 to {LARGEST_SEED}.")
    coupons = tx.find(COUPONS)
    if not coupons:
        raise InputError("The board has no coupons to draw lots for; add coupons first.")
    row, layout = the_board_row(tx), the_layout(tx)
    board = row.board
    pairs = [(each.key, each.treatment) for each in coupons]
    drawn = draw_lots(board.rows, board.columns, pairs, layout, seed, board.incline_deg)
    _hang(tx, coupons, drawn.positions, _outlines_there(row, layout, coupons, drawn.positions))
    _write_lots(tx, drawn.positions)
    tx.put(
        LAYOUTS,
        replace(
            layout,
            seed=seed,
            drawn_at=tx.now.replace(microsecond=0, tzinfo=None),
            drawn_rows=board.rows,
            drawn_columns=board.columns,
            drawn_in_columns=drawn.in_columns,
            key=1,
        ),
    )
    parts = (counted(len(coupons), "coupon"), str(seed))
    if drawn.drain_breaks:
        broken = str(len(drawn.drain_breaks))
        return Summary("Draw lots for {0} with number {1}; the drip rule is broken {2} times", (*parts, broken))
    return Summary("Draw lots for {0} with number {1}", parts)


def set_grid(tx: Transaction, rows: int, columns: int) -> Summary:
    """Give the board so many rows and columns; what is added or goes is at the bottom and the right.

    Labels of rows and columns that go are gone with them, and so are lots drawn for their positions. Coupons that
    would hang beyond are hung at the next free positions, or lie beside the board where there is none: before lots
    are drawn and the exposure begins, nobody has hung them there.

    Raises:
        InputError: no board is so large or small, or coupons drawn by lot or outdoors would hang beyond.
    """
    check_grid(rows, columns)
    row = the_board_row(tx)
    board = replace(row.board, rows=rows, columns=columns)
    coupons = tx.find(COUPONS)
    beyond = [each for each in coupons if each.position and not board.has(each.position)]
    if tx.count(LOTS) or exposure_has_begun(tx):
        _refuse_beyond(tx, beyond)
    for lot in tx.find(LOTS):
        if not board.has(lot.position):
            tx.drop(LOTS, lot.key)
    for label in tx.find(AXIS_LABELS):
        if label.number >= (rows if label.axis == "row" else columns):
            tx.drop(AXIS_LABELS, label.key)
    tx.put(BOARD, replace(row, board=board))
    _hang_within(tx, coupons, beyond)
    return Summary("Make the board {0} x {1} positions", (str(rows), str(columns)))


def set_replicates(tx: Transaction, treatment_key: int | None, count: int, role: Role = "test") -> Summary:
    """Make a treatment have so many coupons, whatever their roles.

    New ones get the next free ids, the role, the commonest substrate, and the next free positions in reading order;
    beyond the last one they lie beside the board. Of those there, the ones added last that were never graded go.

    Args:
        tx: the transaction.
        treatment_key: None = untreated coupons.
        count: how many there are to be.
        role: of new coupons.

    Raises:
        InputError: no such treatment, role or number, coupons with grades would have to go, or no room for more.
    """
    title = "untreated coupons" if treatment_key is None else shown(the_treatment(tx, treatment_key).title)
    check_role(role)
    if not 0 <= count <= MOST_REPLICATES:
        raise InputError(f"A treatment has 0 to {MOST_REPLICATES} coupons on one board.")
    coupons = tx.find(COUPONS)
    there = [each for each in coupons if each.treatment == treatment_key]
    if count < len(there):
        _remove_replicates(tx, there, len(there) - count, title)
    else:
        _add_replicates(tx, coupons, Coupon("", treatment=treatment_key, role=role), count - len(there))
    return Summary("Make it {0} of {1}", (counted(count, "coupon"), title))


def set_out_coupons(tx: Transaction) -> Summary:
    """Give every coupon that hangs the outline of its position, from the sizes of the board and of the coupons.

    Raises:
        InputError: a size is not given, coupons do not fit, none hangs, or there are photos, which show where they
            are.
    """
    if tx.count(PHOTOS):
        raise InputError("This board has photos, which show where its coupons are; their outlines stay as they are.")
    row, layout = the_board_row(tx), the_layout(tx)
    outlines = setting_out(row.board, layout, row.markers)
    hanging = [each for each in tx.find(COUPONS) if each.position is not None]
    if not hanging:
        raise InputError("No coupon hangs on the board; hang coupons first.")
    _give_outlines(tx, hanging, outlines)
    return Summary("Set out {0}", (counted(len(hanging), "coupon"),))


def place_markers(tx: Transaction, size_mm: float) -> Summary:
    """Put the four markers into the board's corners, in place of those it has.

    Where they would cover coupons that were set out, these are set out anew beside them in the same step. Outlines
    that were drawn, or that photos show, stay.

    Raises:
        InputError: the board's size is not given, or such markers do not fit, or coupons set out do not beside them.
    """
    row, layout = the_board_row(tx), the_layout(tx)
    markers = corner_markers(row.board, size_mm)
    tx.put(BOARD, replace(row, markers=markers))
    size = f"{size_mm:g}"
    outlined = [each for each in tx.find(COUPONS) if each.position and each.outline_mm]
    covered = [each for each in outlined if on_a_marker(each.outline_mm, markers)]
    if not covered:
        return Summary("Place four markers of {0} mm", (size,))
    if tx.count(PHOTOS) or not all(was_set_out(each.outline_mm, layout) for each in outlined):
        return Summary("Place four markers of {0} mm, over {1}", (size, counted(len(covered), "coupon")))
    _give_outlines(tx, outlined, setting_out(row.board, layout, markers))
    return Summary("Place four markers of {0} mm, and set out {1} anew", (size, counted(len(outlined), "coupon")))


def _give_outlines(tx: Transaction, coupons: Iterable[Coupon], outlines: Mapping[Position, Outline]) -> None:
    for each in coupons:
        if each.position is not None:
            tx.put(COUPONS, replace(each, outline_mm=outlines[each.position]))


def remove_markers(tx: Transaction) -> Summary:
    """Take all markers off the board."""
    tx.put(BOARD, replace(the_board_row(tx), markers=()))
    return Summary("Remove the markers")


def _check_layout(layout: Layout) -> None:
    if layout.method not in METHODS:
        raise InputError(f"Lots are drawn in one of these ways: {', '.join(METHODS)}.")
    if layout.drain not in DRAIN_CARES:
        raise InputError(f"The care against drips is one of these: {', '.join(DRAIN_CARES)}.")
    if not 1 <= layout.free_rows <= MOST_FREE_ROWS:
        raise InputError(f"Spacing leaves 1 to {MOST_FREE_ROWS} rows free.")
    for name, sentence in _RANGE_SENTENCES.items():
        low, high, _ = RANGES[name]
        if not low <= getattr(layout, name) <= high:  # not in range either: NaN
            raise InputError(sentence)


def _rules(layout: Layout) -> tuple[object, ...]:
    """Return what lots depend on."""
    return layout.method, layout.drain, layout.fair_edges, layout.drain == "spacing" and layout.free_rows


def _refuse_lots_too_late(tx: Transaction) -> None:
    if tx.count(INSPECTIONS) or tx.count(PHOTOS):
        raise InputError(
            "This board has an inspection or a photo already; lots come before the exposure and would change nothing "
            "about where coupons hung."
        )
    started = the_board(tx).started
    if started is not None and exposure_has_begun(tx):
        raise InputError(
            f"The exposure is said to have begun on {started:%Y-%m-%d at %H:%M}, and lots come before it. If the "
            "board does not hang outside yet, put the start of the exposure right first, or empty it."
        )


def _outlines_there(
    row: BoardRow, layout: Layout, coupons: Sequence[Coupon], positions: Mapping[int, Position]
) -> dict[int, Outline]:
    """Return the outline of every coupon at its new position."""
    set_out = outlines_if_they_fit(row, layout)
    if set_out:
        return {each.key: set_out[positions[each.key]] for each in coupons}
    before = {each.position: each.outline_mm for each in coupons if each.position is not None and each.outline_mm}
    there = {}
    for each in coupons:
        outline, position = each.outline_mm, positions[each.key]
        if outline and position in before:
            outline = brought_to(outline, before[position], row.board)
        elif outline and each.position is not None:
            outline = shifted(outline, each.position, position, row.board)
        there[each.key] = outline
    return there


def _hang(
    tx: Transaction, coupons: Sequence[Coupon], positions: Mapping[int, Position], outlines: Mapping[int, Outline]
) -> None:
    for each in coupons:  # two coupons are never at one position
        if each.position is not None and each.position != positions[each.key]:
            tx.put(COUPONS, replace(each, position=None))
    for each in coupons:
        tx.put(COUPONS, replace(each, position=positions[each.key], outline_mm=outlines[each.key]))


def _write_lots(tx: Transaction, positions: Mapping[int, Position]) -> None:
    known = {each.coupon: each.key for each in tx.find(LOTS)}
    for coupon, position in sorted(positions.items()):
        tx.put(LOTS, Lot(coupon, position, known.get(coupon, 0)))


def _refuse_beyond(tx: Transaction, beyond: Sequence[Coupon]) -> None:
    if not beyond:
        return
    in_order = sorted(beyond, key=lambda each: each.position or ())
    named = [f"{shown(each.id)} at {each.position.label}" for each in in_order if each.position]
    names = some_of(named, _MOST_NAMED)
    board = the_board(tx)
    raise InputError(
        f"{counted(len(beyond), 'coupon')} would hang beyond the grid ({names}); hang them elsewhere or take them "
        f"off first. The board still has {counted(board.rows, 'row')} and {counted(board.columns, 'column')}."
    )


def _hang_within(tx: Transaction, coupons: Sequence[Coupon], beyond: Sequence[Coupon]) -> None:
    for each in beyond:
        tx.put(COUPONS, replace(each, position=None, outline_mm=()))
    gone = {each.key for each in beyond}
    free = _free_positions(tx, [each for each in coupons if each.key not in gone])
    for each, position in zip(sorted(beyond, key=lambda each: each.position or ()), free, strict=False):
        tx.put(COUPONS, replace(each, position=position, outline_mm=()))


def _add_replicates(tx: Transaction, coupons: Sequence[Coupon], like: Coupon, number: int) -> None:
    ids = [each.id for each in coupons]
    substrates = Counter(each.substrate for each in coupons)
    substrate = substrates.most_common(1)[0][0] if substrates else ""
    free = _free_positions(tx, coupons)
    outlines: Mapping[Position, Outline] = {}
    # A new coupon is given its place on the board only where the others have theirs, and no photo shows otherwise.
    if any(each.position and each.outline_mm for each in coupons) and not tx.count(PHOTOS):
        outlines = outlines_if_they_fit(the_board_row(tx), the_layout(tx))
    new: list[Coupon] = []
    for position in [*free[:number], *[None] * (number - len(free))]:
        ids.append(next_id(ids, "C01"))
        outline = outlines.get(position, ()) if position is not None else ()
        new.append(Coupon(ids[-1], position, like.treatment, like.role, substrate, outline))
    add_coupons(tx, new)


def _free_positions(tx: Transaction, coupons: Sequence[Coupon]) -> list[Position]:
    board = the_board(tx)
    taken = {each.position for each in coupons}
    grid = (Position(row, column) for row in range(board.rows) for column in range(board.columns))
    return [each for each in grid if each not in taken]


def _remove_replicates(tx: Transaction, there: Sequence[Coupon], number: int, title: str) -> None:
    ungraded = [each for each in there if not coupon_was_graded(tx, each.key)]
    if len(ungraded) < number:
        graded = len(there) - len(ungraded)
        raise InputError(
            f"{title[0].upper()}{title[1:]}: {counted(graded, 'coupon')} with grades, which are never erased; keep "
            f"at least {graded}."
        )
    for each in sorted(ungraded, key=lambda each: -each.key)[:number]:
        remove_coupon(tx, each.key)
