"""The next free id in the pattern that the ids so far follow: after C01 to C21 comes C22."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from typing import Final

from rustboard.board.cells import identity

_NUMBERED: Final = re.compile(r"(.*?)([0-9]{1,9})", re.DOTALL)


def next_id(ids: Iterable[str], default: str) -> str:
    """Return a free id that follows the commonest pattern of ``ids``; ``default`` where there is none.

    Ids are compared without regard to case, as the board does.
    """
    known = list(ids)
    taken = {identity(each) for each in known}
    found = [match for match in map(_NUMBERED.fullmatch, known) if match is not None]
    if not found:
        found = [match for match in [_NUMBERED.fullmatch(default)] if match is not None]
        if identity(default) not in taken or not found:
            return default
    ((start, _),) = Counter(match[1] for match in found).most_common(1)
    alike = [match[2] for match in found if match[1] == start]
    # Leading zeros are kept: their width is that of the shortest number, so that C99 is followed by C100.
    width = min(len(each) for each in alike) if any(each.startswith("0") for each in alike) else 1
    number = max(int(each) for each in alike) + 1
    while identity(f"{start}{number:0{width}}") in taken:
        number += 1
    return f"{start}{number:0{width}}"
