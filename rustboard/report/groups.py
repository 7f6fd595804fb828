"""The coupons of a board sorted into what the report compares: one group a treatment."""

from __future__ import annotations

from dataclasses import dataclass

from rustboard.board.model import Coupon, Treatment
from rustboard.board.record import BoardRecord

UNTREATED_CONTROLS = "Control, no treatment noted"
NOT_NOTED = "No treatment noted"


@dataclass(frozen=True, slots=True)
class Group:
    """Coupons with one treatment, or those for which none is noted.

    Attributes:
        title: what people read, such as ``T1 hot beeswax blend``.
        coupons: the replicates, as one reads the board.
    """

    title: str
    treatment: Treatment | None
    coupons: tuple[Coupon, ...]

    @property
    def family(self) -> str:
        """The family of the treatment, or an empty text."""
        return "" if self.treatment is None else self.treatment.family

    @property
    def is_control(self) -> bool:
        """Whether every coupon of the group is a control."""
        return all(each.role == "control" for each in self.coupons)


def treatment_title(treatment: Treatment) -> str:
    """Return id and name of a treatment, or the id alone when it has no name of its own."""
    return f"{treatment.id} {treatment.name}" if treatment.name not in {"", treatment.id} else treatment.id


def groups(record: BoardRecord) -> list[Group]:
    """Return the groups that have coupons: treatments in the order they were made, then coupons without one."""
    by_treatment: dict[int, list[Coupon]] = {key: [] for key in sorted(record.treatments)}
    controls: list[Coupon] = []
    others: list[Coupon] = []
    for coupon in record.coupons_in_order():
        if coupon.treatment is not None and coupon.treatment in by_treatment:
            by_treatment[coupon.treatment].append(coupon)
        else:
            (controls if coupon.role == "control" else others).append(coupon)
    found = [
        Group(treatment_title(record.treatments[key]), record.treatments[key], tuple(coupons))
        for key, coupons in by_treatment.items()
    ]
    found += [Group(UNTREATED_CONTROLS, None, tuple(controls)), Group(NOT_NOTED, None, tuple(others))]
    return [each for each in found if each.coupons]


def coupons_by_treatment(record: BoardRecord) -> dict[int, list[str]]:
    """Return the ids of the coupons of each treatment, by its key, as one reads the board."""
    coupons: dict[int, list[str]] = {}
    for coupon in record.coupons_in_order():
        if coupon.treatment is not None:
            coupons.setdefault(coupon.treatment, []).append(coupon.id)
    return coupons
