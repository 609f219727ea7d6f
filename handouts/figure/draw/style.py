"""How figures look: the style settings of a clinic, and the classes that the style sheet colours.

Colours themselves stand in ``templates/styles/figure.css`` only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from handouts.figure.body.body import Body, make_body
from handouts.figure.body.people import PEOPLE

TONES = {
    "skin": "k", "skin-far": "k2", "shirt": "s", "shirt-far": "s2", "trousers": "t", "trousers-far": "t2", "shoe": "o",
    "shoe-far": "o2", "sole": "u", "hair": "h", "hair-grey": "h2", "prop": "p", "prop-side": "q", "mat": "m", "mat-side": "n",
    "band": "b", "cloth": "c", "ball": "e", "stick": "q", "ground": "g", "active": "a", "behind": "a3", "hatch": "i", "dots": "i2", "ghost": "y",
    "was": "y1", "line": "l", "thin": "j", "ink": "d", "arrow": "w", "halo": "x",
    "water": "wa", "paper": "pa",
    "badge": "r", "digit": "f", "bare": "b2", "fine": "fi",
    "ring": "z", "ring-halo": "z2", "sign": "z3", "cross": "z4",
}  # fmt: skip
"""Role -> class inside ``.fig``; short, since every path carries one."""

HAIR_STYLES = ("short", "bob", "bun")


@dataclass(frozen=True, slots=True)
class FigureStyle:
    """Settings of a figure: stature in metres, build (1 is average girth), hair (one of ``HAIR_STYLES``)."""

    stature: float = 1.70
    build: float = 1.0
    hair: str = "short"
    person: str = ""
    """Who is drawn, a key of ``PEOPLE``; '' for someone of no age or gender."""
    smiles: bool = True
    """Whether the mouth is curved; who shows a mistake has a straight one."""
    without: tuple[str, ...] = ()
    """Limbs that end early, as 'shank.r'."""

    @property
    def body(self) -> Body:
        """The body."""
        return make_body(self.stature, self.build, self.person, self.without)

    @property
    def hair_style(self) -> str:
        """One of ``HAIR_STYLES``."""
        return PEOPLE[self.person].hair if self.person else self.hair

    @property
    def hair_tone(self) -> str:
        """The role of the hair."""
        return "hair-grey" if self.person and PEOPLE[self.person].grey else "hair"


@dataclass(frozen=True, slots=True)
class DrawnPath:
    """One path of the drawing: its role (a key of ``TONES``), its path text, and the muscle that it shows, if any."""

    role: str
    path: str
    muscle: str = ""


@dataclass(frozen=True, eq=False, slots=True)
class Region:
    """A muscle region as seen: its flat shape, the parts that show it, its name, and its sign ('hatch' or 'dots')."""

    shape: BaseGeometry
    shown_on: frozenset[str]
    muscle: str
    sign: str
    edges: tuple[NDArray[np.floating[Any]], NDArray[np.floating[Any]]]
    """Its two long edges (n, 2) each, along which lines run."""
    behind: bool = False
    """Whether it lies on the far side, and is seen through the body."""
