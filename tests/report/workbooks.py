"""Workbooks as strangers make them, for the tests of reading."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence

from openpyxl import Workbook

CONTENT_TYPES = (
    '<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="xml" ContentType="application/xml"/>'
    '<Override PartName="/xl/workbook.xml" '
    'ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/>'
    '<Override PartName="/xl/worksheets/sheet1.xml" '
    'ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>'
)
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE_RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
PARTS = {
    "[Content_Types].xml": CONTENT_TYPES,
    "_rels/.rels": f'<Relationships xmlns="{PACKAGE_RELATIONS}"><Relationship Id="rId1" '
    f'Type="{RELATIONS}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
    "xl/workbook.xml": f'<workbook xmlns="{MAIN}" xmlns:r="{RELATIONS}"><sheets><sheet name="Plan" sheetId="1" '
    'r:id="rId1"/></sheets></workbook>',
    "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{PACKAGE_RELATIONS}"><Relationship Id="rId1" '
    f'Type="{RELATIONS}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>',
}


def workbook(*sheets: Sequence[Sequence[object]]) -> bytes:
    """Return a workbook with these rows in its sheets, as openpyxl writes it."""
    book = Workbook()
    for number, rows in enumerate(sheets):
        sheet = book.active if number == 0 else book.create_sheet()
        for row in rows:
            sheet.append(list(row))
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def bare_workbook(rows: str, parts: Mapping[str, str | bytes] | None = None, before: str = "") -> bytes:
    """Return a workbook whose one sheet has this XML for rows, with other parts beside or instead."""
    sheet = f'<worksheet xmlns="{MAIN}">{before}<sheetData>{rows}</sheetData></worksheet>'
    return packed({**PARTS, "xl/worksheets/sheet1.xml": sheet, **(parts or {})})


def packed(parts: Mapping[str, str | bytes]) -> bytes:
    """Return a zip file of these parts."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return stream.getvalue()


def text_row(number: object, *texts: str) -> str:
    """Return the XML of a row of texts."""
    cells = "".join(f'<c t="inlineStr"><is><t>{text}</t></is></c>' for text in texts)
    return f'<row r="{number}">{cells}</row>'


HEADER = text_row(1, "coupon", "position")
