"""What happened before an inspection as a page to read: sentences first, then figures and lists."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from PySide6.QtCore import QCoreApplication

from rustboard.board.record import BoardRecord
from rustboard.session.between import Stretch
from rustboard.support.text import printable
from rustboard.ui.between import words


def _say(text: str) -> str:
    return QCoreApplication.translate("between", text)


def page_of(record: BoardRecord, stretch: Stretch, *, working: bool) -> str:
    """Return the page as simple HTML; every text of the user's is escaped.

    Args:
        record: the board.
        stretch: what happened.
        working: whether the weather is still being worked out.
    """
    grades = [words.span_sentence(record, stretch), *words.grades_sentences(stretch)]
    weather = words.weather_sentences(stretch, working=working)
    parts = [f"<p>{_text(' '.join(each))}</p>" for each in (grades, weather) if each]
    if stretch.fell:
        headers = (_say("Coupon"), _say("Treatment"), _say("Before"), _say("Now"), _say("Fell by"))
        rows = [words.change_row(record, each) for each in stretch.fell]
        parts += [_heading(_say("Which coupons fell")), _table(headers, rows)]
    if stretch.exposure is not None:
        parts += [_heading(_say("Exposure")), _table((), words.figures(stretch.exposure))]
    lists = (
        (_say("Day log"), [words.disturbance_line(record, each) for each in stretch.disturbances]),
        (_say("Weather noted by hand"), [words.day_note_line(each) for each in stretch.day_notes]),
        (_say("Notes of the inspections"), words.note_lines(stretch)),
    )
    for name, lines in lists:
        if lines:
            parts += [_heading(name), "<ul>", *(f"<li>{_text(each)}</li>" for each in lines), "</ul>"]
    if not stretch.disturbances:
        parts.append(f"<p>{_text(_say('Nothing was noted in the day log.'))}</p>")
    return "".join(parts)


def _heading(text: str) -> str:
    return f"<h4>{_text(text)}</h4>"


def _table(headers: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    head = "".join(f"<th align='left'>{_text(each)}</th>" for each in headers)
    body = "".join("<tr>" + "".join(f"<td>{_text(each)}</td>" for each in row) + "</tr>" for row in rows)
    return f"<table cellspacing='0' cellpadding='4'>{f'<tr>{head}</tr>' if head else ''}{body}</table>"


def _text(text: str) -> str:
    return escape(printable(text))
