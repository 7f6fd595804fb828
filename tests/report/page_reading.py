"""PDF pages read back: their text, and where it and the pictures lie."""

from __future__ import annotations

import re
import shutil
import subprocess
from html import unescape
from pathlib import Path
from typing import NamedTuple

import pytest

needs_poppler = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pdftotext is not installed")

_PAGE = re.compile(r'<page width="([\d.]+)" height="([\d.]+)">(.*?)</page>', re.DOTALL)
_WORD = re.compile(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>')


class Word(NamedTuple):
    page: int
    left: float
    top: float
    right: float
    bottom: float
    text: str


class Read(NamedTuple):
    sizes: list[tuple[float, float]]
    words: list[Word]

    @property
    def text(self) -> str:
        """All words, without the places where long ones may break."""
        return " ".join(each.text for each in self.words)


def read_pdf(data: bytes, folder: Path) -> Read:
    file = folder / "read.pdf"
    file.write_bytes(data)
    done = subprocess.run(["pdftotext", "-bbox", str(file), "-"], capture_output=True, timeout=120, check=True)
    sizes: list[tuple[float, float]] = []
    words: list[Word] = []
    for number, (width, height, inside) in enumerate(_PAGE.findall(done.stdout.decode("utf-8", "replace")), start=1):
        sizes.append((float(width), float(height)))
        for *edges, text in _WORD.findall(inside):
            words.append(Word(number, *map(float, edges), unescape(text)))
    return Read(sizes, words)


def squeezed(text: str) -> str:
    """A text without what setting it changes: blanks, line ends, and marks that cannot be seen."""
    return re.sub(r"[\s\u200b]+", "", text)
