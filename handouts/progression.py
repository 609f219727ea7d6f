"""The graph of easier and harder: what builds on what, what is next, what to fall back to.

Edges come from ``after`` of the exercises that exist; unknown names are left to the rules.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from handouts.model import Exercise


@dataclass(frozen=True, slots=True)
class Progression:
    """Direct neighbours of every exercise, by slug, each in a fixed order."""

    easier: Mapping[str, tuple[str, ...]]
    """What comes directly before each exercise (its ``after``)."""
    harder: Mapping[str, tuple[str, ...]]
    """What builds directly on each exercise."""

    def before(self, slug: str) -> tuple[str, ...]:
        """Everything that comes before an exercise, near or far, nearest first."""
        return _reach(self.easier, slug)

    def beyond(self, slug: str) -> tuple[str, ...]:
        """Everything that builds on an exercise, near or far, nearest first."""
        return _reach(self.harder, slug)


def build_progression(exercises: Sequence[Exercise]) -> Progression:
    """The graph of the given exercises."""
    known = {exercise.slug for exercise in exercises}
    easier = {exercise.slug: tuple(ref.slug for ref in exercise.after if ref.slug in known) for exercise in exercises}
    harder: dict[str, tuple[str, ...]] = {exercise.slug: () for exercise in exercises}
    for slug, names in easier.items():
        for name in names:
            harder[name] = (*harder[name], slug)
    return Progression(easier, harder)


def _reach(edges: Mapping[str, tuple[str, ...]], start: str) -> tuple[str, ...]:
    found: dict[str, None] = {}
    queue = list(edges.get(start, ()))
    while queue:
        slug = queue.pop(0)
        if slug not in found and slug != start:
            found[slug] = None
            queue.extend(edges.get(slug, ()))
    return tuple(found)


def find_cycles(progression: Progression) -> tuple[tuple[str, ...], ...]:
    """Every group of exercises that come before one another in a ring, each ring once, its first name smallest.

    Tarjan's strongly connected components (SIAM J. Comput. 1972;1:146), written without recursion so
    that a long chain cannot exhaust the stack.
    """
    index: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    on_stack: set[str] = set()
    rings: list[tuple[str, ...]] = []
    for root in sorted(progression.easier):
        if root not in index:
            _visit(root, progression.easier, index, low, stack, on_stack, rings)
    return tuple(sorted(rings))


def _visit(
    root: str,
    edges: Mapping[str, tuple[str, ...]],
    index: dict[str, int],
    low: dict[str, int],
    stack: list[str],
    on_stack: set[str],
    rings: list[tuple[str, ...]],
) -> None:
    work = [(root, iter(edges.get(root, ())))]
    index[root] = low[root] = len(index)
    stack.append(root)
    on_stack.add(root)
    while work:
        node, children = work[-1]
        child = next(children, None)
        if child is None:
            work.pop()
            if work:
                low[work[-1][0]] = min(low[work[-1][0]], low[node])
            if low[node] == index[node]:
                _close(node, edges, stack, on_stack, rings)
        elif child not in index:
            index[child] = low[child] = len(index)
            stack.append(child)
            on_stack.add(child)
            work.append((child, iter(edges.get(child, ()))))
        elif child in on_stack:
            low[node] = min(low[node], index[child])


def _close(
    node: str, edges: Mapping[str, tuple[str, ...]], stack: list[str], on_stack: set[str], rings: list[tuple[str, ...]]
) -> None:
    ring = []
    while True:
        name = stack.pop()
        on_stack.discard(name)
        ring.append(name)
        if name == node:
            break
    if len(ring) > 1 or node in edges.get(node, ()):
        ring.sort()
        rings.append(tuple(ring))
