"""Two graphs of a library: what must be mastered first, and what is easier or harder.

What must be mastered first comes from ``after``, whole steps of a programme unfolded into their exercises.
What is easier or harder comes from ``easier`` and ``harder`` alone, and what one exercise names holds in
both directions: where A names B as easier, A is a harder one of B, without being named there.
Names that do not exist are left to the rules.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from handouts.model import Exercise, Library, Programme, Ref, Way, Words


@dataclass(frozen=True, slots=True)
class Option:
    """One way to make an exercise easier or harder."""

    slug: str
    """The other exercise; empty where this one is changed."""
    change: Words | None = None
    """The author's sentence: how this one is changed, or what is different in the other."""


Options = Mapping[str, tuple[Option, ...]]


@dataclass(frozen=True, slots=True)
class Progression:
    """Direct neighbours of every exercise, by slug, each in a fixed order."""

    needs: Mapping[str, tuple[str, ...]]
    """What must be mastered directly before each exercise."""
    opens: Mapping[str, tuple[str, ...]]
    """What builds directly on each exercise."""
    easier: Options
    """What to fall back to: sentences first, then exercises, as the author wrote them, then those that name it."""
    harder: Options

    def before(self, slug: str) -> tuple[str, ...]:
        """Everything that must be mastered before an exercise, near or far, nearest first."""
        return _reach(self.needs, slug)

    def beyond(self, slug: str) -> tuple[str, ...]:
        """Everything that builds on an exercise, near or far, nearest first."""
        return _reach(self.opens, slug)


def build_progression(library: Library) -> Progression:
    """The graphs of a library's exercises."""
    needs = {item.slug: needs_of(item, library.exercise, library.programmes) for item in library.exercises}
    easier, harder = _options(library.exercises, library.exercise)
    return Progression(needs, _turned(needs), easier, harder)


def needs_of(
    exercise: Exercise, known: Mapping[str, Exercise], programmes: Sequence[Programme]
) -> tuple[str, ...]:
    """The exercises that one names as what must be mastered first, whole steps unfolded, each once."""
    found: dict[str, None] = {}
    for need in exercise.after:
        names = (need,) if isinstance(need, Ref) else (
            ref
            for programme in programmes
            if programme.slug == need.programme.slug
            for tier in programme.tiers
            if tier.tier == need.tier
            for ref in tier.exercises
        )  # fmt: skip
        found |= dict.fromkeys(ref.slug for ref in names if ref.slug in known)
    return tuple(found)


def keep_named(exercise: Exercise, is_kept: Callable[[str], bool]) -> Exercise:
    """An exercise that names only exercises that are kept; its own sentences stay."""
    after = tuple(need for need in exercise.after if not isinstance(need, Ref) or is_kept(need.slug))
    easier = tuple(way for way in exercise.easier if way.exercise is None or is_kept(way.exercise.slug))
    harder = tuple(way for way in exercise.harder if way.exercise is None or is_kept(way.exercise.slug))
    if (len(after), len(easier), len(harder)) == (len(exercise.after), len(exercise.easier), len(exercise.harder)):
        return exercise
    return replace(exercise, after=after, easier=easier, harder=harder)


def _turned(edges: Mapping[str, Sequence[str]]) -> dict[str, tuple[str, ...]]:
    """The edges in the other direction."""
    found: dict[str, tuple[str, ...]] = dict.fromkeys(edges, ())
    for slug, names in edges.items():
        for name in names:
            found[name] = (*found[name], slug)
    return found


def _options(exercises: Sequence[Exercise], known: Mapping[str, Exercise]) -> tuple[Options, Options]:
    """What is easier and what is harder than each exercise, as named there, and as follows from the others."""
    own: tuple[dict[str, dict[str, Option]], dict[str, dict[str, Option]]] = ({}, {})
    for exercise in exercises:
        for side, ways in zip(own, (exercise.easier, exercise.harder), strict=True):
            options = list(_own_options(ways, known))
            side[exercise.slug] = {option.slug or f" {at}": option for at, option in enumerate(options)}
    named = [(slug, name, way) for way in (0, 1) for slug, options in own[way].items() for name in options]
    for slug, name, way in named:
        if name in known:
            own[1 - way][name].setdefault(slug, Option(slug))
    easier, harder = ({slug: tuple(options.values()) for slug, options in side.items()} for side in own)
    return easier, harder


def _own_options(ways: Sequence[Way], known: Mapping[str, Exercise]) -> Iterator[Option]:
    """What an exercise names itself: sentences first, since they need no other exercise."""
    for way in ways:
        if way.exercise is None:
            yield Option("", way.change)
    for way in ways:
        if way.exercise is not None and way.exercise.slug in known:
            yield Option(way.exercise.slug, way.change)


def _reach(edges: Mapping[str, Sequence[str]], start: str) -> tuple[str, ...]:
    found: dict[str, None] = {}
    queue = list(edges.get(start, ()))
    while queue:
        slug = queue.pop(0)
        if slug not in found and slug != start:
            found[slug] = None
            queue.extend(edges.get(slug, ()))
    return tuple(found)


def find_cycles(edges: Mapping[str, Sequence[str]]) -> tuple[tuple[str, ...], ...]:
    """Every group of exercises that lead to one another in a ring, each ring once, its first name smallest.

    Tarjan's strongly connected components (SIAM J. Comput. 1972;1:146), written without recursion so
    that a long chain cannot exhaust the stack.
    """
    index: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    on_stack: set[str] = set()
    rings: list[tuple[str, ...]] = []
    for root in sorted(edges):
        if root not in index:
            _visit(root, edges, index, low, stack, on_stack, rings)
    return tuple(sorted(rings))


def _visit(
    root: str,
    edges: Mapping[str, Sequence[str]],
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
    node: str, edges: Mapping[str, Sequence[str]], stack: list[str], on_stack: set[str], rings: list[tuple[str, ...]]
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
