"""Films are read back with the libraries that wrote them, frame by frame."""

from __future__ import annotations

import av
import numpy as np
import pytest
from PIL import Image

from rustboard.report.film import FILM_KINDS, MOST_GIF_SIDE_PX, Stamp, stamped, write_film
from rustboard.support.problems import InputError

GREYS = (40, 120, 200)


def greys(size=(60, 90)):
    for level in GREYS:
        yield np.full((*size, 3), level, np.uint8)


def frames_of(path, kind):
    if kind == "mp4":
        with av.open(str(path)) as film:
            return [each.to_ndarray(format="rgb24") for each in film.decode(video=0)]
    with Image.open(path) as film:
        found = []
        for number in range(film.n_frames):
            film.seek(number)
            found.append(np.asarray(film.convert("RGB")))
        return found


@pytest.mark.parametrize("kind", FILM_KINDS)
def test_a_film_shows_its_pictures_in_order(tmp_path, kind):
    path = tmp_path / f"film.{kind}"
    assert write_film(greys(), path, kind, 0.2, 3) == 3
    levels = [float(each.mean()) for each in frames_of(path, kind)]
    order = [min(GREYS, key=lambda grey: abs(grey - level)) for level in levels]
    assert order == sorted(order)
    assert set(order) == set(GREYS)
    assert max(abs(level - grey) for level, grey in zip(levels, order, strict=True)) < 4


def test_the_last_picture_of_a_film_stands_longest(tmp_path):
    write_film(greys(), tmp_path / "film.webp", "webp", 0.2, 3)
    with Image.open(tmp_path / "film.webp") as film:
        times = []
        for number in range(film.n_frames):
            film.seek(number)
            film.load()
            times.append(film.info["duration"])
    assert times == [200, 200, 600]


def test_an_mp4_is_of_the_kind_every_player_reads(tmp_path):
    write_film(greys((61, 91)), tmp_path / "film.mp4", "mp4", 0.2)
    with av.open(str(tmp_path / "film.mp4")) as film:
        video = film.streams.video[0]
        assert (video.codec.name, video.pix_fmt) == ("h264", "yuv420p")
        assert (video.width % 2, video.height % 2) == (0, 0)
        assert float(video.duration * video.time_base) == pytest.approx(5 * 0.2)  # 1 + 1 + 3 times


def test_a_gif_is_made_small_enough_to_mail(tmp_path):
    write_film(greys((700, 1800)), tmp_path / "film.gif", "gif", 0.2)
    assert max(frames_of(tmp_path / "film.gif", "gif")[0].shape) == MOST_GIF_SIDE_PX


@pytest.mark.parametrize("kind", FILM_KINDS)
def test_a_film_given_up_leaves_the_older_file_as_it_was(tmp_path, kind):
    path = tmp_path / f"film.{kind}"
    path.write_bytes(b"older")

    def given_up():
        yield from greys()
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_film(given_up(), path, kind, 0.2)
    assert path.read_bytes() == b"older"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("kind", FILM_KINDS)
def test_a_film_without_pictures_is_refused(tmp_path, kind):
    with pytest.raises(InputError, match="There is no photo for a film"):
        write_film(iter(()), tmp_path / f"film.{kind}", kind, 0.2)


@pytest.mark.parametrize("seconds", [0, 0.01, 11, float("nan")])
def test_a_film_too_fast_or_too_slow_is_refused(tmp_path, seconds):
    with pytest.raises(InputError, match=r"stands for 0\.04 to 10 seconds"):
        write_film(greys(), tmp_path / "film.mp4", "mp4", seconds)


def test_day_and_grades_are_stamped_without_hiding_the_picture():
    plain = np.full((200, 400, 3), 90, np.uint8)
    picture = stamped(plain, "day 12 · 2026-03-14", [Stamp("7-S", 50, 60, (255, 255, 255), (31, 92, 148))])
    band = picture[200:]
    assert band.max() > 200  # letters
    assert band.min() < 30  # on a dark band
    box = picture[60:66, 50:56].reshape(-1, 3)
    assert (box == (31, 92, 148)).all(axis=1).any()
    untouched = picture[:200].copy()
    untouched[55:95, 45:110] = 90
    assert (untouched == 90).all()


@pytest.mark.parametrize("letters", [10, 25, 60, 5000])
def test_a_line_too_long_for_the_band_is_set_smaller_and_then_cut(letters):
    picture = stamped(np.full((200, 300, 3), 90, np.uint8), "W" * letters)
    assert (picture[200:, -4:] < 30).all()
