"""The next visit: moves along the progression, and every kind of difference in words."""

from __future__ import annotations

from dataclasses import replace

from handouts.bundle.next_visit import Moves, move_pick, moves_of, say_difference
from handouts.bundle.values import PickedBundle
from handouts.progression import Option, build_progression
from handouts.words.speech import Speech
from tests.bundle.room import LIBRARY
from tests.bundle.sample import bundle_of, pick_of

EN = Speech("en")
PROGRESSION = build_progression(LIBRARY)


def given(*slugs: str, **values: int) -> PickedBundle:
    """A bundle with some changes on its first exercise."""
    first, *rest = slugs
    return bundle_of(pick_of(first, **values), *map(pick_of, rest), location="main", weeks=2)


def differs(before: PickedBundle, after: PickedBundle) -> tuple[str, ...]:
    """The difference in English."""
    return say_difference(before, after, LIBRARY, EN)


def test_moves() -> None:
    """The easier and the harder ones, without what is picked already."""
    assert moves_of("sit", PROGRESSION) == Moves((), (Option("lift"), Option("stand")))
    assert moves_of("stand", PROGRESSION) == Moves((Option("sit"),), (Option("walk"),))
    assert moves_of("stand", PROGRESSION, ["sit"]) == Moves((), (Option("walk"),))


def test_moving_keeps_the_place_and_takes_the_librarys_dose() -> None:
    """The harder exercise stands where the easier one stood, without its changed dose."""
    moved = move_pick(given("sit", "walk", sets=2), "sit", "stand")
    assert [(pick.exercise.slug, pick.change) for pick in moved.picks] == [("stand", None), ("walk", None)]


def test_moved_on_and_back() -> None:
    """A neighbour in place of an exercise is a move, in either direction."""
    assert differs(given("sit"), given("stand")) == ("Sit tall moved on to Stand up: 3 sets of 10, each side, 3 days a week.",)
    assert differs(given("stand"), given("sit")) == ("Stand up moved back to Sit tall: 3 sets of 10, 3 days a week.",)


def test_taken_out_and_added() -> None:
    """Exercises that are no neighbours are taken out and added."""
    assert differs(given("lift"), given("walk")) == ("Lift taken out.", "Walk added: 20 minutes, every day, 2 times a day.")


def test_changed_dose_says_only_what_differs() -> None:
    """Only the part of the dose that differs is said, before and after."""
    assert differs(given("sit"), given("sit", sets=2, reps=12)) == ("Sit tall: was 3 sets of 10, now 2 sets of 12.",)
    assert differs(given("stand"), given("stand", rest_seconds=45)) == ("Stand up: was rest 1 minute between sets, now rest 45 seconds between sets.",)
    assert differs(given("sit"), given("sit", sets=1)) == ("Sit tall: was 3 sets of 10, rest 1 minute between sets, now 10 times.",)


def test_order_weeks_language_and_location() -> None:
    """The frame of a bundle differs in words too."""
    before = given("sit", "lift")
    after = replace(given("lift", "sit"), weeks=4, language="en", location="hill")
    assert differs(before, after) == ("The order changed.", "Was for 2 weeks, now for 4 weeks.", "Language was Spanish, now English.", "Location was Main Street, now Hill Road.")


def test_nothing_changed() -> None:
    """Two equal bundles, and one whose change equals the library's dose, differ in nothing."""
    assert differs(given("sit"), given("sit")) == ("Nothing changed.",)
    assert differs(given("sit"), given("sit", sets=3)) == ("Nothing changed.",)
