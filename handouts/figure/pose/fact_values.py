"""What a solved motion says in numbers, as values; ``facts`` finds them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Extreme:
    """The largest angle of a motion in degrees, with the side ('r', 'l' or '') and the phase."""

    degrees: float
    side: str
    phase: str
    """'start', 'moving' or 'end'."""


@dataclass(frozen=True, slots=True)
class Movement:
    """One joint that moves: joint, clinical name of the motion, side, signed angles at start and end in degrees."""

    joint: str
    motion: str
    side: str
    start: float
    end: float
    typed: bool
    """Whether the author typed it; others follow from contacts."""


@dataclass(frozen=True, slots=True)
class Facts:
    """A figure in facts.

    ``lying_on`` is 'back', 'front', 'left side', 'right side' or ''.  ``movements`` are sorted: typed ones first,
    then those that follow, the largest first.  ``pelvis_rise`` is in metres.
    ``open_chain`` are joint names with sides that move while their foot or hand is free.
    """

    base: str
    lying_on: str
    side: str
    moves: bool
    movements: tuple[Movement, ...]
    props: tuple[tuple[str, tuple[str, ...]], ...]
    contacts: tuple[str, ...]
    end_contacts: tuple[str, ...]
    active: tuple[str, ...]
    open_chain: tuple[str, ...]
    pelvis_rise: float
    via: tuple[tuple[Movement, ...], ...] = ()
    """For each picture between the first and the last what differs in it from picture 1."""
    stretched: tuple[str, ...] = ()
    """Regions that are stretched; ``active`` are those of muscles at work."""
    enlarged: bool = False
    """Whether a part of the last picture is shown once more, larger."""
    in_air: bool = False
    """Whether no part of the body touches the ground in picture 2."""
    without: tuple[str, ...] = ()
    """Limbs that end early, as 'shank.r'."""
    pictures: int = 2
    """How many pictures stand on this base position."""
    later: tuple[Facts, ...] = ()
    """The facts of the pictures that follow on another base position, for each by itself; all else here is of the first."""

    @property
    def each_base(self) -> tuple[Facts, ...]:
        """The facts of every base position, in order."""
        return (self, *self.later)
