"""Picture files as cameras, phones and ill will make them."""

from __future__ import annotations

import io
import struct
import zlib

import numpy as np
from PIL import Image

KINDS = ("JPEG", "PNG", "TIFF", "HEIC")


def noise_image(width: int, height: int, seed: int = 1) -> Image.Image:
    generator = np.random.default_rng(seed)
    return Image.fromarray(generator.integers(0, 256, (height, width, 3), dtype=np.uint8))


def file_of(image: Image.Image, kind: str = "PNG", **how: object) -> bytes:
    stream = io.BytesIO()
    notes = how.get("exif")
    if isinstance(notes, Image.Exif):
        how["exif"] = notes.tobytes()  # of the object itself some encoders take less
    if kind == "HEIC":
        import pillow_heif

        pillow_heif.register_heif_opener()
        kind = "HEIF"
    image.save(stream, kind, **how)
    return stream.getvalue()


def png_chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def png_file(width: int, height: int, bits: int, colour: int, rows: bytes) -> bytes:
    """Return a PNG of what the library does not write; ``rows`` with their filter bytes, not packed."""
    header = png_chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, bits, colour, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + header + png_chunk(b"IDAT", zlib.compress(rows)) + png_chunk(b"IEND", b"")


def png_that_claims(width: int, height: int) -> bytes:
    return png_file(width, height, 8, 2, bytes(1_000_000))


def tiff_file(width: int, height: int, tags: dict[int, tuple[int, ...]], pixels: bytes, order: str = "<") -> bytes:
    """Return a TIFF of one strip; ``tags`` by number, beside those for size and strip (TIFF 6.0, section 2)."""
    entries: dict[int, tuple[int, ...]] = {256: (width,), 257: (height,), 259: (1,), 278: (height,)}
    entries |= {279: (len(pixels),)} | tags
    entries[273] = (0,)
    start = 8 + 2 + 12 * len(entries) + 4
    more = b""
    body = b""
    places = start + sum(4 * len(value) for value in entries.values() if len(value) > 1)
    entries[273] = (places,)
    for tag, value in sorted(entries.items()):
        body += struct.pack(f"{order}HHI", tag, 4, len(value))
        if len(value) == 1:
            body += struct.pack(f"{order}I", *value)
        else:
            body += struct.pack(f"{order}I", start + len(more))
            more += struct.pack(f"{order}{len(value)}I", *value)
    mark = b"II*\0" if order == "<" else b"MM\0*"
    return mark + struct.pack(f"{order}IH", 8, len(entries)) + body + bytes(4) + more + pixels
