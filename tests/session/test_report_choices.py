"""What was chosen for a report is there again for the next one of the same customer."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest
from PIL import Image, PngImagePlugin

from rustboard.report.choice import ReportChoice, Shop, writing_named
from rustboard.session.jobs import Progress
from rustboard.session.report_choices import USUAL_FORMS, ReportChoices
from rustboard.session.report_forms_wanted import FormWanted
from rustboard.session.shop_logo import LONGEST_SIDE_PX, logo_from
from rustboard.support.problems import InputError

HARBOUR = ReportChoice(frozenset({"summary", "map"}), writing_named("points"), "Letter", "rain")
YARD = ReportChoice(frozenset({"data"}), writing_named("iso"), "A4", "controls")
FORMS = (FormWanted("pdf", ".pdf"), FormWanted("one page", ".svg"), FormWanted("data", ""))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "settings" / "reports.json"


def test_everything_is_offered_before_anything_was_chosen(path: Path) -> None:
    found = ReportChoices(path).remembered("Harbour")
    assert (found.choice, found.forms, found.own, found.any) == (ReportChoice(), USUAL_FORMS, False, False)
    assert not path.exists()


def test_each_customer_has_a_choice_of_its_own_and_so_has_the_board_without_one(path: Path) -> None:
    choices = ReportChoices(path)
    choices.remember("Harbour Ltd", HARBOUR, FORMS)
    choices.remember("", YARD, USUAL_FORMS)
    again = ReportChoices(path)
    assert (again.remembered("Harbour Ltd").choice, again.remembered("Harbour Ltd").forms) == (HARBOUR, FORMS)
    assert (again.remembered("").choice, again.remembered("").forms) == (YARD, USUAL_FORMS)
    assert again.remembered("").own


def test_capitals_and_blanks_make_no_other_customer(path: Path) -> None:
    choices = ReportChoices(path)
    choices.remember("Harbour  Ltd ", HARBOUR, FORMS)
    choices.remember("Yard", YARD, USUAL_FORMS)
    assert choices.remembered(" HARBOUR ltd").choice == HARBOUR


def test_a_customer_nobody_wrote_for_begins_with_what_was_chosen_last(path: Path) -> None:
    choices = ReportChoices(path)
    choices.remember("Yard", YARD, USUAL_FORMS)
    choices.remember("Harbour", HARBOUR, FORMS)
    choices.remember("Yard", YARD, USUAL_FORMS)
    found = choices.remembered("Mill")
    assert (found.choice, found.own, found.any) == (YARD, False, True)


def test_words_that_an_altered_file_made_up_are_replaced_by_the_usual_ones(path: Path) -> None:
    choices = ReportChoices(path)
    choices.remember("Harbour", HARBOUR, FORMS)
    content = json.loads(path.read_text(encoding="ascii"))
    content["reports"][0] |= {
        "forms": [["pdf", ".exe"], ["spell", ".pdf"]], "parts": ["summary", "magic"],
        "writing": "runes", "paper": "papyrus", "clock": "sand",
    }  # fmt: skip
    path.write_text(json.dumps(content), encoding="ascii")
    found = choices.remembered("Harbour")
    assert found.forms == USUAL_FORMS
    assert found.choice == ReportChoice(frozenset({"summary"}))


@pytest.mark.parametrize(
    "damage", [None, {}, {"customer": 3}, {"shop": {"name": "x"}}, {"customer": "x", "forms": {}}]
)
def test_what_is_damaged_is_put_aside_and_the_rest_is_kept(path: Path, damage: object) -> None:
    choices = ReportChoices(path)
    choices.remember("Harbour", HARBOUR, FORMS)
    content = json.loads(path.read_text(encoding="ascii"))
    content["reports"].append(damage)
    path.write_text(json.dumps(content), encoding="ascii")
    assert choices.remembered("Harbour").choice == HARBOUR
    assert "reports.damaged-1.json" in choices.problem
    assert choices.remembered("Harbour").choice == HARBOUR
    assert choices.problem == ""


def test_the_shop_is_one_for_all_customers_and_outlives_their_choices(path: Path) -> None:
    choices = ReportChoices(path)
    shop = Shop("Salt & Sons", "Quay 3\n+44 1", b"the bytes of a picture")
    choices.keep_shop(shop)
    choices.remember("Harbour", HARBOUR, FORMS)
    assert ReportChoices(path).shop() == shop
    choices.keep_shop(Shop("Salt"))
    assert ReportChoices(path).shop() == Shop("Salt")
    assert choices.remembered("Harbour").choice == HARBOUR
    assert not path.with_name("shop-logo.png").exists()


@pytest.mark.parametrize("harm", [lambda logo: logo.unlink(), lambda logo: logo.write_bytes(b"another")])
def test_a_logo_that_is_gone_or_altered_is_told_in_one_sentence_and_left_out(path: Path, harm) -> None:
    choices = ReportChoices(path)
    choices.keep_shop(Shop("Salt", "", b"the bytes of a picture"))
    harm(path.with_name("shop-logo.png"))
    assert choices.shop() == Shop("Salt")
    assert choices.problem.count(".") == 1
    assert "logo" in choices.problem


# ---- the logo


def picture(tmp_path: Path, size: tuple[int, int], kind: str = "JPEG", **more) -> Path:
    file = tmp_path / "logo"
    Image.new("RGB", size, (200, 30, 40)).save(file, kind, **more)
    return file


def test_a_large_picture_becomes_a_small_png_of_the_same_shape(tmp_path: Path) -> None:
    made = Image.open(io.BytesIO(logo_from(picture(tmp_path, (2400, 1200)), Progress())))
    assert (made.format, made.size) == ("PNG", (LONGEST_SIDE_PX, 400))


def test_a_small_picture_is_not_blown_up(tmp_path: Path) -> None:
    made = Image.open(io.BytesIO(logo_from(picture(tmp_path, (60, 40), "PNG"), Progress())))
    assert made.size == (60, 40)


def test_nothing_but_its_pixels_goes_on(tmp_path: Path) -> None:
    notes = PngImagePlugin.PngInfo()
    notes.add_text("Author", "somebody's name")
    exif = Image.Exif()
    exif[0x010E] = "where I live"
    data = logo_from(picture(tmp_path, (60, 40), "PNG", pnginfo=notes, exif=exif), Progress())
    assert b"somebody" not in data
    assert b"where I live" not in data
    made = Image.open(io.BytesIO(data))
    made.load()
    assert made.info == {}


@pytest.mark.parametrize("content", [b"", b"no picture", b"\x89PNG\r\n\x1a\n" + b"\0" * 50])
def test_what_is_no_picture_is_refused_in_one_sentence(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "logo.png"
    file.write_bytes(content)
    with pytest.raises(InputError, match=r"^logo\.png: "):
        logo_from(file, Progress())


def test_a_picture_cut_short_is_refused(tmp_path: Path) -> None:
    file = picture(tmp_path, (600, 400))
    file.write_bytes(file.read_bytes()[:900])
    with pytest.raises(InputError, match="damaged or cut short"):
        logo_from(file, Progress())


def test_a_picture_of_too_many_pixels_is_refused_before_it_is_decoded(tmp_path: Path) -> None:
    file = tmp_path / "bomb.png"
    Image.new("1", (10_000, 6_000)).save(file, "PNG")
    with pytest.raises(InputError, match="at most 50 megapixels"):
        logo_from(file, Progress())
