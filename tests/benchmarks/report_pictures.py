"""The pictures of a report of 96 coupons and 60 photos, against Pillow's bare decoding and scaling of those photos.

Run it: ``python tests/benchmarks/report_pictures.py [MEGAPIXELS]``; it takes about a minute and 300 MB of disk.
Ours: the board and 96 coupons cut from three photos, the photos up to 60 pictures scaled and written as JPEG, nothing
in the cache; then once more with what the first run kept; then the workbook written of it. Bare: each photo opened,
turned and scaled to the same size, and written as JPEG. Memory is the most that a process of its own ever held, the
program and its libraries included. A ratio of 1 or less keeps the budget.
"""

from __future__ import annotations

import hashlib
import io
import os
import resource
import subprocess
import sys
import tempfile
import time
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve()
sys.path[:0] = [str(HERE.parents[2])]

ROWS, COLUMNS, PHOTOS = 8, 12, 60
WIDTH_MM, HEIGHT_MM = 1_200.0, 900.0
MEGAPIXELS = 12.0
MEMORY_MB = 400.0
ALLOWED = 2.0
"""Times the bare decoding: for cutting, for hashing each photo, and for the captions."""
START = datetime(2026, 3, 2, 9)


def say(line: str) -> None:
    """Write a line."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def paint(folder: Path, megapixels: float) -> None:
    """Write the photos: a board in a camera's grain, the bytes of each others."""
    from PIL import Image

    width = round((megapixels * 1e6 * 4 / 3) ** 0.5)
    height = width * 3 // 4
    random = np.random.default_rng(7)
    ground = Image.fromarray(random.integers(60, 190, (height // 8, width // 8, 3), np.uint8)).resize((width, height))
    grain = np.asarray(ground, np.int16) + random.normal(0, 6, (height, width, 1)).astype(np.int16)
    stream = io.BytesIO()
    Image.fromarray(np.clip(grain, 0, 255).astype(np.uint8)).save(stream, "JPEG", quality=90)
    (folder / "photos").mkdir()
    for number in range(PHOTOS):
        note = f"photo {number:03d}".encode()
        data = stream.getvalue()
        marked = data[:2] + b"\xff\xfe" + (len(note) + 2).to_bytes(2, "big") + note + data[2:]
        (folder / "photos" / f"{number:03d}.jpg").write_bytes(marked)


def board(folder: Path):
    """Return the board of these photos, every coupon graded at each."""
    from rustboard.board.model import Board, Coupon, Grading, Inspection, Photo, Treatment
    from rustboard.board.position import Position
    from rustboard.board.record import BoardRecord
    from rustboard.photo.decode import size_of

    record = BoardRecord(Board("Pier", ROWS, COLUMNS, WIDTH_MM, HEIGHT_MM, 3.0, START))
    record.treatments = {key: Treatment(f"T{key}", f"treatment {key}", key=key) for key in range(1, 13)}
    for number in range(ROWS * COLUMNS):
        row, column = divmod(number, COLUMNS)
        x, y, key = 20 + column * 98.0, 15 + row * 110.0, number + 1
        outline = ((x, y), (x + 50, y), (x + 50, y + 100), (x, y + 100))
        place = Position(row, column)
        record.coupons[key] = Coupon(f"C{key:02d}", place, column + 1, outline_mm=outline, key=key)
    for number in range(PHOTOS):
        at, key = START + timedelta(days=number), number + 1
        data = (folder / "photos" / f"{number:03d}.jpg").read_bytes()
        width, height = size_of(data)
        scale = width / WIDTH_MM
        matrix = (scale, 0.0, 0.0, 0.0, scale, 0.0, 0.0, 0.0, 1.0)
        record.inspections[key] = Inspection(at, key=key)
        record.photos[key] = Photo(
            f"{number}.jpg", f"{number:03d}.jpg", hashlib.sha256(data).hexdigest(), width, height, at, key, matrix,
            key=key,
        )  # fmt: skip
        for coupon in record.coupons:
            grade = max(0, 10 - number * (coupon % 7) // 40)
            given = Grading(key * 1_000 + coupon, coupon, key, grade, "", None, "", "eye", "", START.isoformat())
            record.current.setdefault(coupon, {})[key] = given
    return record


def bare(folder: Path) -> None:
    """Decode, scale and write every photo with the library alone."""
    from PIL import Image, ImageOps

    for file in sorted((folder / "photos").iterdir()):
        with Image.open(file) as image:
            image.load()
            upright = ImageOps.exif_transpose(image)
            upright.thumbnail((1_000, 1_000))
            upright.save(io.BytesIO(), "JPEG", quality=80, optimize=True)


def ours(folder: Path) -> None:
    """Make the pictures and the workbook as the program does; say how long each took and what was held."""
    from rustboard.report.choice import ReportChoice
    from rustboard.report.content import ReportContent
    from rustboard.report.workbook import workbook_bytes
    from rustboard.session.jobs import Progress
    from rustboard.session.report_pictures import report_pictures

    record = board(folder)
    taken = []
    for _ in range(2):
        begin = time.perf_counter()
        pictures = report_pictures(record, folder, ReportChoice(), Progress())
        taken.append(time.perf_counter() - begin)
    held = memory_mb()
    coupons = sum(map(len, pictures.coupons))
    size = sum(len(each.image) for each in (*pictures.boards, *pictures.photos))
    size += sum(len(each.image) for of_time in pictures.coupons for each in of_time.values())
    begin = time.perf_counter()
    data = workbook_bytes(ReportContent(record, START, pictures=pictures))
    written = time.perf_counter() - begin
    made = len(pictures.boards) + len(pictures.photos)
    say(f"{taken[0]} {taken[1]} {written} {held} {memory_mb()} {made} {coupons} {size / 1e6} {len(data) / 1e6}")


def memory_mb() -> float:
    """Return the most this process ever held in memory."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1_024


def measured(part: str, folder: Path, cache: Path, *more: str) -> list[float]:
    """Run a part of this in a process of its own; return the numbers it says."""
    command = [sys.executable, str(HERE), part, str(folder), *more]
    environment = {**os.environ, "XDG_CACHE_HOME": str(cache), "PYTHONPATH": str(HERE.parents[2])}
    said = subprocess.run(command, capture_output=True, text=True, check=True, env=environment).stdout
    return [float(each) for each in said.split()]


def main(megapixels: float) -> None:
    """Measure and say the ratios."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made) / "board"
        folder.mkdir()
        # In a process of its own as well: what this one has held, the system counts as held by those it starts.
        measured("paint", folder, Path(made), str(megapixels))
        size = sum(each.stat().st_size for each in (folder / "photos").iterdir()) / 1e6
        say(f"{PHOTOS} photos of {megapixels:g} megapixels, {size:.0f} MB")
        (alone,) = measured("bare", folder, Path(made) / "cache")
        first, again, written, held, whole, pictures, coupons, bytes_, workbook = measured(
            "ours", folder, Path(made) / "cache"
        )
        say(f"bare decoding and scaling: {alone:.2f} s")
        say(f"{pictures:.0f} pictures and {coupons:.0f} coupons, {bytes_:.1f} MB")
        say(f"made in {first:.2f} s, {first / alone:.2f} of bare")
        say(f"allowed {ALLOWED:g} times the bare time: {first / alone / ALLOWED:.2f} of the budget")
        say(f"once more, from the cache: {again:.2f} s, {again / alone:.2f} of bare")
        say(f"the workbook of it, {workbook:.1f} MB: {written:.2f} s")
        say(f"memory: {held:.0f} MB for the pictures, {whole:.0f} MB with the workbook")
        say(f"allowed {MEMORY_MB:.0f} MB: {whole / MEMORY_MB:.2f} of the budget")


def part(name: str, folder: Path, more: list[str]) -> None:
    """Do one part and say its numbers."""
    if name == "paint":
        paint(folder, float(more[0]))
        return
    if name == "ours":
        ours(folder)
        return
    begin = time.perf_counter()
    bare(folder)
    say(str(time.perf_counter() - begin))


if __name__ == "__main__":
    if sys.argv[1:2] in (["paint"], ["bare"], ["ours"]):
        part(sys.argv[1], Path(sys.argv[2]), sys.argv[3:])
    else:
        main(float(sys.argv[1]) if len(sys.argv) > 1 else MEGAPIXELS)
