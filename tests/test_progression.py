"""The graph of easier and harder."""

from __future__ import annotations

from handouts.progression import Progression, find_cycles


def graph(**easier: str) -> Progression:
    """A progression from names and what comes before each, as ``b="a"``."""
    before = {name: tuple(names.split()) for name, names in easier.items()}
    harder = {name: tuple(other for other in before if name in before[other]) for name in before}
    return Progression(before, harder)


def test_reach() -> None:
    """Near and far neighbours, nearest first."""
    line = graph(a="", b="a", c="b", d="b a")
    assert line.before("c") == ("b", "a")
    assert line.beyond("a") == ("b", "d", "c")


def test_no_ring() -> None:
    """A diamond is no ring."""
    assert find_cycles(graph(a="", b="a", c="a", d="b c")) == ()


def test_rings() -> None:
    """Each ring is found once, also one of a single exercise."""
    assert find_cycles(graph(a="c", b="a", c="b", d="d", e="a")) == (("a", "b", "c"), ("d",))


def test_long_line() -> None:
    """Ten thousand in a row do not exhaust the stack."""
    names = [f"x{number:05}" for number in range(10_000)]
    before = {name: (names[number - 1],) if number else (names[-1],) for number, name in enumerate(names)}
    assert find_cycles(Progression(before, {})) == (tuple(names),)
