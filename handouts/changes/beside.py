"""What a clinic has in another way than its base, both beside each other, and whether its review stands.  Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from handouts.bases.own_changes import OwnChange
from handouts.changes.compare import Change, Difference, find_differences
from handouts.changes.facts import BASE, DOSE, VERSION, Facts, collect_facts
from handouts.ledger.history import History
from handouts.ledger.stamp import stamps_of
from handouts.ledger.update import find_present
from handouts.model import Library
from handouts.words.messages import standalone_owner
from handouts.words.reviews import Reviews, TranslationReview


@dataclass(frozen=True, slots=True)
class BesideBase:
    """One thing here and in the base, then and now; doses in words, empty where it has none."""

    title: str
    name: str
    """Its code, or the name of a bundle."""
    parts: tuple[str, ...]
    says: str
    base_dose_then: tuple[str, ...]
    base_dose: tuple[str, ...]
    dose_then: tuple[str, ...]
    dose: tuple[str, ...]
    differences: tuple[Difference, ...]
    """What the base has changed of it since, but for the dose."""
    review: TranslationReview | None
    stands: bool
    """Whether the clinic's review is of both as they are now."""

    @property
    def review_says(self) -> str:
        """Who reviewed it, and whether that stands."""
        if self.review is None:
            return "nobody of this clinic has reviewed it beside the base"
        state = "stands" if self.stands else "is void: it was of another state of the base or of this"
        return f"the review of {self.review.on} by {self.review.by} {state}"


def base_facts(library: Library, changes: tuple[OwnChange, ...]) -> Facts:
    """How the base has what the library has in another way, by ``base/`` and the owner."""
    if library.base is None or not changes:
        return {}
    base = library.base.library
    stamps = stamps_of(base)
    found = collect_facts(base, [base], History(None, find_present(base, stamps)), stamps)
    return {f"{BASE}/{change.owner}": found[change.owner] for change in changes if change.owner in found}


def put_beside(changes: tuple[OwnChange, ...], reviews: Reviews, then: Facts, now: Facts) -> tuple[BesideBase, ...]:
    """Everything that is in another way here; facts as from ``base_facts`` and ``collect_facts`` together."""
    found = []
    for change in changes:
        owner, base = change.owner, f"{BASE}/{change.owner}"
        before, after = then.get(base, then.get(owner, {})), now.get(base, {})
        review = reviews.get(owner)
        found.append(
            BesideBase(
                change.item.title, owner.partition("/")[2], change.parts, change.says or "nothing but its file",
                _line(before or after), _line(after), _line(then.get(owner, now.get(owner, {}))), _line(now.get(owner, {})),
                tuple(each for each in find_differences(before, after) if each.name not in (DOSE, VERSION)) if before else (),
                review, review is not None and review.version == change.version,
            )
        )  # fmt: skip
    return tuple(found)


def _line(facts: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    return ("; ".join(facts[DOSE]),) if facts.get(DOSE) else ()


def mark_base(changes: tuple[Change, ...], library: Library, own: tuple[OwnChange, ...]) -> tuple[Change, ...]:
    """The changes, each with what of it comes from the base."""
    if library.base is None:
        return changes
    mine = {change.owner: change for change in own}
    base = library.base.library
    there = {f"exercise/{item.code}" for item in base.exercises} | {f"programme/{item.code}" for item in base.programmes}
    there |= {f"bundle/{item.slug}" for item in base.bundles} | {f"caution/{item.slug}" for item in base.cautions}
    there |= {standalone_owner(item) for item in base.all_standalones}
    name = library.base.name

    def say(owner: str) -> str:
        if owner not in there:
            return ""
        return f"from {name}, but for {mine[owner].says}" if owner in mine and mine[owner].parts else f"from {name}"

    return tuple(replace(change, base=say(change.owner)) for change in changes)


def own_records(own: tuple[BesideBase, ...]) -> list[dict[str, Any]]:
    """The same for tools."""
    return [
        {
            "name": each.name,
            "title": each.title,
            "parts": list(each.parts),
            "base dose": {"then": "".join(each.base_dose_then), "now": "".join(each.base_dose)},
            "dose": {"then": "".join(each.dose_then), "now": "".join(each.dose)},
            "changed in the base": [{"part": one.name, "then": list(one.then), "now": list(one.now)} for one in each.differences],
            "review": {"by": each.review.by, "on": each.review.on.isoformat(), "stands": each.stands} if each.review else None,
        }
        for each in own
    ]
