"""Pictures made beside the window: coupons cut from photos, references drawn at the size they are shown."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from rustboard.board.model import Board, Coupon
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.pictures import (
    CutRequest,
    GuideRequest,
    cut_pictures,
    guide_picture,
    guide_pictures,
    outline_on_board,
)
from rustboard.support.problems import InputError

ONE_PX_A_MM = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)
LEFT = ((10.0, 10.0), (40.0, 10.0), (40.0, 60.0), (10.0, 60.0))
RIGHT = ((60.0, 10.0), (90.0, 10.0), (90.0, 60.0), (60.0, 60.0))
BEYOND = ((500.0, 10.0), (540.0, 10.0), (540.0, 60.0))


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    """100 x 70 px: red at the left, blue at the right."""
    pixels = np.zeros((70, 100, 3), np.uint8)
    pixels[:, :50, 0] = 200
    pixels[:, 50:, 2] = 200
    stream = io.BytesIO()
    Image.fromarray(pixels).save(stream, "PNG")
    path = tmp_path / "a.png"
    path.write_bytes(stream.getvalue())
    return path


def request_for(photo: Path, **outlines) -> CutRequest:
    return CutRequest(1, photo, "IMG_1.png", ONE_PX_A_MM, {int(key[1:]): shape for key, shape in outlines.items()})


def test_each_coupon_is_cut_by_its_outline(photo):
    found = cut_pictures(request_for(photo, c1=LEFT, c2=RIGHT), Progress())
    assert set(found) == {1, 2}
    assert found[1].rgb[found[1].mask].mean(axis=0).round().tolist() == [200, 0, 0]
    assert found[2].rgb[found[2].mask].mean(axis=0).round().tolist() == [0, 0, 200]


def test_a_coupon_that_the_photo_does_not_show_is_left_out(photo):
    assert set(cut_pictures(request_for(photo, c1=LEFT, c3=BEYOND), Progress())) == {1}


def test_a_photo_that_cannot_be_read_is_told_by_the_name_the_user_knows(tmp_path):
    (tmp_path / "b.png").write_bytes(b"nothing of the kind")
    with pytest.raises(InputError, match=r"^IMG_1\.png: "):
        cut_pictures(request_for(tmp_path / "b.png", c1=LEFT), Progress())
    with pytest.raises(InputError):
        cut_pictures(request_for(tmp_path / "gone.png", c1=LEFT), Progress())


def test_cutting_stops_between_coupons_when_it_is_cancelled(photo):
    steps = []

    def after_one(done: int, total: int) -> None:
        steps.append((done, total))
        progress.cancel()

    progress = Progress(after_one)
    with pytest.raises(Cancelled):
        cut_pictures(request_for(photo, c1=LEFT, c2=RIGHT), progress)
    assert steps == [(0, 2)]


# ---- outlines


def test_an_outline_that_is_given_is_used_as_it_is():
    record = BoardRecord(Board("b", width_mm=700, height_mm=300))
    assert outline_on_board(record, Coupon("C1", Position(0, 0), outline_mm=LEFT)) == LEFT


def test_a_coupon_without_an_outline_has_four_fifths_of_its_cell():
    record = BoardRecord(Board("b", rows=3, columns=7, width_mm=700, height_mm=300))
    # A cell is 100 x 100 mm; B3's begins at 200, 100.
    assert outline_on_board(record, Coupon("C1", Position(1, 2))) == (
        (210.0, 110.0),
        (290.0, 110.0),
        (290.0, 190.0),
        (210.0, 190.0),
    )


@pytest.mark.parametrize(
    ("board", "position"),
    [
        (Board("b"), Position(0, 0)),
        (Board("b", width_mm=700), Position(0, 0)),
        (Board("b", width_mm=7, height_mm=3), None),
    ],
    ids=["board without a size", "board without a height", "coupon off the board"],
)
def test_without_a_place_of_known_size_there_is_no_outline(board, position):
    assert outline_on_board(BoardRecord(board), Coupon("C1", position)) == ()


# ---- references


@pytest.mark.parametrize("pattern", ["S", "G", "P"])
@pytest.mark.parametrize("at", ["lightest", "middle", "heaviest"])
def test_there_is_a_reference_for_every_grade_at_the_height_asked_for(pattern, at):
    steps = []
    found = guide_pictures(GuideRequest(pattern, at, 120), Progress(lambda done, total: steps.append(done)))
    assert [each.grade for each in found] == list(range(11))
    assert {each.rgb.shape[0] for each in found} == {120}
    assert all(each.mask is None for each in found)
    percents = [each.percent for each in found]
    assert percents == sorted(percents, reverse=True)
    assert steps == list(range(11))


def test_a_reference_is_the_same_each_time():
    one, two = (guide_pictures(GuideRequest("S", "middle", 80), Progress()) for _ in range(2))
    assert all(np.array_equal(a.rgb, b.rgb) for a, b in zip(one, two, strict=True))


def test_one_reference_is_drawn_no_larger_than_it_is():
    found = guide_picture(GuideRequest("G", "middle", 100_000), 4, Progress())
    again = guide_pictures(GuideRequest("G", "middle", 100_000), Progress())[4]
    assert found.rgb.shape == again.rgb.shape
    assert found.rgb.shape[0] < 5_000


def test_a_reference_on_a_coupon_without_a_photo_has_its_shape():
    found = guide_pictures(GuideRequest("S", "middle", 100, None, LEFT, 2.0), Progress())
    height, width = found[5].rgb.shape[:2]
    assert width / height == pytest.approx((30 + 4) / (50 + 4), rel=0.02)  # outline and 2 mm around it
    assert found[5].mask is not None
    share = (30 * 50) / ((30 + 4) * (50 + 4))
    assert found[5].mask.mean() == pytest.approx(share, abs=0.03)


def test_a_reference_on_a_coupon_is_painted_on_its_picture(photo):
    request = request_for(photo, c1=LEFT)
    found = guide_pictures(GuideRequest("S", "middle", 200, request, LEFT, 0.0), Progress())
    ten = found[10]
    assert np.median(ten.rgb[ten.mask], axis=0).tolist() == [200, 0, 0]


def test_a_coupon_of_which_nothing_counts_is_a_sentence():
    with pytest.raises(InputError, match="Nothing of this coupon counts"):
        guide_pictures(GuideRequest("S", "middle", 100, None, LEFT, 400.0), Progress())


def test_drawing_stops_when_it_is_cancelled():
    progress = Progress()
    progress.cancel()
    with pytest.raises(Cancelled):
        guide_pictures(GuideRequest("S", "middle", 100), progress)
