"""What must be mastered first, and what is easier or harder."""

from __future__ import annotations

from handouts.dose.progression import Option, Progression, build_progression, find_cycles
from tests.builders import a_library, a_programme, an_exercise, easier_ways, harder_ways, whole_step, words


def graph(**needs: str) -> Progression:
    """A progression from names and what comes before each, as ``b="a"``."""
    before = {name: tuple(names.split()) for name, names in needs.items()}
    opens = {name: tuple(other for other in before if name in before[other]) for name in before}
    return Progression(before, opens, {}, {})


def test_reach() -> None:
    """Near and far neighbours, nearest first."""
    line = graph(a="", b="a", c="b", d="b a")
    assert line.before("c") == ("b", "a")
    assert line.beyond("a") == ("b", "d", "c")


def test_no_ring() -> None:
    """A diamond is no ring."""
    assert find_cycles(graph(a="", b="a", c="a", d="b c").needs) == ()


def test_rings() -> None:
    """Each ring is found once, also one of a single exercise."""
    assert find_cycles(graph(a="c", b="a", c="b", d="d", e="a").needs) == (("a", "b", "c"), ("d",))


def test_long_line() -> None:
    """Ten thousand in a row do not exhaust the stack."""
    names = [f"x{number:05}" for number in range(10_000)]
    before = {name: (names[number - 1],) if number else (names[-1],) for number, name in enumerate(names)}
    assert find_cycles(before) == (tuple(names),)


def test_what_is_mastered_first_is_not_what_is_easier() -> None:
    """'after' says nothing about easier, and 'easier' nothing about what must be mastered first."""
    found = build_progression(a_library(an_exercise("a"), an_exercise("b", after=("a",)), an_exercise("c", easier=easier_ways("a"))))
    assert found.needs == {"a": (), "b": ("a",), "c": ()}
    assert found.opens == {"a": ("b",), "b": (), "c": ()}
    assert found.easier == {"a": (), "b": (), "c": (Option("a"),)}
    assert found.harder == {"a": (Option("c"),), "b": (), "c": ()}


def test_what_is_named_once_holds_in_both_directions() -> None:
    """The inverse follows; where both name one another each keeps its own sentence; sentences come first."""
    ways = {
        "a": {"easier": easier_ways(("b", "Both legs."), "Move less far."), "harder": ()},
        "b": {"easier": (), "harder": harder_ways(("a", "One leg."))},
        "c": {"easier": (), "harder": harder_ways("a")},
    }
    found = build_progression(a_library(*(an_exercise(name, **given) for name, given in ways.items())))
    assert found.easier["a"] == (Option("", words("Move less far.")), Option("b", words("Both legs.")), Option("c"))
    assert found.harder == {"a": (), "b": (Option("a", words("One leg.")),), "c": (Option("a"),)}
    assert found.easier["b"] == found.easier["c"] == ()


def test_a_whole_step_comes_first() -> None:
    """All exercises of a step of a programme, each once, beside those that are named; an unknown step gives none."""
    exercises = (an_exercise("a"), an_exercise("b"), an_exercise("c", after=("b", whole_step("build", "p"))), an_exercise("d", after=(whole_step("live", "q"),)))
    library = a_library(*exercises, programmes=(a_programme("p", [("build", ["a", "b"]), ("live", ["c", "d"])]),))
    found = build_progression(library)
    assert found.needs == {"a": (), "b": (), "c": ("b", "a"), "d": ()}
    assert found.before("c") == ("b", "a")
