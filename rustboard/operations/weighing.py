"""Weighed coupons: recorded, put right, taken back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from math import isfinite

from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.board.weighing import (
    CARBON_STEEL_G_CM3,
    DENSITIES_G_CM3,
    HEAVIEST_G,
    LARGEST_AREA_CM2,
    LARGEST_MM,
    LARGEST_PIT_MM2,
    LARGEST_PIT_UM,
    MOST_CYCLES,
    MOST_PITS,
    MOST_WEIGHINGS,
    Weighing,
)
from rustboard.operations.lookup import the_coupon
from rustboard.store.transaction import Transaction
from rustboard.store.weather_tables import WEIGHINGS
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import many_lines

_MOST_COUNTED = 10_000_000


@dataclass(frozen=True, slots=True)
class GivenWeighing:
    """A weighed coupon as it is noted; see `rustboard.board.weighing.Weighing` for what the fields mean."""

    coupon: int
    exposed_to: datetime
    before_g: float
    after_g: tuple[float, ...]
    exposed_from: datetime | None = None
    blank_before_g: float | None = None
    blank_after_g: tuple[float, ...] = ()
    thickness_mm: float | None = None
    area_cm2: float | None = None
    masked_cm2: float = 0.0
    density_g_cm3: float = CARBON_STEEL_G_CM3
    bare: bool = False
    pits: int | None = None
    pits_on_cm2: float | None = None
    pit_openings_mm2: tuple[float, ...] = ()
    pit_depths_um: tuple[float, ...] = ()
    note: str = ""


def note_weighing(tx: Transaction, given: GivenWeighing) -> Summary:
    """Record what a coupon weighed; what was noted of it before is kept, superseded.

    Raises:
        InputError: the coupon is not there, or a value cannot be.
    """
    coupon = the_coupon(tx, given.coupon)
    check_weighing(given)
    old = current_weighing(tx, given.coupon)
    new = _row(given, tx.now.isoformat())
    summary = Summary("Weigh {0}", (coupon.id,))
    if old is None:
        if tx.count(WEIGHINGS) >= MOST_WEIGHINGS:
            raise InputError(f"A board holds at most {MOST_WEIGHINGS} weighings.")
        tx.put(WEIGHINGS, new)
    elif old[1:18] != new[1:18]:
        tx.put(WEIGHINGS, old._replace(state="superseded"))
        tx.put(WEIGHINGS, new._replace(replaces=old.key))
    return summary


def withdraw_weighing(tx: Transaction, coupon_key: int) -> Summary:
    """Take back what was noted of a coupon's weight.

    Raises:
        InputError: nothing was noted.
    """
    coupon = the_coupon(tx, coupon_key)
    old = current_weighing(tx, coupon_key)
    if old is None:
        raise InputError("This coupon was not weighed, so there is nothing to take back.")
    tx.put(WEIGHINGS, old._replace(state="withdrawn"))
    return Summary("Withdraw the weighing of {0}", (coupon.id,))


def current_weighing(tx: Transaction, coupon: int) -> Weighing | None:
    """Return what counts of a coupon's weight, or None."""
    found = tx.find(WEIGHINGS, coupon=coupon, state="current")
    return found[0] if found else None


def _row(given: GivenWeighing, recorded: str) -> Weighing:
    return Weighing(
        0,
        given.coupon,
        given.exposed_from,
        given.exposed_to,
        float(given.before_g),
        _floats(given.after_g),
        None if given.blank_before_g is None else float(given.blank_before_g),
        _floats(given.blank_after_g),
        None if given.thickness_mm is None else float(given.thickness_mm),
        None if given.area_cm2 is None else float(given.area_cm2),
        float(given.masked_cm2),
        float(given.density_g_cm3),
        given.bare,
        given.pits,
        None if given.pits_on_cm2 is None else float(given.pits_on_cm2),
        _floats(given.pit_openings_mm2),
        _floats(given.pit_depths_um),
        many_lines(given.note),
        recorded,
    )


def _floats(listed: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(float(each) for each in listed)


def check_weighing(given: GivenWeighing) -> None:
    """Look over what is to be noted.

    Raises:
        InputError: a value cannot be, or does not go with another.
    """
    for when in (given.exposed_from, given.exposed_to):
        if when is not None and not FIRST_YEAR <= when.year <= LAST_YEAR:
            raise InputError(f"The year is between {FIRST_YEAR} and {LAST_YEAR}; check the dates.")
    if given.exposed_from is not None and given.exposed_to <= given.exposed_from:
        raise InputError("The coupon was taken down before its exposure began; check the dates.")
    _check_masses(given)
    _check_area(given)
    _check_pits(given)


def _check_masses(given: GivenWeighing) -> None:
    masses = (given.before_g, *given.after_g)
    blanks = () if given.blank_before_g is None else (given.blank_before_g, *given.blank_after_g)
    if not given.after_g:
        raise InputError("Give at least one mass after cleaning, in grams.")
    if len(given.after_g) > MOST_CYCLES or len(given.blank_after_g) > len(given.after_g):
        raise InputError(
            f"At most {MOST_CYCLES} cleanings are kept, and of the blank no more than of the coupon itself."
        )
    if given.blank_after_g and given.blank_before_g is None:
        raise InputError("Give the blank's mass before cleaning too, or none of its masses.")
    if any(not (isfinite(each) and 0 < each <= HEAVIEST_G) for each in (*masses, *blanks)):
        raise InputError(f"A mass is above 0 and at most {HEAVIEST_G:g} g.")


def _check_area(given: GivenWeighing) -> None:
    low, high = DENSITIES_G_CM3
    if not low <= given.density_g_cm3 <= high:
        raise InputError(f"A metal's density is from {low:g} to {high:g} g/cm³.")
    if given.thickness_mm is not None and not 0 < given.thickness_mm <= LARGEST_MM:
        raise InputError(f"A thickness is above 0 and at most {LARGEST_MM:g} mm.")
    if given.area_cm2 is not None and not 0 < given.area_cm2 <= LARGEST_AREA_CM2:
        raise InputError(f"An exposed area is above 0 and at most {LARGEST_AREA_CM2:g} cm².")
    if not 0 <= given.masked_cm2 <= LARGEST_AREA_CM2:
        raise InputError(f"A covered area is from 0 to {LARGEST_AREA_CM2:g} cm².")


def _check_pits(given: GivenWeighing) -> None:
    if given.pits is not None and not 0 <= given.pits <= _MOST_COUNTED:
        raise InputError(f"The number of pits is from 0 to {_MOST_COUNTED}.")
    if given.pits_on_cm2 is not None and not 0 < given.pits_on_cm2 <= LARGEST_AREA_CM2:
        raise InputError(f"The area on which pits were counted is above 0 and at most {LARGEST_AREA_CM2:g} cm².")
    if max(len(given.pit_openings_mm2), len(given.pit_depths_um)) > MOST_PITS:
        raise InputError(f"At most {MOST_PITS} pits are kept one by one; give the deepest.")
    if any(not 0 <= each <= LARGEST_PIT_MM2 for each in given.pit_openings_mm2):
        raise InputError(f"The opening of a pit is from 0 to {LARGEST_PIT_MM2:g} mm².")
    if any(not 0 <= each <= LARGEST_PIT_UM for each in given.pit_depths_um):
        raise InputError(f"The depth of a pit is from 0 to {LARGEST_PIT_UM:g} µm.")
