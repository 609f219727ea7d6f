"""The items of two instruments, in our own short words, and how their points add up.

PEMAT-P: AHRQ publication 14-0002-EF, 2013 (items 13 and 14 are for audio-visual material only); items 24 to 26 and the
rule of the percentage from memory.
CDC Clear Communication Index: CDC, 2014.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import Enum


class Answer(Enum):
    """What was answered to an item."""

    YES = "yes"
    NO = "no"
    NOT_APPLICABLE = "n/a"
    WAITS = "a person decides"


@dataclass(frozen=True, slots=True)
class Item:
    """One question."""

    name: str
    """``P1`` or ``C1``: the instrument's letter and the item's number in it."""
    part: str
    asks: str


@dataclass(frozen=True, slots=True)
class Decision:
    """An answer with its evidence, and who gave it."""

    item: str
    answer: Answer
    evidence: str
    by: str = ""
    """A person's role and day; empty where the program decided."""


@dataclass(frozen=True, slots=True)
class Total:
    """Points of a part; ``percent`` is of the items answered so far, None where none is."""

    part: str
    points: int
    applicable: int
    waiting: int

    @property
    def percent(self) -> float | None:
        """Points by applicable items, in percent, as both instruments count."""
        return 100 * self.points / self.applicable if self.applicable else None

    @property
    def bounds(self) -> tuple[float, float] | None:
        """The lowest and the highest percentage that the waiting answers can still lead to; None without an item."""
        items = self.applicable + self.waiting
        return (100 * self.points / items, 100 * (self.points + self.waiting) / items) if items else None


UNDERSTANDABLE, ACTIONABLE, CLEAR = "understandability", "actionability", "clear communication"
PARTS = (UNDERSTANDABLE, ACTIONABLE, CLEAR)
PASS_PERCENT: Mapping[str, float] = {CLEAR: 90}
"""CDC 2014: 90 and above is easy to understand.  AHRQ sets no bound for PEMAT."""
_ASKED = {
    UNDERSTANDABLE: {
        "P1": "the purpose is plain at once",
        "P2": "nothing leads away from the purpose",
        "P3": "everyday words",
        "P4": "medical terms only with an explanation",
        "P5": "active voice",
        "P6": "numbers are clear",
        "P7": "no arithmetic for the reader",
        "P8": "short chunks",
        "P9": "each chunk has a heading that tells",
        "P10": "logical order",
        "P11": "a summary",
        "P12": "visual cues for key points",
        "P15": "pictures where they help",
        "P16": "pictures say what the text says",
        "P17": "pictures have titles or captions",
        "P18": "pictures are clear",
        "P19": "tables are simple, with short headings",
    },
    ACTIONABLE: {
        "P20": "at least one action",
        "P21": "speaks to the reader",
        "P22": "actions in small steps",
        "P23": "something to act with, such as a checklist",
        "P24": "shows any calculation",
        "P25": "explains charts for acting",
        "P26": "pictures that help to act",
    },
    CLEAR: {
        "C1": "one main message",
        "C2": "the main message stands first",
        "C3": "the main message is emphasised",
        "C4": "a captioned picture shows the main message",
        "C5": "a call to action",
        "C6": "main message and call in active voice",
        "C7": "the readers' own words",
        "C8": "lists, none of more than 7 without parts",
        "C9": "one idea in each chunk, with a heading",
        "C10": "the most important is summed up first",
        "C11": "what experts know and do not know",
        "C12": "advises a behaviour",
        "C13": "says why the behaviour matters",
        "C14": "says how, when, how often, and when to call",
        "C15": "numbers that the readers use",
        "C16": "says what numbers mean",
        "C17": "the reader must calculate (yes gives no point)",
        "C18": "the nature of the risk",
        "C19": "risks and benefits",
        "C20": "how likely, in words or a picture",
    },
}
ITEMS: Mapping[str, Item] = {
    name: Item(name, part, asks) for part, rows in _ASKED.items() for name, asks in rows.items()
}
"""Every item by name."""
REVERSED = "C17"
"""The item whose yes gives no point."""
_NEED = {"C2": ("C1",), "C3": ("C1",), "C4": ("C1",), "C6": ("C1", "C5")}
"""Items that are no where one of these is no."""


def answer_dependents(decisions: Iterable[Decision]) -> tuple[Decision, ...]:
    """The decisions with those answered no that depend on an item answered no."""
    found = {each.item: each for each in decisions}
    for name, needed in _NEED.items():
        lost = next((other for other in needed if other in found and found[other].answer is Answer.NO), None)
        if lost and name in found:
            found[name] = Decision(name, Answer.NO, f"no, since {lost} is no", found[name].by)
    return tuple(found.values())


def costs_a_point(decision: Decision) -> bool:
    """Whether an item was answered the wrong way."""
    return decision.answer is (Answer.YES if decision.item == REVERSED else Answer.NO)


def add_up(decisions: Iterable[Decision]) -> tuple[Total, ...]:
    """The points of each part."""
    settled = answer_dependents(decisions)
    totals = []
    for part in PARTS:
        here = [each for each in settled if ITEMS[each.item].part == part]
        answered = [each for each in here if each.answer in (Answer.YES, Answer.NO)]
        points = len(answered) - sum(costs_a_point(each) for each in answered)
        totals.append(Total(part, points, len(answered), sum(each.answer is Answer.WAITS for each in here)))
    return tuple(totals)
