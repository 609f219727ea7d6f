"""A library that stands on another, and one that others stand on."""

from __future__ import annotations

from collections.abc import Iterator

from handouts.model import Exercise, Library, Programme, Standalone
from handouts.problems import Problem
from handouts.rules.question import Question


def check_base_named(question: Question) -> Iterator[Problem]:
    """Does a library that stands on no base change nothing of one?"""
    clinic = question.library.clinic
    rows = (("doses", "own_doses"), ("order", "own_order"), ("left out", "left_out"))
    for key, attribute in rows if question.library.base is None else ():
        if getattr(clinic, attribute):
            what = f"'{key}' changes what a base has, and this library stands on none"
            yield Problem(clinic.at(attribute), "no-base", what, "Name the base, as base: ../shared-library, or write it in the files themselves.")


def find_added(library: Library) -> Iterator[Exercise | Programme | Standalone]:
    """What a library has beside what its base has."""
    base = library.base.library if library.base else None
    there = {item.code for item in base.exercises} | {item.code for item in base.programmes} if base else set[str]()
    there |= {item.code for item in base.all_standalones} if base else set()
    items: tuple[Exercise | Programme | Standalone, ...] = (*library.exercises, *library.programmes, *library.all_standalones)
    yield from (item for item in items if item.code not in there)


def check_codes_kept_free(question: Question) -> Iterator[Problem]:
    """Does the library itself give no code that it keeps free for the clinics that stand on it?"""
    kept = question.library.clinic.codes_kept_free
    for item in find_added(question.library) if kept else ():
        if item.code[0] in kept:
            what = f"the code '{item.code}' begins with {item.code[0]}, which 'codes kept free' leaves to the clinics that stand on this one"
            mend = "Give it another code, or take the letter out of clinic.yaml if no clinic uses it."
            yield Problem(item.at("code"), "code-kept-free", what, mend)
