"""The plan of a session: its sums are this side's; its order and lengths are tested in ``tests/scripts/plan.test.js``."""

from __future__ import annotations

from random import Random

from handouts.bundle.catalogue import dose_json
from handouts.bundle.whole_dose import whole_dose
from handouts.dose.parts import order_of
from handouts.dose.session import add_up_session
from tests.bundle.sample import random_addition, random_bundle
from tests.bundle.test_twins import CATALOGUE, TWINS
from tests.scripts.node import ask_script


def test_sums_are_those_of_this_side() -> None:
    """300 random bundles, many with rounds: work, rests, changes and what lies between add up to the same seconds."""
    random, policy = Random(7), TWINS.clinic.session
    bundles = [random_addition(random_bundle(random, CATALOGUE), random, CATALOGUE) for _ in range(300)]
    given, wanted, unknown = [], [], 0
    for bundle in bundles:
        picks = [(TWINS.exercise[pick.exercise.slug], whole_dose(pick, TWINS)) for pick in bundle.picks]
        parts = [pick.part.value if pick.part else "" for pick in bundle.picks]
        given.append([{"dose": dose_json(dose), "position": exercise.position.slug, "part": part} for (exercise, dose), part in zip(picks, parts, strict=True)])
        totals = add_up_session(picks, policy, order_of(bundle.picks, bundle.round_rest_seconds))
        wanted.append(totals.seconds)
        unknown += len(totals.unknown)
    seconds = {"change": policy.change_seconds, "between": policy.between_seconds}
    assert ask_script("sessionSeconds", {"rows": given, "policy": seconds, "rests": [bundle.round_rest_seconds for bundle in bundles]}) == wanted
    assert unknown > 0
    assert len(set(wanted)) > 100
