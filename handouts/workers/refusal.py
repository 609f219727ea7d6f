"""The one way in which workers say that they cannot do the work."""

from __future__ import annotations

from handouts.problems import Place, Problem


class WorkersError(Exception):
    """The workers cannot be reached or cannot do the work; ``problem`` says why."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.what)
        self.problem = problem


def refuse(rule: str, what: str, mend: str, address: str = "") -> WorkersError:
    """The error to raise; ``address`` is that of the scheduler, where there is one."""
    return WorkersError(Problem(Place(address), rule, what, mend))
