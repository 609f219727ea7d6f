"""Bundles and minifies the page scripts: ``python -m tests.make_scripts`` after each change below ``templates/scripts/src``.

The bundler is esbuild, locked in ``tests/node``.  What it makes stands in ``templates/scripts/made`` and is published with the
package, so a build of a site needs no Node.  ``tests/scripts/test_scripts.py`` makes the scripts again and compares the bytes.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).parents[1]
NODE_MODULES = ROOT / "tests/node/node_modules"
SOURCES = ROOT / "templates/scripts/src"
MADE = ROOT / "templates/scripts/made"
ENTRIES = {
    "class_timer": "class_timer.js",
    "exercise": "exercise.js",
    "exercises": "exercises.js",
    "function_test": "function_test.js",
    "home": "home.js",
    "pose": "pose/main.js",
    "not_found": "not_found.js",
    "page_state": "page_state.js",
    "bundle": "bundle/main.js",
    "sheets": "bundle/sheets.js",
    "phone": "phone/main.js",
    "phone-more": "phone/more.js",
    "phone-show": "phone/show.js",
}
"""By the name of a made script the module that it runs, with everything that this imports."""
FOR_PAGES = ("--minify", "--format=iife", "--target=es2022")
"""Classic scripts, since browsers refuse modules from ``file://``."""
STRICT = '--tsconfig-raw={"compilerOptions": {"alwaysStrict": true}}'
"""Keeps "use strict" of modules in classic scripts; the bundler reads no ``jsconfig.json``, which is for the types alone."""


def run_bundler(entries: Mapping[str, Path], folder: Path, *options: str) -> None:
    """Writes the script of every entry into a folder, by name, and beside them ``meta.json``: what each is made of.

    ``ValueError`` with the bundler's words where a module cannot be bundled.
    """
    bundler = NODE_MODULES / ".bin/esbuild"
    if not bundler.exists():
        raise SystemExit("the bundler is missing: run 'npm ci --prefix tests/node'")
    named = [f"{name}={path}" for name, path in entries.items()]
    kept = ("--bundle", STRICT, "--legal-comments=inline", "--log-level=warning", f"--outdir={folder}", f"--metafile={folder / 'meta.json'}")
    environment = {**os.environ, "NODE_PATH": str(NODE_MODULES)}
    done = subprocess.run([bundler, *named, *kept, *options], cwd=ROOT, env=environment, check=False, capture_output=True, text=True)
    if done.returncode or done.stderr:
        raise ValueError(done.stderr.partition("\nnode:")[0])  # without where its starter stopped


def make_scripts(folder: Path) -> None:
    """Writes the scripts of the pages into a folder."""
    run_bundler({name: SOURCES / path for name, path in ENTRIES.items()}, folder, *FOR_PAGES)


if __name__ == "__main__":
    with TemporaryDirectory() as made:
        make_scripts(Path(made))
        shutil.rmtree(MADE, ignore_errors=True)
        MADE.mkdir()
        for name in ENTRIES:
            shutil.copy(Path(made) / f"{name}.js", MADE)
