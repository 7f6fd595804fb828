"""``rustboard measure``, from a plan and photos to JSON."""

from __future__ import annotations

import json
import sys
from contextlib import closing
from pathlib import Path

import pytest
from command_line import Rustboard

from rustboard.operations.blind import BlindChoice, start_blind
from rustboard.session.session import Session

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "session"))

from painted_boards import PHOTOS, painted


@pytest.fixture
def exposed(tmp_path: Path, rustboard: Rustboard) -> Path:
    """A board with painted photos, made by the commands alone."""
    (tmp_path / "plan.json").write_text(json.dumps(painted().plan), encoding="utf-8")
    camera = tmp_path / "camera"
    camera.mkdir()
    for photo in painted().photos:
        (camera / photo.name).write_bytes(photo.jpeg)
    assert rustboard("new", tmp_path / "board", "--plan", tmp_path / "plan.json").code == 0
    assert rustboard("add-photos", tmp_path / "board", camera).code == 0
    return tmp_path / "board"


def test_measuring_says_for_every_photo_and_coupon_what_was_found(rustboard: Rustboard, exposed: Path) -> None:
    finished = rustboard("measure", exposed, "--json")
    assert (finished.code, finished.data["problems"]) == (0, [])
    assert list(finished.data) == ["board", "photos", "problems"]
    photos = finished.data["photos"]
    assert [each["file"] for each in photos] == [each.name for each in painted().photos]
    assert [each["taken"] for each in photos] == [each.taken.isoformat() for each in painted().photos]
    for each in photos:
        assert list(each) == ["file", "taken", "registered", "registration_error_px", "warnings", "coupons"]
        assert each["registered"] is True
        assert each["registration_error_px"] < 1.5
        assert each["coupons"].keys() == {coupon["id"] for coupon in painted().plan["coupons"]}
    coupon = photos[-1]["coupons"][painted().plan["coupons"][0]["id"]]
    assert list(coupon) == [
        "percent", "low", "high", "grade", "distribution", "debris_percent", "unseen_percent", "resolvable_percent",
        "warnings",
    ]  # fmt: skip
    assert coupon["low"] <= coupon["percent"] <= coupon["high"]


def test_a_second_run_says_the_same(rustboard: Rustboard, exposed: Path) -> None:
    first, second = (rustboard("measure", exposed, "--json") for _ in range(2))
    assert first.data == second.data


def test_people_get_the_newest_photo_as_a_table(rustboard: Rustboard, exposed: Path) -> None:
    finished = rustboard("measure", exposed)
    newest = painted().photos[-1]
    assert f"{PHOTOS} of {PHOTOS} photos measured; the newest, {newest.name} of" in finished.out
    assert all(coupon["id"] in finished.out for coupon in painted().plan["coupons"])


def test_what_is_graded_blind_just_now_is_not_told(rustboard: Rustboard, exposed: Path) -> None:
    with closing(Session(exposed)) as session:
        newest = max(session.record.photos.values(), key=lambda each: each.taken)
        session.do(start_blind, BlindChoice(newest.inspection, "bench"))
    hidden = rustboard("measure", exposed, "--json").data["photos"][-1]
    assert (hidden["file"], hidden["coupons"]) == (newest.name, {})
    assert "graded blind just now; its figures are told when it is revealed" in hidden["warnings"]
    told = rustboard("measure", exposed).out
    assert newest.name not in told
    assert painted().photos[-2].name in told


def test_a_board_without_photos_has_nothing_measured(rustboard: Rustboard, tmp_path: Path) -> None:
    (tmp_path / "plan.json").write_text(json.dumps(painted().plan), encoding="utf-8")
    rustboard("new", tmp_path / "board", "--plan", tmp_path / "plan.json")
    finished = rustboard("measure", tmp_path / "board")
    assert (finished.code, "Nothing is measured" in finished.out) == (0, True)


def test_a_photo_without_the_board_is_refused_with_its_reason_and_the_rest_is_measured(
    rustboard: Rustboard, exposed: Path, tmp_path: Path
) -> None:
    import io

    import numpy as np
    from PIL import Image

    other = io.BytesIO()
    Image.fromarray(np.random.default_rng(1).integers(0, 256, (900, 1200, 3), dtype=np.uint8)).save(other, "PNG")
    (tmp_path / "cat.png").write_bytes(other.getvalue())
    rustboard("add-photos", exposed, tmp_path / "cat.png", "--taken", "2026-12-01T10:00")
    finished = rustboard("measure", exposed, "--json")
    assert finished.code == 1
    (problem,) = finished.data["problems"]
    assert problem["file"] == "cat.png"
    assert "tap the four corners" in problem["sentence"]
    refused = next(each for each in finished.data["photos"] if each["file"] == "cat.png")
    assert (refused["registered"], refused["coupons"], refused["warnings"]) == (False, {}, [problem["what"]])
    again = rustboard("measure", exposed, "--json")
    assert (again.code, again.data["photos"]) == (1, finished.data["photos"])


def test_a_photo_that_was_never_looked_at_has_no_empty_warning(rustboard: Rustboard, exposed: Path) -> None:
    lost = sorted((exposed / "photos").iterdir())[-1]
    lost.unlink()
    finished = rustboard("measure", exposed, "--json")
    assert finished.code == 1
    assert [each["what"].split(";")[0] for each in finished.data["problems"]] == ["This photo is missing"]
    assert finished.data["photos"][-1]["registered"] is False
    assert finished.data["photos"][-1]["warnings"] == []


def test_there_must_be_a_board(rustboard: Rustboard, tmp_path: Path) -> None:
    assert rustboard("measure", tmp_path / "nowhere").code == 2
