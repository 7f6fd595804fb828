"""The shop that makes the reports: its name, how to reach it, and its logo."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QPixmap, QResizeEvent
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from rustboard.report.choice import Shop
from rustboard.support.text import many_lines
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.form import FormDialog, line_field, note_field, text_of
from rustboard.ui.forms.labels import words_label

_LOGO_IN_LINES: Final = 7
_LONGEST_CONTACT: Final = 1_000


class ShopDialog(FormDialog):
    """Asks for the shop.

    Signals:
        picture_asked(): choose a picture for the logo; `show_logo` or `complain` answers.
    """

    picture_asked = Signal()

    def __init__(self, shop: Shop, parent: QWidget | None = None) -> None:
        """Show the shop as it is kept."""
        super().__init__("", parent)
        self.setWindowTitle(self.tr("Your shop"))
        self._value, self._logo = shop, b""
        self._name = line_field(shop.name)
        self._contact = note_field(shop.contact)
        self._preview = QLabel()
        self._picture = QPixmap()
        self._choose, self._away = QPushButton(self.tr("Choose a &picture…")), QPushButton(self.tr("&Take it off"))
        self._build()
        self._wire_logo()
        self.show_logo(shop.logo)
        self._name.setFocus()

    def shop(self) -> Shop:
        """Return the shop, once the dialog is accepted."""
        return self._value

    def show_logo(self, logo: bytes) -> None:
        """Show a logo, the bytes of a PNG; nothing takes it off."""
        self._logo = logo
        self._picture = QPixmap()
        if logo:
            self._picture.loadFromData(logo, "PNG")
        self._away.setEnabled(bool(logo))
        self.problem.say("")
        self._fit()

    def complain(self, sentence: str) -> None:
        """Say why a picture cannot be the logo."""
        self._complain(sentence)

    def read(self) -> None:
        """Read the fields."""
        contact = many_lines(self._contact.toPlainText(), _LONGEST_CONTACT)
        self._value = Shop(text_of(self._name), contact, self._logo)

    def _build(self) -> None:
        self.add_text(words_label(self.tr("Shown on the cover of every report, on all boards."), muted=True))
        self.add_row(self.tr("&Name"), self._name)
        self.add_row(self.tr("&Contact"), self._contact)
        self._contact.setPlaceholderText(self.tr("Address, telephone, page; as many lines as you like"))
        self._name.setAccessibleName(self.tr("Name of your shop"))
        self._contact.setAccessibleName(self.tr("How to reach your shop"))
        self._preview.setFixedHeight(self.fontMetrics().lineSpacing() * _LOGO_IN_LINES)
        self._preview.setMinimumWidth(self._letters(24))
        self._preview.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._preview.setAutoFillBackground(True)
        # White, as the paper is that it will be printed on, in every scheme.
        self._preview.setStyleSheet("QLabel { background: white; color: #565c62; border: 1px solid #8a9097; }")
        for each in (self._choose, self._away):
            each.setAutoDefault(False)
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._preview)
        column.addWidget(flowing(self._choose, self._away, spacing=8))
        self.add_row(self.tr("Logo"), holder, self._choose)

    def _wire_logo(self) -> None:
        self._choose.clicked.connect(self.picture_asked)
        self._away.clicked.connect(self._take_off)

    @Slot()
    def _take_off(self) -> None:
        self.show_logo(b"")

    def _fit(self) -> None:
        if self._picture.isNull():
            self._preview.setPixmap(QPixmap())
            self._preview.setText(self.tr("No logo"))
            self._preview.setAccessibleName(self.tr("No logo"))
            return
        room = QSize(self._preview.width() - 12, self._preview.height() - 12).expandedTo(QSize(8, 8))
        size = self._picture.size().scaled(room, Qt.AspectRatioMode.KeepAspectRatio)
        size = size.boundedTo(self._picture.size())
        smooth = Qt.TransformationMode.SmoothTransformation
        self._preview.setPixmap(self._picture.scaled(size, Qt.AspectRatioMode.KeepAspectRatio, smooth))
        self._preview.setAccessibleName(self.tr("Your logo as the report will show it"))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let the logo fill its place."""
        super().resizeEvent(event)
        self._fit()
