"""Running the program's commands in the test's own process, and the files that the tests give them."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Finished:
    """A command that has ended."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        """What ``--json`` printed."""
        return json.loads(self.out)

    @property
    def sentences(self) -> list[str]:
        """The lines on standard error."""
        return self.err.splitlines()


Rustboard = Callable[..., Finished]

PLAN: dict[str, Any] = {
    "board": {
        "name": "Yard fence",
        "rows": 2,
        "columns": 2,
        "started": "2026-03-02T09:00",
        "customer": "Ada & Söhne",
    },
    "treatments": [
        {"id": "T1", "name": "hot beeswax blend", "family": "wax"},
        {"id": "T2", "name": "linseed oil, baked", "family": "oil"},
    ],
    "coupons": [
        {"id": "C01", "position": "A1", "treatment": "T1"},
        {"id": "C02", "position": "A2", "treatment": "T2"},
        {"id": "C03", "position": "B1", "role": "control"},
    ],
}

GRADES = """\
date,coupon,grade,distribution,percent,grader,note
2026-03-02T09:00,C01,10,,,Ada,
2026-03-02T09:00,C02,10,,0,Ada,
2026-03-09T09:30,C01,9,S,0.02,Ada,"rain, then sun"
2026-03-09T09:30,C02,7,P,,Ada,
2026-03-09T09:30,C03,2,G,21.5,Ada,
"""


def plan_text(**changes: Any) -> str:
    """Return the plan as JSON, with some of its keys replaced."""
    return json.dumps(PLAN | changes)
