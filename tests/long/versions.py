"""One library built by two versions of the program: ``python tests/long/versions.py REVISION … [--codes COUNT] [--seed SEED]``.

For each git revision its own program starts a library with a second language, writes its ledger, builds it with PDFs, and
encodes COUNT random bundles (1,000 by default).  Then the present program builds the same library over the same output and
ledger.  Nothing that readers hold may be lost: no page, PDF, language, bundle or page of a printed code; each link inside a page
leads somewhere; each code opens with the exercises and the doses that it was given with.  Lists what is lost and what is new, and
ends with 1 where anything is lost.  Before a revision that does not know what this asks for, it says so and ends with 2.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import subprocess
import sys
import tempfile
from collections import Counter
from dataclasses import fields
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[2]))

import polib

from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.code import decode_bundle
from handouts.bundle.values import Refusal
from handouts.ledger.history import former_doses
from handouts.ledger.read import read_ledger
from handouts.library.read import read_library
from handouts.source.files import read_folder

ROOT = Path(__file__).parents[2]
TODAY = "2026-11-25"
EDITS = (
    (r"languages: \{source: en\}", "languages: {source: en, also: [es]}"),
    (r"papers: \[letter, a4\]", "papers: [letter]"),
    (r"type sizes: \[standard, large\]", "type sizes: [standard]"),
    (r"unreviewed translations: hold back", "unreviewed translations: show"),
)
"""Of the library that ``handouts start`` writes."""
ENCODE = """
import json, sys
from dataclasses import fields, replace
from pathlib import Path
from random import Random
try:
    from handouts.source.files import read_folder
except ImportError:
    from handouts.files import read_folder
from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.code import encode_bundle
from handouts.bundle.values import PickedBundle
from handouts.library.read import read_library
from handouts.model import DoseChange, Pick, Ref

files, _ = read_folder(Path(sys.argv[1]), "lib")
library, _ = read_library(files, "lib")
catalogue, random, made = make_catalogue(library), Random(int(sys.argv[3])), 0
plain = (int, str, type(None))
while made < int(sys.argv[2]):
    exercises = random.sample(library.exercises, random.randint(1, len(library.exercises)))
    picks = []
    for each in exercises:
        dose = each.dose
        for name in sorted({each.name for each in fields(DoseChange)} & {"sets", "reps", "hold_seconds", "rest_seconds", "days"}):
            if isinstance(getattr(dose, name), int) and random.random() < 0.4:
                dose = replace(dose, **{name: max(1, getattr(dose, name) + random.randint(-3, 3))})
        picks.append((each, dose))
    allowed = []
    for each, dose in picks:
        one = PickedBundle("en", library.clinic.locations[0].slug, 4, (CHANGED(each, dose),))
        allowed.append(dose if isinstance(encode_bundle(one, catalogue), str) else each.dose)
    bundle = PickedBundle(
        random.choice(["en", "es"]), random.choice(library.clinic.locations).slug, random.randint(1, 12),
        tuple(CHANGED(each, dose) for (each, _), dose in zip(picks, allowed)),
    )
    code = encode_bundle(bundle, catalogue)
    if isinstance(code, str):
        doses = [{each.name: getattr(dose, each.name) for each in fields(dose) if isinstance(getattr(dose, each.name), plain)} for dose in allowed]
        print(json.dumps([code, bundle.language, bundle.location, bundle.weeks, [each.code for each, _ in picks], doses]))
        made += 1
"""
CHANGED = """
def CHANGED(exercise, dose):
    change = {each.name: getattr(dose, each.name) for each in fields(DoseChange) if getattr(dose, each.name, None) != getattr(exercise.dose, each.name, None)}
    at = exercise.place
    return Pick(exercise=Ref(exercise.slug, place=at), change=DoseChange(**change, place=at) if change else None, place=at)
"""


class TooOldError(Exception):
    """The revision does not know what is asked."""


def run(program: Path, folder: Path, *words: str) -> str:
    """A command of a version of the program; what it prints."""
    env = {**os.environ, "PYTHONPATH": str(program)}
    done = subprocess.run([sys.executable, *words], cwd=folder, env=env, capture_output=True, text=True, check=False)
    if done.returncode:
        raise TooOldError(f"{' '.join(words)[:120]} ended with {done.returncode}:\n{(done.stdout + done.stderr)[-2000:]}")
    return done.stdout


def begin(program: Path, folder: Path) -> None:
    """The library as that version starts it, in two languages, published, with its ledger."""
    run(program, folder, "-m", "handouts", "start", "content")
    clinic = folder / "content/clinic.yaml"
    text = clinic.read_text()
    for old, new in EDITS:
        text, count = re.subn(old, new, text)
        if count != 1:
            raise TooOldError(f"its clinic.yaml has no '{old}'")
    clinic.write_text(text)
    run(program, folder, "-m", "handouts", "words", "collect")
    path = folder / "content/words/es.po"
    catalogue = polib.pofile(str(path), wrapwidth=0)
    for entry in catalogue:
        entry.msgstr = entry.msgid.swapcase().replace("sTOP", "Pare")
        entry.flags = [flag for flag in entry.flags if flag != "fuzzy"]
    catalogue.save(str(path))
    run(program, folder, "-m", "handouts", "ledger", "update", "--unbuilt")
    build(program, folder)


def build(program: Path, folder: Path) -> None:
    """The library's site."""
    run(program, folder, "-m", "handouts", "build", "content", "--to", "out", f"--today={TODAY}")


def addresses(site: Path) -> set[str]:
    """Every file that a reader may have the address of."""
    return {path.relative_to(site).as_posix() for path in site.rglob("*") if path.suffix in (".html", ".pdf")}


def dead_links(site: Path) -> list[str]:
    """Links within the site that lead nowhere."""
    found = []
    for page in site.rglob("*.html"):
        for link in re.findall(r'\bhref="([^"#?:]+)(?:[#?][^"]*)?"', page.read_text(encoding="utf-8")):
            target = site / link.lstrip("/") if link.startswith("/") else page.parent / link
            if not (target / "index.html" if link.endswith("/") or target.is_dir() else target).exists():
                found.append(f"{page.relative_to(site)}: {link}")
    return found


def read_codes(folder: Path, lines: list[str], tally: Counter[str]) -> list[str]:
    """Codes of the former version that open otherwise than they were given, as the present library and ledger read them."""
    files, _ = read_folder(folder / "content", "content")
    library, problems = read_library(files, "content")
    assert library is not None, problems
    ledger, _ = read_ledger(files["ledger.yaml"], "content/ledger.yaml")
    catalogue = make_catalogue(library, former_doses(ledger, ()))
    wrong = []
    for line in lines:
        code, language, location, weeks, codes, doses = json.loads(line)
        answer = decode_bundle(code, catalogue)
        if isinstance(answer, Refusal):
            wrong.append(f"{code}: refused, {answer.kind.value} {answer.field}")
            continue
        picked = answer.bundle
        opened = [library.exercise[pick.exercise.slug].code for pick in picked.picks]
        same = (picked.language, picked.location, picked.weeks, opened) == (language, location, weeks, codes)
        if not same or any(not is_dose(dose, was) for dose, was in zip(answer.doses, doses, strict=True)):
            wrong.append(f"{code}: another bundle")
        tally["of them with a changed dose"] += any(pick.change for pick in picked.picks)
        tally[f"bundle codes of version {code[0]} opened"] += 1
    return wrong


def is_dose(dose: Any, was: dict[str, Any]) -> bool:
    """Whether a dose has every value that it was given with, as far as both versions have the field."""
    return all(getattr(dose, each.name) == was[each.name] for each in fields(dose) if each.name in was)


def compare(revision: str, count: int, seed: int) -> int:
    """One revision against the present program; how much is lost."""
    tally: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as name:
        folder, program = Path(name), Path(name) / "program"
        subprocess.run(["git", "-C", str(ROOT), "worktree", "add", "-q", "--detach", str(program), revision], check=True)
        try:
            begin(program, folder)
            before = addresses(folder / "out/site")
            made = run(program, folder, "-c", CHANGED_FIRST, "content", str(count), str(seed)).splitlines()
        finally:
            subprocess.run(["git", "-C", str(ROOT), "worktree", "remove", "--force", str(program)], check=True)
        lost = []
        try:
            build(ROOT, folder)
        except TooOldError as refusal:
            lost.append(f"the present program does not build it: {refusal}")
        after = addresses(folder / "out/site")
        lost += [f"address {each}" for each in sorted(before - after)]
        lost += [f"link {each}" for each in dead_links(folder / "out/site")]
        lost += [f"code {each}" for each in read_codes(folder, made, tally)]
    for each in before:
        parts = each.split("/")
        tally[f"former {'PDFs' if each.endswith('.pdf') else 'pages of codes' if 'code' in parts[0] or parts[0] == 'c' else 'pages'}"] += 1
    tally["former languages"] = len({each.split("/")[0] for each in before if re.match(r"[a-z]{2}/", each)})
    tally["new addresses"] = len(after - before)
    print(f"{revision}, seed {seed}")
    for what, number in sorted(tally.items()):
        print(f"{number:>9,}  {what}")
    print(f"{len(lost):>9,}  lost")
    print("".join(f"           {each}\n" for each in lost[:50]), end="", flush=True)
    return len(lost)


CHANGED_FIRST = ENCODE.replace("\nfiles, _", f"{CHANGED}\nfiles, _", 1)


def main() -> int:
    """Every revision."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("revisions", nargs="+")
    parser.add_argument("--codes", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    lost = 0
    for revision in given.revisions:
        try:
            lost += compare(revision, given.codes, given.seed)
        except TooOldError as why:
            print(f"{revision}: {why}")
            return 2
    return 1 if lost else 0


if __name__ == "__main__":
    sys.exit(main())
