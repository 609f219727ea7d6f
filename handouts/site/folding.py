"""How a text becomes search words: one folding, written alike here and in ``templates/scripts/src/fold.js``.

Case, accents, Arabic letter forms and vowel signs are folded away; scripts without spaces are cut into
pairs of characters; words are found by their other forms (``forms_of``).  Both sides
are held to ``tests/site/folding_vectors.json``.  Knows nothing of exercises or pages.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import cache, lru_cache
from itertools import groupby

LETTERS = {
    "đ": "d", "ð": "d", "ħ": "h", "ı": "i", "ł": "l", "ø": "o", "þ": "th", "ß": "ss", "æ": "ae", "œ": "oe",
    "ς": "σ", "ة": "ه", "ى": "ي", "ی": "ي", "ک": "ك", "ـ": "",
}  # fmt: skip
"""Letters that Unicode does not take apart, and Arabic forms that people type in each other's place."""

_MARKS = re.compile("[\u00ad'’ʼ\u0300-\u036f\u0591-\u05c7\u0610-\u061a\u064b-\u065f\u0670\u06d6-\u06ed\u200b-\u200f]")
"""Marks that carry no letter of their own.  Vowel signs of Indic scripts are letters and stay."""

_UNSPACED = (
    (0x0E00, 0x0EFF), (0x1000, 0x109F), (0x1780, 0x17FF), (0x3040, 0x30FF), (0x3400, 0x4DBF),
    (0x4E00, 0x9FFF), (0xF900, 0xFAFF), (0x20000, 0x3FFFF),
)  # fmt: skip
"""Scripts written without spaces: Thai, Lao, Burmese, Khmer, Japanese, Chinese (first and last code point)."""

_SHORTEST_PLURAL = 4
"""Shorter words keep their s: "gas", "bus"."""
_SHORTEST_BEFORE_ING = 3
"""Letters that a word must have before -ing: "lying" keeps it."""

_ARTICLES = ("وال", "بال", "كال", "فال", "لل", "ال")
"""The article and what is written together with it, longest first (after the light stemmer of Larkey, Ballesteros and
Connell, 2002; from memory)."""
_ENDINGS = ("تين", "تان", "تها", "تي", "ها", "ات", "ان", "ون", "ين", "يه", "ه", "ي")
"""Endings of two, many, 'her' and 'my', longest first; of a word on ta marbuta with it (after the same, from memory)."""
_SHORTEST_STEM = 3
"""Letters that must be left: shorter ones are other words."""


def fold(text: str) -> str:
    """A text without case, accents and letter forms; spaces and punctuation stay."""
    lowered = unicodedata.normalize("NFKD", text).lower()
    bare = _MARKS.sub("", lowered)
    return "".join(LETTERS.get(character, character) for character in bare)


@lru_cache(maxsize=65_536)
def split_words(text: str, *, for_query: bool = False) -> tuple[str, ...]:
    """The folded words of a text in order.

    A run of a script without spaces gives its pairs of neighbours; the index also holds its last
    character, so that each single character of a query finds it.
    """
    return tuple(_words(fold(text), for_query))


def _words(folded: str, for_query: bool) -> Iterator[str]:
    for kind, run in groupby(folded, key=_kind):
        characters = "".join(run)
        if kind == "word":
            yield characters
        elif kind == "unspaced":
            yield from (characters[at : at + 2] for at in range(len(characters) - 1))
            if len(characters) == 1 or not for_query:
                yield characters[-1]


@cache
def _kind(character: str) -> str:
    point = ord(character)
    if any(first <= point <= last for first, last in _UNSPACED):
        return "unspaced"
    return "word" if unicodedata.category(character)[0] in "LNM" else ""


def forms_of(word: str, language: str) -> tuple[str, ...]:
    """The word and what stands for its other forms: what the index holds and what a query looks for.

    In English its singular, and what is before -ing; in Spanish and French its singular; in Arabic what is left without
    article and ending.
    """
    root = language.partition("-")[0]
    other = _OTHER_FORMS[root](word) if root in _OTHER_FORMS else word
    return (word,) if other == word else (word, other)


def _english(word: str) -> str:
    before = word.removesuffix("ing")
    if before == word or len(before) < _SHORTEST_BEFORE_ING:
        return _singular(word)
    doubled = len(before) > _SHORTEST_BEFORE_ING and before[-1] == before[-2] and before[-1] not in "lsfz"
    return before[:-1] if doubled else before


def _singular(word: str) -> str:
    if len(word) < _SHORTEST_PLURAL or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies") and len(word) > _SHORTEST_PLURAL:
        return word[:-3] + "y"
    if word.endswith(("sses", "shes", "ches", "xes")):
        return word[:-2]
    return word[:-1]


def _spanish(word: str) -> str:
    if len(word) < _SHORTEST_PLURAL:
        return word
    if word.endswith("es") and len(word) > _SHORTEST_PLURAL and word[-3] in "dlnrz":
        return word[:-2]
    return word[:-1] if word.endswith(("as", "es", "os")) else word


def _french(word: str) -> str:
    return word[:-1] if len(word) >= _SHORTEST_PLURAL and word.endswith(("s", "x")) and not word.endswith("ss") else word


def _arabic(word: str) -> str:
    for article in _ARTICLES:
        if word.startswith(article) and len(word) - len(article) >= _SHORTEST_STEM:
            word = word.removeprefix(article)
            break
    for ending in _ENDINGS:
        if word.endswith(ending) and len(word) - len(ending) >= _SHORTEST_STEM:
            return word.removesuffix(ending)
    return word


_OTHER_FORMS = {"en": _english, "es": _spanish, "fr": _french, "ar": _arabic}
