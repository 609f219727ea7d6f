"""The numbers of a dose that a text says literally, each with the words that say it; in English.

Nothing is computed and nothing is assumed: "twice a day" is no number here, "3 sets of 10" is two.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from handouts.library.dose_shapes import DOSE

_NUMBER = r"(?<![\d.,–-])(?<![–-] )(?<!\bto )(?<!\bor )(\d{1,3})(?!\d|[.,]\d|\s?[–-]\s?\d|\s(?:to|or)\s\d)"
"""A whole number that is no part of a range or a fraction: "10-12" leaves the choice to a person."""
_SECONDS, _MINUTES = r"\s*-?\s*(?:seconds?|secs?|s)\b", r"\s*-?\s*(?:minutes?|mins?|min)\b"
_REPS = r"(?:times|reps?|repetitions?)"
_LOAD = r"(?<![\d.,–-])(?<![–-] )(?<!\bto )(?<!\bor )(\d{1,3}(?:\.\d{1,2})?)(?!\d|[.,]\d|\s?[–-]\s?\d|\s(?:to|or)\s\d)"
"""A weight that is no part of a range; it may have decimals."""
_WEIGHTS = r"(?:(?:ankle|cuff|hand|wrist)\s+)?(?:weights?|cuffs?|dumbbells?)\b"
_PATTERNS: tuple[tuple[str, str, str], ...] = (
    ("sets", rf"{_NUMBER}\s*sets?\b", "{}"),
    ("sets", rf"\bsets?\s*[:=]\s*{_NUMBER}", "{}"),
    ("sets", rf"{_NUMBER}\s*[x×]\s*\d{{1,3}}\b(?!\s*(?:cm|kg|m|lbs?|pounds?)\b)", "{}"),
    ("reps", rf"\d\s*sets?\s*of\s*{_NUMBER}(?!{_SECONDS}|{_MINUTES})", "{}"),
    ("reps", rf"\d\s*[x×]\s*{_NUMBER}(?!{_SECONDS}|{_MINUTES}|\s*(?:cm|kg|m|lbs?|pounds?)\b)", "{}"),
    ("reps", rf"{_NUMBER}\s*{_REPS}\b(?!\s*(?:a|per|each)\s*(?:day|week))", "{}"),
    ("reps", rf"\b(?:reps?|repetitions?)\s*[:=]\s*{_NUMBER}", "{}"),
    ("hold", rf"\bhold(?:ing)?\s*(?:it|this|there|the\s+\w+)?\s*[:=]?\s*(?:for\s*)?{_NUMBER}{_SECONDS}", "{} s"),
    ("hold", rf"{_NUMBER}{_SECONDS}\s*holds?\b", "{} s"),
    ("rest", rf"\brest(?:ing)?\s*[:=]?\s*(?:for\s*)?{_NUMBER}{_SECONDS}", "{} s"),
    ("rest", rf"\brest(?:ing)?\s*[:=]?\s*(?:for\s*)?{_NUMBER}{_MINUTES}", "{} min"),
    ("days", rf"{_NUMBER}\s*(?:days|times)\s*(?:a|per|each)\s*week\b", "{}"),
    ("times", rf"{_NUMBER}\s*(?:times|x|×)\s*(?:a|per|each)\s*day\b", "{}"),
    ("weight", rf"(?:\bwith(?:\s+an?)?|\bweight\s*[:=]|\bweight\s+of)\s*{_LOAD}\s*(?:kg|kgs|kilos?|kilograms?)\b", "{} kg"),
    ("weight", rf"(?:\bwith(?:\s+an?)?|\bweight\s*[:=]|\bweight\s+of)\s*{_LOAD}\s*-?\s*(?:lbs?|pounds?)\b", "{} lb"),
    ("weight", rf"{_LOAD}\s*-?\s*(?:kg|kgs|kilos?|kilograms?)\s+{_WEIGHTS}", "{} kg"),
    ("weight", rf"{_LOAD}\s*-?\s*(?:lbs?|pounds?)\s+{_WEIGHTS}", "{} lb"),
    ("side", r"\b((?:on\s+)?(?:each|both)\s+(?:sides?|legs?|arms?))\b", "both"),
)
"""For each field what says it, its number in group 1, and how a file has it."""


@dataclass(frozen=True, slots=True)
class SaidDose:
    """Numbers as a file has them, by field, and the words that say each."""

    values: dict[str, str]
    words: dict[str, str]
    disputed: tuple[str, ...] = ()
    """Fields for which the text says more than one number."""


def find_dose(texts: Iterable[str]) -> SaidDose:
    """What the texts say; a field with two different numbers is left to a person."""
    found: dict[str, dict[str, str]] = {}
    for text in texts:
        for name, pattern, form in _PATTERNS:
            for match in re.finditer(pattern, text, re.I):
                found.setdefault(name, {}).setdefault(form.format(match[1]), match[0].strip())
    values = {name: next(iter(said)) for name, said in found.items() if len(said) == 1}
    words = {name: next(iter(said.values())) for name, said in found.items() if len(said) == 1}
    order = [name for name in DOSE.fields if name in values]
    disputed = tuple(name for name, said in found.items() if len(said) > 1)
    return SaidDose({name: values[name] for name in order}, {name: words[name] for name in order}, disputed)
