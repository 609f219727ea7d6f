"""A whole library in one language, with its exercises, cautions and terms by their names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from handouts.model.bundles import Bundle
from handouts.model.clinic import Clinic, Position, Term, Tier, Vocabulary
from handouts.model.conditions import PatientCondition
from handouts.model.content import Caution, Exercise, Programme
from handouts.model.limits import Limit
from handouts.model.search_words import SearchWords
from handouts.model.standalone import ClassPlan, FunctionTest, Leaflet, Lesson, Standalone


@dataclass(frozen=True)
class OwnFace:
    """A font of the library for one language, cut to the letters of its script."""

    language: str
    family: str
    """Its name in styles."""
    sheet_style: str = field(repr=False)
    """The style element with both weights, for the head of a sheet."""
    web: tuple[bytes, bytes] = field(repr=False)
    """Regular and bold as WOFF2, for pages."""
    letters: str = field(repr=False)


@dataclass(frozen=True)
class LibraryBase:
    """What a library stands on."""

    name: str
    """The name of the base's clinic."""
    library: Library
    """The base by itself."""
    falls: tuple[tuple[str, str], ...] = ()
    """What leaving things out means for the rest: a title, and what comes of it."""


@dataclass(frozen=True, kw_only=True)
class Library:
    """All the content of one clinic, in one language."""

    language: str
    clinic: Clinic
    tiers: tuple[Tier, ...]
    vocabulary: Vocabulary
    cautions: tuple[Caution, ...]
    limits: tuple[Limit, ...]
    exercises: tuple[Exercise, ...]
    programmes: tuple[Programme, ...]
    bundles: tuple[Bundle, ...]
    tests: tuple[FunctionTest, ...] = ()
    """Tests of function."""
    leaflets: tuple[Leaflet, ...] = ()
    """Advice sheets."""
    lessons: tuple[Lesson, ...] = ()
    """How exercises are taught."""
    classes: tuple[ClassPlan, ...] = ()
    """Plans of classes."""
    conditions: tuple[PatientCondition, ...] = ()
    """What to ask a patient about before exercises are handed over."""
    phrases: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """The interface in this language where the library brings its own catalogue: the forms of each phrase by its id."""
    face: OwnFace | None = None
    """The library's own font for this language."""
    base: LibraryBase | None = None
    """What it stands on; None where it stands by itself."""
    unread: frozenset[str] = frozenset()
    """Files that are there but could not be read, as ``programmes/stand-up``; their own problems say why."""

    @cached_property
    def exercise(self) -> dict[str, Exercise]:
        """Exercises by slug."""
        return {item.slug: item for item in self.exercises}

    @cached_property
    def programme(self) -> dict[str, Programme]:
        """Programmes by slug."""
        return {item.slug: item for item in self.programmes}

    @cached_property
    def bundle(self) -> dict[str, Bundle]:
        """Ready-made bundles by slug."""
        return {item.slug: item for item in self.bundles}

    @cached_property
    def test(self) -> dict[str, FunctionTest]:
        """Tests of function by slug."""
        return {item.slug: item for item in self.tests}

    @cached_property
    def leaflet(self) -> dict[str, Leaflet]:
        """Advice sheets by slug."""
        return {item.slug: item for item in self.leaflets}

    @cached_property
    def lesson(self) -> dict[str, Lesson]:
        """How exercises are taught, by slug."""
        return {item.slug: item for item in self.lessons}

    @cached_property
    def class_plan(self) -> dict[str, ClassPlan]:
        """Plans of classes by slug."""
        return {item.slug: item for item in self.classes}

    @cached_property
    def lessons_of(self) -> dict[str, tuple[Lesson, ...]]:
        """For each exercise slug how it is taught."""
        found: dict[str, tuple[Lesson, ...]] = {}
        for item in self.lessons:
            found[item.exercise.slug] = (*found.get(item.exercise.slug, ()), item)
        return found

    @property
    def standalones(self) -> dict[str, tuple[Standalone, ...]]:
        """What holds no exercise, by the folder of its kind."""
        return {"tests": self.tests, "leaflets": self.leaflets, "lessons": self.lessons, "classes": self.classes}

    @property
    def all_standalones(self) -> tuple[Standalone, ...]:
        """What holds no exercise, of every kind."""
        return tuple(item for items in self.standalones.values() for item in items)

    @cached_property
    def caution(self) -> dict[str, Caution]:
        """Cautions by slug."""
        return {item.slug: item for item in self.cautions}

    @cached_property
    def tier(self) -> dict[str, Tier]:
        """Tiers by slug."""
        return {item.slug: item for item in self.tiers}

    @cached_property
    def tier_rank(self) -> dict[str, int]:
        """Position of each tier in the clinic's order, from 0."""
        return {item.slug: rank for rank, item in enumerate(self.tiers)}

    @cached_property
    def position(self) -> dict[str, Position]:
        """Positions by slug."""
        return {item.slug: item for item in self.vocabulary.positions}

    @cached_property
    def term(self) -> dict[str, dict[str, Term]]:
        """Every closed list by its name, each by slug."""
        lists: dict[str, tuple[Term, ...]] = {
            "regions": self.vocabulary.regions,
            "positions": self.vocabulary.positions,
            "equipment": self.vocabulary.equipment,
            "purposes": self.vocabulary.purposes,
            "bands": self.vocabulary.bands,
            "demands": self.vocabulary.demands,
            "paces": self.vocabulary.paces,
            "occasions": self.vocabulary.occasions,
        }
        return {name: {term.slug: term for term in terms} for name, terms in lists.items()}

    @cached_property
    def limits_in_use(self) -> tuple[Limit, ...]:
        """The limits that the clinic holds exercises against: of several versions the one it chose."""
        return tuple(limit for limit in self.limits if limit.default)

    @cached_property
    def programmes_of(self) -> dict[str, tuple[Programme, ...]]:
        """For each exercise slug the programmes that hold it."""
        found: dict[str, tuple[Programme, ...]] = {}
        for programme in self.programmes:
            for slug in programme.exercise_slugs:
                found[slug] = (*found.get(slug, ()), programme)
        return found

    @cached_property
    def steps_of(self) -> dict[str, tuple[tuple[int, str], ...]]:
        """For each exercise slug the steps that it stands in, by its programmes: place in the programme, from 0, and tier."""
        found: dict[str, tuple[tuple[int, str], ...]] = {}
        for programme in self.programmes:
            for rank, tier in enumerate(programme.tiers):
                for slug in {ref.slug for ref in tier.exercises}:
                    found[slug] = (*found.get(slug, ()), (rank, tier.tier.slug))
        return found

    @cached_property
    def searches_of(self) -> dict[str, tuple[tuple[SearchWords, bool], ...]]:
        """For each exercise slug the search words that find it, each with whether they name it."""
        words = self.vocabulary.search_words
        return {
            each.slug: tuple((item, any(ref.slug == each.slug for ref in item.exercises)) for item in words if is_found_by(each, item))
            for each in self.exercises
        }


def is_found_by(exercise: Exercise, words: SearchWords) -> bool:
    """Whether search words find an exercise: they name it, or it has one term of each list of which they name any."""
    if any(ref.slug == exercise.slug for ref in words.exercises):
        return True
    own = (
        (words.regions, exercise.regions), (words.positions, (exercise.position,)),
        (words.equipment, exercise.equipment), (words.purposes, (exercise.purpose,)),
    )  # fmt: skip
    asked = [(refs, has) for refs, has in own if refs]
    return bool(asked) and all(any(ref.slug == each.slug for ref in refs for each in has) for refs, has in asked)
