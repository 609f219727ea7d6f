"""What is decided of numbers: whole ones, both ends of a scale in words, nothing left to calculate."""

from __future__ import annotations

import re

from handouts.dose.weight import shown_weight
from handouts.score.items import Answer, Decision
from handouts.score.material import Material, say, waits
from handouts.score.sheet import scale_ends

_PART_NUMBER = re.compile(r"\d+[.,]\d|[½⅓¼¾]|\d+\s*/\s*\d+|\d\s*[%٪]")
_SUM_SIGN = re.compile(r"[%٪×÷½⅓¼¾]|\d+\s*/\s*\d+")
_SUM_WORDS = {
    "en": re.compile(
        r"\b(?:half (?:of|as (?:many|much|long))|do half|twice (?:as|the)|double the|times as|percent|divided by|multiply)\b",
        re.I,
    )
}
"""Words that leave arithmetic to the reader; 'half as high' is seen, not calculated.  Other languages have no list here."""
_NUMBER = re.compile(r"\d+")
_OF_TEN = re.compile(r"(?<!\d)(?:10|١٠|۱۰)(?!\d)")


def _scales(material: Material) -> tuple[tuple[str, str], ...]:
    """Each scale from 0 to 10 that the sheet uses, with the text in which it stands."""
    effort = [("effort", material.sheet.dose)] if material.exercise.dose.effort else []
    texts = (*material.texts, material.library.clinic.pain_rule.text)
    return (*effort, *([("pain", material.sheet.pain)] if any(_OF_TEN.search(text) for text in texts) else []))


def _bare_scales(material: Material) -> list[str]:
    return [name for name, text in _scales(material) if scale_ends(text) is None]


def explained(item: str, material: Material) -> Decision:
    """A scale without words at its ends explains nothing; whether the words explain enough is for a person."""
    bare = _bare_scales(material)
    if bare:
        return say(item, False, f"no words for 0 and 10 of: {', '.join(bare)}")
    ends = [f"{name}: 0 {ends[0]}, 10 {ends[1]}" for name, text in _scales(material) if (ends := scale_ends(text))]
    return waits(item, "; ".join(("each number of the dose has its unit in words", *ends)))


def clear_numbers(item: str, material: Material) -> Decision:
    """Whole numbers, and both ends of each scale from 0 to 10 in words where it stands."""
    whole = _whole_numbers(item, material)
    bare = _bare_scales(material)
    if whole.answer is Answer.NO or not bare:
        scales = ", ".join(name for name, _ in _scales(material))
        return say(
            item,
            whole.answer is Answer.YES,
            f"{whole.evidence}; scales with both ends in words: {scales or 'none is used'}",
        )
    return say(item, False, f"{whole.evidence}; no words for 0 and 10 of: {', '.join(bare)}")


def _whole_numbers(item: str, material: Material) -> Decision:
    """Whole numbers only, in the text and in the dose."""
    found = [match[0] for text in material.texts for match in _PART_NUMBER.finditer(text)]
    in_pounds = material.library.clinic.in_pounds
    weight = shown_weight(material.exercise.dose.weight_kg or 0, in_pounds)
    if weight != round(weight):
        found.append(f"{weight:g} {'lb' if in_pounds else 'kg'}")
    if found:
        return say(item, False, f"parts of numbers: {', '.join(found)}")
    return say(item, True, f"whole numbers only: {', '.join(_numbers(material)) or 'none'}")


def _numbers(material: Material) -> list[str]:
    """Each number of the text, once."""
    return sorted(
        {match[0] for text in material.texts for match in _NUMBER.finditer(text)}, key=lambda each: (len(each), each)
    )


def no_sums(item: str, material: Material, *, wanted: bool) -> Decision:
    """Whether nothing is left to be calculated (``wanted``), or whether something is; sure only with a word list."""
    words = _SUM_WORDS.get(material.language)
    texts = (*material.texts, material.sheet.pain)
    found = [match[0] for text in texts for match in _SUM_SIGN.finditer(text)]
    found += [match[0] for text in texts for match in words.finditer(text)] if words else []
    if found:
        return say(item, not wanted, f"asks for arithmetic: {', '.join(found)}")
    numbers = f"the numbers of the text: {', '.join(_numbers(material)) or 'none'}"
    if words:
        return say(item, wanted, f"no sign and no word of arithmetic; {numbers}")
    return waits(item, f"no sign of arithmetic; {numbers}")
