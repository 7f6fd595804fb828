"""Things kept in memory up to a bound, those not looked at longest dropped first."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from typing import Generic, TypeVar

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Kept(Generic[K, V]):
    """Values by key, together no larger than a number of bytes; the newest one stays in any case."""

    def __init__(self, most_bytes: int) -> None:
        """Start empty."""
        self._most = most_bytes
        self._held: OrderedDict[K, tuple[V, int]] = OrderedDict()
        self.size = 0

    def put(self, key: K, value: V, size: int) -> None:
        """Keep a value of so many bytes, and drop others where there is no more room."""
        self.drop(key)
        self._held[key] = (value, size)
        self.size += size
        while self.size > self._most and len(self._held) > 1:
            _, (_, dropped) = self._held.popitem(last=False)
            self.size -= dropped

    def get(self, key: K) -> V | None:
        """Return a value and remember that it was wanted, or None."""
        found = self._held.get(key)
        if found is None:
            return None
        self._held.move_to_end(key)
        return found[0]

    def drop(self, key: K) -> None:
        """Forget a value if it is there."""
        found = self._held.pop(key, None)
        if found is not None:
            self.size -= found[1]

    def names(self) -> list[K]:
        """Return the keys, longest unused first."""
        return list(self._held)

    def clear(self) -> None:
        """Forget everything."""
        self._held.clear()
        self.size = 0

    def __contains__(self, key: object) -> bool:
        return key in self._held

    def __len__(self) -> int:
        return len(self._held)
