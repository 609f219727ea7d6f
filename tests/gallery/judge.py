"""A figure of the gallery solved and checked, in a task of its own whose small result is kept between runs: all figures take 50 s."""

from __future__ import annotations

from handouts.figure import Facts, compute_figure, read_figure
from handouts.source.nodes import Mapping
from tests.figure.contact_gaps import contact_gaps, head_covered

Judged = tuple[tuple[str, ...], tuple[float, ...], Facts | None, tuple[tuple[int, str, float], ...], float]


def judge_movement(written: Mapping, _measures: str) -> Judged:
    """The problems of a figure as texts, the change of each joint variable from picture 1 to picture 2 in degrees, its facts, and the
    gap of each contact in each picture, and how much of the head arms cover.

    ``_measures`` is the source of these measures: a result is kept for as long as they are the same.
    """
    spec, problems = read_figure(written)
    if spec is None:
        return tuple(problem.what for problem in problems), (), None, (), 0.0
    figure = compute_figure(spec)
    frames = figure.motion.frames
    change = frames[-1].state.angles - frames[0].state.angles
    return tuple(problem.what for problem in (*problems, *figure.problems)), tuple(change.tolist()), figure.facts, tuple(contact_gaps(figure)), head_covered(figure)
