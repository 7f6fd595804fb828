"""One hostile packed board tried as a user would: looked into, unpacked, read, checked, judged, graded."""

from __future__ import annotations

import hashlib
import shutil
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from pack_tools import Parts, parts_of
from pack_variants import Variant, Variants
from whole_board import NOW, clock, whole_board

from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.session.jobs import Progress
from rustboard.session.looking import look_at_board
from rustboard.session.packing import look_into_pack, pack_board, unpack_board
from rustboard.session.session import Session
from rustboard.store.check import check_board
from rustboard.store.shelf_row import read_shelf_row
from rustboard.support.problems import InputError

LATER = datetime(2026, 6, 1, 9)
LONGEST_SECONDS = 60.0
DEEPLY_EVERY = 12


@dataclass
class Yard:
    """A place to try things: boards that are there already, and a tree beside them that nobody may touch."""

    root: Path
    parts: Parts
    sound: bytes
    outcomes: Counter[tuple[str, str]] = field(default_factory=Counter)
    slowest: tuple[float, str] = (0.0, "")

    @property
    def boards(self) -> Path:
        return self.root / "boards"

    @property
    def workshop(self) -> Path:
        return self.root / "workshop"

    def variants(self, seed: int = 1) -> Variants:
        return Variants(self.parts, self.sound, self.workshop, seed)


def lay_out(root: Path) -> Yard:
    """Make a place with one board of the name that the hostile ones have, a canary tree, and a sound packed board."""
    for name in ("boards", "canary/deep", "workshop", "tmp", "sent"):
        (root / name).mkdir(parents=True)
    (root / "canary" / "deep" / "note.txt").write_text("untouched", encoding="utf-8")
    (root / "out").write_text("untouched", encoding="utf-8")
    board = whole_board(root / "boards" / "Harbour wall")
    pack = root / "sent" / "sound.rustboard-pack"
    pack_board(board, pack, clock=clock)
    return Yard(root, parts_of(pack), pack.read_bytes())


@contextmanager
def temporary_files_in(yard: Yard) -> Iterator[None]:
    """Let everything temporary be made inside the place, so that what remains of it is seen."""
    before, tempfile.tempdir = tempfile.tempdir, str(yard.root / "tmp")
    try:
        yield
    finally:
        tempfile.tempdir = before


def try_out(yard: Yard, variant: Variant, number: int = 0) -> str:
    """Do with a variant all that the program does with a received board; return how it ended.

    Raises:
        AssertionError: something was written or remains where it should not.
    """
    pack = yard.root / "sent" / "received.rustboard-pack"
    pack.write_bytes(variant.pack)
    before = tree(yard.root)
    started = time.perf_counter()
    deeply = number % DEEPLY_EVERY == 0
    outcome = _received(yard, pack, deeply)
    if variant.board is not None:
        outcome += ", " + _as_a_folder(yard, variant, deeply)
    took = time.perf_counter() - started
    assert tree(yard.root) == before, f"something else changed: {variant.kind}, {variant.name}"
    assert took < LONGEST_SECONDS, f"{variant.kind}, {variant.name}: {took:.1f} s"
    yard.slowest = max(yard.slowest, (took, f"{variant.kind}, {variant.name}"))
    yard.outcomes[variant.kind, outcome] += 1
    pack.unlink()
    return outcome


def _received(yard: Yard, pack: Path, deeply: bool) -> str:
    looked = _attempt(lambda: look_into_pack(pack, yard.boards))
    try:
        result = unpack_board(pack, yard.boards)
    except InputError as error:
        refusal = str(error)
    else:
        refusal = ""
    if refusal:
        # A look reads all but the photos.
        assert not looked or "a file in it" in refusal, f"looked sound and was refused: {refusal}"
        return "refused"
    try:
        assert looked, "refused at the look and unpacked all the same"
        assert result.folder.parent == yard.boards
        assert sorted(each.name for each in result.folder.iterdir()) in (
            ["board.rustboard"],
            ["board.rustboard", "photos"],
        )
        return f"opened, {_used(result.folder, deeply)}"
    finally:
        shutil.rmtree(result.folder)


def _as_a_folder(yard: Yard, variant: Variant, deeply: bool) -> str:
    folder = yard.boards / "plain"
    (folder / "photos").mkdir(parents=True)
    (folder / "board.rustboard").write_bytes(variant.board or b"")
    for name, content in yard.parts.photos.items():
        (folder / name).write_bytes(content)
    try:
        return f"as a folder {_used(folder, deeply)}"
    finally:
        shutil.rmtree(folder)


def _used(folder: Path, deeply: bool) -> str:
    """Use a board; anything but a refusal in a sentence goes through to whoever called."""
    works: list[Callable[[], object]] = [
        lambda: check_board(folder),
        lambda: read_shelf_row(folder),
        lambda: look_at_board(folder),
        lambda: _grade(folder),
    ]
    if deeply:
        works.extend([lambda: _judge(folder), lambda: _report(folder), lambda: _pack_again(folder)])
    went = [_attempt(each) for each in works]
    return "used" if all(went[2:4]) else "read only in part" if any(went) else "refused"


def _attempt(work: Callable[[], object]) -> bool:
    try:
        work()
    except InputError as error:
        return not str(error).strip()  # a refusal without a sentence is none
    return True


def _grade(folder: Path) -> None:
    with closing(Session(folder, who="Bo", clock=lambda: LATER)) as session:
        record = session.record
        coupon, inspection = min(record.coupons, default=1), min(record.inspections, default=1)
        session.do(grade_coupon, GivenGrade(coupon, inspection, 3, "S", grader="Bo"))
        session.audit()
        session.undo()


def _judge(folder: Path) -> None:
    from rustboard.session.findings import FindingsAsked, first_findings, view_of

    record = look_at_board(folder)
    first_findings(FindingsAsked(record, view_of(record)), Progress())


def _report(folder: Path) -> None:
    from rustboard.session.looking import look_at_weather
    from rustboard.session.reporting import write_whole_workbook

    record, weather = look_at_weather(folder)
    write_whole_workbook(record, folder / "report.xlsx", NOW, weather=weather)


def _pack_again(folder: Path) -> None:
    target = folder.parent / "again.rustboard-pack"
    try:
        pack_board(folder, target, clock=clock)
        look_into_pack(target, folder.parent / "nowhere")  # what we pack, we open
    finally:
        target.unlink(missing_ok=True)


def tree(root: Path) -> dict[str, str]:
    """Return everything in a tree with a hash of its content."""
    return {
        str(path.relative_to(root)): hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else "folder"
        for path in sorted(root.rglob("*"))
    }
