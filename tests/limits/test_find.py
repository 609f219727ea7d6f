"""Findings: at the bound allowed, past it found; combinations, sides, weeks, what cannot be known."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts.figure import Movement
from handouts.limits import TOLERANCE_DEGREES, BoundSubject, Finding, Moment, Whose, find_conflicts
from handouts.model import DoseRange, Side, Span
from tests.builders import PLACE, a_dose, refs
from tests.limits.making import an_exercise, motion, phase_at, phase_number, solved, the_limit

BOTH_AT_ONCE = a_dose(side=Side.TOGETHER)


def overs(findings: tuple[Finding, ...]) -> list[tuple[str, float | None]]:
    """What each finding exceeds, and by how much."""
    return [(part.name, part.over) for finding in findings for part in finding.parts if part.what is BoundSubject.MOTION]


# Posterior hip precautions: no flexion past 90 degrees, no adduction past the midline, no internal rotation past
# neutral (Eannucci et al., HSS Journal 15:247, 2019).
def test_posterior_hip_is_bound_at_90() -> None:
    """The bounds as the source defines them."""
    (phase,) = the_limit("hip-posterior").phases
    bounds = [(bound.motion.slug, bound.most, bound.least) for bound in phase.bounds if bound.motion]
    assert bounds == [("hip flexion", 90, None), ("hip adduction", 0, None), ("hip internal rotation", 0, None)]


# Two whole degrees past a bound are no finding (common practice, no source).
@pytest.mark.parametrize(("degrees", "over"), [(90.0, None), (92.0, None), (92.4, None), (92.6, 3.0), (93.0, 3.0), (96.3, 6.0)])
def test_two_degrees_past_a_bound_are_no_finding(degrees: float, over: float | None) -> None:
    """After rounding to whole degrees 92 are allowed and 93 are found, 3 past 90."""
    assert TOLERANCE_DEGREES == 2
    found = find_conflicts(an_exercise(), motion({}, {"hip.r.flex": degrees}), [the_limit("hip-posterior")])
    assert overs(found) == ([] if over is None else [("hip flexion", over)])


@pytest.mark.parametrize(("degrees", "over"), [(90, []), (92, []), (93, [("hip flexion", 3.0)])])
def test_posterior_hip_on_a_solved_figure(degrees: int, over: list[tuple[str, float]]) -> None:
    """The same through the figure engine: a knee drawn to the chest on the back."""
    shown = solved(f"base: supine\nprops: {{mat: yes}}\ncontacts: [back mat]\nstart: {{hip.r: 0}}\nend: {{hip.r: flex {degrees}, knee.r: 90}}\n")
    found = find_conflicts(an_exercise(dose=a_dose(side=Side.ONE)), shown, [the_limit("hip-posterior")])
    assert overs(found) == over
    assert all((finding.moment, finding.whose) == (Moment.END, Whose.WORKED) for finding in found)


@pytest.mark.parametrize("variable", ["hip.r.abd", "hip.l.ir"])
@pytest.mark.parametrize(("degrees", "count"), [(0.0, 0), (2.4, 0), (2.6, 1), (12.0, 1)])
def test_posterior_hip_allows_neutral(variable: str, degrees: float, count: int) -> None:
    """Neutral is allowed, more than 2 degrees past it not: neither adduction nor internal rotation."""
    signed = -degrees if variable.endswith("abd") else degrees
    assert len(find_conflicts(an_exercise(), motion({variable: signed}), [the_limit("hip-posterior")])) == count


TRIPLE = {"hip.r.flex": 95.0, "hip.r.abd": -3.0, "hip.r.ir": 8.0}


# The same paper: 164 patients who avoided only the combination had no rise in dislocation.
def test_pose_avoidance_finds_only_the_three_together() -> None:
    """All three on one leg at one moment are found; any two are not."""
    pose = [the_limit("hip-posterior-pose")]
    found = find_conflicts(an_exercise(), motion({}, TRIPLE), pose)
    assert overs(found) == [("hip flexion", 5.0), ("hip adduction", 3.0), ("hip internal rotation", 8.0)]
    for left_out in TRIPLE:
        others = {name: degrees for name, degrees in TRIPLE.items() if name != left_out}
        assert find_conflicts(an_exercise(), motion({}, others), pose) == ()


def test_pose_avoidance_needs_one_leg_and_one_moment() -> None:
    """Shared between two legs, or one after the other, the three are not the pose."""
    pose = [the_limit("hip-posterior-pose")]
    two_legs = {"hip.r.flex": 95.0, "hip.l.abd": -3.0, "hip.r.ir": 8.0}
    assert find_conflicts(an_exercise(), motion({}, two_legs), pose) == ()
    one_after_the_other = motion({"hip.r.flex": 95.0}, {"hip.r.abd": -3.0, "hip.r.ir": 8.0})
    assert find_conflicts(an_exercise(), one_after_the_other, pose) == ()


def test_anterior_hip() -> None:
    """Extension past neutral and lying on the front are found; the other version asks for the leg turned out as well."""
    behind = motion({"hip.l.flex": -4.0})
    assert overs(find_conflicts(an_exercise(), behind, [the_limit("hip-anterior")])) == [("hip extension", 4.0)]
    assert find_conflicts(an_exercise(), behind, [the_limit("hip-anterior-combined")]) == ()
    prone = find_conflicts(an_exercise(position="prone"), motion({}), [the_limit("hip-anterior")])
    assert [(part.what, part.name) for finding in prone for part in finding.parts] == [(BoundSubject.POSITION, "prone")]


def knee(start: float, end: float, open_chain: bool = True, weight: float | None = None, band: bool = False) -> tuple[object, object]:
    """A knee that straightens from one angle to another, with a free foot or not."""
    move = Movement("knee", "knee flexion", "r", start, end, typed=True)
    shown = motion({"knee.r.flex": start}, {"knee.r.flex": end}, base="sitting", movements=(move,),
                   open_chain=("knee.r",) if open_chain else (), active=("quads.r",),
                   props=(("band", ("ankle.r",)),) if band else ())
    return an_exercise(dose=a_dose(weight_kg=weight)), shown


def acl(week: int, subject: tuple[object, object], slug: str = "acl-open-chain") -> list[tuple[str, float | None]]:
    """What is found of the graft's limit in a week."""
    limit = the_limit(slug)
    number = phase_number(limit, phase_at(limit, week))
    found = find_conflicts(*subject, [limit])  # type: ignore[arg-type]
    return [(part.name, part.over) for finding in found if finding.phase == number for part in finding.parts]


# From week 4 only 90 to 45 degrees (Janssen et al., BMJ Open Sport and Exercise Medicine, 2018); then 30, 20 and 10
# degrees by the week, the whole range in week 8, no weight before week 12 (van Melick et al., BJSM 50:1506, 2016: its
# numbers from memory; heavier work from week 12 is Janssen's too).
def test_graft_from_week_4_works_between_90_and_45() -> None:
    """Before week 4 not at all; then 90 to 45 is allowed, 93 and 42 are found, with the foot on the floor neither."""
    demand = ("open-chain-knee-extension", None)
    assert acl(3, knee(90, 45)) == [demand]
    assert acl(4, knee(90, 45)) == []
    assert acl(4, knee(92, 43)) == []
    assert acl(4, knee(93, 45)) == [demand, ("knee flexion", 3.0)]
    assert acl(4, knee(90, 42)) == [demand, ("knee flexion", 3.0)]
    assert acl(4, knee(91, 4, open_chain=False)) == []


@pytest.mark.parametrize(("week", "least"), [(4, 45), (5, 30), (6, 20), (7, 10), (8, 0)])
def test_graft_widens_each_week(week: int, least: int) -> None:
    """The smallest knee flexion that is allowed in each week; two degrees less are no finding, three are."""
    assert acl(week, knee(90, least)) == acl(week, knee(90, least - 2)) == []
    assert (acl(week, knee(90, least - 3)) == []) is (week == 8)


@pytest.mark.parametrize("slug", ["acl-open-chain", "acl-open-chain-fixed"])
@pytest.mark.parametrize("week", range(12))
def test_graft_takes_no_weight_before_week_12(week: int, slug: str) -> None:
    """In every week an added weight or a band is found, also where the angles are within their bounds."""
    demand = ("open-chain-knee-extension", None)
    light, banded = acl(week, knee(90, 45, weight=0.5), slug), acl(week, knee(90, 45, band=True), slug)
    if week < 4:
        assert light == banded == [demand]
    else:
        assert light == [demand, ("weight", 0.5)]
        assert banded == [demand, ("band", None)]
        assert acl(week, knee(90, 45), slug) == []


def test_graft_from_week_12() -> None:
    """Nothing is bound any more; until then one version keeps to the first range."""
    for slug in ("acl-open-chain", "acl-open-chain-fixed"):
        assert phase_at(the_limit(slug), 12) is None
        assert phase_at(the_limit(slug), 11) is not None
    assert acl(11, knee(90, 42), "acl-open-chain-fixed")[1:] == [("knee flexion", 3.0)]


def test_a_band_has_no_kilograms() -> None:
    """It is past a bound that allows no weight at all, and is not held against one that allows some; the dose names it too."""
    fusion = [the_limit("lumbar-fusion")]
    assert find_conflicts(an_exercise(), motion({}, props=(("band", ("hands",)),)), fusion) == ()
    subject = an_exercise(("open-chain-knee-extension",), dose=a_dose(band=refs("light")[0]))
    found = find_conflicts(subject, motion({"knee.r.flex": 60.0, "knee.l.flex": 60.0}), [the_limit("acl-open-chain-fixed")])
    assert [part.name for finding in found if finding.phase == 1 for part in finding.parts] == ["open-chain-knee-extension", "band"]


ARM = Movement("shoulder", "shoulder flexion", "r", 20.0, 120.0, typed=True)


# Two weeks of rest, passive motion to week 6, then active; strengthening from week 12 (Thigpen et al., JSES 25:521, 2016).
@pytest.mark.parametrize(
    ("demands", "props", "weeks_found"),
    [
        (("passive-shoulder",), (), [0, 1]),
        (("assisted-shoulder",), (), [0, 1, 2, 5]),
        ((), (), [0, 1, 2, 5]),
        ((), (("weight", ("hand.r",)),), [0, 1, 2, 5, 6, 11]),
        ((), (("band", ("hand.l",)),), [0, 1, 2, 5]),
        (("weight-on-arms",), (), [0, 1, 2, 5, 6, 11]),
    ],
)  # fmt: skip
def test_cuff_repair_by_weeks(demands: tuple[str, ...], props: tuple[tuple[str, tuple[str, ...]], ...], weeks_found: list[int]) -> None:
    """No active motion before week 6, no load before week 12."""
    limit = the_limit("cuff-repair")
    shown = motion({"shoulder.r.flex": 20.0}, {"shoulder.r.flex": 120.0}, movements=(ARM,), open_chain=("shoulder.r",), props=props)
    phases = {finding.phase for finding in find_conflicts(an_exercise(demands, dose=a_dose(side=Side.ONE)), shown, [limit])}
    assert [week for week in (0, 1, 2, 5, 6, 11, 12, 30) if phase_number(limit, phase_at(limit, week)) in phases] == weeks_found


def test_weight_is_the_heaviest_that_may_be_set() -> None:
    """Lifting after a fusion: 4.5 kg (10 pounds) in two hospital leaflets; the dose's range counts."""
    fusion = [the_limit("lumbar-fusion")]

    def found(weight: float, high: float) -> list[float | None]:
        exercise = an_exercise(dose=a_dose(weight_kg=weight), dose_range=DoseRange(place=PLACE, weight_kg=Span(0.5, high)))
        return [part.over for finding in find_conflicts(exercise, motion({}), fusion) for part in finding.parts]

    assert found(2.0, 4.5) == []
    assert found(2.0, 5.0) == [0.5]
    assert found(6.0, 5.0) == [1.5]


@pytest.mark.parametrize(
    ("dose", "angles", "whose", "reached"),
    [
        (a_dose(side=Side.BOTH), {"hip.r.flex": 95.0, "hip.l.flex": 99.0}, Whose.EACH, 99.0),
        (a_dose(side=Side.ALTERNATING), {"hip.l.flex": 95.0}, Whose.EACH, 95.0),
        (a_dose(side=Side.ONE), {"hip.r.flex": 95.0}, Whose.WORKED, 95.0),
        (a_dose(side=Side.ONE), {"hip.l.flex": 95.0}, Whose.OTHER, 95.0),
        (a_dose(side=Side.ONE), {"hip.l.flex": 95.0, "hip.r.flex": 94.0}, Whose.BOTH, 95.0),
        (BOTH_AT_ONCE, {"hip.l.flex": 95.0, "hip.r.flex": 95.0}, Whose.BOTH, 95.0),
        (BOTH_AT_ONCE, {"hip.r.flex": 95.0}, Whose.RIGHT, 95.0),
        (BOTH_AT_ONCE, {"hip.l.flex": 95.0}, Whose.LEFT, 95.0),
    ],
)
def test_sides(dose: object, angles: dict[str, float], whose: Whose, reached: float) -> None:
    """A finding tells which side moves, as the exercise is done, with the larger angle of the two."""
    (found,) = find_conflicts(an_exercise(dose=dose), motion(angles, active=("glutes.r",)), [the_limit("hip-posterior")])
    assert (found.whose, found.parts[0].reached) == (whose, reached)


def test_moments() -> None:
    """The frame that goes farthest gives the moment; a single frame is held; the trunk has no side."""
    fusion = [the_limit("lumbar-fusion")]
    bent, more = {"trunk.flex": 40.0}, {"trunk.flex": 50.0}
    for frames, moment in (((more, bent, bent), Moment.START), ((bent, more, bent), Moment.MOVING), ((bent, more), Moment.END), ((more,), Moment.HELD)):
        (found,) = find_conflicts(an_exercise(), motion(*frames), fusion)
        assert (found.moment, found.whose, found.over) == (moment, Whose.BODY, 35.0)


def test_turns_count_in_both_directions() -> None:
    """A bound on trunk rotation is passed to the left as to the right."""
    for degrees in (-13.0, 13.0):
        found = find_conflicts(an_exercise(), motion({"trunk.turn": degrees}), [the_limit("lumbar-fusion")])
        assert overs(found) == [("trunk rotation", 3.0)]


def test_what_no_figure_shows_is_unknown() -> None:
    """Without a figure angles are unknown, and said; position, weight and what was declared are judged all the same."""
    (hip,) = find_conflicts(an_exercise(), None, [the_limit("hip-posterior")])
    assert hip.is_unknown
    lying = find_conflicts(an_exercise(position="lying"), None, [the_limit("pregnancy-lying-16")])
    assert [part.name for finding in lying for part in finding.parts] == ["lying"]
    assert find_conflicts(an_exercise(position="seated"), None, [the_limit("pregnancy-lying-16")]) == ()
    assert find_conflicts(an_exercise(), None, [the_limit("breath-holding")]) == ()
    declared = find_conflicts(an_exercise(("weight-on-leg",)), None, [the_limit("no-weight")])
    assert [part.name for finding in declared for part in finding.parts] == ["weight-on-leg"]
    assert [finding.phase for finding in find_conflicts(an_exercise(), None, [the_limit("cuff-repair")]) if finding.is_unknown] == [0, 1, 2]


def test_slight_excesses_are_found_and_marked() -> None:
    """Five degrees past are slight, more are not."""
    limits = [the_limit("hip-posterior")]
    for degrees, slight in ((93.0, True), (95.4, True), (95.6, False), (96.0, False)):
        (found,) = find_conflicts(an_exercise(), motion({"hip.r.flex": degrees}), limits)
        assert found.is_slight is slight


@given(st.floats(-30, 130), st.floats(0, 40))
def test_more_flexion_is_never_found_less(degrees: float, more: float) -> None:
    """Where an angle is found, a larger one is, by at least as much."""
    limits = [the_limit("hip-posterior")]

    def over(angle: float) -> float:
        return sum(finding.over for finding in find_conflicts(an_exercise(), motion({"hip.r.flex": angle}), limits))

    assert over(degrees) <= over(degrees + more)


@given(st.lists(st.fixed_dictionaries({name: st.floats(-40, 130) for name in TRIPLE}), min_size=1, max_size=7))
def test_findings_are_what_the_definition_says(frames: list[dict[str, float]]) -> None:
    """Against the definition, frame by frame: past the bound by more than 2 whole degrees, all three at once for the pose."""
    rounded = [{name: round(value) for name, value in frame.items()} for frame in frames]
    past = [(frame["hip.r.flex"] > 92, frame["hip.r.abd"] < -2, frame["hip.r.ir"] > 2) for frame in rounded]
    strict = find_conflicts(an_exercise(), motion(*frames), [the_limit("hip-posterior")])
    assert len(strict) == sum(any(row[index] for row in past) for index in range(3))
    pose = find_conflicts(an_exercise(), motion(*frames), [the_limit("hip-posterior-pose")])
    assert bool(pose) is any(all(row) for row in past)
