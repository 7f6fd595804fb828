"""The day log: what happened to the board between the inspections."""
