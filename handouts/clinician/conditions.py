"""What the bundle page may tick to ask about first; only in languages that have the words of every condition."""

from __future__ import annotations

from collections.abc import Sequence

from handouts.bundle.condition_data import ConditionFound, ConditionRuleFound
from handouts.limits.conditions import ConditionReason, Touched
from handouts.model import Library
from handouts.text.markup import plain_text
from handouts.words.limits import limits_are_whole, say_status
from handouts.words.wording import Wording

LISTS = ("equipment", "positions", "demands")
OWN = "clinic's choice"
"""The status of what no source says."""


def conditions_to_tick(library: Library, source: Library, touched: Touched) -> Sequence[ConditionFound]:
    """The conditions with all that their rules touch, in the words of a language; none where it lacks words of any."""
    whole = len(library.conditions) == len(source.conditions) and len(library.cautions) == len(source.cautions)
    if not whole or not limits_are_whole(library, source) or any(len(library.term[name]) != len(source.term[name]) for name in LISTS):
        return ()
    wording = Wording.of(library)
    limits = {limit.slug: plain_text(limit.name.text) for limit in library.limits}

    def said(touch: ConditionReason) -> str:
        if touch.kind == "exercises":
            return wording.say("clinician.condition_by_exercises")
        name = (
            plain_text(library.caution[touch.name].when.text) if touch.kind == "cautions"
            else limits[touch.name] if touch.kind == "limits"
            else library.term[touch.kind][touch.name].name.text
        )  # fmt: skip
        by = wording.say(f"clinician.condition_by_{touch.kind}", name=name)
        return wording.say("clinician.condition_unknown", found=by) if touch.is_unknown else by

    def sourced(text: str, status: str) -> str:
        read = wording.say("clinician.condition_own") if status == OWN else say_status(status, wording)
        return wording.say("limits.detail", found=text, detail=read)

    return tuple(
        ConditionFound(
            slug=item.slug,
            name=plain_text(item.name.text),
            asks=plain_text(item.asks.text),
            source=sourced(item.source, item.status),
            rules=tuple(
                ConditionRuleFound(
                    says=plain_text(rule.says.text),
                    source=sourced(rule.source or item.source, rule.status or item.status) if rule.source or rule.status else "",
                    found=tuple((said(touch), slugs) for touch, slugs in found),
                )
                for rule, found in zip(item.rules, touched[item.slug], strict=True)
            ),
        )
        for item in library.conditions
    )
