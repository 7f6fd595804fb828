"""The weighed coupons of a board: a table, the chosen one in words, and means by treatment."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.record import BoardRecord
from rustboard.scales.weighed import Replicates, Weighed, replicates, weighed_coupons
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.labels import words_label
from rustboard.ui.middle_card import in_the_middle, new_card
from rustboard.ui.theme import LIGHT, Scheme
from rustboard.ui.turned_split import turn_split
from rustboard.ui.weighing.plain_table import PlainTable
from rustboard.ui.weighing.result_panel import ResultPanel
from rustboard.ui.weighing.words import DASH, category_text, grams, pit_text, range_text, significant, spread_text
from rustboard.ui.wording import number

_NARROW_IN_LETTERS = 130
_MOST_MEANS_SHOWN = 5
_ROWS_AT_LEAST = 4


class WeighedPage(QWidget):
    """Shows weighed coupons; what is to be done with one is asked of whoever shows the page.

    Attributes:
        table: one row a coupon. means: one row a treatment. result: the chosen coupon in words.
        add, edit, withdraw: the buttons. begin: the button while nothing was weighed.

    Signals:
        add_asked(): a coupon is to be weighed. edit_asked(int), withdraw_asked(int): key of the coupon whose
            weighing is to be put right, or taken back.
    """

    add_asked = Signal()
    edit_asked = Signal(int)
    withdraw_asked = Signal(int)

    def __init__(self, parent: QWidget | None = None, scheme: Scheme = LIGHT) -> None:
        """Start without a board."""
        super().__init__(parent)
        self._weighed: list[Weighed] = []
        self._refused = ""
        self.table = PlainTable(
            [
                self.tr("Coupon"),
                self.tr("Treatment"),
                self.tr("Category"),
                self.tr("Days"),
                self.tr("Loss, g"),
                self.tr("Area, cm²"),
                self.tr("µm/y"),
                self.tr("mpy"),
                self.tr("g/(m² y)"),
                self.tr("Pits"),
            ],
            3,
            self.tr("Weighed coupons"),
            wide=1,
        )
        self.means = PlainTable(
            [
                self.tr("Treatment"),
                self.tr("Coupons"),
                self.tr("Days"),
                self.tr("µm/y, mean ± sd"),
                self.tr("µm/y, from to"),
                self.tr("g/(m² y), mean ± sd"),
            ],
            1,
            self.tr("Means by treatment"),
        )
        self.result = ResultPanel(scheme)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._stack = QStackedWidget()
        self._build()
        self._wire()
        self.set_read_only("")

    def _build(self) -> None:
        self.add = QPushButton(self.tr("&Weigh a coupon…"))
        self.edit = QPushButton(self.tr("Put &right…"))
        self.withdraw = QPushButton(self.tr("Wit&hdraw…"))
        self._reason = words_label(muted=True, narrow=True)
        self._means_title = QLabel(self.tr("Means by treatment"))
        self._means_title.setProperty("heading", True)
        self._means_note = words_label(
            self.tr(
                "Mean and standard deviation (sd) of the coupons with a rate. Compare treatments only where their "
                "coupons were out for the same time: corrosion slows down."
            ),
            muted=True,
            narrow=True,
        )
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._reason)
        column.addWidget(flowing(self.add, self.edit, self.withdraw, spacing=8))
        column.addWidget(self.table, 1)
        column.addWidget(self._means_title)
        column.addWidget(self.means)
        column.addWidget(self._means_note)
        left = QScrollArea()
        left.setWidgetResizable(True)
        left.setFrameShape(QFrame.Shape.NoFrame)
        left.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        left.setWidget(inside)
        self._split.addWidget(left)
        self._split.addWidget(self.result)
        self._split.setChildrenCollapsible(False)
        self._stack.addWidget(self._empty_page())
        self._stack.addWidget(self._split)
        outer = QVBoxLayout(self)
        outer.addWidget(self._stack)

    def _empty_page(self) -> QWidget:
        card, inside = new_card()
        heading = QLabel(self.tr("No coupon was weighed yet"))
        heading.setProperty("heading", True)
        inside.addWidget(heading)
        inside.addWidget(
            words_label(
                self.tr(
                    "A coupon weighed before exposure and again after its rust was cleaned off tells how much metal "
                    "was lost: the strongest evidence for a treatment, and of bare coupons after one year for how "
                    "corrosive the place is. Weigh coupons before they go out, three of each treatment and three "
                    "bare ones, to a tenth of a milligram if you can."
                )
            )
        )
        self._empty_reason = words_label(muted=True)
        inside.addWidget(self._empty_reason)
        self.begin = QPushButton(self.tr("&Weigh a coupon…"))
        self.begin.setProperty("primary", True)
        inside.addWidget(flowing(self.begin))
        return in_the_middle(card)

    def _wire(self) -> None:
        self.begin.clicked.connect(self._ask_add)
        self.add.clicked.connect(self._ask_add)
        self.edit.clicked.connect(self._ask_edit)
        self.withdraw.clicked.connect(self._ask_withdraw)
        self.table.itemSelectionChanged.connect(self._follow)
        self.table.activated.connect(self._ask_edit)

    # ---- what it shows

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.result.set_scheme(scheme)

    def set_read_only(self, reason: str) -> None:
        """Let nothing be changed, and say why; an empty reason lets it again."""
        self._refused = reason
        for each in (self._reason, self._empty_reason):
            each.setText(reason)
            each.setVisible(bool(reason))
        self._follow()

    def show_record(self, record: BoardRecord) -> None:
        """Show the weighed coupons of a board; the chosen one stays chosen."""
        chosen = self.chosen()
        self._weighed = weighed_coupons(record)
        names = {key: each.title for key, each in record.treatments.items()}
        self.table.show_rows([_row(each, names) for each in self._weighed])
        rows = [_mean_row(each, names) for each in replicates(self._weighed)]
        self.table.setMinimumHeight(self.table.height_of_rows(_ROWS_AT_LEAST))
        self.means.show_rows(rows)
        self.means.setFixedHeight(self.means.height_of_rows(_MOST_MEANS_SHOWN))
        for part in (self._means_title, self.means, self._means_note):
            part.setVisible(bool(rows))
        keys = [each.coupon for each in self._weighed]
        if keys:
            self.table.selectRow(keys.index(chosen) if chosen in keys else 0)
        self._stack.setCurrentIndex(1 if keys else 0)
        self._follow()

    def chosen(self) -> int | None:
        """Return the key of the coupon whose row is chosen, or None."""
        rows = self.table.selectionModel().selectedRows()
        place = rows[0].row() if rows else -1
        return self._weighed[place].coupon if 0 <= place < len(self._weighed) else None

    @Slot()
    def _follow(self) -> None:
        """Show the chosen coupon in words, and what can be done."""
        key = self.chosen()
        found = next((each for each in self._weighed if each.coupon == key), None)
        if found is None:
            self.result.show_nothing(self.tr("Choose a coupon to see how its rate was worked out."))
        else:
            self.result.show_weighed(found)
        for each in (self.edit, self.withdraw):
            each.setEnabled(found is not None and not self._refused)
        for each in (self.add, self.begin):
            each.setEnabled(not self._refused)

    # ---- what is asked for

    @Slot()
    def _ask_add(self) -> None:
        self.add_asked.emit()

    @Slot()
    def _ask_edit(self) -> None:
        key = self.chosen()
        if key is not None and not self._refused:
            self.edit_asked.emit(key)

    @Slot()
    def _ask_withdraw(self) -> None:
        key = self.chosen()
        if key is not None and not self._refused:
            self.withdraw_asked.emit(key)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the words under the table where there is no room beside it."""
        super().resizeEvent(event)
        turn_split(self._split, event, self.fontMetrics().averageCharWidth() * _NARROW_IN_LETTERS, 0.66)


def _row(weighed: Weighed, names: dict[int, str]) -> tuple[str, ...]:
    rate, cleaning = weighed.rate, weighed.cleaning
    return (
        weighed.coupon_id,
        _treatment(weighed.treatment, names),
        category_text(weighed),
        DASH if weighed.days is None else number(weighed.days, 0),
        DASH if cleaning is None else grams(cleaning.loss_g),
        DASH if weighed.area_cm2 is None else number(weighed.area_cm2, 1),
        DASH if rate is None else significant(rate.um_y),
        DASH if rate is None else significant(rate.mpy),
        DASH if rate is None else significant(rate.g_m2_y),
        pit_text(weighed.pits),
    )


def _mean_row(each: Replicates, names: dict[int, str]) -> tuple[str, ...]:
    one = each.days.least == each.days.most
    return (
        _treatment(each.treatment, names),
        str(each.um_y.n),
        number(each.days.mean, 0) if one else range_text(each.days),
        spread_text(each.um_y),
        DASH if each.um_y.n == 1 else range_text(each.um_y),
        spread_text(each.g_m2_y),
    )


def _treatment(key: int | None, names: dict[int, str]) -> str:
    return DASH if key is None else names.get(key, DASH)
