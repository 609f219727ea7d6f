"""The library as frozen values: what a clinic wrote, typed, each value knowing its place.

A value is equal to another when it means the same; the place never counts.  Nothing here reads,
judges, computes or formats: those rooms take these values and return new ones.
"""

from handouts.model.basics import Record, Ref, Span, Words
from handouts.model.clinic import (
    Clinic,
    Defer,
    Emergency,
    Languages,
    Location,
    Position,
    ReviewPolicy,
    SessionPolicy,
    TakenOff,
    Term,
    Tier,
    Unreviewed,
    Vocabulary,
)
from handouts.model.content import (
    Block,
    Bundle,
    Call,
    Caution,
    CautionKind,
    Exercise,
    Mistake,
    Pick,
    Programme,
    ProgrammeTier,
    Review,
    Section,
)
from handouts.model.dose import Dose, DoseChange, DoseKind, DoseRange, Side, Tempo
from handouts.model.library import Library
from handouts.model.limits import Bound, Limit, LimitPhase

__all__ = [
    "Block",
    "Bound",
    "Bundle",
    "Call",
    "Caution",
    "CautionKind",
    "Clinic",
    "Defer",
    "Dose",
    "DoseChange",
    "DoseKind",
    "DoseRange",
    "Emergency",
    "Exercise",
    "Languages",
    "Library",
    "Limit",
    "LimitPhase",
    "Location",
    "Mistake",
    "Pick",
    "Position",
    "Programme",
    "ProgrammeTier",
    "Record",
    "Ref",
    "Review",
    "ReviewPolicy",
    "Section",
    "SessionPolicy",
    "Side",
    "Span",
    "TakenOff",
    "Tempo",
    "Term",
    "Tier",
    "Unreviewed",
    "Vocabulary",
    "Words",
]
