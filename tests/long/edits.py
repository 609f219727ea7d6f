"""Random edits of a library: ``python tests/long/edits.py [SERIES] [SEED] [MINUTES]``, 1,000 series by default.

Each series begins at the small library and makes one to five edits: texts, doses, figures, new, renamed and removed
exercises, cautions, the clinic, languages, faults, earlier states, wrong clocks.  After each edit the library is built
into one and the same folder, where everything is kept from build to build; at the end of the series also into an
empty one.  The two sites must be equal byte for byte, and a library with a fault must change nothing.  Every
fortieth clean build runs in a process of its own, which shares no memory with the others.  Without sheets, which
are kept by the hash of their document.
"""

from __future__ import annotations

import contextlib
import io
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.cli import main as handouts
from handouts.publishing.manifest import find_damage, read_manifest, site_digest
from tests.faults.publishing import memory
from tests.small_library import EXERCISE, TEXTS

Texts = dict[str, str]
WORDS = ("slowly", "gently", "with care", "with ease", "once more", "as you breathe out", "while you look ahead")
START = {**TEXTS, "clinic.yaml": f"{TEXTS['clinic.yaml']}taken off: [{{address: en, why: An edit.}}, {{address: es, why: An edit.}}]\n"}
"""The small library; an edit may take anything away: what stood before must not make a difference."""
ROOT = Path(__file__).parents[2]
OWN_PROCESS = 40
"""One clean build in so many runs in a process of its own."""


def any_exercise(texts: Texts, random: Random) -> str:
    """The path of an exercise."""
    return random.choice(sorted(path for path in texts if path.startswith("exercises/")))


def swap_text(texts: Texts, random: Random) -> None:
    """Other words for patients."""
    path = any_exercise(texts, random)
    old = random.choice(["Sit tall", "You use this", "You feel your thigh work", "Lift your foot", "Sit on a chair", "You lean back"])
    texts[path] = texts[path].replace(old, f"{old} {random.choice(WORDS)}")


def change_title(texts: Texts, random: Random) -> None:
    """Another title."""
    path = any_exercise(texts, random)
    texts[path] = texts[path].replace(" lift\n", f" lift {random.choice(WORDS)}\n")


def change_dose(texts: Texts, random: Random) -> None:
    """Other numbers."""
    path = any_exercise(texts, random)
    texts[path] = texts[path].replace("reps: 10,", f"reps: {random.randint(5, 15)},").replace("rest: 60 s", f"rest: {random.randint(3, 9)}0 s")


def change_figure(texts: Texts, random: Random) -> None:
    """Another figure, or none."""
    path, base = any_exercise(texts, random), random.choice(["sitting", "standing", ""])
    lines = [line for line in texts[path].split("\n") if not line.startswith("figure: ")]
    at = lines.index("---", 1)
    texts[path] = "\n".join([*lines[:at], *([f"figure: {{base: {base}}}"] if base else []), *lines[at:]])


def add_exercise(texts: Texts, random: Random) -> None:
    """A new exercise, which stands in the library only."""
    number = random.randint(2, 9)
    texts[f"exercises/new-{number}.md"] = EXERCISE.format(code=f"C22{number}", title=f"New {number} lift", tier="live", after="after: [leg-lift]\n")


def remove_exercise(texts: Texts, random: Random) -> None:
    """A new exercise goes again."""
    new = sorted(path for path in texts if path.startswith("exercises/new-"))
    if new:
        del texts[random.choice(new)]


def rename_exercise(texts: Texts, random: Random) -> None:
    """The same exercise under another name."""
    new = sorted(path for path in texts if path.startswith("exercises/new-"))
    if new:
        path = random.choice(new)
        texts[path.replace("/new-", "/new-other-")] = texts.pop(path)


def use_exercise(texts: Texts, random: Random) -> None:
    """Another bundle."""
    texts["bundles/first-days.yaml"] = random.choice(
        [TEXTS["bundles/first-days.yaml"], TEXTS["bundles/first-days.yaml"].replace("sets: 1", "sets: 2"),
         TEXTS["bundles/first-days.yaml"].replace("{exercise: leg-lift, dose: {sets: 1}}", "leg-lift")]
    )  # fmt: skip


def change_caution(texts: Texts, random: Random) -> None:
    """A caution says more."""
    texts["cautions.yaml"] = texts["cautions.yaml"].replace("Go slower.", f"Go slower {random.choice(WORDS)}.")


def change_clinic(texts: Texts, random: Random) -> None:
    """Another telephone, colour or address."""
    old, new = random.choice([("555-0100", "555-0199"), ("#0f5e6b", "#6b1f0f"), ("1 Main Street", "2 Main Street")])
    texts["clinic.yaml"] = texts["clinic.yaml"].replace(old, new)


def change_languages(texts: Texts, random: Random) -> None:
    """A language more, with one text translated, or none."""
    more = "source: en, also: [es]"
    if more in texts["clinic.yaml"]:
        texts["clinic.yaml"] = texts["clinic.yaml"].replace(more, "source: en")
        texts.pop("words/es.po", None)
    else:
        texts["clinic.yaml"] = texts["clinic.yaml"].replace("source: en", more)
        texts["words/es.po"] = 'msgid ""\nmsgstr "Language: es\\nContent-Type: text/plain; charset=UTF-8\\n"\n'


def go_back(texts: Texts, random: Random) -> None:
    """One file as it was in the beginning."""
    path = random.choice(sorted(START))
    texts[path] = START[path]


def break_it(texts: Texts, random: Random) -> None:
    """A fault, which the next edits may or may not mend."""
    path = any_exercise(texts, random)
    texts[path] = texts[path].replace("purpose: strength", random.choice(["purpose: power", "purpose: [", "porpoise: strength"]))


EDITS: tuple[Callable[[Texts, Random], None], ...] = (
    swap_text, change_title, change_dose, change_figure, add_exercise, remove_exercise, rename_exercise, use_exercise,
    change_caution, change_clinic, change_languages, go_back, go_back, break_it,
)  # fmt: skip


def write_library(folder: Path, texts: Texts, random: Random) -> None:
    """The library on the disk: what changed is written, what went is removed, some files get a wrong clock."""
    for path in [path for path in folder.rglob("*") if path.is_file() and path.relative_to(folder).as_posix() not in texts]:
        path.unlink()
    for name, text in texts.items():
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if not target.exists() or target.read_text(encoding="utf-8") != text:
            target.write_text(text, encoding="utf-8")
            if random.random() < 0.3:
                years = random.choice((-10, 10)) * 365 * 86400
                os.utime(target, (time.time() + years, time.time() + years))


def build(library: Path, out: Path, in_own_process: bool = False) -> int:
    """One build without sheets; its exit status."""
    words = ["build", str(library), "--to", str(out), "--no-paper", "--quiet", "--jobs", "1", "--today", "2026-11-25", f"--cache={out}/.cache"]
    if in_own_process:
        return subprocess.run([sys.executable, "-m", "handouts", *words], cwd=ROOT, capture_output=True, check=False).returncode
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        return handouts(words)


class Edits:
    """One folder that is built over and over, and what was counted."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.library, self.kept, self.clean = folder / "library", folder / "kept", folder / "clean"
        self.random, self.tally = Random(seed), Counter[str]()
        self.site = ""

    def run_series(self, number: int) -> str | None:
        """One series; what differs, or None."""
        texts = dict(START)
        status = 0
        for _ in range(self.random.randint(1, 5)):
            edit = self.random.choice(EDITS)
            edit(texts, self.random)
            self.tally[edit.__name__] += 1
            write_library(self.library, texts, self.random)
            status = build(self.library, self.kept)
            self.tally[f"builds with status {status}"] += 1
            if status and site_digest(self.kept / "site") != self.site:
                return "a library with a fault changed the site"
            self.site = site_digest(self.kept / "site")
        shutil.rmtree(self.clean, ignore_errors=True)
        clean = build(self.library, self.clean, in_own_process=number % OWN_PROCESS == 0)
        if clean != status:
            return f"status {status} where everything was kept, {clean} where nothing was"
        if clean == 0:
            self.tally["sites compared"] += 1
            one, other = read_manifest(self.kept / "site") or {}, read_manifest(self.clean / "site") or {}
            differing = [path for path in sorted({*one, *other}) if one.get(path) != other.get(path)]
            return find_damage(self.kept / "site") or (f"differs: {', '.join(differing[:5])}" if differing else None)
        return None


def main() -> int:
    """Runs the series until they are done or the time is over."""
    count, seed, minutes = (int(word) for word in (*sys.argv[1:], *("1000", "1", "1000")[len(sys.argv) - 1 :]))
    end, faults, done = time.monotonic() + 60 * minutes, 0, 0
    with tempfile.TemporaryDirectory(dir=memory()) as folder:
        edits = Edits(Path(folder), seed)
        while done < count and time.monotonic() < end:
            found = edits.run_series(done)
            done, faults = done + 1, faults + (found is not None)
            if found:
                print(f"series {done}: {found}")
    for name, number in edits.tally.most_common():
        print(f"{number:>7,} {name}")
    print(f"{done:>7,} series, {faults} wrong")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
