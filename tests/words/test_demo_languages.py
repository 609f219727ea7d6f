"""The demo's own catalogues: whole where they should be, and in step with the source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handouts.model import Library
from handouts.words.messages import Message, collect_messages
from handouts.words.state import TextState, find_state
from tests.words.demo import LANGUAGES, demo, libraries

SLUG = "step-up"
"""An exercise of the programme that every language has."""


def flipped(library: Library) -> Library:
    """The demo with one word changed in one text of one exercise."""
    exercise = library.exercise[SLUG]
    first, _, rest = exercise.why.text.partition(" ")
    changed = replace(exercise, why=replace(exercise.why, text=f"{first} surely {rest}"))
    return replace(library, exercises=tuple(changed if each.slug == SLUG else each for each in library.exercises))


def states_of(messages: tuple[Message, ...], language: str) -> dict[str, TextState]:
    """The state of every text, by its context and source."""
    _, words = demo()
    state = find_state(messages, words.catalogues[language], words.reviews.get(language), words.glossary)
    return {f"{context}|{text}": report.state for (context, text), report in state.by_key.items()}


@pytest.mark.parametrize("language", LANGUAGES)
def test_one_word_of_the_source_makes_exactly_its_translation_stale(language: str) -> None:
    """Every other text is what it was; the changed one was usable and is stale."""
    library, _ = demo()
    before = states_of(collect_messages(library), language)
    after = states_of(collect_messages(flipped(library)), language)
    (gone,), (come,) = before.keys() - after.keys(), after.keys() - before.keys()
    assert gone.startswith(f"exercise/{library.exercise[SLUG].code}/why|")
    assert (before[gone], after[come]) == (TextState.USABLE, TextState.STALE)
    assert {key: state for key, state in before.items() if key != gone} == {key: state for key, state in after.items() if key != come}


def held(library: Library) -> dict[str, tuple[str, ...]]:
    """Every programme and bundle with its exercises."""
    programmes = {each.slug: each.exercise_slugs for each in library.programmes}
    return programmes | {each.slug: tuple(pick.exercise.slug for pick in each.picks) for each in library.bundles}


@pytest.mark.parametrize("language", ["es", "ar"])
def test_spanish_and_arabic_are_complete(language: str) -> None:
    """Every exercise, programme and bundle of the demo."""
    made, source = libraries()[language], libraries()["en"]
    assert made.exercise.keys() == source.exercise.keys()
    assert held(made) == held(source)


@pytest.mark.parametrize("language", ["fr", "vi", "zh-Hans"])
def test_one_programme_is_complete(language: str) -> None:
    """Steady on stairs, with every exercise of it."""
    name = "steady-on-stairs"
    assert held(libraries()[language])[name] == held(libraries()["en"])[name]


def test_nothing_is_reviewed() -> None:
    """No qualified person has read the demo's translations, and the catalogues do not say otherwise."""
    _, words = demo()
    assert not any(words.reviews.values())
