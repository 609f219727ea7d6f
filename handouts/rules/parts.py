"""Bundles: parts of a session that can be done so, and what is handed over beside the exercises."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from handouts.dose.arithmetic import given_dose
from handouts.dose.parts import fits_rounds
from handouts.library.programme_shapes import MOST_GIVEN
from handouts.model import Bundle, Library, PartKind, Pick
from handouts.problems import Grade, Problem, suggest
from handouts.rules.question import Question

RANKS = {PartKind.WARM_UP: 0, None: 1, PartKind.ROUNDS: 1, PartKind.COOL_DOWN: 2}
"""What comes before what in a session."""


def check_bundle_parts(question: Question) -> Iterator[Problem]:
    """Can each exercise of a bundle be done in its part, are parts in order, and do rounds have the sets that they need?"""
    library = question.library
    for bundle in library.bundles:
        picks = [pick for pick in bundle.picks if pick.exercise.slug in library.exercise]
        yield from _check_places(picks, library)
        for part, group in groupby(picks, lambda pick: pick.part):
            if part is PartKind.ROUNDS:
                yield from _check_rounds(list(group), library)
        if bundle.round_rest_seconds is not None and all(pick.part is not PartKind.ROUNDS for pick in picks):
            what = "there is a rest between rounds, and nothing is done in rounds"
            mend = "Write 'part: rounds' at the exercises, or take it out."
            yield Problem(bundle.at("round_rest_seconds"), "rounds-rest", what, mend, Grade.NOTICE)
        yield from _check_given(bundle, library)


def _check_places(picks: Sequence[Pick], library: Library) -> Iterator[Problem]:
    last = 0
    for pick in picks:
        slug, dose = pick.exercise.slug, given_dose(library.exercise[pick.exercise.slug], pick)
        if pick.part and dose.is_by_occasion:
            what = f"'{slug}' is done through the day, in no session"
            yield Problem(pick.at("part"), "part-occasion", what, "Take 'part' out.")
        elif pick.part is PartKind.ROUNDS and not fits_rounds(dose):
            what = f"'{slug}' has rounds of its own, or all sets on one side first: it cannot be done in rounds with others"
            yield Problem(pick.at("part"), "rounds-dose", what, "Put it into another part, or change its side.")
        if RANKS[pick.part] < last:
            what = f"'{slug}' is of a part that comes before the exercise above it"
            yield Problem(pick.exercise.place, "part-order", what, "Put the warm-up first and the cool-down last.", Grade.NOTICE)
        last = max(last, RANKS[pick.part])


def _check_rounds(group: Sequence[Pick], library: Library) -> Iterator[Problem]:
    sets = {pick.exercise.slug: given_dose(library.exercise[pick.exercise.slug], pick).sets for pick in group}
    if len(group) == 1:
        what = f"'{group[0].exercise.slug}' alone is done in rounds"
        yield Problem(group[0].at("part"), "rounds-alone", what, "Add another exercise beside it, or take 'part' out.", Grade.NOTICE)
    elif len(set(sets.values())) > 1:
        shown = ", ".join(f"{slug} {count}" for slug, count in sets.items())
        what = f"exercises of one part have sets of unlike number ({shown}): the last rounds have fewer exercises"
        yield Problem(group[0].at("part"), "rounds-sets", what, "Give them the same number of sets, unless it is meant so.", Grade.NOTICE)


def _check_given(bundle: Bundle, library: Library) -> Iterator[Problem]:
    for refs, known, folder in ((bundle.tests, library.tests, "tests"), (bundle.leaflets, library.leaflets, "leaflets")):
        slugs = {item.slug: item for item in known}
        for ref in refs:
            if ref.slug not in slugs and f"{folder}/{ref.slug}" not in library.unread:
                yield Problem(ref.place, "unknown-name", f"'{ref}' is not declared in {folder}/", suggest(ref.slug, slugs))
    given = (*bundle.tests, *bundle.leaflets)
    if len(given) > MOST_GIVEN:
        what = f"{len(given)} tests and leaflets are handed over with the bundle, {MOST_GIVEN} are the most"
        yield Problem(given[MOST_GIVEN].place, "given-many", what, "Take some out.")
