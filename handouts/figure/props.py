"""All props of a figure as parts of the drawing: one builder for each name.

Never decides where the body is; props are placed to fit it.
"""

from __future__ import annotations

from dataclasses import replace

from handouts.figure.bands import BANDS
from handouts.figure.furniture import FURNITURE
from handouts.figure.loads import LOADS
from handouts.figure.setting import Builder, Setting
from handouts.figure.silhouette import Part

BUILDERS: dict[str, Builder] = {**FURNITURE, **BANDS, **LOADS}
"""Every prop that ``handouts.figure.names`` declares."""


def prop_parts(setting: Setting) -> tuple[Part, ...]:
    """All props of a figure as parts, in the frame drawn."""
    return tuple(replace(part, use=use.name) for use in setting.spec.props for part in BUILDERS[use.name](setting, use))
