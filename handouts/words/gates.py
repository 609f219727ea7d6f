"""The gates: what of a library may be published in a language, and why the rest may not.

An exercise is published in a language only when every text that its page shows is usable there, its
cautions and the words of the closed lists included.  When to stop and whom to call must have been
reviewed as well.  Decides; never rewrites a library.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

from handouts.model import (
    Bundle,
    ClassPlan,
    Exercise,
    FunctionTest,
    Library,
    Programme,
    Standalone,
    Unreviewed,
    exercises_named,
)
from handouts.problems import Place
from handouts.words.messages import LISTS, SAFETY_OWNERS, exercise_owner, standalone_owner
from handouts.words.standalone_texts import STANDALONE_KINDS
from handouts.words.state import LanguageState, OwnerState, TextState


@dataclass(frozen=True, slots=True)
class Gap:
    """One thing that is not published in a language."""

    kind: str
    """``language``, ``exercise``, ``programme``, ``bundle``, ``test``, ``leaflet``, ``lesson``, ``class``, ``term``, ``caution`` or ``limit``."""
    slug: str
    title: str
    """In the source language: for the clinic, not for patients."""
    because: tuple[str, ...]
    place: Place = field(compare=False, repr=False, default=Place(""))

    @property
    def is_left_out(self) -> bool:
        """Whether it is published all the same, without some of its exercises."""
        return self.because[:1] != () and self.because[0].startswith(LEFT_OUT)


LEFT_OUT = "left out"
"""Beginning of the reason of what is published without some of its exercises."""


def exercise_needs(exercise: Exercise) -> tuple[str, ...]:
    """The owners whose texts an exercise's page shows."""
    dose = exercise.dose
    named = (("bands", dose.band), ("paces", dose.pace_words), ("occasions", dose.occasion))
    return (
        exercise_owner(exercise),
        f"tier/{exercise.tier}",
        f"purposes/{exercise.purpose}",
        f"positions/{exercise.position}",
        *(f"regions/{ref}" for ref in exercise.regions),
        *(f"equipment/{ref}" for ref in exercise.equipment),
        *(f"{kind}/{ref}" for kind, ref in named if ref),
        *(f"caution/{ref}" for ref in exercise.cautions),
    )


def programme_needs(programme: Programme) -> tuple[str, ...]:
    """The owners whose texts a programme's page shows, its exercises' own aside."""
    return (
        f"programme/{programme.code}",
        *(f"tier/{tier.tier}" for tier in programme.tiers),
        *(f"caution/{ref}" for ref in programme.cautions),
    )


def bundle_needs(bundle: Bundle, library: Library) -> tuple[str, ...]:
    """The owners whose texts a bundle's page shows, its exercises' own aside; those of its programme with them."""
    bands = (pick.change.band for pick in bundle.picks if pick.change and pick.change.band)
    chosen = {ref.slug for pick in bundle.picks for ref in pick.substitutes}
    taken = [item for item in library.vocabulary.substitutes if item.slug in chosen]
    programme = library.programme.get(bundle.programme.slug) if bundle.programme else None
    return (
        f"bundle/{bundle.slug}",
        *(f"bands/{ref}" for ref in bands),
        *(f"substitute/{item.slug}" for item in taken),
        *(f"equipment/{item.take}" for item in taken),
        *(f"caution/{ref}" for ref in bundle.cautions),
        *(programme_needs(programme) if programme else ()),
    )


def standalone_needs(item: Standalone) -> tuple[str, ...]:
    """The owners whose texts the page of something without exercises shows."""
    equipment = item.equipment if isinstance(item, FunctionTest | ClassPlan) else ()
    positions = item.positions if isinstance(item, ClassPlan) else ()
    return (
        standalone_owner(item),
        *(f"equipment/{ref}" for ref in equipment),
        *(f"positions/{ref}" for ref in positions),
        *(f"caution/{ref}" for ref in item.cautions),
    )


@dataclass(frozen=True)
class Gates:
    """What may be published of a library in one language."""

    library: Library
    state: LanguageState

    @cached_property
    def exercise_reasons(self) -> dict[str, tuple[str, ...]]:
        """Why each exercise is not published, by slug; empty where it is."""
        return {item.slug: self.reasons(exercise_needs(item)) for item in self.library.exercises}

    def programme_reasons(self, programme: Programme) -> tuple[str, ...]:
        """Why a programme is not published; empty where it is."""
        reasons = self.reasons(programme_needs(programme))
        if not reasons and not any(self.has_exercise(slug) for slug in programme.exercise_slugs):
            return ("none of its exercises is published",)
        return reasons

    def bundle_reasons(self, bundle: Bundle) -> tuple[str, ...]:
        """Why a bundle is not published; empty where it is."""
        reasons = self.reasons(bundle_needs(bundle, self.library))
        if not reasons and not any(self.has_exercise(pick.exercise.slug) for pick in bundle.picks):
            return ("none of its exercises is published",)
        programme = self.library.programme.get(bundle.programme.slug) if bundle.programme else None
        if not reasons and programme is not None and self.programme_reasons(programme):
            return ("its programme is not published",)
        return reasons

    def standalone_reasons(self, item: Standalone) -> tuple[str, ...]:
        """Why something without exercises is not published; empty where it is.  It names no exercise that is not."""
        named = exercises_named(item)
        lacking = tuple(f"exercise {ref} is not published" for ref in named if not self.has_exercise(ref.slug))
        return self.reasons(standalone_needs(item)) or lacking

    def has_exercise(self, slug: str) -> bool:
        """Whether an exercise is published."""
        return not self.exercise_reasons.get(slug, ("unknown",))

    def has(self, owner: str) -> bool:
        """Whether one owner's texts are published."""
        return not self.reasons((owner,))

    def reasons(self, owners: Iterable[str]) -> tuple[str, ...]:
        """Why texts of these owners are not published; empty where they are."""
        found = []
        for owner in dict.fromkeys(owners):
            found += self._owner_reasons.get(owner, [f"{owner}: unknown"])
        return tuple(found)

    @cached_property
    def _owner_reasons(self) -> dict[str, list[str]]:
        return {name: self._reasons_of(owner) for name, owner in self.state.owners.items()}

    def _reasons_of(self, owner: OwnerState) -> list[str]:
        counts = [] if owner.usable else [(state, len(owner.having(state))) for state in TextState if state is not TextState.USABLE]
        found = [f"{owner.owner}: {count} {state.value}" for state, count in counts if count]
        if not found and not owner.reviewed and not self._may_be_unreviewed(owner.owner):
            found.append(f"{owner.owner}: {'review reopened' if owner.reopened else 'not reviewed'}")
        return found

    def _may_be_unreviewed(self, owner: str) -> bool:
        """The clinic decides; when to stop and whom to call must be reviewed, save in a library that is invented."""
        clinic = self.library.clinic
        if clinic.review.unreviewed is Unreviewed.HOLD_BACK:
            return False
        return clinic.invented or not owner.startswith(SAFETY_OWNERS)

    def any_unreviewed(self, owners: Iterable[str]) -> bool:
        """Whether any owner's texts have not been reviewed as they stand."""
        states = (self.state.owners.get(owner) for owner in owners)
        return any(state is not None and not state.reviewed for state in states)


def find_gaps(gates: Gates) -> tuple[Gap, ...]:
    """Everything in a library that is not published in the language."""
    library = gates.library
    found: list[Gap] = []
    found += (
        Gap("exercise", item.slug, str(item.title), gates.exercise_reasons[item.slug], item.place)
        for item in library.exercises
    )
    found += (
        Gap("programme", item.slug, str(item.title), gates.programme_reasons(item), item.place)
        for item in library.programmes
    )
    found += (
        Gap("bundle", item.slug, str(item.title), gates.bundle_reasons(item), item.place) for item in library.bundles
    )
    found += (
        Gap(STANDALONE_KINDS[type(item)], item.slug, str(item.title), gates.standalone_reasons(item), item.place)
        for item in library.all_standalones
    )
    found += (
        Gap("caution", item.slug, str(item.when), gates.reasons((f"caution/{item.slug}",)), item.place)
        for item in library.cautions
    )
    found += (
        Gap("limit", item.slug, str(item.name), gates.reasons((f"limit/{item.slug}",)), item.place)
        for item in library.limits
    )
    found += (
        Gap("condition", item.slug, str(item.name), gates.reasons((f"condition/{item.slug}",)), item.place)
        for item in library.conditions
    )
    for name in LISTS:
        for term in getattr(library.vocabulary, name):
            found.append(Gap("term", term.slug, str(term.name), gates.reasons((f"{name}/{term.slug}",)), term.place))
    return tuple(gap for gap in found if gap.because)


def find_unreviewed(gates: Gates, published: Library) -> frozenset[str]:
    """The pages of a published library that show a text which nobody has reviewed: ``exercises/SLUG`` and so on."""
    common = ("clinic", *(f"tier/{tier.slug}" for tier in published.tiers))
    exercises = {item.slug: gates.any_unreviewed((*common, *exercise_needs(item))) for item in published.exercises}
    pages = [f"exercises/{slug}" for slug, is_so in exercises.items() if is_so]
    for programme in published.programmes:
        inside = any(exercises[slug] for slug in programme.exercise_slugs)
        if inside or gates.any_unreviewed((*common, *programme_needs(programme))):
            pages.append(f"programmes/{programme.slug}")
    for bundle in published.bundles:
        inside = any(exercises[pick.exercise.slug] for pick in bundle.picks)
        if inside or gates.any_unreviewed((*common, *bundle_needs(bundle, published))):
            pages.append(f"bundles/{bundle.slug}")
    for folder, items in published.standalones.items():
        pages += [f"{folder}/{item.slug}" for item in items if gates.any_unreviewed((*common, *standalone_needs(item)))]
    return frozenset(pages)
