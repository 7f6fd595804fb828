"""The one-page summary for a shop's wall or a forum: verdict, ranking, board, where and when, cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final, NamedTuple

from rustboard.report.content import ReportContent
from rustboard.report.cover import NO_GRADES, SAME_PLACE
from rustboard.report.cover_words import graders_of
from rustboard.report.drawings.board_drawing import board_drawing
from rustboard.report.drawings.ranking_drawing import ranking_drawing
from rustboard.report.drawings.svg import Drawing
from rustboard.report.findings_content import RankedLine
from rustboard.report.pages.blocks import named
from rustboard.report.pages.cover_page import coupon_words, period_words, place_words
from rustboard.report.pages.findings_pages import best_and_worst
from rustboard.report.pages.report_pdf import NO_NAME, PAPER_NAMES, TEXT_WIDTHS
from rustboard.report.pages.setting import Form, described_png, described_svg, set_page_if_one
from rustboard.support.text import counted, some_of

TEMPLATE: Final = "report/one_page.typ"
PNG_PPI: Final = 170.0
_ZERO_WIDTH: Final = "\u200b"
_MOST_WORDS: Final = 40
"""Treatments named in the words, best and worst together."""


class _Room(NamedTuple):
    """How much of everything is shown; the next one is tried where a page is too small.

    Attributes:
        rows: of the ranking. row: height of one. board: greatest height of the board's drawing.
        sentences: of the verdict. letters: most of a sentence. cautions: how many.
    """

    rows: int
    row: float
    board: float
    sentences: int
    letters: int
    cautions: int


_ROOMS: Final = (
    _Room(14, 17.0, 220.0, 5, 400, 3),
    _Room(12, 16.0, 180.0, 4, 320, 2),
    _Room(8, 15.0, 130.0, 3, 240, 2),
    _Room(6, 14.0, 90.0, 2, 180, 1),
)


@dataclass(frozen=True, slots=True)
class OnePage:
    """A finished page.

    Attributes:
        data: the file. words: the same as text.
    """

    data: bytes
    words: str


def one_page(content: ReportContent, form: Form, *, system_fonts: bool = True) -> OnePage:
    """Set the summary; it is one page whatever the board.

    Args:
        content: what it is written from.
        form: PDF (tagged), PNG or SVG (both with the words as a description inside).
        system_fonts: whether to use the fonts of the system.
    """
    words = one_page_words(content)
    for room in _ROOMS:
        data, pictures = _filled(content, room)
        done = set_page_if_one(
            TEMPLATE, data, pictures, generated=content.generated, form=form, ppi=PNG_PPI, system_fonts=system_fonts
        )
        if done is not None:
            break
    else:
        raise AssertionError("the smallest summary must fit on a page")
    if form == "png":
        done = described_png(done, data["title"], words)
    elif form == "svg":
        done = described_svg(done, data["title"], words)
    return OnePage(done, words)


def _filled(content: ReportContent, room: _Room) -> tuple[dict[str, Any], dict[str, bytes]]:
    record, writing, findings = content.record, content.choice.writing, content.findings
    width = TEXT_WIDTHS[content.choice.paper]
    pictures: dict[str, bytes] = {"board.svg": b""}
    board = _board(content, width, room.board)
    pictures["board.svg"] = board.svg
    ranking, left_out = "", 0
    data: dict[str, Any] = {}
    if findings is not None and findings.ranked:
        shown = best_and_worst(findings.ranked, room.rows)
        left_out = len(findings.ranked) - len(shown)
        drawing = ranking_drawing(findings, writing, width=width, shown=shown, row=room.row)
        pictures["ranking.svg"] = drawing.svg
        ranking = drawing.words
        data["ranking_width"] = drawing.width
    if content.shop.logo:
        pictures["logo.png"] = content.shop.logo
    name = named(record.board.name, 110) or NO_NAME
    return data | {
        "title": f"{name}: rust summary",
        "author": named(content.shop.name or record.board.shop, 120),
        "about": "One-page summary of rust grades of coated steel coupons",
        "board": name,
        "paper": PAPER_NAMES[content.choice.paper],
        "shop": named(content.shop.name or record.board.shop, 90),
        "contact": " · ".join(named(each, 60) for each in content.shop.contact.split("\n")[:3] if each.strip()),
        "logo": "logo.png" if content.shop.logo else "",
        "line": named(circumstances(content), 260),
        "verdict": [named(each, room.letters) for each in main_sentences(content)[: room.sentences]],
        "ranking": ranking,
        "ranking_note": _ranking_note(left_out),
        "board_alt": board.words,
        "board_title": board.title,
        "board_width": board.width,
        "cautions": [named(each, room.letters) for each in cautions(content)[: room.cautions]],
        "made": f"Made {writing.day(content.generated)}",
    }, pictures


def _board(content: ReportContent, width: float, most_height: float) -> Drawing:
    moments = content.pictures.moments
    pictures = content.pictures.coupons[len(moments) - 1] if moments and content.pictures.coupons else {}
    inspection = None
    if moments and moments[-1].inspection is not None:
        inspection = content.record.inspections.get(moments[-1].inspection)
    return board_drawing(
        content.record, content.choice.writing, inspection=inspection, pictures=pictures if inspection else {},
        width=width, most_height=most_height,
    )  # fmt: skip


def _ranking_note(left_out: int) -> str:
    note = (
        "Circles: coupons (squares: controls). Diamond and bar: mean with its 95 % interval. Letters: those that "
        "share one cannot be told apart."
    )
    return f"{note} Only the best and the worst are shown; {left_out} between are left out." if left_out else note


def main_sentences(content: ReportContent) -> list[str]:
    """Return the verdict's sentences, or why there are none."""
    findings = content.findings
    if findings is not None and findings.verdict:
        return list(findings.verdict)
    if content.record.hidden_inspection is not None:
        return ["An inspection is still being graded blind, so nothing is concluded yet."]
    if not any(content.record.current.values()):
        return [NO_GRADES.split(". ")[0] + "."]
    return ["Nothing can be concluded yet."]


def circumstances(content: ReportContent) -> str:
    """Return where, when and in what weather, on one line."""
    record, writing = content.record, content.choice.writing
    said = [place_words(record), period_words(record, writing), coupon_words(record)]
    lines = content.exposure.since_start if content.exposure is not None else ()
    if lines:
        last = lines[-1]
        weather = [
            f"{writing.number(value, 0)} {unit}"
            for value, unit in (
                (last.wet_hours, "wet hours"), (last.rain_mm, "mm of rain"),
                (last.mean_temperature_c, "°C on average"),
            )
            if value is not None
        ]  # fmt: skip
        if weather:
            said.append(f"{', '.join(weather)} ({writing.number(last.coverage * 100, 0)} % known)")
    return " · ".join(f"{each[:1].upper()}{each[1:]}" for each in said if each)


def cautions(content: ReportContent) -> list[str]:
    """Return what to beware of; that it is one place and one time comes first."""
    found = [SAME_PLACE]
    if content.findings is not None:
        found += content.findings.cautions
    return found


def one_page_words(content: ReportContent) -> str:
    """Return the summary as plain text, for a post: the same sentences, the ranking as lines."""
    record, findings = content.record, content.findings
    name = named(record.board.name, 300) or NO_NAME
    lines = [name, "=" * min(len(name), 60), circumstances(content), ""]
    lines += [*main_sentences(content), ""]
    if findings is not None and findings.ranked:
        lines += [f"Ranking, the best first, by {findings.measure}:", *_ranking_lines(content, findings.ranked), ""]
    lines += ["Beware:", *(f"- {each}" for each in cautions(content)), ""]
    graders = graders_of(record)
    if graders:
        lines.append(f"Graded by {some_of([named(each, 40) for each in graders], 12)}.")
    shop = named(content.shop.name or record.board.shop, 200)
    contact = ", ".join(named(each, 100) for each in content.shop.contact.split("\n") if each.strip())
    made = f"Made {content.choice.writing.day(content.generated)}"
    lines.append(" · ".join(each for each in (shop, contact, made) if each))
    return "\n".join(each.replace(_ZERO_WIDTH, "") for each in lines) + "\n"


def _ranking_lines(content: ReportContent, ranked: Sequence[RankedLine]) -> list[str]:
    writing = content.choice.writing
    shown = best_and_worst(ranked, _MOST_WORDS)
    found = []
    for number, each in enumerate(ranked, start=1):
        if not any(each is one for one in shown):
            continue
        mean = "no mean" if each.mean is None else f"mean {writing.number(each.mean, 1)}"
        between = ""
        if each.mean_low is not None and each.mean_high is not None:
            between = f", 95 % interval {writing.number(each.mean_low, 1)} to {writing.number(each.mean_high, 1)}"
        letters = f" [{each.letters}]" if each.letters else ""
        coupons = counted(each.coupons, "coupon")
        found.append(f"{number}. {named(each.treatment)}{letters}: {mean} of {coupons}{between}")
    left_out = len(ranked) - len(found)
    if left_out:
        found.append(f"(only the best and the worst; {counted(left_out, 'treatment')} left out)")
    return found
