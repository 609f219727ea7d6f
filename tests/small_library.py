"""A small valid library as texts, for tests that break one thing in it and read the whole message."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from handouts.library.read import read_library
from handouts.model import Library
from handouts.problems import Problem, show_problem, sort_problems
from handouts.rules import check_library

TODAY = date(2026, 11, 25)

CLINIC = """\
name: Test Clinic
invented: yes
about: A clinic made up for tests.
site: https://clinic.example/
locations:
  - {slug: main, name: Main Street, address: "1 Main Street, Testville", phone: 555-0100}
emergency: {number: "911", text: Call 911 if you have chest pain.}
languages: {source: en}
papers: [letter, a4]
type sizes: [standard, large]
accent: "#0f5e6b"
reading level: 6
review: {months: 12, notice days: 60, grace days: 90}
session: {minutes: 30, exercises: 6, change of position: 30 s, between exercises: 30 s}
pain rule: Pain up to 3 out of 10 is fine if it settles by morning.
defer: {surgeon: Your surgeon's protocol comes first., clinician: This sheet does not replace your clinician's advice.}
"""
TIERS = """\
tiers:
  - {slug: wake, name: Wake, means: First small movements.}
  - {slug: build, name: Build, means: More load.}
  - {slug: live, name: Live, means: Back to daily life.}
"""
VOCABULARY = """\
regions: [{slug: knee, name: Knee}]
positions:
  - {slug: sitting, name: Sitting, level: chair}
  - {slug: standing, name: Standing, level: standing}
equipment: [{slug: chair, name: Chair}]
purposes: [{slug: strength, name: Strength}]
bands: [{slug: light, name: Light}]
"""
CAUTIONS = """\
cautions:
  - {slug: stop-pain, kind: stop, when: You have sharp pain., do: Stop and call us., call: clinic, source: common practice}
  - {slug: go-slow, kind: care, when: You feel tired., do: Go slower., source: common practice}
"""
EXERCISE = """\
---
code: {code}
title: {title}
tier: {tier}
regions: [knee]
purpose: strength
position: sitting
equipment: [chair]
why: You use this each time you stand up.
dose: {{sets: 2, reps: 10, tempo: 2-1-2, rest: 60 s, days: 3, effort: 3-5}}
dose range: {{sets: 1-3, reps: 5-15}}
cues: [Sit tall.]
feel: You feel your thigh work.
mistakes: [{{see: You lean back., do: Sit up tall.}}]
cautions: [stop-pain]
{after}ready when: You can do 2 sets of 15 with ease.
review: {{on: 2026-09-14, by: lead physiotherapist}}
sources: ["common practice, no source"]
figure: {{base: sitting}}
easier: Lift half as high.
---
## How to do it

1. Sit on a chair.
2. Lift your foot.
"""
PROGRAMME = """\
---
code: P222
title: Stand up well
goal: You get up from a chair with ease.
for: People who find it hard to stand up.
weeks: 6
tiers:
  - {tier: wake, enter when: You can sit without pain., exercises: [foot-lift]}
  - {tier: build, enter when: You can do each one above., exercises: [leg-lift]}
review: {on: 2026-09-14, by: lead physiotherapist}
sources: ["common practice, no source"]
---
## About this programme

You will get strong step by step.
"""
BUNDLE = """\
title: First days
for: People who just begin.
exercises: [foot-lift, {exercise: leg-lift, dose: {sets: 1}}]
weeks: 2
review: {on: 2026-09-14, by: lead physiotherapist}
"""
CONDITIONS = """\
conditions:
  - slug: heart
    name: A heart problem
    asks: Did a doctor say how hard you may work?
    rules:
      - {says: Ask the doctor first., positions: [standing], demands: [breath-hold], cautions: [go-slow], exercises: [foot-lift]}
    source: "common practice, no source"
    status: clinic's choice
"""
"""Conditions to ask about; no part of ``TEXTS``."""
FUNCTION_TEST = """\
---
code: T222
title: Chair stand
for: People who find it hard to stand up.
measures: It shows how strong your legs are.
equipment: [chair]
unit: times
each side: yes
most: 60
norms:
  says: A smaller number is below the average for your age.
  rows:
    - {sex: women, from: 60, to: 64, value: 12}
    - {sex: men, from: 60, value: 14}
  source: A table that was made up for tests
  status: from memory
error: {change: 2.5, confidence: 90, who: People in a made-up study., source: A study made up for tests, status: confirmed}
symmetry: {percent: 90, source: "common practice, no source", status: clinic's choice}
cautions: [stop-pain]
review: {on: 2026-09-14, by: lead physiotherapist}
sources: ["common practice, no source"]
---
## How to do it

1. Sit on a chair.
2. Stand up and sit down as often as you can.
"""
"""A test of function; no part of ``TEXTS``."""
LEAFLET = """\
---
code: L222
title: Rest well
for: People who do too much.
why: You get more done when you rest in time.
points: [Rest before you hurt.]
cautions: [stop-pain]
review: {on: 2026-09-14, by: lead physiotherapist}
sources: ["common practice, no source"]
---
## What to do

- Set a timer.
"""
"""An advice sheet; no part of ``TEXTS``."""
LESSON = """\
---
code: Z222
title: How we teach the foot lift
for: Clinicians.
exercise: foot-lift
set up: [Set the chair against a wall.]
watch: [{from: The side, see: The back stays tall.}]
hands: One hand on the knee.
regress when: The back rounds.
ask back: [What makes you stop?]
review: {on: 2026-09-14, by: lead physiotherapist}
sources: ["common practice, no source"]
---
"""
"""How an exercise is taught; no part of ``TEXTS``."""
CLASS = """\
code: V222
title: Chair circle
for: People who find it hard to stand up.
equipment: [chair]
people: 5
work: 40 s
rest: 20 s
rounds: 2
between rounds: 60 s
warm up: {time: 2 min, do: [Walk on the spot.]}
stations:
  - levels: [foot-lift, leg-lift]
    watch: [The chair stands against a wall.]
  - levels: [foot-lift, leg-lift]
cool down: {time: 1 min, do: [Sit still.]}
regress when: The back rounds.
review: {on: 2026-09-14, by: lead physiotherapist}
sources: ["common practice, no source"]
"""
"""The plan of a class; no part of ``TEXTS``."""
TEXTS: Mapping[str, str] = {
    "clinic.yaml": CLINIC,
    "tiers.yaml": TIERS,
    "vocabulary.yaml": VOCABULARY,
    "cautions.yaml": CAUTIONS,
    "exercises/foot-lift.md": EXERCISE.format(code="A222", title="Foot lift", tier="wake", after=""),
    "exercises/leg-lift.md": EXERCISE.format(code="B222", title="Leg lift", tier="build", after="after: [foot-lift]\n"),
    "programmes/stand-up.md": PROGRAMME,
    "bundles/first-days.yaml": BUNDLE,
}


def texts_with(path: str, *edits: tuple[str, str], **files: str) -> dict[str, str]:
    """The small library with edits to one file; each edit must change exactly one place."""
    texts = {**TEXTS, **files}
    for old, new in edits:
        if texts[path].count(old) != 1:
            raise ValueError(f"{old!r} stands {texts[path].count(old)} times in {path}")
        texts[path] = texts[path].replace(old, new)
    return texts


def read_texts(texts: Mapping[str, str]) -> tuple[Library | None, list[Problem]]:
    """The library of texts, as the reader gives it."""
    return read_library({path: text.encode() for path, text in texts.items()})


def small_library(texts: Mapping[str, str] = TEXTS) -> Library:
    """The library of texts; fails where they cannot be read."""
    library, problems = read_texts(texts)
    assert library is not None, [show_problem(problem) for problem in problems]
    return library


def messages(texts: Mapping[str, str], today: date = TODAY) -> list[str]:
    """Every message that reading and checking give, in the order printed."""
    library, problems = read_texts(texts)
    found = [*problems, *(check_library(library, today) if library else ())]
    return [show_problem(problem) for problem in sort_problems(found)]
