"""How the board as it hangs stands to the rules of its layout, in sentences."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from rustboard.board.drain import Hung, drain_breaks, drains, hung_coupons
from rustboard.board.edges import edge_shares
from rustboard.board.lot_changes import has_grid_of_lots, moved_since_drawn
from rustboard.board.lots import notes_on_lots
from rustboard.board.position import row_letters
from rustboard.board.record import BoardRecord
from rustboard.board.row_balance import uneven_rows
from rustboard.support.clock import wall_clock
from rustboard.support.text import printable, some_of
from rustboard.ui.wording import date_time

_MOST_NAMED = 6


def _say(text: str) -> str:
    return QCoreApplication.translate("layout", text)


def layout_lines(record: BoardRecord) -> tuple[list[str], list[str]]:
    """Return how things stand, and what to be warned of.

    First room, lots, and the rules that are kept; then what the lots could not keep, and the rules that are broken as
    the board hangs.
    """
    if not record.coupons:
        return [_say("No coupons yet: choose treatments and how many coupons each gets first.")], []
    hung = hung_coupons(record)
    rules = [_drips(record, hung), _rows(record, hung), _edges(record, hung)] if hung else []
    kept = [each for each, broken in rules if not broken]
    state = [each for each in (_room(record, hung), _lots(record), _moved(record), *kept) if each]
    cautions = [*notes_on_lots(record), *(each for each, broken in rules if broken and each)] if hung else []
    return state, cautions


def _room(record: BoardRecord, hung: list[Hung]) -> str:
    off = len(record.coupons) - len(hung)
    positions = record.board.rows * record.board.columns
    text = _say("{0} coupons on {1} positions.").format(len(hung), positions)
    if off:
        text += " " + _say("{0} are not on the board yet.").format(off)
    return text


def _lots(record: BoardRecord) -> str:
    layout = record.layout
    if record.lots and layout.seed is not None and layout.drawn_at is not None:
        if not has_grid_of_lots(record):
            text = _say("Lots drawn {0} with number {1}, for other rows and columns than the board has now.")
            return text.format(date_time(layout.drawn_at), layout.seed)
        return _say("Lots drawn {0} with number {1}; the same number on the same plan gives the same lots.").format(
            date_time(layout.drawn_at), layout.seed
        )
    if record.inspections or record.photos:
        return _say("No lots were drawn before the exposure began, and it is too late for them now.")
    if record.has_begun(wall_clock()):
        return _say(
            "No lots were drawn before the stated start of the exposure. If the board does not hang outside yet, put "
            "the start right first."
        )
    return "" if layout.method == "hand" else _say("No lots have been drawn yet.")


def _moved(record: BoardRecord) -> str:
    moved = moved_since_drawn(record)
    if not moved:
        return _say("Every coupon hangs where the lots put it.") if record.lots else ""
    named = []
    for key, drawn, now in moved:
        there = now.label if now is not None else _say("off the board")
        named.append(f"{printable(record.coupons[key].id)} {drawn.label} → {there}")
    return _say("Hung elsewhere than drawn: {0}.").format(_listed(named))


def _drips(record: BoardRecord, hung: list[Hung]) -> tuple[str, bool]:
    incline = record.board.incline_deg
    if not drains(incline):
        return _say("The board lies flat: nothing drips on a neighbour."), False
    breaks = drain_breaks(hung, record.layout, incline)
    if breaks:
        ids = {key: printable(each.id) for key, each in record.coupons.items()}
        pairs = [_say("{0} on {1}").format(ids[each.above], ids[each.below]) for each in breaks]
        text = _say("What runs down reaches a coupon of another treatment at {0} places: {1}.")
        return text.format(len(breaks), _listed(pairs)), True
    if record.layout.drain == "drip edges":
        return _say("No drips on another treatment, as long as a drip edge is fitted under every row."), False
    return _say("No coupon drips on one of another treatment."), False


def _rows(record: BoardRecord, hung: list[Hung]) -> tuple[str, bool]:
    if record.layout.method != "rows" or record.layout.drawn_in_columns:
        return "", False
    uneven = uneven_rows(hung)
    if not uneven:
        return _say("Every row has its even share of every treatment."), False
    named = [
        _say("row {0} has {1} of {2}").format(row_letters(each.row), each.there, _name(record, each.treatment))
        for each in uneven
    ]
    return _say("The rows do not share the treatments evenly: {0}.").format(_listed(named)), True


def _edges(record: BoardRecord, hung: list[Hung]) -> tuple[str, bool]:
    rows, columns = record.board.rows, record.board.columns
    if rows < 3 or columns < 3:
        return _say("Every position of this grid is at the edge of the board."), False
    shares = [each for each in edge_shares(hung, rows, columns) if each.excess]
    if not shares:
        return _say("Edge positions are spread fairly over the treatments."), False
    named = []
    for each in shares:
        fair = str(each.fair_low)
        if each.fair_high != each.fair_low:
            fair = _say("{0} or {1}").format(each.fair_low, each.fair_high)
        text = _say("{0} has {1} of its {2} coupons there, fair would be {3}")
        named.append(text.format(_name(record, each.treatment), each.at_edge, each.count, fair))
    return _say("Edge positions are not spread fairly: {0}.").format(_listed(named)), True


def _name(record: BoardRecord, treatment_key: int | None) -> str:
    treatment = record.treatments.get(treatment_key or 0)
    return _say("untreated") if treatment is None else printable(treatment.id)


def _listed(texts: list[str]) -> str:
    return some_of(texts, _MOST_NAMED)
