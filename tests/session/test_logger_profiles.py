"""Named ways of reading loggers' files, and which of them fits a file."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from rustboard.session.logger_profiles import LoggerProfiles
from rustboard.store.logger_profiles import KeptProfile, change_profiles
from rustboard.support import paths
from rustboard.support.problems import InputError
from rustboard.weather.logger_file.decode import decode_logger_file
from rustboard.weather.logger_file.guess import guess_options
from rustboard.weather.logger_file.options import FileOptions

TEXT = "time;temp;hum\n02.03.2026 10:00;68;60\n02.03.2026 10:10;70;61\n"


def guessed(text: str = TEXT) -> FileOptions:
    return guess_options(decode_logger_file(text.encode())).options


def test_a_kept_profile_fits_the_next_file_of_the_logger() -> None:
    profiles = LoggerProfiles()
    person = replace(
        guessed().with_column(1, "temperature", "F"), date_order="month first", clock="UTC", logger="roof"
    )
    profiles.keep("  roof\n", person)
    found = LoggerProfiles().fitting(guessed("exported today\n\n" + TEXT))
    assert found is not None
    assert found.name == "roof"
    assert found.options == replace(person, header_rows=3, title_row=3)
    assert paths.loggers_file().exists()


def test_other_titles_or_separators_or_none_fit_nothing() -> None:
    profiles = LoggerProfiles()
    profiles.keep("roof", guessed())
    assert profiles.fitting(guessed(TEXT.replace("hum", "humidity"))) is None
    assert profiles.fitting(guessed(TEXT.replace(";", "\t"))) is None
    untitled = guessed("2026-03-02 10:00,1.5\n2026-03-02 10:10,2.5\n2026-03-02 10:20,2.0\n2026-03-02 10:30,2.5\n")
    profiles.keep("bare", untitled)
    assert profiles.fitting(untitled) is None


def test_a_clock_that_the_file_names_fills_what_the_profile_leaves_open() -> None:
    profiles = LoggerProfiles()
    profiles.keep("roof", guessed())
    found = profiles.fitting(guessed("Times in UTC+02:00\nLogger: north\n" + TEXT))
    assert found is not None
    assert (found.options.clock, found.options.logger) == ("UTC+02:00", "north")


def test_a_name_is_one_profile_whatever_its_letters() -> None:
    profiles = LoggerProfiles()
    profiles.keep("Roof", guessed())
    profiles.keep("garden", guessed())
    profiles.keep("roof", replace(guessed(), clock="UTC"))
    assert [(each.name, each.options.clock) for each in profiles.profiles()] == [("garden", ""), ("roof", "UTC")]
    profiles.delete("ROOF")
    profiles.delete("nothing")
    assert [each.name for each in profiles.profiles()] == ["garden"]


def test_what_cannot_be_read_by_is_not_kept() -> None:
    profiles = LoggerProfiles()
    with pytest.raises(InputError, match="name"):
        profiles.keep(" \n", guessed())
    with pytest.raises(InputError, match="No column holds readings"):
        profiles.keep("roof", replace(guessed(), columns=guessed().columns[:1]))
    assert profiles.profiles() == []


def test_options_that_make_no_sense_are_told_and_the_others_serve(tmp_path: Path) -> None:
    path = tmp_path / "loggers.json"
    profiles = LoggerProfiles(path)
    profiles.keep("roof", guessed())
    change_profiles(path, lambda old: (*old, KeptProfile("odd", ("time",), '{"format": 1, "columns": 7}')))
    assert [each.name for each in profiles.profiles()] == ["roof"]
    assert "odd" in profiles.problem


def test_options_come_back_from_the_disk_as_they_were() -> None:
    options = guessed('"Gerät: x"\n"Zeit, GMT+01:00"\t"T [°F]"\t"Regen ""in"""\n2026-03-02 10:00\t50\t0\n')
    LoggerProfiles().keep("x", options)
    assert LoggerProfiles().profiles()[0].options == options
