"""The program itself, through its own steps, on painted scenes with known truth: how right it is.

    python tests/benchmarks/measured_scenes.py [--hard] [--final] [--megapixels 12] [--photos 8] [SEED ...]

Without seeds: those for developing. ``--final`` runs those that were never looked at while developing.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import tempfile
import time
from contextlib import closing
from pathlib import Path

_TESTS = Path(__file__).resolve().parents[1]
# The checkout this file is in comes first, so that no other one, installed beside it, is measured instead.
sys.path[:0] = [str(_TESTS.parent), str(_TESTS), str(_TESTS / "board")]

# ruff: noqa: E402
from plan_reading import read_plan_json
from scenes import seeds
from scenes.checking import result_of, score
from scenes.store import stored_scene

from rustboard.app.commands.measure import data_of, measure_board
from rustboard.board.model import Photo
from rustboard.operations.photos import add_photo
from rustboard.operations.plans import carry_out_plan
from rustboard.photo.decode import size_of
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.photos import keep_photo
from rustboard.store.tables import BoardRow


def measured(scene, folder: Path, name: str):
    """Make a board of a scene, add its photos, measure; return what `measure --json` says."""
    plan, _ = read_plan_json(json.dumps(scene.plan).encode(), "plan.json")
    board = folder / name
    create_board(board, BoardRow(plan.board, plan.markers))
    with closing(Session(board)) as session:
        session.do(carry_out_plan, plan)
        for number in range(scene.count):
            photo = scene.photo(number)
            file, digest = keep_photo(board, photo.name, photo.jpeg, photo.taken)
            width, height = size_of(photo.jpeg)
            session.do(add_photo, Photo(photo.name, file, digest, width, height, taken=photo.taken))
        measure_board(session, lambda line: None)
        return data_of(session.record, ())


def main() -> None:
    """Run the scenes and print the figures."""
    parser = argparse.ArgumentParser()
    parser.add_argument("seeds", type=int, nargs="*")
    parser.add_argument("--hard", action="store_true")
    parser.add_argument("--final", action="store_true")
    parser.add_argument("--megapixels", type=float, default=12.0)
    parser.add_argument("--photos", type=int, default=8)
    chosen = parser.parse_args()
    known = {
        (False, False): seeds.SEEDS_FOR_DEVELOPING,
        (False, True): seeds.HARD_SEEDS_FOR_DEVELOPING,
        (True, False): seeds.SEEDS_FOR_THE_FINAL_CHECK,
        (True, True): seeds.HARD_SEEDS_FOR_THE_FINAL_CHECK,
    }
    results = []
    with tempfile.TemporaryDirectory() as place:
        os.environ["RUSTBOARD_HOME"] = place
        for seed in chosen.seeds or known[chosen.final, chosen.hard]:
            scene = stored_scene(seed, megapixels=chosen.megapixels, photos=chosen.photos, hard=chosen.hard)
            begun = time.perf_counter()
            said = measured(scene, Path(place), f"scene {seed}")
            lost = [each["file"] for each in said["photos"] if not each["registered"]]
            figures = {
                each["file"]: {
                    name: each["coupons"][name]
                    for name in each["coupons"]
                    if each["coupons"][name]["percent"] is not None
                }
                for each in said["photos"]
            }
            result = result_of(scene, figures, f"scene {seed}")
            results.append(result)
            one = score([result], worst=0)
            sys.stdout.write(
                f"scene {seed}: {time.perf_counter() - begun:.0f} s, rel {100 * one.median_relative_error:.0f} %, "
                f"e95 {one.error_95:.2f}, grade {100 * one.within_one_grade:.0f} %, "
                f"false {100 * one.false_alarms:.1f} %, inside {100 * one.inside:.0f} %, rho {one.spearman:.3f}, "
                f"lost {lost}\n"
            )
            sys.stdout.flush()
    sys.stdout.write(f"{score(results)}\n")


if __name__ == "__main__":
    main()
