"""The gallery as pages: one to search in and copy from, and the picture of each movement as a file of its own.

Made for authors, in the language of the commands.  Pictures are loaded as one scrolls to them.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from markupsafe import Markup

from handouts.figure import FigureSpec, compute_figure, standalone_svg
from handouts.gallery.movements import GalleryMovement, read_movements, spec_of
from handouts.templating.assets import read_templates
from handouts.templating.templates import template_environment
from handouts.words.figure import describe_figure
from handouts.words.wording import Wording

TEMPLATES = ("gallery/", "styles/figure.css")
LANGUAGE = "en"
"""The language of the commands."""


@dataclass(frozen=True, slots=True)
class MovementCard:
    """One movement on the page, as ready strings."""

    slug: str
    name: str
    also: str
    facts: tuple[tuple[str, str], ...]
    searched: str
    figure: str
    command: str
    pose: str
    """Where the movement can be posed; '' where it cannot, as on the gallery's own page."""


@dataclass(frozen=True, slots=True)
class MovementGroup:
    """The movements of one file."""

    ident: str
    name: str
    cards: tuple[MovementCard, ...]


@dataclass(frozen=True, slots=True)
class GalleryPage:
    """The whole page."""

    count: str
    groups: tuple[MovementGroup, ...]
    style: Markup
    script: Markup


def gallery_page(bench: str = "") -> str:
    """The page as HTML; its pictures are files beside it; ``bench`` is the address under which each movement can be posed, if any."""
    groups = tuple(
        MovementGroup(name.replace(" ", "-"), name.capitalize(), tuple(_card(item, bench) for item in items))
        for name, items in groupby(read_movements(), key=lambda one: one.group)
    )
    page = GalleryPage(
        str(len(read_movements())), groups, page_style(), Markup(_text("gallery/gallery.js"))
    )
    return fill("gallery.html", page)


def fill(name: str, view: object) -> str:
    """A page of the gallery from its template."""
    return template_environment({name: _text(f"gallery/{name}")}).get_template(name).render(view=view)


def page_style() -> Markup:
    """The style sheet of both pages."""
    return Markup(_text("gallery/gallery.css"))


def _text(path: str) -> str:
    return read_templates(TEMPLATES)[path].decode()


def _card(movement: GalleryMovement, bench: str) -> MovementCard:
    facts = (
        ("Position", movement.position),
        ("Regions", ", ".join(movement.regions)),
        ("Equipment", ", ".join(movement.equipment)),
        ("Demands", ", ".join(movement.demands)),
    )
    return MovementCard(
        movement.slug,
        movement.name,
        ", ".join(movement.also_called),
        tuple(fact for fact in facts if fact[1]),
        movement.searched,
        "figure:\n" + "".join(f"  {line}\n" for line in movement.figure.splitlines()),
        f"handouts new NAME --like {movement.slug}",
        f"{bench}{movement.slug}" if bench else "",
    )


def movement_svg(movement: GalleryMovement) -> str:
    """The picture of a movement, with its name and what it shows in words."""
    return picture(movement.name, spec_of(movement))


def picture(title: str, spec: FigureSpec) -> str:
    """A figure as a file of its own."""
    figure = compute_figure(spec)
    return standalone_svg(figure, title, describe_figure(figure.facts, Wording(LANGUAGE)), "figure", _text("styles/figure.css"))
