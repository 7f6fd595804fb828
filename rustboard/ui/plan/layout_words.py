"""How the board as it hangs stands to the rules of its layout, in sentences."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from rustboard.board.drain import Hung, drain_breaks, drains, hung_coupons
from rustboard.board.edges import edge_shares
from rustboard.board.lot_changes import has_grid_of_lots, moved_since_drawn
from rustboard.board.lots import notes_on_lots
from rustboard.board.record import BoardRecord
from rustboard.support.clock import wall_clock
from rustboard.support.text import printable
from rustboard.ui.wording import date_time

_MOST_NAMED = 6


def _say(text: str) -> str:
    return QCoreApplication.translate("layout", text)


def state_lines(record: BoardRecord) -> list[str]:
    """Return how things stand: lots, changes since, drips, edges."""
    if not record.coupons:
        return [_say("No coupons yet: choose treatments and how many coupons each gets first.")]
    hung = hung_coupons(record)
    lines = [_room(record, hung), _lots(record), _moved(record), _drips(record, hung), _edges(record, hung)]
    return [each for each in (*lines, *notes_on_lots(record)) if each]


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
    for key, drawn, now in moved[:_MOST_NAMED]:
        there = now.label if now is not None else _say("off the board")
        named.append(f"{printable(record.coupons[key].id)} {drawn.label} → {there}")
    more = "…" if len(moved) > _MOST_NAMED else ""
    return _say("Hung elsewhere than drawn: {0}{1}").format(", ".join(named), more)


def _drips(record: BoardRecord, hung: list[Hung]) -> str:
    incline = record.board.incline_deg
    if not drains(incline):
        return _say("The board lies flat: nothing drips on a neighbour.")
    breaks = drain_breaks(hung, record.layout, incline)
    if breaks:
        pairs = [
            _say("{0} on {1}").format(
                printable(record.coupons[each.above].id), printable(record.coupons[each.below].id)
            )
            for each in breaks[:_MOST_NAMED]
        ]
        more = "…" if len(breaks) > _MOST_NAMED else ""
        return _say("Drip rule BROKEN at {0} places: {1}{2}").format(len(breaks), ", ".join(pairs), more)
    if record.layout.drain == "drip edges":
        return _say("Drip rule kept, as long as a drip edge is fitted under every row.")
    return _say("Drip rule kept: no coupon drips on one of another treatment.")


def _edges(record: BoardRecord, hung: list[Hung]) -> str:
    rows, columns = record.board.rows, record.board.columns
    if rows < 3 or columns < 3:
        return _say("Every position of this grid is at the edge of the board.")
    shares = edge_shares(hung, rows, columns)
    unfair = [each for each in shares if not each.fair_low <= each.at_edge <= each.fair_high]
    if not unfair:
        return _say("Edge positions are spread fairly over the treatments.")
    named = []
    for each in unfair[:_MOST_NAMED]:
        treatment = record.treatments.get(each.treatment or 0)
        name = _say("no treatment") if treatment is None else treatment.id
        named.append(_say("{0} {1} of {2}").format(printable(name), each.at_edge, each.count))
    more = "…" if len(unfair) > _MOST_NAMED else ""
    return _say("Edge positions are not spread fairly: {0}{1}").format(", ".join(named), more)
