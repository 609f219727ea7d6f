"""Changes the program, one constant of one module at a time: ``python tests/long/program_edits.py [EVERY] [SEED] [TRIES]``.

A library is built with the program as it is.  Then, for one module in EVERY (default: each), a constant is changed in a copy of
the program, and the library is built by it over a copy of that output, and from nothing.  The two sites must be equal byte for
byte, and exactly the tasks whose code holds the module must have been called anew.  Tells how many changes another site followed from,
and ends with 1 where a file was stale or another task was called.
"""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.publishing.manifest import read_manifest
from handouts.store.code_digest import Code
from handouts.store.journal import read_batches
from tests.faults.publishing import memory
from tests.small_library import TEXTS

ROOT = Path(__file__).parents[2]
CLINIC = TEXTS["clinic.yaml"].replace("papers: [letter, a4]", "papers: [a4]")


@dataclass(frozen=True, slots=True)
class Edit:
    """Another source of one module."""

    module: str
    """Its path in the package."""
    what: str
    source: str


def edits_of(module: str, source: str, random: Random) -> Iterator[Edit]:
    """Sources with one constant changed: numbers that have a name at first, then others, then texts."""
    tree = ast.parse(source)
    named = {id(node) for top in tree.body if isinstance(top, ast.Assign | ast.AnnAssign) for node in ast.walk(top)}
    told = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    inside = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in ast.walk(node)}
    found = [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and type(node.value) in (int, float, str) and node.lineno == node.end_lineno and id(node) not in told | inside
    ]
    random.shuffle(found)
    found.sort(key=lambda node: (id(node) not in named or isinstance(node.value, str), isinstance(node.value, str)))
    for node in found:
        lines = source.split("\n")
        line = lines[node.lineno - 1].encode()
        old = line[node.col_offset : node.end_col_offset].decode()
        new = repr(node.value * 2 + 1) if not isinstance(node.value, str) else repr(f"{node.value}x")
        lines[node.lineno - 1] = (line[: node.col_offset] + new.encode() + line[node.end_col_offset :]).decode()
        yield Edit(module, f"{module}:{node.lineno}: {old} -> {new}", "\n".join(lines))


class Program:
    """A copy of the program, and a library that it builds."""

    def __init__(self, home: Path, build: bool = True, sizes: str = "standard, large") -> None:
        self.home, self.tasks, self._written = home, 0, 0
        shutil.copytree(ROOT / "handouts", home / "program/handouts", ignore=shutil.ignore_patterns("__pycache__", "_templates"))
        shutil.copytree(ROOT / "templates", home / "program/templates")
        for path, text in {**TEXTS, "clinic.yaml": CLINIC.replace("type sizes: [standard, large]", f"type sizes: [{sizes}]")}.items():
            (home / "lib" / path).parent.mkdir(parents=True, exist_ok=True)
            (home / "lib" / path).write_text(text, encoding="utf-8")
        status, said = self.build("base") if build else (0, "")
        if status:
            raise RuntimeError(said)

    def build(self, out: str) -> tuple[int, str]:
        """One build by the copy: its status and what it said."""
        words = ["build", str(self.home / "lib"), "--to", str(self.home / out), "--quiet", "--jobs", "1", "--today", "2026-11-25", f"--cache={self.home / out}/.cache"]
        environment = {**os.environ, "PYTHONPATH": str(self.home / "program"), "PYTHONPYCACHEPREFIX": str(self.home / "bytecode")}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        done = subprocess.run([sys.executable, "-m", "handouts", *words], cwd=self.home, env=environment, capture_output=True, text=True, check=False)
        return done.returncode, done.stdout + done.stderr

    def source_of(self, module: str) -> str:
        """The source of a module as it is."""
        return (self.home / "program/handouts" / module).read_text(encoding="utf-8")

    def _write(self, module: str, source: str) -> None:
        """Another source; by its time, a number that only this one has, Python sees that what was compiled is of another."""
        self._written += 1
        path = self.home / "program/handouts" / module
        path.write_text(source, encoding="utf-8")
        os.utime(path, (self._written, self._written))

    def try_edits(self, *edits: Edit) -> tuple[str, list[str]]:
        """What followed from edits of different modules (nothing, another site, no build), and what was stale or made in vain."""
        sources = {edit.module: self.source_of(edit.module) for edit in edits}
        for edit in edits:
            self._write(edit.module, edit.source)
        try:
            shutil.copytree(self.home / "base", self.home / "over")
            (fresh, _), (over, said) = self.build("clean"), self.build("over")
            if fresh or over:
                return "no build", [f"from nothing it ends with {fresh}, over the old output with {over}: {said[-500:]}"] if fresh != over else []
            sites = {name: read_manifest(self.home / name / "site") or {} for name in ("base", "clean", "over")}
            stale = sorted(path for path in {*sites["clean"], *sites["over"]} if sites["clean"].get(path) != sites["over"].get(path))
            return "the same site" if sites["base"] == sites["clean"] else "another site", [*stale, *self._tasks_astray(*edits)]
        finally:
            for module, source in sources.items():
                self._write(module, source)
            for name in ("clean", "over"):
                shutil.rmtree(self.home / name, ignore_errors=True)


    def _tasks_astray(self, *edits: Edit) -> Iterator[str]:
        """Tasks whose kept results the edits should have made void and did not, or the other way round."""
        code, changed = Code(self.home / "program/handouts"), {name_of(edit.module) for edit in edits}
        before, after = (
            {batch.task: batch.code for batch in read_batches(self.home / name / ".cache/results/journal") if batch.age == 0} for name in ("base", "over")
        )
        for task in before.keys() & after.keys():
            follows = bool(changed & code.closure(task.partition(":")[0])[0])
            if follows != (before[task] != after[task]):
                yield f"{task} {'was not' if follows else 'was'} made anew"
        self.tasks += len(before.keys() & after.keys())


def name_of(module: str) -> str:
    """The name of a module by its path in the package."""
    return ".".join(("handouts", *Path(module).with_suffix("").parts)).removesuffix(".__init__")


def modules(every: int) -> list[str]:
    """One module of the package in so many, by its path; those that only start a command are left out."""
    found = (path.relative_to(ROOT / "handouts").as_posix() for path in sorted((ROOT / "handouts").rglob("*.py")) if "_templates" not in path.parts)
    return [path for path in found if not path.endswith("__main__.py")][::every]


def try_modules(program: Program, paths: list[str], random: Random, tries: int = 2) -> tuple[Counter[str], list[str]]:
    """How many modules what followed from, and what was wrong; of each module so many constants are tried, until another site follows."""
    tally, wrong = Counter[str](), list[str]()
    for path in paths:
        source, followed = program.source_of(path), "no constant"
        for _, edit in zip(range(tries), edits_of(path, source, random), strict=False):
            followed, stale = program.try_edits(edit)
            wrong += [f"{edit.what}: {item}" for item in stale]
            if followed == "another site":
                break
        tally[followed] += 1
        print(f"{path}: {followed}{f', {len(wrong)} wrong' if wrong else ''}", flush=True)
    return tally, wrong


def main() -> int:
    """Counts and prints."""
    every, seed, tries = (int(word) for word in (*sys.argv[1:], *("1", "1", "2")[len(sys.argv) - 1 :]))
    with tempfile.TemporaryDirectory(dir=memory()) as folder:
        program = Program(Path(folder))
        tally, wrong = try_modules(program, modules(every), Random(seed), tries)
    print(f"{sum(tally.values())} modules: {', '.join(f'{count} {what}' for what, count in tally.most_common())}; {program.tasks} times a task was looked at")
    print("\n".join(wrong) or "no file was stale, no task made in vain or kept in vain")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
