"""Whether a translation still says what the source says, as far as a program can tell.

Numbers, placeholders, links, inline marks, terms of the glossary, and words left in the source
language.  babel's own check finds none of these; gettext passes them all.  Never judges style.
"""

from __future__ import annotations

import re
from collections import Counter

from handouts.problems import Grade, Place, Problem
from handouts.source.nodes import find_forbidden
from handouts.text.markup import count_marks, find_markup_problems
from handouts.words.glossary import Glossary
from handouts.words.meaning import find_length_fault, find_script_fault, find_unit_fault, western
from handouts.words.phrase import find_placeholders, has_stray_brace
from handouts.words.stopping import STOP_WORDS, knows_stop_words, opens_with_stop, tells_to_stop

SAME_WORDS = 3
"""From this many words on, a translation equal to its source counts as not translated; fewer may be alike by chance."""

SPOKEN = {
    "ar": {
        "1": re.compile(r"\bواحدة?\b"),
        "2": re.compile(
            r"(?:ثانيت|دقيقت|ساعت|مجموعت|مرت|خطوت|بوصت|سنت|يوم|أسبوع|شهر|إصبع|رطل|متر|تمرين|كيلوغرام)(?:ين|ان|ا|ي)\b"
        ),
    },
}
"""Numbers that a language says in words where a figure would be wrong: Arabic one, and the dual of what is counted."""

_NUMBER = re.compile(r"\d+(?:[.,٫]\d+)?")
_LINK = re.compile(r"\]\(([^()\s]*)\)")
_SIGNS = re.compile(r"[{}\[\]*_]")
"""What placeholders, links and marks are written with."""
_WORD = re.compile(r"[^\W\d_]{2,}")


def numbers_in(text: str) -> Counter[str]:
    """The numbers of a text, in Western digits and with a point, whatever the script."""
    return Counter(western(match[0]) for match in _NUMBER.finditer(_LINK.sub("]", text)))


def find_faults(
    source: str, translation: str, language: str, glossary: Glossary, place: Place, is_safety: bool = False, source_language: str = "en"
) -> tuple[Problem, ...]:
    """What is wrong with a translation that readers would see; empty where nothing is.

    ``is_safety``: it is a safety text, so that a source that begins by telling to stop needs a translation that does.
    """
    found = [
        *(_stop_faults(source, translation, language, place) if is_safety else ()),
        *_number_faults(source, translation, language, place),
        *_meaning_faults(source, translation, (source_language, language), place),
        *_invisible_faults(translation, place),
        *_mark_faults(source, translation, place),
        *find_markup_problems(translation, place),
    ]
    if translation.strip() == source.strip() and len(_WORD.findall(source)) >= SAME_WORDS:
        found.append(Problem(place, "translation-same", "the translation is the source text", "Translate it."))
    for term, form in glossary.breaches(source, translation, language):
        what = f"'{term}' is translated another way here than in the glossary"
        found.append(Problem(place, "glossary", what, f"Write '{form}', or add this form to the glossary."))
    return tuple(found)


Translated = tuple[str, str, Place, bool]
"""A source text, its translation and where that stands, and whether it is a safety text."""


def find_all_faults(texts: tuple[Translated, ...], language: str, glossary: Glossary, source_language: str) -> tuple[tuple[Problem, ...], ...]:
    """What is wrong with each of the translations of an owner."""
    return tuple(find_faults(source, text, language, glossary, place, safety, source_language) for source, text, place, safety in texts)


def _stop_faults(source: str, translation: str, language: str, place: Place) -> list[Problem]:
    if not knows_stop_words(language) or not opens_with_stop(source) or tells_to_stop(translation, language):
        return []
    word = STOP_WORDS[language.partition("-")[0]][0]
    what = "the source tells the reader to stop, the translation does not begin so"
    return [Problem(place, "translation-stop", what, f"Begin it with a word for 'stop', such as '{word}'.")]


def _number_faults(source: str, translation: str, language: str, place: Place) -> list[Problem]:
    if not _NUMBER.search(source) and not _NUMBER.search(translation):
        return []
    wanted, found = numbers_in(source), numbers_in(translation)
    for number, words in SPOKEN.get(language, {}).items():
        lacking = wanted[number] - found[number]
        found[number] += max(0, min(lacking, len(words.findall(translation))))
    if +wanted == +found:
        return []
    lost = ", ".join(sorted((wanted - found).elements()))
    extra = ", ".join(sorted((found - wanted).elements()))
    parts = [f"lacks {lost}" if lost else "", f"has {extra} in addition" if extra else ""]
    what = f"the translation {' and '.join(part for part in parts if part)}"
    return [Problem(place, "translation-number", what, "Write every number of the source text, as a figure.")]


def _meaning_faults(source: str, translation: str, languages: tuple[str, str], place: Place) -> list[Problem]:
    found = []
    if fault := find_unit_fault(source, translation, languages):
        found.append(Problem(place, "translation-unit", f"the translation has another unit: {fault}", "Write the unit of the source text."))
    if fault := find_script_fault(source, translation, languages[1]):
        what = f"the translation is not in the letters of '{languages[1]}': {fault}"
        found.append(Problem(place, "translation-script", what, "Translate it again."))
    if fault := find_length_fault(source, translation):
        found.append(Problem(place, "translation-length", f"the translation cannot say the same: {fault}", "Translate it again."))
    return found


def _invisible_faults(translation: str, place: Place) -> list[Problem]:
    """Characters that no text may have: they hold back this text, and nothing else."""
    return [
        Problem(place, each.rule, f"{each.what}, so this translation is not published", each.mend, Grade.NOTICE)
        for each in find_forbidden(translation, place.file)[:1]
    ]


def _mark_faults(source: str, translation: str, place: Place) -> list[Problem]:
    if not _SIGNS.search(source) and not _SIGNS.search(translation):
        return []
    found = []
    if find_placeholders(source) != find_placeholders(translation) or has_stray_brace(translation):
        found.append(
            Problem(
                place,
                "translation-placeholder",
                "the translation has other words in braces than the source",
                "Keep each {name} exactly as it is.",
            )
        )
    if Counter(_LINK.findall(source)) != Counter(_LINK.findall(translation)):
        what = "the translation has other links than the source"
        found.append(Problem(place, "translation-link", what, "Keep each address exactly as it is."))
    if count_marks(source) != count_marks(translation):
        what = "the translation has more or fewer words in bold or italic than the source"
        found.append(Problem(place, "translation-marks", what, "Keep each pair of * or ** around the same words."))
    return found
