"""What a bundle takes over from the programme or the ready-made bundle that it was begun from, as JSON for the browser.

Its shape and the questions to it: ``templates/scripts/src/bundle/steps.js``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from handouts.bundle.fields import NAMES
from handouts.bundle.values import Origin
from handouts.dose.arithmetic import COUNTED
from handouts.model import Bundle, CautionKind, Library, Programme, Ref, StageRule, Words
from handouts.publication.steps import make_conditions, name_step, name_step_in, programme_of, rank_of_tier
from handouts.text.markup import plain_text
from handouts.words.wording import Wording


@dataclass(frozen=True, slots=True)
class Begun:
    """What a bundle was begun from, as far as a library has it.  The twin of ``placeOf`` in ``steps.js``."""

    programme: Programme | None = None
    rank: int | None = None
    """Place of the step in the programme, from 0."""
    cautions: tuple[Ref, ...] = ()
    """Those of the ready-made bundle itself; the programme has its own."""
    lost: str = ""
    """``origin`` where the bundle or the programme is not there, and with it some cautions; ``step`` where only the step is not."""


def begun_from(origin: Origin | None, library: Library) -> Begun:
    """What an origin stands for in a library; says what of it is lost, never passes it over."""
    if origin is None:
        return Begun()
    if origin.kind == "bundle":
        ready = next((each for each in library.bundles if each.slug == origin.slug), None)
        if ready is None:
            return Begun(lost="origin")
        programme = programme_of(library, ready)
        rank = rank_of_tier(programme, ready.tier.slug) if programme and ready.tier else None
        return Begun(programme, rank, ready.cautions, "origin" if ready.programme and programme is None else "")
    programme = library.programme.get(origin.slug)
    if programme is None:
        return Begun(lost="origin")
    if not 1 <= origin.step <= len(programme.tiers):
        return Begun(programme, lost="step" if origin.step else "")
    return Begun(programme, origin.step - 1)


def name_begun(begun: Begun, library: Library, wording: Wording) -> str:
    """The programme's title, with its step where there is one; empty without a programme."""
    if begun.programme is None:
        return ""
    name = plain_text(begun.programme.title.text)
    return name if begun.rank is None else name_step_in(wording, library, begun.programme, begun.rank, name)


def say_begun(begun: Begun, library: Library, wording: Wording) -> tuple[str, ...]:
    """For the clinician's record: the programme with its step, and what of it is lost; a sentence each."""
    name = name_begun(begun, library, wording)
    lines = (wording.say("clinician.chart_begun", origin=name) if name else "", wording.say(f"clinician.lost_{begun.lost}") if begun.lost else "")
    return tuple(line for line in lines if line)


def origins_json(library: Library, wording: Wording) -> dict[str, Any]:
    """Every programme and every ready-made bundle of a language, by slug; exercises by code, cautions by slug."""
    return {
        "programmes": {item.slug: _programme(item, library, wording) for item in library.programmes},
        "bundles": {item.slug: _bundle(item, library) for item in library.bundles},
    }


def _programme(programme: Programme, library: Library, wording: Wording) -> dict[str, Any]:
    known = library.exercise
    return {
        "title": plain_text(programme.title.text),
        "named": [name_step_in(wording, library, programme, rank, plain_text(programme.title.text)) for rank in range(len(programme.tiers))],
        "cues": _plain(programme.cues),
        **({"rules": [_rule(rule) for rule in programme.stage_rules]} if programme.stage_rules else {}),
        "day": _plain(programme.through_the_day),
        "cautions": _by_kind(programme.cautions, library),
        "steps": [
            {
                "name": name_step(wording, library, programme, rank),
                "lines": [[each.label, plain_text(each.words.text)] for each in make_conditions(wording, programme, rank)],
                "codes": [known[ref.slug].code for ref in tier.exercises if ref.slug in known],
            }
            for rank, tier in enumerate(programme.tiers)
        ],
    }


def _rule(rule: StageRule) -> dict[str, Any]:
    """A stage of a programme: the week, and what is added by the field's name in a file."""
    names = ("sets", *COUNTED, "weight_kg", "days")
    return {"week": rule.week, "add": {NAMES[name]: value for name in names if (value := getattr(rule, name)) is not None}}


def _bundle(bundle: Bundle, library: Library) -> dict[str, Any]:
    programme = programme_of(library, bundle)
    rank = rank_of_tier(programme, bundle.tier.slug) if programme and bundle.tier else None
    return {
        "programme": bundle.programme.slug if bundle.programme else "",
        "step": 0 if rank is None else rank + 1,
        "cautions": _by_kind(bundle.cautions, library),
    }


def _plain(items: Iterable[Words]) -> list[str]:
    return [plain_text(item.text) for item in items]


def _by_kind(refs: Iterable[Ref], library: Library) -> Mapping[str, list[str]]:
    found = [library.caution[ref.slug] for ref in refs]
    return {kind.value: [each.slug for each in found if each.kind is kind] for kind in CautionKind}
