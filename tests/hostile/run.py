"""Builds each hostile library over a good site: ``python -m tests.hostile.run [--write] [NAME]``.

A case holds where the build ends with status 1, each problem is one line with a place and a mend, the first
that names the case's file says what ``messages.tsv`` says, the site is byte for byte what it was, and no
traceback is shown.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import re
import shutil
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from handouts.cli import main
from tests.hostile.cases import Case, all_cases
from tests.small_library import TEXTS

MESSAGES = Path(__file__).parent / "messages.tsv"
LINE = re.compile(r"(?P<place>.+?:\d+:\d+): (?P<grade>error|notice): (?P<what>.+?)\. (?P<mend>[A-ZÄÖÜ].+[.?!]) \[(?P<rule>[a-z0-9-]+)\]")
MOST_LINES = 10_000


class Ground:
    """A good library and the site that was built from it."""

    def __init__(self, root: Path) -> None:
        self.library, self.out = root / "lib", root / "out"
        for path, text in TEXTS.items():
            (self.library / path).parent.mkdir(parents=True, exist_ok=True)
            (self.library / path).write_text(text, encoding="utf-8")
        status, said = self.build()
        assert status == 0, said

    def build(self) -> tuple[int, str]:
        """Status of a build, and all that it printed."""
        said = io.StringIO()
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
            status = main(["build", str(self.library), "--to", str(self.out), "--no-paper", "--jobs", "1", "--quiet", "--today", "2026-11-25"])
        return status, said.getvalue()

    def digest(self) -> str:
        """Names and bytes of the published site as one hash."""
        digest = hashlib.sha256()
        for path in sorted(path for path in (self.out / "site").rglob("*") if path.is_file()):
            digest.update(f"{path.relative_to(self.out)}\0{path.stat().st_size}\0".encode())
            digest.update(path.read_bytes())
        return digest.hexdigest()

    def try_case(self, case: Case) -> str:
        """The first message that names the case's file; fails where the case does not hold."""
        target = self.library / case.path
        kept = target.read_bytes() if target.is_file() else None
        clinic = self.library / "clinic.yaml"
        try:
            _put(case, target)
            if case.clinic:
                clinic.write_text(case.clinic, encoding="utf-8")
            before = self.digest()
            status, said = self.build()
        finally:
            _take_away(target, self.library, kept)
            clinic.write_text(TEXTS["clinic.yaml"], encoding="utf-8")
        assert status == 1, f"status {status}: {said[:500]}"
        assert "Traceback" not in said and self.digest() == before, said[:300]
        lines = said.rstrip("\n").split("\n")
        assert lines[-1] == "Nothing was published; the last good site stays.", said[-300:]
        assert len(lines) < MOST_LINES
        problems = lines[:-2]
        assert problems and all(LINE.fullmatch(line) and line.isprintable() for line in problems), [line for line in problems if not LINE.fullmatch(line)][:1] or problems
        named = [line for line in problems if line.startswith(f"lib/{shown(case.path)}") and ": error: " in line]
        assert named, problems
        return named[0]


def shown(path: str) -> str:
    """A path as messages show it, up to where it is cut."""
    from handouts.problems import show_text

    return show_text(path)[:60].rstrip("/")


def _put(case: Case, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    if case.put:
        target.unlink(missing_ok=True)
        case.put(target)
    else:
        target.write_bytes(case.data)


def _take_away(target: Path, library: Path, kept: bytes | None) -> None:
    if target.is_symlink() or not target.is_dir():
        target.unlink(missing_ok=True)
    else:
        shutil.rmtree(target)
    if kept is not None:
        target.write_bytes(kept)
    folder = target.parent
    while folder not in (library, library.parent) and not any(folder.iterdir()):
        folder.rmdir()
        folder = folder.parent


def read_messages() -> dict[str, str]:
    """What is said of each case, by its name."""
    lines = MESSAGES.read_text(encoding="utf-8").splitlines()
    return {name: message for name, _, message in (line.partition("\t") for line in lines)}


def run(cases: Sequence[Case], wanted: dict[str, str] | None) -> tuple[dict[str, str], list[str]]:
    """What is said of each case, and the faults."""
    said, faults = dict[str, str](), list[str]()
    with tempfile.TemporaryDirectory(prefix="hostile-") as folder:
        ground = Ground(Path(folder))
        for case in cases:
            name = _key(case)
            try:
                said[name] = ground.try_case(case)
                if wanted is not None and wanted.get(name) != said[name]:
                    faults.append(f"{name}: said {said[name]!r}, not {wanted.get(name)!r}")
            except Exception as fault:
                faults.append(f"{name}: {type(fault).__name__}: {str(fault)[:600]}")
    return said, faults


def _key(case: Case) -> str:
    return case.name.encode("unicode_escape").decode()


def main_of_hostile(words: Sequence[str]) -> int:
    """All cases, or those whose name holds a word."""
    writes = "--write" in words
    names = [word for word in words if word != "--write"]
    cases = [case for case in all_cases() if not names or any(word in case.name for word in names)]
    said, faults = run(cases, None if writes else read_messages())
    if writes and not names:
        MESSAGES.write_text("".join(f"{name}\t{message}\n" for name, message in said.items()), encoding="utf-8")
    print("\n".join(faults))
    print(f"{len(cases)} hostile libraries, {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main_of_hostile(sys.argv[1:]))
