"""An author's word as a word of the library: by its name, by what was answered before, else asked with a guess."""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import SequenceMatcher

from handouts.importers.answers import LEAVE, NEW, Answers, ImportQuestion
from handouts.importers.known import Known

COLUMNS = {
    "tier": "tiers", "regions": "regions", "purpose": "purposes", "position": "positions", "equipment": "equipment",
    "band": "bands", "demands": "demands",
}  # fmt: skip
"""Which list of the library a cell is from."""
NAMED_ALONE = ("regions", "equipment", "purposes")
"""Lists whose words have only a name: one that is like none of them is likely a new one."""
SEVERAL = ("regions", "equipment", "demands")
NOTHING = ("none", "nothing", "no equipment", "no", "n/a", "-", "–")
"""What people write where nothing is needed."""
_SMALL = re.compile(r"\b(?:a|an|the|your|on|of|or|in|with|to|my)\b")
LEAST_LIKE = 0.7
"""From this share of the words or letters on, a word is a guess; a person says yes to each."""
_COMMON = frozenset((
    "you", "your", "feel", "feels", "have", "has", "get", "gets", "are", "is", "it", "a", "an", "the", "and", "or", "if", "when", "stop",
    "do", "not", "this", "of", "in", "on", "to", "too", "at", "after", "more", "than", "with", "any", "cannot", "can", "while", "that",
    "them",
))  # fmt: skip
"""Words that say nothing of which caution is meant."""


def resolve_terms(cells: Mapping[str, str], title: str, known: Known, answers: Answers) -> dict[str, str]:
    """The cells with slugs in place of words; a word that is not settled stays as it is."""
    found = dict(cells)
    for column, name in COLUMNS.items():
        terms = known.terms.get(name, {})
        if column not in found or not terms:
            continue
        words = _parts(found[column], terms) if column in SEVERAL else [" ".join(found[column].split())]
        settled: list[str] = []
        for word in words:
            if column == "equipment" and word.casefold() in NOTHING:
                continue
            slug = find_term(word, terms) or _ask(word, title, name, terms, answers)
            settled += [each.strip() for each in (slug or word).split(",")] if slug != LEAVE else []
        found[column] = "; ".join(dict.fromkeys(settled))
        if not settled and column != "equipment":
            del found[column]
    return found


def add_brought(cells: Mapping[str, str], known: Known) -> dict[str, str]:
    """The cells with the cautions that the library's own words bring."""
    brought = [
        caution
        for column, name in COLUMNS.items()
        for slug in cells.get(column, "").split("; ")
        for caution in known.brings.get(f"{name}/{slug}", ())
    ]
    if not brought or "cautions" not in cells:
        return dict(cells)
    return {**cells, "cautions": "; ".join(dict.fromkeys([*cells["cautions"].split("; "), *brought]))}


def find_term(word: str, terms: Mapping[str, str]) -> str:
    """The slug of a word that is a slug or a name, whatever its capitals and small words; empty where none is."""
    plain = _plain(word)
    return next((slug for slug, name in terms.items() if plain in (_plain(slug), _plain(name))), "")


def guess_term(word: str, terms: Mapping[str, str]) -> str:
    """The slug whose name is most like a word; empty where none is like it."""
    likes = {slug: max(_likeness(_plain(word), _plain(each)) for each in (slug, name)) for slug, name in terms.items()}
    best = max(likes, key=likes.__getitem__, default="")
    return best if best and likes[best] >= LEAST_LIKE else ""


def guess_caution(sentence: str, cautions: Mapping[str, str]) -> str:
    """The caution that has most of the words that matter in a sentence; empty where none has, or where two have as many."""
    mine = _telling(sentence)
    shared = {slug: len(mine & _telling(f"{when} {slug.replace('-', ' ')}")) for slug, when in cautions.items()}
    most = max(shared.values(), default=0)
    best = [slug for slug, count in shared.items() if count == most]
    return best[0] if mine and most / len(mine) >= LEAST_LIKE and len(best) == 1 else ""


def _telling(text: str) -> set[str]:
    words = re.sub(r"[^\w\s]", " ", text.casefold()).split()
    return {word[:-1] if len(word) > 3 and word.endswith("s") else word for word in words if word not in _COMMON}


def _ask(word: str, title: str, name: str, terms: Mapping[str, str], answers: Answers) -> str | None:
    several = name in SEVERAL
    text = f"'{word}' ('{title}') is no word of '{name}' in this library. Which one is it?"
    guess = guess_term(word, terms) or (NEW if name in NAMED_ALONE else "")
    return answers.ask(ImportQuestion("terms", f"{name}: {word}", text, guess, terms, several, is_plain=guess == NEW))


def _parts(cell: str, terms: Mapping[str, str]) -> list[str]:
    """The words of a cell; what is a word of the library as a whole is not parted."""
    found: list[str] = []
    for part in re.split(r"[;\n,]", cell):
        text = " ".join(part.split())
        if not text:
            continue
        found += [text] if find_term(text, terms) else [each for piece in re.split(r"\s*(?:/|&|\+|\band\b)\s*", text) if (each := piece.strip())]
    return found


def _plain(text: str) -> str:
    words = _SMALL.sub(" ", re.sub(r"[^\w\s]", " ", text.casefold())).split()
    return " ".join(word[:-1] if len(word) > 3 and word.endswith("s") else word for word in words)


def _likeness(one: str, other: str) -> float:
    mine, theirs = set(one.split()), set(other.split())
    shared = len(mine & theirs) / max(1, min(len(mine), len(theirs)))
    return max(shared * 0.9, SequenceMatcher(None, one, other).ratio())
