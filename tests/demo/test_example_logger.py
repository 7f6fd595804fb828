"""The sample of a logger's file: made up by the demo, read without a doubt."""

from __future__ import annotations

from pathlib import Path

from rustboard.app.demo.harbour_weather import HARBOUR_WEATHER
from rustboard.weather.logger_file.decode import decode_logger_file
from rustboard.weather.logger_file.guess import guess_options
from rustboard.weather.logger_file.read import read_logger_file

SAMPLE = Path(__file__).parents[2] / "resources" / "examples" / "logger.csv"


def test_the_sample_is_the_beginning_of_the_demos_file():
    sample = SAMPLE.read_bytes()
    assert HARBOUR_WEATHER.logger_file().startswith(sample)
    assert len(sample.splitlines()) > 600


def test_the_sample_is_read_without_a_doubt():
    text = decode_logger_file(SAMPLE.read_bytes(), SAMPLE.name)
    guess = guess_options(text)
    read = read_logger_file(text, guess.options)
    assert (guess.doubts, read.left_out) == ((), 0)
    assert guess.options.quantities() == ("temperature", "humidity", "rain", "wind")
