"""Each rule has a broken library, and its whole message is compared."""

from __future__ import annotations

import pytest

from handouts.figure.pose.read import read_figure
from handouts.problems import show_problem
from handouts.rules import RULES
from handouts.source.nodes import compose
from tests.rules.test_limit_messages import BROKEN_LIMITS
from tests.small_library import (
    CONDITIONS,
    EXERCISE,
    FUNCTION_TEST,
    LEAFLET,
    LESSON,
    TEXTS,
    VOCABULARY,
    messages,
    texts_with,
)

FOOT, LEG, PROGRAMME, BUNDLE, CLINIC = (
    "exercises/foot-lift.md",
    "exercises/leg-lift.md",
    "programmes/stand-up.md",
    "bundles/first-days.yaml",
    "clinic.yaml",
)
TEST = "tests/chair-stand.md"
TESTED = {TEST: FUNCTION_TEST}
SHEET = "leaflets/rest-well.md"
ADVISED = {SHEET: LEAFLET}
TAUGHT = {"lessons/teach-foot-lift.md": LESSON}
WORDS = {"vocabulary.yaml": VOCABULARY + "demands: [{slug: breath-hold, name: holding the breath}]\n"}
ASKED = {"conditions.yaml": CONDITIONS, **WORDS}
PICTURE = "picture: {file: hands.png, words: Five hands in a row make a fist step by step., source: drawn by the clinic, licence: own work}"
LONELY = EXERCISE.format(code="C222", title="Toe lift", tier="wake", after="").replace("ready when: You can do 2 sets of 15 with ease.\n", "")
GROWING = TEXTS["bundles/first-days.yaml"].replace("[foot-lift,", "[{exercise: foot-lift, stages: [{from week: 2, dose: {reps: 15}}]},")
LATER = EXERCISE.format(code="D222", title="Step", tier="live", after="after: [foot-lift]\n")

BROKEN = [
    # rule, file, edits, new files, whole message
    ("check_vocabulary", FOOT, [("regions: [knee]", "regions: [kne]")], {},
     "content/exercises/foot-lift.md:5:11: error: 'kne' is not declared in 'regions' of vocabulary.yaml. Did you mean 'knee'? [unknown-name]"),
    ("check_tiers", FOOT, [("tier: wake", "tier: woke")], {},
     "content/exercises/foot-lift.md:4:7: error: 'woke' is not declared in tiers.yaml. Did you mean 'wake'? [unknown-name]"),
    ("check_cautions", FOOT, [("[stop-pain]", "[stop-pain, go-slo]")], {},
     "content/exercises/foot-lift.md:15:23: error: 'go-slo' is not declared in cautions.yaml. Did you mean 'go-slow'? [unknown-name]"),
    ("check_exercises", BUNDLE, [("[foot-lift,", "[foot-lft,")], {},
     "content/bundles/first-days.yaml:3:13: error: 'foot-lft' is not declared in exercises/. Did you mean 'foot-lift'? [unknown-name]"),
    ("check_unique_codes", LEG, [("code: B222", "code: A222")], {},
     "content/exercises/leg-lift.md:2:7: error: the code 'A222' is given twice (first in content/exercises/foot-lift.md:2:7). Give one of them a code of its own; a printed code never moves. [repeated-code]"),
    ("check_unique_titles", LEG, [("title: Leg lift", "title: Foot Lift")], {},
     "content/exercises/leg-lift.md:3:8: error: the title 'foot lift' is given twice (first in content/exercises/foot-lift.md:3:8). Say in one of them how it differs. [repeated-title]"),
    ("check_unique_slugs", "cautions.yaml", [("slug: go-slow", "slug: stop-pain")], {},
     "content/cautions.yaml:3:12: error: the name 'stop-pain' is given twice (first in content/cautions.yaml:2:12). Rename or delete one of them. [repeated-name]"),
    ("check_base_named", CLINIC, [("papers: [letter, a4]", "papers: [letter, a4]\nleft out: [A222]")], {},
     "content/clinic.yaml:10:11: error: 'left out' changes what a base has, and this library stands on none. Name the base, as base: ../shared-library, or write it in the files themselves. [no-base]"),
    ("check_codes_kept_free", CLINIC, [("papers: [letter, a4]", "papers: [letter, a4]\ncodes kept free: [B]")], {},
     "content/exercises/leg-lift.md:2:7: error: the code 'B222' begins with B, which 'codes kept free' leaves to the clinics that stand on this one. Give it another code, or take the letter out of clinic.yaml if no clinic uses it. [code-kept-free]"),
    ("check_dose_kind", FOOT, [("reps: 10,", "reps: 10, time: 5 min,")], {},
     "content/exercises/foot-lift.md:10:33: error: the dose counts both reps and time. Keep one of the two. [dose-kind]"),
    ("check_pace", FOOT, [("reps: 10,", "reps: 10, pace: 0.3 m/s,")], {},
     "content/exercises/foot-lift.md:10:33: error: a pace stands beside a dose that counts no distance. Delete the pace, or count a distance, such as distance: 3 m. [dose-pace]"),
    ("check_weight_unit", FOOT, [("reps: 10,", "reps: 10, weight: 5 lb,")], {},
     "content/exercises/foot-lift.md:10:35: notice: the weight of 5 lb is shown to readers as 2.5 kg. Write it in kg; or write 'units: {weight: lb}' in clinic.yaml, where the clinic's weights are in lb. [weight-unit]"),
    ("check_limb", FOOT, [("reps: 10,", "reps: 10, limb: leg,")], {},
     "content/exercises/foot-lift.md:10:33: error: a limb stands in a dose that never changes sides. Delete the limb, or write side: both. [dose-limb]"),
    ("check_dose_whole", FOOT, [("tempo: 2-1-2, ", "")], {},
     "content/exercises/foot-lift.md:10:7: error: the dose does not say how long one repetition takes. Add tempo: seconds to go, hold and return, such as 2-1-3. [dose-tempo]"),
    ("check_dose_sides", FOOT, [("reps: 10,", "reps: 9, side: alternating,")], {},
     "content/exercises/foot-lift.md:10:32: error: an alternating dose needs an even number of repetitions. Write an even number of reps; 10 are 5 on each side. [dose-alternating]"),
    ("check_dose_sides", FOOT, [("reps: 10, tempo: 2-1-2,", "hold: 30 s, side: alternating,"), (", reps: 5-15", "")], {},
     "content/exercises/foot-lift.md:10:35: error: an alternating dose needs an even number of repetitions, and this one counts no repetitions. Write reps, or another side: both, one-side-first, or one. [dose-alternating]"),
    ("check_rest", FOOT, [("rest: 60 s, ", "")], {},
     "content/exercises/foot-lift.md:10:7: error: 2 sets are asked for and no rest between them. Add rest, such as rest: 60 s; write rest: 0 s where none is wanted. [dose-rest]"),
    ("check_dose_range", FOOT, [("reps: 5-15", "reps: 5-8")], {},
     "content/exercises/foot-lift.md:10:23: error: the dose's reps of 10 lies outside its range of 5 to 8. Change 'reps' in 'dose' or in 'dose range'. [dose-outside-range]"),
    ("check_dose_range", FOOT, [("reps: 5-15}", "reps: 5-15, tempo: [2-0-2, 3-1-3]}")], {},
     "content/exercises/foot-lift.md:10:34: error: the dose's tempo of 2-1-2 is not among those of its range: 2-0-2, 3-1-3. Add it to 'tempo' in 'dose range', or change it in 'dose'. [dose-outside-range]"),
    ("check_dose_range", FOOT, [("reps: 5-15}", "reps: 5-15, tempo: [2-1-2, 2-0-2, 2-1-2]}")], {},
     "content/exercises/foot-lift.md:11:44: error: a tempo is offered twice. Take one out. [dose-tempo]"),
    ("check_dose_range", FOOT, [("tempo: 2-1-2,", "hold: 3 s, tempo: 2-0-2,"), ("reps: 5-15}", "reps: 5-15, tempo: [2-0-2, 2-1-3]}")], {},
     "content/exercises/foot-lift.md:11:44: error: the tempo 2-1-3 holds, and the dose has a hold of its own. Write it as 2-0-3. [dose-hold-twice]"),
    ("check_dose_range", FOOT, [("reps: 10, tempo: 2-1-2,", "hold: 10 s,"), ("reps: 5-15}", "hold: 5-15 s, tempo: [2-0-2, 2-1-3]}")], {},
     "content/exercises/foot-lift.md:11:46: error: the dose range moves 'tempo', which the dose does not have. Delete 'tempo' from 'dose range', or add it to 'dose'. [dose-range-idle]"),
    ("check_dose_range", FOOT, [("reps: 10,", "reps: 10, side: one,"), ("reps: 5-15}", "reps: 5-15, side: [both, one-side-first]}")], {},
     "content/exercises/foot-lift.md:10:33: error: the dose's side of one is not among those of its range: both, one-side-first. Add it to 'side' in 'dose range', or change it in 'dose'. [dose-outside-range]"),
    ("check_dose_range", FOOT, [("reps: 10,", "reps: 10, side: one,"), ("reps: 5-15}", "reps: 5-15, side: [both, one, one]}")], {},
     "content/exercises/foot-lift.md:11:43: error: a side is offered twice. Take one out. [dose-side]"),
    ("check_dose_range", FOOT, [("reps: 5-15}", "reps: 5-15, side: [both, one]}")], {},
     "content/exercises/foot-lift.md:11:43: error: the dose range moves 'side', which the dose does not have. Delete 'side' from 'dose range', or add it to 'dose'. [dose-range-idle]"),
    ("check_dose_range", FOOT, [("reps: 5-15}", "reps: 5-15, effort: 4-6}")], {},
     "content/exercises/foot-lift.md:10:70: error: the dose's effort of 3-5 lies outside its range of 4 to 6. Change 'effort' in 'dose' or in 'dose range'. [dose-outside-range]"),
    ("check_dose_range", FOOT, [(", effort: 3-5", ""), ("reps: 5-15}", "reps: 5-15, effort: 4-6}")], {},
     "content/exercises/foot-lift.md:11:45: error: the dose range moves 'effort', which the dose does not have. Delete 'effort' from 'dose range', or add it to 'dose'. [dose-range-idle]"),
    ("check_dose_range", FOOT, [("reps: 5-15}", "reps: 5-15, times: 2-4}")], {},
     "content/exercises/foot-lift.md:10:7: error: the dose's times of 1 lies outside its range of 2 to 4. Change 'times' in 'dose' or in 'dose range'. [dose-outside-range]"),
    ("check_cycles", FOOT, [("ready when:", "after: [leg-lift]\nready when:")], {},
     "content/exercises/foot-lift.md:16:8: error: these exercises come before one another: foot-lift, leg-lift. Take one of them out of the 'after' of another. [progression-ring]"),
    ("check_tier_order", "tiers.yaml", [("  - {slug: build, name: Build, means: More load.}\n", ""), ("means: Back to daily life.}", "means: Back to daily life.}\n  - {slug: build, name: Build, means: More load.}")], {},
     "content/exercises/leg-lift.md:16:9: error: this exercise in 'build' builds directly on 'foot-lift' in 'wake' and jumps over a tier. Name an exercise of the tier between them. [progression-jump]"),
    ("check_ready_when", FOOT, [("ready when: You can do 2 sets of 15 with ease.\n", "")], {},
     "content/exercises/foot-lift.md:2:1: error: 'leg-lift' comes after this exercise, but nothing says when the patient is ready for it. Add 'ready when' with a condition that the patient can check. [ready-when-missing]"),
    ("check_measures_known", FOOT, [("ready when: You can do 2 sets of 15 with ease.\n", "ready measured: {sets: 1}\n")], {},
     "content/exercises/foot-lift.md:16:17: error: 'ready measured' names nothing that is measured. Write what is to be reached, such as {sets: 3, reps: 15, days in a row: 2, pain: 2}. [ready-nothing]"),
    ("check_measures_known", FOOT, [("ready when: You can do 2 sets of 15 with ease.\n", "ready measured: {sets: 2, pain: 2}\n")], {},
     "content/exercises/foot-lift.md:16:24: error: 'ready measured' does not say what is counted in a set. Add reps, hold, time or distance. [ready-nothing]"),
    ("check_measures_known", FOOT, [("ready when: You can do 2 sets of 15 with ease.\n", "ready measured: {pain: 2, test: chair-stand}\n")], {TEST: FUNCTION_TEST},
     "content/exercises/foot-lift.md:16:33: error: the test has no result that is to be reached. Add 'result', in the unit of the test. [ready-test]"),
    ("check_measures_known", FOOT, [("ready when: You can do 2 sets of 15 with ease.\n", "ready measured: {pain: 2, result: 12}\n")], {},
     "content/exercises/foot-lift.md:16:35: error: the result belongs to no test. Add 'test' with the name of a file in tests/. [ready-test]"),
    ("check_measures_known", FOOT, [("ready when: You can do 2 sets of 15 with ease.\n", "ready measured: {test: chair-sand, result: 12}\n")], {TEST: FUNCTION_TEST},
     "content/exercises/foot-lift.md:16:24: error: 'chair-sand' is not declared in tests/. Did you mean 'chair-stand'? [unknown-name]"),
    ("check_measures_known", FOOT, [("ready when: You can do 2 sets of 15 with ease.\n", "ready measured: {test: chair-stand, result: 61}\n")], {TEST: FUNCTION_TEST},
     "content/exercises/foot-lift.md:16:45: error: the test 'chair-stand' ends at 60, and 61 is asked for. Write a result that the test can have. [ready-test]"),
    ("check_measures_fit", FOOT, [("ready when: You can do 2 sets of 15 with ease.\n", "ready measured: {hold: 30 s, sets: 2}\n")], {},
     "content/exercises/foot-lift.md:16:24: error: hold is measured, and the dose counts reps. Write reps in its place. [ready-other-kind]"),
    ("check_measures_fit", FOOT, [("ready when: You can do 2 sets of 15 with ease.\n", "ready measured: {sets: 2, reps: 16}\n")], {},
     "content/exercises/foot-lift.md:16:33: error: reps of 16 is to be reached, and no patient can be given more than 15. Widen the 'dose range' for reps, or ask for less. [ready-beyond-range]"),
    ("check_measures_said", FOOT, [("ready when: You can do 2 sets of 15 with ease.\n", "ready when: You can do 2 sets of 15 with ease.\nready measured: {sets: 2, reps: 12}\n")], {},
     "content/exercises/foot-lift.md:17:33: error: reps of 12 is measured, and the sentence of 'ready when' does not say 12. Make both say the same, or leave 'ready when' out: its sentence is then made. [ready-other-number]"),
    ("check_bundle_stages", BUNDLE, [("exercises: [foot-lift,", "exercises: [{exercise: foot-lift, stages: [{from week: 3, dose: {sets: 3}}]},")], {},
     "content/bundles/first-days.yaml:3:56: error: this stage begins in week 3, behind one of week 1 and within 2 weeks. Put stages in order, each in a later week of the bundle; those without a week last. [stage-order]"),
    ("check_bundle_stages", BUNDLE, [("exercises: [foot-lift,", "exercises: [{exercise: foot-lift, stages: [{from week: 2, dose: {sets: 2}}]},")], {},
     "content/bundles/first-days.yaml:3:44: error: this stage changes nothing. Write what differs from the stage before, or take it out. [stage-same]"),
    ("check_bundle_stages", BUNDLE, [("exercises: [foot-lift,", "exercises: [{exercise: foot-lift, stages: [{from week: 2, dose: {hold: 5 s}}]},")], {},
     "content/bundles/first-days.yaml:3:72: error: a stage may not change hold of 'foot-lift'. Change sets, what is counted, or the weight. [stage-other]"),
    ("check_bundle_stages", BUNDLE, [("exercises: [foot-lift,", "exercises: [{exercise: foot-lift, stages: [{from week: 2, dose: {reps: 16}}]},")], {},
     "content/bundles/first-days.yaml:3:72: error: reps of 16 is not allowed for 'foot-lift': its range is 5 to 15. Write a value in the range, or widen the 'dose range' of the exercise. [bundle-dose]"),
    ("check_bundle_stages", BUNDLE, [("exercises: [foot-lift,", "exercises: [{exercise: foot-lift, stages: [{dose: {reps: 12}}]},")], {},
     "content/bundles/first-days.yaml:3:44: error: this stage waits until the one before is easy, and the clinic does not say when that is. Write 'next dose' into clinic.yaml, or 'from week' here. [stage-easy]"),
    ("check_bundle_stages", BUNDLE, [("weeks: 2", "weeks: 2\ncue: after-tea")], {},
     "content/bundles/first-days.yaml:5:6: error: 'after-tea' is not declared in 'session cues' of clinic.yaml. Declare it first. [unknown-name]"),
    ("check_bundle_stages", CLINIC, [("pain rule:", "growth: {percent a week: 20, source: common practice, status: clinic's choice}\npain rule:")],
     {BUNDLE: GROWING},
     "content/bundles/first-days.yaml:3:44: notice: the work grows by 50 % a week, the clinic's bound is 20 %. Ask for less, or begin the stage later. [stage-growth]"),
    ("check_programme_tiers", PROGRAMME, [("exercises: [leg-lift]", "exercises: [leg-lift, foot-lift]")], {},
     "content/programmes/stand-up.md:9:81: error: 'foot-lift' belongs to the tier 'wake', not to 'build'. Move it to that tier of the programme, or change its 'tier'. [programme-other-tier]"),
    ("check_in_programme", FOOT, [], {"exercises/toe-lift.md": LONELY},
     "content/exercises/toe-lift.md:2:1: notice: no programme uses this exercise. Add it to a tier of a programme. [in-no-programme]"),
    ("check_programme_whole", PROGRAMME, [("exercises: [foot-lift]", "exercises: [toe-lift]")], {"exercises/toe-lift.md": LONELY},
     "content/programmes/stand-up.md:9:71: error: 'leg-lift' builds on 'foot-lift', which this programme does not hold. Add 'foot-lift' to the programme. [programme-gap]"),
    ("check_ways", LEG, [("easier: Lift half as high.", "easier: [A222]")], {},
     "content/exercises/leg-lift.md:21:10: error: 'foot-lift' is not easier: its effort is 3 to 5, and that of this exercise is 3 to 5. Name another exercise, correct one of the two, or write a sentence in 'easier'. [easier-effort]"),
    ("check_ways_ring", LEG, [("easier: Lift half as high.", "easier: [foot-lift]\nharder: [foot-lift]"), (", effort: 3-5", "")], {},
     "content/exercises/foot-lift.md:20:9: error: each of these exercises is named as easier than the others: foot-lift, leg-lift. Take one of them out of 'easier' or 'harder' of another; what one names holds in both directions. [easier-ring]"),
    ("check_something_easier", LEG, [("easier: Lift half as high.\n", "")], {},
     "content/exercises/leg-lift.md:2:1: notice: nothing says how to make this exercise easier. Write 'easier' with an exercise of less effort, or with a sentence such as 'Keep two fingers on the counter.' [nothing-easier]"),
    ("check_whole_steps", LEG, [("after: [foot-lift]", "after: [{all of: wke, programme: stand-up}]")], {},
     "content/exercises/leg-lift.md:16:18: error: 'wke' is not declared in 'stand-up'. Did you mean 'wake'? [unknown-name]"),
    ("check_steps", FOOT, [("1. Sit on a chair.\n2. Lift your foot.\n", "Sit on a chair.\n")], {},
     "content/exercises/foot-lift.md:2:1: error: the exercise has no numbered steps. Write '## How to do it' and a list that begins with '1. '. [no-steps]"),
    ("check_stop_rule", FOOT, [("[stop-pain]", "[go-slow]")], {},
     "content/exercises/foot-lift.md:15:11: error: none of the cautions is a stop rule. Name one whose kind is 'stop' in cautions.yaml. [no-stop-rule]"),
    ("check_stop_rules_call", "cautions.yaml", [("call: clinic, ", "")], {},
     "content/cautions.yaml:2:5: error: the stop rule 'stop-pain' does not say whom to call. Add 'call: clinic', 'call: emergency', or 'call: none'. [stop-rule-call]"),
    ("check_stop_rules_stop", "cautions.yaml", [("do: Stop and call us.", "do: Carry on when it is gone.")], {},
     "content/cautions.yaml:2:67: error: the action of the stop rule 'stop-pain' does not begin by telling the reader to stop. Begin it with 'Stop', then say what to do next; or give the caution another kind. [stop-action]"),
    ("check_stop_rules_stop", CLINIC, [("{source: en}", "{source: sw}")], {},
     "content/clinic.yaml:8:21: notice: whether stop rules tell the reader to stop cannot be checked in 'sw'. Let a person read each of them, and ask for the language's words to be added to the program. [stop-words]"),
    ("check_emergency_number", "cautions.yaml", [("call: clinic", "call: emergency")], {},
     "content/cautions.yaml:2:67: error: 'stop-pain' calls the emergency number and does not name 911. Write 'Call 911' into 'do', so that it can be read aloud from paper. [emergency-number]"),
    ("check_emergency_number", "cautions.yaml", [("do: Stop and call us., call: clinic", "do: Stop and call 9110., call: emergency")], {},
     "content/cautions.yaml:2:67: error: 'stop-pain' calls the emergency number and does not name 911. Write 'Call 911' into 'do', so that it can be read aloud from paper. [emergency-number]"),
    ("check_brought_cautions", "vocabulary.yaml", [("{slug: sitting, name: Sitting, level: chair}", "{slug: sitting, name: Sitting, level: chair, cautions: [go-slow]}")], {},
     "content/exercises/foot-lift.md:15:11: error: 'sitting' brings the caution 'go-slow', and 'foot-lift' lacks it. Add 'go-slow' to its cautions, or take it from 'sitting' in vocabulary.yaml. [brought-caution]"),
    ("check_brought_cautions", "vocabulary.yaml", [("{slug: knee, name: Knee}", "{slug: knee, name: Knee, cautions: [go-slow]}")], {},
     "content/exercises/leg-lift.md:15:11: error: 'knee' brings the caution 'go-slow', and 'leg-lift' lacks it. Add 'go-slow' to its cautions, or take it from 'knee' in vocabulary.yaml. [brought-caution]"),
    ("check_brought_cautions", "vocabulary.yaml", [("{slug: chair, name: Chair}", "{slug: chair, name: Chair, cautions: [go-slow]}")], {},
     "content/exercises/foot-lift.md:15:11: error: 'chair' brings the caution 'go-slow', and 'foot-lift' lacks it. Add 'go-slow' to its cautions, or take it from 'chair' in vocabulary.yaml. [brought-caution]"),
    ("check_brought_cautions", "vocabulary.yaml", [("{slug: strength, name: Strength}", "{slug: strength, name: Strength, cautions: [stop-pain, go-slow]}")], {},
     "content/exercises/foot-lift.md:15:11: error: 'strength' brings the caution 'go-slow', and 'foot-lift' lacks it. Add 'go-slow' to its cautions, or take it from 'strength' in vocabulary.yaml. [brought-caution]"),
    ("check_cautions", "vocabulary.yaml", [("{slug: knee, name: Knee}", "{slug: knee, name: Knee, cautions: [go-slo]}")], {},
     "content/vocabulary.yaml:1:47: error: 'go-slo' is not declared in cautions.yaml. Did you mean 'go-slow'? [unknown-name]"),
    ("check_reviews", FOOT, [("on: 2026-09-14", "on: 2025-01-10")], {},
     "content/exercises/foot-lift.md:17:14: notice: the review ended on 2026-01-10, more than the clinic's 90 days ago; it is not published. Review the content and write the new date, or take it out. [review-lapsed]"),
    ("check_sources", FOOT, [('"common practice, no source"', '"https://clinic.example/paper"')], {},
     "content/exercises/foot-lift.md:18:10: error: the source 'https://clinic.example/paper' is a single word or a bare address. Write author or body, title and year. [bare-source]"),
    ("check_figures", FOOT, [("figure: {base: sitting}\n", "")], {},
     "content/exercises/foot-lift.md:2:1: notice: the exercise has no figure; a placeholder is shown. Describe the pose in 'figure:', name the clinic's own picture in 'picture:', or write 'figure: none' where nothing can be shown. [no-figure]"),
    ("check_own_pictures", FOOT, [("figure: {base: sitting}", f"figure: {{base: sitting}}\n{PICTURE}")], {"pictures/hands.png": "pixels"},
     "content/exercises/foot-lift.md:20:10: error: the exercise has a figure and the clinic's own picture, and readers see only one. Keep the one that shows it better, and take the other out. [two-pictures]"),
    ("check_own_pictures", FOOT, [("figure: {base: sitting}", PICTURE.replace("Five hands in a row make a fist step by step.", "Foot lift."))], {"pictures/hands.png": "pixels"},
     "content/exercises/foot-lift.md:19:35: error: the words for the picture, 'Foot lift.', do not say what it shows. Say what is seen in it: who is where, what moves, and which way. [picture-words]"),
    ("check_equipment_drawn", FOOT, [("equipment: [chair]", "equipment: []")], {},
     "content/exercises/foot-lift.md:19:9: notice: the picture shows a chair, and the exercise does not name 'chair' among its equipment. Add 'chair' to 'equipment', or take the chair out of the picture. [equipment-not-named]"),
    ("check_equipment_drawn", FOOT, [("equipment: [chair]", "equipment: [chair, band]")], {},
     "content/exercises/foot-lift.md:8:20: error: the exercise needs 'band', and its picture shows none. Add 'band' to the figure's props with the words that say where it is, or take it out of 'equipment'. [equipment-not-drawn]"),
    ("check_equipment_drawn", FOOT, [("figure: {base: sitting}", "figure: {base: sitting, props: {band: hands}}")], {},
     "content/exercises/foot-lift.md:19:33: error: the picture shows a band, and the exercise does not name 'band' among its equipment. Declare 'band' in 'equipment' of vocabulary.yaml. Add 'band' to 'equipment', or take the band out of the picture. [equipment-not-named]"),
    ("check_markup", FOOT, [("Lift your foot.", "Lift <b>your</b> foot.")], {},
     "content/exercises/foot-lift.md:25:9: error: HTML cannot be used in a text. Write plain words; **bold** and *italic* are allowed. [markup-not-allowed]"),
    ("check_markup", FOOT, [("Lift your foot.", "Lift it 3*10 times.")], {},
     "content/exercises/foot-lift.md:25:13: error: '*' stands inside a word or between numbers. Write x for 'times', as in 3 x 10, or put the marks around the whole word. [markup-not-allowed]"),
    ("check_markup", FOOT, [("title: Foot lift", "title: Foot *lift*")], {},
     "content/exercises/foot-lift.md:3:8: error: bold, italic and links cannot be used in a name. Write the words alone. [markup-not-allowed]"),
    ("check_markup", FOOT, [("Lift your foot.", "Lift y\u0300\u0301\u0302\u0303\u0304\u0305our foot.")], {},
     "content/exercises/foot-lift.md:25:14: error: more than 4 marks stand over or under one letter. Retype the word. [stacked-marks]"),
    ("check_markup", FOOT, [("by: lead physiotherapist", "by: Maria Gonzalez")], {},
     "content/exercises/foot-lift.md:17:30: error: 'Maria Gonzalez' reads like the name of a person. Write the role in small letters, such as 'lead physiotherapist'; never a person's name. [person-named]"),
    ("check_markup", BUNDLE, [("for: People who just begin.", "for: People **who** just begin.")], {},
     "content/bundles/first-days.yaml:2:6: error: bold, italic and links cannot be used in a name. Write the words alone. [markup-not-allowed]"),
    ("check_sentences", FOOT, [("Lift your foot.", "Lift your foot up off the floor and hold it there as you look ahead and breathe in and out two times.")], {},
     "content/exercises/foot-lift.md:25:4: error: this sentence has 22 words, 20 are the end. Make two sentences of it: one action each. [long-sentence]"),
    ("check_reading_level", FOOT, [("Sit on a chair.", "Maintain appropriate physiological alignment continuously."), ("Lift your foot.", "Subsequently initiate quadriceps activation bilaterally."), ("Lift half as high.", "Progressively diminish amplitude.")], {}, None),
    ("check_choppy", FOOT, [("Lift your foot.\n", "Lift your foot.\n3. Hold it up.\n4. Look ahead of you.\n5. Put it down.\n")], {},
     "content/exercises/foot-lift.md:2:1: notice: the text is choppy: 4.3 words a sentence over 11 sentences, 7 are wanted, and its reading level leaves room for them. Join sentences that belong together with words such as 'so', 'because' or 'until'. [choppy-text]"),
    ("check_bundle_doses", BUNDLE, [("{sets: 1}", "{sets: 9}")], {},
     "content/bundles/first-days.yaml:3:58: error: sets of 9 is not allowed for 'leg-lift': its range is 1 to 3. Write a value in the range, or widen the 'dose range' of the exercise. [bundle-dose]"),
    ("check_bundle_doses", BUNDLE, [("{sets: 1}", "{tempo: 5-1-5}")], {},
     "content/bundles/first-days.yaml:3:59: error: tempo of 5-1-5 is not allowed for 'leg-lift': this exercise has no 'dose range' for tempo. Write a tempo of the range, or add it to the 'dose range' of the exercise. [bundle-dose]"),
    ("check_bundle_doses", FOOT, [("dose: {sets: 2, reps: 10, tempo: 2-1-2, rest: 60 s, days: 3, effort: 3-5}", "dose: as your physiotherapist says")], {},
     "content/bundles/first-days.yaml:3:13: error: 'foot-lift' has no dose of its own, and the bundle does not say: sets, reps, days. Write the dose at this pick, as - {exercise: NAME, dose: {sets: 2, reps: 8, days: 3}}, or take the exercise out. [bundle-no-dose]"),
    ("check_dose_kind", FOOT, [("dose: {sets: 2, reps: 10, tempo: 2-1-2, rest: 60 s, days: 3, effort: 3-5}", "dose: as your physiotherapist says"), ("reps: 5-15", "reps: 5-15, time: 1-2 min")], {},
     "content/exercises/foot-lift.md:11:43: error: the dose range offers both reps and time, and the dose says neither. Keep one of the two; a hold goes with reps or alone. [dose-kind]"),
    ("check_bundle_picks", BUNDLE, [("[foot-lift, {exercise: leg-lift, dose: {sets: 1}}]", "[leg-lift, foot-lift]")], {},
     "content/bundles/first-days.yaml:3:13: error: 'leg-lift' stands before 'foot-lift', which it builds on. Put 'foot-lift' first. [bundle-order]"),
    ("check_bundle_length", CLINIC, [("exercises: 6", "exercises: 1")], {},
     "content/bundles/first-days.yaml:3:12: notice: the bundle holds 2 exercises, the clinic advises at most 1. Take some out. [bundle-many]"),
    ("check_bundle_programmes", BUNDLE, [("weeks: 2", "programme: stand-upp\nweeks: 2")], {},
     "content/bundles/first-days.yaml:4:12: error: 'stand-upp' is not declared in programmes/. Did you mean 'stand-up'? [unknown-name]"),
    ("check_bundle_programmes", BUNDLE, [("weeks: 2", "tier: wake\nweeks: 2")], {},
     "content/bundles/first-days.yaml:4:7: error: the bundle is for the tier 'wake', but names no programme. Write the programme that the tier belongs to: 'programme: NAME'. [bundle-tier]"),
    ("check_bundle_programmes", BUNDLE, [("weeks: 2", "programme: stand-up\ntier: live\nweeks: 2")], {},
     "content/bundles/first-days.yaml:5:7: error: the programme 'stand-up' has no tier 'live'. Use one of: build, wake. [bundle-tier]"),
    ("check_bundle_steps", BUNDLE, [("weeks: 2", "programme: stand-up\ntier: wake\nweeks: 2")], {},
     "content/bundles/first-days.yaml:3:35: error: 'leg-lift' is in the later tier 'build' of 'stand-up', and the bundle is for 'wake'. Take it out, or write the later tier. [bundle-later-tier]"),
    ("check_bundle_in_programme", BUNDLE, [("[foot-lift, {exercise: leg-lift, dose: {sets: 1}}]", "[toe-lift]"), ("weeks: 2", "programme: stand-up\ntier: wake\nweeks: 2")], {"exercises/toe-lift.md": LONELY},
     "content/bundles/first-days.yaml:4:12: error: the programme 'stand-up' holds none of the exercises of the bundle 'first-days', and its conditions and cautions would be printed. Name the programme that holds them, or delete 'programme'. [bundle-programme]"),
    ("check_bundle_in_programme", BUNDLE, [("[foot-lift, {", "[foot-lift, toe-lift, {"), ("weeks: 2", "programme: stand-up\nweeks: 2")], {"exercises/toe-lift.md": LONELY},
     "content/bundles/first-days.yaml:3:24: notice: 'toe-lift' is not in the programme 'stand-up', which the bundle 'first-days' names. Add it to a tier of the programme, or take it out of the bundle, unless it is meant so. [bundle-outside]"),
    ("check_cautions", BUNDLE, [("weeks: 2", "cautions: [stop-pain, go-slo]\nweeks: 2")], {},
     "content/bundles/first-days.yaml:4:23: error: 'go-slo' is not declared in cautions.yaml. Did you mean 'go-slow'? [unknown-name]"),
    ("check_programme_length", CLINIC, [("{minutes: 30,", "{minutes: 1,")], {},
     "content/programmes/stand-up.md:8:68: notice: a session of the tier 'wake' takes 3 minutes, the clinic advises at most 1. Take some out, or make doses smaller. [tier-long]"),
    ("check_programme_length", "exercises/foot-lift.md", [("sets: 2, reps: 10, tempo: 2-1-2, rest: 60 s", "sets: 1, time: 1805 s"), ("{sets: 1-3, reps: 5-15}", "{sets: 1-3}")], {},
     "content/programmes/stand-up.md:8:68: notice: a session of the tier 'wake' takes 30.1 minutes, the clinic advises at most 30. Take some out, or make doses smaller. [tier-long]"),
    ("check_programme_length", PROGRAMME, [("exercises: [foot-lift]", "exercises: [foot-lift, toe-lift]")],
     {"exercises/toe-lift.md": LONELY, "clinic.yaml": TEXTS[CLINIC].replace("exercises: 6", "exercises: 1")},
     "content/programmes/stand-up.md:8:68: notice: the tier 'wake' holds 2 exercises, the clinic advises at most 1. Take some out. [tier-many]"),
    ("check_search_names", "vocabulary.yaml", [("bands:", "search words:\n  - {slug: a, words: kneecap, regions: [kne]}\nbands:")], {},
     "content/vocabulary.yaml:8:41: error: 'kne' is not declared in 'regions' of vocabulary.yaml. Did you mean 'knee'? [unknown-name]"),
    ("check_exercises", "vocabulary.yaml", [("bands:", "search words:\n  - {slug: a, words: kneecap, exercises: [foot-lft]}\nbands:")], {},
     "content/vocabulary.yaml:8:43: error: 'foot-lft' is not declared in exercises/. Did you mean 'foot-lift'? [unknown-name]"),
    ("check_search_words", "vocabulary.yaml", [("bands:", "search words:\n  - {slug: a, words: \"kneecap, patella\", regions: [knee]}\n  - {slug: b, words: Patella}\nbands:")], {},
     "content/vocabulary.yaml:9:22: error: the search word 'Patella' is given twice (first in content/vocabulary.yaml:8:31). Take one of them out. [search-word-twice]"),
    ("check_search_words", "vocabulary.yaml", [("bands:", "search words:\n  - {slug: a, words: \"kneecap,, patella\", regions: [knee]}\nbands:")], {},
     "content/vocabulary.yaml:8:22: error: a search word is empty. Take one of the two commas out. [search-word-empty]"),
    ("check_search_words", "vocabulary.yaml", [("bands:", "search words:\n  - {slug: a, words: \"sore, knee\"}\nbands:")], {},
     "content/vocabulary.yaml:8:28: error: the search word 'knee' is also the name of 'knee' in 'regions', which its entry does not find. Take the word out, or let its entry find that too. [search-word-hides]"),
    ("check_search_words", "vocabulary.yaml", [("bands:", "search words:\n  - {slug: a, words: leg lift, exercises: [foot-lift]}\nbands:")], {},
     "content/vocabulary.yaml:8:22: error: the search word 'leg lift' is also the name of the exercise 'leg-lift', which its entry does not find. Take the word out, or let its entry find that too. [search-word-hides]"),
    ("check_search_finds", "vocabulary.yaml", [("bands:", "search words:\n  - {slug: a, words: on my feet, positions: [standing]}\nbands:")], {},
     "content/vocabulary.yaml:8:5: notice: the search words 'a' find no exercise. Name fewer lists, or other terms; or take the entry out until there is such an exercise. [search-finds-nothing]"),
    ("check_unique_slugs", "vocabulary.yaml", [("bands:", "search words:\n  - {slug: a, words: kneecap, regions: [knee]}\n  - {slug: a, words: patella, regions: [knee]}\nbands:")], {},
     "content/vocabulary.yaml:9:12: error: the name 'a' is given twice (first in content/vocabulary.yaml:8:12). Rename or delete one of them. [repeated-name]"),
    ("check_accent", CLINIC, [("#0f5e6b", "#777777")], {},
     "content/clinic.yaml:11:9: error: the colour #777777 has a contrast of 4.48 on white, 4.5 is needed. Choose a darker colour. [accent-contrast]"),
    ("check_pain_bounds", CLINIC, [("pain rule: Pain up to 3", "pain bounds: {fine up to: 3, less up to: 5}\npain rule: Pain up to 3")], {},
     "content/clinic.yaml:16:12: error: the pain rule does not name 5, which is one of the pain bounds. Write the same numbers in 'pain rule' and in 'pain bounds'. [pain-bounds]"),
    ("check_pain_bounds", CLINIC, [("pain rule: Pain up to 3", "pain bounds: {fine up to: 3, less up to: 3}\npain rule: Pain up to 3")], {},
     "content/clinic.yaml:15:14: error: 'fine up to' is 3 and 'less up to' 3, so one of the three parts of the scale is empty. Write 'fine up to' below 'less up to', and both below 10. [pain-bounds]"),
    ("check_next_dose", CLINIC, [("pain rule: Pain up to 3", "next dose: {after sessions: 3, reps: 2}\npain rule: Pain up to 3")], {},
     "content/clinic.yaml:15:12: error: the rule for the next dose asks for pain that is fine, and no pain bounds say which is. Write 'pain bounds', as {fine up to: 3, less up to: 5}. [next-dose]"),
    ("check_next_dose", CLINIC, [("pain rule: Pain up to 3", "pain bounds: {fine up to: 3, less up to: 5}\nnext dose: {after sessions: 3}\npain rule: Pain up to 3 and 5")], {},
     "content/clinic.yaml:16:12: error: the rule for the next dose adds nothing. Write what is added, as reps: 2, hold: 5 s or sets: 1. [next-dose]"),
    ("check_languages", CLINIC, [("{source: en}", "{source: en, also: [es, es]}")], {},
     "content/clinic.yaml:8:31: error: the language 'es' is named twice. Delete one of the two. [repeated-language]"),
    ("check_papers", CLINIC, [("[letter, a4]", "[a4, a4]")], {},
     "content/clinic.yaml:9:9: error: the paper 'a4' is named twice. Delete one of the two. [repeated-choice]"),
    ("check_test_steps", TEST, [("1. Sit on a chair.\n2. Stand", "Sit on a chair. Stand")], TESTED,
     "content/tests/chair-stand.md:2:1: error: the test has no numbered steps. Write '## How to do it' and a list that begins with '1. '. [no-steps]"),
    ("check_standalone_stop_rule", TEST, [("[stop-pain]", "[go-slow]")], TESTED,
     "content/tests/chair-stand.md:19:11: error: none of the cautions is a stop rule. Name one whose kind is 'stop' in cautions.yaml. [no-stop-rule]"),
    ("check_test_numbers", TEST, [("from: 60, to: 64", "from: 64, to: 60")], TESTED,
     "content/tests/chair-stand.md:13:34: error: the ages run backwards, from 64 to 60. Write the younger age in 'from'. [norm-ages]"),
    ("check_test_numbers", TEST, [("{sex: men, from: 60, value: 14}", "{sex: women, from: 64, value: 14}")], TESTED,
     "content/tests/chair-stand.md:14:26: error: the age of 64 stands in two rows (first in content/tests/chair-stand.md:13:7). Let each age stand in one row of its sex. [norm-ages]"),
    ("check_test_numbers", TEST, [("value: 14}", "value: 61}")], TESTED,
     "content/tests/chair-stand.md:14:35: error: the value 61 is above 60, at which the test ends. Correct 'value' or 'most'. [norm-value]"),
    ("check_test_numbers", TEST, [("each side: yes\n", "")], TESTED,
     "content/tests/chair-stand.md:17:11: error: the test says how alike both sides are to be, and counts them together. Write 'each side: yes', or take 'symmetry' out. [test-sides]"),
    ("check_test_numbers", TEST, [("each side: yes\n", "each side: yes\nbetter: less\n")], TESTED,
     "content/tests/chair-stand.md:19:11: error: a share of the other side says nothing where less is better. Take 'symmetry' out. [test-sides]"),
    ("check_test_numbers", TEST, [("change: 2.5", "change: 60")], TESTED,
     "content/tests/chair-stand.md:17:17: error: the error of 60 is as large as the largest result, 60. Correct 'change' or 'most'. [test-error]"),
    ("check_vocabulary", TEST, [("equipment: [chair]", "equipment: [chiar]")], TESTED,
     "content/tests/chair-stand.md:6:13: error: 'chiar' is not declared in 'equipment' of vocabulary.yaml. Did you mean 'chair'? [unknown-name]"),
    ("check_cautions", TEST, [("[stop-pain]", "[stop-pain, go-slo]")], TESTED,
     "content/tests/chair-stand.md:19:23: error: 'go-slo' is not declared in cautions.yaml. Did you mean 'go-slow'? [unknown-name]"),
    ("check_unique_codes", TEST, [("code: T222", "code: A222")], TESTED,
     "content/tests/chair-stand.md:2:7: error: the code 'A222' is given twice (first in content/exercises/foot-lift.md:2:7). Give one of them a code of its own; a printed code never moves. [repeated-code]"),
    ("check_sentences", TEST, [("as often as you can.", "as often as you can for as long as the clock on the wall over there says that you have time.")], TESTED,
     "content/tests/chair-stand.md:26:4: error: this sentence has 26 words, 20 are the end. Make two sentences of it: one action each. [long-sentence]"),
    ("check_sources", TEST, [('sources: ["common practice, no source"]', "sources: [Otago]")], TESTED,
     "content/tests/chair-stand.md:21:10: error: the source 'Otago' is a single word or a bare address. Write author or body, title and year. [bare-source]"),
    ("check_reviews", TEST, [("on: 2026-09-14", "on: 2026-12-14")], TESTED,
     "content/tests/chair-stand.md:20:14: error: the review is dated 2026-12-14, after today. Write the day on which it was done. [review-future]"),
    ("check_standalone_stop_rule", SHEET, [("[stop-pain]", "[go-slow]")], ADVISED,
     "content/leaflets/rest-well.md:7:11: error: none of the cautions is a stop rule. Name one whose kind is 'stop' in cautions.yaml. [no-stop-rule]"),
    ("check_leaflet_text", SHEET, [("## What to do\n\n- Set a timer.\n", "")], ADVISED,
     "content/leaflets/rest-well.md:2:1: error: the advice sheet says nothing below its keys. Write '## What to do' and a list or a paragraph. [no-advice]"),
    ("check_sentences", SHEET, [("[Rest before you hurt.]", "[Rest before you hurt and before you get so tired that you sit down for the whole rest of the day.]")], ADVISED,
     "content/leaflets/rest-well.md:6:10: error: this sentence has 21 words, 20 are the end. Make two sentences of it: one action each. [long-sentence]"),
    ("check_exercises", "lessons/teach-foot-lift.md", [("exercise: foot-lift", "exercise: foot-lft")], TAUGHT,
     "content/lessons/teach-foot-lift.md:5:11: error: 'foot-lft' is not declared in exercises/. Did you mean 'foot-lift'? [unknown-name]"),
    ("check_condition_names", "conditions.yaml", [("[standing]", "[stnding]")], ASKED,
     "content/conditions.yaml:6:51: error: 'stnding' is not declared in 'positions' of vocabulary.yaml. Did you mean 'standing'? [unknown-name]"),
    ("check_condition_names", "conditions.yaml", [("[breath-hold]", "[breath-hld]")], ASKED,
     "content/conditions.yaml:6:72: error: 'breath-hld' is not declared in 'demands' of vocabulary.yaml. Did you mean 'breath-hold'? [unknown-name]"),
    ("check_condition_names", "conditions.yaml", [("cautions: [go-slow]", "limits: [hip]")], ASKED,
     "content/conditions.yaml:6:95: error: 'hip' is not declared in limits.yaml. Declare it first. [unknown-name]"),
    ("check_cautions", "conditions.yaml", [("[go-slow]", "[go-slo]")], ASKED,
     "content/conditions.yaml:6:97: error: 'go-slo' is not declared in cautions.yaml. Did you mean 'go-slow'? [unknown-name]"),
    ("check_exercises", "conditions.yaml", [("[foot-lift]", "[foot-lft]")], ASKED,
     "content/conditions.yaml:6:119: error: 'foot-lft' is not declared in exercises/. Did you mean 'foot-lift'? [unknown-name]"),
    ("check_condition_rules", "conditions.yaml", [(", positions: [standing], demands: [breath-hold], cautions: [go-slow], exercises: [foot-lift]", "")], ASKED,
     "content/conditions.yaml:6:9: error: the rule names nothing that an exercise could have. Add positions, equipment, demands, cautions, limits or exercises. [condition-names-nothing]"),
    ("check_conditions_touch", "conditions.yaml", [(", exercises: [foot-lift]", "")], ASKED,
     "content/conditions.yaml:2:5: notice: the condition 'heart' touches no exercise. Name other things, or take it out: a tick that never finds anything reads like an answer. [condition-touches-nothing]"),
    ("check_unique_slugs", "conditions.yaml", [("    status: clinic's choice\n", "    status: clinic's choice\n  - {slug: heart, name: Heart, asks: Yes?, rules: [{says: Ask., positions: [sitting]}], source: none, status: from memory}\n")], ASKED,
     "content/conditions.yaml:9:12: error: the name 'heart' is given twice (first in content/conditions.yaml:2:11). Rename or delete one of them. [repeated-name]"),
    ("check_sentences", "conditions.yaml", [("asks: Did a doctor say how hard you may work?", "asks: Did a doctor or a nurse or anyone else ever say to you how hard you may work on any day of the week?")], ASKED,
     "content/conditions.yaml:4:11: error: this sentence has 24 words, 20 are the end. Make two sentences of it: one action each. [long-sentence]"),
    ("check_leaflet_keep", SHEET, [("cautions: [stop-pain]", "cautions: [stop-pain]\nprogramme: stand-up\nkeep: [foot-lift, toe-lift]")], {**ADVISED, "exercises/toe-lift.md": LONELY},
     "content/leaflets/rest-well.md:9:19: error: 'toe-lift' is to be kept up, and the programme 'stand-up' does not hold it. Name exercises of the programme, or take 'programme' out. [keep-other]"),
    ("check_exercises", SHEET, [("cautions: [stop-pain]", "cautions: [stop-pain]\nkeep: [foot-lft]")], ADVISED,
     "content/leaflets/rest-well.md:8:8: error: 'foot-lft' is not declared in exercises/. Did you mean 'foot-lift'? [unknown-name]"),
    ("check_bundle_programmes", SHEET, [("cautions: [stop-pain]", "cautions: [stop-pain]\nprogramme: stnd-up")], ADVISED,
     "content/leaflets/rest-well.md:8:12: error: 'stnd-up' is not declared in programmes/. Did you mean 'stand-up'? [unknown-name]"),
    ("check_markup", SHEET, [("- Set a timer.", "- Set a <b>timer</b>.")], ADVISED,
     "content/leaflets/rest-well.md:13:9: error: HTML cannot be used in a text. Write plain words; **bold** and *italic* are allowed. [markup-not-allowed]"),
]


def test_whole_conditions_give_no_message() -> None:
    """Conditions in which nothing is broken are accepted; one whose rule asks a figure is not told to touch nothing by files alone."""
    assert messages({**TEXTS, **ASKED}) == []
    asked_of_figure = CONDITIONS.replace(", exercises: [foot-lift]", "").replace("breath-hold", "head-turn")
    demands = {"vocabulary.yaml": VOCABULARY + "demands: [{slug: head-turn, name: turning the head}]\n"}
    assert messages({**TEXTS, **demands, "conditions.yaml": asked_of_figure}) == []


def test_small_library_has_no_problem() -> None:
    """The library that the tests break is whole before they break it."""
    assert messages(TEXTS) == []


@pytest.mark.parametrize(("rule", "path", "edits", "files", "expected"), BROKEN, ids=[row[0] for row in BROKEN])
def test_whole_message(rule: str, path: str, edits: list[tuple[str, str]], files: dict[str, str], expected: str | None) -> None:
    """The broken library gives the message, word for word."""
    found = messages(texts_with(path, *edits, **files))
    if expected is None:
        assert any("[reading-level]" in message for message in found), found
    else:
        assert expected in found


def test_lying_is_asked_which_way() -> None:
    """Lying alone is no base position, and the nearest word would be only one of three."""
    node, _ = compose("base: lying\n", "figure.yaml")
    assert node is not None
    assert [show_problem(problem) for problem in read_figure(node)[1]] == [
        "figure.yaml:1:7: error: 'lying' is not a base position. Write supine (on the back), prone (on the front) or side-lying. [figure-word]"
    ]


def test_every_rule_has_a_broken_example() -> None:
    """A new rule comes with its broken example."""
    assert {row[0] for row in (*BROKEN, *BROKEN_LIMITS)} == {rule.__name__ for rule in RULES}


def test_a_file_that_cannot_be_read_is_not_missing() -> None:
    """One misspelt key is told once: nothing that the file holds or is named by is reported as missing."""
    named = {"bundles/first-days.yaml": TEXTS[BUNDLE].replace("weeks: 2", "programme: stand-up\ntier: wake\nweeks: 2"),
             LEG: TEXTS[LEG].replace("after: [foot-lift]", "after: [{all of: wake, programme: stand-up}]")}
    typo = "error: unknown key 'weks' in a programme. Did you mean 'weeks'? [unknown-key]"
    lack = "error: a programme has no 'weeks'. Add the line 'weeks: …' (how many weeks it usually takes). [missing-key]"
    found = messages(texts_with(PROGRAMME, ("weeks: 6", "weks: 6"), **named))
    assert found == [f"content/programmes/stand-up.md:2:1: {lack}", f"content/programmes/stand-up.md:6:1: {typo}"]
    assert not [said for said in messages(texts_with("cautions.yaml", ("kind: care", "kid: care"))) if "cautions.yaml" not in said]
    assert not [said for said in messages(texts_with(FOOT, ("cues:", "cue:"))) if not said.startswith("content/exercises/foot-lift.md")]
