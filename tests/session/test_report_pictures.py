"""The pictures of a report: the right photos, scaled and bare; none that is missing or gives anything away."""

from __future__ import annotations

import io
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest
from painted_boards import PHOTOS, add_tied, board_of, measured, painted
from PIL import Image

from rustboard.board.blind import BlindInspection
from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.report.choice import ReportChoice, ReportPictures, writing_named
from rustboard.session import report_pictures as making
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.photo_files import photo_file
from rustboard.session.report_photos import chosen_photos, grades_in_words, shown_photos
from rustboard.session.report_pictures import COUPON_PX, LONG_PX, report_pictures
from rustboard.support import paths

GIVEN = ((10, 10, 10), (10, 9, 10), (10, 4, 8), (9, 4, 8))
"""Grades of the first three coupons at each of the four inspections: most is lost at the third."""


@pytest.fixture(scope="module")
def board(tmp_path_factory):
    """A measured board of four photos, each with an inspection, three of its six coupons graded; open."""
    folder = tmp_path_factory.mktemp("pictured")
    with closing(board_of(folder / "board", painted(), photos=0)) as session:
        add_tied(session, painted().photos)
        measured(session, folder / "cache")
        for inspection, grades in zip(session.record.inspections_in_order(), GIVEN, strict=True):
            for coupon, grade in zip(session.record.coupons, grades, strict=False):
                session.do(grade_coupon, GivenGrade(coupon=coupon, inspection=inspection.key, grade=grade))
        yield session


@pytest.fixture
def record(board) -> BoardRecord:
    return board.record.snapshot()


def pictures_of(board, record=None, choice=None, progress=None) -> ReportPictures:
    return report_pictures(record or board.record, board.folder, choice or ReportChoice(), progress or Progress())


def every(pictures: ReportPictures):
    yield from (*pictures.boards, *pictures.photos)
    for of_time in pictures.coupons:
        yield from of_time.values()


def opened(picture) -> Image.Image:
    return Image.open(io.BytesIO(picture.image))


def test_the_board_and_each_coupon_are_there_at_three_times(board):
    pictures = pictures_of(board)
    assert [each.name for each in pictures.moments] == ["start", "middle", "end"]
    taken = [each.taken for each in shown_photos(board.record)]
    assert [each.at for each in pictures.moments][::2] == [taken[0], taken[-1]]
    assert [set(each) for each in pictures.coupons] == [set(board.record.coupons)] * 3
    assert [each.inspection for each in pictures.moments][::2] == [
        each.key for each in board.record.inspections_in_order()[::3]
    ]
    assert pictures.left_out == ()


def test_pictures_are_small_and_in_the_shape_of_what_they_show(board):
    pictures = pictures_of(board)
    size = board.record.board
    for each in pictures.boards:
        assert max(each.width_px, each.height_px) == LONG_PX
        assert each.width_px / each.height_px == pytest.approx(size.width_mm / size.height_mm, rel=0.01)
    for each in pictures.photos:
        assert max(each.width_px, each.height_px) == LONG_PX
    for of_time in pictures.coupons:
        assert all(max(each.width_px, each.height_px) == COUPON_PX for each in of_time.values())
    for each in every(pictures):
        image = opened(each)
        assert (image.format, image.size) == ("JPEG", (each.width_px, each.height_px))


def test_day_zero_the_worst_change_and_the_last_are_told_apart(board):
    captions = [each.caption for each in pictures_of(board).photos]
    first, second, third, last = shown_photos(board.record)
    day = round(board.record.day_of(third.taken))
    assert captions == [
        f"Day zero: {first.taken:%Y-%m-%d %H:%M}, day 0",
        f"{second.taken:%Y-%m-%d %H:%M}, day {round(board.record.day_of(second.taken))}",
        f"Worst change: {third.taken:%Y-%m-%d %H:%M}, day {day}",
        f"Last photo: {last.taken:%Y-%m-%d %H:%M}, day {round(board.record.day_of(last.taken))}",
    ]


def test_captions_are_written_as_the_user_chose(board):
    choice = ReportChoice(writing=writing_named("points"))
    first = shown_photos(board.record)[0]
    assert f"{first.taken:%d.%m.%Y}" in pictures_of(board, choice=choice).photos[0].caption


def test_whoever_cannot_see_it_hears_the_grades_of_that_visit(board):
    pictures = pictures_of(board)
    assert "6 coupons; 1 at 10, 1 at 8, 1 at 4, 3 not graded" in pictures.photos[2].description
    assert board.record.board.name in pictures.boards[0].description
    coupon = next(iter(board.record.coupons.values()))
    assert pictures.coupons[2][coupon.key].description.startswith(f"Coupon {coupon.id} at the end, ")
    assert pictures.coupons[2][coupon.key].description.endswith("grade 9.")


def test_a_visit_without_grades_says_so(record):
    record.current.clear()
    assert grades_in_words(record, shown_photos(record)[0]) == "6 coupons; none graded"


def test_nothing_that_a_camera_wrote_travels_along(board, tmp_path):
    file = photo_file(board.folder, shown_photos(board.record)[0])
    noted = with_notes(file.read())
    assert b"GPS" in noted or Image.open(io.BytesIO(noted)).getexif().get_ifd(0x8825)
    photo = with_bytes(board, file.photo, noted, tmp_path)
    pictures = report_pictures(photo, tmp_path, ReportChoice(), Progress())
    assert pictures.boards
    assert pictures.photos
    for each in every(pictures):
        image = opened(each)
        assert not image.getexif()
        assert image.info.keys() <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
        assert b"secret" not in each.image
        assert b"Exif" not in each.image


def with_notes(data: bytes) -> bytes:
    """The photo with a place, a name and a comment in it."""
    image = Image.open(io.BytesIO(data))
    notes = Image.Exif()
    notes[0x010E] = "secret door of the customer"
    notes.get_ifd(0x8825)[1] = "N"
    notes.get_ifd(0x8825)[2] = (59.0, 20.0, 5.0)
    stream = io.BytesIO()
    image.save(stream, "JPEG", quality=95, exif=notes, comment=b"secret comment", dpi=(300, 300))
    return stream.getvalue()


def with_bytes(board, photo: Photo, data: bytes, folder) -> BoardRecord:
    """The record with one photo alone, whose bytes are others, in another folder."""
    import hashlib

    (folder / "photos").mkdir()
    (folder / "photos" / photo.file).write_bytes(data)
    record = board.record.snapshot()
    record.photos = {photo.key: replace(photo, sha256=hashlib.sha256(data).hexdigest())}
    return record


def test_a_missing_and_a_damaged_photo_are_left_out_and_told(board, tmp_path):
    import shutil

    shutil.copytree(board.folder, tmp_path / "copy")
    first, second, third, _ = shown_photos(board.record)
    (tmp_path / "copy" / "photos" / first.file).unlink()
    (tmp_path / "copy" / "photos" / third.file).write_bytes(b"\xff\xd8 not any more")
    pictures = report_pictures(board.record, tmp_path / "copy", ReportChoice(), Progress())
    assert [each.name for each in pictures.moments] == ["start", "end"]
    assert pictures.moments[0].at == second.taken  # the next best
    assert len(pictures.photos) == 2
    assert len(pictures.left_out) == 2
    assert first.name in pictures.left_out[0]
    assert "not in the photos folder" in pictures.left_out[0]
    assert third.name in pictures.left_out[1]
    assert "its content differs" in pictures.left_out[1]


def test_without_any_photo_file_there_are_sentences_and_no_pictures(board, tmp_path):
    pictures = report_pictures(board.record, tmp_path, ReportChoice(), Progress())
    assert (pictures.boards, pictures.coupons, pictures.photos, pictures.moments) == ((), (), (), ())
    assert len(pictures.left_out) == PHOTOS


def test_of_many_missing_photos_the_first_are_told(board, record, tmp_path):
    first = shown_photos(record)[0]
    for number in range(100, 160):
        record.photos[number] = replace(first, key=number, taken=first.taken + timedelta(days=number))
    said = report_pictures(record, tmp_path, ReportChoice(), Progress()).left_out
    assert len(said) == 9
    assert said[-1].endswith("more photos could not be shown either.")


def test_while_an_inspection_is_graded_blind_nothing_since_its_day_is_shown(board, record):
    hidden = record.inspections_in_order()[2]
    record.blind_inspections[1] = BlindInspection(hidden.key, "photo", None, 0.0, hidden.at, key=1)
    pictures = pictures_of(board, record)
    assert all(each.at < hidden.at for each in pictures.moments)
    assert [each.at.date() for each in pictures.moments] == [
        each.taken.date() for each in shown_photos(board.record)[:2]
    ]
    assert len(pictures.photos) == 2
    assert set(pictures.moments[-1:]) == {each for each in pictures.moments if each.name == "end"}


def test_parts_that_are_not_wanted_are_not_made(board):
    assert pictures_of(board, choice=ReportChoice(parts=frozenset({"summary"}))) == ReportPictures()
    of_map = pictures_of(board, choice=ReportChoice(parts=frozenset({"map"})))
    assert (len(of_map.coupons), of_map.photos) == (3, ())


def test_the_number_of_pictures_is_bounded_and_the_told_ones_are_among_them(board, record, monkeypatch):
    monkeypatch.setattr(making, "MOST_PICTURES", 6)
    pictures = pictures_of(board, record)
    assert len(pictures.boards) + len(pictures.photos) == 6
    captions = [each.caption.split(":")[0] for each in pictures.photos]
    assert captions == ["Day zero", "Worst change", "Last photo"]


def test_the_photos_between_are_spread_evenly(record):
    first = shown_photos(record)[0]
    record.photos = {
        number: replace(first, key=number, inspection=None, taken=first.taken + timedelta(days=number))
        for number in range(1, 101)
    }
    keys = [each.photo.key for each in chosen_photos(record, 12)]
    assert (len(keys), keys[0], keys[-1]) == (12, 1, 100)
    gaps = [later - earlier for earlier, later in pairwise(keys)]
    assert max(gaps) <= 11


def test_a_photo_scaled_before_is_not_decoded_again_and_a_harmed_copy_is(board, monkeypatch):
    first = pictures_of(board)
    kept = list((paths.cache_folder() / "report").iterdir())
    assert len(kept) == PHOTOS
    assert pictures_of(board) == first
    for each in kept:
        each.write_bytes(b"no picture")
    assert pictures_of(board) == first


def test_it_can_be_stopped_between_any_two_pictures(board):
    steps = []
    pictures_of(board, progress=Progress(lambda done, total: steps.append((done, total))))
    assert steps[-1][0] == steps[-1][1]
    for stop in range(len(steps) - 1):
        with pytest.raises(Cancelled):
            pictures_of(board, progress=stopping_after(stop))


def stopping_after(steps: int) -> Progress:
    told = []

    def tell(done, total):
        told.append(done)
        if len(told) > steps:
            progress.cancel()

    progress = Progress(tell)
    return progress


def test_a_board_of_unknown_size_shows_the_whole_photo(board, record):
    record.board = replace(record.board, width_mm=0.0, height_mm=0.0)
    pictures = pictures_of(board, record)
    photo = shown_photos(record)[0]
    assert pictures.boards[0].width_px / pictures.boards[0].height_px == pytest.approx(
        photo.width_px / photo.height_px, rel=0.01
    )


def test_a_photo_decoded_coarsely_shows_the_same(board, monkeypatch):
    fine = pictures_of(board)
    monkeypatch.setattr(making, "_ENOUGH_PX", 400)
    coarse = pictures_of(board)
    assert coarse != fine
    for one, other in zip(fine.boards, coarse.boards, strict=True):
        assert difference(one, other) < 4
    for key, one in fine.coupons[1].items():
        assert difference(one, coarse.coupons[1][key]) < 8


def difference(one, other) -> float:
    """Mean difference of two pictures, 0 to 255, blurred so that detail does not count."""
    import numpy as np

    first, second = (
        np.asarray(opened(each).convert("L").resize((32, 32), Image.Resampling.BOX), np.float64)
        for each in (one, other)
    )
    return float(np.abs(first - second).mean())


NASTY = (0.0, -1.0, 1e-12, 1e12, 1e300, float("nan"), float("inf"))


@pytest.mark.parametrize("value", NASTY)
def test_numbers_that_only_an_altered_file_holds_harm_nothing(board, record, value):
    first, second, *_ = shown_photos(record)
    coupons = list(record.coupons)
    record.photos[first.key] = replace(first, lens=value, mm_to_px=(value, *first.mm_to_px[1:]))
    record.photos[second.key] = replace(second, width_px=0)
    record.coupons[coupons[0]] = replace(
        record.coupons[coupons[0]], outline_mm=((value, 1.0), (50.0, value), (50.0, 60.0))
    )
    for found in record.measured.values():
        found[coupons[1]] = found[coupons[1]]._replace(motion=(value, value, value, value))
    assert len(pictures_of(board, record).photos) == PHOTOS
    for width, height in ((value, 400.0), (700.0, value), (value, value)):
        record.board = replace(record.board, width_mm=width, height_mm=height)
        assert len(pictures_of(board, record, ReportChoice(parts=frozenset({"map"}))).boards) >= 2
