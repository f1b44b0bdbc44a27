"""Display lists as images, with no window."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtGui import QImage, QPainter

from bedview.language import gettext as _
from bedview.painting.painter import paint
from bedview.painting.tile_cache import TileCache
from bedview.picture.marks import DisplayList


def render_image(picture: DisplayList, *, ratio: float = 1.0, cache: TileCache | None = None) -> QImage:
    """A picture as an image of its size times ``ratio``. An application object must exist, for its fonts."""
    image = QImage(
        round(picture.width * ratio), round(picture.height * ratio), QImage.Format.Format_ARGB32_Premultiplied
    )
    painter = QPainter(image)
    painter.scale(ratio, ratio)
    paint(picture, painter, cache or TileCache(ratio))
    painter.end()
    return image


def render_png(picture: DisplayList, path: Path, *, ratio: float = 1.0) -> None:
    """Write a picture as PNG; the name ends in ``.png``.

    Raises:
        OSError: if it cannot be written.
    """
    if not render_image(picture, ratio=ratio).save(str(path)):
        raise OSError(_("the picture could not be written to {path}").format(path=path))
