"""Every branch of the readers and rules: what else is said of a value, word for word."""

from __future__ import annotations

import pytest

from tests.small_library import messages, texts_with

FOOT, PROGRAMME, BUNDLE, CLINIC = "exercises/foot-lift.md", "programmes/stand-up.md", "bundles/first-days.yaml", "clinic.yaml"

CASES: list[tuple[str, str, list[tuple[str, str]], dict[str, str], list[str]]] = [
    ("nothing counted", FOOT, [("reps: 10, tempo: 2-1-2, ", "")], {},
     [
         "content/exercises/foot-lift.md:10:7: error: the dose does not say what to count. Add reps, hold, time or distance. [dose-kind]",
         "content/exercises/foot-lift.md:11:31: error: the dose range moves 'reps', which the dose does not have. Delete 'reps' from 'dose range', or add it to 'dose'. [dose-range-idle]",
     ]),
    ("hold beside time", FOOT, [("reps: 10, tempo: 2-1-2, ", "time: 5 min, hold: 10 s, "), ("dose range: {sets: 1-3, reps: 5-15}\n", "")], {},
     ["content/exercises/foot-lift.md:10:36: error: a hold stands beside time. Keep one of the two; a hold goes with reps or alone. [dose-kind]"]),
    ("no days", FOOT, [("days: 3, ", "")], {},
     ["content/exercises/foot-lift.md:10:7: error: the dose does not say on how many days a week. Add days, such as days: 3. [dose-days]"]),
    ("tempo beside a time", FOOT, [("reps: 10, ", "time: 5 min, "), (", reps: 5-15", "")], {},
     ["content/exercises/foot-lift.md:10:37: error: a tempo stands beside a dose that counts no repetitions. Delete the tempo. [dose-tempo]"]),
    ("hold twice", FOOT, [("reps: 10, ", "reps: 10, hold: 3 s, ")], {},
     ["content/exercises/foot-lift.md:10:33: error: the hold is given twice, as 'hold' and in the tempo. Keep one: write the tempo as 2-0-2. [dose-hold-twice]"]),
    ("range of what is not there", FOOT, [("reps: 5-15", "reps: 5-15, weight: 1-2 kg")], {},
     ["content/exercises/foot-lift.md:11:45: error: the dose range moves 'weight', which the dose does not have. Delete 'weight' from 'dose range', or add it to 'dose'. [dose-range-idle]"]),
    ("picked twice", BUNDLE, [("[foot-lift, {exercise", "[foot-lift, foot-lift, {exercise")], {},
     ["content/bundles/first-days.yaml:3:24: error: 'foot-lift' is picked twice. Take one out. [bundle-twice]"]),
    ("bundle too long", CLINIC, [("{minutes: 30,", "{minutes: 1,")], {},
     ["content/bundles/first-days.yaml:3:12: notice: the bundle takes 4 minutes, the clinic advises at most 1. Take some out, or make doses smaller. [bundle-long]",
      "content/programmes/stand-up.md:8:68: notice: a session of the tier 'wake' takes 3 minutes, the clinic advises at most 1. Take some out, or make doses smaller. [tier-long]",
      "content/programmes/stand-up.md:9:70: notice: a session of the tier 'build' takes 3 minutes, the clinic advises at most 1. Take some out, or make doses smaller. [tier-long]"]),
    ("tier unknown in a programme", PROGRAMME, [("{tier: build, ", "{tier: bild, ")], {},
     ["content/programmes/stand-up.md:9:12: error: 'bild' is not declared in tiers.yaml. Did you mean 'build'? [unknown-name]"]),
    ("tiers out of order", PROGRAMME, [("{tier: build, ", "{tier: wake, ")], {},
     [
         "content/programmes/stand-up.md:9:12: error: the tier 'wake' stands out of the order of tiers.yaml. Put the tiers in order, each once. [programme-tier-order]",
         "content/programmes/stand-up.md:9:70: error: 'leg-lift' belongs to the tier 'build', not to 'wake'. Move it to that tier of the programme, or change its 'tier'. [programme-other-tier]",
     ]),
    ("review to come", FOOT, [("on: 2026-09-14", "on: 2027-01-01")], {},
     ["content/exercises/foot-lift.md:17:14: error: the review is dated 2027-01-01, after today. Write the day on which it was done. [review-future]"]),
    ("review over", FOOT, [("on: 2026-09-14", "on: 2025-11-01")], {},
     ["content/exercises/foot-lift.md:17:14: notice: the review ended on 2026-11-01. Review the content and write the new date. [review-overdue]"]),
    ("review soon over", FOOT, [("on: 2026-09-14", "on: 2025-12-01")], {},
     ["content/exercises/foot-lift.md:17:14: notice: the review ends on 2026-12-01, in 6 days. Plan the next review. [review-due]"]),
    ("limit without a group", FOOT, [], {"limits.yaml": "limits:\n  - {slug: a, name: A, says: B, source: s, status: confirmed, phases: [{name: p, bounds: []}]}\n"},
     []),
    ("number is a list", CLINIC, [("reading level: 6", "reading level: [6]")], {},
     ["content/clinic.yaml:12:16: error: a list stands where a number from 1 to 18 is wanted. Write a number from 1 to 18. [wrong-value]"]),
    ("number with a comma", CLINIC, [("reading level: 6", "reading level: \"6,5\"")], {},
     ["content/clinic.yaml:12:16: error: '6,5' is not a number from 1 to 18. Write a number from 1 to 18, with a point for decimals. [wrong-value]"]),
    ("flag is a list", CLINIC, [("invented: yes", "invented: [yes]")], {},
     ["content/clinic.yaml:2:11: error: a list stands where yes or no is wanted. Write yes or no. [wrong-value]"]),
    ("choice is a list", "cautions.yaml", [("kind: care", "kind: [care]")], {},
     ["content/cautions.yaml:3:27: error: a list stands where one of: care, ask, stop is wanted. Write one of: care, ask, stop. [wrong-value]"]),
    ("date is a list", FOOT, [("on: 2026-09-14", "on: [2026-09-14]")], {},
     ["content/exercises/foot-lift.md:17:14: error: a list stands where a date such as 2026-09-14 is wanted. Write a date such as 2026-09-14. [wrong-value]"]),
    ("quantity is a list", FOOT, [("rest: 60 s", "rest: [60 s]")], {},
     ["content/exercises/foot-lift.md:10:47: error: a list stands where a value with its unit, from 0 s to 600 s, such as '30 s' is wanted. Write a value with its unit, from 0 s to 600 s, such as '30 s'. [wrong-value]"]),
    ("quantity too long", FOOT, [("rest: 60 s", "rest: 11 min")], {},
     ["content/exercises/foot-lift.md:10:47: error: '11 min' is outside 0 to 600 s. Write a value with its unit, from 0 s to 600 s, such as '30 s'. [wrong-value]"]),
    ("range is a list", FOOT, [("sets: 1-3", "sets: [1, 3]")], {},
     ["content/exercises/foot-lift.md:11:20: error: a list stands where a range from 1 to 10, such as '1-10' is wanted. Write a range from 1 to 10, such as '1-10'. [wrong-value]"]),
    ("range is a word", FOOT, [("sets: 1-3", "sets: few")], {},
     ["content/exercises/foot-lift.md:11:20: error: 'few' is not a range from 1 to 10, such as '1-10'. Write a range from 1 to 10, such as '1-10'. [wrong-value]"]),
    ("range too wide", FOOT, [("sets: 1-3", "sets: 1-30")], {},
     ["content/exercises/foot-lift.md:11:20: error: '1-30' reaches outside 1 to 10. Write a range from 1 to 10, such as '1-10'. [wrong-value]"]),
    ("whole number is a list", FOOT, [("reps: 10,", "reps: [10],")], {},
     ["content/exercises/foot-lift.md:10:23: error: a list stands where a whole number from 1 to 100 is wanted. Write a whole number from 1 to 100. [wrong-value]"]),
    ("tempo is a list", FOOT, [("tempo: 2-1-2", "tempo: [2]")], {},
     ["content/exercises/foot-lift.md:10:34: error: a list stands where seconds to go, hold and return, such as 2-1-3 (a fourth number is a pause at the start) is wanted. Write seconds to go, hold and return, such as 2-1-3 (a fourth number is a pause at the start). [wrong-value]"]),
    ("tempo without time", FOOT, [("tempo: 2-1-2", "tempo: 0-1-0")], {},
     ["content/exercises/foot-lift.md:10:34: error: the tempo gives no time to move. Write at least 1 second to go or to return. [wrong-value]"]),
    ("weight is a list", FOOT, [("days: 3,", "days: 3, weight: [1 kg],")], {},
     ["content/exercises/foot-lift.md:10:70: error: a list stands where a weight such as 0.5 kg or 5 lb, at most 100 kg is wanted. Write a weight such as 0.5 kg or 5 lb, at most 100 kg. [wrong-value]"]),
    ("weight of nothing", FOOT, [("days: 3,", "days: 3, weight: 0 kg,")], {},
     ["content/exercises/foot-lift.md:10:70: error: '0 kg' is not a weight such as 0.5 kg or 5 lb, at most 100 kg. Write a weight such as 0.5 kg or 5 lb, at most 100 kg. [wrong-value]"]),
    ("weight in stones", FOOT, [("days: 3,", "days: 3, weight: 2 st,")], {},
     ["content/exercises/foot-lift.md:10:70: error: '2 st' is not a weight such as 0.5 kg or 5 lb, at most 100 kg. Write a weight such as 0.5 kg or 5 lb, at most 100 kg. [wrong-value]"]),
    ("list too long", FOOT, [("[Sit tall.]", "[a, b, c, d, e, f]")], {},
     ["content/exercises/foot-lift.md:12:7: error: this list has 6 entries, 1 to 5 are wanted. Take some out. [wrong-value]"]),
    ("list too short", FOOT, [("regions: [knee]", "regions: []")], {},
     ["content/exercises/foot-lift.md:5:10: error: this list has 0 entries, 1 to 5 are wanted. Add entries. [wrong-value]"]),
    ("list without a least number", FOOT, [("equipment: [chair]", "equipment: [chair, a, b, c, d, e, f]")], {},
     ["content/exercises/foot-lift.md:8:12: error: this list has 7 entries, at most 6 are wanted. Take some out. [wrong-value]"]),
    ("group is a list", FOOT, [("figure: {base: sitting}", "figure: [sitting]")], {},
     ["content/exercises/foot-lift.md:19:9: error: a group of keys is wanted here. Write 'key: value' lines, indented. [wrong-value]"]),
    ("text too long", FOOT, [("title: Foot lift", "title: xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx")], {},
     ["content/exercises/foot-lift.md:3:8: error: this text has 71 characters, at most 70 fit. Shorten it. [wrong-value]"]),
]


@pytest.mark.parametrize(("case", "path", "edits", "files", "said"), CASES, ids=[row[0] for row in CASES])
def test_all_that_is_said(case: str, path: str, edits: list[tuple[str, str]], files: dict[str, str], said: list[str]) -> None:
    """All messages of a library with one thing changed."""
    assert messages(texts_with(path, *edits, **files)) == said
