"""A library without what was withdrawn: what named it falls back to what came before it, or to what took its place.

An exercise that came after a withdrawn one is never left without anything before it where there was something.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from handouts.dose.progression import build_progression, keep_named
from handouts.ledger.entries import Ledger, folder_of
from handouts.model import Bundle, ClassPlan, Exercise, Leaflet, Library, Programme, Ref, Standalone, WholeStep
from handouts.text.markup import plain_text


@dataclass(frozen=True, slots=True)
class WithdrawalEffect:
    """What a withdrawal means for something else, in a sentence for the clinic."""

    title: str
    says: str
    item: str = ""
    """``bundles/SLUG`` and the like of what has nothing left and goes with it."""


@dataclass(frozen=True, slots=True)
class LeftStanding:
    """A library without what was withdrawn."""

    library: Library
    falls: tuple[WithdrawalEffect, ...] = ()


def find_withdrawn(library: Library, ledger: Ledger | None) -> dict[str, str]:
    """By ``exercises/SLUG`` and the like what the ledger has as withdrawn or replaced, with the slug that took its place or nothing."""
    known = {entry.code: entry for entry in ledger.entries if entry.is_retired} if ledger else {}
    if not known or ledger is None:
        return {}
    codes = {item.code: item.slug for item in library.exercises}
    rows = [
        *(("exercises", item.slug, item.code) for item in library.exercises),
        *(("programmes", item.slug, item.code) for item in library.programmes),
        *(("bundles", item.slug, ledger.code_of(item.slug)) for item in library.bundles),
        *((folder, item.slug, item.code) for folder, items in library.standalones.items() for item in items),
    ]
    found = {}
    for kind, slug, code in rows:
        entry = known.get(code)
        if entry and folder_of(entry.kind) == kind and slug in entry.slugs:
            found[f"{kind}/{slug}"] = codes.get(entry.replaced_by or "", "")
    return found


def without(library: Library, gone: Mapping[str, str]) -> LeftStanding:
    """The library without ``gone`` (as from ``find_withdrawn``), and what that means for all that named it."""
    if not gone:
        return LeftStanding(library)
    heirs = {name.removeprefix("exercises/"): heir for name, heir in gone.items() if name.startswith("exercises/")}
    kept = [item for item in library.exercises if item.slug not in heirs]
    exercises, falls, progression = [], list[WithdrawalEffect](), build_progression(library)
    for exercise in kept:
        now = keep_named(exercise, lambda slug: slug not in heirs)
        if any(isinstance(need, WholeStep) or need.slug in heirs for need in exercise.after):
            later = {exercise.slug, *progression.beyond(exercise.slug)}
            now = replace(now, after=_after(exercise, later, library, gone, heirs))
        now = exercise if now == exercise else now
        exercises.append(now)
        falls += _exercise_falls(exercise, now, library, heirs)
    programmes = []
    for programme in library.programmes:
        if f"programmes/{programme.slug}" in gone:
            continue
        left, found = _programme(programme, library, heirs)
        programmes += [left] if left else []
        falls += found
    there = {programme.slug for programme in programmes}
    bundles = []
    for bundle in library.bundles:
        if f"bundles/{bundle.slug}" in gone:
            continue
        rest, fall = _bundle(bundle, library, heirs, there)
        bundles += [rest] if rest else []
        falls += [fall] if fall else []
    kept_leaflets = [item for item in library.leaflets if f"leaflets/{item.slug}" not in gone]
    leaflets = [_leaflet(item, heirs, there) for item in kept_leaflets]
    for before, after in zip(kept_leaflets, leaflets, strict=True):
        if lost := ", ".join(_title(library.exercise[ref.slug]) for ref in before.keep if ref not in after.keep and ref.slug in library.exercise):
            falls.append(WithdrawalEffect(_title(before), f"is shown without {lost}"))
    lessons = [item for item in library.lessons if f"lessons/{item.slug}" not in gone]
    lost_lessons = [item for item in lessons if item.exercise.slug in heirs]
    falls += [WithdrawalEffect(_title(item), "teaches what goes, and is withdrawn with it", f"lessons/{item.slug}") for item in lost_lessons]
    kept_classes = [item for item in library.classes if f"classes/{item.slug}" not in gone]
    classes = [_class(item, heirs) for item in kept_classes]
    falls += [_class_fall(before, after, heirs, library) for before, after in zip(kept_classes, classes, strict=True) if before != after]
    made = replace(
        library,
        exercises=tuple(exercises),
        programmes=tuple(programmes),
        bundles=tuple(bundles),
        tests=tuple(item for item in library.tests if f"tests/{item.slug}" not in gone),
        leaflets=tuple(leaflets),
        lessons=tuple(item for item in lessons if item not in lost_lessons),
        classes=tuple(item for item in classes if item.stations),
    )
    return LeftStanding(made, tuple(falls))


def _after(
    exercise: Exercise, later: set[str], library: Library, gone: Mapping[str, str], heirs: Mapping[str, str]
) -> tuple[Ref | WholeStep, ...]:
    """What comes before an exercise now; ``later`` is itself and what builds on it."""
    found: dict[str, Ref | WholeStep] = {}
    seen: set[str] = set()

    def take(need: Ref | WholeStep) -> None:
        if isinstance(need, WholeStep):
            if f"programmes/{need.programme.slug}" not in gone:
                found.setdefault(f"{need.programme.slug} {need.tier.slug}", need)
                return
            whole = library.programme.get(need.programme.slug)
            inner = [ref for tier in whole.tiers if tier.tier == need.tier for ref in tier.exercises] if whole else []
            for ref in inner:
                take(replace(ref, place=need.place))
        elif need.slug not in heirs:
            if need.slug not in later or need in exercise.after:
                found.setdefault(need.slug, need)
        elif need.slug not in seen:
            seen.add(need.slug)
            heir = heirs[need.slug]
            if heir and heir not in later and heir in library.exercise:
                take(replace(need, slug=heir))
            else:
                for before in library.exercise[need.slug].after:
                    take(replace(before, place=need.place))

    for need in exercise.after:
        take(need)
    return tuple(found.values())


def _leaflet(leaflet: Leaflet, heirs: Mapping[str, str], there: set[str]) -> Leaflet:
    """An advice sheet without the exercises and the programme that are gone."""
    lost = leaflet.programme is not None and leaflet.programme.slug not in there
    return replace(leaflet, keep=tuple(ref for ref in leaflet.keep if ref.slug not in heirs), programme=None if lost else leaflet.programme)


def _class(plan: ClassPlan, heirs: Mapping[str, str]) -> ClassPlan:
    """A class without the levels that are gone, and without the stations that have none left."""
    stations = (replace(each, levels=tuple(ref for ref in each.levels if ref.slug not in heirs)) for each in plan.stations)
    return replace(plan, stations=tuple(each for each in stations if each.levels))


def _class_fall(before: ClassPlan, after: ClassPlan, heirs: Mapping[str, str], library: Library) -> WithdrawalEffect:
    if not after.stations:
        return WithdrawalEffect(_title(before), "has no station left, and is withdrawn with them", f"classes/{before.slug}")
    lost = dict.fromkeys(ref.slug for station in before.stations for ref in station.levels if ref.slug in heirs and ref.slug in library.exercise)
    return WithdrawalEffect(_title(before), f"goes on without {', '.join(_title(library.exercise[slug]) for slug in lost)}")


def _title(item: Exercise | Programme | Bundle | Standalone) -> str:
    return plain_text(item.title.text)


def _names(exercise: Exercise, library: Library) -> list[str]:
    return [
        _title(library.exercise[need.slug]) if isinstance(need, Ref) else f"a whole step of {need.programme.slug}"
        for need in exercise.after
        if not isinstance(need, Ref) or need.slug in library.exercise
    ]


def _exercise_falls(before: Exercise, now: Exercise, library: Library, heirs: Mapping[str, str]) -> Iterator[WithdrawalEffect]:
    if before.after != now.after:
        then, since = ", ".join(_names(before, library)), ", ".join(_names(now, library)) or "nothing: it becomes a first exercise"
        yield WithdrawalEffect(_title(before), f"came after {then}; now it comes after {since}")
    for word, was, left in (("easier", before.easier, now.easier), ("harder", before.harder, now.harder)):
        lost = [_title(library.exercise[way.exercise.slug]) for way in was if way.exercise and way.exercise.slug in heirs]
        if lost:
            rest = [_title(library.exercise[way.exercise.slug]) if way.exercise else f"“{way.change}”" for way in left]
            yield WithdrawalEffect(_title(before), f"named {', '.join(lost)} as {word}; what is left: {', '.join(rest) or 'nothing'}")


def _programme(programme: Programme, library: Library, heirs: Mapping[str, str]) -> tuple[Programme | None, list[WithdrawalEffect]]:
    falls, tiers = [], []
    for number, tier in enumerate(programme.tiers, 1):
        left = tuple(ref for ref in tier.exercises if ref.slug not in heirs)
        tiers.append(replace(tier, exercises=left))
        if len(left) < len(tier.exercises):
            lost = ", ".join(_title(library.exercise[ref.slug]) for ref in tier.exercises if ref.slug in heirs)
            many = "1 exercise is left" if len(left) == 1 else f"{len(left)} exercises are left"
            falls.append(WithdrawalEffect(_title(programme), f"step {number} is shown without {lost}; {many}"))
    if not any(tier.exercises for tier in tiers):
        return None, [WithdrawalEffect(_title(programme), "has no exercise left and is withdrawn with it", f"programmes/{programme.slug}")]
    return (replace(programme, tiers=tuple(tiers)) if falls else programme), falls


def _bundle(bundle: Bundle, library: Library, heirs: Mapping[str, str], there: set[str]) -> tuple[Bundle | None, WithdrawalEffect | None]:
    if bundle.programme and bundle.programme.slug in library.programme and bundle.programme.slug not in there:
        return None, WithdrawalEffect(_title(bundle), "belongs to a programme that goes, and is withdrawn with it", f"bundles/{bundle.slug}")
    left = tuple(pick for pick in bundle.picks if pick.exercise.slug not in heirs)
    if len(left) == len(bundle.picks):
        return bundle, None
    if not left:
        return None, WithdrawalEffect(_title(bundle), "has no exercise left and is withdrawn with it", f"bundles/{bundle.slug}")
    lost = ", ".join(_title(library.exercise[pick.exercise.slug]) for pick in bundle.picks if pick.exercise.slug in heirs)
    return replace(bundle, picks=left), WithdrawalEffect(_title(bundle), f"is shown without {lost}")
