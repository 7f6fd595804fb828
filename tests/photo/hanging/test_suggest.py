"""Outlines suggested from the straightened board, and one outline copied to the other places."""

import cv2
import numpy as np
import pytest
from hung_boards import BOARD_MM, GREY, STEEL, WOOD, Hung, disc, grid_of, moved, painted, rectangle
from PIL import Image

from rustboard.board.position import Position
from rustboard.photo.crops import cut_board
from rustboard.photo.hanging.suggest import suggest_outlines
from rustboard.photo.looks import Motion

PLACES = [Position(row, column) for row in range(2) for column in range(6)]


def board_of(shape, board=WOOD, **how):
    random = np.random.default_rng(1)
    hung = [Hung(o, STEEL, Motion(0, 0, random.uniform(-3, 3)), **how) for o in grid_of(shape, 2, 6)]
    scene = painted(hung, seed=1, board=board, grain=0.06)
    straight = cut_board(Image.fromarray(scene.rgb), scene.placement.mm_to_px, *BOARD_MM, 1400)
    return scene, straight


def overlap(one, other):
    canvas = [np.zeros((800, 1400), np.uint8) for _ in range(2)]
    for each, outline in zip(canvas, (one, other), strict=True):
        cv2.fillPoly(each, [np.round(np.asarray(outline) * 2).astype(np.int32)], 1)
    return (canvas[0] & canvas[1]).sum() / (canvas[0] | canvas[1]).sum()


@pytest.mark.parametrize(
    ("shape", "kind"),
    [
        (lambda x, y: rectangle(x - 30, y - 60, 60, 120), "rectangle"),
        (lambda x, y: disc(x, y, 35), "disc"),
        (lambda x, y: ((x - 35, y - 50), (x + 35, y - 50), (x, y + 60)), "polygon"),
    ],
)
def test_every_coupon_is_suggested_in_its_own_shape(shape, kind):
    scene, straight = board_of(shape)
    found = suggest_outlines(straight, 2.0, 2, 6, PLACES)
    assert [each.position for each in found] == PLACES
    assert {each.shape for each in found} == {kind}
    for each, frame in zip(found, scene.frames, strict=True):
        true = moved(frame.outline_mm, scene.motions[frame.coupon], frame.middle_mm)
        assert overlap(each.outline_mm, true) > 0.93


def test_a_bare_board_suggests_nothing_certain():
    _, straight = board_of(lambda x, y: rectangle(x - 30, y - 60, 60, 120), GREY, missing=True)
    found = suggest_outlines(straight, 2.0, 2, 6, PLACES)
    assert all(each.certainty < 0.6 for each in found)
