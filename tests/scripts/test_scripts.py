"""The page scripts: their types, and that the bundled ones are made of what stands in the checkout."""

from __future__ import annotations

import gzip
import json
import re
import subprocess
from pathlib import Path

import pytest

from tests.make_scripts import ENTRIES, FOR_PAGES, MADE, NODE_MODULES, ROOT, SOURCES, make_scripts, run_bundler
from tests.scripts.node import HERE, run_tests


def test_types_of_the_scripts() -> None:
    """The TypeScript compiler finds no fault in the JSDoc types, strict; run 'npm ci' in tests/node first."""
    compiler = NODE_MODULES / ".bin/tsc"
    assert compiler.exists(), "the compiler is missing: run 'npm ci' in tests/node"
    done = subprocess.run([compiler, "-p", ROOT / "templates/scripts/jsconfig.json"], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (0, "")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The scripts, made again from the sources of the checkout."""
    folder = tmp_path_factory.mktemp("scripts")
    make_scripts(folder)
    return folder


def test_bundled_scripts_are_fresh(made: Path) -> None:
    """Byte for byte what the bundler makes of the sources; after a change run 'python -m tests.make_scripts'."""
    again = {path.name: path.read_bytes() for path in made.iterdir() if path.suffix == ".js"}
    kept = {path.name: path.read_bytes() for path in MADE.iterdir()}
    assert sorted(kept) == sorted(again) == sorted(f"{name}.js" for name in ENTRIES)
    assert [name for name in kept if kept[name] != again[name]] == []


@pytest.mark.parametrize("name", ENTRIES)
def test_bundled_scripts_are_classic(name: str) -> None:
    """Strict, in a function of their own, without a source map: a page loads them from file:// beside one another."""
    text = (MADE / f"{name}.js").read_text("utf-8")
    assert text.startswith('"use strict";(()=>{') and text.endswith("})();\n")
    assert "sourceMappingURL" not in text
    assert "</script" not in text.lower()


def test_every_module_is_in_a_script(made: Path) -> None:
    """No module is left that no page runs."""
    used = json.loads((made / "meta.json").read_text())["inputs"]
    assert {path.relative_to(ROOT).as_posix() for path in SOURCES.rglob("*.js")} <= set(used)


def test_twins_that_scripts_name_exist() -> None:
    """Each module of the program that a comment of a script names is there."""
    named = {name for path in SOURCES.rglob("*.js") for name in re.findall(r"\bhandouts/[\w/]+\.\w+", path.read_text("utf-8"))}
    assert len(named) > 10 and {name for name in named if not (ROOT / name).is_file()} == set()


def test_patients_page_keeps_to_its_budget() -> None:
    """What runs before the list is shown takes at most 12,300 bytes over the wire (gzip 9); 560 of them are doses by occasion, in rounds and by landings."""
    assert len(gzip.compress((MADE / "phone.js").read_bytes(), 9)) <= 12_300


def test_a_wrong_import_is_refused(tmp_path: Path) -> None:
    """A name that a module does not export, or a module that is not there, makes no script."""
    (tmp_path / "one.js").write_text("export const one = 1;\n")
    for line, said in (('import { two } from "./one.js";', 'one.js" for import "two"'), ('import { one } from "./none.js";', 'Could not resolve "./none.js"')):
        (tmp_path / "entry.js").write_text(f"{line}\nconsole.log(typeof two, typeof one);\n")
        with pytest.raises(ValueError, match=re.escape(said)):
            run_bundler({"entry": tmp_path / "entry.js"}, tmp_path / "out", *FOR_PAGES)
        assert not (tmp_path / "out").exists()


def test_modules_in_node(tmp_path: Path) -> None:
    """``node --test`` over every ``*.test.js`` beside this file."""
    done = run_tests(sorted(HERE.glob("*.test.js")), tmp_path)
    assert done.returncode == 0, done.stdout + done.stderr


def test_a_failing_test_in_node_fails(tmp_path: Path) -> None:
    """The test above can fail."""
    (tmp_path / "wrong.test.js").write_text('import { test } from "node:test";\ntest("wrong", () => { throw new Error("as it must"); });\n')
    done = run_tests([tmp_path / "wrong.test.js"], tmp_path / "made")
    assert done.returncode == 1 and "as it must" in done.stdout
