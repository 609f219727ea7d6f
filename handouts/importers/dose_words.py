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
_A = r"\s*(?:/|(?:a|per|each)\b)\s*"
"""What stands between a number and the day or week that it counts for."""
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
    ("reps", rf"{_NUMBER}\s*{_REPS}\b(?!{_A}(?:day|week|wk|d)\b)", "{}"),
    ("reps", rf"\b(?:reps?|repetitions?)\s*[:=]\s*{_NUMBER}", "{}"),
    ("hold", rf"\bhold(?:ing)?\s*(?:it|this|there|the\s+\w+)?\s*[:=]?\s*(?:for\s*)?{_NUMBER}{_SECONDS}", "{} s"),
    ("hold", rf"{_NUMBER}{_SECONDS}\s*holds?\b", "{} s"),
    ("rest", rf"\brest(?:ing)?\s*[:=]?\s*(?:for\s*)?{_NUMBER}{_SECONDS}", "{} s"),
    ("rest", rf"\brest(?:ing)?\s*[:=]?\s*(?:for\s*)?{_NUMBER}{_MINUTES}", "{} min"),
    ("days", rf"{_NUMBER}\s*(?:days|times|x|×){_A}(?:week|wk)\b", "{}"),
    ("times", rf"{_NUMBER}\s*(?:times|x|×){_A}(?:day|d)\b", "{}"),
    ("weight", rf"(?:\bwith(?:\s+an?)?|\bweight\s*[:=]|\bweight\s+of)\s*{_LOAD}\s*(?:kg|kgs|kilos?|kilograms?)\b", "{} kg"),
    ("weight", rf"(?:\bwith(?:\s+an?)?|\bweight\s*[:=]|\bweight\s+of)\s*{_LOAD}\s*-?\s*(?:lbs?|pounds?)\b", "{} lb"),
    ("weight", rf"{_LOAD}\s*-?\s*(?:kg|kgs|kilos?|kilograms?)\s+{_WEIGHTS}", "{} kg"),
    ("weight", rf"{_LOAD}\s*-?\s*(?:lbs?|pounds?)\s+{_WEIGHTS}", "{} lb"),
    ("side", r"\b((?:on\s+)?(?:each|both)\s+(?:sides?|legs?|arms?))\b", "both"),
)
"""For each field what says it, its number in group 1, and how a file has it."""


_CELL_PATTERNS: tuple[tuple[str, str, str], ...] = (
    ("sets", rf"(?:{_SECONDS}|{_MINUTES}|{_REPS})\s*[x×]\s*{_NUMBER}(?!\s*(?:[/x×]|a\b|per\b|daily))", "{}"),
    ("sets", rf"{_NUMBER}\s*[x×]\s*\d{{1,3}}(?:{_SECONDS}|{_MINUTES})", "{}"),
    ("sets", rf"(?<!\d )(?<!\d)\bsets?\s+{_NUMBER}", "{}"),
    ("reps", rf"\d\s*sets?\s+{_NUMBER}\s*(?:{_REPS}\b|(?=$|,))", "{}"),
    ("reps", rf"(?<!\d )(?<!\d)\b(?:reps?|repetitions?)\s+{_NUMBER}", "{}"),
    ("reps", rf"(?:^|,|\bholds?)\s*{_NUMBER}\s*[x×](?!\s*\d|{_A}|\s*(?:daily|week))", "{}"),
    ("reps", rf"(?:^|,|\bholds?)\s*[x×]\s*{_NUMBER}(?!{_SECONDS}|{_MINUTES})", "{}"),
    ("time", rf"(?<!\brest )(?<!\bresting )(?<!\brest for )(?<!\bhold )(?<!\bhold for ){_NUMBER}{_SECONDS}(?!\s*(?:holds?|rest)\b)", "{} s"),
    ("time", rf"(?<!\brest )(?<!\bresting )(?<!\brest for ){_NUMBER}{_MINUTES}(?!\s*(?:rest|break|pause)\b)", "{} min"),
    ("rest", rf"{_NUMBER}{_SECONDS}\s*(?:rest|break|pause)\b", "{} s"),
    ("rest", rf"{_NUMBER}{_MINUTES}\s*(?:rest|break|pause)\b", "{} min"),
    ("days", rf"{_NUMBER}\s*days\b(?!\s*(?:a|per|each))", "{}"),
    ("days", rf"{_NUMBER}\s*(?:d|days)?\s*/\s*(?:week|wk)\b", "{}"),
    ("weight", rf"{_LOAD}\s*(?:kg|kgs|kilos?|kilograms?)\b", "{} kg"),
    ("weight", rf"{_LOAD}\s*-?\s*(?:lbs?|pounds?)\b", "{} lb"),
    ("days", r"\b((?:once (?:a day|per day|daily))|daily|every day|each day|per day|(?:a|/) ?day)\b", "7"),
    ("days", r"\b(once) (?:a|per) week\b", "1"),
    ("days", r"\b(twice) (?:a|per) week\b", "2"),
    ("times", r"\b(once) (?:a day|per day|daily)\b", "1"),
    ("times", r"\b(twice) (?:a day|per day|daily)\b", "2"),
    ("times", rf"{_NUMBER}\s*(?:times|[x×])\s*daily\b", "{}"),
    ("side", r"\b((?:(?:on|per|every)\s+)?(?:each|both|per|every)\s+(?:side|leg|arm|foot|hand|direction)s?|e/s|bilateral(?:ly)?)\b", "both"),
    ("side", r"\b(alternat(?:e|ing)(?:\s+(?:sides?|legs?|arms?))?)\b", "alternating"),
    ("effort", r"\b(?:effort|rpe)\s*[:=]?\s*(\d{1,2}(?:\s?[-–]\s?\d{1,2})?)(?:\s*(?:/|of|out of)\s*10)?\b", "{}"),
)
"""What a cell says in which nothing but a dose stands; shown to a person before it counts."""
_RANGE = re.compile(r"\d+\s?[-–]\s?\d+")
_BETWEEN = re.compile(r"\b(?:do|repeat|perform|about|and|on|then|for|with|the|of|in|at|to|it|this|daily|day|dose)\b|[^\w–-]+|(?<!\d)[-–]|[-–](?!\d)")


@dataclass(frozen=True, slots=True)
class SaidDose:
    """Numbers as a file has them, by field, and the words that say each."""

    values: dict[str, str]
    words: dict[str, str]
    disputed: tuple[str, ...] = ()
    """Fields for which the text says more than one number."""
    unread: str = ""
    """Words that were not understood, where all of a text should be a dose."""


NO_DOSE = SaidDose({}, {})
"""Of a text that says none."""


def read_dose(text: str) -> SaidDose:
    """What a cell of doses says, as a clinician writes it: ``3x10 each side, 2x/week``; what is not understood is kept."""
    found: dict[str, dict[str, str]] = {}
    rest = list(text)
    for name, pattern, form in (*_PATTERNS, *_CELL_PATTERNS):
        for match in re.finditer(pattern, text, re.I):
            value = " ".join(form.format(match[1]).split()).replace("–", "-").replace(" - ", "-")
            found.setdefault(name, {}).setdefault(value, match[0].strip())
            rest[match.start() : match.end()] = " " * (match.end() - match.start())
    if "hold" not in found and "time" in found and re.search(r"\bhold", text, re.I):
        found["hold"] = found.pop("time")
    if "hold" in found and found.get("time", {}).keys() == found["hold"].keys():
        del found["time"]
    if found.get("sets") and set(found["sets"]) == set(found.get("times", {})) and not re.search(r"\bsets?\b|\d\s*[x×]\s*\d", text, re.I):
        del found["sets"]
    values = {name: next(iter(found[name])) for name in DOSE.fields if len(found.get(name, ())) == 1}
    words = {name: found[name][value] for name, value in values.items()}
    disputed = tuple(name for name, said in found.items() if len(said) > 1)
    for match in () if "effort" in values else _RANGE.finditer(text):
        rest[match.start() : match.end()] = match[0]
    left = " ".join(_BETWEEN.sub(" ", "".join(rest)).split())
    return SaidDose(values, words, disputed, left)


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
