"""The state of every text in every language."""

from __future__ import annotations

from handouts.words.messages import collect_messages
from handouts.words.state import TextState, find_state
from tests.small_library import small_library, texts_with
from tests.words.sample import change_one, reviewed, translated, untranslated

FOOT = "exercises/foot-lift.md"


def test_counts() -> None:
    """A fresh catalogue is missing everything; a whole one nothing."""
    library = small_library()
    messages = collect_messages(library)
    fresh = find_state(messages, untranslated(library))
    assert {text.state for text in fresh.by_key.values()} == {TextState.MISSING}
    whole = find_state(messages, translated(library))
    assert {text.state for text in whole.by_key.values()} == {TextState.USABLE}
    assert all(owner.usable and not owner.reviewed for owner in whole.owners.values())


def test_one_word_makes_exactly_its_translations_stale() -> None:
    """One source word changed, nothing collected yet: that text is stale in every language, and no other."""
    messages = collect_messages(small_library(texts_with(FOOT, ("You use this each", "You need this each"))))
    for language in ("es", "ar", "zh-Hans"):
        state = find_state(messages, translated(small_library(), language))
        changed = [text.message.context for text in state.by_key.values() if text.state is not TextState.USABLE]
        assert changed == ["exercise/A222/why"]
        assert state.owners["exercise/A222"].having(TextState.STALE)
        assert not state.owners["exercise/B222"].having(TextState.STALE)


def test_shared_texts_are_one_message() -> None:
    """A heading that stands in two exercises is translated once, and its state counts for both."""
    catalogue = change_one(translated(small_library()), "shared/heading", "")
    state = find_state(collect_messages(small_library()), catalogue)
    assert [owner for owner, item in state.owners.items() if not item.usable] == ["exercise/A222", "exercise/B222"]


def test_faults_are_said_once() -> None:
    """A fault has its place in the catalogue."""
    catalogue = change_one(translated(small_library()), "exercise/A222/ready-when", "Puede hacer 3 series de 15.")
    state = find_state(collect_messages(small_library()), catalogue)
    assert [(problem.rule, problem.what) for problem in state.problems] == [
        ("translation-number", "the translation lacks 2 and has 3 in addition")
    ]


def test_review_is_of_one_version() -> None:
    """Changing one text of an owner reopens its review, and only its."""
    library = small_library()
    catalogue = translated(library)
    reviews = reviewed(library, catalogue)
    state = find_state(collect_messages(library), change_one(catalogue, "exercise/A222/cue", "Otra cosa."), reviews)
    assert [owner for owner, item in state.owners.items() if item.reopened] == ["exercise/A222"]
    assert [owner for owner, item in state.owners.items() if not item.reviewed] == ["exercise/A222"]
