"""What to ask a patient about before exercises are handed over."""

from __future__ import annotations

from dataclasses import dataclass

from handouts.model.basics import Record, Ref, Words


@dataclass(frozen=True, kw_only=True)
class ConditionRule(Record):
    """Which exercises a condition touches, and what to ask or to change in them: any of what it names is enough."""

    says: Words
    """What to ask or to change, for the clinician."""
    positions: tuple[Ref, ...] = ()
    equipment: tuple[Ref, ...] = ()
    demands: tuple[Ref, ...] = ()
    cautions: tuple[Ref, ...] = ()
    """Cautions that an exercise carries."""
    limits: tuple[Ref, ...] = ()
    """Movement limits that an exercise may exceed, in any of their phases."""
    exercises: tuple[Ref, ...] = ()
    source: str | None = None
    """Where it is not the condition's."""
    status: str | None = None
    """Where it is not the condition's."""

    @property
    def named(self) -> dict[str, tuple[Ref, ...]]:
        """What it names, by list; a list of which it names nothing is left out."""
        lists = ("positions", "equipment", "demands", "cautions", "limits", "exercises")
        return {name: refs for name in lists if (refs := getattr(self, name))}


@dataclass(frozen=True, kw_only=True)
class PatientCondition(Record):
    """Something that a patient may have, with what to ask and which exercises it touches."""

    slug: str
    name: Words
    asks: Words
    """What the clinician asks the patient."""
    rules: tuple[ConditionRule, ...]
    source: str
    status: str
    """Whether it was read in the source, as in ``Limit``."""
