"""Small values of the model for tests: each builder gives something valid and takes what the test changes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from handouts.model import (
    Block,
    Bundle,
    Call,
    Caution,
    CautionKind,
    Clinic,
    Defer,
    Dose,
    DoseChange,
    Easier,
    Emergency,
    Exercise,
    Harder,
    Languages,
    Library,
    Location,
    Mistake,
    Pick,
    Position,
    Programme,
    ProgrammeTier,
    Ref,
    Review,
    ReviewPolicy,
    Section,
    SessionPolicy,
    Side,
    Span,
    Tempo,
    Term,
    Tier,
    Vocabulary,
    WholeStep,
    Words,
)
from handouts.problems import Place
from handouts.words import pseudo
from handouts.words.messages import rewrite_library

PLACE = Place("test.md")


def words(text: str) -> Words:
    """A text at no particular place."""
    return Words(text, PLACE)


def refs(*slugs: str) -> tuple[Ref, ...]:
    """Names of things declared elsewhere."""
    return tuple(Ref(slug, PLACE) for slug in slugs)


def a_review() -> Review:
    """A review of 14 September 2026."""
    return Review(place=PLACE, on=date(2026, 9, 14), by=words("lead physiotherapist"))


def a_dose(**changes: Any) -> Dose:
    """2 sets of 10, each side, with tempo, rest, days and effort."""
    given = {"sets": 2, "reps": 10, "side": Side.BOTH, "tempo": Tempo(2, 1, 3), "rest_seconds": 60, "days": 3,
             "effort": Span(4, 6)}
    return Dose(place=PLACE, **{**given, **changes})


def _ways(make: type[Easier] | type[Harder], given: Sequence[str | tuple[str, str]]) -> Any:
    """A text with a blank is a sentence, without one an exercise; a pair is an exercise and what changes there."""
    found = []
    for item in given:
        name, change = (item, "") if isinstance(item, str) else item
        if " " in name:
            name, change = "", name
        found.append(make(place=PLACE, exercise=Ref(name, PLACE) if name else None, change=words(change) if change else None))
    return tuple(found)


def easier_ways(*given: str | tuple[str, str]) -> tuple[Easier, ...]:
    """Ways to make an exercise easier: sentences, names, or pairs of both."""
    found: tuple[Easier, ...] = _ways(Easier, given)
    return found


def harder_ways(*given: str | tuple[str, str]) -> tuple[Harder, ...]:
    """The same, harder."""
    found: tuple[Harder, ...] = _ways(Harder, given)
    return found


def whole_step(tier: str, programme: str) -> WholeStep:
    """A whole step of a programme, as what must be mastered first."""
    return WholeStep(place=PLACE, tier=Ref(tier, PLACE), programme=Ref(programme, PLACE))


def an_exercise(slug: str = "step-up", **changes: Any) -> Exercise:
    """An exercise on a step; ``title``, ``also_called``, ``after`` and the like may be given as plain texts."""
    number = sum(map(ord, slug))
    given: dict[str, Any] = {
        "code": f"X{number:X}"[-4:].rjust(4, "2"), "title": slug.replace("-", " ").capitalize(), "tier": "build",
        "regions": ("knee",), "purpose": "strength", "position": "standing", "equipment": ("step",),
        "why": "This is what stairs ask of you.", "cues": ("Push through your heel.", "Stand tall."),
        "feel": "You feel the front of your thigh work.", "also_called": (), "after": (), "cautions": ("sharp-pain",),
        "ready_when": "You can do it 15 times.", "dose": a_dose(), "sources": ("Common practice, no source",),
        "mistakes": (("Your knee falls in.", "Point it over your toes."),),
        "steps": ("Put one foot on the step.", "Push up.", "Lower slowly."),
    }  # fmt: skip
    given |= changes
    steps = given.pop("steps")
    for name in ("title", "why", "feel", "ready_when"):
        given[name] = words(given[name])
    for name in ("cues", "also_called"):
        given[name] = tuple(words(text) for text in given[name])
    for name in ("tier", "purpose", "position"):
        given[name] = Ref(given[name], PLACE)
    given["after"] = tuple(Ref(need, PLACE) if isinstance(need, str) else need for need in given["after"])
    for name in ("regions", "equipment", "cautions"):
        given[name] = refs(*given[name])
    given["mistakes"] = tuple(Mistake(place=PLACE, see=words(see), do=words(do)) for see, do in given["mistakes"])
    block = Block("steps", tuple(words(text) for text in steps))
    return Exercise(place=PLACE, slug=slug, review=a_review(), sections=(Section(words("How to do it"), (block,)),), **given)


def a_clinic(**changes: Any) -> Clinic:
    """An invented clinic with two locations."""
    where = [("market-street", "Market Street", "555-0141"), ("mill-lane", "Mill Lane", "555-0142")]
    given: dict[str, Any] = {
        "name": "Testford Physiotherapy", "invented": True, "about": words("An invented clinic."),
        "site": "https://testford.example/",
        "locations": tuple(Location(place=PLACE, slug=slug, name=name, address=f"1 {name}, Testford", phone=phone)
                           for slug, name, phone in where),
        "emergency": Emergency(place=PLACE, number="911", text=words("Call 911 if you faint.")),
        "languages": Languages(place=PLACE, source="en", also=("ar-XB",)),
        "papers": ("letter", "a4"), "type_sizes": ("standard", "large"), "accent": "#0f5e6b", "reading_level": 6.0,
        "review": ReviewPolicy(place=PLACE, months=12, notice_days=60, grace_days=90),
        "session": SessionPolicy(place=PLACE, minutes=30, exercises=6, change_seconds=30, between_seconds=30),
        "pain_rule": words("Pain up to 3 out of 10 is fine."),
        "defer": Defer(place=PLACE, surgeon=words("Your surgeon's plan comes first."),
                       clinician=words("This sheet does not replace your physiotherapist.")),
    }  # fmt: skip
    return Clinic(place=PLACE, **{**given, **changes})


def a_caution(slug: str = "sharp-pain", kind: CautionKind = CautionKind.STOP, call: Call = Call.CLINIC) -> Caution:
    """A caution; a stop rule unless told otherwise."""
    return Caution(place=PLACE, slug=slug, kind=kind, when=words("You feel a sharp pain."), do=words("Stop and call us."),
                   call=call, source="Common practice, no source")


def a_programme(slug: str, tiers: Sequence[tuple[str, Sequence[str]]], **changes: Any) -> Programme:
    """A programme of the named exercises by tier."""
    given: dict[str, Any] = {
        "code": "P222", "title": words(slug.replace("-", " ").capitalize()), "goal": words("You climb stairs again."),
        "suits": words("People with weak knees."), "weeks": 8, "cautions": refs("sharp-pain"),
        "tiers": tuple(ProgrammeTier(place=PLACE, tier=Ref(tier, PLACE), enter_when=words("You can stand."),
                                     exercises=refs(*slugs)) for tier, slugs in tiers),
        "sources": ("Common practice, no source",),
        "sections": (Section(words("How to use it"), (Block("bullets", (words("Go slowly."),)),)),),
    }  # fmt: skip
    return Programme(place=PLACE, slug=slug, review=a_review(), **{**given, **changes})


def a_library(*exercises: Exercise, language: str = "en", **changes: Any) -> Library:
    """A library; with no exercises given it has five in three tiers, one programme and one bundle."""
    terms = {
        "regions": ("knee", "hip", "ankle"), "equipment": ("step", "chair", "mat"), "purposes": ("strength", "balance"),
        "bands": ("light",),
    }  # fmt: skip
    levels = {"lying": "floor", "seated": "chair", "standing": "standing"}
    usual = (
        an_exercise("bridge", tier="wake", regions=("hip",), position="lying", equipment=("mat",), also_called=("hip lift",)),
        an_exercise("sit-to-stand", after=("bridge",), position="seated", equipment=("chair",), also_called=("get up",)),
        an_exercise("heel-raise", regions=("ankle",), equipment=(), after=("bridge",), purpose="balance"),
        an_exercise("step-up", tier="live", after=("sit-to-stand", "heel-raise"), easier=easier_ways("Use a lower step.", ("sit-to-stand", "Both legs lift you.")), also_called=("stair climb", "steps")),
        an_exercise("step-down", tier="live", after=("step-up", "heel-raise"), easier=easier_ways("step-up"), cautions=("sharp-pain", "faint", "new-hip", "tired")),
    )
    given: dict[str, Any] = {
        "clinic": a_clinic(),
        "tiers": tuple(Tier(place=PLACE, slug=slug, name=words(slug.capitalize()), means=words(f"The tier {slug}."))
                       for slug in ("wake", "build", "live")),
        "vocabulary": Vocabulary(
            place=PLACE,
            positions=tuple(Position(place=PLACE, slug=slug, name=words(slug), level=level) for slug, level in levels.items()),
            **{kind: tuple(Term(place=PLACE, slug=slug, name=words(slug)) for slug in slugs) for kind, slugs in terms.items()}),
        "cautions": (a_caution(), a_caution("faint", call=Call.EMERGENCY), a_caution("new-hip", CautionKind.ASK),
                     a_caution("tired", CautionKind.CARE, Call.NONE)),
        "limits": (),
        "exercises": exercises or usual,
        "programmes": () if exercises else (
            a_programme("stairs", [("wake", ["bridge"]), ("build", ["sit-to-stand", "heel-raise"]), ("live", ["step-up", "step-down"])]),
        ),
        "bundles": () if exercises else (
            Bundle(place=PLACE, slug="first-days", title=words("First days"), suits=words("People who begin."), weeks=2,
                   picks=(Pick(place=PLACE, exercise=Ref("bridge", PLACE)),
                          Pick(place=PLACE, exercise=Ref("sit-to-stand", PLACE), change=DoseChange(place=PLACE, sets=1))),
                   review=a_review()),
        ),
    }  # fmt: skip
    return Library(language=language, **{**given, **changes})


def pseudo_library(library: Library, language: str) -> Library:
    """The library in a pseudo-language, for layout tests."""
    made = rewrite_library(library, lambda message: Words(pseudo.change_text(message.text, language), message.place))
    return replace(made, language=language, phrases={})
