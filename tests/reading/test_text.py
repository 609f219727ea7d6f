"""Sentences and words of cues, list items and paragraphs."""

from __future__ import annotations

import pytest

from handouts.readability import count, plain, sentences_of, words_of
from tests.reading.samples import CUES


def test_a_sentence_of_two_words_is_a_sentence() -> None:
    """Five cues in one text are five sentences (textstat 0.7.13 finds three)."""
    assert sentences_of("en", " ".join(CUES)) == CUES


def test_cues_without_a_full_stop_are_sentences() -> None:
    """Each text is at least one sentence, so the level does not hang on a full stop (textstat finds one sentence)."""
    bare = [cue.rstrip(".") for cue in CUES]
    assert count("en", bare) == count("en", CUES)
    counts = count("en", bare)
    assert counts is not None
    assert counts.sentences == 5


def test_list_items_in_one_text() -> None:
    """Bullets and numbers start a sentence and are not words; a plain line break is a space; a heading is left out."""
    text = "## Before you start\n\n- Put on your\n  shoes\n- Hold the rail\n\n1. Stand tall\n12) Sit down"
    assert sentences_of("en", text) == ("Put on your shoes", "Hold the rail", "Stand tall", "Sit down")


@pytest.mark.parametrize(
    ("language", "text", "expected"),
    [
        ("en", "Use a weight, e.g. a bag. Rest.", ("Use a weight, e.g. a bag.", "Rest.")),
        ("en", "Hold 2.5 kg. Then rest.", ("Hold 2.5 kg.", "Then rest.")),
        ("en", "Hold for 30 s. Then rest.", ("Hold for 30 s.", "Then rest.")),
        ("en", "Hold for 30 sec. or less.", ("Hold for 30 sec. or less.",)),
        ("en", "See fig. 3 first. Go.", ("See fig. 3 first.", "Go.")),
        ("en", "Say no. Then stop.", ("Say no.", "Then stop.")),
        ("en", "Lift leg A. Then leg B.", ("Lift leg A.", "Then leg B.")),
        ("en", "Ask Dr. Smith. Wait.", ("Ask Dr. Smith.", "Wait.")),
        ("en", "Rest at 5 p.m. Then walk.", ("Rest at 5 p.m.", "Then walk.")),
        ("en", "Does it hurt? Stop! Call us.", ("Does it hurt?", "Stop!", "Call us.")),
        ("en", "Say “Stop!” and sit. (Breathe out.) Rest.", ("Say “Stop!” and sit.", "(Breathe out.)", "Rest.")),
        ("en", "Up... and down. Wait... Then go.", ("Up... and down.", "Wait...", "Then go.")),
        ("en", "sit tall. breathe out.", ("sit tall.", "breathe out.")),
        ("en", "Visit www.quillmoor.example today.", ("Visit www.quillmoor.example today.",)),
        ("de", "Am 3. Tag mehr. Bis 10. Dann Pause.", ("Am 3. Tag mehr.", "Bis 10.", "Dann Pause.")),
        ("de", "Ein Gewicht, z. B. Wasser. Pause.", ("Ein Gewicht, z. B. Wasser.", "Pause.")),
        ("es", "Use un peso, p. ej. una bolsa. ¿Duele? Pare.", ("Use un peso, p. ej. una bolsa.", "¿Duele?", "Pare.")),
        ("ru", "Держите 5 с. Отдохните, т. е. сядьте.", ("Держите 5 с.", "Отдохните, т. е. сядьте.")),
        ("ar", "هل تشعر بألم؟ توقف. استرح.", ("هل تشعر بألم؟", "توقف.", "استرح.")),
    ],
)
def test_sentence_ends(language: str, text: str, expected: tuple[str, ...]) -> None:
    """Abbreviations, decimals, ordinals, units, quotations and dots, each in its language."""
    assert sentences_of(language, text) == expected


@pytest.mark.parametrize(
    ("sentence", "expected"),
    [
        ("Don't lift the straight-leg.", ("Don't", "lift", "the", "straight-leg")),
        ("Do 10-12 or 10–12, 2.5 kg, 1,000 steps at 5:30.",
         ("Do", "10-12", "or", "10–12", "2.5", "kg", "1,000", "steps", "at", "5:30")),
        ("Heel-to-toe, T-shirt’s 90° up/down — now", ("Heel-to-toe", "T-shirt’s", "90", "up", "down", "now")),
        ("Go to https://a.example/b?c=1 e.g. now", ("Go", "to", "https://a.example/b?c=1", "e.g", "now")),
        ("L’épaule d'abord", ("L’épaule", "d'abord")),
        ("قِفْ مُسْتَقِيمًا", ("قِفْ", "مُسْتَقِيمًا")),
        ("… — !", ()),
    ],
)  # fmt: skip
def test_words(sentence: str, expected: tuple[str, ...]) -> None:
    """Contraction, hyphenated word, figure and address are one word (Flesch 1948); signs are none."""
    assert words_of(sentence) == expected


def test_inline_markdown_goes() -> None:
    """Emphasis marks and link targets are not read."""
    text = r"**Stop** the *move* and [call us](https://quillmoor.example/a_b) about 5 \* 2"
    assert plain(text) == "Stop the move and call us about 5 * 2"


def test_decomposed_accents_make_no_words() -> None:
    """An accent typed as its own character does not split a word."""
    assert words_of(plain("dobládas año")) == ("dobládas", "año")


def test_counts_of_texts_add_up() -> None:
    """Counting texts together is counting them one by one."""
    one, two, both = count("en", CUES[:2]), count("en", CUES[2:]), count("en", CUES)
    assert one is not None
    assert two is not None
    assert one + two == both


def test_colon_inside_a_sentence() -> None:
    """A colon ends a unit for LIX only; at the very end it is no extra one."""
    counts = count("sv", ["Gör så här: lyft benet. Tänk på:"])
    assert counts is not None
    assert (counts.sentences, counts.colons) == (2, 1)
