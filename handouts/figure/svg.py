"""A figure as SVG text: for a page (classes only), for a file (style sheet inside), for paper (attributes).

No style attribute and no inline style sheet in the page form, so that a strict content policy allows it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from html import escape

from handouts.figure.compute import Figure
from handouts.figure.draw.style import TONES
from handouts.figure.panels import BADGE, PAD, Panel

_DIGITS = (
    "M-7-7 2-14V14", "M-9-6C-7-17 10-17 9-6 8 2-9 8-10 14H10", "M-9-14H9L-2-3C14-4 12 17-10 13", "M5 14V-14L-11 5H11",
    "M8-14H-7L-8-3C12-8 14 19-10 13", "M6-14C-4-8-9 0-9 6-8 17 10 17 9 5 7-4-6-4-9 5",
)  # fmt: skip
"""The digits 1 to 6 as strokes, about the badge's centre."""
Paint = Callable[[str], str]
"""From a role to the attributes of its element, with a leading blank."""


def _by_class(role: str) -> str:
    return f' class="{" ".join(TONES[word] for word in role.split())}"'


def _panel_text(panel: Panel, paint: Paint) -> str:
    return "".join(f'<path{paint(mark.role)} d="{mark.path}"/>' for mark in panel.marks)


def _placed(panel: Panel, x: int, y: int, mirrored: bool, paint: Paint) -> str:
    scale = ""
    if mirrored:
        x, scale = x + round(panel.bounds[0] + panel.bounds[2]), " scale(-1 1)"
    return f'<g transform="translate({x} {y}){scale}">{_panel_text(panel, paint)}</g>'


def _badge(number: int, place: tuple[int, int], paint: Paint) -> str:
    return (
        f'<g transform="translate({place[0]} {place[1]})"><circle{paint("badge")} r="{BADGE:g}"/>'
        f'<path{paint("digit")} d="{_DIGITS[number]}"/></g>'
    )


def _whole(size: tuple[int, int], title: str, description: str, ident: str, body: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="fig" viewBox="0 0 {size[0]} {size[1]}" role="img" '
        f'aria-labelledby="{ident}t {ident}d"><title id="{ident}t">{escape(title)}</title>'
        f'<desc id="{ident}d">{escape(description)}</desc>{body}</svg>'
    )


def _drawn(figure: Figure, mirrored: bool, from_right: bool, paint: Paint) -> str:
    layout = figure.layout
    body = ""
    for number, (panel, origin, badge) in enumerate(zip(figure.panels, layout.origins, layout.badges, strict=True)):
        shift = round(layout.width - 2 * origin[0] - panel.bounds[0] - panel.bounds[2]) if from_right else 0
        body += _placed(panel, origin[0] + shift, origin[1], mirrored, paint)
        if len(figure.panels) > 1:
            body += _badge(number, (badge[0] + shift, badge[1]), paint)
    return body


def svg_of(
    figure: Figure, title: str, description: str, ident: str, *, mirrored: bool = False, from_right: bool = False
) -> str:
    """Inline SVG coloured by classes; ``ident`` prefixes every id; ``mirrored`` shows the exercise for the other side.

    ``from_right`` sets the panels, not what they show, in the order of a text read from the right.
    """
    size = (figure.layout.width, figure.layout.height)
    return _whole(size, title, description, ident, _drawn(figure, mirrored, from_right, _by_class))


def panel_sums(figure: Figure) -> tuple[int, ...]:
    """By panel how far it moves where it is mirrored in its place: the sum of its left and right end."""
    return tuple(round(panel.bounds[0] + panel.bounds[2]) for panel in figure.panels)


def panel_svg(figure: Figure, which: int, title: str, description: str, ident: str, *, mirrored: bool = False) -> str:
    """One panel alone, without number: 0 the start, -1 the end pose; for small pictures in lists."""
    return one_panel_svg(figure.panels[which], title, description, ident, mirrored=mirrored)


def standalone_svg(
    figure: Figure, title: str, description: str, ident: str, css: str, *, mirrored: bool = False
) -> str:
    """A file of its own: ``css`` (the figure style sheet) stands inside."""
    return with_style(svg_of(figure, title, description, ident, mirrored=mirrored), css)


def with_style(svg: str, css: str) -> str:
    """A picture that is coloured by classes, with the style sheet inside."""
    head, tail = svg.split("<title", 1)
    return f"{head}<style>{' '.join(css.split())}</style><title{tail}"


def one_panel_svg(panel: Panel, title: str, description: str, ident: str, css: str = "", *, mirrored: bool = False) -> str:
    """One panel as a picture of its own, coloured by classes, or by attributes from ``css`` for paper."""
    x0, y0, x1, y1 = panel.bounds
    size = (round(x1 - x0 + 2 * PAD), round(y1 - y0 + 2 * PAD))
    origin = (round(PAD - x0), round(PAD - y0))
    if not css:
        return _whole(size, title, description, ident, _placed(panel, *origin, mirrored, _by_class))
    shared, paint = _by_attributes(css, grey=False)
    body = f"<g{shared}>{_placed(panel, *origin, mirrored, paint)}</g>"
    return _whole(size, title, description, ident, body).replace(' class="fig"', "")


_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_ATTRIBUTES = ("fill", "stroke", "stroke-width", "stroke-linejoin", "stroke-linecap", "stroke-dasharray")


_GREY_ROLES = {"--fig-active": "#ffffff", "--fig-hatch": "#000000", "--fig-accent": "#000000", "--fig-ghost": "#555555"}
"""In black-and-white print the muscles at work are black lines on white, and the arrow is black."""


def paint_attributes(css: str, grey: bool = False) -> Mapping[str, Mapping[str, str]]:
    """Class -> presentation attributes, from the light values of the figure style sheet; '' holds for every path."""
    plain = re.sub(r"/\*.*?\*/", "", css, flags=re.S)
    plain = re.sub(r"@media[^{]*\{(?:[^{}]*\{[^{}]*\})*[^{}]*\}", "", plain)
    roles: dict[str, str] = {}
    found: dict[str, dict[str, str]] = {}
    for selectors, declared in _RULE.findall(plain):
        pairs = [part.split(":", 1) for part in declared.split(";") if ":" in part]
        values = {name.strip(): value.strip() for name, value in pairs}
        roles |= {name: value for name, value in values.items() if name.startswith("--fig-")}
        if grey:
            roles |= _GREY_ROLES
        for selector in selectors.split(","):
            name = selector.strip().removeprefix(".fig ").strip()
            if name == "path" or name.startswith("."):
                given = {key: _resolved(value, roles) for key, value in values.items() if key in _ATTRIBUTES}
                found.setdefault(name.lstrip(".") if name != "path" else "", {}).update(given)
    if grey:
        found = {name: {key: _grey(value) for key, value in given.items()} for name, given in found.items()}
    return found


def _resolved(value: str, roles: Mapping[str, str]) -> str:
    """A value with its roles put in."""
    return re.sub(r"var\((--[\w-]+)\)", lambda match: roles[match.group(1)], value)


def _grey(value: str) -> str:
    """A colour as the grey of the same luma (ITU-R BT.601); other values unchanged."""
    if not re.fullmatch(r"#[0-9a-f]{6}", value):
        return value
    red, green, blue = (int(value[at : at + 2], 16) for at in (1, 3, 5))
    luma = round(0.299 * red + 0.587 * green + 0.114 * blue)
    return f"#{luma:02x}{luma:02x}{luma:02x}"


def presentation_svg(
    figure: Figure,
    title: str,
    description: str,
    ident: str,
    css: str,
    *,
    mirrored: bool = False,
    from_right: bool = False,
    grey: bool = False,
) -> str:
    """SVG with presentation attributes in place of classes: for paper; ``grey`` for black-and-white printing."""
    shared, paint = _by_attributes(css, grey)
    size = (figure.layout.width, figure.layout.height)
    body = f"<g{shared}>{_drawn(figure, mirrored, from_right, paint)}</g>"
    return _whole(size, title, description, ident, body).replace(' class="fig"', "")


def _by_attributes(css: str, grey: bool) -> tuple[str, Paint]:
    """The attributes that all paths share, and those of each role beside them."""
    attributes = paint_attributes(css, grey)
    shared = "".join(f' {key}="{attributes[""][key]}"' for key in ("stroke-linejoin", "stroke-linecap"))

    def paint(role: str) -> str:
        given = dict(attributes[""])
        for word in role.split():
            given.update(attributes.get(TONES[word], {}))
        return "".join(f' {key}="{value}"' for key, value in given.items()).replace(shared, "")

    return shared, paint
