"""From ``handouts start`` to a checked exercise with a figure: ten movements that the demo does not have, as a person would make them.

``python tests/long/replay.py [PART OF A NAME]``.  Each begins in a library that was just started.  Every edit is text that is typed over or beside
what stands there; commands are typed too.  Counted for each: seconds of the machine, and characters at ``TYPED`` a minute.
The demo has none of the ten (a test holds that).  What is typed here is invented and clinically empty: it shows the work, not an exercise.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
TYPED = 52 * 5
"""Characters a minute: 52 words of five characters, the mean of 168,000 people (Observations on typing from 136 million keystrokes, 2018; from memory)."""
MOST = 180.0
"""Seconds of machine and typing that one exercise may take."""
Edit = tuple[str, str, str]
"""File, what stands there, what is typed in its place."""


@dataclass(frozen=True, slots=True)
class Replayed:
    """What one exercise took."""

    machine: float
    """Seconds."""
    typed: int
    """Characters."""
    status: int
    """Exit status of the last ``check``."""
    said: str

    @property
    def seconds(self) -> float:
        """Machine and typing."""
        return self.machine + self.typed * 60 / TYPED


COMMON = (
    ("# tier:   (", "tier: begin\n#"),
    ("# purpose:   (", "purpose: strength\n#"),
    ("# why:   (", "why: You move with more ease at home.\n#"),
    ("# dose:   (", "dose: {sets: 2, reps: 8, EACHtempo: 2-1-3, rest: 30 s, days: 3}\n#"),
    ("# cues:   (", "cues: [Move slowly.]\n#"),
    ("# feel:   (", "feel: You feel a mild effort.\n#"),
    ("# mistakes:   (", "mistakes: [{see: You hurry., do: Count to 3.}]\n#"),
    ("# cautions:   (", "cautions: [sharp-pain]\n#"),
    ("# review:   (", "review: {on: 2026-11-20, by: physiotherapist, months: 12}\n#"),
    ("# sources:   (", 'sources: ["Choice of exercise: common practice, from memory"]\n#'),
)
"""What is typed into every draft: the gap's line becomes a remark behind it."""
STEPS = "1. Get into place.\n2. Move to the end.\n3. Go back slowly.\n"


@dataclass(frozen=True, slots=True)
class Wanted:
    """One exercise: the movement, what the vocabulary lacks, and how the figure is changed (what stands there, what is typed)."""

    like: str
    terms: tuple[tuple[str, str], ...]
    change: tuple[str, str]
    limb: str = "leg"
    both: bool = False


MAT, HAND_WEIGHT = ("equipment", "{slug: mat, name: exercise mat}"), ("equipment", "{slug: hand-weight, name: hand weight}")
LYING = ("positions", "{slug: lying, name: lying on your back, level: floor, rank: 1}")
WANTED = (
    Wanted("heel-slide-supine", (MAT, LYING), ("knee.r: 96", "knee.r: 86")),
    Wanted("clam", (MAT, ("positions", "{slug: side-lying, name: lying on your side, level: floor, rank: 1}"), ("regions", "{slug: hip, name: hip}")), ("abd 24 er 22", "abd 20 er 20")),
    Wanted("knee-flexion-prone", (MAT, ("positions", "{slug: prone, name: lying on your front, level: floor, rank: 1}")), ("knee.r: 92", "knee.r: 80")),
    Wanted("calf-stretch-step", (("equipment", "{slug: step, name: step}"), ("regions", "{slug: calf, name: calf}")), ("df 20", "df 18"), both=True),
    Wanted("biceps-curl", (HAND_WEIGHT, ("regions", "{slug: arm, name: arm}")), ("elbow.r: 130", "elbow.r: 120"), "arm"),
    Wanted("neck-rotation", (("regions", "{slug: neck, name: neck}"),), ("turn-r 60", "turn-r 50"), both=True),
    Wanted("squat", (), ("knee: 88", "knee: 80"), both=True),
    Wanted("side-step", (("regions", "{slug: hip, name: hip}"),), ("hip: abd 17", "hip: abd 15"), both=True),
    Wanted("dead-bug", (MAT, LYING, ("regions", "{slug: belly, name: belly}")), ("hip.r: flex 16", "hip.r: flex 20")),
    Wanted("squat-jump", (), ("flight: 0.22", "flight: 0.16"), both=True),
)  # fmt: skip


def edits_of(wanted: Wanted, draft: str) -> list[Edit]:
    """What a person types after ``handouts new``."""
    path = f"exercises/{wanted.like}-2.md"
    found: list[Edit] = [("vocabulary.yaml", f"{key}:\n", f"{key}:\n  - {term}\n") for key, term in wanted.terms]
    each = "" if wanted.both else f"side: both, limb: {wanted.limb}, "
    for gap, typed in COMMON:
        found.append((path, gap, typed.replace("EACH", each)))
    found.append((path, wanted.change[0], wanted.change[1]))
    found.append((path, draft[draft.index("<!--") :], STEPS))
    added = {term.split("slug: ")[1].split(",")[0] for _, term in wanted.terms}
    for key in ("position", "regions", "equipment"):
        remark = f"# {key}: the gallery says "
        if remark not in draft:
            continue
        said = [word for word in draft.partition(remark)[2].partition(", which")[0].split(", ") if word in added]
        there = next((line for line in draft.splitlines() if line.startswith(f"{key}: ")), "")
        has = [word for word in there.partition("[")[2].rstrip("]").split(", ") if word]
        words = f"{key}: {said[0]}" if key == "position" else f"{key}: [{', '.join([*has, *said])}]"
        if said:
            found.append((path, there or f"# {key}:   (", words if there else f"{words}\n#"))
    return found


def replay(wanted: Wanted, folder: Path) -> Replayed:
    """One exercise from nothing, each command in a process of its own as in a shell."""
    library = folder / "our-library"
    machine, typed, said = 0.0, 0, ""
    status = 0

    def command(*words: str) -> int:
        nonlocal machine, typed, said
        began = time.monotonic()
        done = subprocess.run([sys.executable, "-m", "handouts", *words], cwd=ROOT, capture_output=True, text=True, check=False)
        machine += time.monotonic() - began
        typed += len(" ".join(("handouts", *words))) - len(str(folder)) * sum(str(folder) in word for word in words) + 1
        said = done.stdout + done.stderr
        return done.returncode

    status = command("start", str(library))
    status = status or command("new", f"{wanted.like}-2", "--like", wanted.like, "--library", str(library))
    draft = (library / f"exercises/{wanted.like}-2.md").read_text()
    for path, old, new in edits_of(wanted, draft):
        text = (library / path).read_text()
        assert old in text, (wanted.like, path, old)
        (library / path).write_text(text.replace(old, new, 1))
        typed += len(new.removesuffix("\n#"))
    return Replayed(machine, typed, status or command("check", str(library)), said)


def main(arguments: list[str]) -> int:
    """All ten, or those whose name has the part."""
    late = 0
    for wanted in WANTED:
        if arguments and arguments[0] not in wanted.like:
            continue
        with tempfile.TemporaryDirectory() as folder:
            took = replay(wanted, Path(folder))
        late += took.status != 0 or took.seconds > MOST
        print(f"{wanted.like}: {took.seconds:.0f} s ({took.machine:.1f} of the machine, {took.typed} characters), check ended with {took.status}")
        if took.status:
            print(took.said)
    return 1 if late else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
