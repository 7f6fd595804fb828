"""Draws pages at exact scale: into a picture for the preview, into a PDF, onto a printer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRectF, QSizeF
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter, QPdfWriter

from rustboard.report.paper.shapes import Page
from rustboard.ui.paper.shape_painter import UNITS_PER_MM, draw_shapes
from rustboard.ui.theme import MM_PER_INCH

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrinter

PDF_DPI: Final = 1200
_LARGEST_PICTURE_PX: Final = 6_000


def draw_page(painter: QPainter, page: Page, px_per_mm: float) -> None:
    """Draw a page from the painter's origin, ``px_per_mm`` pixels of the device to a millimetre."""
    painter.save()
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
    painter.scale(px_per_mm / UNITS_PER_MM, px_per_mm / UNITS_PER_MM)
    painter.setClipRect(QRectF(0, 0, page.width_mm * UNITS_PER_MM, page.height_mm * UNITS_PER_MM))
    draw_shapes(painter, page.shapes)
    painter.restore()


def page_picture(page: Page, px_per_mm: float) -> QImage:
    """Return a page as a picture, white where nothing is drawn; never larger than a screen could show."""
    most = _LARGEST_PICTURE_PX / max(page.width_mm, page.height_mm)
    scale = min(px_per_mm, most)
    image = QImage(
        max(1, round(page.width_mm * scale)), max(1, round(page.height_mm * scale)), QImage.Format.Format_RGB32
    )
    image.fill(0xFFFFFFFF)
    painter = QPainter(image)
    draw_page(painter, page, scale)
    painter.end()
    return image


def pdf_of(pages: Sequence[Page], title: str) -> bytes:
    """Return a PDF of the pages, each on paper of its own size."""
    content = QByteArray()
    buffer = QBuffer(content)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setResolution(PDF_DPI)
    writer.setTitle(title)
    writer.setCreator("Rustboard")
    writer.setPageLayout(page_layout(pages[0]))
    painter = QPainter(writer)
    _draw_pages(painter, writer, pages)  # a buffer in memory takes all pages
    painter.end()
    buffer.close()
    return bytes(content.data())


def print_pages(pages: Sequence[Page], printer: QPrinter, first: int = 0, last: int = 0) -> bool:
    """Print pages ``first`` to ``last`` (counted from 1; 0 = all); return whether the printer took them."""
    printer.setFullPage(True)
    chosen = pages[first - 1 : last] if first else pages
    if not chosen:
        return False
    printer.setPageLayout(page_layout(chosen[0]))
    painter = QPainter()
    if not painter.begin(printer):
        return False
    taken = _draw_pages(painter, printer, chosen)
    return painter.end() and taken


def _draw_pages(painter: QPainter, device: QPdfWriter | QPrinter, pages: Sequence[Page]) -> bool:
    """Draw pages, the first on the paper already set; return whether the device took them all."""
    for number, page in enumerate(pages):
        if number:
            device.setPageLayout(page_layout(page))
            if not device.newPage():
                return False
        draw_page(painter, page, device.resolution() / MM_PER_INCH)
    return True


def page_layout(page: Page) -> QPageLayout:
    """Return the paper upright with its orientation, as printers want it, and without margins."""
    sideways = page.width_mm > page.height_mm
    width, height = sorted((page.width_mm, page.height_mm))
    size = QPageSize(QSizeF(width, height), QPageSize.Unit.Millimeter, "", QPageSize.SizeMatchPolicy.FuzzyMatch)
    orientation = QPageLayout.Orientation.Landscape if sideways else QPageLayout.Orientation.Portrait
    layout = QPageLayout(size, orientation, QMarginsF(0, 0, 0, 0), QPageLayout.Unit.Millimeter)
    layout.setMode(QPageLayout.Mode.FullPageMode)
    return layout
