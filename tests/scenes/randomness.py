"""Chance that can be repeated: every purpose has dice of its own, so that one more throw in one leaves the others."""

from __future__ import annotations

import zlib

import numpy as np

Dice = np.random.Generator


def dice_for(*names: object) -> Dice:
    """Return dice that always fall the same way for the same names."""
    return np.random.default_rng([zlib.crc32(str(name).encode()) for name in names])


def chance(dice: Dice, probability: float) -> bool:
    return bool(dice.random() < probability)


def pick(dice: Dice, weights: dict[str, float]) -> str:
    """Return one of the names, each as likely as its weight says."""
    names, shares = list(weights), np.array(list(weights.values()), np.float64)
    return names[int(dice.choice(len(names), p=shares / shares.sum()))]
