"""A figure of the gallery solved and checked, in a task of its own whose small result is kept between runs: all figures take 50 s."""

from __future__ import annotations

from handouts.figure import Facts, compute_figure, read_figure
from handouts.source.nodes import Mapping
from tests.figure.contact_gaps import contact_gaps


def judge_movement(written: Mapping) -> tuple[tuple[str, ...], tuple[float, ...], Facts | None, tuple[tuple[int, str, float], ...]]:
    """The problems of a figure as texts, the change of each joint variable from picture 1 to picture 2 in degrees, its facts, and the
    gap of each contact in each picture."""
    spec, problems = read_figure(written)
    if spec is None:
        return tuple(problem.what for problem in problems), (), None, ()
    figure = compute_figure(spec)
    frames = figure.motion.frames
    change = frames[-1].state.angles - frames[0].state.angles
    return tuple(problem.what for problem in (*problems, *figure.problems)), tuple(change.tolist()), figure.facts, tuple(contact_gaps(figure))
