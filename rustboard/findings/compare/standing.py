"""How one side stands to the other, given both tracks and what speaks against the model."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from rustboard.findings.compare.results import Compared, Standing
from rustboard.findings.smallest_p import LEVEL

_SLACK: Final = 1e-9


def judged(compared: Compared) -> Compared:
    """Return the comparison with its standing.

    A difference is **shown** when the model shows it and nothing speaks against the model; or, where something does,
    when the exact test shows it after closed testing. It **leans** one way when only the model sees it although the
    exact test should have the say, or when the spread is borrowed or assumed.
    """
    return replace(compared, standing=standing_of(compared))


def standing_of(compared: Compared) -> Standing:
    """Return how the first side stands to the second."""
    by_model = compared.model is not None and compared.model.p <= LEVEL
    by_lots = is_shown_by_lots(compared)
    ahead = difference_of(compared) > 0
    trusted = by_model and not compared.borrowed and not compared.doubts
    if trusted or by_lots:
        return "better" if ahead else "worse"
    if by_model:
        return "leans better" if ahead else "leans worse"
    return "open"


def is_shown_by_lots(compared: Compared) -> bool:
    """Return whether the exact test has the say, and shows a difference after closed testing."""
    if not compared.doubts and compared.model is not None and not compared.borrowed:
        return False
    exact = compared.exact
    return exact is not None and exact.p_family is not None and exact.p_family <= LEVEL + _SLACK


def difference_of(compared: Compared) -> float:
    """Return the first side less the second: by the model, else of the plain means."""
    if compared.model is not None:
        return compared.model.difference
    a, b = compared.values_a, compared.values_b
    return sum(a) / len(a) - sum(b) / len(b) if a and b else 0.0
