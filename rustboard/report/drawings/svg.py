"""A small writer of SVG: every text is escaped, every number is finite and short."""

from __future__ import annotations

import base64
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal
from xml.sax.saxutils import escape, quoteattr

from rustboard.report.drawings.text_width import fitted
from rustboard.scales import inks
from rustboard.support.text import printable

FONTS: Final = ("Noto Sans", "Source Sans 3", "Segoe UI", "Helvetica Neue", "Arial", "Liberation Sans", "DejaVu Sans")
"""Plain letters of the usual systems; whoever shows the page takes the first it has."""

Anchor = Literal["start", "middle", "end"]
_FAMILY: Final = ", ".join(f"'{each}'" for each in FONTS) + ", sans-serif"
_DOWN: Final = 0.35
"""Share of the size by which a line of letters stands below its middle."""


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished drawing.

    Attributes:
        svg: the whole file. width, height: in points, as it is meant to be printed.
        title: what it is called. words: what it shows, in sentences, for those who cannot see it.
    """

    svg: bytes
    width: float
    height: float
    title: str
    words: str

    def at_width(self, pixels: int) -> bytes:
        """Return the file so that programs show it this wide, in px."""
        tall = number(self.height * pixels / self.width)
        old = f'width="{number(self.width)}pt" height="{number(self.height)}pt"'.encode()
        return self.svg.replace(old, f'width="{pixels}" height="{tall}"'.encode(), 1)


def number(value: float) -> str:
    """Return a number as SVG takes it, with two decimals at most; what is no finite number is 0."""
    text = f"{value if math.isfinite(value) else 0.0:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def safe(text: str) -> str:
    """Return a text for XML: what cannot be shown replaced, what would be markup escaped."""
    return escape(printable(" ".join(text.split())))


class Paper:
    """What a drawing is written on; all lengths in points, y downward."""

    def __init__(self, width: float, height: float, *, size: float = 8.5) -> None:
        """Begin empty; ``size`` is of the letters."""
        self.width, self.height, self.size = width, height, size
        self._parts: list[str] = []

    def rect(
        self, x: float, y: float, width: float, height: float, fill: str = "none", *, stroke: str = "none",
        line: float = 0.75, radius: float = 0.0, dash: Sequence[float] = (),
    ) -> None:  # fmt: skip
        """Draw a rectangle."""
        wide, high = number(max(0, width)), number(max(0, height))
        self._parts.append(
            f'<rect x="{number(x)}" y="{number(y)}" width="{wide}" height="{high}" '
            f'rx="{number(radius)}" fill="{fill}" {_stroke(stroke, line, dash)}/>'
        )

    def line(
        self, points: Iterable[tuple[float, float]], stroke: str = inks.LINE, *, width: float = 0.75,
        dash: Sequence[float] = (),
    ) -> None:  # fmt: skip
        """Draw a line through points; of fewer than two nothing."""
        given = [f"{number(x)},{number(y)}" for x, y in points]
        if len(given) > 1:
            self._parts.append(
                f'<polyline points="{" ".join(given)}" fill="none" stroke-linejoin="round" '
                f"{_stroke(stroke, width, dash)}/>"
            )

    def area(self, points: Iterable[tuple[float, float]], fill: str, *, opacity: float = 1.0) -> None:
        """Draw a filled shape."""
        given = " ".join(f"{number(x)},{number(y)}" for x, y in points)
        self._parts.append(f'<polygon points="{given}" fill="{fill}" fill-opacity="{number(opacity)}"/>')

    def text(
        self, x: float, y: float, text: str, *, anchor: Anchor = "start", ink: str = inks.TEXT, size: float = 0.0,
        bold: bool = False, room: float = 0.0,
    ) -> None:  # fmt: skip
        """Write a line whose middle is at ``y``; cut short where it is wider than ``room``, 0 = as wide as it is."""
        size = size or self.size
        shown = fitted(printable(text), size, room, bold=bold) if room > 0 else text
        if not shown.strip():
            return
        weight = ' font-weight="600"' if bold else ""
        self._parts.append(
            f'<text x="{number(x)}" y="{number(y + _DOWN * size)}" text-anchor="{anchor}" '
            f'font-size="{number(size)}" fill="{ink}"{weight}>{safe(shown)}</text>'
        )

    def turned_text(self, x: float, y: float, text: str, *, room: float, size: float = 0.0) -> None:
        """Write a line from below upward whose middle is at ``x``, ``y``."""
        size = size or self.size
        shown = fitted(printable(text), size, room)
        if shown.strip():
            self._parts.append(
                f'<text transform="translate({number(x)} {number(y)}) rotate(-90)" y="{number(_DOWN * size)}" '
                f'text-anchor="middle" font-size="{number(size)}" fill="{inks.TEXT}">{safe(shown)}</text>'
            )

    def mark(self, x: float, y: float, shape: int, half: float, ink: str, *, hollow: bool = False) -> None:
        """Draw a small mark: disc, square, diamond, triangle, and so on anew."""
        paint = f'fill="{inks.GROUND if hollow else ink}" {_stroke(ink, 1.0 if hollow else 0.4, ())}'
        match shape % 4:
            case 0:
                self._parts.append(f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(half)}" {paint}/>')
            case 1:
                corners = ((-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9))
                self._shape(x, y, half, corners, paint)
            case 2:
                self._shape(x, y, half, ((0, -1.25), (1.25, 0), (0, 1.25), (-1.25, 0)), paint)
            case _:
                self._shape(x, y, half, ((0, -1.15), (1.1, 0.95), (-1.1, 0.95)), paint)

    def _shape(self, x: float, y: float, half: float, corners: Sequence[tuple[float, float]], paint: str) -> None:
        points = " ".join(f"{number(x + half * across)},{number(y + half * down)}" for across, down in corners)
        self._parts.append(f'<polygon points="{points}" {paint}/>')

    def picture(self, x: float, y: float, width: float, height: float, image: bytes) -> None:
        """Draw a JPEG or PNG into a frame, as large as fits, in its own shape."""
        kind = "png" if image.startswith(b"\x89PNG") else "jpeg"
        data = base64.b64encode(image).decode("ascii")
        self._parts.append(
            f'<image x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}" '
            f'preserveAspectRatio="xMidYMid meet" xlink:href="data:image/{kind};base64,{data}"/>'
        )

    def drawing(self, title: str, words: str) -> Drawing:
        """Return what was drawn, with its title and what it shows."""
        title, words = " ".join(title.split()), " ".join(words.split())
        head = (
            '<?xml version="1.0" encoding="UTF-8"?>\n<svg xmlns="http://www.w3.org/2000/svg" '
            'xmlns:xlink="http://www.w3.org/1999/xlink" '
            f'width="{number(self.width)}pt" height="{number(self.height)}pt" '
            f'viewBox="0 0 {number(self.width)} {number(self.height)}" role="img" aria-labelledby="title words" '
            f"font-family={quoteattr(_FAMILY)}>\n"
            f'<title id="title">{safe(title)}</title>\n<desc id="words">{safe(words)}</desc>\n'
            f'<rect width="100%" height="100%" fill="{inks.GROUND}"/>\n'
        )
        body = "\n".join(self._parts)
        svg = f"{head}{body}\n</svg>\n".encode("utf-8", "replace")
        return Drawing(svg, self.width, self.height, printable(title), printable(words))


def _stroke(stroke: str, width: float, dash: Sequence[float]) -> str:
    if stroke == "none":
        return 'stroke="none"'
    dashes = f' stroke-dasharray="{" ".join(number(each * width) for each in dash)}"' if dash else ""
    return f'stroke="{stroke}" stroke-width="{number(width)}"{dashes}'
