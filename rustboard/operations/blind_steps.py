"""What the steps of grading blind are called, in the list of what can be undone and in the record of changes."""

from __future__ import annotations

from typing import Final

STARTED: Final = "Grade the inspection of {0} blind"
BEGUN: Final = "Begin a blind round"
GIVEN: Final = "Blind grade {0} of {1}: {2}"
CORRECTED: Final = "Correct blind grade {0} of {1}: {2} to {3}"
ADDED: Final = "Add to blind grade {0} of {1}: note or percent"
TAKEN_BACK: Final = "Withdraw blind grade {0} of {1}"
FINISHED: Final = "Finish a blind round"
GIVEN_UP: Final = "Stop grading the inspection of {0} blind; nothing was graded"
REVEALED: Final = "Reveal the blind inspection of {0}"

FINAL_STEPS: Final = frozenset({FINISHED, REVEALED})
"""Steps that undo does not take back: what has been seen cannot be hidden again."""
