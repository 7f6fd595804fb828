"""The seven treatments of the demo shop, the same on both boards. Names are generic, prices and times made up."""

from __future__ import annotations

from typing import Final

from rustboard.board.model import Treatment

CONTROL: Final = "T7"

TREATMENTS: Final = (
    Treatment(
        id="T1",
        name="hot beeswax blend",
        family="wax",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="beeswax with a little turpentine and linseed oil, rubbed on at 120 °C",
        coats=2,
        batch="pot 3",
        cost_per_m2=3.1,
        minutes_per_m2=40.0,
    ),
    Treatment(
        id="T2",
        name="baked linseed oil",
        family="oil",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="boiled linseed oil, thin, baked at 220 °C",
        coats=3,
        batch="oil of February",
        cost_per_m2=2.4,
        minutes_per_m2=65.0,
        note="An hour in the oven between coats.",
    ),
    Treatment(
        id="T3",
        name="lanolin film",
        family="film",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="lanolin in white spirit",
        coats=1,
        cost_per_m2=4.6,
        minutes_per_m2=15.0,
        note="Stays tacky; picks up dust.",
    ),
    Treatment(
        id="T4",
        name="microcrystalline wax",
        family="wax",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="microcrystalline wax paste, buffed after 20 minutes",
        coats=2,
        cost_per_m2=6.8,
        minutes_per_m2=30.0,
    ),
    Treatment(
        id="T5",
        name="zinc phosphate and oil",
        family="oil",
        preparation="pickled, rinsed, dried warm",
        finish="zinc phosphate, hot bath, 15 minutes",
        protectant="thin mineral oil, drained overnight",
        coats=1,
        batch="bath of 26 February",
        cost_per_m2=8.9,
        minutes_per_m2=55.0,
    ),
    Treatment(
        id="T6",
        name="cold oil wipe",
        family="oil",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="thin mineral oil, wiped on and off",
        coats=1,
        cost_per_m2=0.9,
        minutes_per_m2=8.0,
    ),
    Treatment(
        id=CONTROL,
        name="bare control",
        family="none",
        preparation="wire brushed, wiped with spirit",
        finish="none",
        protectant="none",
        coats=0,
        cost_per_m2=0.0,
        minutes_per_m2=5.0,
    ),
)
