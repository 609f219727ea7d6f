"""The figure engine: a body posed by clinical joint angles, solved, checked and drawn as SVG.

Read a figure with ``read_figure``, compute it with ``compute_figure``, write it with ``svg_of``.
Rooms, lowest first: joints, shape, body, kinematics, sites, spec, world, bases, muscles, names, read; residuals,
solver, apart, motion; camera, parts, silhouette, head, depth, curves, solids, props, style, paint, arrows,
panels; compute, svg, sheet.
"""

from handouts.figure.compute import Figure, compute_figure
from handouts.figure.names import figure_json_schema
from handouts.figure.read import read_figure
from handouts.figure.spec import FigureSpec
from handouts.figure.style import FigureStyle
from handouts.figure.svg import svg_of

__all__ = ["Figure", "FigureSpec", "FigureStyle", "compute_figure", "figure_json_schema", "read_figure", "svg_of"]
