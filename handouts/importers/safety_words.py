"""Sentences that read like a stop rule, a caution or a dose, in English: no step is ever made of one, a person decides.

Looks at words only and takes too much rather than too little: what waits is read by a person, a warning among the steps
is not.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

CAUTION, DOSE = "stop rule or caution", "dose"
_CAUTION = re.compile(
    r"^(?:please\s+)?(?:stop|do not|don['’]?t|never|avoid|only|beware|be careful|take care|warnings?|cautions?|precautions?"
    r"|important|attention|danger|note)\b"
    r"|\b(?:pain\w*|hurt\w*|ache|aching|sore\w*|dizz\w*|light-?headed\w*|faint\w*|numb\w*|tingl\w*|pins and needles|swell\w*"
    r"|swollen|bleed\w*|chest|breathless\w*|out of breath|short(?:ness)? of breath|palpitation\w*|fever\w*|unwell|nause\w*"
    r"|vomit\w*|redness|bruis\w*|infect\w*|fractur\w*|surger\w*|operation|operated|pregnan\w*|emergency|ambulance|911|999|112)\b"
    r"|\bif you (?:have|had|are|feel|get|notice|cannot|can't|lose|fall|experience)\b"
    r"|\b(?:your|a|the) (?:doctor|physician|surgeon|clinician|nurse|pharmacist|therapist|physio\w*|clinic|hospital|gp)\b"
    r"|\b(?:weight[- ]?bearing|contraindicat\w*|not allowed|must not|should not|unless)\b"
    r"|\bstop (?:if|when|at once|right away|immediately|exercis\w*|the exercise|and (?:call|rest|ask|tell))\b",
    re.I,
)
_UNIT = (
    r"(?:times|sets?|reps?|repetitions?|seconds?|secs?|minutes?|mins?|hours?|days?|weeks?|daily|weekly|once|twice|thrice"
    r"|breaths?|[x×]\s*\d+|\d+\s*[x×])"
)
_DOSE = re.compile(
    r"^(?:then\s+|and\s+|please\s+)?(?:repeat\w*|do (?=(?:this|it|\d+|\w+ (?:sets?|times|reps?))\b)|perform|complete|hold(?:ing)?|rest(?:ing)?"
    r"|aim|try|start with|begin with|work up|build up|increase|progress|sets?|reps?|repetitions?|frequency|dos(?:e|age)"
    r"|times|daily|every|once|twice|(?:one|two|three|four|five|six|eight|ten|twelve|fifteen|twenty)\b|\d+)\b"
    rf".*\b{_UNIT}(?!\w)|^(?:repeat|sets?|reps?|frequency|dos(?:e|age))\b|^{_UNIT}\b\s*[:=]",
    re.I,
)
_SENTENCE = re.compile(r"(?<=[.!?;])\s+(?=[A-Z0-9])")
_NUMBER = re.compile(r"^\s*\d{1,2}[.)]\s+")
_RULE = re.compile(
    r"^(?:please\s+)?(?:stop\b(?:\s+(?:at once|right away|immediately|the exercise|exercising))?\s*(?:if|when|and|[:.!])"
    r"|(?:do not|don['’]?t|never)\s+(?:do|start|begin|use|exercise|try)\b|(?:warning|caution|attention|danger|important)s?\s*[:!]"
    r"|call\b|pain\s+(?:above|over|more)\b|not\s+(?:if|after|when)\b|(?:ask|see)\s+(?:a|your)\s+(?:doctor|surgeon|gp|physio\w*|clinician|therapist)\b)",
    re.I,
)
"""What opens a rule of its own, wherever it stands: below the mistakes of a leaflet too."""
STEPS = ("steps", "before")
"""Columns whose lines tell a patient what to do."""


def reads_like(sentence: str) -> str:
    """What a sentence reads like, ``CAUTION`` or ``DOSE``; empty where it may be a step."""
    text = _NUMBER.sub("", sentence).strip(" -–•*\"'“”‘’")
    return CAUTION if _CAUTION.search(text) else DOSE if _DOSE.search(text) else ""


def is_rule(sentence: str) -> bool:
    """Whether a sentence opens as a stop rule or a caution does, so that it belongs to none of a leaflet's other headings."""
    return _RULE.match(_NUMBER.sub("", sentence).strip(" -–•*\"'“”‘’")) is not None


def part_line(line: str) -> tuple[str, list[str]]:
    """A line without its sentences that wait for a person, and these, each behind what it reads like."""
    kept, waiting = list[str](), list[str]()
    for sentence in _SENTENCE.split(line):
        kind = reads_like(sentence)
        if kind:
            waiting.append(f"{kind}: {' '.join(sentence.split())}")
        else:
            kept.append(sentence)
    left = " ".join(kept)
    return (left if _NUMBER.sub("", f"{left} ").strip() else ""), waiting


def hold_back(cells: Mapping[str, str]) -> tuple[dict[str, str], list[str]]:
    """Cells without the sentences of steps that wait for a person, and these."""
    found, waiting = dict(cells), list[str]()
    for column in STEPS:
        lines = []
        for line in re.split(r"[;\n]", cells.get(column, "")):
            left, held = part_line(line)
            waiting += held
            lines += [left] if left.strip() else []
        if column in cells:
            found[column] = "\n".join(lines)
            if not lines:
                del found[column]
    return found, waiting


def say_waiting(waiting: list[str]) -> list[str]:
    """Remarks that show what waits, in a place of their own."""
    head = "# WAITS FOR A PERSON: these sentences read like a stop rule, a caution or a dose, so no step was made of them."
    return [head, *(f"#   {text}" for text in waiting)] if waiting else []
