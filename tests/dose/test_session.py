"""Order and totals of a session."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.dose.progression import Progression, build_progression
from handouts.dose.session import add_up_session, count_changes
from handouts.model import Exercise
from tests.bundle.page_only import order_session
from tests.small_library import EXERCISE, TEXTS, small_library


def progression_of(found: tuple[Exercise, ...]) -> Progression:
    """What builds on what among exercises alone."""
    return build_progression(replace(small_library(), exercises=found, programmes=()))


def exercises(*rows: tuple[str, str, str]) -> tuple[Exercise, ...]:
    """Exercises of (slug, position, slugs that come before it)."""
    texts = {path: text for path, text in TEXTS.items() if "/" not in path}
    for number, (slug, position, after) in enumerate(rows):
        text = EXERCISE.format(code=f"A{number // 8 + 2}{number % 8 + 2}A", title=slug, tier="wake", after=f"after: [{after}]\n" if after else "")
        texts[f"exercises/{slug}.md"] = text.replace("position: sitting", f"position: {position}")
    found = small_library(texts).exercise
    return tuple(found[slug] for slug, _, _ in rows)


def ordered(*rows: tuple[str, str, str]) -> list[str]:
    """The slugs in the order of the session."""
    found = exercises(*rows)
    return [item.slug for item in order_session(found, progression_of(found))]


def test_least_changes() -> None:
    """Exercises of one position come together; the order given decides the rest."""
    assert ordered(("a", "sitting", ""), ("b", "standing", ""), ("c", "sitting", "")) == ["a", "c", "b"]


def test_graph_comes_before_position() -> None:
    """What comes before is kept before, although it costs a change."""
    assert ordered(("a", "sitting", "b"), ("b", "standing", "c"), ("c", "sitting", "")) == ["c", "b", "a"]


def test_ring_keeps_the_given_order() -> None:
    """A ring has no order; the given one stays."""
    assert ordered(("a", "sitting", "b"), ("b", "standing", "a")) == ["a", "b"]


def test_more_than_exact() -> None:
    """Above twelve exercises the order still groups positions and loses none."""
    rows = [(f"x{number}", "sitting" if number % 2 else "standing", "") for number in range(14)]
    assert count_changes([{slug: position for slug, position, _ in rows}[slug] for slug in ordered(*rows)]) == 1


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(["sitting", "standing", "lying"]), st.integers(0, 5)), min_size=1, max_size=6))
def test_no_order_is_better(rows: list[tuple[str, int]]) -> None:
    """Held against trying all orders: none that respects the graph changes position less."""
    named = [
        (f"x{number}", "sitting" if position == "lying" else position, f"x{after}" if after < number else "")
        for number, (position, after) in enumerate(rows)
    ]
    found = exercises(*named)
    progression = progression_of(found)

    def respects(order: tuple[Exercise, ...]) -> bool:
        slugs = [item.slug for item in order]
        return all(slugs.index(before) < slugs.index(slug) for slug in slugs for before in progression.before(slug))

    least = min(count_changes([item.position.slug for item in order]) for order in permutations(found) if respects(order))
    chosen = order_session(found, progression)
    assert respects(chosen)
    assert count_changes([item.position.slug for item in chosen]) == least


def test_session_totals() -> None:
    """Work, rests within and between, changes of position, week and equipment, by hand."""
    found = exercises(("a", "sitting", ""), ("b", "standing", ""))
    totals = add_up_session([(item, item.dose) for item in found], small_library().clinic.session)
    # one exercise: 2 x 10 x (2+1+2) + 60 = 160 s; two of them, one change of 30 s, one rest of 30 s between
    assert (totals.seconds, totals.changes, totals.equipment, totals.unknown) == (380, 1, ("chair",), ())
    assert totals.seconds_a_week == 3 * 380


def test_pauses_count_as_often_as_there_are_sessions() -> None:
    """By hand: the policy has 30 s between exercises and 30 s for a change of position.

    Sitting 3 days, twice a day; standing 5 days, once a day.  On 3 days one session has both (60 s of pauses);
    the second session of those days and the sessions of the 2 other days have one exercise each, and no pause.
    """
    sitting, standing = exercises(("a", "sitting", ""), ("b", "standing", ""))
    policy = small_library().clinic.session
    often, seldom = replace(sitting.dose, days=3, times=2), replace(standing.dose, days=5, times=1)
    # the small library's dose takes 160 s: 2 x 10 x (2+1+2) + 60
    assert add_up_session([(sitting, often), (standing, seldom)], policy).seconds_a_week == 160 * (6 + 5) + 3 * 60
    twice = replace(standing.dose, days=3, times=2)
    assert add_up_session([(sitting, often), (standing, twice)], policy).seconds_a_week == 6 * (160 + 160 + 60)


def test_without_days_nothing_is_added_to_the_week() -> None:
    """How often an exercise without days is done is unknown: neither its time nor a pause before it counts by the week."""
    sitting, standing = exercises(("a", "sitting", ""), ("b", "standing", ""))
    policy, unknown = small_library().clinic.session, replace(sitting.dose, days=None)
    alone = add_up_session([(sitting, unknown)], policy)
    assert (alone.seconds_a_week, alone.seconds > 0) == (0, True)
    known = replace(standing.dose, days=3)
    assert add_up_session([(sitting, unknown), (standing, known)], policy).seconds_a_week == add_up_session([(standing, known)], policy).seconds_a_week
    assert add_up_session([], policy).seconds_a_week == 0
