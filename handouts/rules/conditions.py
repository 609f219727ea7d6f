"""What to ask a patient about first: names, and conditions that touch nothing."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.limits.conditions import is_judged_by_files, own_names
from handouts.model import ConditionRule
from handouts.problems import Grade, Problem, suggest
from handouts.rules.question import Question


def check_condition_names(question: Question) -> Iterator[Problem]:
    """Is every position, thing, demand and limit that a condition names declared?"""
    library = question.library
    known = {name: (frozenset(library.term[name]), f"in '{name}' of vocabulary.yaml") for name in ("positions", "equipment", "demands")}
    known["limits"] = (frozenset(limit.slug for limit in library.limits), "in limits.yaml")
    for rule in _rules(question):
        for name, (declared, where) in known.items():
            for ref in getattr(rule, name):
                if ref.slug not in declared:
                    yield Problem(ref.place, "unknown-name", f"'{ref.slug}' is not declared {where}", suggest(ref.slug, declared))


def check_condition_rules(question: Question) -> Iterator[Problem]:
    """Does every rule of a condition name something?"""
    for rule in _rules(question):
        if not rule.named:
            what = "the rule names nothing that an exercise could have"
            mend = "Add positions, equipment, demands, cautions, limits or exercises."
            yield Problem(rule.place, "condition-names-nothing", what, mend)


def check_conditions_touch(question: Question) -> Iterator[Problem]:
    """Does every condition touch an exercise?"""
    library = question.library
    for condition in question.library.conditions:
        names = [(kind, ref.slug) for rule in condition.rules for kind, refs in rule.named.items() for ref in refs]
        touches = any(slug in own_names(exercise)[kind] for exercise in library.exercises for kind, slug in names if kind != "limits")
        if names and is_judged_by_files(condition) and not touches:
            what = f"the condition '{condition.slug}' touches no exercise"
            mend = "Name other things, or take it out: a tick that never finds anything reads like an answer."
            yield Problem(condition.place, "condition-touches-nothing", what, mend, Grade.NOTICE)


def _rules(question: Question) -> Iterator[ConditionRule]:
    for condition in question.library.conditions:
        yield from condition.rules
