"""What is being looked at: the inspection and the coupons chosen. Shared by the screens of one window."""

from __future__ import annotations

from collections.abc import Callable, Iterable

Listener = Callable[[], None]


class Selection:
    """The inspection in view and the chosen coupons.

    Attributes:
        inspection: key of the inspection in view, or None.
        coupons: keys of the chosen coupons.
        focus: the coupon the keyboard is on, or None.
        photo: the photo in view on the photo screen, or None while it is not shown. Nobody is told of it.
    """

    def __init__(self) -> None:
        """Start with nothing chosen."""
        self.inspection: int | None = None
        self.coupons: frozenset[int] = frozenset()
        self.focus: int | None = None
        self.photo: int | None = None
        self._listeners: list[Listener] = []

    def subscribe(self, listener: Listener) -> None:
        """Call ``listener`` after every change of the selection."""
        self._listeners.append(listener)

    def unsubscribe(self, listener: Listener) -> None:
        """Stop calling ``listener``."""
        self._listeners.remove(listener)

    def look_at(self, inspection: int | None) -> None:
        """Bring another inspection into view."""
        if inspection != self.inspection:
            self.inspection = inspection
            self.tell()

    def choose(self, coupons: Iterable[int], focus: int | None = None) -> None:
        """Choose coupons; ``focus`` is the one the keyboard is on (default: the only one chosen)."""
        chosen = frozenset(coupons)
        if focus is None and len(chosen) == 1:
            (focus,) = chosen
        if (chosen, focus) != (self.coupons, self.focus):
            self.coupons, self.focus = chosen, focus
            self.tell()

    def keep_only(self, coupons: Iterable[int], inspections: Iterable[int]) -> bool:
        """Forget what is no longer on the board, without telling; return whether anything was forgotten.

        Whoever calls it tells by `tell` once every screen knows of the change itself.
        """
        there = frozenset(coupons)
        inspection = self.inspection if self.inspection in frozenset(inspections) else None
        chosen, focus = self.coupons & there, self.focus if self.focus in there else None
        forgotten = (inspection, chosen, focus) != (self.inspection, self.coupons, self.focus)
        self.inspection, self.coupons, self.focus = inspection, chosen, focus
        return forgotten

    def tell(self) -> None:
        """Call every listener."""
        for listener in tuple(self._listeners):
            listener()
