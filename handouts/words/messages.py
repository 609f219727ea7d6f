"""The texts of a library as messages for translators, and the library rewritten text by text.

One walk serves both, so what is gathered and what is replaced cannot drift apart.  A message's context
names its owner by code (``exercise/H7K2/cue``), never by file name or by number in a list: an exercise
that is renamed, or a cue that moves up, keeps its translation.  Never knows a catalogue.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

from handouts.model import (
    Block,
    Bundle,
    Caution,
    Clinic,
    ConditionRule,
    Defer,
    Easier,
    Emergency,
    Exercise,
    FlareStep,
    Harder,
    Library,
    Limit,
    LimitPhase,
    Location,
    Mistake,
    OwnPicture,
    OwnReview,
    PatientCondition,
    Position,
    Programme,
    ProgrammeTier,
    Review,
    SearchWords,
    Section,
    SessionCue,
    Standalone,
    Substitute,
    Term,
    Tier,
    Words,
)
from handouts.problems import Place
from handouts.words.standalone_texts import INNER, STANDALONE_KINDS, STANDALONE_TEXTS, TextKind

ROLE = "role"
"""Name of the texts that say who reviewed something."""
SHARED = "shared"
"""Owner of headings and roles: the same words stand in many files and are translated once."""


@dataclass(frozen=True, slots=True)
class Message:
    """One text that is translated as a whole."""

    owner: str
    """What it belongs to: ``exercise/H7K2``, ``caution/dizziness``, ``clinic``."""
    name: str
    """Which of the owner's texts: ``cue``, ``step``."""
    text: str
    note: str
    """For the translator."""
    place: Place = field(compare=False)
    shared: bool = False
    key: tuple[str, str] = field(init=False, compare=False, repr=False)
    """What identifies it in a catalogue: what it is kept under there, and its text."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "key", (f"{SHARED if self.shared else self.owner}/{self.name}", self.text))

    @property
    def context(self) -> str:
        """What the catalogue keeps it under, beside the text."""
        return self.key[0]


Visit = Callable[[Message], Words]
"""What is done with each text: gives the text that stands in its place."""


TEXTS: dict[type, dict[str, TextKind]] = {
    Exercise: {
        "title": TextKind("title", "Title of an exercise: short, as you would call it to a patient."),
        "also_called": TextKind(
            "also-called", "Another name of this exercise, typed into the search. Give the name used in your language."
        ),
        "why": TextKind("why", "What the exercise is good for in daily life."),
        "sections": INNER,
        "cues": TextKind("cue", "A thought to keep in mind while moving: one short sentence."),
        "feel": TextKind("feel", "What it should feel like, where, how strong."),
        "mistakes": INNER,
        "picture": INNER,
        "ready_when": TextKind("ready-when", "What must be true before the next, harder exercise."),
        "easier": INNER,
        "harder": INNER,
        "review": INNER,
    },
    Easier: {"change": TextKind("easier", "Makes the exercise easier: what to do differently. Short: it stands on paper.")},
    Harder: {"change": TextKind("harder", "Makes the exercise harder: what to do differently. Short: it stands on paper.")},
    OwnPicture: {"words": TextKind("picture", "What the clinic's own picture shows, for people who cannot see it.")},
    Mistake: {
        "see": TextKind("mistake", "What people get wrong: what you see or feel."),
        "do": TextKind("mend", "What to do instead of: “{see}”"),
    },
    Review: {"by": TextKind("role", "The role of the person who reviewed the content; not a name.", shared=True), "own": INNER},
    OwnReview: {"by": TextKind("role", "The role of the person who reviewed the content; not a name.", shared=True)},
    Section: {"heading": TextKind("heading", "Heading above steps or paragraphs.", shared=True), "blocks": INNER},
    Programme: {
        "title": TextKind("title", "Title of a programme."),
        "goal": TextKind("goal", "What the patient gets from the programme."),
        "suits": TextKind("for", "Whom the programme suits."),
        "cues": TextKind("cue", "A thought to keep in mind in every exercise of the programme: one short sentence."),
        "through_the_day": TextKind("day", "What to do in daily life beside the exercises."),
        "tiers": INNER,
        "sections": INNER,
        "review": INNER,
    },
    ProgrammeTier: {
        "enter_when": TextKind("enter-when", "The condition for entering the step “{tier}” of the programme.")
    },
    Bundle: {
        "title": TextKind("title", "Title of a ready-made bundle of exercises."),
        "suits": TextKind("for", "Whom the bundle suits."),
        "review": INNER,
    },
    **STANDALONE_TEXTS,
    Caution: {
        "when": TextKind("when", "A sign or condition. SAFETY: translate exactly, plain and calm. Kind: {kind}."),
        "do": TextKind("do", "SAFETY: what to do when: “{when}”"),
    },
    Tier: {
        "name": TextKind("name", "Name of a step of the progression: one word."),
        "means": TextKind("means", "What the step “{name}” means."),
    },
    Term: {"name": TextKind("name", "A word in a list: small letter at the start, unless your language needs a capital.")},
    Position: {"name": TextKind("name", "A starting position, in a list: “lying on your back”.")},
    SearchWords: {
        "words": TextKind(
            "search-words",
            "What people type into the search; never shown. Give what people type in your language, in any number, with commas between.",
        )
    },
    Substitute: {"change": TextKind("change", "What the patient does in another way, where a thing is missing and another takes its place.")},
    Limit: {
        "name": TextKind("name", "A limit on movement, as clinicians call it."),
        "says": TextKind("says", "What the limit says."),
        "phases": INNER,
    },
    PatientCondition: {
        "name": TextKind("name", "Something that a patient may have, in a list for clinicians to tick: short."),
        "asks": TextKind("asks", "SAFETY: what the clinician asks the patient about “{name}”."),
        "rules": INNER,
    },
    ConditionRule: {"says": TextKind("says", "SAFETY: what the clinician asks or changes in some exercises.")},
    LimitPhase: {"name": TextKind("phase", "A time after an operation or injury.")},
    Clinic: {
        "about": TextKind("about", "What the clinic says about itself."),
        "locations": INNER,
        "emergency": INNER,
        "pain_rule": TextKind("pain-rule", "SAFETY: what the clinic teaches about pain. Keep every number."),
        "effort_scale": TextKind("effort-scale", "The scale of effort, its ends in words. Keep 0 and 10. Short: it stands on paper."),
        "flare_plan": INNER,
        "session_cues": INNER,
        "defer": INNER,
    },
    SessionCue: {"name": TextKind("session-cue", "What a patient hangs the session on; behind 'Do it:'. Small letter at the start.")},
    FlareStep: {
        "when": TextKind("flare-when", "SAFETY: how much worse it is, or for how long. Short: it stands on paper."),
        "do": TextKind("flare-do", "SAFETY: what to do when: “{when}” Short: it stands on paper."),
    },
    Location: {"hours": TextKind("hours", "Opening hours; keep the numbers as they are.", shared=True)},
    Emergency: {"text": TextKind("emergency", "SAFETY: when to call the emergency number. Keep the number.")},
    Defer: {
        "surgeon": TextKind("defer-surgeon", "Puts pages and sheets below the surgeon's protocol: it stands on both, so name neither."),
        "clinician": TextKind("defer-clinician", "Puts pages and sheets below the clinician's advice: it stands on both, so name neither."),
    },
}
"""The texts of each kind of record, in the order in which a translator should meet them."""

BLOCK_NOTES = {
    "steps": TextKind("step", "One step, in order; the verb first."),
    "bullets": TextKind("bullet", "One line of a list."),
    "paragraph": TextKind("paragraph", "A paragraph."),
}
LISTS = ("regions", "positions", "equipment", "purposes", "bands", "demands", "paces", "occasions")
"""The closed lists of a vocabulary; each term's owner is ``LIST/SLUG``."""
SAFETY_OWNERS = ("caution/", "clinic", "condition/")
"""Beginnings of owners whose texts tell a reader when to stop or whom to call."""

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class _Walk:
    """One pass over an owner's texts."""

    owner: str
    intro: str | None
    """Before the note of each text; without one no notes are written."""
    visit: Visit

    def record(self, value: Value) -> Value:
        """A record with every text replaced."""
        texts = TEXTS[type(value)]
        changes = {}
        for attribute, text in texts.items():
            old = getattr(value, attribute)
            changes[attribute] = self._value(old, text, value)
        return replace(value, **changes)  # type: ignore[type-var]

    def _value(self, old: Any, text: TextKind, parent: object) -> Any:
        if old is None:
            return None
        if isinstance(old, Words):
            return self._words(old, text, parent)
        if isinstance(old, tuple):
            return tuple(self._value(item, text, parent) for item in old)
        if isinstance(old, Block):
            return Block(old.kind, tuple(self._words(item, BLOCK_NOTES[old.kind], parent) for item in old.items))
        return self.record(old)

    def _words(self, old: Words, text: TextKind, parent: object) -> Words:
        if not old.text:
            return old
        note = ""
        if self.intro is not None:
            note = text.note.format_map(_Attributes(parent)) if "{" in text.note else text.note
            note = f"{self.intro}\n{note}" if self.intro and not text.shared else note
        return self.visit(Message(self.owner, text.name, old.text, note, old.place, text.shared))


class _Attributes(dict[str, str]):
    """The attributes of a record, for the notes declared above."""

    def __init__(self, record: object) -> None:
        super().__init__()
        self._record = record

    def __missing__(self, name: str) -> str:
        value = getattr(self._record, name)
        return str(getattr(value, "value", value))


def rewrite_library(library: Library, visit: Visit, figures: Mapping[str, str] | None = None, *, notes: bool = True) -> Library:
    """The library with every text replaced by what ``visit`` gives; ``figures`` describes figures by exercise slug.

    ``notes``: whether ``visit`` is told what translators are told.
    """
    shown = figures or {}

    def each(
        items: Iterable[Value], owner: Callable[[Value], str], intro: Callable[[Value], str] = lambda _: ""
    ) -> tuple[Value, ...]:
        return tuple(_Walk(owner(item), intro(item) if notes else None, visit).record(item) for item in items)

    def closed_list(name: str) -> Any:
        return each(getattr(library.vocabulary, name), lambda item: f"{name}/{item.slug}")

    lists = {name: closed_list(name) for name in LISTS}
    lists["substitutes"] = each(library.vocabulary.substitutes, lambda item: f"substitute/{item.slug}")
    lists["search_words"] = each(library.vocabulary.search_words, search_words_owner)
    return replace(
        library,
        clinic=_Walk("clinic", "" if notes else None, visit).record(library.clinic),
        tiers=each(library.tiers, lambda item: f"tier/{item.slug}"),
        vocabulary=replace(library.vocabulary, **lists),
        cautions=each(library.cautions, lambda item: f"caution/{item.slug}"),
        limits=each(library.limits, lambda item: f"limit/{item.slug}"),
        conditions=each(library.conditions, lambda item: f"condition/{item.slug}"),
        exercises=each(library.exercises, exercise_owner, lambda item: _exercise_intro(item, shown)),
        programmes=each(
            library.programmes, lambda item: f"programme/{item.code}", lambda item: f"Programme: {item.title}"
        ),
        bundles=each(library.bundles, lambda item: f"bundle/{item.slug}", lambda item: f"Bundle: {item.title}"),
        tests=each(library.tests, standalone_owner, lambda item: f"Test: {item.title}"),
        leaflets=each(library.leaflets, standalone_owner, lambda item: f"Advice sheet: {item.title}"),
        lessons=each(library.lessons, standalone_owner, lambda item: f"Lesson: {item.title}"),
        classes=each(library.classes, standalone_owner, lambda item: f"Class: {item.title}"),
    )


def search_words_owner(words: SearchWords) -> str:
    """What the message of some search words belongs to."""
    return f"search-words/{words.slug}"


def standalone_owner(item: Standalone) -> str:
    """What the messages of something that holds no exercise belong to."""
    return f"{STANDALONE_KINDS[type(item)]}/{item.code}"


def exercise_owner(exercise: Exercise) -> str:
    """What an exercise's messages belong to."""
    return f"exercise/{exercise.code}"


def _exercise_intro(exercise: Exercise, figures: Mapping[str, str]) -> str:
    shown = figures.get(exercise.slug)
    return f"Exercise: {exercise.title}" + (f"\nFigure: {shown}" if shown else "")


def collect_messages(library: Library, figures: Mapping[str, str] | None = None) -> tuple[Message, ...]:
    """Every text of a library in order, one message for each place where it stands."""
    found: list[Message] = []

    def keep(message: Message) -> Words:
        found.append(message)
        return Words(message.text, message.place)

    rewrite_library(library, keep, figures)
    return tuple(found)


def unique_messages(messages: Iterable[Message]) -> tuple[Message, ...]:
    """Each message once, as a catalogue holds it: the first of equal ones."""
    found: dict[tuple[str, str], Message] = {}
    for message in messages:
        found.setdefault(message.key, message)
    return tuple(found.values())


def by_owner(messages: Iterable[Message]) -> dict[str, tuple[Message, ...]]:
    """The messages of each owner, its shared ones with them."""
    found: dict[str, list[Message]] = {}
    for message in messages:
        found.setdefault(message.owner, []).append(message)
    return {owner: tuple(items) for owner, items in found.items()}
