"""Thousands of hostile packed boards, each looked into, unpacked and used; and the same board files as plain folders.

Every variant must end in a refusal in one sentence or in a board that is safe to use: no other exception, nothing
written outside the new folder, no board harmed, nothing temporary left, and neither time nor memory without bound.

Run: python tests/fuzz/fuzz_packs.py [--variants 4000] [--seed 1] [--kind values]
"""

from __future__ import annotations

import argparse
import random
import resource
import sys
import tempfile
import time
import traceback
from collections import Counter
from pathlib import Path

from pack_variants import Maker
from trying import Yard, lay_out, temporary_files_in, try_out

MEMORY_BYTES = 4 << 30


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--variants", type=int, default=4_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kind", default="", help="only variants of this kind")
    arguments = parser.parse_args()
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    with tempfile.TemporaryDirectory(prefix="fuzz-") as place:
        yard = lay_out(Path(place))
        makers = chosen(yard, arguments.variants, arguments.seed, arguments.kind)
        started = time.perf_counter()
        with temporary_files_in(yard):
            faults = run(yard, makers)
        tell(yard, len(makers), faults, time.perf_counter() - started)
    return 1 if faults else 0


def chosen(yard: Yard, count: int, seed: int, kind: str = "") -> list[Maker]:
    """Return makers of so many variants: of every kind as many as there are, or a share drawn by the seed."""
    dice = random.Random(seed)
    variants = yard.variants(seed)
    listed = {name: makers for name, makers in variants.kinds().items() if kind in ("", name)}
    endless = [maker for name, maker in variants.endless().items() if kind in ("", name)]
    share = count * 3 // 4 if endless else count
    found: list[Maker] = []
    pools = sorted(listed.values(), key=len)
    for number, makers in enumerate(pools):  # small kinds whole, large ones as far as there is room
        room = (share - len(found)) // (len(pools) - number)
        found.extend(makers if len(makers) <= room else dice.sample(makers, room))
    while endless and len(found) < count:
        found.append(endless[len(found) % len(endless)])
    return found


def run(yard: Yard, makers: list[Maker]) -> list[str]:
    faults: list[str] = []
    for number, make in enumerate(makers):
        variant = make()
        try:
            try_out(yard, variant, number)
        except Exception:  # noqa: BLE001 - a fault is what is looked for
            faults.append(f"{variant.kind}: {variant.name}\n{traceback.format_exc()}")
            sys.stdout.write(f"FAULT {faults[-1]}\n")
            yard.outcomes[variant.kind, "FAULT"] += 1
        if number % 500 == 499:
            sys.stdout.write(f"{number + 1} tried\n")
            sys.stdout.flush()
    return faults


def tell(yard: Yard, count: int, faults: list[str], seconds: float) -> None:
    kinds = Counter(kind for kind, _ in yard.outcomes.elements())
    for kind, number in sorted(kinds.items()):
        parts = [f"{times} {outcome}" for (each, outcome), times in sorted(yard.outcomes.items()) if each == kind]
        sys.stdout.write(f"{kind:<9}{number:>6}: {'; '.join(parts)}\n")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    took, which = yard.slowest
    sys.stdout.write(
        f"{count} variants in {seconds:.0f} s, slowest {took:.2f} s ({which}), peak memory {peak:.0f} MB, "
        f"{len(faults)} faults\n"
    )


if __name__ == "__main__":
    sys.exit(main())
