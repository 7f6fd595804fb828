"""The choices beside the preview of a film."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, cast

from PySide6.QtCore import QLocale, Qt, Signal, Slot
from PySide6.QtWidgets import QCheckBox, QComboBox, QDoubleSpinBox, QVBoxLayout, QWidget

from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.session.timelapse import film_seconds
from rustboard.support.text import one_line
from rustboard.ui.films.choice import KIND_NAMES, KIND_WORDS, FilmChoice, say
from rustboard.ui.forms.form import WheelGuard, choice_field
from rustboard.ui.forms.labels import add_labelled, panel_form, words_label
from rustboard.ui.photo_titles import photo_titles
from rustboard.ui.wording import coupon_title, number, tool_tip

if TYPE_CHECKING:
    from rustboard.report.film import FilmKind

_LEAST_SECONDS: Final = 0.1
_MOST_SECONDS: Final = 5.0
_USUAL_SECONDS: Final = 0.5
_STEP: Final = 0.1
_MOST_NAMED: Final = 6


class FilmOptions(QWidget):
    """All choices.

    Signals:
        changed(): the film will be another one, or look different.
    """

    changed = Signal()

    def __init__(
        self, record: BoardRecord, photos: Sequence[Photo], coupons: Sequence[int], parent: QWidget | None = None
    ) -> None:
        """Offer the whole board and these coupons, and photos by time; all of the photos are chosen."""
        super().__init__(parent)
        self._record, self._photos = record, tuple(photos)
        self._subject, self._first, self._last = choice_field(), choice_field(), choice_field()
        self._seconds = QDoubleSpinBox()
        self._kind = choice_field()
        self._kind_words = words_label(muted=True, narrow=True)
        self._stamped = QCheckBox(self.tr("Stamp &day, date and grades"))
        self._length = words_label(narrow=True)
        self._missing = words_label(narrow=True)
        self._wheel = WheelGuard(self)
        self._fill(coupons)
        self._build()
        self._wire()
        self._describe()

    def choice(self) -> FilmChoice:
        """Return what is chosen."""
        return FilmChoice(
            self._subject.currentData(),
            self._photos[self._first.currentIndex() : self._last.currentIndex() + 1],
            round(self._seconds.value(), 2),
            cast("FilmKind", self._kind.currentData()),
            self._stamped.isChecked(),
        )

    def choose_coupon(self, coupon: int | None) -> None:
        """Choose a coupon, if a film can be made of it; else the whole board."""
        self._subject.setCurrentIndex(max(0, self._subject.findData(coupon)) if coupon is not None else 0)

    def name_missing(self, photos: Sequence[Photo]) -> None:
        """Name the photos that cannot be in the film."""
        names = ", ".join(one_line(each.name, 60) for each in photos[:_MOST_NAMED])
        if len(photos) > _MOST_NAMED:
            names = self.tr("{0} and {1} more").format(names, len(photos) - _MOST_NAMED)
        said = self.tr("Left out, because their files are not in the board's photos folder: {0}.").format(names)
        self._missing.setText(said if photos else "")
        self._missing.setVisible(bool(photos))

    def _fill(self, coupons: Sequence[int]) -> None:
        self._subject.addItem(self.tr("The whole board"), None)
        for key in coupons:
            self._subject.addItem(coupon_title(self._record, self._record.coupons[key])[:100], key)
        for photo, title in zip(self._photos, photo_titles(self._record, self._photos), strict=True):
            for field in (self._first, self._last):
                field.addItem(title, photo.key)
                field.setItemData(field.count() - 1, tool_tip(one_line(photo.name, 60)), Qt.ItemDataRole.ToolTipRole)
        self._last.setCurrentIndex(len(self._photos) - 1)
        self._seconds.setRange(_LEAST_SECONDS, _MOST_SECONDS)
        self._seconds.setSingleStep(_STEP)
        self._seconds.setDecimals(1)
        self._seconds.setLocale(QLocale())
        self._seconds.setValue(_USUAL_SECONDS)
        self._seconds.setSuffix(self.tr(" s"))
        for kind, words in KIND_NAMES.items():
            self._kind.addItem(say(words), kind)
        self._stamped.setChecked(True)

    def _build(self) -> None:
        form = panel_form()
        rows: tuple[tuple[str, QComboBox | QDoubleSpinBox, str], ...] = (
            (self.tr("&Film of"), self._subject, self.tr("What the film shows")),
            (self.tr("F&rom"), self._first, self.tr("First photo of the film")),
            (self.tr("&Until"), self._last, self.tr("Last photo of the film")),
            (self.tr("&Each picture stands"), self._seconds, self.tr("Seconds that each picture stands")),
            (self.tr("&Kind of file"), self._kind, self.tr("Kind of file")),
        )
        for text, field, name in rows:
            add_labelled(form, text, field)
            field.setAccessibleName(name)
            self._wheel.watch(field)
        column = QVBoxLayout(self)
        column.addLayout(form)
        for widget in (self._kind_words, self._stamped, self._length, self._missing):
            column.addWidget(widget)
        column.addStretch(1)
        self.name_missing(())

    def _wire(self) -> None:
        self._first.currentIndexChanged.connect(self._keep_last_after)
        self._last.currentIndexChanged.connect(self._keep_first_before)
        for each in (self._subject, self._first, self._last, self._kind):
            each.currentIndexChanged.connect(self._follow)
        self._seconds.valueChanged.connect(self._follow)
        self._stamped.toggled.connect(self._follow)

    @Slot(int)
    def _keep_last_after(self, index: int) -> None:
        self._last.setCurrentIndex(max(index, self._last.currentIndex()))

    @Slot(int)
    def _keep_first_before(self, index: int) -> None:
        self._first.setCurrentIndex(min(index, self._first.currentIndex()))

    @Slot()
    def _follow(self) -> None:
        self._describe()
        self.changed.emit()

    def _describe(self) -> None:
        choice = self.choice()
        self._kind_words.setText(say(KIND_WORDS[choice.kind]))
        seconds = film_seconds(len(choice.photos), choice.seconds_each)
        self._length.setText(
            self.tr("Pictures: {0}. Length: about {1} s; the last picture stands longer.").format(
                len(choice.photos), number(seconds)
            )
        )
