"""When a text is choppy: at which mean length, beside which reading level, from how many sentences."""

from __future__ import annotations

import pytest

from tests.small_library import messages, texts_with

FOOT = "exercises/foot-lift.md"


def choppy(steps: list[str], *edits: tuple[str, str]) -> list[str]:
    """What is found where these steps stand in place of the second one."""
    listed = "".join(f"{number}. {step}\n" for number, step in enumerate(steps, 2))
    found = messages(texts_with(FOOT, ("2. Lift your foot.\n", listed), *edits))
    return [message for message in found if "[choppy-text]" in message]


SHORT = ["Lift your foot.", "Hold it up there.", "Look ahead of you.", "Put it down."]
JOINED = [
    "Lift your foot until the leg is straight in front of you.",
    "Hold it up there for 2 seconds, so that your thigh works.",
    "Look ahead of you, because that will help you to sit tall.",
    "Put it down as slowly as you can, and do it again.",
]


def test_short_and_joined_sentences() -> None:
    """The same steps, as short sentences and joined ones."""
    assert len(choppy(SHORT)) == 1
    assert choppy(JOINED) == []


def test_few_sentences_are_no_rhythm() -> None:
    """Nine sentences are not asked, ten are."""
    assert choppy(SHORT[:2]) == []
    assert len(choppy(SHORT[:3])) == 1


LONG_WORDS = ["Straighten your sore leg fully.", "Hold it steady.", "Look directly ahead.", "Lower it gradually."]


@pytest.mark.parametrize(("level", "count"), [(2, 0), (3, 1)])
def test_a_text_near_its_level_may_be_short(level: int, count: int) -> None:
    """These steps read at grade 0.4 by Flesch-Kincaid: near 2, far below 3."""
    assert len(choppy(LONG_WORDS, ("regions: [knee]", f"regions: [knee]\nreading level: {level}"))) == count


def test_seven_words_are_enough() -> None:
    """With 7 words a sentence nothing is found, with one word less there is."""
    steps = ["Hold the foot up in the air until you have said it."] * 3
    assert choppy(steps) == []
    assert len(choppy([*steps[:2], "Hold the foot up in the air until you said it."])) == 1
