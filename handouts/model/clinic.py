"""The clinic itself: locations, languages, policies, tiers, vocabulary."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from handouts.model.basics import Record, Ref, Words
from handouts.model.dose import DoseChange
from handouts.model.search_words import SearchWords
from handouts.model.substitutes import Substitute


class ApprovalRule(Enum):
    """Whether a build refuses what the ledger does not know as approved."""

    REQUIRED = "required"
    NOT_REQUIRED = "not required"


class Unreviewed(Enum):
    """What the clinic does with a translation that no qualified person has reviewed."""

    SHOW = "show"
    """Publish it, marked as unreviewed on every page and sheet."""
    HOLD_BACK = "hold back"
    """Do not publish it."""


class OlderTranslations(Enum):
    """What the clinic does with an exercise whose hints or steps have changed and are not translated again yet."""

    SHOW = "show"
    """Keep its last whole version in that language, dated and named as such."""
    HOLD_BACK = "hold back"
    """Do not publish it in that language."""


class WeightUnit(Enum):
    """The unit in which a clinic shows weights."""

    KILOGRAM = "kg"
    POUND = "lb"
    """The international avoirdupois pound (``handouts.dose.weight``)."""


@dataclass(frozen=True, kw_only=True)
class Units(Record):
    """The units that readers see, whatever unit an exercise is written in."""

    weight: WeightUnit = WeightUnit.KILOGRAM


@dataclass(frozen=True, kw_only=True)
class Location(Record):
    """One of the clinic's addresses."""

    slug: str
    name: str
    address: str
    phone: str
    hours: Words | None = None


@dataclass(frozen=True, kw_only=True)
class Emergency(Record):
    """The local emergency number and the sentence that tells when to call it."""

    number: str
    text: Words


@dataclass(frozen=True, kw_only=True)
class Languages(Record):
    """The language the library is written in, and those it is translated into (BCP 47 tags)."""

    source: str
    also: tuple[str, ...] = ()
    papers: str = "all"
    """On which papers the sheets of a translation are made: ``all``, or the ``first`` only."""

    @property
    def all(self) -> tuple[str, ...]:
        """Every language, the source first."""
        return (self.source, *self.also)


@dataclass(frozen=True, kw_only=True)
class ReviewPolicy(Record):
    """How long a review stands, how long before its end to point it out, and how long after it content may stay."""

    months: int
    notice_days: int
    grace_days: int
    unreviewed: Unreviewed = Unreviewed.HOLD_BACK
    older: OlderTranslations = OlderTranslations.HOLD_BACK


@dataclass(frozen=True, kw_only=True)
class SessionPolicy(Record):
    """The clinic's limits for one session, and the time that changes cost."""

    minutes: int
    exercises: int
    change_seconds: int
    between_seconds: int
    class_minutes: int | None = None  # the most of a class, where it is another one


@dataclass(frozen=True, kw_only=True)
class Defer(Record):
    """The sentences that put this sheet below licensed practice."""

    surgeon: Words
    clinician: Words


@dataclass(frozen=True, kw_only=True)
class TakenOff(Record):
    """An address below the site, a language or a page, that may go, and why; readers do not see it."""

    address: str
    why: str


@dataclass(frozen=True, kw_only=True)
class PainBounds(Record):
    """The numbers of the pain rule, on a scale from 0 to 10."""

    fine: int
    """Highest answer at which one carries on."""
    less: int
    """Highest answer at which one does less; above it one stops."""


@dataclass(frozen=True, kw_only=True)
class NextDose(Record):
    """When the clinician's page proposes more, and how much is added; always within the exercise's dose range."""

    sessions: int
    """Sessions in a row, the latest: each with all sets done, pain that is fine, and effort no higher than the dose asks for."""
    reps: int | None = None
    hold_seconds: int | None = None
    time_seconds: int | None = None
    distance_metres: int | None = None
    sets: int | None = None
    """Added where what is counted can grow no more."""


@dataclass(frozen=True, kw_only=True)
class Growth(Record):
    """How much more work a week a plan may ask for before it is pointed out."""

    percent: int
    """Of what was done before, a week: sets times what is counted, times the weight where there is one before and after."""
    source: str
    status: str
    """Whether the number was read in the source, as in ``Limit``."""


@dataclass(frozen=True, kw_only=True)
class SessionCue(Record):
    """What a patient hangs the session on, from which the clinician chooses: after breakfast."""

    slug: str
    name: Words


@dataclass(frozen=True, kw_only=True)
class FlareStep(Record):
    """What to do when it gets worse: how much worse or for how long, and the action."""

    when: Words
    do: Words


@dataclass(frozen=True, kw_only=True)
class OwnDose(Record):
    """A dose of the base that this clinic gives in another way: the exercise's code, and what differs."""

    code: str
    change: DoseChange


@dataclass(frozen=True, kw_only=True)
class OwnOrder(Record):
    """The exercises of a programme or a bundle of the base as this clinic has them, in its order."""

    name: str
    """The code of a programme, or the name of a bundle."""
    steps: tuple[tuple[str, tuple[Ref, ...]], ...]
    """Exercises by tier; the tier is empty for a bundle."""


@dataclass(frozen=True, kw_only=True)
class OwnFont(Record):
    """Fonts of the library for languages in whose letters no font of the program writes; files in the folder ``fonts``."""

    languages: tuple[str, ...]
    regular: str
    bold: str
    licence: str
    licence_file: str
    """The text of the licence."""
    source: str


@dataclass(frozen=True, kw_only=True)
class Clinic(Record):
    """The clinic that publishes the library."""

    name: str
    invented: bool = False
    about: Words
    site: str
    locations: tuple[Location, ...]
    emergency: Emergency
    languages: Languages
    papers: tuple[str, ...]
    folded_booklets: bool = False
    """Whether the site has the booklet of each programme to be folded, too."""
    type_sizes: tuple[str, ...]
    accent: str
    reading_level: float
    review: ReviewPolicy
    session: SessionPolicy
    pain_rule: Words
    pain_bounds: PainBounds | None = None
    next_dose: NextDose | None = None
    growth: Growth | None = None
    effort_scale: Words | None = None
    session_cues: tuple[SessionCue, ...] = ()
    flare_plan: tuple[FlareStep, ...] = ()
    defer: Defer
    former_sites: tuple[str, ...] = ()
    """Addresses that the site had before."""
    taken_off: tuple[TakenOff, ...] = ()
    approval: ApprovalRule | None = None
    units: Units | None = None
    """None shows weights in kilograms."""
    people: tuple[str, ...] = ()
    """Whom figures show, by turns, where an exercise does not say; nobody of any age or gender where it is empty."""
    fonts: tuple[OwnFont, ...] = ()
    stands_on: str = ""
    """The folder of the base, from this library's own; empty where the library stands by itself."""
    own_doses: tuple[OwnDose, ...] = ()
    own_order: tuple[OwnOrder, ...] = ()
    left_out: tuple[Ref, ...] = ()
    """What of the base this clinic does not have: codes, and names of bundles."""
    codes_kept_free: tuple[str, ...] = ()
    """First letters of codes that this library never gives, for the clinics that stand on it."""

    @property
    def sessions_easy(self) -> int:
        """After how many sessions in a row a stage of a plan is called easy: those of the rule for the next dose."""
        return self.next_dose.sessions if self.next_dose else 1

    @property
    def in_pounds(self) -> bool:
        """Whether readers see weights in pounds."""
        return self.units is not None and self.units.weight is WeightUnit.POUND


@dataclass(frozen=True, kw_only=True)
class Tier(Record):
    """A step of the clinic's progression, with what it means."""

    slug: str
    name: Words
    means: Words


@dataclass(frozen=True, kw_only=True)
class Term(Record):
    """One entry of a closed list."""

    slug: str
    name: Words
    cautions: tuple[Ref, ...] = ()
    """Cautions that it brings: an exercise that names it must carry them."""


@dataclass(frozen=True, kw_only=True)
class Position(Term):
    """A starting position; ``level`` is floor, chair or standing."""

    level: str
    rank: int | None = None
    """How hard it is to hold, 1 the easiest; None where the clinic does not say."""


@dataclass(frozen=True, kw_only=True)
class Vocabulary(Record):
    """The closed lists that exercises draw on."""

    regions: tuple[Term, ...]
    positions: tuple[Position, ...]
    equipment: tuple[Term, ...]
    purposes: tuple[Term, ...]
    bands: tuple[Term, ...] = ()
    demands: tuple[Term, ...] = ()
    """What an exercise asks of the body beside its joint angles; movement limits are held against them."""
    paces: tuple[Term, ...] = ()
    occasions: tuple[Term, ...] = ()
    """How fast in words; when something is done that no session holds, as when breathless."""
    search_words: tuple[SearchWords, ...] = ()
    substitutes: tuple[Substitute, ...] = ()
    """What serves where a thing is missing at home, the best first."""
