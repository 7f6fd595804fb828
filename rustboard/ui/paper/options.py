"""The choices beside the preview: which sheets, on which paper, with what on them."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QLocale, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QGroupBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.record import BoardRecord
from rustboard.report.paper.choice import MOST_VISITS, PaperChoice, check_paper_number
from rustboard.report.paper.paper_sizes import PAPERS, paper_named
from rustboard.ui.forms.form import WheelGuard, blamed_on, choice_field
from rustboard.ui.forms.labels import add_labelled, words_label
from rustboard.ui.forms.numbers import number_field, number_in

_FIELD_IN_LETTERS = 9


class PaperOptions(QWidget):
    """All choices.

    Signals:
        changed(): another choice was made.
    """

    changed = Signal()

    def __init__(self, record: BoardRecord, paper: str, parent: QWidget | None = None) -> None:
        """Show the usual choices for a board."""
        super().__init__(parent)
        self._has_markers = bool(record.markers)
        usual = PaperChoice()
        self._paper = choice_field()
        self._count = words_label(muted=True)
        self._map = QGroupBox(self.tr("Board &map with drill marks"))
        self._map_treatments = QCheckBox(self.tr("Name the treatments on the map"))
        self._hole = _number(usual.hole_mm, self.tr("Hole width in mm"))
        self._overlap = _number(usual.overlap_mm, self.tr("Overlap of the sheets in mm"))
        self._labels = QGroupBox(self.tr("Coupon &labels"))
        self._label_treatments = QCheckBox(self.tr("Name the treatments on the labels"))
        self._label_width = _number(usual.label_width_mm, self.tr("Label width in mm"))
        self._label_height = _number(usual.label_height_mm, self.tr("Label height in mm"))
        self._markers = QGroupBox(self.tr("Corner mar&kers"))
        self._marker = _number(usual.marker_mm, self.tr("Marker size in mm"))
        self._grading = QGroupBox(self.tr("&Grading sheets"))
        self._visits = QSpinBox()
        self._wheel = WheelGuard(self)
        self._fill(paper)
        self._build()
        self._wire()

    def choice(self, made_on: str) -> PaperChoice:
        """Return what is chosen.

        Raises:
            WrongFieldError: a number must be mended first.
        """
        boxes = {"map": self._map, "labels": self._labels, "markers": self._markers, "grading": self._grading}
        usual = PaperChoice()
        return PaperChoice(
            kinds=frozenset(kind for kind, box in boxes.items() if box.isChecked()),  # type: ignore[misc]
            paper=paper_named(self._paper.currentData()),
            made_on=made_on,
            decimal_mark=QLocale().decimalPoint(),
            map_treatments=self._map_treatments.isChecked(),
            overlap_mm=_read(self._overlap, "overlap_mm", usual.overlap_mm),
            hole_mm=_read(self._hole, "hole_mm", usual.hole_mm),
            label_width_mm=_read(self._label_width, "label_width_mm", usual.label_width_mm),
            label_height_mm=_read(self._label_height, "label_height_mm", usual.label_height_mm),
            label_treatments=self._label_treatments.isChecked(),
            marker_mm=_read(self._marker, "marker_mm", usual.marker_mm),
            visits=self._visits.value(),
        )

    def say_count(self, pages: Mapping[str, int]) -> None:
        """Say how many pages there will be of each kind of sheet, by their titles."""
        kinds = [self.tr("{0} {1}", "kind of sheet, pages").format(title, count) for title, count in pages.items()]
        total = sum(pages.values())
        words = self.tr("Pages: {0} ({1}).").format(total, ", ".join(kinds)) if len(kinds) > 1 else ""
        self._count.setText(words or self.tr("Pages: {0}.").format(total))

    def _fill(self, paper: str) -> None:
        for each in PAPERS:
            size = self.tr("{0} ({1} × {2} mm)").format(each.name, f"{each.width_mm:.0f}", f"{each.height_mm:.0f}")
            self._paper.addItem(size, each.name)
        self._paper.setCurrentIndex([each.name for each in PAPERS].index(paper_named(paper).name))
        self._visits.setRange(1, MOST_VISITS)
        self._visits.setAccessibleName(self.tr("Inspections on one sheet"))
        for box in (self._map, self._labels, self._markers, self._grading):
            box.setCheckable(True)
            box.setChecked(True)

    def _build(self) -> None:
        top = QFormLayout()
        add_labelled(top, self.tr("Pa&per"), self._paper)
        column = QVBoxLayout(self)
        column.addLayout(top)
        turned = self.tr("Each kind of sheet is turned the way that takes fewer pages.")
        column.addWidget(words_label(turned, muted=True))
        column.addWidget(self._count)
        self._build_map()
        self._build_labels()
        self._build_markers()
        form = QFormLayout(self._grading)
        form.addRow(self.tr("Inspections on one sheet"), self._visits)
        form.addRow(words_label(self.tr("Position and id only, so that grading can be blind."), muted=True))
        for box in (self._map, self._labels, self._markers, self._grading):
            column.addWidget(box)
        column.addStretch(1)
        for each in (self._paper, self._visits):
            self._wheel.watch(each)

    def _build_map(self) -> None:
        form = QFormLayout(self._map)
        form.addRow(self.tr("Holes, mm wide"), self._hole)
        form.addRow(self.tr("Sheets overlap by, mm"), self._overlap)
        form.addRow(self._map_treatments)

    def _build_labels(self) -> None:
        form = QFormLayout(self._labels)
        size = QHBoxLayout()
        size.addWidget(self._label_width)
        size.addWidget(QLabel("×"))
        size.addWidget(self._label_height)
        form.addRow(self.tr("Width × height, mm"), size)
        form.addRow(self._label_treatments)

    def _build_markers(self) -> None:
        form = QFormLayout(self._markers)
        if self._has_markers:
            form.addRow(words_label(self.tr("As large as the board's own markers."), muted=True))
            self._marker.hide()
        else:
            form.addRow(self.tr("Side of the square, mm"), self._marker)
        self._marker.setParent(self._markers)

    def _wire(self) -> None:
        self._paper.currentIndexChanged.connect(self.changed)
        self._visits.valueChanged.connect(self.changed)
        for box in (self._map, self._labels, self._markers, self._grading):
            box.toggled.connect(self.changed)
        for tick in (self._map_treatments, self._label_treatments):
            tick.toggled.connect(self.changed)
        for field in (self._hole, self._overlap, self._label_width, self._label_height, self._marker):
            field.editingFinished.connect(self.changed)


def _number(value: float, name: str) -> QLineEdit:
    field = number_field(value, letters=_FIELD_IN_LETTERS)
    field.setAccessibleName(name)
    return field


def _read(field: QLineEdit, name: str, usual: float) -> float:
    """Return the number in a field; the usual one where it is empty or cannot be changed now."""
    if not field.isEnabled():
        return usual
    value = number_in(field)
    if value is None:
        return usual
    with blamed_on(field):
        check_paper_number(name, value)
    return value
