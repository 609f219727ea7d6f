"""The next visit, as the clinician's page tells it: moves along the progression, and every kind of difference in words."""

from __future__ import annotations

from dataclasses import replace

from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.page_data import BookInputs, make_book
from handouts.bundle.values import PickedBundle
from handouts.dose.progression import build_progression
from handouts.words.wording import Wording
from tests.bundle.room import LIBRARY
from tests.bundle.sample import bundle_json, bundle_of, pick_of
from tests.scripts.node import ask_script

CATALOGUE = make_catalogue(LIBRARY)
BOOK = make_book(LIBRARY, CATALOGUE, build_progression(LIBRARY), Wording("en"), BookInputs({}, {}, {}))


def given(*slugs: str, **values: int) -> PickedBundle:
    """A bundle with some changes on its first exercise."""
    first, *rest = slugs
    return bundle_of(pick_of(first, **values), *map(pick_of, rest), location="main", weeks=2)


def differs(before: PickedBundle, after: PickedBundle) -> tuple[str, ...]:
    """The difference in English."""
    said: list[str] = ask_script("difference", {"book": BOOK, "before": bundle_json(before, CATALOGUE), "after": bundle_json(after, CATALOGUE)})
    return tuple(said)


def test_moves() -> None:
    """The easier and the harder ones, without what is picked already."""
    code = {slug: exercise.code for slug, exercise in LIBRARY.exercise.items()}

    def moves(slug: str, *picked: str) -> list[list[str]]:
        found = ask_script("moves", {"book": BOOK, "code": code[slug], "picked": [code[each] for each in picked]})
        return [[name for name, _ in found[way]] for way in ("back", "on")]

    assert moves("sit") == [[], [code["lift"], code["stand"]]]
    assert moves("stand") == [[code["sit"]], [code["walk"]]]
    assert moves("stand", "sit") == [[], [code["walk"]]]


def test_moved_on_and_back() -> None:
    """A neighbour in place of an exercise is a move, in either direction."""
    assert differs(given("sit"), given("stand")) == ("Sit tall moved on to Stand up: 3 sets of 10, each side, 3 days a week.",)
    assert differs(given("stand"), given("sit")) == ("Stand up moved back to Sit tall: 3 sets of 10, 3 days a week.",)


def test_taken_out_and_added() -> None:
    """Exercises that are no neighbours are removed and added."""
    assert differs(given("lift"), given("walk")) == ("Lift removed.", "Walk added: 20 minutes, every day, 2 times a day.")


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
