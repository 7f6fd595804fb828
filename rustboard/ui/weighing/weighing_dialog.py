"""One coupon's weighing, with what follows from it beside the fields."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import QSize, Slot
from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QSizePolicy, QWidget

from rustboard.board.record import BoardRecord
from rustboard.board.weighing import Weighing
from rustboard.operations.weighing import GivenWeighing, check_weighing
from rustboard.scales.cleaning import WHERE_TO_READ
from rustboard.scales.weighed import weigh_up
from rustboard.support.problems import InputError
from rustboard.ui.forms.form import FormDialog, WrongFieldError, choice_field
from rustboard.ui.forms.labels import words_label
from rustboard.ui.theme import Scheme
from rustboard.ui.weighing.result_panel import ResultPanel
from rustboard.ui.weighing.weighing_form import WeighingForm
from rustboard.ui.weighing.words import told
from rustboard.ui.wording import coupon_title

_LONGEST_TITLE = 80


class WeighingDialog(FormDialog):
    """Records or puts right what one coupon weighed.

    Attributes:
        coupon: which coupon it is. fields: what was weighed. outcome: what follows from it.
    """

    def __init__(
        self,
        record: BoardRecord,
        coupon: int | None,
        now: datetime,
        scheme: Scheme,
        parent: QWidget | None = None,
    ) -> None:
        """Show what was noted of a coupon (key); None = one that was not weighed yet, to be chosen.

        Raises:
            InputError: the board has no such coupon, or none at all.
        """
        super().__init__("", parent)
        self.setWindowTitle(self.tr("Weigh a coupon"))
        self._record = record
        self._given: GivenWeighing | None = None
        self._noted = {each.coupon: each for each in record.weighings.values() if each.state == "current"}
        self.coupon = choice_field()
        for each in record.coupons_in_order():
            if coupon in (None, each.key):
                self.coupon.addItem(coupon_title(record, each)[:_LONGEST_TITLE], each.key)
        if not self.coupon.count():
            raise InputError("The board has no coupon to weigh; add one first.")
        self.coupon.setEnabled(coupon is None)
        self._choose_unweighed()
        self.fields = WeighingForm(record.day_zero(), now, self)
        self.outcome = ResultPanel(scheme)
        self._build()
        self._show(self._noted.get(self._coupon_key()))
        self._wire()
        self._work_out()
        (self.fields.before if coupon is not None else self.coupon).setFocus()

    def _build(self) -> None:
        caution = words_label(told(WHERE_TO_READ), muted=True)
        caution.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Maximum)
        self.add_text(caution)
        self._form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        self.add_row(self.tr("&Coupon"), self.coupon)
        for label, row, buddy in self.fields.rows():
            if label:
                self.add_row(label, row, buddy)
            else:
                self.add_text(row)
        self.fields.name_fields()
        self._column.removeWidget(self._scroll)
        body = QHBoxLayout()
        body.addWidget(self._scroll, 4)
        body.addWidget(self.outcome, 3)
        self._column.insertLayout(0, body, 1)

    def _wire(self) -> None:
        self.coupon.activated.connect(self._follow_coupon)
        self.fields.edited.connect(self._work_out)

    def _choose_unweighed(self) -> None:
        keys = (int(self.coupon.itemData(place)) for place in range(self.coupon.count()))
        self.coupon.setCurrentIndex(next((place for place, key in enumerate(keys) if key not in self._noted), 0))

    def _coupon_key(self) -> int:
        return int(self.coupon.currentData())

    @Slot()
    def _follow_coupon(self) -> None:
        """Show what was noted of the coupon that was chosen."""
        noted = self._noted.get(self._coupon_key())
        if noted is None and self._shows_noted:
            self.fields.clear()
        self._show(noted)
        self._work_out()

    def _show(self, noted: Weighing | None) -> None:
        self._shows_noted = noted is not None
        self.fields.show_weighing(noted)

    @Slot()
    def _work_out(self) -> None:
        """Show what follows from the fields as they are."""
        try:
            given = self.fields.given(self._coupon_key())
            check_weighing(given)
        except WrongFieldError as error:
            self.outcome.show_nothing(error.sentence)
        except InputError as error:
            self.outcome.show_nothing(str(error))
        else:
            coupon = self._record.coupons[given.coupon]
            areas = self._record.excluded_areas.values()
            self.outcome.show_weighed(weigh_up(_as_weighing(given), coupon, areas, self._record.day_zero()))

    def read(self) -> None:
        """Read the fields.

        Raises:
            WrongFieldError: something must be mended first.
            InputError: the same, where no single field is to blame.
        """
        given = self.fields.given(self._coupon_key())
        check_weighing(given)
        self._given = given

    def given(self) -> GivenWeighing:
        """Return what is to be noted, once the dialog was accepted."""
        assert self._given is not None
        return self._given

    def sizeHint(self) -> QSize:
        """Return a size that shows fields and result beside one another, as far as the screen has room."""
        own, beside = super().sizeHint(), self.outcome.sizeHint()
        height = max(own.height(), beside.height())
        return QSize(own.width() + beside.width(), height).boundedTo(self._room())

    def minimumSizeHint(self) -> QSize:
        """Return a size in which a few fields and the beginning of the result are still seen."""
        own = super().minimumSizeHint()
        return QSize(own.width() + self.outcome.minimumWidth(), own.height()).boundedTo(self._room())

    def _fields_height(self, width: int) -> int:
        return max(0, self._form.heightForWidth(width - self._scroll.verticalScrollBar().sizeHint().width()))


def _as_weighing(given: GivenWeighing) -> Weighing:
    return Weighing(
        0,
        given.coupon,
        given.exposed_from,
        given.exposed_to,
        given.before_g,
        given.after_g,
        given.blank_before_g,
        given.blank_after_g,
        given.thickness_mm,
        given.area_cm2,
        given.masked_cm2,
        given.density_g_cm3,
        given.bare,
        given.pits,
        given.pits_on_cm2,
        given.pit_openings_mm2,
        given.pit_depths_um,
        given.note,
        "",
    )
