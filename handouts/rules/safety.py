"""What keeps a patient from harm: steps, cautions, stop rules, reviews, sources."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from handouts.model import Bundle, Call, CautionKind, Exercise, Programme, Review, Standalone
from handouts.problems import Grade, Problem
from handouts.rules.question import Question
from handouts.words.stopping import STOP_WORDS, knows_stop_words, tells_to_stop

DAYS_A_MONTH = 365.2425 / 12
"""Mean length of a month of the Gregorian calendar, in days."""


def check_steps(question: Question) -> Iterator[Problem]:
    """Does every exercise say how to do it, in numbered steps?"""
    for exercise in question.library.exercises:
        if not exercise.steps:
            yield Problem(
                exercise.place,
                "no-steps",
                "the exercise has no numbered steps",
                "Write '## How to do it' and a list that begins with '1. '.",
            )


def check_stop_rule(question: Question) -> Iterator[Problem]:
    """Has every exercise a stop rule?"""
    for exercise in question.library.exercises:
        cautions = [
            question.library.caution[ref.slug] for ref in exercise.cautions if ref.slug in question.library.caution
        ]
        if not any(caution.kind is CautionKind.STOP for caution in cautions):
            yield Problem(
                exercise.at("cautions"),
                "no-stop-rule",
                "none of the cautions is a stop rule",
                "Name one whose kind is 'stop' in cautions.yaml.",
            )


def check_stop_rules_call(question: Question) -> Iterator[Problem]:
    """Does every stop rule say whom to call?"""
    for caution in question.library.cautions:
        if caution.kind is CautionKind.STOP and "call" not in caution.places:
            yield Problem(
                caution.place,
                "stop-rule-call",
                f"the stop rule '{caution.slug}' does not say whom to call",
                "Add 'call: clinic', 'call: emergency', or 'call: none'.",
            )


def check_stop_rules_stop(question: Question) -> Iterator[Problem]:
    """Does the action of every stop rule begin by telling the reader to stop?"""
    library = question.library
    if not knows_stop_words(library.language):
        yield Problem(
            library.clinic.languages.at("source"),
            "stop-words",
            f"whether stop rules tell the reader to stop cannot be checked in '{library.language}'",
            "Let a person read each of them, and ask for the language's words to be added to the program.",
            Grade.NOTICE,
        )
        return
    for caution in library.cautions:
        if caution.kind is CautionKind.STOP and not tells_to_stop(caution.do.text, library.language):
            word = STOP_WORDS[library.language.partition("-")[0]][0].capitalize()
            yield Problem(
                caution.do.place,
                "stop-action",
                f"the action of the stop rule '{caution.slug}' does not begin by telling the reader to stop",
                f"Begin it with '{word}', then say what to do next; or give the caution another kind.",
            )


def check_emergency_number(question: Question) -> Iterator[Problem]:
    """Does every caution that calls the emergency number name it?"""
    number = question.library.clinic.emergency.number
    for caution in question.library.cautions:
        if caution.call is Call.EMERGENCY and not re.search(rf"(?<!\d){number}(?!\d)", caution.do.text):
            yield Problem(
                caution.do.place,
                "emergency-number",
                f"'{caution.slug}' calls the emergency number and does not name {number}",
                f"Write 'Call {number}' into 'do', so that it can be read aloud from paper.",
            )


def check_brought_cautions(question: Question) -> Iterator[Problem]:
    """Has every exercise the cautions that its regions, position, equipment and purpose bring?"""
    terms = question.library.term
    for exercise in question.library.exercises:
        carried = {ref.slug for ref in exercise.cautions}
        named = {
            "regions": exercise.regions,
            "positions": (exercise.position,),
            "equipment": exercise.equipment,
            "purposes": (exercise.purpose,),
        }
        for name, refs in named.items():
            for ref in refs:
                term = terms[name].get(ref.slug)
                for caution in term.cautions if term else ():
                    if caution.slug in carried:
                        continue
                    carried.add(caution.slug)
                    yield Problem(
                        exercise.at("cautions"),
                        "brought-caution",
                        f"'{ref.slug}' brings the caution '{caution.slug}', and '{exercise.slug}' lacks it",
                        f"Add '{caution.slug}' to its cautions, or take it from '{ref.slug}' in vocabulary.yaml.",
                    )


def review_ends(review: Review, months: int) -> date:
    """The day on which a review ends; ``months`` is the clinic's, used where the review names none.

    Of what a clinic changed of its base both reviews must stand: the base's of its words, the clinic's of the change.
    """
    first = min(review.on, review.own.on) if review.own else review.on
    return add_days(first, round((review.months or months) * DAYS_A_MONTH))


def add_days(day: date, days: int) -> date:
    """The day so many days later, or earlier; the last or first of the calendar where that lies beyond it."""
    return date.fromordinal(min(max(day.toordinal() + days, date.min.toordinal()), date.max.toordinal()))


def check_reviews(question: Question) -> Iterator[Problem]:
    """Is every review in the past, and not over, nor about to be?"""
    library, policy = question.library, question.library.clinic.review
    reviewed: tuple[Exercise | Programme | Bundle | Standalone, ...] = (
        *library.exercises, *library.programmes, *library.bundles, *library.all_standalones,
    )  # fmt: skip
    for item in reviewed:
        own, end = item.review.own, review_ends(item.review, policy.months)
        place = own.at("on") if own and own.on < item.review.on else item.review.at("on")
        left = (end - question.today).days
        if item.review.on > question.today:
            yield Problem(
                place,
                "review-future",
                f"the review is dated {item.review.on}, after today",
                "Write the day on which it was done.",
            )
        elif left < -policy.grace_days:
            yield Problem(
                place,
                "review-lapsed",
                f"the review ended on {end}, more than the clinic's {policy.grace_days} days ago; it is not published",
                "Review the content and write the new date, or take it out.",
                Grade.NOTICE,
            )
        elif left < 0:
            yield Problem(
                place,
                "review-overdue",
                f"the review ended on {end}",
                "Review the content and write the new date.",
                Grade.NOTICE,
            )
        elif left <= policy.notice_days:
            yield Problem(
                place, "review-due", f"the review ends on {end}, in {left} days", "Plan the next review.", Grade.NOTICE
            )


def check_sources(question: Question) -> Iterator[Problem]:
    """Does every source say more than a bare address?"""
    sourced: tuple[Exercise | Programme | Standalone, ...] = (
        *question.library.exercises, *question.library.programmes, *question.library.all_standalones,
    )  # fmt: skip
    for item in sourced:
        for source in item.sources:
            if re.fullmatch(r"\S+", source):
                yield Problem(
                    item.at("sources"),
                    "bare-source",
                    f"the source '{source}' is a single word or a bare address",
                    "Write author or body, title and year.",
                )


def check_figures(question: Question) -> Iterator[Problem]:
    """Has every exercise a figure?"""
    for exercise in question.library.exercises:
        if exercise.figure is None and exercise.picture is None:
            yield Problem(
                exercise.place,
                "no-figure",
                "the exercise has no figure; a placeholder is shown",
                "Describe the pose in 'figure:', name the clinic's own picture in 'picture:', or write 'figure: none' where nothing can be shown.",
                Grade.NOTICE,
            )
