"""The shop: what is typed, and the logo seen before it is kept."""

from __future__ import annotations

import io

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QPushButton

from rustboard.report.choice import Shop
from rustboard.ui.reporting.shop_dialog import ShopDialog


def png(size=(300, 100)) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, (200, 30, 40)).save(out, "PNG")
    return out.getvalue()


@pytest.fixture
def shown(qtbot):
    def show(shop: Shop) -> ShopDialog:
        dialog = ShopDialog(shop)
        qtbot.addWidget(dialog)
        dialog.show()
        qtbot.waitExposed(dialog)
        return dialog

    return show


def press(dialog, text):
    (button,) = [each for each in dialog.findChildren(QPushButton) if each.text().replace("&", "") == text]
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def preview(dialog) -> QLabel:
    (label,) = [each for each in dialog.findChildren(QLabel) if "logo" in each.accessibleName().lower()]
    return label


def test_the_shop_as_it_is_kept_is_shown_and_handed_back(shown):
    shop = Shop("Salt & Sons", "Quay 3\n+44 1", png())
    dialog = shown(shop)
    dialog.accept()
    assert dialog.shop() == shop


def test_what_is_typed_is_made_safe_to_show(shown):
    dialog = shown(Shop())
    dialog._name.setText(" Salt\u202e ")
    dialog._contact.setPlainText("Quay 3\n\x07+44 1\n")
    dialog.accept()
    assert dialog.shop() == Shop("Salt\ufffd", "Quay 3\n\ufffd+44 1")


def test_a_logo_is_seen_whole_and_can_be_taken_off(shown):
    dialog = shown(Shop("Salt"))
    assert preview(dialog).text() == "No logo"
    dialog.show_logo(png())
    seen = preview(dialog).pixmap()
    assert seen.width() / seen.height() == pytest.approx(3, rel=0.05)
    assert seen.width() <= preview(dialog).width()
    press(dialog, "Take it off")
    assert preview(dialog).text() == "No logo"
    dialog.accept()
    assert dialog.shop() == Shop("Salt")


def test_why_a_picture_cannot_be_the_logo_is_said_and_the_old_one_stays(shown):
    dialog = shown(Shop("Salt", "", png()))
    dialog.complain("logo.gif: This is not a picture the program reads.")
    assert "not a picture" in dialog.problem.text()
    dialog.accept()
    assert dialog.shop().logo == png()
