"""One 12-megapixel JPEG with 24 coupons measured, on one thread, as a ratio of Pillow's bare decode; and memory.

    python tests/benchmarks/measuring.py [--runs 7] [--seed 1] [--memory]

Budget: 3 times the bare decode, decode included. ``--memory`` measures a photo of 48 megapixels in a new process.
"""

from __future__ import annotations

import argparse
import io
import resource
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

HERE = Path(__file__).resolve()
sys.path[:0] = [str(HERE.parents[2]), str(HERE.parents[1])]

# ruff: noqa: E402
import cv2
import numpy as np
from PIL import Image
from scenes import Options
from scenes.store import stored_scene

from rustboard.board.model import Board, Marker
from rustboard.photo.cutting import cut_grid, grid_scale, significant
from rustboard.photo.decode import upright_pixels
from rustboard.photo.evidence.board_look import look_at_board
from rustboard.photo.evidence.light import light_between
from rustboard.photo.evidence.rust import evidence_of
from rustboard.photo.finding.board import find_board
from rustboard.photo.hanging.fit import fit_motions
from rustboard.photo.judging.judge import Look, judge_coupon
from rustboard.photo.looks import CouponFrame
from rustboard.photo.one_photo import BoardSeen, bases_of, first_picture, light_plan, see_board, who_is_there
from rustboard.photo.source import source_of

BUDGET = 3.0


def say(line: str) -> None:
    sys.stdout.write(line + "\n")


class Measuring:
    """One board, its first photo known, and the pieces of measuring the next one."""

    def __init__(self, seed: int, megapixels: float) -> None:
        scene = stored_scene(seed, megapixels=megapixels, photos=6, options=Options(coupons=(6, 4), turned=False))
        plan = scene.plan["board"]
        self.board = Board("Benchmark", 4, 6, width_mm=plan["width_mm"], height_mm=plan["height_mm"])
        self.markers = [
            Marker(each["id"], tuple(each["centre_mm"]), each["size_mm"]) for each in scene.plan["markers"]
        ]
        outlines = [tuple(tuple(point) for point in each["outline_mm"]) for each in scene.plan["coupons"]]
        self.jpeg = scene.photo(3).jpeg
        first = upright_pixels(scene.photo(0).jpeg)
        placement = find_board(first, self.board, self.markers).placement
        margin = float(plan.get("edge_margin_mm", 0))
        self.frames = [
            CouponFrame(number, str(number), outline, grid_scale(placement, outline), margin_mm=margin)
            for number, outline in enumerate(outlines)
        ]
        self.plan = light_plan(plan["width_mm"], plan["height_mm"], outlines, self.markers)
        seen = see_board(first, placement, self.frames, self.plan)
        self.first = seen.board
        self.motions = {key: hang.motion for key, hang in seen.hangs.items()}
        self.pictures = {frame.coupon: first_picture(seen.cuts[frame.coupon], frame) for frame in self.frames}
        self.bases = bases_of(seen.board, [seen], self.frames, self.plan)

    def bare(self) -> None:
        Image.open(io.BytesIO(self.jpeg)).load()

    def pieces(self) -> dict[str, float]:
        """Measure the photo; return seconds by piece."""
        took: dict[str, float] = {}

        def timed(name: str, work: Callable[[], object]):
            start = time.perf_counter()
            done = work()
            took[name] = time.perf_counter() - start
            return done

        picture = timed("decode", lambda: upright_pixels(self.jpeg))
        source = timed("halve", lambda: source_of(picture))
        placement = timed("find", lambda: find_board(source, self.board, self.markers).placement)
        hangs = timed("fit", lambda: fit_motions(picture, placement, self.frames, self.motions))
        motion = {frame.coupon: hangs[frame.coupon].motion for frame in self.frames}
        cuts = timed("cut", lambda: [cut_grid(source, placement, each, motion[each.coupon]) for each in self.frames])
        look = timed("light", lambda: look_at_board(source, placement, self.plan))
        light = timed("evened", lambda: light_between(self.first, look, self.plan))
        pairs = list(zip(self.frames, cuts, strict=True))
        seen = BoardSeen(look, hangs, {each.coupon: cut for each, cut in pairs}, {})
        timed("presence", lambda: who_is_there(seen, self.pictures, self.frames))
        evidence = timed(
            "evidence",
            lambda: [evidence_of(cut, self.bases[each.coupon], light.at(each), each) for each, cut in pairs],
        )
        looks = list(zip(self.frames, evidence, strict=True))
        timed(
            "figures",
            lambda: [judge_coupon([Look(1.0, found, 5.0)], significant(each), each) for each, found in looks],
        )
        return took


def time_ratio(seed: int, runs: int) -> bool:
    """Print the pieces and their sum as multiples of the bare decode; return whether the budget is kept."""
    measuring = Measuring(seed, 12.0)
    measuring.pieces()
    bare, pieces = [], []
    for _ in range(runs):
        start = time.perf_counter()
        measuring.bare()
        bare.append(time.perf_counter() - start)
        pieces.append(measuring.pieces())
    decode = statistics.median(bare)
    pixels = sum(each.shape[0] * each.shape[1] for each in measuring.frames)
    say(f"bare decode {1000 * decode:.0f} ms; {len(measuring.frames)} coupons, {pixels / 1e6:.1f} million pixels")
    for name in pieces[0]:
        took = statistics.median(each[name] for each in pieces)
        say(f"  {name:9s} {1000 * took:7.1f} ms {took / decode:6.2f}")
    ratio = statistics.median(sum(each.values()) for each in pieces) / decode
    say(f"all {ratio:.2f} of the bare decode, allowed {BUDGET}: {'kept' if ratio <= BUDGET else 'MISSED'}")
    return ratio <= BUDGET


def memory_child(seed: int) -> None:
    """Measure one photo enlarged to 48 megapixels; print the most memory this process ever had."""
    measuring = Measuring(seed, 12.0)
    small = Image.open(io.BytesIO(measuring.jpeg))
    stream = io.BytesIO()
    small.resize((2 * small.width, 2 * small.height), Image.Resampling.BICUBIC).save(stream, "JPEG", quality=90)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    measuring.jpeg = stream.getvalue()
    measuring.pieces()
    after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    say(f"48 megapixels: peak {after / 1024:.0f} MB (before, the enlarging included: {before / 1024:.0f} MB)")


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("--runs", type=int, default=7)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--memory", action="store_true")
    parser.add_argument("--child", action="store_true")
    given = parser.parse_args()
    cv2.setNumThreads(1)
    np.seterr(all="ignore")
    if given.child:
        memory_child(given.seed)
        return 0
    if given.memory:
        run = [sys.executable, str(HERE), "--child", "--seed", str(given.seed)]
        return subprocess.run(run, check=False, timeout=600).returncode
    return 0 if time_ratio(given.seed, given.runs) else 1


if __name__ == "__main__":
    raise SystemExit(main())
