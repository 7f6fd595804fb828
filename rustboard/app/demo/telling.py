"""Telling a demo board its weather: through the same reading of files and the same operations as a person's."""

from __future__ import annotations

import hashlib
from dataclasses import replace

from rustboard.app.demo.weather_told import ToldWeather
from rustboard.board.measured import Disturbance
from rustboard.operations.disturbances import note_disturbance
from rustboard.operations.weather import GivenReadings, add_weather_file, describe_site, note_days
from rustboard.operations.weighing import GivenWeighing, note_weighing
from rustboard.session.session import Session


def tell_weather(session: Session, weather: ToldWeather) -> None:
    """Put the logger's file, the days and the disturbances on the board; coupons it does not have are passed over."""
    keys = {each.id: each.key for each in session.record.coupons.values()}
    session.do(describe_site, weather.site)
    session.do(add_weather_file, _given(weather))
    session.do(note_days, weather.days)
    for each in weather.disturbances:
        if not each.coupon or each.coupon in keys:
            session.do(note_disturbance, Disturbance(each.at, each.kind, keys.get(each.coupon), each.note))


def tell_weights(session: Session, weather: ToldWeather) -> None:
    """Put on the board what was weighed after it was taken down."""
    keys = {each.id: each.key for each in session.record.coupons.values()}
    for each in weather.weighed:
        if each.coupon in keys and weather.taken_down is not None:
            session.do(
                note_weighing,
                GivenWeighing(
                    keys[each.coupon],
                    weather.taken_down,
                    each.before_g,
                    each.after_g,
                    blank_before_g=each.blank_before_g,
                    blank_after_g=each.blank_after_g,
                    thickness_mm=weather.thickness_mm,
                    bare=True,
                    note=each.note,
                ),
            )


def _given(weather: ToldWeather) -> GivenReadings:
    from rustboard.session.weather_intake import LoadedFile, given_readings
    from rustboard.weather.logger_file.decode import decode_logger_file
    from rustboard.weather.logger_file.guess import guess_options
    from rustboard.weather.logger_file.read import read_logger_file

    data = weather.logger_file()
    text = decode_logger_file(data)
    options = replace(guess_options(text).options, logger=weather.logger, clock=weather.clock)
    file = LoadedFile(weather.file_name, hashlib.sha256(data).hexdigest(), text)
    return given_readings(file, options, read_logger_file(text, options))
