"""Measuring and showing what a stranger's board file says of photos and coupons: a sentence, never an accident."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing

import numpy as np
import pytest
from painted_boards import board_of, measured, painted

from rustboard.photo.finding.board import find_board
from rustboard.session import mask_views
from rustboard.session.board_views import board_view, board_view_request
from rustboard.session.jobs import Progress
from rustboard.session.mask_views import mask_request, mask_view
from rustboard.session.placing import find_board_in, find_request, place_by_taps
from rustboard.session.session import Session
from rustboard.support.problems import InputError


@pytest.fixture(scope="module")
def base(tmp_path_factory):
    folder = tmp_path_factory.mktemp("hostile")
    with closing(board_of(folder / "board", painted(), 2)) as session:
        measured(session, folder / "cache")
    return folder


CHANGES = [
    "update measurement set motion = '[0, 0, 0, 0]'",
    "update measurement set motion = '[100000, 100000, 100000, 100000]'",
    "update photo set mm_to_px = '[0, 0, 0, 0, 0, 0, 0, 0, 0]'",
    "update photo set mm_to_px = '[1e300, 0, 0, 0, 1e300, 0, 0, 0, 1]'",
    "update photo set mm_to_px = '[1e-9, 0, 0, 0, 1e-9, 0, 0, 0, 1]'",
    "update photo set mm_to_px = '[1000, 0, 0, 0, 1000, 0, 0, 0, 1]'",
    "update photo set mm_to_px = '[1, 0, 0, 0, 1, 0, -0.01, 0, 1]'",
    "update photo set width_px = 1, height_px = 1",
    "update coupon set outline_mm = '[[0, 0], [100000, 0], [100000, 100000], [0, 100000]]'",
    "update coupon set outline_mm = '[[0, 0], [1e-9, 0], [1e-9, 1e-9], [0, 1e-9]]'",
    "update coupon set outline_mm = '[[0, 0], [10, 0], [20, 0]]'",
]


def told(work):
    """Do some work; whatever is refused must be refused with a sentence."""
    try:
        work()
    except InputError as error:
        return str(error)
    return ""


@pytest.mark.parametrize("change", CHANGES)
def test_a_planted_place_or_outline_ends_in_a_sentence_at_most(base, tmp_path, monkeypatch, change):
    monkeypatch.setattr(mask_views, "cache_folder", lambda: base / "cache")
    folder = tmp_path / "board"
    shutil.copytree(base / "board", folder)
    with closing(sqlite3.connect(folder / "board.rustboard")) as file:
        assert file.execute(change).rowcount > 0
        file.commit()
    with closing(Session(folder)) as session:
        photo, coupon = next(iter(session.record.photos.values())), next(iter(session.record.coupons))
        masks, board = mask_request(session, photo, coupon), board_view_request(session, photo, 400)
        find = find_request(session, photo)
        said = [
            told(lambda: mask_view(masks, Progress())) if masks else "",
            told(lambda: board_view(board, Progress())),
        ]
        said += [told(lambda: find_board_in(find, Progress())), told(lambda: measured(session, tmp_path / "cache"))]
        assert all(each == "" or each.endswith(".") for each in said)


@pytest.mark.parametrize(
    ("table", "corners"), [("excluded_area", "[]"), ("card", "[]"), ("card", "[[1, 1], [2, 2]]")]
)
def test_an_area_without_corners_refuses_the_board(base, tmp_path, table, corners):
    folder = tmp_path / "board"
    shutil.copytree(base / "board", folder)
    with closing(sqlite3.connect(folder / "board.rustboard")) as file:
        if table == "card":
            file.execute("insert into card (kind, outline_mm) values ('grey card', ?)", (corners,))
        else:
            file.execute("insert into excluded_area (coupon, kind, outline_mm) values (1, 'hole', ?)", (corners,))
        file.commit()
    with pytest.raises(InputError, match=f"Row 1 of the table {table} is damaged"):
        Session(folder)


@pytest.mark.parametrize("size", [(1, 5000), (5000, 1), (40, 60)])
def test_a_strip_of_pixels_is_no_photo_of_a_board(base, size):
    with closing(Session(base / "board")) as session:
        record = session.record
    with pytest.raises(InputError, match="too small"):
        find_board(np.zeros((*size, 3), np.uint8), record.board, record.markers)


@pytest.mark.parametrize(("corners", "words"), [
    ([(10, 10), (40, 10), (40, 30), (10, 30)], "too small"),
    ([(-4000, 10), (400, 10), (400, 900), (-4000, 900)], "outside this photo"),
])  # fmt: skip
def test_taps_by_which_nothing_could_be_measured_are_refused(base, corners, words):
    with closing(Session(base / "board")) as session:
        photo = next(iter(session.record.photos.values()))
        with pytest.raises(InputError, match=words):
            place_by_taps(session.record, photo, corners)
