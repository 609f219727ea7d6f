"""A figure as SVG text: for a page (classes only), for a file (style sheet inside), for paper (attributes).

No style attribute and no inline style sheet in the page form, so that a strict content policy allows it.
"""

from __future__ import annotations

from html import escape

from handouts.figure.compute import Figure
from handouts.figure.panels import BADGE, Panel
from handouts.figure.style import TONES

_DIGITS = ("M-8-8 2-15V15", "M-9-7C-7-18 10-17 9-6 8 2-9 8-10 15H10")
"""The digits 1 and 2 as strokes, about the badge's centre."""


def _classes(role: str) -> str:
    return " ".join(TONES[word] for word in role.split())


def _panel_text(panel: Panel) -> str:
    return "".join(f'<path class="{_classes(mark.role)}" d="{mark.path}"/>' for mark in panel.marks)


def svg_of(figure: Figure, title: str, description: str, ident: str, mirrored: bool = False) -> str:
    """Inline SVG; ``ident`` prefixes every id; ``mirrored`` shows the exercise for the other side."""
    layout = figure.layout
    body = ""
    for number, (panel, origin, badge) in enumerate(zip(figure.panels, layout.origins, layout.badges, strict=True)):
        x = origin[0]
        scale = ""
        if mirrored:
            x, scale = origin[0] + round(panel.bounds[0] + panel.bounds[2]), " scale(-1 1)"
        body += f'<g transform="translate({x} {origin[1]}){scale}">{_panel_text(panel)}</g>'
        if len(figure.panels) > 1:
            body += (f'<g transform="translate({badge[0]} {badge[1]})"><circle class="{TONES["badge"]}" r="{BADGE:g}"/>'
                     f'<path class="{TONES["digit"]}" d="{_DIGITS[number]}"/></g>')  # fmt: skip
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="fig" viewBox="0 0 {layout.width} {layout.height}" role="img" '
        f'aria-labelledby="{ident}t {ident}d"><title id="{ident}t">{escape(title)}</title>'
        f'<desc id="{ident}d">{escape(description)}</desc>{body}</svg>'
    )
