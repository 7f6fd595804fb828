"""What of a scene can be told instead of being drawn by chance."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Options:
    """Everything left at None is drawn by chance.

    Attributes:
        coupons: (columns, rows). shapes: whether discs and polygons may be among them.
        finish: one of `finishes.FINISHES` for every coupon. board: one of `boards.KINDS`.
        light: one of `light.KINDS` in every photo.
        markers: False = the plan has none and none are on the board.
        rust, debris, wet: False = never. day_zero_rust: whether the first photo already shows traces.
        tilt_deg, lens, roll_deg: of the camera, in every photo. turned: whether EXIF orientation tags occur.
        askew: how far coupons move between photos, 1 = up to 2 mm and 2 degrees.
        missing: chance that a coupon is missing in a photo. swapped: chance that two coupons change places in one.
        stains: whether rust-coloured run-off that is no rust may occur.
        clear: no blur, no noise, best JPEG quality.
    """

    coupons: tuple[int, int] | None = None
    shapes: bool = True
    finish: str | None = None
    board: str | None = None
    light: str | None = None
    markers: bool = True
    rust: bool | None = None
    debris: bool | None = None
    wet: bool | None = None
    day_zero_rust: bool | None = None
    tilt_deg: float | None = None
    lens: float | None = None
    roll_deg: float | None = None
    turned: bool | None = None
    askew: float = 1.0
    missing: float | None = None
    swapped: float = 0.0
    stains: bool | None = None
    clear: bool = False
