"""JSON from strangers: parsed within limits, and its objects read key by key with every wrong value named."""

from __future__ import annotations

import json
import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from typing import Final, TypeVar

from rustboard.board.cells import quoted
from rustboard.board.plan_rules import Place
from rustboard.board.problem_list import ProblemList
from rustboard.board.typed_dates import read_iso_moment
from rustboard.support.problems import InputError
from rustboard.support.text import many_lines, one_line

MOST_JSON_BYTES: Final = 8 * 1024 * 1024

_KINDS: Final[dict[type, str]] = {bool: "true or false", list: "a list"}
_Read = TypeVar("_Read")
_Kind = TypeVar("_Kind", str, list[object])
_Word = TypeVar("_Word", bound=str)
_Otherwise = TypeVar("_Otherwise")


class JsonObject(dict[str, object]):
    """A JSON object that remembers which keys the file gave it more than once; the last value counts."""

    repeated: tuple[str, ...] = ()


def parse_json(data: bytes, problems: ProblemList) -> JsonObject:
    """Return the one object that a JSON file holds.

    Raises:
        InputError: larger than `MOST_JSON_BYTES`, empty, not text, not JSON, nested too deeply, or no object.
    """
    if len(data) > MOST_JSON_BYTES:
        raise problems.refusal(f"The file is larger than {MOST_JSON_BYTES // 2**20} MB; a plan is far smaller.")
    try:
        text = data.decode(json.detect_encoding(data))
    except UnicodeDecodeError:
        raise problems.refusal("The file is not text in UTF-8; save it as UTF-8.") from None
    if not text.strip():
        raise problems.refusal("The file is empty.")
    parsed = _parsed(text.removeprefix("\ufeff"), problems)
    if not isinstance(parsed, JsonObject):
        raise problems.refusal(
            "A plan is one object in curly brackets with the key “coupons”, and this file holds none."
        )
    return parsed


def _parsed(text: str, problems: ProblemList) -> object:
    def refuse_constant(name: str) -> float:
        raise problems.refusal(f"{name} is not a number in JSON; write digits or leave the key out.")

    try:
        return json.loads(text, object_pairs_hook=_object, parse_constant=refuse_constant)
    except json.JSONDecodeError as error:
        raise problems.refusal(
            f"The text is not JSON from character {error.colno} of this row on; look for a missing comma, bracket or "
            "quotation mark there or just before.",
            row=error.lineno,
        ) from None
    except RecursionError:
        raise problems.refusal("The brackets in this file are nested too deeply for a plan; mend them.") from None
    except ValueError:  # Python refuses to read a whole number of more than some thousand digits
        raise problems.refusal("The file holds a number with far too many digits; mend it.") from None


def _object(pairs: list[tuple[str, object]]) -> JsonObject:
    found = JsonObject(pairs)
    if len(found) < len(pairs):
        counts = Counter(key for key, _ in pairs)
        found.repeated = tuple(key for key, count in counts.items() if count > 1)
    return found


class Fields:
    """One JSON object; a value of a wrong kind is noted and counts as not given, as does ``null``."""

    def __init__(
        self,
        values: JsonObject,
        path: str,
        problems: ProblemList,
        known: Sequence[str],
        reported: set[tuple[str, ...]] | None = None,
    ) -> None:
        self._values = values
        self._problems = problems
        self._reported: set[tuple[str, ...]] = set() if reported is None else reported
        self.place = Place(path=path)
        self._report_keys(known)

    def text(self, key: str) -> str:
        """Return a text as one safe line, or an empty one."""
        value = self._of_kind(key, str)
        return "" if value is None else one_line(value)

    def lines(self, key: str) -> str:
        """Return a text as safe lines, or an empty one."""
        value = self._of_kind(key, str)
        return "" if value is None else many_lines(value)

    def number(self, key: str) -> float | None:
        """Return a finite number, or None."""
        value = self._values.get(key)
        number = finite_number(value)
        if number is None and value is not None:
            self.refuse(key, f"This must be a number, not {_kind(value)}; the value was left out.")
        return number

    def whole(self, key: str) -> int | None:
        """Return a whole number (``2.0`` is one), or None."""
        number = self.number(key)
        if number is not None and not number.is_integer():
            self.refuse(key, f"{number:g} is not a whole number; the value was left out.")
            return None
        return None if number is None else int(number)

    def flag(self, key: str, otherwise: bool) -> bool:
        """Return true or false, or ``otherwise``."""
        value = self._values.get(key)
        if value is None or isinstance(value, bool):
            return otherwise if value is None else value
        self.refuse(key, f"This must be true or false, not {_kind(value)}; the value was left out.")
        return otherwise

    def word(
        self, key: str, allowed: Sequence[_Word], otherwise: _Otherwise, loss: str = "the value was left out"
    ) -> _Word | _Otherwise:
        """Return one of the words allowed; ``otherwise`` when the key is not given or holds another.

        Args:
            key: where the word stands.
            allowed: the words; a sentence about another names them.
            otherwise: what is taken without a word.
            loss: what becomes of what is refused, as the sentence ends. A key that is not given is refused as well
                when ``otherwise`` is None: then the word is needed.
        """
        value = self._of_kind(key, str, loss)
        plain = "" if value is None else one_line(value).casefold()
        for each in allowed:
            if each == plain:
                return each
        if plain or (otherwise is None and self._values.get(key) is None):
            told = f"{quoted(plain)} is not known here" if plain else "A word is missing"
            self.refuse(key, f"{told}; write one of {', '.join(allowed)}; {loss}.")
        return otherwise

    def moment(self, key: str) -> datetime | None:
        """Return the wall-clock time that an ISO text names, or None."""
        if not self.text(key):
            return None
        moment = self.converted(key, read_iso_moment)
        return None if moment is None else moment.when

    def converted(self, key: str, reader: Callable[[str], _Read]) -> _Read | None:
        """Return what ``reader`` makes of a text (empty when the key is not given), or None when it refuses."""
        problems_before = len(self._problems)
        text = self.text(key)
        if len(self._problems) > problems_before:
            return None
        try:
            return reader(text)
        except InputError as error:
            self._problems.add_error(error, column=self._column(key))
            return None

    def items(self, key: str) -> list[object]:
        """Return a list, or an empty one."""
        value = self._of_kind(key, list)
        return [] if value is None else value

    def child(self, key: str, known: Sequence[str]) -> Fields:
        """Return the object under a key, or an empty one."""
        found = self.child_or_none(key, known)
        return found or Fields(JsonObject(), self._column(key), self._problems, known, self._reported)

    def child_or_none(self, key: str, known: Sequence[str]) -> Fields | None:
        """Return the object under a key, or None."""
        value = self._values.get(key)
        if isinstance(value, JsonObject):
            return Fields(value, self._column(key), self._problems, known, self._reported)
        if value is not None:
            self.refuse(key, f"This must be an object in curly brackets, not {_kind(value)}; it was left out.")
        return None

    def objects(self, items: list[object], key: str, known: Sequence[str]) -> Iterator[Fields]:
        """Yield the objects in a list under a key; everything else in it is noted."""
        for number, item in enumerate(items):
            if isinstance(item, JsonObject):
                yield Fields(item, f"{self._column(key)}[{number}]", self._problems, known, self._reported)
            else:
                self.refuse(
                    f"{key}[{number}]",
                    f"This must be an object in curly brackets, not {_kind(item)}; it was left out.",
                )

    def refuse(self, key: str, what: str) -> None:
        """Note a problem with the value under a key."""
        self._problems.add(what, column=self._column(key))

    def refuse_all(self, what: str) -> None:
        """Note a problem with the object as a whole."""
        self._problems.add(what, column=self.place.path)

    def _of_kind(self, key: str, kind: type[_Kind], loss: str = "the value was left out") -> _Kind | None:
        value = self._values.get(key)
        if value is None or isinstance(value, kind):
            return value
        wanted = "a text in quotation marks" if kind is str else "a list in square brackets"
        self.refuse(key, f"This must be {wanted}, not {_kind(value)}; {loss}.")
        return None

    def _column(self, key: str) -> str:
        return self.place.column(key) if self.place.path else key

    def _report_keys(self, known: Sequence[str]) -> None:
        kind = self.place.path.partition("[")[0]
        for key in self._values:
            if key not in known and (kind, key) not in self._reported:
                self._reported.add((kind, key))
                shown = one_line(key, 40)
                self.refuse(
                    shown, "This key has no meaning in a plan and was ignored, here and wherever it comes again."
                )
        for key in self._values.repeated:
            if key in known:
                self.refuse(key, "This key is there twice; the last one counts, delete the other.")


def stated(**values: object) -> dict[str, object]:
    """Return the values that say something: not None, not empty."""
    return {key: value for key, value in values.items() if value is not None and value not in ("", ())}


def finite_number(value: object) -> float | None:
    """Return a JSON number as a finite float; None for anything else, true and false included."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if math.isfinite(number) else None


def _kind(value: object) -> str:
    if isinstance(value, int | float) and not isinstance(value, bool):
        return "one beyond all use" if finite_number(value) is None else f"{value:g}"[:40]
    if isinstance(value, str):
        return f"the text {quoted(value)}"
    return "null" if value is None else _KINDS.get(type(value), "an object")
