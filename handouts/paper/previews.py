"""A picture of each exercise for links that are shared: its figure as a PNG."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from hashlib import sha256

from handouts.problems import Problem
from handouts.tasks.calling import CallEach, File, Later

WIDTH = 800
"""Width in pixels: sites that show a large picture ask for 600 and more; about 80 kB for a figure."""
_HASH_CHARACTERS = 10
_DRAW: Later[tuple[File, tuple[Problem, ...]]] = Later("handouts.paper.preview_drawing", "draw_one", tuple[File, tuple[Problem, ...]])


@dataclass(frozen=True, slots=True)
class Preview:
    """A finished picture."""

    path: str
    png: bytes
    problems: tuple[Problem, ...]


def preview_path(slug: str, svg: str) -> str:
    """Where the picture of a drawing stands; the name carries the hash of the drawing."""
    return f"assets/preview-{slug}.{sha256(f'{WIDTH} {svg}'.encode()).hexdigest()[:_HASH_CHARACTERS]}.png"


def draw_previews(drawings: Mapping[str, str], each: CallEach) -> Iterator[Preview]:
    """The pictures of drawings (inline SVG with presentation attributes, by path), drawn as ``each`` calls tasks."""
    paths: dict[str, list[str]] = {}
    for path, svg in drawings.items():
        paths.setdefault(svg, []).append(path)
    for svg, (png, problems), _ in each(partial(_DRAW, width=WIDTH), paths, what="drawing pictures for links"):
        yield from (Preview(path, png, problems) for path in paths[svg])
