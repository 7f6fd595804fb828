"""The report on pages and in pictures, written whole or not at all."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from xml.etree import ElementTree

import pytest
from judged_boards import judged_board

from rustboard.report.content import ReportContent
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.report_pages import write_one_page, write_pdf, write_picture
from rustboard.session.reporting import ReportRequest, gather_content
from rustboard.support.problems import InputError


@pytest.fixture(scope="module")
def content() -> ReportContent:
    record = judged_board({"wax": [[9, 8], [9, 7]], "oil": [[8, 5], [7, 4]]}, days=(7, 30))
    return gather_content(ReportRequest(record, datetime(2026, 5, 1, 12)), Progress())


def stopped() -> Progress:
    progress = Progress()
    progress.cancel()
    return progress


def test_each_form_is_written_where_it_was_wanted(content: ReportContent, tmp_path: Path) -> None:
    assert write_pdf(content, tmp_path / "r.pdf", Progress()).read_bytes().startswith(b"%PDF")
    for which in ("board", "timeline"):
        png = write_picture(content, which, tmp_path / f"{which}.png", Progress())  # type: ignore[arg-type]
        assert png.read_bytes().startswith(b"\x89PNG")
        svg = write_picture(content, which, tmp_path / f"{which}.svg", Progress(), width_px=500)  # type: ignore[arg-type]
        assert ElementTree.fromstring(svg.read_bytes()).get("width") == "500"


def test_a_summary_has_a_twin_of_its_words(content: ReportContent, tmp_path: Path) -> None:
    write_one_page(content, tmp_path / "shop wall.png", Progress())
    words = (tmp_path / "shop wall.txt").read_text("utf-8")
    assert words.startswith("Wall\n")
    assert "wax" in words
    assert sorted(each.name for each in tmp_path.iterdir()) == ["shop wall.png", "shop wall.txt"]


def write_board(content: ReportContent, path: Path, progress: Progress) -> Path:
    return write_picture(content, "board", path, progress)


@pytest.mark.parametrize("name", ["r.pdf", "o.pdf", "p.png"])
def test_stopped_it_leaves_the_file_as_it_was(content: ReportContent, name: str, tmp_path: Path) -> None:
    path = tmp_path / name
    path.write_text("older")
    write = {"r.pdf": write_pdf, "o.pdf": write_one_page, "p.png": write_board}[name]
    with pytest.raises(Cancelled):
        write(content, path, stopped())
    assert path.read_text() == "older"
    assert list(tmp_path.iterdir()) == [path]


def test_progress_ends_at_its_end(content: ReportContent, tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    write_pdf(content, tmp_path / "r.pdf", Progress(lambda done, total: told.append((done, total))))
    assert told[-1][0] == told[-1][1]
    assert all(done <= total for done, total in told)


def test_what_cannot_be_written_is_said_in_a_sentence(content: ReportContent, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="does not exist"):
        write_pdf(content, tmp_path / "none" / "r.pdf", Progress())
    with pytest.raises(InputError, match="does not exist"):
        write_one_page(content, tmp_path / "none" / "r.pdf", Progress())
    with pytest.raises(InputError, match=r"\.png or \.svg"):
        write_picture(content, "board", tmp_path / "board.gif", Progress())
    with pytest.raises(InputError, match="wide"):
        write_picture(content, "board", tmp_path / "board.png", Progress(), width_px=5)
