"""The chapter on figures: every word that a figure may be described with, made from the declarations, with pictures.

Pictures of base positions and views are drawn from the declarations themselves; joints, props and the words for contact and
movement are shown by movements of the gallery.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from markupsafe import Markup

from handouts.figure import read_figure
from handouts.figure.body.joints import JOINTS, SIDED, joint_tokens
from handouts.figure.body.muscles import MUSCLE_ALIASES, MUSCLES
from handouts.figure.body.sites import ALIASES, BODY_SITES, BODY_TARGETS, GRIP, LIMB_SITES, POINTS
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.faults import FAULT_HELP
from handouts.figure.pose.names import KEY_HELP, PROP_ALIASES, PROPS, VIEWS
from handouts.figure.pose.spec import PropUse
from handouts.figure.pose.surroundings import HELD, PROP_OF
from handouts.figure.reference import base_words, claim_words, motion_words, plain_words
from handouts.gallery.movements import GalleryMovement, find_movement, read_movements, spec_of
from handouts.gallery.page import fill, page_style, picture
from handouts.source.nodes import Mapping as MappingNode
from handouts.source.nodes import Node, Scalar, Sequence, compose

MOST_USES = 4
"""Pictures for one prop."""


@cache
def chapter_texts() -> Mapping[str, Mapping[str, str]]:
    """What the chapter says: ``keys`` by key, ``shown`` by key or by joint and word, ``mistakes`` by key, ``conventions`` by number,
    figures of ``props`` and of keys by name.
    """
    root, problems = compose(Path(__file__).with_name("chapter.yaml").read_text("utf-8"), "chapter.yaml")
    if root is None or problems:
        raise RuntimeError(f"the gallery's own file 'chapter.yaml' cannot be read: {problems[0].what if problems else 'it is empty'}")
    keys, joints, conventions, props, mistakes = (root.get(name) for name in ("keys", "joints", "conventions", "props", "mistakes"))
    figures = root.get("figures")
    assert isinstance(keys, MappingNode) and isinstance(joints, MappingNode) and isinstance(mistakes, MappingNode)
    assert isinstance(conventions, Sequence) and isinstance(props, MappingNode)
    assert isinstance(figures, MappingNode)
    said = {entry.key: entry.value for entry in keys.entries if isinstance(entry.value, MappingNode)}
    shown = {key: _text(node.get("shown")) for key, node in said.items()}
    return {
        "keys": {key: _text(node.get("says")) for key, node in said.items()},
        "shown": shown | {entry.key: _text(entry.value) for entry in joints.entries},
        "mistakes": {entry.key: _text(entry.value) for entry in mistakes.entries},
        "props": {entry.key: _text(entry.value) for entry in props.entries},
        "figures": {entry.key: _text(entry.value) for entry in figures.entries},
        "conventions": {str(number): _text(item) for number, item in enumerate(conventions.items)},
    }


def _text(node: Node | None) -> str:
    return node.text if isinstance(node, Scalar) else ""


@dataclass(frozen=True, slots=True)
class ChapterWord:
    """One word of the chapter: what it means, and the pictures that show it (file, alternative text)."""

    word: str
    says: str
    pictures: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class ChapterPart:
    """A part of the chapter."""

    ident: str
    title: str
    says: str
    entries: tuple[ChapterWord, ...]


@dataclass(frozen=True, slots=True)
class ChapterPage:
    """The whole chapter."""

    sections: tuple[ChapterPart, ...]
    sides: tuple[str, ...]
    style: Markup


def chapter_figures() -> dict[str, tuple[str, str]]:
    """The chapter's own pictures: title and figure, as an author would write it, by the name of the file without its end."""
    found = {f"base-{name}": (f"Base position: {name}", f"base: {name}\nview: {_view_of(name)}\n") for name in BASES}
    found |= {f"prop-{name}": (f"Prop: {name}", text) for name, text in chapter_texts()["props"].items() if name in PROPS}
    found |= {f"key-{key}": (f"Key: {key}", text) for key, text in chapter_texts()["figures"].items()}
    for name in VIEWS:
        pose = "base: standing\nprops: {chair: support}\nstart: {hip.r: flex 50, knee.r: 80, shoulder.l: flex 60}\ncontacts: [foot.l floor]\n"
        found[f"view-{name}"] = (f"View: {name}", f"{pose}balance: no\nview: {name}\n")
    return found


def chapter_picture(name: str) -> str:
    """One of the chapter's own pictures."""
    title, text = chapter_figures()[name]
    root, _ = compose(text, name)
    spec, problems = read_figure(root) if root is not None else (None, [])
    if spec is None:
        raise RuntimeError(f"the chapter's picture '{name}' cannot be read: {problems[0].what if problems else text}")
    return picture(title, spec)


def _view_of(base: str) -> str:
    return "lying" if BASES[base].lying or base in ("all-fours", "long-sitting") else "side"


def _shown(slug: str) -> tuple[tuple[str, str], ...]:
    movement = find_movement(slug)
    return ((f"{slug}.svg", movement.name),) if movement else ()


def chapter_page() -> str:
    """The chapter as HTML; its pictures are files beside it."""
    return fill("chapter.html", ChapterPage(tuple(_sections()), tuple(chapter_texts()["conventions"].values()), page_style()))


def _sections() -> Iterator[ChapterPart]:
    yield ChapterPart("keys", "Keys of a figure", "Only 'base' must be written.", tuple(map(_key, KEY_HELP)))
    bases = (ChapterWord(name, ", ".join(base_words(base)), _own(f"base-{name}")) for name, base in BASES.items())
    yield ChapterPart("bases", "Base positions", "A full pose in degrees, and what it rests on; what you write stands before it.", tuple(bases))
    yield ChapterPart("joints", "Joints", "Degrees with clinical names; the number is the end of the normal range.", tuple(_joints()))
    says = "A part of the body and what it touches, as 'foot floor'; parts of a limb take .r or .l."
    yield ChapterPart("contacts", "Contacts", says, tuple(_contacts()))
    yield ChapterPart("props", "Props", "A thing and the words that say how it stands; a number is its distance in metres.", tuple(_props()))
    views = (ChapterWord(name, f"[{yaw:g}, {up:g}]", _own(f"view-{name}")) for name, (yaw, up) in VIEWS.items())
    yield ChapterPart("views", "Views", "A name, or [yaw, elevation] in degrees. The same pose in each of them:", tuple(views))
    points = ChapterWord(", ".join(POINTS), "")
    yield ChapterPart("points", "Points", "For 'arrow', and where bands, straps and towels end; those of a limb take .r or .l.", (points,))
    regions = (ChapterWord(name, _also(MUSCLE_ALIASES, name)) for name in MUSCLES)
    yield ChapterPart("regions", "Regions of muscles", "For 'active' and 'stretched'; most take .r or .l.", tuple(regions))
    own = chapter_texts()["mistakes"]
    faults = (ChapterWord(key, f"{words[0].upper()}{words[1:]}. {own.get(key, '')}".strip()) for key, words in FAULT_HELP.items())
    says = "Under a mistake of an exercise ('figure: {end: {knee.r: add 10}, mark: knee.r}'): only what differs from the exercise's own figure."
    yield ChapterPart("mistakes", "The picture of a mistake", says, tuple(faults))
    claims = (ChapterWord(name, ", ".join(words)) for name, words in claim_words().items())
    yield ChapterPart("shows", "What a picture must show", "Under 'shows'; measured by 'check'.", tuple(claims))


def _key(key: str) -> ChapterWord:
    texts, says = chapter_texts(), f"{KEY_HELP[key][0].upper()}{KEY_HELP[key][1:]}."
    return ChapterWord(key, f"{says} {texts['keys'].get(key, '')}".strip(), _shown(texts["shown"].get(key, "")) or _own(f"key-{key}"))


def _own(name: str) -> tuple[tuple[str, str], ...]:
    return ((f"{name}.svg", chapter_figures()[name][0]),) if name in chapter_figures() else ()


def _also(aliases: Mapping[str, str], name: str) -> str:
    also = sorted(alias for alias, meant in aliases.items() if meant == name)
    return f"also: {', '.join(also)}" if also else ""


def _joints() -> Iterator[ChapterWord]:
    for joint in JOINTS:
        for token in joint_tokens(joint):
            name = f"{joint}.r, {joint}.l" if joint in SIDED else joint
            yield ChapterWord(f"{name}: {token}", motion_words(joint, token), _shown(chapter_texts()["shown"].get(f"{joint} {token}", "")))
        yield ChapterWord(f"{name}: 30", plain_words(joint))


def _contacts() -> Iterator[ChapterWord]:
    yield ChapterWord(", ".join((*LIMB_SITES, GRIP)), "parts of a limb")
    yield ChapterWord(", ".join(BODY_SITES), "parts of the trunk")
    yield ChapterWord(", ".join(f"{alias} = {name}" for alias, name in sorted(ALIASES.items())), "other words for them")
    for thing, prop in PROP_OF.items():
        needs = "always there" if not prop else f"needs the prop '{prop}'"
        yield ChapterWord(thing, f"{needs}{'; a hand can grip it' if thing in HELD else ''}", _first(thing))
    for place in BODY_TARGETS:
        yield ChapterWord(place, "a place on the body, for a hand", _first(place))


def _first(target: str) -> tuple[tuple[str, str], ...]:
    """The first movement in which something touches a thing or a place, with its line of contacts."""
    for movement in read_movements():
        for key, contacts in (("contacts", spec_of(movement).contacts), ("end-contacts", spec_of(movement).end_contacts)):
            if any(one.target == target for one in contacts) and (line := _line(movement, key)):
                return ((f"{movement.slug}.svg", f"{movement.name}. {line}"),)
    return ()


def _props() -> Iterator[ChapterWord]:
    for name, kind in PROPS.items():
        points = ["any point of the body"] if len(kind.points) == len(POINTS) else list(kind.points)
        words = [*kind.words, *points, *(["a distance in metres"] if kind.distance else [])]
        also = _also(PROP_ALIASES, name)
        yield ChapterWord(name, "; ".join(part for part in (", ".join(words), also) if part), _uses(name) or _own(f"prop-{name}"))


def _uses(name: str) -> tuple[tuple[str, str], ...]:
    """A movement for each way in which the gallery uses a prop."""
    found: dict[PropUse, GalleryMovement] = {}
    for movement in read_movements():
        use = spec_of(movement).prop(name)
        if use is not None and _line(movement, "props"):
            found.setdefault(use, movement)
    return tuple((f"{one.slug}.svg", f"{one.name}. {_line(one, 'props')}") for one in list(found.values())[:MOST_USES])


def _line(movement: GalleryMovement, key: str) -> str:
    return next((line for line in movement.figure.splitlines() if line.startswith(f"{key}:")), "")
