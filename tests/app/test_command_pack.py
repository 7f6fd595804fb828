"""``rustboard pack`` and ``rustboard unpack``."""

from __future__ import annotations

from pathlib import Path

from command_line import Rustboard

from rustboard.session.looking import look_at_board


def test_a_board_goes_there_and_back(rustboard: Rustboard, graded_board: Path, tmp_path: Path) -> None:
    pack, theirs = tmp_path / "fence.rustboard-pack", tmp_path / "theirs"
    packed = rustboard("pack", graded_board, "-o", pack)
    assert (packed.code, packed.err) == (0, "")
    assert packed.out.startswith(f"Yard fence, with 0 photos, is packed in {pack}\n")
    assert "record of changes" in packed.out
    unpacked = rustboard("unpack", pack, "--into", theirs)
    assert (unpacked.code, unpacked.err) == (0, "")
    assert "3 coupons, 2 inspections and 0 photos" in unpacked.out
    assert look_at_board(theirs / "Yard fence") == look_at_board(graded_board)


def test_json_says_it_with_stable_keys(rustboard: Rustboard, graded_board: Path, tmp_path: Path) -> None:
    pack = tmp_path / "fence.rustboard-pack"
    packed = rustboard("pack", graded_board, "-o", pack, "--without-photos", "--json").data
    assert packed == {
        "board": "Yard fence",
        "file": str(pack),
        "bytes": pack.stat().st_size,
        "photos": 0,
        "without_photos": True,
        "problems": [],
    }
    unpacked = rustboard("unpack", pack, "--into", tmp_path, "--json").data
    assert unpacked == {
        "board": "Yard fence",
        "folder": str(tmp_path / "Yard fence 2"),
        "coupons": 3,
        "inspections": 2,
        "photos": 0,
        "missing_photos": 0,
        "problems": [],
    }


def test_another_ending_is_refused_before_a_file_is_lost(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    precious = tmp_path / "thesis.docx"
    precious.write_bytes(b"three years")
    refused = rustboard("pack", graded_board, "-o", precious)
    assert refused.code == 2
    assert ".rustboard-pack" in refused.err
    assert precious.read_bytes() == b"three years"


def test_what_is_no_packed_board_is_refused_in_one_sentence(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    into = tmp_path / "into"
    for file in (graded_board / "board.rustboard", tmp_path / "nothing.rustboard-pack", graded_board):
        refused = rustboard("unpack", file, "--into", into)
        assert refused.code == 2
        assert len(refused.sentences) == 1
        assert not into.exists()


def test_a_photo_that_is_missing_is_listed_and_the_rest_is_packed(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path
) -> None:
    from PIL import Image

    picture = tmp_path / "board.png"
    Image.new("RGB", (200, 100), (150, 75, 30)).save(picture)
    assert rustboard("add-photos", graded_board, picture, "--taken", "2026-03-02T09:00").code == 0
    for each in (graded_board / "photos").iterdir():
        each.unlink()
    packed = rustboard("pack", graded_board, "-o", tmp_path / "a.rustboard-pack")
    assert packed.code == 1
    assert "missing from the photos folder and was left out" in packed.err
    unpacked = rustboard("unpack", tmp_path / "a.rustboard-pack", "--into", tmp_path / "theirs")
    assert unpacked.code == 0
    assert "1 photo of it" in unpacked.out
