"""What a plan says in words, the same on the cover and on the sheet of the plan."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Final

from rustboard.board.drain import DrainBreak, drain_breaks, drains, hung_coupons
from rustboard.board.layout import DrainCare, Layout, Method
from rustboard.board.lot_changes import has_grid_of_lots
from rustboard.board.model import Coupon
from rustboard.board.question import Compared, Measure, Question
from rustboard.board.question_time import written_after_start
from rustboard.board.record import BoardRecord
from rustboard.report.cells import short
from rustboard.report.choice import WRITINGS, Writing
from rustboard.support.text import counted

_COMPARED: Final[dict[Compared, str]] = {
    "control": "every treatment with the controls",
    "pairs": "every treatment with every other",
    "families": "every family with every other",
    "grid": "finishes with each other and protectants with each other, over all treatments",
    "chosen": "chosen pairs of treatments",
}
_MEASURES: Final[dict[Measure, str]] = {
    "last grade": "the last grade of each coupon",
    "mean grade": "the mean grade of each coupon over the exposure",
    "days to failing grade": "the days until each coupon fell to the failing grade",
}
_METHODS: Final[dict[Method, str]] = {
    "complete": "by lot over the whole board",
    "rows": "by lot within each row, every treatment as evenly as can be in every row",
    "hand": "by hand, without lots",
}
_CARES: Final[dict[DrainCare, str]] = {
    "columns": "only one treatment in a column",
    "spacing": "empty positions between coupons of different treatments in a column",
    "drip edges": "strips under every row lead drips away",
    "none": "nothing is done against drips",
}
_WORDS_SHOWN: Final = 300


def compared_words(question: Question) -> str:
    """Return what is compared with what."""
    if question.compared != "chosen":
        return _COMPARED[question.compared]
    pairs = "; ".join(f"{short(one, 40)} with {short(other, 40)}" for one, other in question.pairs)
    return f"{_COMPARED['chosen']}: {short(pairs, _WORDS_SHOWN) or 'none chosen'}"


def measure_words(question: Question) -> str:
    """Return what the treatments are judged by."""
    return _MEASURES[question.measure]


def worthwhile_words(question: Question) -> str:
    """Return the smallest difference that would matter."""
    return "1 grade" if question.worthwhile == 1 else f"{question.worthwhile:g} grades"


def spread_words(question: Question) -> str:
    """Return which spread between coupons treated alike was reckoned with."""
    if question.assumed_sd is None:
        return "as the user's earlier boards show it, or 1 grade where they show none"
    return f"a standard deviation of {question.assumed_sd:g} grades, as the user assumed"


def written_words(question: Question, record: BoardRecord, writing: Writing = WRITINGS[0]) -> str:
    """Return when a question was written down, and whether the exposure had begun by then."""
    late = written_after_start(question, record)
    when = _moment_words(question.written, writing)
    return f"{when}, {'AFTER the exposure had begun' if late else 'before the exposure began'}"


def _moment_words(moment: datetime | None, writing: Writing) -> str:
    return "at a time that is not noted" if moment is None else writing.moment(moment)


def question_lines(
    record: BoardRecord, *, where: str = "listed on the sheet Plan", writing: Writing = WRITINGS[0]
) -> Iterator[tuple[str, str]]:
    """Yield label and text of the question in short; nothing where none was written down.

    ``where`` says where its changes are; ``writing`` how dates are written.
    """
    question = record.question
    if question is None:
        return
    yield "Question", short(question.words, _WORDS_SHOWN) or f"Compared: {compared_words(question)}"
    yield (
        "Judged by",
        f"{measure_words(question)}; failed at {question.failing_grade} or below; "
        f"a difference of {worthwhile_words(question)} would matter",
    )
    changes = len(record.questions) - 1
    later = f"; {counted(changes, 'change')} since the first, {where}" if changes else ""
    yield "Question written down", f"{written_words(question, record, writing)}{later}"


def question_changes(before: Question, after: Question) -> str:
    """Return what a change of the question changed, each as new instead of old."""
    pairs = (
        ("in words", _quoted(before.words), _quoted(after.words)),
        ("compared", compared_words(before), compared_words(after)),
        ("main measure", measure_words(before), measure_words(after)),
        ("failing grade", str(before.failing_grade), str(after.failing_grade)),
        ("worthwhile difference", worthwhile_words(before), worthwhile_words(after)),
        ("spread", spread_words(before), spread_words(after)),
    )
    said = [f"{name}: {new} instead of {old}" for name, old, new in pairs if old != new]
    return "; ".join(said) or "nothing but its date"


def _quoted(words: str) -> str:
    return f"“{short(words, _WORDS_SHOWN)}”" if words else "no words"


def method_words(layout: Layout) -> str:
    """Return how coupons got their positions."""
    edges = " Edge positions are to be spread fairly over the treatments." if layout.fair_edges else ""
    return _METHODS[layout.method] if layout.method == "hand" else f"{_METHODS[layout.method]}.{edges}"


def care_words(layout: Layout) -> str:
    """Return what is done against drips."""
    if layout.drain == "spacing":
        return f"at least {layout.free_rows} {_CARES['spacing']}"
    return _CARES[layout.drain]


def lots_words(record: BoardRecord, writing: Writing = WRITINGS[0]) -> str:
    """Return when lots were drawn and with which number."""
    layout = record.layout
    if not record.lots or layout.seed is None:
        return "not drawn"
    when = _moment_words(layout.drawn_at, writing)
    if not has_grid_of_lots(record):
        return f"drawn {when} with the number {layout.seed}, for other rows and columns than the board has now"
    return f"drawn {when} with the number {layout.seed}; the same number on the same plan gives the same lots"


def breaks_of(record: BoardRecord) -> list[DrainBreak]:
    """Return where, as the board hangs now, coupons drip on coupons of another treatment."""
    return drain_breaks(hung_coupons(record), record.layout, record.board.incline_deg)


def drip_words(record: BoardRecord, breaks: list[DrainBreak]) -> str:
    """Return whether the drip rule is kept as the board hangs now."""
    incline = record.board.incline_deg
    if not drains(incline):
        return "the board lies flat, so nothing drips on a neighbour"
    unknown = " (the incline is not noted, so the board is taken to be inclined)" if incline is None else ""
    if breaks:
        return (
            f"BROKEN at {counted(len(breaks), 'place')}: coupons marked below drip on a coupon of another treatment"
            f"{unknown}"
        )
    if record.layout.drain == "drip edges":
        return f"kept, as long as a drip edge is fitted under every row{unknown}"
    return f"kept: no coupon drips on one of another treatment{unknown}"


def place_words(coupon: Coupon) -> str:
    """Return where a coupon hangs now."""
    return "off the board" if coupon.position is None else coupon.position.label
