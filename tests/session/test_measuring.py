"""A board's photos measured from end to end: resumed, cancelled, repeated, disturbed."""

from __future__ import annotations

import shutil
from contextlib import closing
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from painted_boards import PHOTOS, add, board_of, measured, painted, percents, request_of

from rustboard.board.measured import Disturbance, ExcludedArea, Stroke
from rustboard.operations.areas import set_excluded_areas
from rustboard.operations.brushing import add_stroke
from rustboard.operations.disturbances import note_disturbance
from rustboard.operations.photos import remove_photo, set_taken
from rustboard.photo.looks import CouponFrame
from rustboard.photo.placement import Placement
from rustboard.session import mask_views, measuring_tasks
from rustboard.session.coupon_frames import shown_frame
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.mask_views import mask_request, mask_view, percent_of, with_stroke
from rustboard.session.measuring import brushed_request, measure
from rustboard.session.photo_days import photos_in_order, unmeasured
from rustboard.session.placing import place_by_taps
from rustboard.support.problems import InputError


@pytest.fixture
def session(tmp_path):
    with closing(board_of(tmp_path / "board", painted())) as opened:
        yield opened


@pytest.fixture
def cache(tmp_path):
    return tmp_path / "cache"


@pytest.fixture
def looked(monkeypatch):
    """Return a list that grows by the name of every photo that is decoded for measuring."""
    names = []
    inner = measuring_tasks._looked

    def counted(task, *rest):
        names.append(task.file.photo.name)
        return inner(task, *rest)

    monkeypatch.setattr(measuring_tasks, "_looked", counted)
    return names


def names_of(session):
    return [each.name for each in photos_in_order(session.record)]


def test_every_photo_is_found_and_every_coupon_measured_near_the_truth(session, cache):
    result = measured(session, cache)
    assert result.problems == ()
    assert unmeasured(session.record) == []
    assert all(each.placed_by == "markers" and each.placing_error_px < 1.5 for each in session.record.photos.values())
    truth = {photo.name: photo.truth for photo in painted().photos}
    found = percents(session)
    assert len(found) == PHOTOS * len(session.record.coupons)
    for (photo, coupon), percent in found.items():
        true = truth[photo][coupon].percent
        # At 1.5 megapixels, five times coarser than a phone's photo; the figures that must hold are checked at 12.
        assert abs(percent - true) <= max(4.0, 0.5 * true), (photo, coupon, percent, true)


def test_a_second_run_finds_nothing_to_do(session, cache, looked):
    measured(session, cache)
    looked.clear()
    before = dict(session.record.measured)
    result = measured(session, cache)
    assert (looked, result.measurements, result.placings) == ([], (), ())
    assert session.record.measured == before


def test_one_more_photo_costs_one_more_look(tmp_path, cache, looked):
    with closing(board_of(tmp_path / "b", painted(), PHOTOS - 1)) as session:
        measured(session, cache)
        looked.clear()
        add(session, painted().photos[-1])
        measured(session, cache)
        assert looked == [painted().photos[-1].name]
        one_by_one = percents(session)
        newest = [each.newest for found in session.record.measured.values() for each in found.values()]
        assert sum(newest) == len(session.record.coupons)
    with closing(board_of(tmp_path / "all", painted())) as session:
        measured(session, tmp_path / "other cache")
        at_once = percents(session)
    assert one_by_one.keys() == at_once.keys()
    for place, percent in at_once.items():
        # What moved by less than a twentieth is no revision, so the older figure stays.
        assert one_by_one[place] == pytest.approx(percent, rel=0.06, abs=0.02)


def test_a_run_that_is_cancelled_goes_on_where_it_was(session, cache, looked):
    progress = Progress()
    inner = progress.step

    def step(done, total):
        if len(looked) == 2:
            progress.cancel()
        inner(done, total)

    progress.step = step
    with pytest.raises(Cancelled):
        measure(request_of(session, cache), progress)
    assert session.record.measured == {}
    first = list(looked)
    measured(session, cache)
    # The places found before are not kept with a cancelled run; the third and fourth photo are all that is left,
    # and the two looked at before are decoded again only to find the board in them.
    assert unmeasured(session.record) == []
    assert len(first) == 2


def test_an_emptied_cache_costs_time_and_nothing_else(session, cache):
    measured(session, cache)
    before = percents(session)
    shutil.rmtree(cache)
    assert measured(session, cache).measurements == ()
    measured(session, cache, again=True)
    assert percents(session) == before


@pytest.mark.parametrize("again", [False, True])
def test_a_damaged_file_in_the_cache_is_made_anew(tmp_path, cache, again):
    with closing(board_of(tmp_path / "b", painted(), PHOTOS - 1)) as session:
        measured(session, cache)
        whole = {each: each.read_bytes() for each in sorted(cache.rglob("looks/*/*"))}
        add(session, painted().photos[-1])
        for number, path in enumerate(sorted(whole, key=lambda each: len(whole[each]))[:: len(whole) // 4]):
            for each, content in whole.items():
                each.write_bytes(content)
            path.write_bytes(whole[path][:-1])
            result = measure(request_of(session, cache, again=again), Progress())
            assert len(result.measurements) == PHOTOS * len(session.record.coupons), number


def test_measuring_again_of_the_same_says_the_same(session, cache):
    measured(session, cache)
    keys = {each.key for found in session.record.measured.values() for each in found.values()}
    measured(session, cache, again=True)
    assert {each.key for found in session.record.measured.values() for each in found.values()} == keys


def test_a_cache_that_cannot_be_written_costs_nothing_but_time(session, tmp_path):
    (tmp_path / "file").write_bytes(b"")
    measured(session, tmp_path / "file")  # a file where the folder should be
    assert unmeasured(session.record) == []


def test_processes_find_the_same_as_one(session, tmp_path, cache):
    alone = measure(request_of(session, cache), Progress())
    together = measure(request_of(session, tmp_path / "other", processes=2), Progress())
    assert alone == together


def test_measuring_is_one_step_of_undo(session, cache):
    measured(session, cache)
    session.undo()
    assert session.record.measured == {}
    assert all(each.mm_to_px is None for each in session.record.photos.values())
    session.redo()
    assert unmeasured(session.record) == []


def test_a_photo_that_is_missing_damaged_or_of_something_else_is_told_and_the_rest_is_measured(session, cache):
    photos = photos_in_order(session.record)
    (session.folder / "photos" / photos[1].file).unlink()
    damaged = session.folder / "photos" / photos[2].file
    damaged.write_bytes(damaged.read_bytes()[:-2000])
    result = measured(session, cache)
    assert [(each.file, each.what.split(";")[0]) for each in result.problems] == [
        (photos[1].name, "This photo is missing"),
        (photos[2].name, "This photo is not the one that was added"),
    ]
    assert {session.record.photos[key].name for key in session.record.measured} == {photos[0].name, photos[3].name}


def test_a_board_without_outlines_is_refused_with_a_sentence(tmp_path, cache):
    plan = {**painted().plan, "coupons": [dict(each) for each in painted().plan["coupons"]]}
    for each in plan["coupons"]:
        del each["outline_mm"]
    scenery = type("Scenery", (), {"plan": plan, "photos": painted().photos})
    with closing(board_of(tmp_path / "b", scenery)) as session, pytest.raises(InputError, match="draw the outlines"):
        measured(session, cache)


def test_a_board_whose_size_is_not_given_is_measured_by_its_markers_all_the_same(tmp_path, cache):
    plan = {**painted().plan, "board": dict(painted().plan["board"])}
    del plan["board"]["width_mm"], plan["board"]["height_mm"]
    scenery = type("Scenery", (), {"plan": plan, "photos": painted().photos})
    with closing(board_of(tmp_path / "b", scenery)) as session:
        assert measured(session, cache).problems == ()
        assert unmeasured(session.record) == []


@pytest.mark.parametrize("which", [0, PHOTOS - 1])
def test_a_board_without_markers_waits_for_four_taps_then_recognises_the_other_photos(tmp_path, cache, which):
    scenery = painted(4, markers=False)
    with closing(board_of(tmp_path / "b", scenery)) as session:
        result = measured(session, cache)
        assert len(result.problems) == PHOTOS
        assert all("tap the four corners" in each.unplaced_because for each in session.record.photos.values())
        from rustboard.board.measured import PhotoPlacing
        from rustboard.operations.measuring import place_photo

        tapped = photos_in_order(session.record)[which]
        true = scenery.photos[which]
        session.do(place_photo, PhotoPlacing(tapped.key, tuple(true.mm_to_px), true.lens, "corners"))
        measured(session, cache)
        placed = [each.placed_by for each in photos_in_order(session.record)]
        assert placed[which] == "corners"
        assert placed.count("view") >= 2
        assert len(session.record.measured) >= 3


def test_a_coupon_that_was_cleaned_begins_anew(session, cache):
    measured(session, cache)
    photos = photos_in_order(session.record)
    rusty = max(session.record.coupons, key=lambda key: session.record.measured[photos[-1].key][key].percent)
    before = session.record.measured[photos[-1].key][rusty].percent
    session.do(note_disturbance, Disturbance(photos[-1].taken - timedelta(hours=1), "cleaned", rusty))
    measured(session, cache)
    after = session.record.measured[photos[-1].key][rusty].percent
    assert before > 1
    assert after < before / 2  # what is there now is the new beginning
    others = set(session.record.coupons) - {rusty}
    assert all(session.record.measured[photos[-1].key][key].replaces is None for key in others)


def test_taps_take_the_bend_of_the_lens_from_other_photos_of_the_camera(session):
    record, (photo, *others) = session.record, photos_in_order(session.record)
    board, size, true = record.board, (photo.width_px, photo.height_px), painted().photos[0]
    seen = Placement(tuple(true.mm_to_px), size, -0.03)
    corners = [(0.0, 0.0), (board.width_mm, 0.0), (board.width_mm, board.height_mm), (0.0, board.height_mm)]
    taps = [tuple(each) for each in seen.to_px(corners)]
    bent = [
        replace(each, lens=lens, placed_by="markers") for each, lens in zip(others, (-0.03, 0.1, -0.03), strict=True)
    ]
    placing = place_by_taps(replace(record, photos={each.key: each for each in (photo, *bent)}), photo, taps)
    assert placing.lens == -0.03
    middle = [(board.width_mm / 2, board.height_mm / 2), (board.width_mm / 2, 0.0)]
    found = Placement(placing.mm_to_px, size, placing.lens)
    assert found.to_px(middle) == pytest.approx(seen.to_px(middle), abs=0.05)
    assert place_by_taps(record, photo, taps).lens == 0.0


def newest_in(session):
    """Return the names of the photos whose answers say that none is newer."""
    record = session.record
    return {
        record.photos[key].name for key, found in record.measured.items() if any(m.newest for m in found.values())
    }


def test_when_the_newest_photo_goes_the_one_before_is_judged_as_the_newest(session, cache):
    measured(session, cache)
    names = names_of(session)
    assert newest_in(session) == {names[-1]}
    session.do(remove_photo, photos_in_order(session.record)[-1].key)
    measured(session, cache)
    assert newest_in(session) == {names[-2]}
    assert measured(session, cache).measurements == ()
    session.undo()
    session.undo()
    assert newest_in(session) == {names[-1]}


@pytest.mark.parametrize("place", [0, 1, PHOTOS - 1])
def test_photos_whose_order_changes_are_judged_anew(session, tmp_path, cache, place):
    measured(session, cache)
    photos = photos_in_order(session.record)
    session.do(set_taken, photos[place].key, photos[2].taken + timedelta(hours=1))
    measured(session, cache)
    assert measured(session, cache).measurements == ()
    found = percents(session)
    measured(session, tmp_path / "other cache", again=True)
    assert percents(session) == found


def test_a_coupon_of_which_nothing_counts_has_no_percentage(session, cache):
    coupon = next(iter(session.record.coupons.values()))
    session.do(set_excluded_areas, coupon.key, [ExcludedArea(coupon.key, "label", shifted(coupon.outline_mm))])
    measured(session, cache)
    of_it = [found[coupon.key] for found in session.record.measured.values()]
    assert {each.percent for each in of_it} == {None}
    assert all("nothing of this coupon counts" in " ".join(each.warnings) for each in of_it)
    assert measured(session, cache).measurements == ()


def shifted(outline):
    """Return an outline from the corner of the box around it, and larger."""
    left, top = min(x for x, _ in outline), min(y for _, y in outline)
    return tuple(((x - left) * 3 - 50, (y - top) * 3 - 50) for x, y in outline)


def test_a_photo_whose_file_is_away_for_a_while_changes_nothing(session, cache):
    measured(session, cache)
    file = session.folder / "photos" / photos_in_order(session.record)[1].file
    away = file.rename(file.with_suffix(".away"))
    result = measured(session, cache)
    assert [each.what.split(";")[0] for each in result.problems] == ["This photo is missing"]
    assert result.measurements == ()
    away.rename(file)
    assert measured(session, cache).measurements == ()


def test_the_brush_changes_figures_and_undo_takes_it_back(session, cache, monkeypatch):
    monkeypatch.setenv("RUSTBOARD_HOME", str(cache.parent))
    measured(session, cache)
    photo = photos_in_order(session.record)[1]
    coupon = min(session.record.coupons, key=lambda key: session.record.measured[photo.key][key].percent)
    before = session.record.measured[photo.key][coupon]
    view = mask_view(mask_request(session, photo, coupon), Progress())
    stroke = Stroke(photo.key, coupon, True, 8.0, ((25.0, 45.0), (25.0, 55.0)))
    preview = percent_of(with_stroke(view, stroke))
    session.do(add_stroke, stroke)
    brushed = brushed_request(session, coupon)
    result = measure(brushed, Progress())
    from rustboard.operations.measuring import keep_measuring

    session.do(keep_measuring, result.placings, result.measurements)
    after = session.record.measured[photo.key][coupon]
    assert after.percent > before.percent + 1
    assert after.percent == pytest.approx(preview, rel=0.15)
    seen = mask_view(mask_request(session, photo, coupon), Progress())
    assert percent_of(seen) == pytest.approx(preview, rel=0.15)
    session.undo()
    session.undo()
    assert session.record.measured[photo.key][coupon] == before


def test_all_views_of_a_coupon_have_one_size_and_show_the_same_place(session, cache, monkeypatch):
    monkeypatch.setenv("RUSTBOARD_HOME", str(cache.parent))
    measured(session, cache)
    coupon = next(iter(session.record.coupons))
    views = [mask_view(mask_request(session, photo, coupon), Progress()) for photo in photos_in_order(session.record)]
    assert len({view.rgb.shape for view in views}) == 1
    assert all(view.rust is not None and view.rust.shape == view.rgb.shape[:2] for view in views)


def test_names_of_photos_are_told_as_they_were_added(session):
    assert names_of(session) == [each.name for each in painted().photos]


@pytest.mark.parametrize("scale", [0.25, 1.3, 2.0, 2.5, 2.75, 3.5, 4.0, 8.0])
def test_a_coupon_is_shown_finely_and_its_masks_fit_what_is_shown(scale):
    measured_on = CouponFrame(1, "C1", ((10.0, 10.0), (47.3, 10.0), (47.3, 91.7), (10.0, 91.7)), scale)
    shown = shown_frame(measured_on)
    assert shown.pixels_per_mm >= 5
    times = shown.pixels_per_mm / scale
    assert times == int(times)
    mask = np.zeros(measured_on.shape, np.bool_)
    mask[3:7, 2:5] = True
    larger = mask_views._enlarged(mask, shown.shape)
    assert larger.shape == shown.shape
    rows, columns = np.nonzero(larger)
    assert ((rows + 0.5).mean() / times, (columns + 0.5).mean() / times) == pytest.approx((5.0, 3.5))
