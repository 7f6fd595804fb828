"""Figures of practice in words and in the small picture."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest
from PySide6.QtCore import QLocale
from PySide6.QtGui import QColor, QImage

from rustboard.scales.practice_results import Habit, Results
from rustboard.session.practice import Past, Truth
from rustboard.ui.practice.history_chart import MOST_SHOWN, HistoryChart
from rustboard.ui.practice.words import lean, offset_sentences, signed, verdict_on, watch_sentences
from rustboard.ui.theme import DARK, LIGHT, SUNLIGHT

WHEN = datetime(2026, 3, 2, 9)


def past(before: float, after: float, spread: float = 0.6, habits: tuple[Habit, ...] = (), day: int = 0) -> Past:
    return Past(
        WHEN + timedelta(days=day),
        Results(12, before, spread, 4, 9),
        Results(12, after, spread, 6, 11),
        habits,
    )


@pytest.mark.parametrize(
    ("value", "shown"), [(0.0, "0"), (0.04, "0"), (-0.04, "0"), (0.5833, "+0.6"), (-1.0, "−1"), (-2.25, "−2.2")]
)
def test_a_difference_is_written_with_its_sign_and_one_decimal(value, shown):
    assert signed(value) == shown


@pytest.mark.parametrize(
    ("offset", "words"),
    [
        (0.02, "neither too good nor too bad"),
        (0.6, "0.6 of a grade too good"),
        (-0.6, "0.6 of a grade too bad"),
        (0.96, "1 grade too good"),
        (-1.0, "1 grade too bad"),
        (1.4, "1.4 grades too good"),
        (-2.5, "2.5 grades too bad"),
    ],
)
def test_an_offset_in_words(offset, words):
    assert lean(offset) == words


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        (5, "Right."),
        (6, "One grade too good: there is more rust than you saw."),
        (8, "3 grades too good: there is more rust than you saw."),
        (4, "One grade too bad: there is less rust than you saw."),
        (0, "5 grades too bad: there is less rust than you saw."),
    ],
)
def test_one_answer_beside_the_truth(given, sentence):
    assert verdict_on(Truth(2.0, 5, given, np.zeros((1, 1), np.bool_))) == sentence


def test_a_change_that_chance_can_make_is_not_called_progress():
    # By hand: 2 * sqrt(2 * 0.6^2 / 12) = 0.49.
    told = offset_sentences(past(0.4, 0.1))
    assert told[-1] == "With 12 coupons in each part, chance alone can move the average by 0.5: this is no more."
    told = offset_sentences(past(1.4, 0.1))
    assert told[-1] == ("With 12 coupons in each part, chance alone would hardly move the average by more than 0.5.")
    assert len(offset_sentences(past(0.4, 0.4))) == 2, "where nothing moved there is nothing to explain"


def test_what_to_watch_for():
    habits = (Habit(5, 7, 1.6, 3), Habit(8, 7, -1.0, 2))
    assert watch_sentences(past(0, 0, habits=habits)) == [
        "Where it is 5 you give 7 (3 coupons): there is more rust than you see.",
        "Where it is 8 you give 7 (2 coupons): there is less rust than you see.",
    ]
    assert watch_sentences(past(0, 0.4)) == ["No single grade stands out."]
    assert "too little rust" in watch_sentences(past(0, 0.5))[-1]
    assert "too much rust" in watch_sentences(past(0, -0.5))[-1]


def test_numbers_follow_the_users_country():
    before = QLocale()
    QLocale.setDefault(QLocale(QLocale.Language.German, QLocale.Country.Germany))
    try:
        assert signed(0.6) == "+0,6"
        assert lean(1.4) == "1,4 grades too good"
    finally:
        QLocale.setDefault(before)


# ---- the picture


def painted(qtbot, *exercises: Past, scheme=LIGHT) -> QImage:
    chart = HistoryChart(scheme)
    qtbot.addWidget(chart)
    chart.resize(400, 300)
    chart.show_past(exercises)
    return chart.grab().toImage()


def rows_of(image: QImage, colour: str) -> np.ndarray:
    """Return the rows of all pixels of about a colour."""
    wanted = QColor(colour).rgb()
    return np.array([y for y in range(image.height()) for x in range(image.width()) if image.pixel(x, y) == wanted])


def test_points_of_too_good_grades_stand_above_those_of_too_bad_ones(qtbot):
    good = rows_of(painted(qtbot, past(1.0, 1.0)), LIGHT.accent)
    bad = rows_of(painted(qtbot, past(-1.0, -1.0)), LIGHT.accent)
    right = rows_of(painted(qtbot, past(0.0, 0.0)), LIGHT.accent)
    assert good.max() < right.mean() < bad.min()
    assert right.mean() - good.mean() == pytest.approx(bad.mean() - right.mean(), abs=1)


@pytest.mark.parametrize("scheme", [LIGHT, DARK, SUNLIGHT], ids=lambda scheme: scheme.name)
def test_the_point_before_is_hollow_and_the_one_after_filled(qtbot, scheme):
    rows = rows_of(painted(qtbot, past(1.2, -0.2), scheme=scheme), scheme.accent)
    middle = (rows.min() + rows.max()) / 2
    hollow, filled = rows[rows < middle], rows[rows > middle]
    assert filled.min() - hollow.max() > 30
    assert filled.size > 1.5 * hollow.size > 0


def test_without_an_exercise_nothing_is_painted_and_of_very_many_the_newest_are(qtbot):
    assert rows_of(painted(qtbot), LIGHT.accent).size == 0
    chart = HistoryChart(LIGHT)
    qtbot.addWidget(chart)
    many = [past(0.1 * (day % 7), 0.0, day=day) for day in range(100)]
    chart.show_past([replace(many[0], before=replace(many[0].before, offset=10.0)), *many[1:]])
    assert chart.accessibleName().startswith(f"Offset of {MOST_SHOWN} exercises; the last: +0.1 before, 0 after")
    assert not chart.grab().isNull()
