"""Which exercises the rules of a condition touch, and by what; what a figure would have to tell is never passed over."""

from __future__ import annotations

from dataclasses import replace

from handouts.clinician.conditions import conditions_to_tick
from handouts.limits import find_all
from handouts.limits.conditions import ConditionReason, find_touched
from handouts.model import ConditionRule, Exercise, Library, PatientCondition, Words
from tests.builders import PLACE, a_library, refs
from tests.limits.making import an_exercise, demo, demo_figures, motion, the_limit

SLOW = replace(an_exercise(("head-turn",), slug="slow", position="lying"), equipment=refs("mat"))
QUICK = an_exercise(slug="quick", cautions=("stop-pain", "room-spins"))


def touched(exercise: Exercise, has_figure: bool = True, **names: tuple[str, ...]) -> dict[ConditionReason, tuple[str, ...]]:
    """What one rule that names these touches of two exercises, of which the second has a figure."""
    rule = ConditionRule(place=PLACE, says=Words("Ask.", PLACE), **{kind: refs(*slugs) for kind, slugs in names.items()})  # type: ignore[arg-type]
    condition = PatientCondition(place=PLACE, slug="c", name=Words("C", PLACE), asks=Words("C?", PLACE), rules=(rule,), source="s", status="from memory")
    library = replace(a_library(SLOW, exercise), limits=(the_limit("vertigo"), the_limit("pregnancy-lying-16")), conditions=(condition,), vocabulary=demo().vocabulary)
    shown = {"slow": motion({}), **({exercise.slug: motion({})} if has_figure else {})}
    return dict(find_touched(library, shown, find_all(library, shown))["c"][0])


def test_each_kind_by_itself() -> None:
    """Position, thing, declared demand, caution, limit, name."""
    assert touched(QUICK, positions=("lying",)) == {ConditionReason("positions", "lying"): ("slow",)}
    assert touched(QUICK, cautions=("room-spins",)) == {ConditionReason("cautions", "room-spins"): ("quick",)}
    assert touched(QUICK, exercises=("quick",)) == {ConditionReason("exercises", "quick"): ("quick",)}
    assert touched(QUICK, demands=("head-turn",)) == {ConditionReason("demands", "head-turn"): ("slow",)}
    assert touched(QUICK, limits=("pregnancy-lying-16",)) == {ConditionReason("limits", "pregnancy-lying-16"): ("slow",)}
    assert touched(replace(QUICK, equipment=refs("band")), equipment=("band", "step")) == {ConditionReason("equipment", "band"): ("quick",)}
    assert touched(QUICK, positions=("prone",)) == {}


def test_without_a_figure_it_is_told_as_unknown() -> None:
    """A demand that a figure would tell, and a limit on one, cannot be judged without it; one that authors declare can."""
    assert touched(QUICK, has_figure=False, demands=("weight-on-leg",)) [ConditionReason("demands", "weight-on-leg", is_unknown=True)] == ("quick",)
    assert touched(QUICK, has_figure=False, demands=("passive-shoulder", "breath-hold-risk")) == {}
    assert touched(QUICK, has_figure=False, limits=("vertigo",))[ConditionReason("limits", "vertigo", is_unknown=True)] == ("quick",)


def demo_touched() -> tuple[Library, dict[str, set[str]]]:
    """The demo, and by condition every exercise that it touches."""
    library, shown = demo(), demo_figures()
    found = find_touched(library, shown, find_all(library, shown))
    return library, {slug: {name for rule in rules for _, slugs in rule for name in slugs} for slug, rules in found.items()}


def test_what_the_demo_must_name() -> None:
    """What a clinician expects of each condition (common practice, no source, but where limits.yaml names one)."""
    _, found = demo_touched()
    assert {"bridge", "wall-push-up", "shelf-lift"} <= found["high-blood-pressure"]
    assert {"one-leg-stand", "one-leg-stand-on-a-pillow"} <= found["numb-feet"]
    assert {"bridge", "straight-leg-raise", "face-down-arm-lift"} <= found["pregnancy"]
    assert {"two-hand-ball-lift", "arm-swing"} <= found["thin-bones"]  # the spine bends under load; bending over
    assert {"counter-heel-raise", "wall-calf-stretch"} <= found["clot"]
    assert {"arm-swing", "stick-arm-raise"} <= found["stroke"]
    assert {"sword-draw", "bridge"} <= found["dizziness"]
    assert {"one-leg-stand", "step-up", "heel-to-toe-walk"} <= found["blood-thinners"] & found["falls"]
    assert all(found.values()), [slug for slug, each in found.items() if not each]
    assert "table-slide" not in found["pregnancy"]


def test_said_in_words() -> None:
    """Each reason in the language's words, the source with how far it was read; nothing where a language lacks words."""
    library, shown = demo(), demo_figures()
    each = find_touched(library, shown, find_all(library, shown))
    said = {item.slug: item for item in conditions_to_tick(library, library, each)}
    assert said["numb-feet"].rules[0].found[0][0] == "What it asks of the body: done with bare feet"
    assert said["numb-feet"].rules[0].source.endswith("(From memory: look it up before you rely on it)")
    assert said["thin-bones"].source.endswith("(Read in the source)")
    assert said["heart"].source == "Common practice, no source (This clinic's own rule)"
    assert said["pregnancy"].rules[0].found[0] == ("Starting position: lying on your back", tuple(item.slug for item in library.exercises if item.position.slug == "lying"))
    fewer = replace(library, conditions=library.conditions[1:])
    assert conditions_to_tick(fewer, library, each) == ()
    assert conditions_to_tick(replace(library, cautions=library.cautions[1:]), library, each) == ()
