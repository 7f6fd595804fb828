"""A coupon made ready for any percent, beside the window: which ground, which surface, and what makes two alike."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from rustboard.scales.panels import PANEL_SHAPE
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.pictures import (
    CutRequest,
    GuideRequest,
    growing_picture,
    guide_picture,
    picture_shape,
    same_cut,
    same_guide,
)
from rustboard.support.problems import InputError

PLATE = ((5.0, 5.0), (35.0, 5.0), (35.0, 55.0), (5.0, 55.0))
TEN_PX_A_MM = (10.0, 0.0, 0.0, 0.0, 10.0, 0.0, 0.0, 0.0, 1.0)
MARGIN_MM = 3.0


@pytest.fixture
def cut(tmp_path: Path) -> CutRequest:
    """A coupon of plain blue in a photo of 40 x 60 mm."""
    stream = io.BytesIO()
    Image.new("RGB", (400, 600), (0, 0, 200)).save(stream, "PNG")
    path = tmp_path / "a.png"
    path.write_bytes(stream.getvalue())
    return CutRequest(1, path, "IMG_1.png", TEN_PX_A_MM, {1: PLATE})


@pytest.mark.parametrize("percent", [0.005, 0.3, 12.0, 100.0])
def test_on_its_own_photo_the_percent_of_what_counts_is_painted_and_nothing_of_the_edge(cut, percent):
    growing = growing_picture(GuideRequest("G", "middle", 0, cut, PLATE, MARGIN_MM), Progress())
    painted = growing.painted(percent)
    changed = painted != growing.ground
    assert changed.sum() / growing.places.size * 100 == pytest.approx(percent, rel=0.01)
    shown = growing.ground != 0
    counted_mm2 = (30 - 2 * MARGIN_MM) * (50 - 2 * MARGIN_MM)
    assert growing.places.size / shown.sum() == pytest.approx(counted_mm2 / (30 * 50), rel=0.01)
    assert not (changed & ~shown).any()
    assert set(np.unique(growing.ground[shown])) == {0xFF0000C8}, "the photo's own blue"


@pytest.mark.parametrize("photographed", [True, False])
def test_nothing_is_painted_on_an_area_that_does_not_count(cut, photographed):
    label = ((10.0, 10.0), (30.0, 10.0), (30.0, 20.0), (10.0, 20.0))  # 20 x 10 mm of the 30 x 50
    whole = GuideRequest("G", "middle", 0, cut if photographed else None, PLATE)
    left_out = replace(whole, excluded=(label, ((0.0, 0.0), (1.0, 1.0))))
    sizes = [growing_picture(each, Progress()) for each in (whole, left_out)]
    seen = [int((each.ground != 0).sum()) for each in sizes]
    counted = [each.places.size / pixels for each, pixels in zip(sizes, seen, strict=True)]
    assert counted == pytest.approx([1.0, 1 - 20 * 10 / (30 * 50)], rel=0.01)
    painted = sizes[1].painted(100) != sizes[1].ground
    height, width = painted.shape
    # The middle of the label; the picture has 2 mm of margin around the coupon.
    assert not painted[round((2 + 10) / 54 * height), round((2 + 15) / 34 * width)]
    assert painted[round((2 + 30) / 54 * height), round((2 + 15) / 34 * width)]


def test_it_has_the_same_spots_as_the_reference_picture_of_that_percent(cut):
    request = GuideRequest("S", "middle", 10_000, cut, PLATE, MARGIN_MM)
    reference = guide_picture(request, 4, Progress())
    painted = growing_picture(request, Progress()).painted(reference.percent)
    assert np.array_equal(painted[reference.mask] & 0xFF, reference.rgb[reference.mask][:, 2])


def test_without_a_photo_it_is_plain_steel_of_the_coupons_shape():
    growing = growing_picture(GuideRequest("P", "middle", 0, None, PLATE, 0.0), Progress())
    height, width = growing.ground.shape
    shape = picture_shape(PLATE)
    assert width / height == pytest.approx(shape[0] / shape[1], rel=0.01)


def test_without_an_outline_it_is_the_plain_plate():
    growing = growing_picture(GuideRequest("P", "middle", 0), Progress())
    assert growing.ground.shape == PANEL_SHAPE
    width, height = picture_shape(())
    assert PANEL_SHAPE[1] / PANEL_SHAPE[0] == width / height


def test_the_place_kept_for_a_picture_has_the_shape_of_the_picture_that_comes(cut):
    growing = growing_picture(GuideRequest("G", "middle", 0, cut, PLATE, MARGIN_MM), Progress())
    width, height = picture_shape(PLATE)
    assert growing.ground.shape[1] / growing.ground.shape[0] == pytest.approx(width / height, rel=0.01)


def test_a_coupon_of_which_nothing_counts_or_whose_photo_is_gone_is_a_sentence(cut):
    with pytest.raises(InputError, match="Nothing of this coupon counts"):
        growing_picture(GuideRequest("S", "middle", 0, cut, PLATE, 400.0), Progress())
    cut.file.unlink()
    with pytest.raises(InputError):
        growing_picture(GuideRequest("S", "middle", 0, cut, PLATE), Progress())


def test_it_stops_when_it_is_cancelled(cut):
    progress = Progress()
    progress.cancel()
    with pytest.raises(Cancelled):
        growing_picture(GuideRequest("S", "middle", 0, cut, PLATE), progress)


def test_requests_are_the_same_when_all_that_shows_is_the_same(cut):
    request = GuideRequest("S", "middle", 100, cut, PLATE, MARGIN_MM)
    assert same_guide(request) == same_guide(replace(request, coupon=replace(cut), height_px=7))
    hash(same_guide(request))
    others = [
        replace(request, pattern="G"), replace(request, at="heaviest"), replace(request, outline=()),
        replace(request, margin_mm=0.0), replace(request, coupon=None), replace(request, excluded=(PLATE,)),
        *(replace(request, coupon=each) for each in (
            replace(cut, photo=2), replace(cut, sha256="f" * 64), replace(cut, longest_px=99),
            replace(cut, outlines={2: PLATE}), replace(cut, mm_to_px=(9.0, *TEN_PX_A_MM[1:])),
            replace(cut, file=cut.file.with_name("b.png")),
        )),
    ]  # fmt: skip
    assert len({same_guide(each) for each in (request, *others)}) == len(others) + 1
    assert same_cut(None) == ()
