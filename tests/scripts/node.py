"""Modules of the page scripts in Node, as the bundler makes them: what they answer, and their own tests."""

from __future__ import annotations

import atexit
import json
import shutil
import subprocess
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

from tests.make_scripts import run_bundler

HERE = Path(__file__).parent
FOR_NODE = ("--platform=node", "--format=esm", "--out-extension:.js=.mjs")


def node() -> str:
    """The program."""
    found = shutil.which("node")
    assert found, "node is needed for the checks of the scripts"
    return found


@cache
def _answers() -> Path:
    """``answers.js`` with all that it imports; its folder goes with the process, without a warning where that is seen in the midst of a test."""
    folder = Path(mkdtemp())
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    run_bundler({"answers": HERE / "answers.js"}, folder, *FOR_NODE)
    return folder / "answers.mjs"


def ask_script(name: str, given: object) -> Any:
    """What a function of ``answers.js`` answers to ``given``; both go as JSON."""
    done = subprocess.run([node(), _answers(), name], input=json.dumps(given), capture_output=True, text=True, check=True, timeout=600)
    return json.loads(done.stdout)


def run_tests(files: list[Path], folder: Path) -> subprocess.CompletedProcess[str]:
    """``node --test`` over files, bundled into a folder."""
    run_bundler({path.stem: path for path in files}, folder, *FOR_NODE)
    made = [folder / f"{path.stem}.mjs" for path in files]
    return subprocess.run([node(), "--test", *made], capture_output=True, text=True, check=False, timeout=600)
