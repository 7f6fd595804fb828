"""Missing photos found again by what is in them: under any name, never through links, never outside the board."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from shelf_boards import START, clock, make_board

from rustboard.board.model import Photo
from rustboard.operations.photos import add_photo
from rustboard.session import photo_relinking
from rustboard.session.changes import ChangeSet
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.photo_relinking import RelinkRequest, RelinkResult, find_photos, missing_photos
from rustboard.session.session import Session
from rustboard.store.photos import keep_photo, put_back
from rustboard.support.problems import InputError

CONTENT = {name: b"\xff\xd8\xff" + name.encode() * 900 for name in ("monday.jpg", "tuesday.jpg", "wednesday.jpg")}


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """A board with three photos."""
    folder = make_board(tmp_path / "boards" / "Wall", "Wall")
    with closing(Session(folder, clock=clock)) as session:
        for day, (name, data) in enumerate(CONTENT.items()):
            taken = START + timedelta(days=day)
            file, digest = keep_photo(folder, name, data, taken)
            session.do(add_photo, Photo(name, file, digest, 200, 100, taken))
        yield session


@pytest.fixture
def place(tmp_path: Path) -> Path:
    (tmp_path / "place").mkdir()
    return tmp_path / "place"


def path_of(session: Session, name: str) -> Path:
    (file,) = [each.file for each in session.record.photos.values() if each.name == name]
    return session.folder / "photos" / file


def lose(session: Session, *names: str) -> None:
    for name in names or CONTENT:
        path_of(session, name).unlink()


def searched(session: Session, place: Path, progress: Progress | None = None) -> RelinkResult:
    return find_photos(RelinkRequest(session.folder, missing_photos(session), place), progress or Progress())


def names(photos: tuple[Photo, ...]) -> list[str]:
    return [each.name for each in photos]


def test_photos_that_are_there_are_not_missing(session: Session) -> None:
    assert missing_photos(session) == ()
    lose(session, "tuesday.jpg")
    assert names(missing_photos(session)) == ["tuesday.jpg"]


def test_photos_are_found_under_any_name_in_any_folder(session: Session, place: Path) -> None:
    lose(session)
    (place / "a" / "b").mkdir(parents=True)
    (place / "a" / "b" / "holiday.JPEG").write_bytes(CONTENT["monday.jpg"])
    (place / "tuesday.jpg").write_bytes(CONTENT["tuesday.jpg"])
    (place / "a" / "wednesday.jpg").write_bytes(b"another picture of that name")
    result = searched(session, place)
    assert sorted(names(result.found)) == ["monday.jpg", "tuesday.jpg"]
    assert names(result.missing) == ["wednesday.jpg"]
    assert not result.cut
    for name in ("monday.jpg", "tuesday.jpg"):
        assert path_of(session, name).read_bytes() == CONTENT[name]
    assert names(missing_photos(session)) == ["wednesday.jpg"]
    assert (place / "tuesday.jpg").exists(), "it is copied, not taken"


def test_likely_files_are_read_first_and_the_search_ends_with_the_last_photo(
    session: Session, place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lose(session, "monday.jpg")
    for number in range(30):
        (place / f"a{number}.jpg").write_bytes(b"x" * 100)
    (place / "z").mkdir()
    (place / "z" / "Monday.JPG").write_bytes(CONTENT["monday.jpg"])
    read: list[str] = []
    inner = photo_relinking._digest
    monkeypatch.setattr(photo_relinking, "_digest", lambda path, job: read.append(path.name) or inner(path, job))
    assert names(searched(session, place).found) == ["monday.jpg"]
    assert read == ["Monday.JPG"]


def test_links_are_not_followed(session: Session, place: Path, tmp_path: Path) -> None:
    lose(session)
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "monday.jpg").write_bytes(CONTENT["monday.jpg"])
    (place / "link.jpg").symlink_to(tmp_path / "elsewhere" / "monday.jpg")
    (place / "way").symlink_to(tmp_path / "elsewhere")
    (place / "round").symlink_to(place)
    os.mkfifo(place / "pipe.jpg")
    result = searched(session, place)
    assert result.found == ()
    assert len(result.missing) == 3


def test_nothing_is_written_outside_the_board_or_over_anything(session: Session, place: Path, tmp_path: Path) -> None:
    lose(session)
    (place / "monday.jpg").write_bytes(CONTENT["monday.jpg"])
    (tmp_path / "outside").mkdir()
    photos = session.folder / "photos"
    photos.rmdir()
    photos.symlink_to(tmp_path / "outside")
    with pytest.raises(InputError, match="The photos folder is a link; put a folder of that name in its place"):
        searched(session, place)
    assert list((tmp_path / "outside").iterdir()) == []
    photos.unlink()
    photos.mkdir()
    path_of(session, "monday.jpg").symlink_to(tmp_path / "outside" / "x.jpg")
    with pytest.raises(InputError, match="The photos folder is a link"):
        searched(session, place)
    assert list((tmp_path / "outside").iterdir()) == []


@pytest.mark.parametrize("file", ["../../x.jpg", "/etc/x.jpg", "..\\x.jpg", "CON.jpg", "", "a/b.jpg"])
def test_a_name_that_no_photo_has_is_refused(session: Session, file: str) -> None:
    data = b"picture"
    with pytest.raises(InputError):
        put_back(session.folder, file, hashlib.sha256(data).hexdigest(), data)


def test_bytes_that_are_not_the_photo_are_not_kept(session: Session) -> None:
    lose(session, "monday.jpg")
    photo = missing_photos(session)[0]
    assert not put_back(session.folder, photo.file, photo.sha256, b"other")
    assert put_back(session.folder, photo.file, photo.sha256, CONTENT["monday.jpg"])
    path_of(session, "monday.jpg").write_bytes(b"somebody's own")
    assert not put_back(session.folder, photo.file, photo.sha256, CONTENT["monday.jpg"])
    assert path_of(session, "monday.jpg").read_bytes() == b"somebody's own"


def test_a_search_is_bounded(session: Session, place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lose(session, "monday.jpg")
    deep = place.joinpath(*map(str, range(5)))
    deep.mkdir(parents=True)
    (deep / "monday.jpg").write_bytes(CONTENT["monday.jpg"])
    for number in range(10):
        (place / f"a{number}.jpg").write_bytes(b"x" * 100)
    with monkeypatch.context() as patch:
        patch.setattr(photo_relinking, "MOST_FILES", 5)
        assert searched(session, place).cut
    with monkeypatch.context() as patch:
        patch.setattr(photo_relinking, "MOST_READ", 10)
        assert searched(session, place).cut
    with monkeypatch.context() as patch:
        patch.setattr(photo_relinking, "DEEPEST", 3)
        assert searched(session, place).missing
    with monkeypatch.context() as patch:
        patch.setattr(photo_relinking, "MOST_PHOTO_BYTES", 10)
        assert searched(session, place).missing
    assert names(searched(session, place).found) == ["monday.jpg"]


def test_a_stopped_search_leaves_whole_photos_only(session: Session, place: Path) -> None:
    lose(session)
    for name, data in CONTENT.items():
        (place / name).write_bytes(data)
    told: list[int] = []

    def tell(number: int, total: int) -> None:
        told.append(number)
        if number == 1:
            progress.cancel()

    progress = Progress(tell)
    with pytest.raises(Cancelled):
        searched(session, place, progress)
    assert told == [0, 1]
    assert len(missing_photos(session)) == 2
    assert [each.name for each in (session.folder / "photos").iterdir()] == [path_of(session, "monday.jpg").name]


def test_a_folder_that_is_not_there_is_told(session: Session, place: Path) -> None:
    lose(session)
    with pytest.raises(InputError, match="nowhere: There is no such file or folder"):
        searched(session, place / "nowhere")


def test_everyone_is_told_of_photos_that_came_back_and_the_board_is_as_it_was(session: Session) -> None:
    told: list[ChangeSet] = []
    session.feed.subscribe(told.append)
    before, steps = session.record.snapshot(), len(session.audit())
    session.photos_came_back(frozenset({2}))
    session.photos_came_back(frozenset())
    assert [each.tables for each in told] == [{"photo": frozenset({2})}]
    assert (session.record, len(session.audit())) == (before, steps)
