"""Painted photo series of exposure boards with exact truth, for tests and for the final check.

``from scenes import scene, Options`` in any test; a script puts the folder ``tests`` on its path first.
"""

from scenes.options import Options
from scenes.scene import CouponTruth, Scene, ScenePhoto, TrueMotion, scene
from scenes.seeds import (
    HARD_SEEDS_FOR_DEVELOPING,
    HARD_SEEDS_FOR_THE_FINAL_CHECK,
    SEEDS_FOR_DEVELOPING,
    SEEDS_FOR_THE_FINAL_CHECK,
)

__all__ = [
    "HARD_SEEDS_FOR_DEVELOPING",
    "HARD_SEEDS_FOR_THE_FINAL_CHECK",
    "SEEDS_FOR_DEVELOPING",
    "SEEDS_FOR_THE_FINAL_CHECK",
    "CouponTruth",
    "Options",
    "Scene",
    "ScenePhoto",
    "TrueMotion",
    "scene",
]
