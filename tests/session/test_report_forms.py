"""A report in several forms: gathered once, told step by step, and all put in place or none."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from session_boards import prepared

from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.report.choice import ReportChoice, Shop
from rustboard.session import reporting
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.report_forms import STEP_PARTS, step_names, write_forms
from rustboard.session.report_forms_wanted import FORM_KINDS, FormTarget, FormWanted, targets_of
from rustboard.session.report_requests import looked_at_request, report_request
from rustboard.session.report_targets import TargetHeldError
from rustboard.support.problems import InputError

MADE = datetime(2026, 5, 1, 17, 30)
FORMS = (
    FormWanted("workbook", ".xlsx"),
    FormWanted("pdf", ".pdf"),
    FormWanted("one page", ".png"),
    FormWanted("board", ".svg"),
    FormWanted("timeline", ".png"),
    FormWanted("data", ""),
)


@pytest.fixture
def request_(tmp_path):
    session = prepared(tmp_path / "board")
    for coupon, grade in ((1, 9), (2, 7), (3, 2)):
        session.do(grade_coupon, GivenGrade(coupon, 2, grade, "G"))
    yield report_request(session, ReportChoice(), Shop("Salt"), "Ann", MADE)
    session.close()


@pytest.fixture
def out(tmp_path) -> Path:
    folder = tmp_path / "out"
    folder.mkdir()
    return folder


def contents(folder: Path) -> dict[str, bytes]:
    return {str(each.relative_to(folder)): each.read_bytes() for each in folder.rglob("*") if each.is_file()}


def targets(out: Path) -> tuple[FormTarget, ...]:
    return targets_of(out, "report", FORMS)


class Stopping(Progress):
    """Asks to stop at the first step at or behind a place."""

    def __init__(self, at: int) -> None:
        super().__init__()
        self._at = at

    def step(self, done: int, total: int) -> None:
        if done >= self._at:
            self.cancel()
        super().step(done, total)


def test_the_words_of_the_summary_lie_beside_it(request_, out):
    files = write_forms(request_, targets(out), frozenset(), Progress())
    words = out / "report, one page.txt"
    assert words in files
    assert "Salt" in words.read_text("utf-8")


def test_every_form_there_is_can_be_written_and_all_are_listed(request_, out):
    assert {each.kind for each in FORMS} == set(FORM_KINDS)
    files = write_forms(request_, targets(out), frozenset(), Progress())
    assert {str(each.relative_to(out)) for each in files} == set(contents(out))
    begins = {each.suffix: each.read_bytes()[:5] for each in files}
    assert (begins[".xlsx"][:2], begins[".pdf"], begins[".png"][1:4]) == (b"PK", b"%PDF-", b"PNG")
    assert b"<svg" in (out / "report, board.svg").read_bytes()[:400]
    assert "report, data/grades.csv" in contents(out)


def test_what_the_forms_are_written_from_is_gathered_once(request_, out, monkeypatch):
    gathered = []
    original = reporting.gather_content

    def counting(*arguments):
        gathered.append(1)
        return original(*arguments)

    monkeypatch.setattr(reporting, "gather_content", counting)
    write_forms(request_, targets(out), frozenset(), Progress())
    assert gathered == [1]


def test_progress_goes_through_every_step_and_never_back(request_, out):
    told: list[tuple[int, int]] = []
    write_forms(request_, targets(out), frozenset(), Progress(lambda done, total: told.append((done, total))))
    names = step_names(targets(out))
    assert {total for _, total in told} == {len(names) * STEP_PARTS}
    assert [done for done, _ in told] == sorted(done for done, _ in told)
    assert {done // STEP_PARTS for done, _ in told} == set(range(len(names)))


@pytest.mark.parametrize("step", range(len(FORMS) + 2))
def test_stopped_at_any_step_all_old_files_are_as_they_were(request_, out, step):
    (out / "report.xlsx").write_bytes(b"old")
    (out / "report, data").mkdir()
    (out / "report, data" / "grades.csv").write_bytes(b"old too")
    before = contents(out)
    with pytest.raises(Cancelled):
        write_forms(request_, targets(out), frozenset(), Stopping(step * STEP_PARTS))
    assert contents(out) == before
    assert sorted(each.name for each in out.iterdir()) == ["report, data", "report.xlsx"]


def test_one_form_that_cannot_be_written_leaves_all_as_they_were(request_, out):
    (out / "report.xlsx").write_bytes(b"old")
    (out / "report, timeline.png").mkdir()
    with pytest.raises(InputError, match=r"^report, timeline\.png: A folder has this name"):
        write_forms(request_, targets(out), frozenset(), Progress())
    assert contents(out) == {"report.xlsx": b"old"}


def test_a_file_open_elsewhere_is_told_before_anything_is_worked_out(request_, out, monkeypatch):
    (out / "report.pdf").write_bytes(b"old")
    (out / ".~lock.report.pdf#").write_text("Mara,,,;", encoding="utf-8")
    monkeypatch.setattr(reporting, "gather_content", None)
    with pytest.raises(TargetHeldError) as caught:
        write_forms(request_, targets(out), frozenset(), Progress())
    assert caught.value.held.path == out / "report.pdf"
    monkeypatch.undo()
    write_forms(request_, targets(out), frozenset({out / "report.pdf"}), Progress())
    assert (out / "report.pdf").read_bytes()[:5] == b"%PDF-"


def test_a_board_that_is_only_looked_at_gives_the_same_report(request_, out, tmp_path):
    first, second = out / "first.xlsx", out / "second.xlsx"
    looked = looked_at_request(tmp_path / "board", Shop("Salt"), MADE)
    write_forms(request_, (FormTarget("workbook", first),), frozenset(), Progress())
    write_forms(replace(looked, by="Ann"), (FormTarget("workbook", second),), frozenset(), Progress())
    assert first.read_bytes() == second.read_bytes()
