"""What a figure tells of an exercise's demands, and what its author declares."""

from __future__ import annotations

import pytest

from handouts.figure import Movement
from handouts.limits import DERIVED_DEMANDS, SIDED_DEMANDS, check_demands
from handouts.limits.demands import IMPLIES, demands_of, worked_side
from handouts.model import Library, Side
from handouts.problems import show_problem
from tests.builders import a_dose, a_library
from tests.limits.making import an_exercise, demo, motion, some_facts


def knee(end: float, side: str = "r") -> Movement:
    return Movement("knee", "knee flexion", side, 60.0, end, typed=True)


def shoulder(side: str, typed: bool = True) -> Movement:
    return Movement("shoulder", "shoulder flexion", side, 20.0, 90.0, typed)


def move(start: float, end: float) -> Movement:
    return Movement("shoulder", "shoulder flexion", "r", start, end, typed=True)


def across(start: float, end: float, typed: bool = True) -> Movement:
    return Movement("shoulder", "shoulder horizontal adduction", "r", start, end, typed)


FREE = ("shoulder.l", "shoulder.r")


@pytest.mark.parametrize(
    ("slug", "facts", "sides"),
    [
        ("open-chain-knee-extension", {"movements": (knee(10.0),), "open_chain": ("knee.r",)}, "r"),
        ("open-chain-knee-extension", {"movements": (knee(10.0),)}, ""),
        ("open-chain-knee-extension", {"movements": (knee(90.0),), "open_chain": ("knee.r",)}, ""),
        ("open-chain-knee-extension", {"movements": (knee(90.0),), "open_chain": ("knee.r",), "active": ("quads.r",)}, "r"),
        ("open-chain-knee-extension", {"movements": (knee(90.0),), "open_chain": ("knee.r",), "active": ("quads.l",)}, ""),
        ("active-shoulder", {"movements": (shoulder("l"),), "open_chain": FREE}, "l"),
        ("active-shoulder", {"movements": (shoulder("l", typed=False),), "open_chain": FREE}, ""),
        ("active-shoulder", {"movements": (shoulder("l", typed=False),)}, "l"),
        ("resisted-shoulder", {"movements": (shoulder("l"),), "props": (("weighted-ball", ("hands",)),)}, "l"),
        ("resisted-shoulder", {"movements": (shoulder("l"),), "props": (("ankle-weight", ("ankle.r",)),)}, ""),
        ("resisted-shoulder", {"movements": (shoulder("l"),), "props": (("stick", ("hands",)),)}, ""),
        ("weight-on-arms", {"base": "all-fours", "contacts": ("shin mat", "palm mat"), "end_contacts": ("shin.l mat", "palm.r mat")}, "lr"),
        ("weight-on-arms", {"contacts": ("foot floor", "palm counter")}, ""),
        ("weight-on-arms", {"base": "kneeling", "contacts": ("shin mat", "palm ball"), "end_contacts": ("shin mat", "palm.r ball")}, "lr"),
        ("weight-on-arms", {"base": "half-kneeling", "contacts": ("foot.l mat", "palm.r chair"), "end_contacts": ("foot.l mat",)}, "r"),
        ("weight-on-arms", {"base": "half-kneeling", "contacts": ("foot.l mat", "grip front-thigh"), "end_contacts": ("foot.l mat",)}, ""),
        ("weight-on-arms", {"base": "long-sitting", "contacts": ("seat mat", "palm mat"), "end_contacts": ("seat mat",)}, "lr"),
        # lying on the front, pushed up on both hands or on one forearm; hands that lie beside the body on nothing carry none
        ("weight-on-arms", {"base": "prone", "contacts": ("front mat",), "end_contacts": ("thigh mat", "palm mat")}, "lr"),
        ("weight-on-arms", {"base": "prone", "contacts": ("front mat", "forearm.l mat"), "end_contacts": ("front mat", "forearm.l mat")}, "l"),
        ("weight-on-arms", {"base": "prone", "contacts": ("front mat",), "end_contacts": ("front mat",)}, ""),
        ("weight-on-arms", {"base": "long-sitting", "contacts": ("seat mat", "palm.l floor"), "end_contacts": ("seat mat", "palm.l floor")}, "l"),
        ("weight-on-arms", {"base": "long-sitting", "contacts": ("seat mat",), "end_contacts": ("seat mat",)}, ""),
        ("arm-across-body", {"movements": (across(0.0, 30.0),)}, "r"),
        ("arm-across-body", {"movements": (across(44.0, 0.0),)}, "r"),
        ("arm-across-body", {"movements": (across(0.0, 29.0),)}, ""),
        ("arm-across-body", {"movements": (across(0.0, 60.0, typed=False),)}, ""),
        ("arm-across-body", {"movements": (shoulder("r"),)}, ""),
        ("active-shoulder", {"movements": (move(9.0, 38.0),), "open_chain": FREE}, ""),
        ("active-shoulder", {"movements": (move(9.0, 39.0),), "open_chain": FREE}, "r"),
        ("active-shoulder", {"movements": (move(9.0, 38.0),), "open_chain": FREE, "active": ("deltoid.r",)}, "r"),
        ("active-shoulder", {"movements": (move(9.0, 38.0),), "open_chain": FREE, "active": ("shoulder-blades",)}, "r"),
        ("active-shoulder", {"movements": (move(9.0, 38.0),), "open_chain": FREE, "active": ("deltoid.l", "calf.r")}, ""),
        ("active-shoulder", {"movements": (move(31.0, 90.0),)}, ""),
        ("active-shoulder", {"movements": (move(31.0, 91.0),)}, "r"),
        ("active-shoulder", {"movements": (move(31.0, 40.0),), "active": ("chest.r",)}, "r"),
        ("weight-on-leg", {"end_contacts": ("foot.r floor",)}, "lr"),
        ("weight-on-leg", {"contacts": ("foot.r floor",), "end_contacts": ("toes.r floor",)}, "r"),
        ("weight-on-leg", {"base": "sitting", "contacts": ("foot floor", "seat seat"), "end_contacts": ("toes floor", "seat seat")}, ""),
        ("weight-on-leg", {"base": "sitting", "contacts": ("foot floor", "seat seat")}, "lr"),
        ("weight-on-leg", {"base": "crook-lying", "contacts": ("back mat", "foot mat"), "end_contacts": ("upper-back mat", "foot.r mat")}, "r"),
        ("weight-on-leg", {"base": "supine", "contacts": ("back mat", "foot.l mat"), "end_contacts": ("back mat", "foot.l mat")}, ""),
        ("whole-weight-on-leg", {"end_contacts": ("toes.l step", "palm counter")}, "l"),
        ("whole-weight-on-leg", {}, ""),
        ("whole-weight-on-leg", {"base": "crook-lying", "contacts": ("back mat",), "end_contacts": ("upper-back mat", "foot.r mat")}, ""),
    ],
)
def test_demands_of_a_limb(slug: str, facts: dict[str, object], sides: str) -> None:
    """Each demand is told from the facts, on the sides that it is asked of."""
    found = demands_of(an_exercise(dose=a_dose(side=Side.TOGETHER)), some_facts(**facts))
    assert "".join(sorted(found.get(slug, ()))) == sides


@pytest.mark.parametrize(
    ("slug", "facts", "is_asked"),
    [
        ("lie-to-sit", {"lying_on": "back"}, True),
        ("lie-to-sit", {}, False),
        ("head-turn", {"movements": (Movement("neck", "neck rotation to the right", "", 0.0, 40.0, True),)}, True),
        ("head-turn", {"movements": (Movement("neck", "neck flexion", "", 0.0, 40.0, True),)}, False),
        ("load-in-hands", {"props": (("weight", ("hand.r",)),)}, True),
        ("load-in-hands", {"props": (("band", ("foot.r",)),)}, False),
    ],
)
def test_demands_of_the_body(slug: str, facts: dict[str, object], is_asked: bool) -> None:
    """Demands without a side."""
    assert (slug in demands_of(an_exercise(), some_facts(**facts))) is is_asked


def test_help_is_declared_for_the_arm_that_exercises() -> None:
    """With a stick the sore arm is helped; the other works by its own strength."""
    facts = some_facts(movements=(shoulder("l"), shoulder("r")), active=("rot-cuff.r",))
    one = demands_of(an_exercise(("assisted-shoulder",), dose=a_dose(side=Side.ONE)), facts)
    assert (one["assisted-shoulder"], one["active-shoulder"]) == ({"r"}, {"l"})
    together = demands_of(an_exercise(("assisted-shoulder",), dose=a_dose(side=Side.TOGETHER)), facts)
    assert together["assisted-shoulder"] == {"r", "l"}
    assert "active-shoulder" not in together


def test_the_side_that_exercises() -> None:
    """Muscles marked tell it, then joints that move, then it is the right one."""
    assert worked_side(some_facts(active=("calf.l",), movements=(knee(10.0),))) == "l"
    assert worked_side(some_facts(movements=(knee(10.0, "l"),))) == "l"
    assert worked_side(some_facts()) == "r"


def test_whole_weight_is_weight_too() -> None:
    """A declared step on one leg counts as weight on it, without a figure as well."""
    found = demands_of(an_exercise(("whole-weight-on-leg",), dose=a_dose(side=Side.BOTH)), None)
    assert found["weight-on-leg"] == {"r", "l"}


def test_needless_declarations_are_pointed_out() -> None:
    """What the figure tells need not be typed; what it does not tell may be."""
    library: Library = a_library(an_exercise(("lie-to-sit", "eyes-closed")))
    (problem,) = check_demands(library, {"step-up": motion({}, lying_on="back")})
    assert show_problem(problem) == (
        "test.md: notice: the figure tells the demand 'lie-to-sit' by itself. Take it out, so that it cannot disagree with the figure. [needless-demand]"
    ).replace("test.md:", f"{problem.place}:")
    assert check_demands(library, {"step-up": motion({})}) == ()


def test_every_demand_in_code_is_one_of_the_demo() -> None:
    """The demo's closed list holds every demand that is derived, sided or implied."""
    declared = set(demo().term["demands"])
    assert declared >= DERIVED_DEMANDS | SIDED_DEMANDS | set(IMPLIES) | set(IMPLIES.values())
