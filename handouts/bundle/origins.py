"""What a bundle takes over from the programme or the ready-made bundle that it was begun from, as JSON for the browser.

Its shape and the questions to it: ``templates/scripts/src/bundle/steps.js``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from handouts.markup import plain_text
from handouts.model import Bundle, CautionKind, Library, Programme, Ref, Words
from handouts.steps import make_conditions, name_step, rank_of_tier
from handouts.words.speech import Speech


def origins_json(library: Library, speech: Speech) -> dict[str, Any]:
    """Every programme and every ready-made bundle of a language, by slug; exercises by code, cautions by slug."""
    return {
        "programmes": {item.slug: _programme(item, library, speech) for item in library.programmes},
        "bundles": {item.slug: _bundle(item, library) for item in library.bundles},
    }


def _programme(programme: Programme, library: Library, speech: Speech) -> dict[str, Any]:
    known = library.exercise
    return {
        "title": plain_text(programme.title.text),
        "cues": _plain(programme.cues),
        "day": _plain(programme.through_the_day),
        "cautions": _by_kind(programme.cautions, library),
        "steps": [
            {
                "name": name_step(speech, library, programme, rank),
                "lines": [[each.label, plain_text(each.words.text)] for each in make_conditions(speech, programme, rank)],
                "codes": [known[ref.slug].code for ref in tier.exercises if ref.slug in known],
            }
            for rank, tier in enumerate(programme.tiers)
        ],
    }


def _bundle(bundle: Bundle, library: Library) -> dict[str, Any]:
    programme = library.programme.get(bundle.programme.slug) if bundle.programme else None
    rank = rank_of_tier(programme, bundle.tier.slug) if programme and bundle.tier else None
    return {
        "programme": programme.slug if programme else "",
        "step": 0 if rank is None else rank + 1,
        "cautions": _by_kind(bundle.cautions, library),
    }


def _plain(items: Iterable[Words]) -> list[str]:
    return [plain_text(item.text) for item in items]


def _by_kind(refs: Iterable[Ref], library: Library) -> Mapping[str, list[str]]:
    found = [library.caution[ref.slug] for ref in refs]
    return {kind.value: [each.slug for each in found if each.kind is kind] for kind in CautionKind}
