"""A small library for the room of bundles: exercises that build on one another, and a caution that asks first."""

from __future__ import annotations

from handouts.model import Library
from tests.small_library import CAUTIONS, CLINIC, EXERCISE, TEXTS, VOCABULARY, small_library

_DOSE = "dose: {sets: 2, reps: 10, tempo: 2-1-2, rest: 60 s, days: 3, effort: 3-5}\ndose range: {sets: 1-3, reps: 5-15}"
_ASK = "  - {slug: new-hip, kind: ask, when: You have a new hip., do: Ask us first., source: common practice}\n"


def _exercise(code: str, title: str, dose: str, after: str = "", edits: tuple[tuple[str, str], ...] = ()) -> str:
    text = EXERCISE.format(code=code, title=title, tier="wake", after=f"after: [{after}]\n" if after else "")
    easier = ("easier: Lift half as high.\n", f"easier: [{after}]\n" if after else "")
    for old, new in ((_DOSE, dose), easier, *edits):
        assert old in text
        text = text.replace(old, new)
    return text


_STANDING = (("position: sitting", "position: standing"), ("equipment: [chair]", "equipment: []"))
LIBRARY: Library = small_library({
    **{path: text for path, text in TEXTS.items() if path.count("/") == 0},
    "clinic.yaml": CLINIC.replace("languages: {source: en}", "languages: {source: en, also: [es]}").replace(
        'phone: 555-0100}', 'phone: 555-0100}\n  - {slug: hill, name: Hill Road, address: "2 Hill Road, Testville", phone: 555-0101}'),
    "vocabulary.yaml": VOCABULARY,
    "cautions.yaml": CAUTIONS + _ASK,
    "exercises/sit.md": _exercise("S2T3", "Sit tall", "dose: {sets: 3, reps: 10, tempo: 2-1-3, rest: 60 s, days: 3, effort: 4-6}\ndose range: {sets: 1-4, reps: 5-15}"),
    "exercises/stand.md": _exercise("S2T4", "Stand up", "dose: {sets: 3, reps: 10, side: both, tempo: 2-0-2, rest: 60 s, days: 3}\ndose range: {sets: 1-4, reps: 5-15, rest: 30-90 s}", "sit",
                                    (*_STANDING, ("cautions: [stop-pain]", "cautions: [stop-pain, new-hip]"))),
    "exercises/walk.md": _exercise("S2T5", "Walk", "dose: {time: 20 min, days: 7, times: 2}\ndose range: {time: 5-30 min}", "stand",
                                   (*_STANDING, ("cautions: [stop-pain]", "cautions: [stop-pain, new-hip]"))),
    "exercises/lift.md": _exercise("S2T6", "Lift", "dose: {sets: 2, reps: 10, days: 2}", "sit"),
})
