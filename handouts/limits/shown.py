"""What a solved figure shows, as movement limits need it: the angles of every frame and the facts.

Largest angles alone would not do: a combined limit asks for one side at one moment, and some bounds for the
smallest angle.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from handouts.figure.pose.fact_values import Facts
from handouts.limits.motions import Frame


@dataclass(frozen=True, slots=True)
class ShownMotion:
    """Frames from start to end (one where a position is held), and the facts of the same figure."""

    frames: tuple[Frame, ...]
    facts: Facts


def keep_moved(frames: Iterable[Mapping[str, float]]) -> tuple[Frame, ...]:
    """The same frames without the variables that are 0 throughout."""
    whole = tuple(frames)
    moved = {name for frame in whole for name, degrees in frame.items() if degrees}
    return tuple({name: degrees for name, degrees in frame.items() if name in moved} for frame in whole)
