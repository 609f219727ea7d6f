"""What pages and sheets ask for as figures, whoever gives them.  Draws nothing."""

from __future__ import annotations

from typing import Protocol

from markupsafe import Markup

from handouts.model import Exercise


class FigureSource(Protocol):
    """Where figures come from."""

    def figure_svg(self, exercise: Exercise, language: str) -> Markup:
        """The whole figure as inline SVG with ``title`` and ``desc`` in the language; no style attribute in it."""

    def figure_note(self, exercise: Exercise, language: str) -> str:
        """What stands under the figure, in the language; empty where nothing is to be said."""
