"""Small figures, motions and the demo's own limits, for tests of movement limits."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from handouts.figure import Facts, compute_figure, facts, joint_angles, read_figure
from handouts.library.read import read_library
from handouts.limits import ShownMotion
from handouts.limits.shown import keep_moved
from handouts.model import Exercise, Library, Limit, LimitPhase
from handouts.source.nodes import Mapping as MappingNode
from handouts.source.nodes import compose
from tests.builders import an_exercise as build_exercise
from tests.builders import refs
from tests.kept import kept

CONTENT = Path(__file__).parents[2] / "content"


@cache
def demo() -> Library:
    """The demo library as it is read."""
    paths = [path for path in CONTENT.rglob("*") if path.suffix in (".yaml", ".md")]
    library, problems = read_library({path.relative_to(CONTENT).as_posix(): path.read_bytes() for path in paths})
    assert library is not None, problems
    return library


def the_limit(slug: str) -> Limit:
    """A limit of the demo."""
    return next(limit for limit in demo().limits if limit.slug == slug)


def phase_at(limit: Limit, week: int) -> LimitPhase | None:
    """The phase that holds once ``week`` whole weeks have passed (0 in the first); None where none does."""
    return next((phase for phase in limit.phases
                 if (phase.from_week or 0) <= week and (phase.to_week is None or week <= phase.to_week)), None)


def phase_number(limit: Limit, phase: LimitPhase | None) -> int:
    """The number of a phase in its limit."""
    assert phase is not None
    return limit.phases.index(phase)


def some_facts(**changes: Any) -> Facts:
    """A person who stands on both feet, of whom nothing moves."""
    given: dict[str, Any] = {
        "base": "standing", "lying_on": "", "side": "", "moves": True, "movements": (), "props": (),
        "contacts": ("foot floor",), "end_contacts": ("foot floor",), "active": (),
        "open_chain": (), "pelvis_rise": 0.0,
    }  # fmt: skip
    return Facts(**{**given, **changes})


def motion(*frames: Mapping[str, float], **changes: Any) -> ShownMotion:
    """A motion of the given angles, from start to end."""
    return ShownMotion(tuple(frames), some_facts(**changes))


def an_exercise(demands: tuple[str, ...] = (), **changes: Any) -> Exercise:
    """An exercise with demands; a step-up unless told otherwise."""
    return build_exercise(demands=refs(*demands), **changes)


def solved(text: str) -> ShownMotion:
    """A figure described in YAML, solved by the engine."""
    node, problems = compose(text, "figure.yaml")
    assert isinstance(node, MappingNode), problems
    return solved_node(node)


@cache
def demo_figures() -> dict[str, ShownMotion]:
    """The demo's own figures, solved once for all tests."""
    return {exercise.slug: solved_node(exercise.figure) for exercise in demo().exercises if exercise.figure}


def solved_node(node: MappingNode) -> ShownMotion:
    """A figure solved by the engine."""
    spec, problems = read_figure(node)
    assert spec is not None, problems
    figure = kept(compute_figure, spec)
    return ShownMotion(keep_moved(joint_angles(figure.motion)), facts(figure))
