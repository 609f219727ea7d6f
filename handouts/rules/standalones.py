"""Tests of function and advice sheets: what each must have, and whether the numbers of a test fit one another."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.model import CautionKind, ClassPlan, FunctionTest, Lesson, Norms, exercises_named
from handouts.problems import Problem
from handouts.rules.question import Question


def check_test_steps(question: Question) -> Iterator[Problem]:
    """Does every test say how it is done, in numbered steps?"""
    for test in question.library.tests:
        if not any(block.kind == "steps" for section in test.sections for block in section.blocks):
            yield Problem(
                test.place,
                "no-steps",
                "the test has no numbered steps",
                "Write '## How to do it' and a list that begins with '1. '.",
            )


def check_standalone_stop_rule(question: Question) -> Iterator[Problem]:
    """Has every test of function and every advice sheet a stop rule?"""
    known = question.library.caution
    for item in question.library.all_standalones:
        named = exercises_named(item) if isinstance(item, Lesson | ClassPlan) else ()
        shown = [question.library.exercise[ref.slug] for ref in named if ref.slug in question.library.exercise]
        refs = (*item.cautions, *(ref for each in shown for ref in each.cautions))
        if not any(known[ref.slug].kind is CautionKind.STOP for ref in refs if ref.slug in known):
            yield Problem(
                item.at("cautions"),
                "no-stop-rule",
                "none of the cautions is a stop rule",
                "Name one whose kind is 'stop' in cautions.yaml.",
            )


def check_leaflet_text(question: Question) -> Iterator[Problem]:
    """Does every advice sheet say what to do?"""
    for leaflet in question.library.leaflets:
        if not any(section.blocks for section in leaflet.sections):
            what, mend = "the advice sheet says nothing below its keys", "Write '## What to do' and a list or a paragraph."
            yield Problem(leaflet.place, "no-advice", what, mend)


def check_leaflet_keep(question: Question) -> Iterator[Problem]:
    """Is every exercise that an advice sheet tells to keep up in the programme that it names?"""
    for leaflet in question.library.leaflets:
        programme = question.library.programme.get(leaflet.programme.slug) if leaflet.programme else None
        for ref in leaflet.keep if programme else ():
            if programme and ref.slug in question.library.exercise and ref.slug not in programme.exercise_slugs:
                what = f"'{ref.slug}' is to be kept up, and the programme '{programme.slug}' does not hold it"
                yield Problem(ref.place, "keep-other", what, "Name exercises of the programme, or take 'programme' out.")


def check_test_numbers(question: Question) -> Iterator[Problem]:
    """Do the numbers of every test fit one another: ages, the largest result, sides?"""
    for test in question.library.tests:
        if test.norms is not None:
            yield from _check_ages(test.norms)
            yield from _check_largest(test, test.norms)
        if test.symmetry is not None and not test.each_side:
            what = "the test says how alike both sides are to be, and counts them together"
            yield Problem(test.at("symmetry"), "test-sides", what, "Write 'each side: yes', or take 'symmetry' out.")
        if test.symmetry is not None and test.better == "less":
            what = "a share of the other side says nothing where less is better"
            yield Problem(test.at("symmetry"), "test-sides", what, "Take 'symmetry' out.")
        if test.error is not None and test.most is not None and test.error.change >= test.most:
            what = f"the error of {test.error.change:g} is as large as the largest result, {test.most:g}"
            yield Problem(test.error.at("change"), "test-error", what, "Correct 'change' or 'most'.")


def _check_ages(norms: Norms) -> Iterator[Problem]:
    """A row that runs backwards, or that shares an age with one above it."""
    for number, row in enumerate(norms.rows):
        last = row.to_age if row.to_age is not None else 200
        if last < row.from_age:
            what = f"the ages run backwards, from {row.from_age} to {last}"
            yield Problem(row.at("to_age"), "norm-ages", what, "Write the younger age in 'from'.")
            continue
        for above in norms.rows[:number]:
            end = above.to_age if above.to_age is not None else 200
            if above.sex == row.sex and above.from_age <= last and row.from_age <= end:
                age = max(above.from_age, row.from_age)
                what = f"the age of {age} stands in two rows (first in {above.place})"
                yield Problem(row.at("from_age"), "norm-ages", what, "Let each age stand in one row of its sex.")
                break


def _check_largest(test: FunctionTest, norms: Norms) -> Iterator[Problem]:
    for row in norms.rows:
        if test.most is not None and row.value > test.most:
            what = f"the value {row.value:g} is above {test.most:g}, at which the test ends"
            yield Problem(row.at("value"), "norm-value", what, "Correct 'value' or 'most'.")
