"""The state of every text in every language."""

from __future__ import annotations

from dataclasses import replace

import pytest

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


@pytest.mark.parametrize(("path", "old", "new", "context", "wrong"), [
    ("clinic.yaml", "defer:", 'flare plan: [{when: It hurts more., do: Go on with less.}, {when: It hurts much more., do: Stop. Call us today.}]\ndefer:', "clinic/flare-do", "Siga. Llámenos hoy."),
    ("clinic.yaml", "text: Call 911 if", "text: Stop and call 911 if", "clinic/emergency", "Siga y llame al 911 si le duele el pecho."),
    ("clinic.yaml", "rule: Pain up", "rule: Stop at 5. Pain up", "clinic/pain-rule", "Siga con 5. Hasta 3 de 10 está bien."),
    ("cautions.yaml", "when: You have sharp pain.", "when: Stop as soon as you have sharp pain.", "caution/stop-pain/when", "Siga aunque le duela."),
    ("cautions.yaml", "do: Stop and call us.", "do: Stop now and call us.", "caution/stop-pain/do", "Siga y llámenos."),
])
def test_every_safety_text_that_begins_with_stop(path: str, old: str, new: str, context: str, wrong: str) -> None:
    """Whatever record the text stands in, a translation that says 'go on' is refused."""
    library = small_library(texts_with(path, (old, new)))
    (key,) = {each.key for each in collect_messages(library) if each.context == context and "top" in each.text}
    whole = translated(library)
    catalogue = replace(whole, entries=tuple(replace(each, forms=(wrong,)) if each.key == key else each for each in whole.entries))
    faults = find_state(collect_messages(library), catalogue).by_key[key].faults
    assert "translation-stop" in [fault.rule for fault in faults]
    assert find_state(collect_messages(library), whole).by_key[key].faults == ()


def test_a_step_may_say_stop_in_other_words() -> None:
    """A step that begins with 'Stop' is no safety text: 'Haga una pausa' is fine."""
    library = small_library(texts_with(FOOT, ("Lift your foot.", "Stop half way.")))
    catalogue = change_one(translated(library), "exercise/A222/step", "Haga una pausa.")
    assert find_state(collect_messages(library), catalogue).problems == ()
