"""How the figures about the weather came about, for the sheet of the method."""

from __future__ import annotations

from collections.abc import Iterator

from rustboard.board.record import BoardRecord, site_of


def weather_lines(record: BoardRecord, *, where: str = "the sheet Exposure says how much") -> Iterator[str]:
    """Yield what to say of time of wetness, dew point and assumptions; nothing where no weather is known.

    ``where`` says where the gaps are told.
    """
    if not (record.weather_files or record.day_notes):
        return
    site = site_of(record)
    if record.weather_files:
        yield (
            "Time of wetness is the time in which relative humidity is above 80 % while the air is above 0 °C (ISO "
            "9223). It says when steel outdoors is likely wet; it is not measured on the coupons."
        )
        yield (
            f"Dew points follow from temperature and humidity by the coefficients {site.dew_point_set}. Hours of dew "
            "are estimated: those at night in which a surface that cools to a clear sky would have been below the "
            "dew point of the air, an upper figure. Hours of leaf wetness come from a decision tree made for leaves, "
            "and are no more than an indication."
        )
        yield (
            "Of several loggers the one that was added first counts, and the next ones fill where it has nothing. "
            + (
                "Humidity that stood still at its highest value for a day or longer was left out."
                if site.leave_out_stuck
                else "Humidity that stood still at its highest value for a day or longer counts as it was read."
            )
        )
    if record.day_notes:
        yield (
            "Days noted by hand count where no logger has anything. A day on which nobody noted how long the coupons "
            f"were wet counts as {site.dew_day_hours:g} hours wet with dew, and as {site.wet_day_hours:g} with rain, "
            "fog or snow: an assumption for this board, without a source."
        )
    clock = f"the zone {site.zone}" if site.zone else "no zone that is known, so every clock is taken as it is"
    yield f"The board's clock keeps {clock}. A gap in what is known is left a gap: {where}."
