"""Two authors change the same library on branches of their own, and git merges them at random.

After each merge the library is either read without an error, or every error names a file, a line and how to mend it; then the
author who merges goes back to the state before.  No fact of the ledger that either side wrote may be lost by a merge that is kept.
"""

from __future__ import annotations

import random
import re
import subprocess
from collections import Counter
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass, field
from io import StringIO
from pathlib import Path

from handouts.build.loading import load
from handouts.build.settings import Settings
from handouts.cli import main
from handouts.commands.start import GIT_FILES
from handouts.problems import Grade, Problem
from tests.small_library import EXERCISE, TODAY

NAMES = ("ann", "ben")
"""Branches of the two authors; they are no people."""
_VERSION = re.compile(r'version: "(\w{6})", on')


@dataclass
class TwoAuthors:
    """A repository with a library, and what came of each merge."""

    folder: Path
    chance: random.Random
    counts: Counter[str] = field(default_factory=Counter)
    rules: Counter[str] = field(default_factory=Counter)
    number: int = 0

    def git(self, *words: str) -> subprocess.CompletedProcess[str]:
        """A command of git, without anybody's settings."""
        environment = {"PATH": "/usr/bin:/bin", "HOME": str(self.folder), "GIT_CONFIG_NOSYSTEM": "1"}
        given = ["git", "-c", "user.name=x", "-c", "user.email=x@x.example", "-c", "commit.gpgsign=false", "-c", "init.defaultBranch=ann", *words]
        return subprocess.run(given, cwd=self.folder, env=environment, capture_output=True, text=True, check=False)

    def begin(self, texts: dict[str, str]) -> None:
        """A library that was published once, and a branch for each."""
        for path, text in texts.items():
            (self.folder / path).parent.mkdir(parents=True, exist_ok=True)
            (self.folder / path).write_text(text)
        for path, data in GIT_FILES.items():
            (self.folder / path).write_bytes(data)
        self.handouts("ledger", "update", str(self.folder), "--unbuilt", f"--today={TODAY}")
        self.git("init", "--quiet")
        self.commit("begin")
        self.git("branch", "ben")

    def handouts(self, *words: str) -> int:
        """A command of handouts; what it says is not looked at."""
        with redirect_stdout(StringIO()), redirect_stderr(StringIO()):
            return main([*words])

    def commit(self, says: str) -> None:
        """Everything as it stands."""
        self.git("add", "--all")
        self.git("commit", "--quiet", "--allow-empty", "-m", says)

    def problems(self) -> tuple[Problem, ...]:
        """What the program says of the library as it stands; never an exception."""
        return load(Settings(self.folder, self.folder.parent / "out", TODAY, keep=False)).problems

    def step(self, author: str) -> None:
        """One change by an author, kept where the library is whole with it."""
        assert self.git("checkout", "--quiet", author).returncode == 0
        self.number += 1
        name, change = self.chance.choice(CHANGES)
        change(self)
        if any(each.grade is Grade.ERROR for each in self.problems()):
            self.git("checkout", "--quiet", "--", ".")
            self.git("clean", "-fdq")
            return
        self.counts[f"change: {name}"] += 1
        self.commit(name)

    def merge(self, into: str, other: str) -> None:
        """One merge; a library with an error is given back as it was."""
        assert self.git("checkout", "--quiet", into).returncode == 0
        versions = {version for branch in NAMES for version in _VERSION.findall(self.git("show", f"{branch}:ledger.yaml").stdout)}
        before = self.git("rev-parse", "HEAD").stdout.strip()
        self.git("merge", "--quiet", "--no-edit", other)
        errors = [each for each in self.problems() if each.grade is Grade.ERROR]
        if errors:
            for each in errors:
                assert each.place.file.startswith(f"{self.folder.name}/") and each.place.line >= 1 and each.what and each.mend, each
                self.rules[each.rule] += 1
            self.counts["merges refused by name"] += 1
            self.git("merge", "--abort")
            self.git("reset", "--quiet", "--hard", before)
            return
        self.counts["merges that stay"] += 1
        kept = set(_VERSION.findall((self.folder / "ledger.yaml").read_text()))
        assert versions <= kept, f"lost: {versions - kept}"
        assert self.handouts("ledger", "update", str(self.folder), "--unbuilt", f"--today={TODAY}") == 0
        assert not [each for each in self.problems() if each.rule in ("not-in-ledger", "code-dropped")]
        assert self.handouts("changes", str(self.folder), f"--today={TODAY}") == 0
        self.commit("merged")

    def run(self, steps: int) -> None:
        """Steps by either author, and now and then a merge in either direction; at the end in both."""
        for _ in range(steps):
            self.step(self.chance.choice(NAMES))
            if self.chance.random() < 0.25:
                self.merge(*self.chance.sample(NAMES, 2))
        self.merge("ann", "ben")
        self.merge("ben", "ann")


def _exercises(work: TwoAuthors) -> list[Path]:
    return sorted((work.folder / "exercises").glob("*.md"))


def _sub(work: TwoAuthors, pattern: str, new: Callable[[re.Match[str]], str]) -> None:
    path = work.chance.choice(_exercises(work))
    path.write_text(re.sub(pattern, new, path.read_text(), count=1, flags=re.MULTILINE))


def _dose(work: TwoAuthors) -> None:
    _sub(work, r"reps: \d+, tempo", lambda _: f"reps: {work.chance.randint(5, 15)}, tempo")


def _cue(work: TwoAuthors) -> None:
    _sub(work, r"^cues: .*", lambda _: f"cues: [Sit tall {'now ' * work.chance.randint(1, 3)}and wait.]")


def _title(work: TwoAuthors) -> None:
    _sub(work, r"^title: .*", lambda _: f"title: Lift number {work.number}")


def _add(work: TwoAuthors) -> None:
    code = "".join(work.chance.choice("23456789ABCDEFGHJKMNPQRSTUVWXYZ") for _ in range(3)) + "Z"
    text = EXERCISE.format(code=code, title=f"Lift number {work.number}", tier="wake", after="")
    (work.folder / f"exercises/lift-{work.number}.md").write_text(text)
    programme = work.folder / "programmes/stand-up.md"
    programme.write_text(re.sub(r"exercises: \[foot-lift", f"exercises: [lift-{work.number}, foot-lift", programme.read_text(), count=1))


def _withdraw(work: TwoAuthors) -> None:
    path = work.chance.choice(_exercises(work))
    code = re.search(r"^code: (\w+)", path.read_text(), re.MULTILINE)
    assert code
    if work.chance.random() < 0.3:
        work.handouts("withdraw", code[1], "--why", "It strained the knee.", "--library", str(work.folder), f"--today={TODAY}")


def _bundle(work: TwoAuthors) -> None:
    path = work.folder / "bundles/first-days.yaml"
    path.write_text(re.sub(r"weeks: \d+", f"weeks: {work.chance.randint(1, 9)}", path.read_text()))


def _answer(work: TwoAuthors) -> None:
    word = work.chance.choice(("yes", "no"))
    by = ["--language", "en", "--by", "reviewer", f"--today={TODAY}"]
    work.handouts("score", str(work.folder), "--answer", f"P2={word}", "--code", "*", *by)


def _write_down(work: TwoAuthors) -> None:
    role = ["--approved-by", "clinical lead"] if work.chance.random() < 0.5 else []
    work.handouts("ledger", "update", str(work.folder), "--unbuilt", f"--today={TODAY}", *role)


CHANGES: tuple[tuple[str, Callable[[TwoAuthors], None]], ...] = (
    ("dose", _dose), ("dose", _dose), ("cue", _cue), ("title", _title), ("add", _add), ("withdraw", _withdraw),
    ("bundle", _bundle), ("answer", _answer), ("ledger", _write_down), ("ledger", _write_down),
)  # fmt: skip
"""What an author does, by name; what stands twice happens twice as often."""
