"""What stands where an exercise has no figure yet: a plain sign of the position, and the words that say so.

It shows only lying, sitting or standing and never the movement, so that nobody takes it for instructions.
"""

from __future__ import annotations

from markupsafe import Markup, escape

WIDTH, HEIGHT = 320, 150
"""Size of the sign in its own units; the page scales it."""
_SIGNS = {
    "floor": '<path class="placeholder-body" d="M70 92h150"/><circle class="placeholder-head" cx="50" cy="90" r="13"/>',
    "chair": '<path class="placeholder-body" d="M150 46v42h44v34"/><circle class="placeholder-head" cx="150" cy="26" r="13"/>'
    '<path class="placeholder-line" d="M132 56v66M132 98h52"/>',
    "standing": '<path class="placeholder-body" d="M160 42v80"/><circle class="placeholder-head" cx="160" cy="22" r="13"/>',
}
_GROUND = '<path class="placeholder-line" d="M30 124h260"/>'


def placeholder_svg(level: str, title: str, description: str, ident: str) -> Markup:
    """A sign for a position's level (floor, chair, standing) with title and description for screen readers."""
    return Markup(
        '<svg class="placeholder" xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {width} {height}" '
        'aria-labelledby="{ident}-t {ident}-d"><title id="{ident}-t">{title}</title>'
        '<desc id="{ident}-d">{description}</desc>{sign}</svg>'
    ).format(
        width=WIDTH,
        height=HEIGHT,
        ident=ident,
        title=escape(title),
        description=escape(description),
        sign=Markup(_SIGNS[level] + _GROUND),
    )
