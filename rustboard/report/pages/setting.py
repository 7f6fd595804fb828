"""Setting pages: a template that ships with the program, data as JSON beside it, pictures by name.

What people wrote goes in as data only: the template never evaluates it, so no text can be code. Nothing outside can
be read, because the root is a folder with these files alone, and no package is ever fetched, because no template asks
for one.
"""

from __future__ import annotations

import json
import re
import struct
import zlib
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final, Literal

from rustboard.report.drawings.svg import FONTS, Drawing, safe
from rustboard.support.resources import resource_bytes
from rustboard.support.text import printable

Form = Literal["pdf", "png", "svg"]

_MAIN: Final = "main.typ"
_DATA: Final = "data.json"
_PICTURE_FONTS: Final = (*FONTS, "Segoe UI Emoji", "Apple Color Emoji", "Noto Color Emoji", "Noto Sans CJK SC")
_PNG_HEAD: Final = 33
"""Bytes of a PNG's signature and its first chunk, after which others may stand."""
_POINTS_AN_INCH: Final = 72.0
_LONG_WORD: Final = re.compile(r"(\S{16})(?=\S)")


def set_pages(
    template: str,
    data: Mapping[str, Any],
    pictures: Mapping[str, bytes],
    *,
    generated: datetime,
    form: Form = "pdf",
    ppi: float = 144.0,
    system_fonts: bool = True,
) -> bytes:
    """Set pages and return the file; a form other than PDF must come to one page.

    Args:
        template: name of a resource.
        data: what it shows; JSON.
        pictures: by the names that ``data`` calls them.
        generated: the time written into a PDF; the same content makes the same bytes.
        form: of the file.
        ppi: pixels per inch of a PNG.
        system_fonts: whether to use those of the system; those that come with the setter are always there.
    """
    pages = _compiled(template, data, pictures, generated, form, ppi, system_fonts)
    return pages if isinstance(pages, bytes) else pages[0]


def set_page_if_one(
    template: str,
    data: Mapping[str, Any],
    pictures: Mapping[str, bytes],
    *,
    generated: datetime,
    form: Form = "pdf",
    ppi: float = 144.0,
    system_fonts: bool = True,
) -> bytes | None:
    """Set pages as `set_pages` does, and return the file where it is one page; None where it is more."""
    seen = _compiled(template, data, pictures, generated, "svg", ppi, system_fonts)
    if not isinstance(seen, bytes) and len(seen) > 1:
        return None
    if form == "svg":
        return seen if isinstance(seen, bytes) else seen[0]
    return set_pages(template, data, pictures, generated=generated, form=form, ppi=ppi, system_fonts=system_fonts)


def _compiled(
    template: str, data: Mapping[str, Any], pictures: Mapping[str, bytes], generated: datetime, form: Form,
    ppi: float, system_fonts: bool,
) -> bytes | list[bytes]:  # fmt: skip
    import typst

    files: dict[str, bytes] = {
        _MAIN: resource_bytes(template),
        "book.typ": resource_bytes("report/book.typ"),
        _DATA: json.dumps({**data, "fonts": _PICTURE_FONTS}, ensure_ascii=True).encode("ascii"),
        **pictures,
    }
    made = generated.replace(microsecond=0, tzinfo=UTC)

    def compiled(standards: list[Any]) -> bytes | list[bytes]:
        with TemporaryDirectory(prefix="rustboard-pages-") as folder:
            for name, written in files.items():
                Path(folder, name).write_bytes(written)
            done, _ = typst.compile_with_warnings(
                str(Path(folder, _MAIN)),
                root=folder,
                package_path=folder,
                package_cache_path=folder,
                ignore_system_fonts=not system_fonts,
                format=form,
                ppi=ppi if form == "png" else None,
                pdf_standards=standards if form == "pdf" else [],
                timestamp=made,
            )
        return done

    if form != "pdf":
        return compiled([])
    try:
        return compiled(["ua-1"])
    except typst.TypstError:
        # The standard asks for a glyph for every letter, and not every system has all.
        return compiled([])


def picture_of(drawing: Drawing, pixels: int, generated: datetime) -> bytes:
    """Return a drawing as a PNG so many pixels wide, with its words inside."""
    data = {"width": drawing.width, "height": drawing.height, "alt": drawing.words, "title": drawing.title}
    ppi = pixels / drawing.width * _POINTS_AN_INCH
    image = set_pages(
        "report/picture.typ", data, {"drawing.svg": drawing.svg}, generated=generated, form="png", ppi=ppi
    )
    return described_png(image, drawing.title, drawing.words)


def described_png(image: bytes, title: str, words: str) -> bytes:
    """Return a PNG with a title and a description inside (PNG specification, chunk ``iTXt``)."""
    chunks = b"".join(_text_chunk(key, text) for key, text in (("Title", title), ("Description", words)) if text)
    return image[:_PNG_HEAD] + chunks + image[_PNG_HEAD:]


def _text_chunk(keyword: str, text: str) -> bytes:
    content = (
        b"iTXt" + keyword.encode("latin-1") + b"\0\0\0\0\0" + printable(text, lines=True).encode("utf-8", "replace")
    )
    return struct.pack(">I", len(content) - 4) + content + struct.pack(">I", zlib.crc32(content))


def described_svg(image: bytes, title: str, words: str) -> bytes:
    """Return an SVG with a title and a description inside its root."""
    root = image.index(b"<svg")
    end = image.index(b">", root) + 1
    inside = f"<title>{safe(title)}</title><desc>{safe(words)}</desc>".encode()
    return image[:end] + inside + image[end:]


def told(text: str, *, lines: bool = True) -> str:
    """Return what people wrote as a page can show it: printable, and with places to break very long words."""
    return _LONG_WORD.sub("\\1\u200b", printable(text, lines=lines))
