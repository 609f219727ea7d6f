"""All props of a figure as parts of the drawing: one builder for each name.

Never decides where the body is; props are placed to fit it.
"""

from __future__ import annotations

from dataclasses import replace

from handouts.figure.draw.silhouette import PartOutline
from handouts.figure.props.bands import BANDS
from handouts.figure.props.declared import DECLARED
from handouts.figure.props.furniture import FURNITURE
from handouts.figure.props.loads import LOADS
from handouts.figure.props.scene import Builder, PropScene

BUILDERS: dict[str, Builder] = {**FURNITURE, **BANDS, **LOADS, **DECLARED}
"""Every prop that ``handouts.figure.pose.names`` declares."""


def prop_parts(setting: PropScene) -> tuple[PartOutline, ...]:
    """All props of a figure as parts, in the frame drawn."""
    return tuple(replace(part, use=use.name) for use in setting.spec.props for part in BUILDERS[use.name](setting, use))
