"""The ladder's geometry."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.dose.progression import build_progression
from handouts.site.ladder import Ladder, lay_out_ladder
from tests.builders import a_library, a_programme, an_exercise


def ladder(tiers: list[list[str]], after: dict[str, tuple[str, ...]]) -> Ladder:
    """The ladder of exercises named by tier, with what each builds on."""
    names = [name for tier in tiers for name in tier]
    progression = build_progression(a_library(*(an_exercise(name, after=after.get(name, ())) for name in names)))
    return lay_out_ladder(a_programme("p", [(f"t{at}", tier) for at, tier in enumerate(tiers)]), progression)


def rows_of(found: Ladder) -> list[list[str]]:
    """Slugs by row; a line that passes is an empty text."""
    return [[slot.slug for slot in row.slots] for tier in found.tiers for row in tier]


def test_one_row_for_each_step_inside_a_tier() -> None:
    """What builds on something of its own tier stands a row lower."""
    found = ladder([["a"], ["b", "c"]], {"b": ("a",), "c": ("b",)})
    assert [len(tier) for tier in found.tiers] == [1, 2]
    assert rows_of(found) == [["a"], ["b"], ["c"]]
    assert found.builds_on == {"a": (), "b": ("a",), "c": ("b",)}


def test_lines_run_from_middle_to_middle() -> None:
    """Two exercises share the width; a line begins under the one and ends above the other."""
    found = ladder([["a", "b"], ["c"]], {"c": ("b",)})
    (line,) = found.tiers[1][0].lines
    assert (line.begins, line.ends) == (0.75, 0.5)


def test_a_long_line_gets_a_narrow_slot_in_the_rows_it_passes() -> None:
    """A line over two tiers passes the row between, a quarter as wide as an exercise."""
    found = ladder([["a"], ["b"], ["c"]], {"b": ("a",), "c": ("a", "b")})
    assert rows_of(found) == [["a"], ["b", ""], ["c"]]
    assert [slot.middle for slot in found.tiers[1][0].slots] == [0.4, 0.9]
    assert len(found.tiers[2][0].lines) == 2


def test_the_author_s_order_stays_where_lines_cross() -> None:
    """Lines may cross; the exercises stay where the author put them."""
    found = ladder([["a", "b"], ["c", "d"]], {"c": ("b",), "d": ("a",)})
    assert rows_of(found) == [["a", "b"], ["c", "d"]]
    assert [(line.begins, line.ends) for line in found.tiers[1][0].lines] == [(0.75, 0.25), (0.25, 0.75)]


def test_what_builds_on_a_later_one_stays_before_it() -> None:
    """The author's order stays also where it is against the order of mastering; then no line is drawn."""
    found = ladder([["b", "a", "c"]], {"b": ("a",), "c": ("a",)})
    assert rows_of(found) == [["b", "a"], ["c"]]
    assert found.builds_on["b"] == ("a",)


def test_a_line_passes_where_it_crosses_least() -> None:
    """The narrow slot of a line that passes a row stands where fewest lines cross."""
    found = ladder([["a", "b"], ["c"], ["d"]], {"c": ("b",), "d": ("a", "c")})
    assert rows_of(found) == [["a", "b"], ["", "c"], ["d"]]


def test_neighbours_outside_the_programme_are_left_out() -> None:
    """What an exercise builds on elsewhere draws no line."""
    found = ladder([["a"], ["b"]], {"b": ("somewhere-else",)})
    assert found.tiers[1][0].lines == ()


@st.composite
def graphs(draw: st.DrawFn) -> tuple[list[list[str]], dict[str, tuple[str, ...]]]:
    """Up to four tiers of up to five exercises, each building on any earlier ones."""
    sizes = draw(st.lists(st.integers(1, 5), min_size=1, max_size=4))
    tiers = [[f"e{tier}-{at}" for at in range(size)] for tier, size in enumerate(sizes)]
    names = [name for tier in tiers for name in tier]
    after = {name: tuple(draw(st.lists(st.sampled_from(names[:at]), unique=True, max_size=3))) for at, name in enumerate(names) if at}
    return tiers, after


@settings(max_examples=150, deadline=None)
@given(graphs())
def test_every_exercise_once_and_every_line_joined(graph: tuple[list[list[str]], dict[str, tuple[str, ...]]]) -> None:
    """Each exercise has one place in a row of its tier, each edge a chain of lines from row to row, and nothing else."""
    tiers, after = graph
    found = ladder(tiers, after)
    assert [[slot.slug for row in rows for slot in row.slots if slot.slug] for rows in found.tiers] == tiers  # in the author's order
    rows = [row for tier in found.tiers for row in tier]
    above: dict[str, set[str]] = {}
    carried: dict[float, set[str]] = {}
    for row in rows:
        now: dict[float, set[str]] = {}
        for slot in row.slots:
            comes = [carried[line.begins] for line in row.lines if line.ends == slot.middle]
            reached = set().union(*comes) if comes else set()
            if slot.slug:
                above[slot.slug] = reached
            now[slot.middle] = {slot.slug} if slot.slug else reached
        carried = now
    assert above == {name: set(after.get(name, ())) for tier in tiers for name in tier}
    assert found == ladder(tiers, after)
