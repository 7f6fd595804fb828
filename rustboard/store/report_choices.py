"""What was chosen for the last report of each customer, and the shop that makes them: one JSON file.

It lies beside the settings, is written whole under a lock that all windows take in turn, and what is damaged of it is
put aside. Which words make sense is for those to say who know the report; here they are bounded texts.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from rustboard.store import values
from rustboard.store.kept_list import KeptList, Sentences
from rustboard.support.text import NAME_LIMIT

FORMAT: Final = 1
MOST_CUSTOMERS: Final = 1_000
MOST_BYTES: Final = 16 << 20
MOST_WORDS: Final = 100
LONGEST_CONTACT: Final = 1_000
_LOGO: Final = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class KeptChoice:
    """What was chosen for one customer.

    Attributes:
        customer: as `rustboard.session.report_choices` folds the name; empty for boards without one.
        forms: what was written, each a word and the ending of its file. parts: those wanted.
        writing, paper, clock: by name.
    """

    customer: str
    forms: tuple[tuple[str, str], ...]
    parts: tuple[str, ...]
    writing: str
    paper: str
    clock: str


@dataclass(frozen=True, slots=True)
class KeptShop:
    """Whoever makes the reports.

    Attributes:
        name, contact: as the cover shows them.
        logo: SHA-256 of the picture kept beside this file, or empty.
    """

    name: str
    contact: str
    logo: str


Kept = KeptChoice | KeptShop


@dataclass(frozen=True, slots=True)
class KeptReports:
    """All that is kept for reports.

    Attributes:
        items: those that can be read, the newest last; of shops one at most.
        problem: a sentence about what cannot, or an empty text.
    """

    items: tuple[Kept, ...] = ()
    problem: str = ""

    def choices(self) -> tuple[KeptChoice, ...]:
        """Return what was chosen, the newest last."""
        return tuple(each for each in self.items if isinstance(each, KeptChoice))

    def shop(self) -> KeptShop:
        """Return the shop; one without a name where none was given."""
        return next((each for each in self.items if isinstance(each, KeptShop)), KeptShop("", "", ""))


def read_reports(path: Path) -> KeptReports:
    """Return what is kept; what is damaged is put aside on the way.

    Raises:
        InputError: the file cannot be read just now, or a newer version of the program wrote it.
    """
    return KeptReports(*_LIST.read(path))


def keep_choice(path: Path, choice: KeptChoice) -> KeptReports:
    """Keep what was chosen for a customer, in place of what was before; of very many customers the oldest goes.

    Raises:
        InputError: the disk refused; the file is as it was.
    """

    def with_it(items: tuple[Kept, ...]) -> tuple[Kept, ...]:
        others = [each for each in items if isinstance(each, KeptChoice) and each.customer != choice.customer]
        return (*_shops(items), *others[-(MOST_CUSTOMERS - 1) :], choice)

    return _changed(path, with_it)


def keep_shop(path: Path, shop: KeptShop) -> KeptReports:
    """Keep the shop, in place of what was before.

    Raises:
        InputError: the disk refused; the file is as it was.
    """

    def with_it(items: tuple[Kept, ...]) -> tuple[Kept, ...]:
        return (shop, *(each for each in items if isinstance(each, KeptChoice)))

    return _changed(path, with_it)


def _changed(path: Path, change: Callable[[tuple[Kept, ...]], tuple[Kept, ...]]) -> KeptReports:
    return KeptReports(*_LIST.change(path, change))


def _shops(items: tuple[Kept, ...]) -> tuple[KeptShop, ...]:
    return tuple(each for each in items if isinstance(each, KeptShop))


def _item_from(kept: Any) -> Kept:
    if "customer" not in kept:
        return _shop_from(kept["shop"])
    forms, parts = kept["forms"], kept["parts"]
    for words in (forms, parts):
        if not isinstance(words, list) or len(words) > MOST_WORDS:
            raise ValueError("what was chosen is damaged")
    return KeptChoice(
        values.line(kept["customer"]),
        tuple((values.needed(form), values.line(ending)) for form, ending in forms),
        tuple(map(values.needed, parts)),
        *(values.needed(kept[name]) for name in ("writing", "paper", "clock")),
    )


def _shop_from(kept: Any) -> KeptShop:
    contact, logo = values.note(kept["contact"]), values.line(kept["logo"])
    if len(contact) > LONGEST_CONTACT or not (logo == "" or _LOGO.fullmatch(logo)):
        raise ValueError("the shop is damaged")
    return KeptShop(values.line(kept["name"])[:NAME_LIMIT], contact, logo)


def _item_to(each: Kept) -> dict[str, object]:
    if isinstance(each, KeptShop):
        return {"shop": {"name": each.name, "contact": each.contact, "logo": each.logo}}
    return {
        "customer": each.customer,
        "forms": [list(form) for form in each.forms],
        "parts": list(each.parts),
        "writing": each.writing,
        "paper": each.paper,
        "clock": each.clock,
    }


def _id_of(each: Kept) -> tuple[str, str]:
    return ("shop", "") if isinstance(each, KeptShop) else ("customer", each.customer)


def _told(damaged: int | None, name: str) -> str:
    return f"What was chosen for earlier reports, {name}, is damaged; what can be read of it is used."


_LIST: Final = KeptList(
    "choices for reports",
    "reports",
    FORMAT,
    MOST_CUSTOMERS + 1,
    MOST_BYTES,
    _item_from,
    _item_to,
    _id_of,
    Sentences(
        "A newer version of the program wrote the choices for reports; use that one, or move the file away.",
        f"What was chosen can be kept for at most {MOST_CUSTOMERS} customers.",
        "The file of choices for reports is full; move it away to begin a new one.",
        _told,
    ),
)
