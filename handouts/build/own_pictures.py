"""The clinic's own picture, decoded and written anew: within bounds, without what a file carries beside its pixels.

What readers get is never the file: its pixels are turned as the camera held it, laid on white, made as small as print and screen need,
and written as PNG or JPEG, whichever is smaller.  So nothing of a foreign decoder's input reaches a reader, and no place or name in it.
"""

from __future__ import annotations

import base64
import io
import warnings
from typing import Any

from PIL import Image, ImageFile, ImageOps

from handouts.build.drawn import DESCRIPTION, IDENT, TITLE, PreparedPicture

FORMATS = ("PNG", "JPEG", "WEBP")
MOST_PIXELS = 50_000_000
"""Pixels of a picture that is decoded: the camera of a telephone has 12 to 50 million (common practice, no source)."""
_TOO_LARGE = f"it has more than {MOST_PIXELS // 1_000_000} million pixels"
LEAST_SIDE = 240
"""Pixels of the longer side below which a picture is blurred in print: 60 mm at 100 dots an inch (common practice, no source)."""
SIDES = (900, 700, 540, 420)
"""Pixels of the longer side that are tried, the largest first: 900 is 380 dots an inch at 60 mm."""
MOST_BYTES = 90_000
"""Bytes of the written picture; on a page a third more, as text."""
SMALL_SIDE, SMALL_BYTES = 320, 24_000
"""The same for the small picture in lists."""
QUALITY = (84, 74, 62)


def prepare_picture(data: bytes) -> tuple[PreparedPicture | None, str]:
    """The picture for readers, or None and what is wrong with the file."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            with Image.open(io.BytesIO(data), formats=FORMATS) as image:
                if image.width * image.height > MOST_PIXELS:
                    return None, _TOO_LARGE
                if getattr(image, "n_frames", 1) > 1:
                    return None, "it moves: it holds more than one picture"
                _decode(image)
                upright = ImageOps.exif_transpose(image)
                plain = _on_white(upright)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        return None, _TOO_LARGE
    except (OSError, ValueError, SyntaxError, EOFError, Warning) as error:
        return None, f"it cannot be decoded as PNG, JPEG or WebP ({type(error).__name__})"
    if max(plain.size) < LEAST_SIDE:
        return None, f"it has only {plain.width} x {plain.height} pixels, and the longer side needs {LEAST_SIDE}"
    return PreparedPicture(_svg(plain, SIDES, MOST_BYTES, words=True), _svg(plain, (SMALL_SIDE, SMALL_SIDE // 2), SMALL_BYTES, words=False)), ""


def _decode(image: Image.Image) -> None:
    """Decodes the whole file: one that is cut short is refused, whatever another library of this process has set (the layout library does)."""
    before, ImageFile.LOAD_TRUNCATED_IMAGES = ImageFile.LOAD_TRUNCATED_IMAGES, False
    try:
        image.load()
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = before


def _on_white(image: Image.Image) -> Image.Image:
    """The pixels alone, in three colours; what is see-through is white."""
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        clear = image.convert("RGBA")
        white = Image.new("RGBA", clear.size, (255, 255, 255, 255))
        image = Image.alpha_composite(white, clear)
    pixels = image.convert("RGB")
    fresh = Image.new("RGB", pixels.size)
    fresh.paste(pixels)
    return fresh


def _svg(image: Image.Image, sides: tuple[int, ...], most: int, *, words: bool) -> str:
    kind, data, (wide, high) = _write(image, sides, most)
    said = f"<title id=\"{IDENT}-t\">{TITLE}</title><desc id=\"{IDENT}-d\">{DESCRIPTION}</desc>" if words else ""
    labelled = f' role="img" aria-labelledby="{IDENT}-t {IDENT}-d"' if words else ""
    return (
        f'<svg class="fig" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}"{labelled}>{said}'
        f'<image x="0" y="0" width="{wide}" height="{high}" href="data:image/{kind};base64,{base64.b64encode(data).decode()}"/></svg>'
    )


def _write(image: Image.Image, sides: tuple[int, ...], most: int) -> tuple[str, bytes, tuple[int, int]]:
    """Kind, bytes and size of the largest picture that fits; the smallest of all where none does."""
    smallest: tuple[str, bytes, tuple[int, int]] | None = None
    for side in sides:
        scale = min(1.0, side / max(image.size))
        size = (max(1, round(image.width * scale)), max(1, round(image.height * scale)))
        sized = image if size == image.size else image.resize(size, Image.Resampling.LANCZOS)
        for kind, data in _written(sized):
            if len(data) <= most:
                return kind, data, size
            if smallest is None or len(data) < len(smallest[1]):
                smallest = kind, data, size
    assert smallest is not None
    return smallest


def _written(image: Image.Image) -> list[tuple[str, bytes]]:
    """A picture in each way of writing it, the best quality first; drawings are smaller as PNG, photographs as JPEG."""
    made = [("png", _bytes(image, "PNG", optimize=True))]
    made += [("jpeg", _bytes(image, "JPEG", quality=quality, optimize=True, progressive=False)) for quality in QUALITY]
    return made


def _bytes(image: Image.Image, kind: str, **options: Any) -> bytes:
    stream = io.BytesIO()
    image.save(stream, kind, **options)
    return stream.getvalue()
