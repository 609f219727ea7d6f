"""The figure engine: a body posed by clinical joint angles, solved, checked and drawn as SVG.

Read a figure with ``read_figure``, compute it with ``compute_figure``, write it with ``svg_of``.
Rooms, lowest first: joints, shape, body, kinematics, sites, spec, world, bases, muscles, names, claims, typed, read; residuals,
solver, apart, contacts, firmness, bearing, strays, motion; camera, parts, silhouette, head, depth, curves; solids, setting,
furniture, bands, loads, props; style, paint, arrows, panels; facts, case, checks, prop_checks, claim_checks, picture_checks, compute,
animation, svg, sheet.
"""

from handouts.figure.animation import motion_data
from handouts.figure.compute import Figure, compute_figure, extremes, facts
from handouts.figure.draw.style import HAIR_STYLES, FigureStyle
from handouts.figure.pose.facts import Extreme, Facts, Movement, joint_angles
from handouts.figure.pose.names import figure_json_schema
from handouts.figure.pose.read import read_figure
from handouts.figure.pose.spec import FigureSpec
from handouts.figure.svg import mirror_svg, panel_sums, panel_svg, presentation_svg, standalone_svg, svg_of

__all__ = [
    "HAIR_STYLES", "Extreme", "Facts", "Figure", "FigureSpec", "FigureStyle", "Movement", "compute_figure",
    "extremes", "facts", "figure_json_schema", "joint_angles", "mirror_svg", "motion_data", "panel_sums", "panel_svg",
    "presentation_svg",
    "read_figure", "standalone_svg", "svg_of",
]  # fmt: skip
