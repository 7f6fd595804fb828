"""Letters for groups that cannot be told apart: groups that share a letter were not shown to differ."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence


def compact_letters(names: Sequence[str], different: Iterable[tuple[str, str]]) -> dict[str, str]:
    """Return the letters of each name, ``a`` for the first.

    Insert and absorb (Piepho 2004): one column holds all to begin with; every pair that differs splits each column
    that holds both; columns held in another are dropped. Letters that are not needed are then swept away.

    Args:
        names: in the order in which letters are dealt, the best first.
        different: pairs shown to differ.
    """
    pairs = [frozenset(pair) for pair in different]
    columns: list[frozenset[str]] = [frozenset(names)] if names else []
    for pair in pairs:
        columns = _absorbed(_split(columns, pair))
    columns = _swept(columns, names, pairs)
    order = {name: number for number, name in enumerate(names)}
    in_order = sorted(columns, key=lambda column: sorted(order[each] for each in column))
    return {
        name: "".join(letter(number) for number, column in enumerate(in_order) if name in column) for name in names
    }


def letter(number: int) -> str:
    """Return ``a`` to ``z``, then ``A`` to ``Z``, then ``(53)`` and so on."""
    alphabet = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
    return alphabet[number] if number < len(alphabet) else f"({number + 1})"


def _split(columns: Iterable[frozenset[str]], pair: frozenset[str]) -> list[frozenset[str]]:
    found: list[frozenset[str]] = []
    for column in columns:
        found += [column - {each} for each in sorted(pair)] if pair <= column else [column]
    return found


def _absorbed(columns: Iterable[frozenset[str]]) -> list[frozenset[str]]:
    kept: list[frozenset[str]] = []
    for column in sorted(set(columns), key=lambda each: (-len(each), sorted(each))):
        if column and not any(column <= other for other in kept):
            kept.append(column)
    return kept


def _swept(
    columns: Sequence[frozenset[str]], names: Sequence[str], different: Collection[frozenset[str]]
) -> list[frozenset[str]]:
    """Drop whole columns all of whose pairs share another column."""
    apart = set(different)
    kept = list(columns)
    for column in sorted(columns, key=lambda each: (len(each), sorted(each))):
        others = [each for each in kept if each != column]
        pairs = [frozenset((a, b)) for a in column for b in column if a < b and frozenset((a, b)) not in apart]
        alone = [each for each in column if not any(each in other for other in others)]
        if not alone and all(any(pair <= other for other in others) for pair in pairs):
            kept = others
    return kept
