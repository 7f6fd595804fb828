"""Logger files as they come, all invented: each is read as guessed, and what is uncertain is doubted."""

from __future__ import annotations

import pytest
from logger_files import guessed, read_as_guessed, readings

from rustboard.support.problems import InputError
from rustboard.weather.logger_file.decode import decode_logger_file
from rustboard.weather.logger_file.guess import guess_options, with_titles


def test_a_plain_file_of_our_own_words() -> None:
    text = "time,temperature C,humidity %,rain mm\n2026-03-02 10:00,12.5,60,0\n2026-03-02 10:10,12.6,61,0.2\n"
    assert guessed(text).doubts == ()
    assert readings(read_as_guessed(text)) == [
        ("2026-03-02 10:00:00", {"temperature": 12.5, "humidity": 60, "rain": 0}),
        ("2026-03-02 10:10:00", {"temperature": 12.6, "humidity": 61, "rain": 0.2}),
    ]


GERMAN = (
    "Gerät;Garten Süd\r\nSeriennummer;A12\r\n\r\nDatum;Uhrzeit;Temperatur;Luftfeuchte;Regen\r\n;;°C;%;mm\r\n"
    "02.03.2026;10:00;12,5;60;0\r\n02.03.2026;10:10;-12,6;61;0,2\r\n13.03.2026;10:10;-1,6;61,5;0\r\n"
)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_semicolons_decimal_commas_two_time_columns_and_units_in_a_line_of_their_own(encoding: str) -> None:
    found = guessed(GERMAN, encoding)
    assert found.doubts == ()
    assert (found.options.delimiter, found.options.decimal_mark, found.options.date_order) == (";", ",", "day first")
    assert (found.options.header_rows, found.options.title_row, found.options.logger) == (5, 4, "Garten Süd")
    assert readings(read_as_guessed(GERMAN, encoding))[1] == (
        "2026-03-02 10:10:00",
        {"temperature": -12.6, "humidity": 61, "rain": 0.2},
    )


def test_fahrenheit_halves_of_the_day_and_the_clock_in_a_title() -> None:
    text = (
        '"Plot Title: Garden wall"\n"#","Date Time, GMT-05:00","Temp, °F (LGR S/N: 123)","RH, %","Host Connected"\n'
        "1,03/12/26 12:00:00 AM,50.0,70.1,\n2,03/12/26 12:10:00 PM,212,72.1,\n3,03/13/26 01:10:00 PM,32,72.1,Logged\n"
    )
    found = guessed(text)
    assert found.doubts == ()
    assert (found.options.clock, found.options.logger) == ("UTC-05:00", "Garden wall")
    assert found.options.date_order == "month first"
    assert readings(read_as_guessed(text)) == [
        ("2026-03-12 00:00:00", {"temperature": 10, "humidity": 70.1}),
        ("2026-03-12 12:10:00", {"humidity": 72.1}),  # 100 C is no air
        ("2026-03-13 13:10:00", {"temperature": 0, "humidity": 72.1}),
    ]


def test_french_words_and_hours_with_an_h() -> None:
    text = (
        "Date;Heure;temp. ext. (°C);Humidité relative (%);précipitations (mm)\n"
        "14/03/2026;9h05;7,5;88;0,4\n14/03/2026;9h15;7,6;87;0,0\n"
    )
    assert guessed(text).doubts == ()
    assert readings(read_as_guessed(text))[0] == (
        "2026-03-14 09:05:00",
        {"temperature": 7.5, "humidity": 88, "rain": 0.4},
    )


def test_spanish_words() -> None:
    text = "Fecha;Hora;Temperatura [°C];Humedad [%];Viento (km/h)\n31/03/2026;10:00;20,5;40;36\n"
    assert readings(read_as_guessed(text)) == [
        ("2026-03-31 10:00:00", {"temperature": 20.5, "humidity": 40, "wind": 10}),
    ]


def test_offsets_behind_the_times_make_the_clock_utc() -> None:
    text = "Time,Temp C\n2026-03-29T01:30:00+01:00,5\n2026-03-29T03:30:00+02:00,6\n2026-03-29T02:00:00Z,7\n"
    found = guessed(text)
    assert found.options.clock == "UTC"
    assert [when for when, _ in readings(read_as_guessed(text))] == [
        "2026-03-29 00:30:00",
        "2026-03-29 01:30:00",
        "2026-03-29 02:00:00",
    ]


@pytest.mark.parametrize(("number", "shown"), [("1772445900", "seconds"), ("1772445900000", "milliseconds")])
def test_counts_since_1970(number: str, shown: str) -> None:
    text = f"id\ttimestamp\ttemp (C)\n10001\t{number}\t12.5\n10002\t{int(number) + 1}\t13\n"
    found = guessed(text)
    assert found.options.clock == "UTC"
    assert any("since 1970" in each for each in found.doubts), shown
    # 2026-03-02 10:05:00 UTC by `date -u -d @1772445900`
    assert readings(read_as_guessed(text))[0] == ("2026-03-02 10:05:00", {"temperature": 12.5})


def test_days_as_spreadsheets_count_them() -> None:
    text = "sep=;\nDate;T [°C]\n46083,4375;12,5\n46084,5;13\n"
    # 46083 is 2 March 2026 in a spreadsheet: 25569 is 1 January 1970 (common practice, no source)
    assert readings(read_as_guessed(text)) == [
        ("2026-03-02 10:30:00", {"temperature": 12.5}),
        ("2026-03-03 12:00:00", {"temperature": 13}),
    ]


def test_runs_of_blanks_between_the_columns() -> None:
    text = "Date Time  Temp(C)  RH(%)\n2026-03-02 10:00   12.5  60\n  2026-03-02 10:10  12.6    61\n"
    found = guessed(text)
    assert (found.options.delimiter, found.doubts) == (" ", ())
    assert readings(read_as_guessed(text))[1] == ("2026-03-02 10:10:00", {"temperature": 12.6, "humidity": 61})


def test_titles_of_several_words_above_runs_of_blanks() -> None:
    text = "Date  Time   Air temp (°C)  Rel. humidity %\n2026-03-02  10:00  12.5  60\n2026-03-02  10:10  12.6  61\n"
    found = guessed(text)
    assert found.doubts == ()
    assert [each.title for each in found.options.columns] == ["Date", "Time", "Air temp (°C)", "Rel. humidity %"]


def test_lines_between_the_cells() -> None:
    text = "2026/3/2 9:05|12.5|60\n2026/3/2 9:15|12.6|61\n2026/3/2 9:25|12.4|61.5\n2026/3/2 9:35|12.6|61\n"
    found = guessed(text)
    assert found.options.delimiter == "|"
    assert [each.role for each in found.options.columns] == ["time", "temperature", "humidity"]
    assert len(found.doubts) == 3  # which column holds what, and the unit


def test_numbers_with_decimal_commas_in_quotation_marks_between_commas() -> None:
    text = '"Zeit","Temperatur °C","Feuchte %"\n"13.03.2026 10:00","12,5","60,1"\n"13.03.2026 10:10","12,6","61,0"\n'
    found = guessed(text)
    assert (found.options.delimiter, found.options.decimal_mark, found.doubts) == (",", ",", ())
    assert readings(read_as_guessed(text))[0] == ("2026-03-13 10:00:00", {"temperature": 12.5, "humidity": 60.1})


def test_commas_that_part_cells_and_numbers_alike_are_doubted() -> None:
    text = "Zeit,Temperatur °C,Feuchte %\n13.03.2026 10:00,12,5,60,1\n13.03.2026 10:10,12,6,61,0\n"
    assert any("semicolons" in each for each in guessed(text).doubts)


def test_names_of_months_in_some_languages() -> None:
    text = (
        "Time;Temp C\n1 Mar 2026 10:00;1\n2-Mai-26 10:00;2\nMärz 3, 2026, 10:00;3\n4 août 2026 10:00;4\n"
        "5 dic 2026 1:00 p.m.;5\n"
    )
    assert [when for when, _ in readings(read_as_guessed(text))] == [
        "2026-03-01 10:00:00",
        "2026-05-02 10:00:00",
        "2026-03-03 10:00:00",
        "2026-08-04 10:00:00",
        "2026-12-05 13:00:00",
    ]


def test_dates_without_marks() -> None:
    text = "date,time,temp_c\n20260302,1005,12.5\n20260302,1015,12.6\n"
    assert readings(read_as_guessed(text))[1] == ("2026-03-02 10:15:00", {"temperature": 12.6})
    text = "timestamp,temp_c\n20260302100500,12.5\n20260302101500,12.6\n"
    assert readings(read_as_guessed(text))[1] == ("2026-03-02 10:15:00", {"temperature": 12.6})


def test_midnight_as_24_oclock_and_a_day_without_hour() -> None:
    text = "time,temp C\n2026-03-01 23:00,0\n2026-03-01 24:00,1\n2026-03-02,2\n2026-03-02 24:30,3\n2026-03-03,4\n"
    read = read_as_guessed(text)
    assert [when for when, _ in readings(read)][1:3] == ["2026-03-02 00:00:00", "2026-03-02 00:00:00"]
    assert read.left_out == 1


def test_years_of_two_digits_are_settled_by_how_the_times_rise() -> None:
    rows = "".join(f"{day:02}.03.26 10:00;{day}\n" for day in range(9, 20))
    found = guessed(f"Zeit;Temperatur °C\n{rows}")
    assert (found.options.date_order, found.doubts) == ("day first", ())
    rows = "".join(f"26-03-{day:02} 10:00;{day}\n" for day in range(9, 20))
    found = guessed(f"Zeit;Temperatur °C\n{rows}")
    assert (found.options.date_order, found.doubts) == ("year first", ())


def test_dates_that_settle_no_order_are_a_doubt_and_the_times_decide() -> None:
    day_first = "".join(f"0{day}/03/2026 10:00,{day}\n" for day in range(1, 10))
    found = guessed(f"Time,Temp C\n{day_first}")
    assert found.options.date_order == "day first"
    assert len(found.doubts) == 1
    assert "day first or the month first" in found.doubts[0]
    month_first = "".join(f"03/0{day}/2026 10:00,{day}\n" for day in range(1, 10))
    found = guessed(f"Time,Temp C\n{month_first}")
    assert found.options.date_order == "month first"
    assert len(found.doubts) == 1


def test_one_date_far_down_settles_the_order() -> None:
    rows = "".join(f"0{1 + day % 9}/03/2026 10:00,{day}\n" for day in range(5_000)) + "03/25/2026 10:00,1\n"
    assert guessed(f"Time,Temp C\n{rows}").options.date_order == "month first"


def test_a_counter_of_rain_is_known_by_its_title_or_doubted_by_its_rise() -> None:
    rows = "".join(f"2026-03-02 10:0{minute},{minute * 0.2:.1f}\n" for minute in range(9))
    found = guessed(f"time,Rain total (mm)\n{rows}")
    assert (found.options.columns[1].role, found.doubts) == ("rain total", ())
    found = guessed(f"time,Rain (mm)\n{rows}")
    assert found.options.columns[1].role == "rain total"
    assert "only ever rises" in found.doubts[0]
    found = guessed(f"time,Rain (mm/h)\n{rows}")
    assert (found.options.columns[1].role, found.options.columns[1].unit) == ("rain rate", "mm/h")


def test_degrees_fahrenheit_without_a_unit_are_doubted_by_their_size() -> None:
    text = "time,Temperature,Humidity\n2026-07-02 10:00,68,60\n2026-07-02 10:10,86,61\n"
    found = guessed(text)
    assert found.options.columns[1].unit == "F"
    assert "°F is taken because it reaches" in found.doubts[0]


def test_humidity_as_a_fraction_and_wind_in_knots() -> None:
    text = "time,Temp C,RH,Wind (kn)\n2026-03-02 10:00,12.5,0.6,10\n2026-03-02 10:10,12.6,0.61,0\n"
    found = guessed(text)
    assert "fraction" in found.doubts[0]
    (_, values), _ = readings(read_as_guessed(text))
    assert values == {"temperature": 12.5, "humidity": 60, "wind": 5.144}  # 1 kn = 1852 m / 3600 s, by definition


def test_rain_in_inches() -> None:
    text = "time,Rain (in)\n2026-03-02 10:00,0.01\n2026-03-02 10:10,0\n2026-03-02 10:20,0.02\n"
    assert [values for _, values in readings(read_as_guessed(text))] == [
        {"rain": 0.254},
        {"rain": 0},
        {"rain": 0.508},
    ]


def test_the_outdoor_column_is_taken_and_wind_chill_never() -> None:
    text = (
        "Time,Indoor Temperature(°C),Outdoor Temperature(°C),Feels Like(°C),Dew Point(°C),Outdoor Humidity(%)\n"
        "2026-03-02 10:00,21,5,2,1,70\n"
    )
    found = guessed(text)
    assert found.doubts == ()
    assert [each.role for each in found.options.columns] == [
        "time", "ignored", "temperature", "ignored", "dew point", "humidity",
    ]  # fmt: skip


def test_titles_over_two_lines() -> None:
    text = (
        "\t\tTemp\tHi\tLow\tOut\t\nDate\tTime\tOut\tTemp\tTemp\tHum\tRain\n"
        "13/03/26\t10:00a\t5.0\t5.5\t4.5\t70\t0.2\n14/03/26\t1:05p\t6.0\t6.5\t5.5\t71\t0.0\n"
    )
    found = guessed(text)
    assert [each.title for each in found.options.columns[2:6]] == ["Temp Out", "Hi Temp", "Low Temp", "Out Hum"]
    assert [each.role for each in found.options.columns[2:6]] == ["temperature", "ignored", "ignored", "humidity"]
    assert readings(read_as_guessed(text)) == [
        ("2026-03-13 10:00:00", {"temperature": 5, "humidity": 70, "rain": 0.2}),
        ("2026-03-14 13:05:00", {"temperature": 6, "humidity": 71, "rain": 0}),
    ]


def test_the_logger_named_in_a_column() -> None:
    text = "Station,Time,Temp (C)\nnorth wall,2026-03-02 10:00,5\nnorth wall,2026-03-02 10:10,6\n"
    assert guessed(text).options.logger == "north wall"


def test_a_degree_sign_read_in_another_code_page() -> None:
    for sign in ("\ufffd", "Â°", "?"):
        found = guessed(f"time,Temp ({sign}F)\n2026-03-02 10:00,50\n")
        assert (found.options.columns[1].unit, found.doubts) == ("F", ())


def test_when_a_file_was_exported_is_not_its_clock() -> None:
    text = "Exported 2026-03-09 10:00 UTC\nTime,Temp C\n2026-03-02 10:00,5\n"
    assert guessed(text).options.clock == ""


def test_two_columns_for_one_quantity_are_a_doubt() -> None:
    text = "Time,Temp 1 (°C),Temp 2 (°C)\n2026-03-02 10:00,21,5\n"
    found = guessed(text)
    assert [each.role for each in found.options.columns] == ["time", "temperature", "ignored"]
    assert "“Temp 2 (°C)”" in found.doubts[0]


def test_units_behind_the_numbers() -> None:
    text = "Time;Temperature;Humidity\n2026-03-02 10:00;12,5 °C;60 %\n2026-03-02 10:10;12,6 °C;61%\n"
    found = guessed(text)
    assert found.doubts == ()
    assert readings(read_as_guessed(text))[1] == ("2026-03-02 10:10:00", {"temperature": 12.6, "humidity": 61})


def test_the_zone_named_above_the_titles() -> None:
    text = "Time zone: Europe/Berlin\nTime,Temp C\n2026-03-02 10:00,5\n"
    assert guessed(text).options.clock == "Europe/Berlin"
    assert guessed("Times in UTC\nTime,Temp C\n2026-03-02 10:00,5\n").options.clock == "UTC"
    assert guessed("Time (UTC+1),Temp C\n2026-03-02 10:00,5\n").options.clock == "UTC+01:00"
    assert guessed("Time zone: Nowhere/Town\nTime,Temp C\n2026-03-02 10:00,5\n").options.clock == ""


def test_newest_first_and_old_line_ends() -> None:
    text = "time,temp C\r2026-03-02 10:10,2\r2026-03-02 10:00,1\r"
    assert [values["temperature"] for _, values in readings(read_as_guessed(text))] == [2, 1]


def test_a_tail_and_empty_lines_do_not_harm() -> None:
    text = "time,temp C\n\n2026-03-02 10:00,1\n\n,\n2026-03-02 10:10,2\n2026-03-02 10:20,3\nEnd of data\n\n"
    read = read_as_guessed(text)
    assert len(read.table) == 3
    assert (read.left_out, [each.row for each in read.told]) == (1, [8])


def test_hours_that_may_have_lost_their_halves_are_doubted() -> None:
    rows = "".join(
        f"2026-03-0{day} {hour}:{minute:02},5.{hour}\n"
        for day in (1, 2)
        for hour in (12, *range(1, 12), 12, *range(1, 12))
        for minute in (0, 30)
    )
    assert any("AM and PM" in each for each in guessed(f"time,temp C\n{rows}").doubts)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("name,value\nx,1\ny,2\n", "holds the time"),
        ("time,note\n2026-03-02 10:00,wet\n2026-03-02 10:10,dry\n", "holds numbers"),
    ],
)
def test_what_is_no_file_of_readings_is_refused_in_a_sentence(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        guessed(text)


def test_columns_that_nobody_knows_are_left_to_the_person() -> None:
    text = "time,pressure hPa,soil temperature °C\n2026-03-02 10:00,1013,5\n2026-03-02 10:10,1012,5.1\n"
    found = guessed(text)
    assert [each.role for each in found.options.columns] == ["time", "ignored", "ignored"]
    assert "say which does" in found.doubts[0]
    with pytest.raises(InputError, match="No column holds readings"):
        read_as_guessed(text)


def test_a_person_may_say_what_parts_the_cells_and_where_the_readings_begin() -> None:
    text = decode_logger_file(b"a;b;c\nZeit;T;x\n2026-03-02 10:00;1,5;2|7\n2026-03-02 10:10;1,5;2|7;8\n")
    options = guess_options(text, delimiter=";").options
    assert (options.delimiter, options.header_rows) == (";", 2)
    with pytest.raises(InputError):
        guess_options(text, delimiter="\t")
    changed = with_titles(text, options, header_rows=3, title_row=1)
    assert (changed.header_rows, changed.title_row) == (3, 1)
    assert [each.title for each in changed.columns] == ["a", "b", "c", ""]
    assert [each.role for each in changed.columns][:2] == [each.role for each in options.columns][:2]
    untitled = with_titles(text, options, header_rows=90, title_row=91)
    assert (untitled.header_rows, untitled.title_row, untitled.columns[0].title) == (3, 0, "")


def test_numbered_rows_whose_numbers_have_no_title() -> None:
    text = "Time,Temp (°C),Humidity (%)\n1,15/03/2026 10:00:00,12.5,60.0\n2,15/03/2026 10:10:00,12.5,61.0\n"
    found = guessed(text)
    assert found.doubts == ()
    assert readings(read_as_guessed(text))[1] == ("2026-03-15 10:10:00", {"temperature": 12.5, "humidity": 61})


def test_ten_digits_are_day_and_hour_or_seconds() -> None:
    text = "station;date;TT (°C);RF (%)\n 433;2026031500; 4.5; 80.0\n 433;2026031501; 4.6; 81.0\n"
    assert guessed(text).options.clock == ""
    assert [when for when, _ in readings(read_as_guessed(text))] == ["2026-03-15 00:00:00", "2026-03-15 01:00:00"]
    seconds = text.replace("2026031500", "2026031550").replace("2026031501", "2026032150")
    assert guessed(seconds).options.clock == "UTC"
    # by `date -u -d @2026031550`
    assert readings(read_as_guessed(seconds))[0][0] == "2034-03-15 10:32:30"


def test_the_longest_running_counter_of_rain_is_taken() -> None:
    text = (
        "dateutc,tempinf,tempf,humidityin,humidity,eventrainin,dailyrainin,yearlyrainin,baromin\n"
        "2026-03-15 00:00:00,70,50,40,80,0.2,0.3,7,29.9\n2026-03-15 00:05:00,70,50,40,81,0.2,0.4,7.1,29.9\n"
    )
    found = guessed(text)
    assert found.options.clock == "UTC"
    assert found.options.columns[7].role == "rain total"
    assert found.doubts == ("“yearlyrainin” is taken for a counter of rain that starts anew now and then.",)
    assert readings(read_as_guessed(text))[0] == (
        "2026-03-15 00:00:00",
        {"temperature": 10, "humidity": 80, "rain total": 177.8},
    )


def test_half_of_the_rows_may_be_empty() -> None:
    for count in (60, 1_200):
        rows = "".join(f"2026-03-02 {minute // 60:02}:{minute % 60:02},5\n,\n" for minute in range(count))
        read = read_as_guessed(f"time,temp C\n{rows}")
        assert (len(read.table), read.left_out) == (count, 0)


def test_rows_that_mostly_end_before_the_last_title() -> None:
    rows = "".join(f"2026-03-02 10:0{minute},5{',60' if minute == 7 else ''}\n" for minute in range(9))
    read = read_as_guessed(f"time,temp C,humidity %\n{rows}")
    assert readings(read)[7] == ("2026-03-02 10:07:00", {"temperature": 5, "humidity": 60})
