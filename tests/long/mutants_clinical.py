"""Changes every clinical number, one at a time: ``python tests/long/mutants_clinical.py [FILE …]``; lists what no test noticed.

Numbers of movement limits, cautions (and whom they call), joint ranges, tables of the body, formulas and bands of readability,
contrast, what a dose adds up to and what the score is held to: each made bigger and smaller in a copy of the project, and the
tests that should notice are run, each change in a process of its own.  Nothing in the project itself is touched.
FILE keeps the targets whose name holds it.  Ends with 1 where a change was not noticed and is not explained in EXPLAINED.
"""

from __future__ import annotations

import ast
import contextlib
import importlib
import io
import os
import pickle
import re
import resource
import shutil
import sys
import tempfile
import time
import tokenize
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
COPIED = ("handouts", "tests", "content", "templates", "pyproject.toml", "README.md", "DEVELOPERS.md", "CHANGELOG.md", "run")
MOST_SECONDS, MOST_WAIT = 120, 3600
"""After so much processor time a run counts as noticed: the change made a test endless; after so long by the clock, that it waits for ever."""


@dataclass(frozen=True)
class Target:
    """A file, the names in it whose numbers are changed (all, where none is named), and the tests that should notice."""

    file: str
    tests: tuple[str, ...]
    names: tuple[str, ...] = ()


@dataclass(frozen=True)
class Mutant:
    """One change: the line as it was, what stands there instead, and the whole text."""

    line: int
    was: str
    old: str
    new: str
    text: str


RECORD, FIND, CAUTIONS = "tests/limits/test_record.py", "tests/limits/test_find.py", "tests/test_red_flags.py"
TARGETS = (
    Target("content/limits.yaml", tuple(f"{RECORD}::{name}" for name in ("test_numbers_of_the_limits", "test_numbers_that_a_limit_says", "test_numbers_in_the_name_of_a_phase"))),
    Target("content/cautions.yaml", (CAUTIONS,)),
    Target("handouts/figure/body/joints.py", ("tests/figure/test_checks.py::test_every_range_is_a_published_one", "tests/figure/test_checks.py::test_range_edges"), ("AXES",)),
    Target("handouts/figure/pose/joint_limits.py", ("tests/figure/test_shows.py::test_an_ankle_with_weight_on_it",), ("BEARING_ANKLE",)),
    Target(
        "handouts/figure/body/body.py", ("tests/figure/test_body.py",),
        ("THIGH", "TRUNK", "UPPER_ARM", "HIP_HALF_WIDTH", "SHOULDER_HALF_WIDTH", "DEFAULT_STATURE", "SEGMENT_MASSES", "_FLEX_SHARE", "_TURN_SHARE", "_TOES_WITH_SOLE", "mass_points"),
    ),
    Target("handouts/readability/formulas.py", ("tests/reading/test_formulas.py",)),
    Target("handouts/readability/bands.py", ("tests/reading/test_bands.py",)),
    Target("handouts/readability/counting.py", ("tests/reading/test_english.py", "tests/reading/test_formulas.py", "tests/reading/test_outside.py", "tests/reading/test_level.py"), ("POLYSYLLABLE", "LONG_WORD")),
    Target("handouts/text/colour.py", ("tests/site/test_accent.py",)),
    Target("handouts/site/accent.py", ("tests/site/test_accent.py",), ("CONTRAST_IN_THE_DARK",)),
    Target("handouts/dose/arithmetic.py", ("tests/dose/test_arithmetic.py", "tests/dose/test_occasions.py")),
    Target("handouts/dose/impact.py", ("tests/dose/test_occasions.py",)),
    Target("handouts/dose/weight.py", ("tests/dose/test_weight.py",), ("HUNDREDTHS", "POUND_IN_TEN_BILLIONTHS", "TEN_BILLION")),
    Target("handouts/dose/session.py", ("tests/dose/test_session.py",), ("add_up_session", "_pauses", "_weekly_pauses")),
    Target("handouts/dose/phrase.py", ("tests/dose/test_phrase.py", "tests/dose/test_occasions.py"), ("MINUTE", "WEEK", "LONG_SECONDS", "KILOMETRE")),
    Target("handouts/limits/find.py", (FIND,), ("TOLERANCE_DEGREES", "SLIGHT_DEGREES")),
    Target("handouts/limits/demands.py", ("tests/limits/test_demands.py",), ("BALANCING_DEGREES", "RESTING_DEGREES", "ACROSS_DEGREES")),
    Target("handouts/score/items.py", ("tests/score/test_score.py",), ("PASS_PERCENT", "Total")),
    Target("handouts/score/judge.py", ("tests/score/test_score.py",), ("MOST_ITEMS", "MOST_PARAGRAPH_WORDS", "MOST_STEP_SENTENCES", "MOST_MESSAGE_SENTENCES", "MOST_WORDS_BEFORE", "MOST_HEAD_WORDS")),
)  # fmt: skip

OF_MASS = "where the mass sits within pelvis, head, foot or hand, set by eye: a step moves the centre of the body by 0.4 mm at most"
EXPLAINED: Mapping[tuple[str, str, str], str] = {
    ("handouts/text/colour.py", "c <= 0.04045", "0.042472"): "no colour of 8 bits lies between 10/255 = 0.0392 and 11/255 = 0.0431",
    ("handouts/readability/bands.py", "sign = 1.0 if", ""): "only the sign counts",
    ("handouts/dose/arithmetic.py", "seconds * (dose.days or 0)", "1"): "a week is added up only where its days are given",
    ("handouts/dose/arithmetic.py", "(dose.distance_metres or 0)", "1"): "a dose of this kind always has its distance",
    ("handouts/dose/session.py", "max((dose.days or 0", "1"): "without days no session of the week is counted in either way; the default is that of no exercise at all",
    ("handouts/dose/session.py", "max((dose.times for", "1"): "the default is that of no exercise at all",
    ("handouts/dose/session.py", "in range(1, days + 1)", "2"): "one day more than any exercise has adds no pause",
    ("handouts/dose/session.py", "in range(1, times + 1)", "2"): "one time more than any exercise has adds no pause",
    ("handouts/figure/body/body.py", "DEFAULT_STATURE", ""): "how tall the drawn person is, a choice; angles and fractions do not depend on it",
    ("handouts/figure/body/body.py", "HALF_WIDTH = ", ""): "half the distance of the drawn joints, set by eye, no source; no clinical angle depends on it",
    ("handouts/figure/body/body.py", "MassPoint(0.142", "0.0315"): OF_MASS,
    ("handouts/figure/body/body.py", "MassPoint(0.142", "0.0285"): OF_MASS,
    ("handouts/figure/body/body.py", 'MassPoint(SEGMENT_MASSES["head"]', ""): OF_MASS,
    ("handouts/figure/body/body.py", 'MassPoint(SEGMENT_MASSES["foot"]', ""): OF_MASS,
    ("handouts/figure/body/body.py", 'MassPoint(SEGMENT_MASSES["hand"]', ""): OF_MASS,
}  # fmt: skip
"""Of a file, a piece of the line and what stands there instead (any, where empty): why the change may go unnoticed."""

_KEYS = re.compile(r"^\s*(?:source:|#)")
_YAML_NUMBER = re.compile(r"(?<![\w.-])\d+(?:\.\d+)?(?![\w]|\.\d)")
_CALL = re.compile(r"(?<=\bcall: )(?:emergency|clinic|none)\b")


def steps(text: str) -> tuple[str, ...]:
    """A number bigger and smaller, by a step that matters: one for a small whole number, else a tenth, a twentieth of a part."""
    plain = text.replace("_", "")
    if "." in plain:
        decimals = max(len(plain.partition(".")[2]) + 1, 2)
        value = float(plain)
        by = abs(value) * 0.05 or 0.05
        return tuple(f"{value + sign * by:.{decimals}f}" for sign in (1, -1) if value or sign == 1)
    number = int(plain)
    by_whole = 1 if number <= 20 else max(1, number // 10)
    return tuple(str(number + sign * by_whole) for sign in (1, -1) if number + sign * by_whole >= 0)


def yaml_mutants(text: str) -> Iterator[Mutant]:
    """Every number of a list, but those of sources, which are citations; and every call made another."""
    lines = text.splitlines(keepends=True)
    folded = False
    for at, line in enumerate(lines):
        folded = bool(re.match(r"\s*source: *>", line)) or (folded and bool(re.match(r"\s{6,}\S", line)) and ":" not in line)
        bare = re.sub(r"(?<=source: )\".*?\"", lambda found: " " * len(found[0]), line)
        if _KEYS.match(line) or folded:
            continue
        for found in _YAML_NUMBER.finditer(bare):
            if re.search(r"slug: \S*$", bare[: found.start()]):
                continue
            for new in steps(found[0]):
                yield _changed(lines, at, found.start(), found.end(), new)
        for found in _CALL.finditer(bare):
            for new in {"emergency", "clinic", "none"} - {found[0]}:
                yield _changed(lines, at, found.start(), found.end(), new)


def python_mutants(text: str, names: tuple[str, ...]) -> Iterator[Mutant]:
    """Every number that stands under a name at the left edge of a module."""
    spans = []
    for node in ast.parse(text).body:
        targets = [node.target] if isinstance(node, ast.AnnAssign) else getattr(node, "targets", [])
        held = {each.id for target in targets for each in ast.walk(target) if isinstance(each, ast.Name)} | {getattr(node, "name", "")}
        if not names or held & set(names):
            spans.append((node.lineno, node.end_lineno or node.lineno))
    lines = text.splitlines(keepends=True)
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        (row, begin), (_, end) = token.start, token.end
        if token.type == tokenize.NUMBER and any(first <= row <= last for first, last in spans) and "x" not in token.string:
            for new in steps(token.string):
                yield _changed(lines, row - 1, begin, end, new)


def _changed(lines: list[str], at: int, begin: int, end: int, new: str) -> Mutant:
    line = lines[at]
    text = "".join((*lines[:at], line[:begin] + new + line[end:], *lines[at + 1 :]))
    return Mutant(at + 1, line.strip(), line[begin:end], new, text)


def run_tests(copy: Path, tests: tuple[str, ...], *, kept: bool = False, data: bool = False) -> int:
    """The status of the tests in a process of its own: 0 where nothing was noticed.

    ``kept`` leaves compiled modules for later and the names of what was loaded, of the program too where ``data`` is changed.
    """
    child = os.fork()
    if not child:
        silent = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silent, 1)
        os.dup2(silent, 2)
        sys.dont_write_bytecode = not kept
        resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))
        import pytest

        status = int(pytest.main(["-q", "-x", "-p", "no:cacheprovider", "-W", "ignore::pytest.PytestAssertRewriteWarning", *tests]))
        if kept:
            own = ("tests", "conftest", "__main__", *(() if data else ("handouts",)))
            names = [name for name in sys.modules if name.partition(".")[0] not in own and not name.startswith("_pytest.")]
            (copy / "loaded").write_text("\n".join(names), encoding="utf-8")
        os._exit(status)
    until = time.monotonic() + MOST_WAIT
    while time.monotonic() < until:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.01)
    os.kill(child, 9)
    os.waitpid(child, 0)
    return 1


def preload(copy: Path) -> None:
    """Import what the tests loaded and no change touches; never a test, which may read the library as it is imported."""
    for name in (copy / "loaded").read_text(encoding="utf-8").split("\n"):
        with contextlib.suppress(Exception):
            importlib.import_module(name)


def explain(target: Target, mutant: Mutant) -> str:
    """Why a change may go unnoticed; empty where nothing explains it."""
    return next(
        (why for (file, piece, new), why in EXPLAINED.items() if file == target.file and piece in mutant.was and new in ("", mutant.new)), ""
    )


def try_target(copy: Path, target: Target) -> tuple[int, list[Mutant], list[Mutant]]:
    """How many changes were made, those that were not noticed, and those of them that are explained."""
    path = copy / target.file
    text = path.read_text(encoding="utf-8")
    mutants = list(yaml_mutants(text) if path.suffix == ".yaml" else python_mutants(text, target.names))
    if run_tests(copy, target.tests, kept=True, data=path.suffix == ".yaml"):
        raise RuntimeError(f"{target.file}: its tests fail without any change")
    preload(copy)
    unnoticed = []
    for mutant in mutants:
        path.unlink()
        path.write_text(mutant.text, encoding="utf-8")
        for kept in (path.parent / "__pycache__").glob(f"{path.stem}.*"):
            kept.unlink()
        if not run_tests(copy, target.tests):
            unnoticed.append(mutant)
    path.unlink()
    path.write_text(text, encoding="utf-8")
    if len(unnoticed) == len(mutants):
        raise RuntimeError(f"{target.file}: no change was noticed at all, so the tests may not read it")
    return len(mutants), unnoticed, [each for each in unnoticed if explain(target, each)]


def in_a_process(copy: Path, target: Target) -> tuple[int, list[Mutant], list[Mutant]]:
    """The same in a process of its own, so that what one target loads is not there for the next."""
    told = copy / "told"
    child = os.fork()
    if not child:
        status = 1
        try:
            told.write_bytes(pickle.dumps(try_target(copy, target)))
            status = 0
        except Exception as error:
            print(error, file=sys.stderr)
        os._exit(status)
    if os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]):
        raise SystemExit(f"{target.file}: could not be tried")
    found: tuple[int, list[Mutant], list[Mutant]] = pickle.loads(told.read_bytes())
    return found


def main(words: list[str]) -> int:
    """Tries every target whose file holds one of the words."""
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # else tests write what they compile elsewhere, and a change within a second is not seen
    total = noticed = left = 0
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder).resolve()
        for name in COPIED:
            source = ROOT / name
            if source.is_dir():
                shutil.copytree(source, copy / name, ignore=shutil.ignore_patterns("node_modules", "__pycache__", "pictures"))
            else:
                shutil.copy(source, copy / name)
        os.chdir(copy)
        sys.path.insert(0, str(copy))
        for target in TARGETS:
            if words and not any(word in target.file for word in words):
                continue
            begun = time.monotonic()
            count, unnoticed, explained = in_a_process(copy, target)
            total, noticed, left = total + count, noticed + count - len(unnoticed), left + len(unnoticed) - len(explained)
            print(f"{target.file}: {count} changes, {count - len(unnoticed)} noticed, {len(explained)} explained, {time.monotonic() - begun:.0f} s", flush=True)
            for each in unnoticed:
                why = explain(target, each)
                print(f"  {'explained' if why else 'NOT NOTICED'}: line {each.line}, {each.old} -> {each.new}: {each.was[:110]}{f' ({why})' if why else ''}", flush=True)
        os.chdir(ROOT)
    print(f"{total} changes, {noticed} noticed by a test, {left} neither noticed nor explained")
    return 1 if left else 0


if __name__ == "__main__":
    sys.path[:] = [each for each in sys.path if Path(each or ".").resolve() not in (ROOT, ROOT / "tests/long")]
    sys.exit(main(sys.argv[1:]))
