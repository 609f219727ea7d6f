"""What stands where an exercise has no figure yet: a dashed frame with a plain sign of the position.

It shows only lying, sitting or standing and never the movement, so that nobody takes it for instructions; the words
that say so stand under it (``LibraryFigures.figure_note``).  Classes are those of figures, so that pages and the phone
colour it; attributes say the same for paper and for small pictures, where no style sheet reaches.
"""

from __future__ import annotations

from markupsafe import Markup, escape

WIDTH, HEIGHT = 640, 320
"""Size of the sign in its own units; the page scales it."""
GREY = "#6f7d86"
"""The colour of ghosts in ``templates/styles/figure.css``: seen on white and on the dark page alike."""


def _head(x: int, y: int) -> str:
    return f"M{x - 24} {y}a24 24 0 1 0 48 0a24 24 0 1 0-48 0z"


_FRAME = f"M36 12H{WIDTH - 36}q24 0 24 24V{HEIGHT - 36}q0 24-24 24H36q-24 0-24-24V36q0-24 24-24z"
_SIGNS = {
    "floor": f"{_head(160, 208)}M206 212H484M120 246H520",
    "chair": f"{_head(288, 74)}M288 116V196H362V262M250 130V262M250 206H340V262M200 264H440",
    "standing": f"{_head(320, 70)}M320 112V262M320 132L284 196M320 132L356 196M220 264H420",
}


LOW, SIGN_TOP = 240, 36
"""Height of the sign alone, where nothing is missing, and how far it is moved up for that."""


def placeholder_svg(level: str, title: str, description: str, ident: str, *, frame: bool = True) -> Markup:
    """A sign for a position's level (floor, chair, standing) with title and description for screen readers.

    Without the ``frame`` nothing is missing: the exercise is explained in words, and the sign is a small one.
    """
    line = f'fill="none" stroke="{GREY}" stroke-linecap="round" stroke-linejoin="round"'
    return Markup(
        '<svg class="fig" xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 {width} {height}" '
        'aria-labelledby="{ident}-t {ident}-d"><title id="{ident}-t">{title}</title>'
        '<desc id="{ident}-d">{description}</desc>'
        '{frame}'
        '<path class="y2" {line} stroke-width="9"{down} d="{sign}"/></svg>'
    ).format(
        width=WIDTH,
        height=HEIGHT if frame else LOW,
        ident=ident,
        title=escape(title),
        description=escape(description),
        line=Markup(line),
        down="" if frame else Markup(f' transform="translate(0 {-SIGN_TOP})"'),
        frame=Markup('<path class="y1" {} stroke-width="3.6" stroke-dasharray="10 8" d="{}"/>').format(Markup(line), _FRAME) if frame else "",
        sign=_SIGNS[level],
    )
