"""The figure engine: a body posed by clinical joint angles, solved, checked and drawn as SVG.

Read a figure with ``read_figure``, compute it with ``compute_figure``, write it with ``svg_of``.
Rooms, lowest first: ``body`` (the body at rest), ``pose`` (from an author's words to solved angles), ``draw`` (from a pose to
lines and areas), ``props`` (furniture and equipment), ``checks`` (what is wrong with any of it).  The modules here join them:
``compute`` makes a figure, ``animation`` its movement, ``svg`` its text, ``contact_sheet`` many on a page.
"""

from handouts.figure.animation import motion_data
from handouts.figure.compute import Figure, compute_figure, extremes, facts
from handouts.figure.draw.style import HAIR_STYLES, FigureStyle
from handouts.figure.pose.facts import Extreme, Facts, Movement, joint_angles
from handouts.figure.pose.names import figure_json_schema
from handouts.figure.pose.read import read_figure
from handouts.figure.pose.spec import FigureSpec
from handouts.figure.svg import panel_svg, presentation_svg, standalone_svg, svg_of

__all__ = [
    "HAIR_STYLES", "Extreme", "Facts", "Figure", "FigureSpec", "FigureStyle", "Movement", "compute_figure",
    "extremes", "facts", "figure_json_schema", "joint_angles", "motion_data", "panel_svg",
    "presentation_svg",
    "read_figure", "standalone_svg", "svg_of",
]  # fmt: skip
