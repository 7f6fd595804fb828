"""What every cover says of how the grades came about, and by whom."""

from __future__ import annotations

from rustboard.board.record import BoardRecord, forerunner_of


def method_in_short(record: BoardRecord) -> str:
    """Return how the grades came about, in one sentence."""
    sources = {each.source for graded in record.current.values() for each in graded.values()}
    ways = {
        "eye": "by eye", "blind": "by eye without knowing which coupon it was", "photo": "from photos",
        "photo confirmed": "from photos, confirmed by eye", "agreed": "agreed between the graders",
    }  # fmt: skip
    said = "; ".join(words for source, words in ways.items() if source in sources)
    start = "Rust grades 10 to 0 by percent rusted, limits of ASTM D610"
    return f"{start}; given {said}." if said else f"{start}."


def repeats_words(record: BoardRecord) -> str:
    """Return which earlier board it repeats and what was changed; empty where it repeats none."""
    forerunner = forerunner_of(record)
    return "" if forerunner is None else f"{forerunner.name}, changed: {forerunner.changed}"


def graders_of(record: BoardRecord) -> list[str]:
    """Return who gave grades that count, by name."""
    names = {each.grader for graded in record.current.values() for each in graded.values() if each.grader}
    names |= {
        each.grader for each in record.blind_rounds.values() if each.grader and record.blind_grades.get(each.key)
    }
    # A grade agreed on, or of a blind round, names all its graders with commas between.
    return sorted({part.strip() for name in names for part in name.split(",") if part.strip()})
