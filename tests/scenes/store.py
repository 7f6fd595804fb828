"""Painted scenes kept in a folder, so that nobody paints the same one twice."""

from __future__ import annotations

import os
import pickle
import tempfile
import zlib
from dataclasses import asdict, replace
from pathlib import Path

from scenes.options import Options
from scenes.scene import PAINTER_VERSION, CouponTruth, Scene, ScenePhoto, scene


def default_folder() -> Path:
    """Return where scenes are kept: ``RUSTBOARD_SCENES``, or a folder among the system's temporary files."""
    return Path(os.environ.get("RUSTBOARD_SCENES") or Path(tempfile.gettempdir()) / "rustboard-scenes")


class StoredScene:
    """A scene whose photos are read from a folder, and painted and kept there when they are not there yet."""

    def __init__(self, source: Scene, folder: Path) -> None:
        self.source, self.folder = source, folder
        self.plan, self.count = source.plan, source.count

    def photo(self, number: int) -> ScenePhoto:
        """Return a photo."""
        file = self.folder / f"{number:02d}.pickle"
        if file.exists():
            loaded: ScenePhoto = pickle.loads(file.read_bytes())  # our own file, in our own folder
            return replace(loaded, truth=self.truth(number))
        photo = self.source.photo(number)
        self.folder.mkdir(parents=True, exist_ok=True)
        part = file.with_suffix(f".{os.getpid()}.part")
        part.write_bytes(pickle.dumps(photo))
        part.replace(file)
        return photo

    def name(self, number: int) -> str:
        """Return the file name of a photo."""
        return self.source.name(number)

    def truth(self, number: int) -> dict[str, CouponTruth]:
        """Return what is true in a photo, without painting it."""
        return self.source.truth(number)

    def photos(self) -> list[ScenePhoto]:
        """Return all photos in the order of time."""
        return [self.photo(number) for number in range(self.count)]


def stored_scene(
    seed: int,
    *,
    megapixels: float = 12.0,
    photos: int = 8,
    hard: bool = False,
    options: Options | None = None,
    folder: Path | None = None,
) -> StoredScene:
    """Return a scene as `scene` does, painted at most once for all who share the folder."""
    source = scene(seed, megapixels=megapixels, photos=photos, hard=hard, options=options)
    told = zlib.crc32(repr(sorted(asdict(source.options).items())).encode())
    name = f"v{PAINTER_VERSION}-{seed}-{megapixels:g}mp-{photos}{'-hard' if hard else ''}-{told:08x}"
    return StoredScene(source, (folder or default_folder()) / name)
