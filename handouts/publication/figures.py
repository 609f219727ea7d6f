"""What pages and sheets ask for as figures, whoever gives them.  Draws nothing."""

from __future__ import annotations

from typing import Protocol

from markupsafe import Markup

from handouts.model import NAMED_SIDES, Exercise, Side


class FigureSource(Protocol):
    """Where figures come from."""

    def figure_svg(self, exercise: Exercise, language: str, side: Side = Side.TOGETHER) -> Markup:
        """The whole figure as inline SVG with ``title`` and ``desc`` in the language; no style attribute in it.

        Mirrored where only ``side`` is trained and the figure shows the other one.
        """

    def fault_svg(self, exercise: Exercise, number: int, language: str, side: Side = Side.TOGETHER) -> Markup:
        """The picture of a mistake, by its number from 0, in the same way; empty where it has none."""

    def shown_side(self, exercise: Exercise) -> Side:
        """``LEFT`` or ``RIGHT``, which the figure shows trained; ``TOGETHER`` where it does not tell."""

    def figure_note(self, exercise: Exercise, language: str) -> str:
        """What stands under the figure, in the language; empty where nothing is to be said."""


def mirrored_for(shown: Side) -> Side | None:
    """The named side for which a figure that shows a side is mirrored; None where it shows none."""
    return next((side for side in NAMED_SIDES if side is not shown), None) if shown in NAMED_SIDES else None
