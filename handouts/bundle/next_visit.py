"""The next visit: where each exercise can move to, and how two bundles differ, in words.

``templates/scripts/src/bundle/next_visit.js`` is the twin for the browser.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from handouts.bundle.values import CODE_PLACE, PickedBundle
from handouts.dose.arithmetic import given_dose
from handouts.dose.phrase import dose_line, effort_line, frequency_line, join_parts, rest_line, tempo_line
from handouts.model import Dose, Library, Pick, Ref
from handouts.progression import Option, Progression, build_progression
from handouts.words.speech import Speech


@dataclass(frozen=True, slots=True)
class Moves:
    """Where an exercise can move to: the exercises that are easier, and those that are harder."""

    back: tuple[Option, ...]
    on: tuple[Option, ...]


def moves_of(slug: str, progression: Progression, picked: Sequence[str] = ()) -> Moves:
    """The easier and the harder exercises that are not picked already."""

    def free(options: Sequence[Option]) -> tuple[Option, ...]:
        return tuple(option for option in options if option.slug and option.slug not in picked)

    return Moves(free(progression.easier.get(slug, ())), free(progression.harder.get(slug, ())))


def move_pick(bundle: PickedBundle, slug: str, target: str) -> PickedBundle:
    """The bundle with one exercise replaced by another, in its place and with the library's dose."""
    swapped = Pick(place=CODE_PLACE, exercise=Ref(target, CODE_PLACE))
    picks = (swapped if pick.exercise.slug == slug else pick for pick in bundle.picks)
    return replace(bundle, picks=tuple(picks))


def whole_dose(pick: Pick, library: Library) -> Dose:
    """The dose of a pick."""
    return given_dose(library.exercise[pick.exercise.slug], pick)


def dose_parts(dose: Dose, library: Library, voice: Speech) -> tuple[str, ...]:
    """A dose in parts: the line, how often, rest, effort, tempo; a part may be empty."""
    band = library.term["bands"][dose.band.slug].name.text if dose.band else ""
    lines = (dose_line(dose, voice, band), frequency_line(dose, voice), rest_line(dose, voice))
    return (*lines, effort_line(dose.effort, voice), tempo_line(dose.tempo, voice))


def say_difference(before: PickedBundle, after: PickedBundle, library: Library, voice: Speech) -> tuple[str, ...]:
    """What changed between two bundles, a sentence each: moves, taken out, added, doses, order, weeks, language."""
    old = {pick.exercise.slug: pick for pick in before.picks}
    new = {pick.exercise.slug: pick for pick in after.picks}
    moved = _pair_moves([slug for slug in old if slug not in new], [slug for slug in new if slug not in old], library)
    title = {slug: library.exercise[slug].title.text for slug in (*old, *new)}
    lines = []
    for slug, (target, way) in moved.items():
        dose = _dose_words(new[target], library, voice)
        lines.append(voice.say(f"clinician.moved_{way}", exercise=title[slug], other=title[target], dose=dose))
    arrived = {target for target, _ in moved.values()}
    lines += [
        voice.say("clinician.taken_out", exercise=title[slug]) for slug in old if slug not in new and slug not in moved
    ]
    for slug, pick in new.items():
        if slug in old:
            lines += _say_dose_change(title[slug], old[slug], pick, library, voice)
        elif slug not in arrived:
            lines.append(voice.say("clinician.added", exercise=title[slug], dose=_dose_words(pick, library, voice)))
    if [slug for slug in old if slug in new] != [slug for slug in new if slug in old]:
        lines.append(voice.say("clinician.reordered"))
    lines += _say_frame_change(before, after, library, voice)
    return tuple(lines) or (voice.say("clinician.nothing_changed"),)


def _pair_moves(gone: Sequence[str], come: Sequence[str], library: Library) -> dict[str, tuple[str, str]]:
    """Each exercise taken out in whose place an easier or a harder one was put in: that one, and ``on`` or ``back``."""
    easier = build_progression(library).easier
    before = {slug: {option.slug for option in easier[slug]} for slug in (*gone, *come)}
    found: dict[str, tuple[str, str]] = {}
    free = list(come)
    for slug in gone:
        target = next((name for name in free if slug in before[name] or name in before[slug]), None)
        if target is not None:
            free.remove(target)
            found[slug] = (target, "on" if slug in before[target] else "back")
    return found


def _dose_words(pick: Pick, library: Library, voice: Speech) -> str:
    line, often, *_ = dose_parts(whole_dose(pick, library), library, voice)
    return join_parts((line, often), voice)


def _say_dose_change(title: str, before: Pick, after: Pick, library: Library, voice: Speech) -> list[str]:
    old = dose_parts(whole_dose(before, library), library, voice)
    new = dose_parts(whole_dose(after, library), library, voice)
    unlike = [index for index, part in enumerate(old) if part != new[index]]
    if not unlike:
        return []
    was, now = (join_parts((parts[index] for index in unlike), voice) for parts in (old, new))
    none = voice.say("clinician.none")
    return [voice.say("clinician.dose_changed", exercise=title, before=was or none, after=now or none)]


def _say_frame_change(before: PickedBundle, after: PickedBundle, library: Library, voice: Speech) -> list[str]:
    lines = []
    if before.weeks != after.weeks:
        was = voice.count("clinician.weeks", before.weeks)
        lines.append(
            voice.say("clinician.weeks_changed", before=was, after=voice.count("clinician.weeks", after.weeks))
        )
    if before.language != after.language:
        old, new = voice.name_of(before.language), voice.name_of(after.language)
        lines.append(voice.say("clinician.language_changed", before=old, after=new))
    if before.location != after.location:
        names = {place.slug: place.name for place in library.clinic.locations}
        old, new = names[before.location], names[after.location]
        lines.append(voice.say("clinician.location_changed", before=old, after=new))
    return lines
