"""The page of the posing bench: a field for every joint, contact, thing and word, made from the declarations.

For authors, in the language of the commands.  What the fields show comes with each answer.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from handouts.figure.body.joints import SIDES, VARIABLE_AXES, VARIABLES, side_of
from handouts.figure.body.sites import BODY_SITES, BODY_TARGETS, GRIP, LIMB_SITES
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.names import KEY_HELP, PROPS, VIEWS
from handouts.figure.pose.surroundings import PROP_OF
from handouts.templating.assets import read_templates
from handouts.templating.templates import template_environment

TEMPLATES = ("posing/", "scripts/made/pose.js", "styles/figure.css", "styles/tokens.css")
FIELDS = ("active", "stretched", "arrow", "side", "together", "lean", "balance")
"""Keys that are typed as words, apart from the text."""
_SIDE_NAMES = {"r": "Right", "l": "Left"}
_LEG = frozenset(("hip", "knee", "ankle", "toes"))


@dataclass(frozen=True, slots=True)
class JointField:
    """One angle: its variable, how it is called in its group and alone, and the ends of its range in degrees."""

    variable: str
    name: str
    label: str
    low: str
    high: str


@dataclass(frozen=True, slots=True)
class JointGroup:
    """The joints of one part of the body."""

    name: str
    joints: tuple[JointField, ...]


@dataclass(frozen=True, slots=True)
class WordField:
    """A key that is typed as words, and what it means."""

    key: str
    label: str
    says: str


@dataclass(frozen=True, slots=True)
class BenchPage:
    """The whole page, as ready strings; without a ``slug`` there is nothing to save into."""

    title: str
    slug: str
    file: str
    digest: str
    links: tuple[tuple[str, str], ...]
    groups: tuple[JointGroup, ...]
    bases: tuple[str, ...]
    views: tuple[str, ...]
    sites: tuple[str, ...]
    targets: tuple[str, ...]
    props: tuple[tuple[str, str], ...]
    fields: tuple[WordField, ...]
    answer: Markup


def _field(number: int) -> JointField:
    axis, side = VARIABLE_AXES[number], side_of(number)
    name = f"{axis.positive} (below 0: {axis.negative})"
    label = f"{_SIDE_NAMES[side]} {name}" if side else f"{name[0].upper()}{name[1:]}"
    return JointField(VARIABLES[number], name, label, f"{-axis.most_negative:g}", f"{axis.most_positive:g}")


def _groups() -> Iterator[JointGroup]:
    for part in ("leg", "arm"):
        for side in SIDES:
            fields = (_field(n) for n, axis in enumerate(VARIABLE_AXES) if (axis.joint in _LEG) == (part == "leg") and side_of(n) == side)
            yield JointGroup(f"{_SIDE_NAMES[side]} {part}", tuple(fields))
    yield JointGroup("Trunk and neck", tuple(_field(n) for n, axis in enumerate(VARIABLE_AXES) if not axis.sided))


def as_json(value: Any) -> Markup:
    """A value inside a ``script`` element: nothing in it ends the element."""
    return Markup(json.dumps(value, ensure_ascii=False).replace("<", "\\u003c").replace("&", "\\u0026"))


def bench_page(title: str, answered: Any, links: tuple[tuple[str, str], ...], slug: str = "", file: str = "", digest: str = "") -> str:
    """The page as HTML, with the first answer in it."""
    sites = tuple(f"{name}.{side}" for name in (*LIMB_SITES, GRIP) for side in SIDES)
    page = BenchPage(
        title, slug, file, digest, links, tuple(_groups()), tuple(BASES), tuple(VIEWS), (*sites, *BODY_SITES), (*PROP_OF, *BODY_TARGETS),
        tuple((name, " ".join(kind.names)) for name, kind in PROPS.items()),
        tuple(WordField(key, key.capitalize(), f"{KEY_HELP[key][0].upper()}{KEY_HELP[key][1:]}.") for key in FIELDS),
        as_json(answered),
    )  # fmt: skip
    return template_environment({"bench.html": _text("posing/bench.html")}).get_template("bench.html").render(view=page)


def bench_style() -> str:
    """The style sheet: tokens, figures, and the bench itself."""
    return "\n".join(_text(path) for path in ("styles/tokens.css", "styles/figure.css", "posing/bench.css"))


def bench_script() -> str:
    """The script of the page."""
    return _text("scripts/made/pose.js")


def _text(path: str) -> str:
    return read_templates(TEMPLATES)[path].decode()
