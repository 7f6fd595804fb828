"""The workbook of a large board, against openpyxl writing the same cells bare; and the memory of the whole report.

Run it: ``python tests/benchmarks/report.py [COUPONS INSPECTIONS PICTURES]``; without numbers 96 x 365 grades and 60
pictures. It takes a few minutes.

* workbook: what is worked out already, written with charts and all sheets; bare: every cell of that workbook put into
  a new one by openpyxl without any style, and saved. Once without pictures, and once with them (bare puts in the same
  ones). The budget is 1.5 x the bare time.
* memory: a new process gathers the report of that board from its photos of 12 megapixels, findings and all, and
  writes the workbook, PDF, one page, pictures and CSV files. The budget is 400 MB at the highest.
"""

from __future__ import annotations

import gc
import hashlib
import io
import json
import os
import random
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

HERE = Path(__file__).resolve()
sys.path[:0] = [str(HERE.parents[2])]

if TYPE_CHECKING:
    from rustboard.board.record import BoardRecord
    from rustboard.report.choice import ReportPictures
    from rustboard.report.content import ReportContent

SIZES = (96, 365, 60)
RUNS = 3
ALLOWED = 1.5
ALLOWED_MB = 400.0
COLUMNS = 12
STEP_MM = 80.0
PHOTO_PX = (4000, 3000)
START = datetime(2025, 3, 2, 9)


def say(line: str) -> None:
    """Write a line."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


# ---- the board


def large_board(coupons: int, inspections: int) -> BoardRecord:
    """Return a board of twelve treatments, the last one bare controls, each coupon graded at every inspection."""
    from rustboard.board.model import Board, Coupon, Grading, Inspection, Treatment
    from rustboard.board.position import Position
    from rustboard.board.record import BoardRecord

    chance = random.Random(7)
    rows = -(-coupons // COLUMNS)
    board = Board("Long wall", rows, COLUMNS, COLUMNS * STEP_MM, rows * STEP_MM, started=START, customer="Harbour")
    record = BoardRecord(board)
    for key in range(1, COLUMNS + 1):
        family = ("wax", "oil", "film", "bare")[key % 4]
        record.treatments[key] = Treatment(f"T{key}", f"recipe {key}", family, key=key, cost_per_m2=float(key))
    for key in range(1, inspections + 1):
        record.inspections[key] = Inspection(START + timedelta(days=key - 1), "Ann", key=key)
    number = 0
    for key in range(1, coupons + 1):
        row, column = divmod(key - 1, COLUMNS)
        treatment = (column + row * 5) % COLUMNS + 1
        left, top = column * STEP_MM + 10, row * STEP_MM + 10
        outline = ((left, top), (left + 60, top), (left + 60, top + 60), (left, top + 60))
        role = "control" if treatment == COLUMNS else "test"
        record.coupons[key] = Coupon(f"C{key:03}", Position(row, column), treatment, role, "steel", outline, key=key)  # type: ignore[arg-type]
        grade, loss = 10.0, chance.uniform(0.5, 1.5) * (4 + treatment) / inspections / 2
        record.current[key] = {}
        for inspection in record.inspections:
            number += 1
            grade = max(0.0, grade - loss * chance.uniform(0, 2))
            given = round(grade)
            letter = "" if given in (0, 10) else "SGPH"[key % 4]
            record.current[key][inspection] = Grading(
                number, key, inspection, given, letter, None, "Ann", "eye", "", START.isoformat()
            )
    return record


def make_photos(folder: Path, count: int) -> None:
    """Put one picture under many names into a board's folder: what it costs to decode is the same each time."""
    import numpy as np
    from PIL import Image

    width, height = PHOTO_PX
    noise = np.random.default_rng(7).integers(90, 170, (height // 8, width // 8, 3), np.uint8)
    out = io.BytesIO()
    Image.fromarray(noise).resize(PHOTO_PX, Image.Resampling.BICUBIC).save(out, "JPEG", quality=90)
    (folder / "photos").mkdir(parents=True)
    for number in range(1, count + 1):
        (folder / "photos" / f"IMG_{number:04}.jpg").write_bytes(out.getvalue())


def add_photos(record: BoardRecord, folder: Path) -> None:
    """Let the board have the photos in its folder, spread over its inspections."""
    from rustboard.board.model import Photo

    width, height = PHOTO_PX
    files = sorted((folder / "photos").iterdir())
    count, digest = len(files), hashlib.sha256(files[0].read_bytes()).hexdigest()
    scale = min(width / record.board.width_mm, height / record.board.height_mm)
    keys = list(record.inspections)
    chosen = [keys[round(each * (len(keys) - 1) / max(1, count - 1))] for each in range(count)]
    for number, (file, inspection) in enumerate(zip(files, chosen, strict=True), 1):
        name = file.name
        when = record.inspections[inspection].at
        matrix = (scale, 0.0, 0.0, 0.0, scale, 0.0, 0.0, 0.0, 1.0)
        record.photos[number] = Photo(
            name, name, digest, width, height, when, inspection, matrix, placed_by="corners", key=number
        )


def gathered(record: BoardRecord, folder: Path | None) -> ReportContent:
    """Return what the report of a board is written from."""
    from rustboard.session.jobs import Progress
    from rustboard.session.reporting import ReportRequest, gather_content

    request = ReportRequest(record, START + timedelta(days=400), "Ann", folder=folder)
    return gather_content(request, Progress())


# ---- time


def seconds(work: Callable[[], object]) -> float:
    """Return how long something takes, the middle of a few times."""
    found = []
    for _ in range(RUNS):
        gc.collect()
        began = time.perf_counter()
        work()
        found.append(time.perf_counter() - began)
    return statistics.median(found)


def cells_of(file: Path) -> dict[str, list[tuple[Any, ...]]]:
    """Return the cells of a workbook, formulas as they are, by sheet."""
    from openpyxl import load_workbook

    book = load_workbook(file, read_only=True)
    sheets = {sheet.title: list(sheet.iter_rows(values_only=True)) for sheet in book}
    book.close()
    return sheets


def write_bare(sheets: dict[str, list[tuple[Any, ...]]], pictures: list[bytes], file: Path) -> None:
    """Write cells and pictures with openpyxl, and nothing else."""
    from openpyxl import Workbook
    from openpyxl.drawing.image import Image

    book = Workbook()
    book.remove(book.worksheets[0])
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    for number, each in enumerate(pictures):
        book.worksheets[0].add_image(Image(io.BytesIO(each)), f"A{number * 20 + 1}")
    book.save(file)


def pictures_in(found: ReportPictures) -> list[bytes]:
    """Return every picture of a report."""
    coupons = [each for moment in found.coupons for each in moment.values()]
    return [each.image for each in (*found.boards, *coupons, *found.photos)]


def compare(what: str, content: ReportContent, folder: Path) -> None:
    """Compare our workbook with the same cells and pictures written bare."""
    from rustboard.report.workbook import write_workbook

    own, bare = folder / "own.xlsx", folder / "bare.xlsx"
    took = seconds(lambda: write_workbook(content, own))
    sheets, pictures = cells_of(own), pictures_in(content.pictures)
    alone = seconds(lambda: write_bare(sheets, pictures, bare))
    count = sum(1 for rows in sheets.values() for row in rows for cell in row if cell is not None)
    verdict = "kept" if took <= ALLOWED * alone else "MISSED"
    say(f"{what}: {len(sheets)} sheets, {count:,} cells, {len(pictures)} pictures, {own.stat().st_size / 1e6:.1f} MB")
    say(f"  ours {took:.2f} s, bare {alone:.2f} s: {took / alone:.2f} x, allowed {ALLOWED:.1f} x, {verdict}")


# ---- memory


def whole_report(coupons: int, inspections: int, board: Path) -> dict[str, float]:
    """Write the whole report once in this process; return megabytes before and at the highest, and seconds."""
    from rustboard.session.jobs import Progress
    from rustboard.session.report_forms import write_forms
    from rustboard.session.report_forms_wanted import ENDINGS, FORM_KINDS, FormWanted, targets_of
    from rustboard.session.reporting import ReportRequest

    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ["RUSTBOARD_HOME"] = str(folder / "home")
        record = large_board(coupons, inspections)
        add_photos(record, board)
        before = highest_mb()
        forms = [FormWanted(kind, ENDINGS[kind][0]) for kind in FORM_KINDS]
        request = ReportRequest(record, START + timedelta(days=400), "Ann", folder=board)
        began = time.perf_counter()
        write_forms(request, targets_of(folder, "report", forms), frozenset(), Progress())
        return {"before": before, "highest": highest_mb(), "seconds": time.perf_counter() - began}


def highest_mb() -> float:
    """Return the most memory that this process has held so far, MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e6


def child(*arguments: str) -> str:
    """Run a part in a process of its own and return the last line it wrote."""
    run = subprocess.run([sys.executable, str(HERE), *arguments], capture_output=True, text=True, check=False)
    if run.returncode:
        raise RuntimeError(run.stderr[-2000:])
    return (run.stdout.splitlines() or [""])[-1]


def measure_memory(coupons: int, inspections: int, board: Path) -> None:
    """Write the whole report in a new process and say what it took.

    To be called while this process is small: Linux counts what a process held when it was split off its parent.
    """
    found = json.loads(child("--memory", str(coupons), str(inspections), str(board)))
    verdict = "kept" if found["highest"] <= ALLOWED_MB else "MISSED"
    say(
        f"memory of the whole report in all its forms: {found['highest']:.0f} MB at the highest "
        f"({found['before']:.0f} MB before it began), allowed {ALLOWED_MB:.0f} MB, {verdict}; "
        f"{found['seconds']:.1f} s, photos of 12 megapixels decoded"
    )


def measure_time(coupons: int, inspections: int, board: Path, folder: Path) -> None:
    """Write the workbook without pictures and with them, each beside the same cells bare."""
    record = large_board(coupons, inspections)
    began = time.perf_counter()
    content = gathered(record, None)
    say(f"{coupons} x {inspections} grades; worked out in {time.perf_counter() - began:.2f} s")
    compare("without pictures", content, folder)
    add_photos(record, board)
    began = time.perf_counter()
    seen = gathered(record, board).pictures
    say(f"with pictures worked out in {time.perf_counter() - began:.2f} s")
    compare("with pictures", replace(content, pictures=seen), folder)


def main() -> None:
    """Measure memory, then time; or carry out one part in a process of its own."""
    what = sys.argv[1] if len(sys.argv) > 1 else ""
    if what == "--photos":
        make_photos(Path(sys.argv[2]), int(sys.argv[3]))
        return
    if what == "--memory":
        say(json.dumps(whole_report(int(sys.argv[2]), int(sys.argv[3]), Path(sys.argv[4]))))
        return
    coupons, inspections, pictures = map(int, sys.argv[1:4]) if len(sys.argv) > 3 else SIZES
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ["RUSTBOARD_HOME"] = str(folder / "home")
        child("--photos", str(folder / "board"), str(pictures))
        measure_memory(coupons, inspections, folder / "board")
        measure_time(coupons, inspections, folder / "board", folder)


if __name__ == "__main__":
    main()
