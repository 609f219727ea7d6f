"""The words folder: catalogues, reviews and glossary, each fault at its place."""

from __future__ import annotations

from datetime import date

import pytest

from handouts.problems import show_problem
from handouts.words.folder import read_words
from handouts.words.glossary import read_glossary
from handouts.words.reviews import TranslationReview, add_review, fingerprint, read_reviews, write_reviews
from tests.small_library import small_library, texts_with

LANGUAGES = small_library(texts_with("clinic.yaml", ("languages: {source: en}", "languages: {source: en, also: [es]}"))).clinic.languages


def said(files: dict[str, str]) -> list[str]:
    """Every problem of a folder, as it is printed."""
    return [show_problem(problem) for problem in read_words({path: text.encode() for path, text in files.items()}, LANGUAGES)[1]]


def test_language_without_a_catalogue() -> None:
    """It gets an empty one, so that its gaps are named."""
    folder, problems = read_words({}, LANGUAGES)
    assert problems == []
    assert folder.catalogues["es"].entries == ()


def test_language_that_is_none() -> None:
    """A tag that no language has is named where it stands, and gets no catalogue."""
    clinic = small_library(texts_with("clinic.yaml", ("languages: {source: en}", "languages: {source: en, also: [es, xx]}"))).clinic
    folder, problems = read_words({}, clinic.languages)
    assert [show_problem(problem) for problem in problems] == [
        "content/clinic.yaml:8:31: error: 'xx' is not a language. Write a tag such as 'es' or 'zh-Hans'. [unknown-language]"
    ]
    assert set(folder.catalogues) == {"es"}


@pytest.mark.parametrize(
    ("files", "message"),
    [
        ({"words/es.mo": ""}, "content/words/es.mo:1:1: error: 'words/es.mo' is not a file of translations. Did you mean 'es.po'? [unknown-file]"),
        ({"words/fr.po": 'msgid ""\nmsgstr ""\n"Language: fr\\n"\n'},
         "content/words/fr.po:1:1: notice: there is a catalogue for 'fr', but clinic.yaml does not name this language. Add 'fr' to 'languages: also:' once it is ready. [language-not-named]"),
        ({"words/glossary.yaml": "words: []\n"}, "content/words/glossary.yaml:1:1: error: unknown key 'words' in the glossary. Use 'keep' or 'terms'. [unknown-key]"),
        ({"words/glossary.yaml": "terms: {term: band, es: banda}\n"},
         "content/words/glossary.yaml:1:8: error: a list of terms is wanted here. Write each on a line of its own: - {term: ankle, es: tobillo}. [wrong-value]"),
        ({"words/glossary.yaml": "terms: [band]\n"}, "content/words/glossary.yaml:1:9: error: a term is wanted here. Write {term: ankle, es: tobillo}. [wrong-value]"),
        ({"words/glossary.yaml": "keep: [kg, {a: b}]\n"}, "content/words/glossary.yaml:1:12: error: a word or a list of words is wanted here. Write words. [wrong-value]"),
        ({"words/glossary.yaml": "terms:\n  - {term: band, xx: banda}\n"},
         "content/words/glossary.yaml:2:18: error: 'xx' is not a language. Write a tag such as 'es'. [unknown-language]"),
        ({"words/es.reviews.yaml": "reviews:\n  - {by: translator, on: 2026-13-01, versions: {clinic: 0123456789ab}}\n"},
         "content/words/es.reviews.yaml:2:26: error: '2026-13-01' is not a date. Write year, month and day as 2026-09-14. [wrong-value]"),
        ({"words/es.reviews.yaml": "reviews:\n  - {by: translator, on: 2026-10-01, versions: {clinic: abc}}\n"},
         "content/words/es.reviews.yaml:2:49: error: 'clinic' has no fingerprint of 12 digits. Delete the line, and record the review again. [wrong-value]"),
    ],
)
def test_broken_files(files: dict[str, str], message: str) -> None:
    """The whole message for each broken file."""
    assert said(files) == [message]


def test_reviews_round_trip() -> None:
    """Records are written by reading and read back; a newer one replaces an older one."""
    first = add_review({}, {"clinic": "0" * 12, "exercise/A222": "a" * 12}, 'translator, "sworn"', date(2026, 9, 1))
    both = add_review(first, {"clinic": "1" * 12}, "bilingual physiotherapist", date(2026, 10, 1))
    back, problems = read_reviews(write_reviews(both), "x.yaml")
    assert problems == []
    assert back == both
    assert back["clinic"] == TranslationReview("bilingual physiotherapist", date(2026, 10, 1), "1" * 12)
    assert read_reviews(write_reviews({}), "x.yaml") == ({}, [])


def test_the_newest_review_counts() -> None:
    """Wherever in the file an older one stands."""
    records = [f"  - {{by: translator, on: 2026-{month}-01, versions: {{clinic: {mark * 12}}}}}\n" for month, mark in (("09", "a"), ("10", "b"), ("08", "c"))]
    for order in (records, records[::-1]):
        reviews, problems = read_reviews(("reviews:\n" + "".join(order)).encode(), "x.yaml")
        assert problems == []
        assert reviews["clinic"] == TranslationReview("translator", date(2026, 10, 1), "b" * 12)


def test_fingerprint() -> None:
    """Order does not count; any letter of source or translation does, and so does where a text ends."""
    texts = [("a/cue", "Sit.", "Siéntese."), ("a/step", "Lift.", "Levante.")]
    assert fingerprint(texts) == fingerprint(reversed(texts))
    assert len({fingerprint(texts), fingerprint(texts[:1]), fingerprint([("a/cue", "Sit", ".Siéntese.")]), fingerprint([("a/cue", "Sit.", "Siéntese!")])}) == 4


def test_glossary_forms() -> None:
    """A term counts alone and in the plural, and any of its forms will do."""
    glossary, problems = read_glossary(b"keep: [kg]\nterms:\n  - {term: heel, es: [tal\xc3\xb3n, talones], ar: \xd8\xb9\xd9\x82\xd8\xa8}\n", "x.yaml")
    assert problems == []
    assert glossary.breaches("Lift your heels.", "Levante los Talones.", "es") == ()
    assert glossary.breaches("Lift your heels.", "Levante los pies.", "es") == (("heel", "talón"),)
    assert glossary.breaches("Lift your heels.", "Levez les pieds.", "fr") == ()
    assert glossary.breaches("A wheel turns.", "Gira la rueda.", "es") == ()
    assert glossary.breaches("Use 2 kg.", "Use 2 kilos.", "es") == (("kg", "kg"),)
