"""Words that tell a reader to stop: the demo's own rules in every language, and what only looks like one."""

from __future__ import annotations

import pytest

from handouts.model import CautionKind
from handouts.words.stopping import STOP_WORDS, knows_stop_words, opens_with_stop, tells_to_stop
from tests.words.demo import LANGUAGES, libraries


@pytest.mark.parametrize("language", ["en", *LANGUAGES])
def test_stop_rules_of_the_demo(language: str) -> None:
    """Each of them opens so, and no other caution does."""
    for caution in libraries()[language].cautions:
        assert tells_to_stop(caution.do.text, language) is (caution.kind is CautionKind.STOP), (language, caution.slug)


@pytest.mark.parametrize(
    ("action", "language", "stops"),
    [
        ("Stop.", "en", True), ("STOP, then sit down.", "en-GB", True), ("**Stop** and sit.", "en", True), ("Please stop.", "en", True),
        ("Stopping is not needed.", "en", False), ("Do not stop.", "en", False), ("Carry on.", "en", False), ("Sit down. Stop.", "en", False),
        ("Deténgase.", "es-MX", True), ("Para seguir, llame.", "es", False),
        ("Arrêtez-vous.", "fr", True), ("Arretez.", "fr", True), ("N'arrêtez pas.", "fr", False),
        ("停下来。", "zh-Hans", True), ("请停止。", "zh-Hant", True), ("不要停。", "zh-Hans", False),
        ("Hãy ngừng tập.", "vi", True), ("Đừng ngừng.", "vi", False), ("Dừng lại.", "vi", True), ("Dùng giường cứng.", "vi", False),
        ("توقّف.", "ar", True), ("لا تتوقف.", "ar", False),
        ("Tumigil.", "tl", True), ("운동을 멈추세요.", "ko", True),
    ],
)  # fmt: skip
def test_first_words_decide(action: str, language: str, stops: bool) -> None:
    """Accents, marks and capitals do not count; a word inside another, or with a 'not' before it, is none."""
    assert tells_to_stop(action, language) is stops


def test_every_word_of_the_table_is_known_by_itself() -> None:
    """Each opens an action of its language; the table tells what it does not know."""
    for language, words in STOP_WORDS.items():
        assert words and all(tells_to_stop(f"{word}.", language) and opens_with_stop(word) for word in words)
    assert knows_stop_words("es-MX") and not knows_stop_words("sw")
