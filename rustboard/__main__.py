"""``python -m rustboard`` does what the command ``rustboard`` does."""

from __future__ import annotations

import sys

from rustboard.app.main import run

if __name__ == "__main__":
    sys.exit(run())
