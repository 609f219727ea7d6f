"""Each rule on movement limits has a broken library, and its whole message is compared."""

from __future__ import annotations

import pytest

from tests.small_library import TEXTS, VOCABULARY, messages

DEMANDS = VOCABULARY + "demands: [{slug: head-turn, name: turning the head}, {slug: breath-hold-risk, name: holding the breath}]\n"
LIMITS = """\
limits:
  - slug: strict
    group: hip
    name: Hip
    says: Not past 90 degrees.
    source: a paper
    status: confirmed
    phases:
      - name: First weeks
        from week: 0
        to week: 5
        bounds:
          - {motion: hip flexion, at most: 90, together: pose}
          - {motion: hip adduction, at most: 0, together: pose}
      - name: Later
        from week: 6
        bounds: [{demand: head-turn}, {position: sitting}, {kilograms at most: 2}]
  - {slug: loose, group: hip, default: no, name: Hip two, says: No bound., source: a paper, status: confirmed, phases: [{name: All, bounds: []}]}
"""

BROKEN_LIMITS = [
    # rule, edits of limits.yaml, whole message
    ("check_cautions", [("    name: Hip\n", "    name: Hip\n    caution: new-hip\n")],
     "content/limits.yaml:5:14: error: 'new-hip' is not declared in cautions.yaml. Use one of: go-slow, stop-pain. [unknown-name]"),
    ("check_motions", [("motion: hip flexion", "motion: hip flexsion")],
     "content/limits.yaml:13:22: error: no figure has a motion 'hip flexsion'. Did you mean 'hip flexion'? [unknown-motion]"),
    ("check_demands", [("demand: head-turn", "demand: head-tun")],
     "content/limits.yaml:17:27: error: 'head-tun' is not declared in 'demands' of vocabulary.yaml. Did you mean 'head-turn'? [unknown-name]"),
    ("check_demands", [("position: sitting", "position: siting")],
     "content/limits.yaml:17:50: error: 'siting' is not declared in 'positions' of vocabulary.yaml. Did you mean 'sitting'? [unknown-name]"),
    ("check_limit_groups", [("default: no", "default: yes")],
     "content/limits.yaml:3:12: error: the clinic uses 2 of the 2 versions in 'hip' (strict, loose). Write 'default: no' in all of them but one. [limit-group]"),
    ("check_limit_groups", [("group: hip\n", "group: hip\n    default: no\n")],
     "content/limits.yaml:3:12: error: the clinic uses 0 of the 2 versions in 'hip' (none). Write 'default: no' in all of them but one. [limit-group]"),
    ("check_bounds", [("hip flexion, at most: 90,", "hip flexion,")],
     "content/limits.yaml:13:22: error: the bound on 'hip flexion' has no number. Add 'at most' or 'at least', in degrees. [limit-bound]"),
    ("check_bounds", [("{demand: head-turn}", "{at least: 3}")],
     "content/limits.yaml:17:18: error: the bound has degrees and no motion. Add 'motion'. [limit-bound]"),
    ("check_bounds", [("- {motion: hip flexion, at most: 90, together: pose}", "- {together: pose}")],
     "content/limits.yaml:13:13: error: the bound does not say what it bounds. Add a motion, a position, a demand or a weight. [limit-bound]"),
    ("check_combinations", [("90, together: pose", "90, together: pos")],
     "content/limits.yaml:13:58: error: 'pos' joins this bound to no other one of its phase. Write the same word in the bounds that count only together, or take it out. [limit-alone]"),
    ("check_weeks", [("from week: 6", "from week: 5")],
     "content/limits.yaml:16:20: error: the phase begins in week 5, and the one before it lasts through week 5. Let each phase begin after the one before it: a week belongs to one phase. [limit-weeks]"),
    ("check_weeks", [("        to week: 5\n", "")],
     "content/limits.yaml:15:20: error: the phase begins in week 6, and the one before it has no last week. Let each phase begin after the one before it: a week belongs to one phase. [limit-weeks]"),
    ("check_weeks", [("from week: 0", "from week: 7")],
     "content/limits.yaml:11:18: error: the phase ends in week 5, before it begins in week 7. Exchange the two, or correct one. [limit-weeks]"),
]  # fmt: skip


def messages_of(limits: str) -> list[str]:
    """What reading and checking say of a library with these limits."""
    return messages({**TEXTS, "vocabulary.yaml": DEMANDS, "limits.yaml": limits})


@pytest.mark.parametrize(("rule", "edits", "expected"), BROKEN_LIMITS, ids=[f"{row[0]}-{number}" for number, row in enumerate(BROKEN_LIMITS)])
def test_whole_message(rule: str, edits: list[tuple[str, str]], expected: str) -> None:
    """The broken limits give the message, word for word."""
    text = LIMITS
    for old, new in edits:
        assert text.count(old) == 1
        text = text.replace(old, new)
    assert expected in messages_of(text)


def test_whole_limits_give_no_message() -> None:
    """Limits in which nothing is broken are accepted."""
    assert not [message for message in messages_of(LIMITS) if "limits.yaml" in message]


def test_unknown_demand_of_an_exercise() -> None:
    """A demand that an exercise misspells is found in its file."""
    broken = TEXTS["exercises/foot-lift.md"].replace("ready when:", "demands: [breath-hold]\nready when:")
    found = messages({**TEXTS, "vocabulary.yaml": DEMANDS, "limits.yaml": LIMITS, "exercises/foot-lift.md": broken})
    assert "content/exercises/foot-lift.md:16:11: error: 'breath-hold' is not declared in 'demands' of vocabulary.yaml. Did you mean 'breath-hold-risk'? [unknown-name]" in found
