"""Pictures of findings: painted within their place, told in words, pointed at, walked through, copied."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QImage, QPainter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from rustboard.ui.charts.chart import Chart, Spot
from rustboard.ui.charts.forecast import BandPoint, GradeBand, GradeBands
from rustboard.ui.charts.forest import Forest, ForestRow
from rustboard.ui.charts.frontier import Frontier, Offer
from rustboard.ui.charts.interaction import InteractionLine, InteractionPicture
from rustboard.ui.charts.look import Look
from rustboard.ui.charts.ranked_dots import DotRow, RankedDots
from rustboard.ui.charts.residual_map import MapCell, ResidualMap
from rustboard.ui.charts.survival_steps import Fall, SurvivalLine, SurvivalSteps
from rustboard.ui.charts.view import ChartView
from rustboard.ui.theme import SCHEMES

HOW = "Means of the coupons, with the interval of the pooled spread."
LONG = "hot beeswax and turpentine rubbed in warm over zinc phosphate, three coats "
GROUND = QColor("#123456")  # no scheme has it: whatever differs from it was painted
RIM = 40


def some_charts(groups: int = 3) -> dict[str, Chart]:
    names = [f"{LONG}{number}" for number in range(groups)]
    return {
        "dots": RankedDots(
            "Ranking",
            HOW,
            tuple(
                DotRow(n, ("C1", "C2", "C3"), (7.0, 7.0, 9.0), 7.7, 6.1, 9.3, "ab", not i)
                for i, n in enumerate(names)
            ),
            "last grade",
            (0, 10),
            7,
            "failing grade",
        ),
        "survival": SurvivalSteps(
            "Survival",
            HOW,
            tuple(
                SurvivalLine(n, i, (Fall(7, 14, 0.25),), 56, 4, 1, "median 31.5", ((1, 0.9), (50, 0.4)))
                for i, n in enumerate(names)
            ),
            "days",
        ),
        "interaction": InteractionPicture(
            "Interaction",
            HOW,
            ("bare", "blued"),
            tuple(InteractionLine(n, i, ((7.0, 8.0), () if i else (6.0,))) for i, n in enumerate(names)),
            "grade",
            (0, 10),
        ),
        "frontier": Frontier(
            "Cost",
            HOW,
            tuple(Offer(n, 4.6, 8.2, 7.3, 9.1, not i) for i, n in enumerate(names)),
            "cost of one m²",
            "grade",
            (0, 10),
        ),
        "forest": Forest(
            "Boards",
            HOW,
            (
                *(ForestRow(n, 6.3, 5.2, 7.4, 0.5) for n in names),
                ForestRow("Pier", 3.1, None, None, 0),
                ForestRow("All", 6.2, 4.9, 7.5, 1, True),
            ),
            "difference",
            "control ahead",
            "wax ahead",
        ),
        "map": ResidualMap(
            "Map",
            HOW,
            ("A", "B"),
            tuple(str(each) for each in range(1, groups + 1)),
            (
                MapCell(0, 0, "C01", LONG, 1.2, True, False),
                MapCell(1, 1, "C02", LONG, -0.7, False, True),
                MapCell(0, 1, "C03", LONG, None, False, False),
            ),
            "grades",
        ),
        "bands": GradeBands(
            "Forecast",
            HOW,
            tuple(
                GradeBand(
                    n, i, (BandPoint(0, 10, 10, 10), BandPoint(28, 8.4, 7.2, 9.3), BandPoint(56, 5.1, 3.3, 7.9)), 28
                )
                for i, n in enumerate(names)
            ),
            "days",
            28,
            7,
        ),
    }


KINDS = tuple(some_charts())
FIGURES = {
    "dots": ("7.7", "6.1", "9.3", "[ab]", "C1 7", "C3 9", "failing grade: 7"),
    "survival": ("1 of 4", "25 %", "7 and 14", "median 31.5"),
    "interaction": ("7.5", "7, 8", "not tried"),
    "frontier": ("4.6", "8.2", "7.3", "9.1"),
    "forest": ("6.3", "5.2", "7.4", "3.1", "6.2", "4.9", "7.5"),
    "map": ("C01", "+1.2", "unlike its replicates", "−0.7", "left out", "C03", "–"),
    "bands": ("8.4", "7.2", "9.3", "5.1", "3.3", "7.9", "forecast"),
}
NOTHING: dict[str, Chart] = {
    "no rows": RankedDots("t", HOW, (), "grade"),
    "one value": RankedDots("t", HOW, (DotRow("a", ("C1",), (5.0,), 5.0, None, None),), "grade"),
    "all equal": RankedDots("t", HOW, (DotRow("a", ("C1", "C2"), (0.0, 0.0), 0.0, 0.0, 0.0),), "grade"),
    "no mean": RankedDots("t", HOW, (DotRow("a", (), (), None, None, None),), "grade"),
    "no curves": SurvivalSteps("t", HOW, (), "days"),
    "no fall": SurvivalSteps("t", HOW, (SurvivalLine("a", 0, (), 0.0, 1, 0),), "days"),
    "no finishes": InteractionPicture("t", HOW, (), (), "grade"),
    "nothing tried": InteractionPicture("t", HOW, ("bare",), (InteractionLine("a", 0, ((),)),), "grade"),
    "no offers": Frontier("t", HOW, (), "cost", "grade"),
    "free": Frontier("t", HOW, (Offer("a", 0.0, 0.0, 0.0, 0.0, True),), "cost", "grade"),
    "no boards": Forest("t", HOW, (), "difference", "one", "other"),
    "no interval": Forest("t", HOW, (ForestRow("a", 0.0, None, None, 0.0),), "difference", "one", "other"),
    "no cells": ResidualMap("t", HOW, (), (), (), "grades"),
    "no residual": ResidualMap("t", HOW, ("A",), ("1",), (MapCell(0, 0, "C1", "a", 0.0, False, False),), "grades"),
    "no bands": GradeBands("t", HOW, (), "days"),
    "no points": GradeBands("t", HOW, (GradeBand("a", 0, (), 0.0),), "days", 0.0),
}


def painted(chart: Chart, width: float, look: Look) -> tuple[QImage, QRectF, list[Spot]]:
    """Return the picture with a rim of bare ground around its rectangle."""
    inside = QRectF(RIM, RIM, width, chart.wanted_height(width, look))
    image = QImage(round(width) + 2 * RIM, round(inside.height()) + 2 * RIM, QImage.Format.Format_RGB32)
    image.fill(GROUND)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    spots = chart.paint(painter, inside, look)
    painter.end()
    return image, inside, spots


def rows_painted_outside(image: QImage, inside: QRectF) -> list[tuple[str, int]]:
    """Return the sides on which something lies more than 2 px beyond the rectangle."""
    bare = QImage(image.size(), image.format())
    bare.fill(GROUND)
    wide, high, rim = image.width(), image.height(), RIM - 2
    strips = {"top": (0, 0, wide, rim), "left": (0, 0, rim, high),
              "right": (wide - rim, 0, rim, high), "bottom": (0, high - rim, wide, rim)}  # fmt: skip
    return [(side, box[2]) for side, box in strips.items() if image.copy(*box) != bare.copy(*box)]


def look_of(scheme: str, scale: float = 1.0) -> Look:
    font = QFont(QGuiApplication.font())
    font.setPointSizeF(10 * scale)
    return Look(SCHEMES[scheme], font)


@pytest.fixture
def view(qapp: QApplication) -> Iterator[ChartView]:
    made = ChartView(SCHEMES["light"])
    made.resize(700, 500)
    made.show_chart(some_charts()["dots"])
    made.show()
    QApplication.processEvents()
    made.canvas.grab()
    yield made
    made.close()
    made.deleteLater()


@pytest.mark.parametrize("kind", KINDS)
def test_the_words_hold_every_figure(qapp: QApplication, kind: str) -> None:
    told = some_charts()[kind].text()
    assert [each for each in FIGURES[kind] if each not in told] == []


@pytest.mark.parametrize("scale", [1.0, 2.0])
@pytest.mark.parametrize("groups", [3, 12])
@pytest.mark.parametrize("kind", KINDS)
def test_nothing_is_painted_outside_its_rectangle(qapp: QApplication, kind: str, groups: int, scale: float) -> None:
    image, inside, _ = painted(some_charts(groups)[kind], 560, look_of("sunlight", scale))
    assert rows_painted_outside(image, inside) == []


@pytest.mark.parametrize("kind", KINDS)
def test_what_can_be_pointed_at_lies_in_the_picture(qapp: QApplication, kind: str) -> None:
    _, inside, spots = painted(some_charts()[kind], 560, look_of("dark"))
    assert spots
    assert all(inside.contains(each.place) and each.words and each.reach > 0 for each in spots)


def test_equal_coupons_do_not_hide_one_another(qapp: QApplication) -> None:
    _, _, spots = painted(some_charts(1)["dots"], 560, look_of("light"))
    places = {each.words[-5:]: each.place for each in spots if ", C" in each.words}
    assert len({(round(each.x()), round(each.y())) for each in places.values()}) == 3


@pytest.mark.parametrize("name", NOTHING)
def test_little_or_nothing_to_show_is_still_a_picture(qapp: QApplication, name: str) -> None:
    image, inside, spots = painted(NOTHING[name], 300, look_of("light"))
    assert rows_painted_outside(image, inside) == []
    told = " ".join([NOTHING[name].text(), *(each.words for each in spots)]).lower()
    assert "nan" not in told
    assert "inf" not in told


def test_the_pointer_is_told_what_it_is_on(view: ChartView) -> None:
    spot = view.canvas.spots[0]
    assert view.canvas.spot_at(spot.place) == spot
    assert view.canvas.spot_at(QPointF(-100, -100)) is None


def test_keys_walk_through_the_picture_and_round(view: ChartView, monkeypatch: pytest.MonkeyPatch) -> None:
    said: list[str] = []
    monkeypatch.setattr("rustboard.ui.charts.view.say_aloud", lambda _, words: said.append(words))
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Down, Qt.Key.Key_Left, Qt.Key.Key_Up):
        QTest.keyClick(view.canvas, key)
    words = [each.words for each in view.canvas.spots]
    assert said == [words[0], words[1], words[0], words[-1]]


def test_how_it_was_got_opens_in_its_place(view: ChartView) -> None:
    assert not view.how.isVisible()
    QTest.keyClick(view.how_button, Qt.Key.Key_Space)
    assert view.how.isVisible()
    assert view.how.text() == HOW


def test_the_picture_is_copied_sharp_and_as_lines(view: ChartView) -> None:
    told: list[str] = []
    view.copied.connect(told.append)
    view.picture_button.click()
    held = QGuiApplication.clipboard().mimeData()
    assert held.hasImage()
    assert QGuiApplication.clipboard().image().width() > 2000
    assert b"<svg" in bytes(held.data("image/svg+xml").data())
    assert len(told) == 1
    assert "Ranking" in told[0]


def test_the_words_are_copied(view: ChartView) -> None:
    view.text_button.click()
    assert QGuiApplication.clipboard().text() == some_charts()["dots"].text()


def test_a_screen_reader_gets_the_words(view: ChartView) -> None:
    assert view.canvas.accessibleName() == "Ranking"
    assert "7.7" in view.canvas.accessibleDescription()


def test_without_a_picture_it_says_why(view: ChartView) -> None:
    view.show_chart(None, "No prices yet.")
    assert view.empty.isVisible()
    assert view.empty.text() == "No prices yet."
    assert not view.canvas.isVisible()
    assert not view.picture_button.isVisible()
