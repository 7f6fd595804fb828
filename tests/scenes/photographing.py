"""From a board to a photo: everything put in its place before the camera, then developed as a phone does."""

from __future__ import annotations

import io
from dataclasses import dataclass

import cv2
import numpy as np
from PIL import Image

from scenes.camera import Camera, Matrix, for_opencv, mapped, scaled, shifted
from scenes.colour import BRIGHTNESS, Plane, encoded
from scenes.conditions import Conditions, Development
from scenes.debris import Debris
from scenes.layout import Coupon
from scenes.light import MAP_PIXELS_PER_MM, PAD_MM, Light, cast_shadow
from scenes.noise import blurred, disc_kernel
from scenes.randomness import dice_for

SURROUNDINGS_MM = 260.0
_BAND = 128


@dataclass(frozen=True, eq=False)
class Hung:
    """A coupon as it hangs in one photo.

    Attributes:
        coupon: as planned. hung: matrix from the plan's mm to mm on the coupon's plane.
        surface, glare, opaque: on a grid of ``pixels_per_mm`` over the bounding box of the planned outline.
        debris: what lies on it.
    """

    coupon: Coupon
    hung: Matrix
    surface: Plane
    glare: Plane
    opaque: Plane
    pixels_per_mm: float
    debris: tuple[Debris, ...]


def sunny_at(light: Light, grid_to_mm: Matrix, height_mm: float, shape: tuple[int, int]) -> Plane | float:
    """Return the share of sunlight on a grid that lies on a plane ``height_mm`` off the board."""
    if light.sunny is None:
        return 1.0
    aside = shifted(light.leaning[0] * height_mm + PAD_MM, light.leaning[1] * height_mm + PAD_MM)
    to_map = scaled(MAP_PIXELS_PER_MM) @ aside @ grid_to_mm
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    return cv2.warpAffine(
        light.sunny, for_opencv(to_map)[:2], (shape[1], shape[0]), flags=flags, borderMode=cv2.BORDER_REPLICATE
    )


def board_in_light(board: Plane, size_mm: tuple[float, float], hung: list[Hung], conditions: Conditions) -> Plane:
    """Return the board with light and the coupons' shadows on it, on its own grid."""
    light, shape = conditions.light, board.shape[:2]
    scale = 3.0
    outlines = [mapped(each.hung, each.coupon.outline_mm) for each in hung]
    heights = [each.coupon.height_mm for each in hung]
    sun, sky = cast_shadow(outlines or [np.zeros((3, 2))], heights or [1.0], light, size_mm, scale)
    sun = sun * sunny_at(light, scaled(1 / scale), 0.0, sun.shape)
    sun, sky = (cv2.resize(each, (shape[1], shape[0])) for each in (sun, sky))
    lit = np.empty_like(board)
    for colour in range(3):
        lit[..., colour] = board[..., colour] * (sun * light.sun[colour] + sky * light.sky[colour])
    return lit


def _laid(canvas: Plane, picture: Plane, opaque: Plane, to_px: Matrix) -> None:
    """Lay a picture of its own grid over the canvas, where it is opaque.

    Args:
        canvas: changed in place. picture: H x W x 3. opaque: H x W. to_px: from the picture's grid to the canvas.
    """
    rows, columns = opaque.shape
    corners = mapped(to_px, [(0, 0), (columns, 0), (columns, rows), (0, rows)])
    low = np.maximum(np.floor(corners.min(axis=0)).astype(int) - 2, 0)
    high = np.minimum(np.ceil(corners.max(axis=0)).astype(int) + 2, (canvas.shape[1], canvas.shape[0]))
    if np.any(high <= low):
        return
    matrix = for_opencv(shifted(-float(low[0]), -float(low[1])) @ to_px)
    stacked = np.dstack([picture * opaque[..., None], opaque])
    # What is shown smaller than it was painted is smoothed first, or single grid points would flicker.
    shrink = columns * rows / max(_area(corners), 1.0)
    if shrink > 1.8:
        stacked = cv2.GaussianBlur(stacked, (0, 0), 0.38 * shrink**0.5)
    seen = cv2.warpPerspective(stacked, matrix, tuple(int(each) for each in high - low), flags=cv2.INTER_LINEAR)
    window = canvas[low[1] : high[1], low[0] : high[0]]
    window *= 1 - seen[..., 3:]
    window += seen[..., :3]


def _area(corners: Matrix) -> float:
    x, y = corners.T
    return 0.5 * abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))))


def exposed(
    board: Plane,
    board_scale: float,
    size_mm: tuple[float, float],
    behind: Plane,
    hung: list[Hung],
    conditions: Conditions,
) -> Plane:
    """Return the light that reaches the sensor, through a perfect lens.

    Args:
        board: its colours, on a grid of ``board_scale`` pixels a mm. size_mm: its width and height.
        behind: what is behind it. hung: its coupons. conditions: of the photo.
    """
    camera, light = conditions.camera, conditions.light
    width, height = camera.size_px
    total = light.sky + light.sun * np.float32(1 if light.sunny is None else light.sunny.mean())
    behind_scale = behind.shape[1] / (size_mm[0] + 2 * SURROUNDINGS_MM)
    place = camera.plane(-60.0) @ shifted(-SURROUNDINGS_MM, -SURROUNDINGS_MM) @ scaled(1 / behind_scale)
    canvas = cv2.warpPerspective(
        behind * total * np.float32(0.8), for_opencv(place), (width, height), borderMode=cv2.BORDER_REFLECT
    )
    lit = board_in_light(board, size_mm, hung, conditions)
    matrix = for_opencv(camera.plane() @ scaled(1 / board_scale))
    cv2.warpPerspective(
        lit, matrix, (width, height), dst=canvas, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_TRANSPARENT
    )
    for each in hung:
        _hang(canvas, each, camera, light)
    return canvas


def _hang(canvas: Plane, each: Hung, camera: Camera, light: Light) -> None:
    left, top, _, _ = each.coupon.box_mm
    on_plane = each.hung @ shifted(left, top)
    grid = on_plane @ scaled(1 / each.pixels_per_mm)
    height, to_px = each.coupon.height_mm, camera.plane(each.coupon.height_mm)
    sunny = sunny_at(light, grid, height, each.opaque.shape)
    _laid(canvas, _lit(each.surface, each.glare, sunny, light), each.opaque, to_px @ grid)
    for thing in each.debris:
        _drop(canvas, thing, on_plane, to_px, each, light)


def _drop(canvas: Plane, thing: Debris, on_plane: Matrix, to_px: Matrix, each: Hung, light: Light) -> None:
    colour, opaque = thing.picture(each.pixels_per_mm)
    patch = on_plane @ thing.patch_to_coupon(opaque.shape[0] / thing.size_mm)
    sunny = sunny_at(light, patch, each.coupon.height_mm, opaque.shape)
    if thing.kind in ("leaf", "twig", "feather"):  # lies hollow: a soft shadow beneath
        shadow = blurred(opaque, 0.5 * each.pixels_per_mm) * np.float32(0.45)
        aside = (
            shifted(0.8 * light.leaning[0] * 0.8, 0.8 * light.leaning[1] * 0.8) if light.sun.max() > 0 else np.eye(3)
        )
        _laid(canvas, np.zeros_like(colour), shadow, to_px @ aside @ patch)
    _laid(canvas, _lit(colour, None, sunny, light), opaque, to_px @ patch)


def _lit(surface: Plane, glare: Plane | None, sunny: Plane | float, light: Light) -> Plane:
    lit = np.empty_like(surface)
    for colour in range(3):
        falling = light.sky[colour] + sunny * light.sun[colour]
        lit[..., colour] = surface[..., colour] * falling
        if glare is not None:
            lit[..., colour] += glare * (0.5 * light.sky[colour] + sunny * light.sun[colour])
    return lit


def developed(light: Plane, conditions: Conditions, seed: int, megapixels: float) -> np.ndarray:
    """Return the upright picture (H x W x 3, 0-255) that the phone makes of the light on its sensor."""
    wish = conditions.development
    size = (megapixels / 12) ** 0.5
    light = _blur(light, wish, size)
    matrix = _balanced(light, conditions)
    dice = dice_for(seed, "noise", conditions.number)
    noise = dice.standard_normal((_BAND + 64, 1024, 3), np.float32)
    repeats = -(-light.shape[1] // 1024)
    table = _tone_table(wish)
    rows, columns = light.shape[:2]
    across = ((np.arange(columns, dtype=np.float32) + 0.5 - columns / 2) ** 2)[None]
    furthest = np.float32((rows**2 + columns**2) / 4)
    picture = np.empty(light.shape, np.uint8)
    shot, read = np.float32(wish.shot * size**2), np.float32(wish.read * size)
    for top in range(0, rows, _BAND):
        band = cv2.transform(light[top : top + _BAND], matrix)
        down = ((np.arange(top, top + len(band), dtype=np.float32) + 0.5 - rows / 2) ** 2)[:, None]
        band *= (1 - np.float32(wish.vignette) * (across + down) / furthest)[..., None]
        np.clip(band, 0, 1.5, out=band)
        if shot > 0 or read > 0:
            grain = np.roll(noise, int(dice.integers(1024)), 1)[int(dice.integers(64)) :][: len(band)]
            grain = np.tile(grain, (1, repeats, 1))[:, :columns]
            band += grain * np.sqrt(band * shot + read * read)
        picture[top : top + _BAND] = table[np.clip(band * 8191 + 0.5, 0, len(table) - 1).astype(np.uint16)]
    if wish.sharpening > 0:
        soft = cv2.GaussianBlur(picture, (0, 0), max(1.1 * size, 0.6))
        picture = cv2.addWeighted(picture, 1 + wish.sharpening, soft, -wish.sharpening, 0)
    return picture


def _blur(light: Plane, wish: Development, size: float) -> Plane:
    if wish.defocus_px * size > 0.4:
        light = cv2.filter2D(light, -1, disc_kernel(wish.defocus_px * size), borderType=cv2.BORDER_REPLICATE)
    length = wish.motion_px * size
    if length > 0.4:
        reach = int(np.ceil(length / 2)) + 1
        line = np.zeros((2 * reach + 1, 2 * reach + 1), np.float32)
        turn = np.radians(wish.motion_deg)
        for share in np.linspace(-0.5, 0.5, 41):
            x, y = reach + share * length * np.cos(turn), reach + share * length * np.sin(turn)
            column, row = int(x), int(y)
            for dx, dy in ((0, 0), (1, 0), (0, 1), (1, 1)):
                line[row + dy, column + dx] += abs(1 - dx - (x - column)) * abs(1 - dy - (y - row))
        light = cv2.filter2D(light, -1, line / line.sum(), borderType=cv2.BORDER_REPLICATE)
    return light


def _balanced(light: Plane, conditions: Conditions) -> Matrix:
    """Return the 3 x 3 matrix for exposure, white balance and saturation, metered on the picture."""
    wish, source = conditions.development, conditions.light
    few = light[::16, ::16].reshape(-1, 3)
    brightness = few @ BRIGHTNESS
    gain = min(0.26 / float(brightness.mean()), 0.95 / float(np.percentile(brightness, 98))) * wish.exposure
    falling = source.sky + source.sun * np.float32(1 if source.sunny is None else source.sunny.mean())
    factors = (falling[1] / falling) ** np.float32(wish.neutral) * np.array(wish.balance, np.float32)
    grey = np.tile(BRIGHTNESS, (3, 1))
    colourful = grey + (np.eye(3, dtype=np.float32) - grey) * np.float32(wish.saturation)
    return (colourful @ np.diag(factors * np.float32(gain))).astype(np.float32)


def _tone_table(wish: Development) -> np.ndarray:
    """Return 8-bit values for linear light in steps of 1/8191, up to where everything is white."""
    linear = np.arange(int(8191 * 1.5) + 1, dtype=np.float32) / 8191
    # A shoulder instead of a hard stop: straight up to 0.8, then bending towards white.
    over = np.maximum(linear - 0.8, 0)
    linear = np.where(linear < 0.8, linear, 0.8 + 0.2 * (1 - np.exp(-over / 0.2)))
    value = encoded(linear)
    value = value - wish.contrast * np.sin(2 * np.pi * value) / (2 * np.pi)
    return np.round(255 * np.clip(value, 0, 1)).astype(np.uint8)


def jpeg(picture: np.ndarray, conditions: Conditions) -> bytes:
    """Return the JPEG file as the phone stores it: turned by its orientation tag, with the time it was taken."""
    wish = conditions.development
    stored = np.ascontiguousarray(np.rot90(picture, {1: 0, 3: 2, 6: 1, 8: -1}[wish.orientation]))
    exif = Image.Exif()
    taken = conditions.taken.strftime("%Y:%m:%d %H:%M:%S")
    exif[0x0132] = taken
    exif[0x0112] = wish.orientation
    exif.get_ifd(0x8769)[0x9003] = taken
    exif.get_ifd(0x8769)[0x9004] = taken
    file = io.BytesIO()
    Image.fromarray(stored).save(
        file, "JPEG", quality=wish.quality, subsampling=2 if wish.coarse_colour else 0, exif=exif.tobytes()
    )
    return file.getvalue()
