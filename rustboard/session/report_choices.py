"""What was chosen for the reports of each customer, and the shop that makes them, as they are on the disk."""

from __future__ import annotations

import contextlib
import hashlib
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.board.exposure_clock import CLOCK_KINDS
from rustboard.report.choice import PARTS, ReportChoice, Shop, writing_named
from rustboard.session.report_forms_wanted import ENDINGS, FORM_KINDS, FormWanted
from rustboard.store.report_choices import (
    LONGEST_CONTACT,
    KeptChoice,
    KeptShop,
    keep_choice,
    keep_shop,
    read_reports,
)
from rustboard.support import paths
from rustboard.support.files import read_bounded, write_whole
from rustboard.support.problems import InputError
from rustboard.support.text import many_lines, one_line

if TYPE_CHECKING:
    from rustboard.report.page_setup import Paper

PAPER_NAMES: Final[tuple[Paper, ...]] = ("A4", "Letter")
MOST_LOGO_BYTES: Final = 8 << 20
USUAL_FORMS: Final = (FormWanted("workbook", ".xlsx"),)


@dataclass(frozen=True, slots=True)
class RememberedReport:
    """What is remembered of a customer's last report.

    Attributes:
        choice: parts, writing, paper, clock.
        forms: those written; at least one.
        own: whether it was this customer's, and not only what was chosen last for another.
        any: whether anything was remembered at all.
    """

    choice: ReportChoice = field(default_factory=ReportChoice)
    forms: tuple[FormWanted, ...] = USUAL_FORMS
    own: bool = False
    any: bool = False


class ReportChoices:
    """What is kept; every question reads it again, because another window may have changed it.

    Attributes:
        problem: a sentence about what could not be read, since it was last asked; or an empty text.
    """

    def __init__(self, path: Path | None = None) -> None:
        """Use the file at ``path``, or the user's own."""
        self._path = path or paths.reports_file()
        self.problem = ""

    def remembered(self, customer: str) -> RememberedReport:
        """Return what was chosen last for a customer; for a new one what was chosen last of all.

        Raises:
            InputError: the file cannot be read.
        """
        kept = read_reports(self._path)
        self.problem = kept.problem
        choices, wanted = kept.choices(), folded(customer)
        own = next((each for each in choices if each.customer == wanted), None)
        found = own or (choices[-1] if choices else None)
        if found is None:
            return RememberedReport()
        return RememberedReport(_choice_from(found), _forms_from(found), own is not None, True)

    def remember(self, customer: str, choice: ReportChoice, forms: tuple[FormWanted, ...]) -> None:
        """Keep what was chosen for a customer.

        Raises:
            InputError: the disk refused.
        """
        parts = tuple(each for each in PARTS if each in choice.parts)
        kept = KeptChoice(folded(customer), forms, parts, choice.writing.name, choice.paper, choice.clock)
        self.problem = keep_choice(self._path, kept).problem

    def shop(self) -> Shop:
        """Return the shop; a logo whose file is damaged is left out and told in `problem`.

        Raises:
            InputError: the file cannot be read.
        """
        kept = read_reports(self._path)
        self.problem = kept.problem
        found = kept.shop()
        logo = b""
        if found.logo:
            try:
                logo = read_bounded(self._logo_path(), MOST_LOGO_BYTES)
            except InputError:
                logo = b""
            if hashlib.sha256(logo).hexdigest() != found.logo:
                logo = b""
                damaged = "The picture of your shop's logo is damaged or gone; choose it again under “Your shop”."
                self.problem = " ".join(each for each in (self.problem, damaged) if each)
        return Shop(found.name, found.contact, logo)

    def keep_shop(self, shop: Shop) -> None:
        """Keep the shop; its logo is a picture that `logo_from` made.

        Raises:
            InputError: the disk refused.
        """
        digest = ""
        if shop.logo:
            if len(shop.logo) > MOST_LOGO_BYTES:
                raise InputError("The logo is too large; choose a smaller picture.")
            digest = hashlib.sha256(shop.logo).hexdigest()
            write_whole(self._logo_path(), shop.logo)
        else:
            with contextlib.suppress(OSError):  # nothing names it any more
                self._logo_path().unlink()
        kept = KeptShop(one_line(shop.name), many_lines(shop.contact, LONGEST_CONTACT), digest)
        self.problem = keep_shop(self._path, kept).problem

    def _logo_path(self) -> Path:
        return self._path.with_name("shop-logo.png")


def folded(customer: str) -> str:
    """Return a customer's name without what people write now one way and now another: capitals and blanks."""
    return one_line(" ".join(customer.casefold().split()))


def _choice_from(kept: KeptChoice) -> ReportChoice:
    usual = ReportChoice()
    parts = frozenset(each for each in PARTS if each in kept.parts)
    return ReportChoice(
        parts or usual.parts,
        writing_named(kept.writing),
        next((each for each in PAPER_NAMES if each == kept.paper), usual.paper),
        next((each for each in CLOCK_KINDS if each == kept.clock), usual.clock),
    )


def _forms_from(kept: KeptChoice) -> tuple[FormWanted, ...]:
    endings = dict(kept.forms)
    forms = (FormWanted(kind, endings[kind]) for kind in FORM_KINDS if endings.get(kind) in ENDINGS[kind])
    return tuple(forms) or USUAL_FORMS
