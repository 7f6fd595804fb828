"""What photos say about themselves: size, kind and the camera's time; and files that are not all there."""

import io
from datetime import datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from picture_files import KINDS, file_of, noise_image
from PIL import ExifTags, Image

from rustboard.photo.camera_facts import camera_facts
from rustboard.photo.decode import upright_pixels
from rustboard.support.problems import InputError

quiet = pytest.mark.filterwarnings(
    "ignore:Corrupt EXIF:UserWarning",
    "ignore:Tag data:UserWarning",
    "ignore:Image appears to be a malformed MPO:UserWarning",
    "ignore:Truncated File Read:UserWarning",
    "ignore:Metadata Warning:UserWarning",
    "ignore:Possibly corrupt EXIF:UserWarning",
)  # as in the program; the test run sets its own filters

TAKEN = ExifTags.Base.DateTimeOriginal
DIGITISED = ExifTags.Base.DateTimeDigitized
CHANGED = ExifTags.Base.DateTime


def notes_of(camera: dict[int, object] | None = None, file: dict[int, object] | None = None) -> Image.Exif:
    notes = Image.Exif()
    for tag, value in (file or {}).items():
        notes[tag] = value
    notes.get_ifd(ExifTags.IFD.Exif).update(camera or {})
    return notes


def photo(kind: str = "JPEG", size: tuple[int, int] = (48, 32), **notes: dict[int, object]) -> bytes:
    return file_of(noise_image(*size), kind, exif=notes_of(**notes))


@pytest.mark.parametrize("kind", KINDS)
def test_size_kind_time_and_offset_are_read_from_every_kind(kind):
    data = photo(kind, camera={TAKEN: "2026:03:02 09:05:07", 0x9011: "+02:00"}, file={0x0112: 6})
    facts = camera_facts(data, "IMG_1")
    assert (facts.kind, facts.width_px, facts.height_px) == (kind, 32, 48)
    assert facts.taken == datetime(2026, 3, 2, 9, 5, 7)
    assert facts.offset_minutes == 120
    assert (facts.height_px, facts.width_px) == upright_pixels(data).shape[:2]


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "TIFF"])
def test_the_time_is_the_one_another_reader_finds(kind):
    data = photo(kind, camera={TAKEN: "2025:12:31 23:59:59"})
    with Image.open(io.BytesIO(data)) as image:
        found = image.getexif().get_ifd(ExifTags.IFD.Exif)[TAKEN]
    assert camera_facts(data).taken == datetime.strptime(found, "%Y:%m:%d %H:%M:%S")


@pytest.mark.parametrize(
    ("camera", "file", "expected"),
    [
        ({TAKEN: "2026:03:02 09:05:00", DIGITISED: "2026:03:03 09:05:00"}, {}, datetime(2026, 3, 2, 9, 5)),
        ({DIGITISED: "2026:03:03 09:05:00"}, {CHANGED: "2026:03:04 10:00:00"}, datetime(2026, 3, 3, 9, 5)),
        ({}, {CHANGED: "2026:03:04 10:00:00"}, datetime(2026, 3, 4, 10)),
        ({TAKEN: "0000:00:00 00:00:00"}, {CHANGED: "2026:03:04 10:00:00"}, datetime(2026, 3, 4, 10)),
        ({TAKEN: "    :  :     :  :  "}, {}, None),
        ({TAKEN: "2026:02:30 09:05:00"}, {}, None),
        ({TAKEN: "2026:03:02 24:61:00"}, {}, None),
        ({TAKEN: "2026:03:02"}, {}, None),
        ({TAKEN: "2026-03-02T09:05:00.25"}, {}, datetime(2026, 3, 2, 9, 5)),
        ({TAKEN: "2026:03:02 09:05:00\0\0"}, {}, datetime(2026, 3, 2, 9, 5)),
        ({TAKEN: "1066:10:14 09:00:00"}, {}, None),
        ({TAKEN: 7}, {}, None),
        ({}, {}, None),
    ],
)
def test_the_time_it_was_taken_counts_else_digitised_else_changed(camera, file, expected):
    assert camera_facts(photo(camera=camera, file=file)).taken == expected


@pytest.mark.parametrize(
    ("offsets", "expected"),
    [
        ({0x9011: "-03:30"}, -210),
        ({0x9011: "Z"}, 0),
        ({0x9010: "+01:00"}, 60),
        ({0x9011: "   :  ", 0x9010: "+01:00"}, 60),
        ({0x9012: "+01:00"}, None),
        ({0x9011: "+99:00"}, None),
        ({0x9011: "+01:75"}, None),
        ({0x9011: 3}, None),
    ],
)
def test_the_offset_is_that_of_the_time_or_of_the_file(offsets, expected):
    assert camera_facts(photo(camera={TAKEN: "2026:03:02 09:05:00"} | offsets)).offset_minutes == expected


def test_where_a_photo_was_taken_is_not_looked_at(monkeypatch):
    notes = notes_of({TAKEN: "2026:03:02 09:05:00"})
    notes.get_ifd(ExifTags.IFD.GPSInfo).update({1: "N", 2: (52.0, 30.0, 0.0)})
    data = file_of(noise_image(48, 32), "JPEG", exif=notes)
    asked = []
    read = Image.Exif.get_ifd
    monkeypatch.setattr(Image.Exif, "get_ifd", lambda self, tag: (asked.append(tag), read(self, tag))[1])
    assert camera_facts(data).taken is not None
    assert asked == [ExifTags.IFD.Exif]


@quiet
@pytest.mark.parametrize("kind", KINDS)
def test_a_file_cut_short_is_found_out(kind):
    whole = file_of(noise_image(128, 96), kind)
    for share in (0.2, 0.5, 0.8, 0.95):
        with pytest.raises(InputError, match=r"^a\.jpg: (This is not a picture|The picture is damaged or cut short)"):
            camera_facts(whole[: int(len(whole) * share)], "a.jpg")


@pytest.mark.parametrize("progressive", [False, True])
def test_a_copy_whose_end_never_came_and_is_filled_with_zeros_is_found_out(progressive):
    whole = file_of(noise_image(640, 480), "JPEG", progressive=progressive)
    cut = whole[: len(whole) * 2 // 3]
    with pytest.raises(InputError, match="cut short"):
        camera_facts(cut + bytes(len(whole) - len(cut)))
    with pytest.raises(InputError, match="cut short"):
        camera_facts(cut + bytes(4 * len(whole)))


@pytest.mark.parametrize("progressive", [False, True])
def test_what_follows_the_end_of_a_picture_does_not_matter(progressive):
    # Phones append a film or notes of their own (common practice, no source).
    whole = file_of(noise_image(64, 48), "JPEG", progressive=progressive, restart_marker_blocks=2)
    assert camera_facts(whole + b"film" * 100 + bytes(1_000)).width_px == 64


def test_the_head_may_not_say_another_size_than_the_picture_has():
    notes = notes_of({ExifTags.Base.ExifImageWidth: 4_000, ExifTags.Base.ExifImageHeight: 3_000})
    facts = camera_facts(file_of(noise_image(48, 32), "JPEG", exif=notes))
    assert (facts.width_px, facts.height_px) == (48, 32)


@quiet
@pytest.mark.parametrize("notes", [b"", b"Exif\0\0", b"Exif\0\0II*\0\xff\xff\xff\x7f", b"Exif\0\0" + bytes(40)])
def test_notes_that_cannot_be_read_leave_a_photo_without_a_time(notes):
    facts = camera_facts(file_of(noise_image(16, 16), "JPEG", exif=notes))
    assert (facts.width_px, facts.taken, facts.offset_minutes) == (16, None, None)


WHOLE = {kind: photo(kind, camera={TAKEN: "2026:03:02 09:05:07"}, file={0x0112: 6}) for kind in KINDS}


@quiet
@pytest.mark.parametrize("kind", KINDS)
@given(changes=st.lists(st.tuples(st.integers(0, 800), st.integers(0, 255)), max_size=12))
def test_spoilt_heads_give_facts_or_a_sentence_and_nothing_else(kind, changes):
    data = bytearray(WHOLE[kind])
    for place, value in changes:
        data[place % len(data)] = value
    try:
        facts = camera_facts(bytes(data))
    except InputError as error:
        sentence, told, found = str(error), None, None
    else:
        sentence, told = ".", facts.width_px * facts.height_px
        found = np.prod(upright_pixels(bytes(data)).shape[:2])
    assert sentence.endswith(".")
    assert told == found
