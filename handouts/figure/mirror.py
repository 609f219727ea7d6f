"""A drawn figure mirrored in its place: the other side is trained.

Works on the text of a drawing, so that no engine is loaded for it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_PANEL = re.compile(r'<g transform="translate\((-?\d+) (-?\d+)\)">(?=<path)')


def mirror_svg(text: str, figure_sums: Sequence[int]) -> str:
    """What ``svg_of`` and ``presentation_svg`` give ``mirrored``, from what they give else and the sums of ``panel_sums``.

    The panels keep their order and their numbers.
    """
    sums = iter(figure_sums)
    return _PANEL.sub(lambda found: f'<g transform="translate({int(found[1]) + next(sums)} {found[2]}) scale(-1 1)">', text)
