"""How packed boards are named; looked at by windows that open none."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

PACK_ENDING: Final = ".rustboard-pack"


def is_pack(path: Path) -> bool:
    """Return whether a path is that of a packed board, by its name; a folder never is one."""
    return path.name.casefold().endswith(PACK_ENDING) and not os.path.isdir(path)
