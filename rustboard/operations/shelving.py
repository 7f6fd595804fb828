"""How a board stands on the shelf: its tags, the archive, and the earlier board that it follows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from rustboard.board.shelving import MOST_TAG, MOST_TAGS, MOST_WORDS, Forerunner, Shelving, Tag, same_word, words_once
from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.store.shelving_tables import FORERUNNERS, SHELVINGS, TAGS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import one_line, some_of

_MOST_NAMED = 6


def set_tags(tx: Transaction, words: Iterable[str]) -> Summary:
    """Give a board these tags and no others; spellings that differ only in capitals or blanks are one tag.

    Raises:
        InputError: there are too many, or one is too long.
    """
    wanted = checked_tags(words)
    named = {same_word(each): each for each in wanted}
    held: dict[str, Tag] = {}
    for tag in tx.find(TAGS):
        spelling = same_word(tag.word)
        if spelling not in named or spelling in held:  # a stranger's file may hold two spellings of one
            tx.drop(TAGS, tag.key)
        else:
            held[spelling] = tag
    for spelling, word in named.items():
        old = held.get(spelling)
        if old is None or old.word != word:
            tx.put(TAGS, Tag(word, 0 if old is None else old.key))
    if not wanted:
        return Summary("Take all tags off the board")
    return Summary("Tag the board: {0}", (some_of(wanted, _MOST_NAMED),))


def checked_tags(words: Iterable[str]) -> list[str]:
    """Return tags as a board keeps them: safe to show, each once.

    Raises:
        InputError: there are too many, or one is too long.
    """
    wanted = words_once(one_line(each) for each in words)
    if len(wanted) > MOST_TAGS:
        raise InputError(f"A board has at most {MOST_TAGS} tags; leave some out.")
    for each in wanted:
        if len(each) > MOST_TAG:
            raise InputError(f"A tag has at most {MOST_TAG} characters; shorten “{each[:MOST_TAG]}…”.")
    return wanted


def archive(tx: Transaction) -> Summary:
    """Put a board into the archive: the shelf shows it only when asked.

    Raises:
        InputError: it is there already.
    """
    if _is_archived(tx):
        raise InputError("This board is in the archive already.")
    tx.put(SHELVINGS, Shelving(archived=True))
    return Summary("Put the board into the archive")


def bring_back(tx: Transaction) -> Summary:
    """Take a board out of the archive.

    Raises:
        InputError: it is not there.
    """
    if not _is_archived(tx):
        raise InputError("This board is not in the archive.")
    tx.drop(SHELVINGS, 1)
    return Summary("Bring the board back from the archive")


def set_forerunner(tx: Transaction, forerunner: Forerunner | None) -> Summary:
    """Say which earlier board this one follows and what was changed; None = it follows none.

    Raises:
        InputError: nothing is said of what was changed, a text is too long, or the start cannot be.
    """
    if forerunner is None:
        tx.drop(FORERUNNERS, 1)
        return Summary("Say that the board follows no earlier one")
    clean = _checked(forerunner)
    tx.put(FORERUNNERS, clean)
    return Summary("Say that the board follows {0}, with one thing changed: {1}", (clean.name, clean.changed))


def _checked(forerunner: Forerunner) -> Forerunner:
    name, changed, kept = (one_line(each) for each in (forerunner.name, forerunner.changed, forerunner.kept))
    if not name:
        raise InputError("Name the earlier board that this one follows.")
    if not changed:
        raise InputError("Say what is changed on this board.")
    if max(len(changed), len(kept)) > MOST_WORDS:
        raise InputError(
            f"What was kept and what was changed have at most {MOST_WORDS} characters each; make it shorter."
        )
    started = forerunner.started
    if started is not None:
        started = started.replace(microsecond=0, tzinfo=None)
        if not FIRST_YEAR <= started.year <= LAST_YEAR:
            raise InputError(f"The year of the start is between {FIRST_YEAR} and {LAST_YEAR}; check the date.")
    folder = one_line(forerunner.folder)
    return replace(forerunner, name=name, started=started, kept=kept, changed=changed, folder=folder, key=1)


def _is_archived(tx: Transaction) -> bool:
    return any(each.archived for each in tx.find(SHELVINGS))
