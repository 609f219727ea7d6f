"""The figure engine: a body posed by clinical joint angles, solved, checked and drawn as SVG.

Read a figure with ``read_figure``, compute it with ``compute_figure``, write it with ``svg_of``.
Rooms, lowest first: ``body`` (the body at rest), ``pose`` (from an author's words to solved angles), ``draw`` (from a pose to
lines and areas), ``props`` (furniture and equipment), ``checks`` (what is wrong with any of it).  The modules here join them:
``compute`` makes a figure, ``animation`` its movement, ``svg`` its text, ``contact_sheet`` many on a page.

A name is taken from its module when it is asked for: whoever only reads facts of figures needs no numpy.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from handouts.figure.animation import motion_data
    from handouts.figure.compute import Figure, compute_figure, extremes, facts
    from handouts.figure.draw.style import HAIR_STYLES, FigureStyle
    from handouts.figure.mirror import mirror_svg
    from handouts.figure.pose.fact_values import Extreme, Facts, Movement
    from handouts.figure.pose.facts import joint_angles
    from handouts.figure.pose.faults import figure_schemas
    from handouts.figure.pose.names import figure_json_schema
    from handouts.figure.pose.read import read_figure
    from handouts.figure.pose.spec import FigureSpec
    from handouts.figure.svg import panel_sums, panel_svg, presentation_svg, standalone_svg, svg_of

__all__ = [
    "HAIR_STYLES", "Extreme", "Facts", "Figure", "FigureSpec", "FigureStyle", "Movement", "compute_figure",
    "extremes", "facts", "figure_json_schema", "figure_schemas", "joint_angles", "mirror_svg", "motion_data", "panel_sums", "panel_svg",
    "presentation_svg",
    "read_figure", "standalone_svg", "svg_of",
]  # fmt: skip

_HOMES = {
    "animation": ("motion_data",),
    "compute": ("Figure", "compute_figure", "extremes", "facts"),
    "draw.style": ("HAIR_STYLES", "FigureStyle"),
    "pose.fact_values": ("Extreme", "Facts", "Movement"),
    "pose.facts": ("joint_angles",),
    "pose.faults": ("figure_schemas",),
    "pose.names": ("figure_json_schema",),
    "pose.read": ("read_figure",),
    "pose.spec": ("FigureSpec",),
    "mirror": ("mirror_svg",),
    "svg": ("panel_sums", "panel_svg", "presentation_svg", "standalone_svg", "svg_of"),
}
_HOME = {name: f"{__name__}.{module}" for module, names in _HOMES.items() for name in names}


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOME[name]), name)
