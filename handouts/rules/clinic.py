"""Rules about the clinic's own settings: its colour, pain rule, next dose, languages, papers and type sizes."""

from __future__ import annotations

import re
from collections.abc import Iterator

from handouts.dose.arithmetic import COUNTED
from handouts.problems import Problem
from handouts.rules.question import Question
from handouts.score.sheet import scale_ends
from handouts.text.colour import TEXT_CONTRAST, contrast

HIGHEST_PAIN = 10
"""The end of the scale."""
PAPER = "#ffffff"
"""The ground of pages and sheets in the light theme (``templates/styles/tokens.css``)."""


def check_accent(question: Question) -> Iterator[Problem]:
    """Can text in the clinic's colour be read on white?"""
    clinic = question.library.clinic
    ratio = contrast(clinic.accent, PAPER)
    if ratio < TEXT_CONTRAST:
        yield Problem(
            clinic.at("accent"),
            "accent-contrast",
            f"the colour {clinic.accent} has a contrast of {ratio:.2f} on white, {TEXT_CONTRAST} is needed",
            "Choose a darker colour.",
        )


def check_effort_scale(question: Question) -> Iterator[Problem]:
    """Do the clinic's own words for the scale of effort say what 0 and 10 are?"""
    scale = question.library.clinic.effort_scale
    if scale is not None and scale_ends(scale.text) is None:
        what = f"the scale of effort does not say in words what 0 and 10 are: '{scale.text}'"
        yield Problem(scale.place, "effort-scale", what, "Write both, as 'Effort scale: 0 is rest, 10 is all you have.'")


def check_pain_bounds(question: Question) -> Iterator[Problem]:
    """Do the bounds of the pain rule follow one another, and does the rule name them?"""
    clinic = question.library.clinic
    bounds = clinic.pain_bounds
    if bounds is None:
        return
    if not bounds.fine < bounds.less < HIGHEST_PAIN:
        yield Problem(
            bounds.place,
            "pain-bounds",
            f"'fine up to' is {bounds.fine} and 'less up to' {bounds.less}, so one of the three parts of the scale is empty",
            f"Write 'fine up to' below 'less up to', and both below {HIGHEST_PAIN}.",
        )
    for number in dict.fromkeys((bounds.fine, bounds.less)):
        if str(number) not in re.findall("[0-9]+", clinic.pain_rule.text):
            yield Problem(
                clinic.at("pain_rule"),
                "pain-bounds",
                f"the pain rule does not name {number}, which is one of the pain bounds",
                "Write the same numbers in 'pain rule' and in 'pain bounds'.",
            )


def check_next_dose(question: Question) -> Iterator[Problem]:
    """Does the rule for the next dose know which pain is fine, and add anything?"""
    clinic = question.library.clinic
    rule = clinic.next_dose
    if rule is None:
        return
    if clinic.pain_bounds is None:
        what = "the rule for the next dose asks for pain that is fine, and no pain bounds say which is"
        yield Problem(rule.place, "next-dose", what, "Write 'pain bounds', as {fine up to: 3, less up to: 5}.")
    if all(getattr(rule, name) is None for name in (*COUNTED, "sets")):
        what = "the rule for the next dose adds nothing"
        yield Problem(rule.place, "next-dose", what, "Write what is added, as reps: 2, hold: 5 s or sets: 1.")


def check_languages(question: Question) -> Iterator[Problem]:
    """Is every language named once?"""
    languages = question.library.clinic.languages
    for index, tag in enumerate(languages.all):
        if tag in languages.all[:index]:
            yield Problem(
                languages.at("also"),
                "repeated-language",
                f"the language '{tag}' is named twice",
                "Delete one of the two.",
            )


def check_papers(question: Question) -> Iterator[Problem]:
    """Is every paper and type size named once?"""
    clinic = question.library.clinic
    for attribute, noun, values in (("papers", "paper", clinic.papers), ("type_sizes", "type size", clinic.type_sizes)):
        for value in dict.fromkeys(values):
            if values.count(value) > 1:
                yield Problem(
                    clinic.at(attribute),
                    "repeated-choice",
                    f"the {noun} '{value}' is named twice",
                    "Delete one of the two.",
                )
