"""Faults put into the functions that place what an author wrote, one at a time: the random libraries must notice each.

``python tests/long/mutants_fidelity.py [NUMBER …]`` copies the project into a temporary folder, changes one line there, runs
``tests/fidelity`` and lists which faults were noticed by which test; ends with 1 where one was not.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
LEFT_OUT = shutil.ignore_patterns(".git", ".venv", "node_modules", "__pycache__", ".hypothesis", ".*_cache")


@dataclass(frozen=True, slots=True)
class Mutant:
    """One changed line."""

    says: str
    file: str
    old: str
    new: str


MUTANTS = (
    Mutant("a step's own condition stands under 'go on'", "publication/steps.py",
           "Condition(following, programme.tiers[rank + 1].enter_when)", "Condition(following, programme.tiers[rank].enter_when)"),
    Mutant("the last step asks for its own condition again", "publication/steps.py",
           'Condition(wording.say("steps.goal"), programme.goal)', 'Condition(wording.say("steps.goal"), programme.tiers[rank].enter_when)'),
    Mutant("'go on to step' has the number of the step itself", "publication/steps.py",
           "n=wording.number(rank + 2)", "n=wording.number(rank + 1)"),
    Mutant("every exercise promises a next one", "publication/steps.py",
           'return wording.say("steps.ready_goal" if exercise.slug in around.last else "steps.ready_done")', 'return wording.say("steps.ready_next")'),
    Mutant("the goal is said in every step", "publication/steps.py",
           '"steps.ready_goal" if exercise.slug in around.last else "steps.ready_done"', '"steps.ready_goal"'),
    Mutant("a bundle loses its programme's cautions", "publication/steps.py",
           "(*bundle.cautions, *(programme.cautions if programme else ()))", "bundle.cautions"),
    Mutant("a bundle loses its own cautions", "publication/steps.py",
           "(*bundle.cautions, *(programme.cautions if programme else ()))", "(programme.cautions if programme else ())"),
    Mutant("a programme's cues are lost at its exercises", "publication/steps.py",
           "return (*exercise.cues, *(cue for cue in cues if cue.text not in own))", "return exercise.cues"),
    Mutant("a step sheet has only stop rules of the programme", "paper/booklet.py",
           "hints=_view_hints(setting, programme), cautions=programme.cautions,",
           "hints=_view_hints(setting, programme), cautions=tuple(ref for ref in programme.cautions if setting.library.caution[ref.slug].kind.value != \"ask\"),"),
    Mutant("the text for the whole day is lost on paper", "paper/booklet.py",
           "        hints=_view_hints(setting, programme),\n        contents_heading", "        hints=(),\n        contents_heading"),
    Mutant("conditions to ask first stand among those to take care", "site/parts.py",
           "by_kind[CautionKind.STOP], by_kind[CautionKind.ASK], by_kind[CautionKind.CARE]", "by_kind[CautionKind.STOP], by_kind[CautionKind.CARE], by_kind[CautionKind.ASK]"),
    Mutant("a bundle's changed sets are not printed", "dose/arithmetic.py",
           '    names = (\n        "sets",\n', "    names = (\n"),
    Mutant("the sets of a dose are one too few", "dose/phrase.py",
           'sets=voice.count("dose.sets", dose.sets)', 'sets=voice.count("dose.sets", dose.sets - 1)'),
    Mutant("the chart has the library's dose instead of the given one", "bundle/chart.py",
           "dose=join_parts(dose_parts(whole_dose(pick, library), library, voice), voice)", "dose=join_parts(dose_parts(exercise.dose, library, voice), voice)"),
    Mutant("the record lists exercises backwards", "bundle/fhir.py",
           "for exercise, pick in zip(exercises, bundle.picks, strict=True)\n        ],\n        \"identifier\"", "for exercise, pick in list(zip(exercises, bundle.picks, strict=True))[::-1]\n        ],\n        \"identifier\""),
    Mutant("the phone has cues backwards", "phone/details.py", '"cues": _all(exercise.cues)', '"cues": _all(exercise.cues[::-1])'),
    Mutant("the phone swaps mistake and mend", "phone/details.py", "[[plain(mistake.see), plain(mistake.do)]", "[[plain(mistake.do), plain(mistake.see)]"),
    Mutant("the phone loses what to ask first", "phone/details.py", '"ask": _cautions(exercise, library, CautionKind.ASK)', '"ask": []'),
    Mutant("a list begun from a programme loses its ask cautions", "bundle/origins.py",
           "if each.kind is kind]", 'if each.kind is kind and kind.value != "ask"]'),
)  # fmt: skip


def run(mutant: Mutant) -> str:
    """The first test that noticed a fault; empty where none did."""
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "project"
        shutil.copytree(ROOT, copy, ignore=LEFT_OUT)
        file = copy / "handouts" / mutant.file
        text = file.read_text(encoding="utf-8")
        if text.count(mutant.old) != 1:
            raise SystemExit(f"{mutant.says}: the line stands {text.count(mutant.old)} times in {mutant.file}")
        file.write_text(text.replace(mutant.old, mutant.new), encoding="utf-8")
        words = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "tests/fidelity"]
        done = subprocess.run(words, cwd=copy, capture_output=True, text=True, check=False)
        if done.returncode not in (0, 1):
            raise SystemExit(f"{mutant.says}: the tests did not run:\n{done.stdout}{done.stderr}")
        found = re.findall(r"^(?:FAILED|ERROR) \S+::(\S+)", done.stdout, re.MULTILINE)
        return found[0] if done.returncode and found else ""


def main() -> int:
    """Runs all, or those that are named by number."""
    wanted = [int(word) for word in sys.argv[1:]]
    lived = 0
    for number, mutant in enumerate(MUTANTS, 1):
        if wanted and number not in wanted:
            continue
        noticed = run(mutant)
        lived += not noticed
        print(f"{number:>3}  {'noticed' if noticed else 'LIVED  '}  {mutant.says}  {noticed}", flush=True)
    print(f"{lived} not noticed")
    return 1 if lived else 0


if __name__ == "__main__":
    sys.exit(main())
