"""The problems found while one file is read: gathered, bounded in number, handed back in order."""

from __future__ import annotations

from rustboard.support.problems import InputError, Problem

MOST_LISTED = 200
"""Most problems listed for one file; the rest is only counted."""


class ProblemList:
    """Problems of one file as they are found.

    Attributes:
        file: name of the file, put into every problem; empty for a plan that comes from no file.
    """

    def __init__(self, file: str, most: int = MOST_LISTED) -> None:
        self.file = file
        self._most = most
        self._listed: list[Problem] = []
        self._unlisted = 0

    def __len__(self) -> int:
        return len(self._listed) + self._unlisted

    def add(self, what: str, *, row: int | None = None, column: str = "") -> None:
        """Note one problem."""
        if len(self._listed) < self._most:
            self._listed.append(Problem(what, self.file, row, column))
        else:
            self._unlisted += 1

    def add_error(self, error: InputError, *, row: int | None = None, column: str = "") -> None:
        """Note an `InputError` as a problem; the place fills in what the error does not name itself."""
        problem = error.located(row=row, column=column).problem
        self.add(problem.what, row=problem.row, column=problem.column)

    def refusal(self, what: str, *, row: int | None = None, column: str = "") -> InputError:
        """Return the error that refuses the whole file."""
        return InputError(what, file=self.file, row=row, column=column)

    def first(self) -> str:
        """Return where and what the first problem is, without the file's name; empty when there is none."""
        if not self._listed:
            return ""
        problem = self._listed[0]
        return Problem(problem.what, "", problem.row, problem.column).sentence()

    def listed(self) -> list[Problem]:
        """Return the problems by row, and one more that counts those not listed."""
        found = sorted(self._listed, key=lambda each: each.row or 0)
        if self._unlisted:
            noun = "problem is" if self._unlisted == 1 else "problems are"
            found.append(Problem(f"And {self._unlisted} more {noun} not listed; mend these first.", self.file))
        return found
