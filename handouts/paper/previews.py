"""A picture of each exercise for links that are shared: its figure as a PNG, kept between builds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256

from handouts.cache import Cache, key_of
from handouts.paper.picture import svg_png
from handouts.problems import Problem
from handouts.workers import Workers

WIDTH = 800
"""Width in pixels: sites that show a large picture ask for 600 and more; about 80 kB for a figure."""
_HASH_CHARACTERS = 10


@dataclass(frozen=True, slots=True)
class Preview:
    """A finished picture."""

    path: str
    png: bytes
    problems: tuple[Problem, ...]


def preview_path(slug: str, svg: str) -> str:
    """Where the picture of a drawing stands; the name carries the hash of the drawing."""
    return f"assets/preview-{slug}.{sha256(f'{WIDTH} {svg}'.encode()).hexdigest()[:_HASH_CHARACTERS]}.png"


def draw_previews(drawings: Mapping[str, str], cache: Cache, workers: Workers) -> Iterator[Preview]:
    """The pictures of drawings (inline SVG with presentation attributes, by path), kept ones first."""
    keys = {path: key_of("preview", str(WIDTH), svg) for path, svg in drawings.items()}
    missing = []
    for path in drawings:
        kept = cache.get(keys[path])
        if kept is None:
            missing.append(path)
        else:
            yield Preview(path, kept, ())
    paths: dict[str, list[str]] = {}
    for path in missing:
        paths.setdefault(drawings[path], []).append(path)
    for svg, (png, problems) in workers.map(_draw_one, paths, what="drawing pictures for links"):
        if png and not problems:
            cache.put(keys[paths[svg][0]], png)
        yield from (Preview(path, png, problems) for path in paths[svg])


def _draw_one(svg: str) -> tuple[bytes, tuple[Problem, ...]]:
    return svg_png(svg, WIDTH)
