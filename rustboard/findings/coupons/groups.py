"""Groups of coupons that were treated alike: a treatment's test coupons, and the controls."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from statistics import fmean, median, stdev

from rustboard.board.comparisons import CONTROL, natural_order, treatment_titles
from rustboard.board.model import Role
from rustboard.board.record import BoardRecord
from rustboard.support.text import one_line


@dataclass(frozen=True, slots=True)
class Group:
    """Coupons treated alike.

    Attributes:
        id: of the treatment, or ``control``.
        name: what people call it.
        treatment: key; None for controls of no or of several treatments.
        role: ``test`` or ``control``; a treatment that has coupons of both roles is two groups.
        family: of the treatment, or empty.
        coupons: keys of all its coupons that hang or were graded, in reading order.
    """

    id: str
    name: str
    treatment: int | None
    role: Role
    family: str
    coupons: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class GroupResult:
    """What a group came to, by the measure of the question.

    Attributes:
        group: the coupons treated alike.
        counted: keys of its coupons that were graded and count.
        values: of those, in their order, in the measure's unit.
        mean, median, sd: of the values; None where there are too few.
        mean_low, mean_high: 95 % interval of this mean alone, from the spread of all groups; None where that is not
            known.
        last_mean: mean of the last grades; None without any.
        rank_group: letters; groups that share a letter cannot be told apart. Empty where nothing can be said.
        failed: how many have fallen to the failing grade.
        median_to_failure, median_low, median_high: on the clock; None = not reached, or not known.
        days_to_failure: the same median in days of exposure, whatever the clock.
    """

    group: Group
    counted: tuple[int, ...]
    values: tuple[float, ...]
    mean: float | None
    median: float | None
    sd: float | None
    last_mean: float | None
    failed: int
    rank_group: str = ""
    median_to_failure: float | None = None
    median_low: float | None = None
    median_high: float | None = None
    days_to_failure: float | None = None
    mean_low: float | None = None
    mean_high: float | None = None


def groups_of(record: BoardRecord) -> tuple[Group, ...]:
    """Return the groups of a board: treatments by id as people count, controls last."""
    titles = treatment_titles(record)
    tested: dict[int | None, list[int]] = {}
    controls: list[int] = []
    for each in record.coupons_in_order():
        if each.position is None and each.key not in record.current:
            continue
        if each.role == "control":
            controls.append(each.key)
        else:
            tested.setdefault(each.treatment if each.treatment in record.treatments else None, []).append(each.key)
    found = [
        Group(record.treatments[key].id, titles[key], key, "test", _family(record, key), tuple(tested[key]))
        for key in sorted((key for key in tested if key is not None), key=lambda key: natural_order(record, key))
    ]
    if tested.get(None):
        found.append(Group("none", "no treatment", None, "test", "", tuple(tested[None])))
    if controls:
        found.append(_control_group(record, controls, titles))
    return tuple(found)


def _control_group(record: BoardRecord, controls: list[int], titles: Mapping[int, str]) -> Group:
    treatments = {record.coupons[key].treatment for key in controls}
    one = next(iter(treatments)) if len(treatments) == 1 else None
    name = CONTROL if one is None or one not in titles else f"{CONTROL} ({titles[one]})"
    known = one if one in record.treatments else None
    return Group(CONTROL, name, known, "control", "" if known is None else _family(record, known), tuple(controls))


def _family(record: BoardRecord, treatment: int) -> str:
    return one_line(record.treatments[treatment].family, 80)


def group_results(
    groups: Iterable[Group], values: Mapping[int, float], last_grades: Mapping[int, int], failed: Iterable[int]
) -> tuple[GroupResult, ...]:
    """Return what each group came to.

    Args:
        groups: of the board.
        values: of the coupons that count, in the measure's unit.
        last_grades: of the same coupons.
        failed: keys of coupons that have failed.
    """
    fallen = frozenset(failed)
    found = []
    for group in groups:
        counted = tuple(each for each in group.coupons if each in values)
        mine = tuple(values[each] for each in counted)
        found.append(
            GroupResult(
                group,
                counted,
                mine,
                fmean(mine) if mine else None,
                float(median(mine)) if mine else None,
                stdev(mine) if len(mine) > 1 else None,
                fmean(last_grades[each] for each in counted) if counted else None,
                sum(each in fallen for each in counted),
            )
        )
    return tuple(found)
