"""Pages as they come out of a PDF: rendered by a program that is not ours, and measured."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from rustboard.report.paper.shapes import Area

DPI = 300
PX_PER_MM = DPI / 25.4
DARK = 128

Picture = NDArray[np.uint8]


def poppler(name: str) -> str:
    """Return a program of poppler-utils; without it the test is skipped, in CI it fails."""
    program = shutil.which(name)
    if program is None:
        if os.environ.get("CI"):
            pytest.fail(f"{name} (poppler-utils) is not installed, and CI must have it")
        pytest.skip(f"{name} (poppler-utils) is not installed")
    return program


def rendered(pdf: Path, page: int, dpi: int = DPI) -> Picture:
    """Return a page of a PDF, counted from 1, in shades of grey."""
    target = pdf.with_name(f"{pdf.stem}-{page}")
    command = [poppler("pdftoppm"), "-r", str(dpi), "-gray", "-f", str(page), "-l", str(page), "-singlefile"]
    subprocess.run([*command, str(pdf), str(target)], check=True, timeout=60)
    content = np.frombuffer(target.with_suffix(".pgm").read_bytes(), np.uint8)
    picture = cv2.imdecode(content, cv2.IMREAD_GRAYSCALE)
    assert picture is not None
    return picture.astype(np.uint8)


def page_sizes_mm(pdf: Path) -> list[tuple[float, float]]:
    """Return the size of every page as the file states it."""
    command = [poppler("pdfinfo"), "-f", "1", "-l", "999", str(pdf)]
    said = subprocess.run(command, check=True, capture_output=True, text=True, timeout=60).stdout
    lines = [
        line.split("size:")[1].split() for line in said.splitlines() if line.startswith("Page") and "size:" in line
    ]
    # PDF counts 72 units to an inch (ISO 32000, from memory).
    return [(float(words[0]) / 72 * 25.4, float(words[2]) / 72 * 25.4) for words in lines]


def cut(picture: Picture, area: Area) -> Picture:
    """Return a part of a page, given in mm."""
    left, top, right, bottom = (round(each * PX_PER_MM) for each in (area.left, area.top, area.right, area.bottom))
    return picture[max(0, top) : bottom, max(0, left) : right]


def dark_extent_mm(picture: Picture, axis: int) -> float:
    """Return how far dark pixels reach along an axis: 0 downward, 1 across."""
    lines = np.flatnonzero((picture < DARK).any(axis=1 - axis))
    return float(lines[-1] + 1 - lines[0]) / PX_PER_MM


def cross_mm(picture: Picture, x: float, y: float, reach: float) -> tuple[float, float]:
    """Return the centre of the cross that is within ``reach`` of a point, in mm from the paper's corner."""
    area = Area(x - reach, y - reach, 2 * reach, 2 * reach)
    darkness = 255.0 - cut(picture, area).astype(float)
    left, top = round(area.left * PX_PER_MM), round(area.top * PX_PER_MM)
    return (left + _line(darkness.sum(axis=0))) / PX_PER_MM, (top + _line(darkness.sum(axis=1))) / PX_PER_MM


def _line(profile: NDArray[np.float64]) -> float:
    """Return the middle of the darkest line of a profile, in pixels from its start."""
    peak = int(profile.argmax())
    near = np.arange(max(0, peak - 2), min(len(profile), peak + 3))
    weights = np.maximum(0.0, profile[near] - profile.max() / 2)
    return float((near + 0.5) @ weights / weights.sum())


def read_code(picture: Picture) -> str:
    """Return what a code says.

    OpenCV's reader misses a sound code now and then, depending on where pixels fall; like a phone held over a label,
    it gets several looks.
    """
    for scale in (1.0, 0.8, 1.25, 0.6, 1.6, 2.0):
        look = cv2.resize(
            picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA if scale < 1 else cv2.INTER_CUBIC
        )
        for blur in (1, 3, 5):
            text, _, _ = cv2.QRCodeDetector().detectAndDecode(cv2.GaussianBlur(look, (blur, blur), 0))
            if text:
                return str(text)
    return ""
