"""The movements of the gallery, as they stand in the files beside this module.

A movement has a name of the trade, a figure, and what an exercise file says of it in words of a vocabulary: position, body
regions, equipment, demands.  No dose, no cue, no caution and no word about whom it is for: those are the clinic's.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from handouts.figure import FigureSpec, read_figure
from handouts.problems import names_like
from handouts.source.nodes import Mapping, Node, Scalar, Sequence, compose

FOLDER = Path(__file__).parent / "movements"
KEYS = ("name", "also called", "position", "regions", "demands", "figure")
"""What stands of every movement."""
_WORDS = {"weight": "hand-weight", "door": "door-anchor"}
"""Words of a vocabulary for a prop, where they are others than the prop's; those of the demo."""
_NO_EQUIPMENT = frozenset({"slope"})
"""A prop that nobody fetches."""


@dataclass(frozen=True, slots=True)
class GalleryMovement:
    """One movement of the gallery.

    ``group`` is the file it stands in; ``figure`` what is copied, line by line as it is written there.
    """

    slug: str
    name: str
    also_called: tuple[str, ...]
    group: str
    position: str
    regions: tuple[str, ...]
    demands: tuple[str, ...]
    figure: str
    written: Mapping = field(compare=False, repr=False)

    @property
    def equipment(self) -> tuple[str, ...]:
        """What the picture shows that must be fetched, in words of a vocabulary."""
        names = [use.name for use in spec_of(self).props if use.name not in _NO_EQUIPMENT]
        return tuple(dict.fromkeys(_WORDS.get(name, name) for name in names))

    @property
    def worked(self) -> tuple[str, ...]:
        """The regions that the figure marks."""
        spec = spec_of(self)
        return tuple(dict.fromkeys(one.name for one in (*spec.active, *spec.stretched)))

    @property
    def searched(self) -> str:
        """All that a search may find it by, in small letters."""
        words = (self.slug.replace("-", " "), self.name, *self.also_called, self.group, self.position, *self.regions, *self.equipment)
        return " ".join((*words, *self.demands, *self.worked)).replace("-", " ").lower()


@cache
def spec_of(movement: GalleryMovement) -> FigureSpec:
    """The figure of a movement as it is read; a fault there is one of the program."""
    spec, problems = read_figure(movement.written)
    if spec is None:
        raise RuntimeError(f"the figure of '{movement.slug}' in the gallery cannot be read: {problems[0].what}")
    return spec


@cache
def read_movements() -> tuple[GalleryMovement, ...]:
    """All movements, by the files they stand in, then as they stand there."""
    found = [movement for path in sorted(FOLDER.glob("*.yaml")) for movement in _read_file(path)]
    if len({movement.slug for movement in found}) != len(found):
        raise RuntimeError("a movement of the gallery stands twice")
    return tuple(found)


def _read_file(path: Path) -> Iterator[GalleryMovement]:
    text = path.read_text("utf-8")
    root, problems = compose(text, path.name)
    if root is None or problems:
        raise RuntimeError(f"the gallery's own file '{path.name}' cannot be read: {problems[0].what if problems else 'it is empty'}")
    figures = dict(re.findall(r"^([a-z0-9-]+):\n(?:  (?!figure:).*\n)*  figure:\n((?:    .*\n)+)", text, re.MULTILINE))
    for entry in root.entries:
        keys = entry.value
        written = keys.get("figure") if isinstance(keys, Mapping) else None
        if not isinstance(keys, Mapping) or tuple(one.key for one in keys.entries) != KEYS or not isinstance(written, Mapping):
            raise RuntimeError(f"'{entry.key}' of the gallery has not the keys {', '.join(KEYS)} in this order")
        yield GalleryMovement(
            entry.key,
            _texts(keys.get("name"))[0],
            _texts(keys.get("also called")),
            path.stem.replace("-", " "),
            _texts(keys.get("position"))[0],
            _texts(keys.get("regions")),
            _texts(keys.get("demands")),
            re.sub(r"^    ", "", figures[entry.key], flags=re.MULTILINE),
            written,
        )


def _texts(node: Node | None) -> tuple[str, ...]:
    """A text, or a list of texts."""
    items = node.items if isinstance(node, Sequence) else [node] if node is not None else []
    return tuple(item.text for item in items if isinstance(item, Scalar))


def find_movement(word: str) -> GalleryMovement | None:
    """A movement by its slug or by one of its names, however they are written."""
    wanted = _plain(word)
    return next((one for one in read_movements() if wanted in (_plain(name) for name in (one.slug, one.name, *one.also_called))), None)


def nearest_movements(word: str, most: int = 5) -> tuple[GalleryMovement, ...]:
    """The movements that may be meant, the nearest first: those that hold most of its words, then those that are spelt alike."""
    parts = set(_plain(word).split())
    by_words = sorted(
        ((sum(any(word.startswith(part) for word in one.searched.split()) for part in parts), len(one.searched), one) for one in read_movements()),
        key=lambda found: (-found[0], found[1], found[2].slug),
    )
    found = [one for count, _, one in by_words if count]
    alike = names_like(_plain(word), (_plain(one.slug) for one in read_movements()), 0.5, most)
    found += [one for name in alike for one in read_movements() if _plain(one.slug) == name]
    return tuple(dict.fromkeys(found))[:most]


def _plain(word: str) -> str:
    return " ".join(re.sub(r"[^a-z0-9]+", " ", word.lower()).split())
