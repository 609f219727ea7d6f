"""A whole build with sheets under an audit hook: no socket, no other program, nothing written outside its folder."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.small_library import TEXTS

pytestmark = pytest.mark.paper

ROOT = Path(__file__).parents[1]
PROGRAM = """
import json, sys
seen = []
def watch(event, args, seen=seen, repr=repr, isinstance=isinstance, int=int):
    if event.startswith(("socket.", "subprocess.", "os.system", "os.exec", "os.posix_spawn", "os.fork", "ftplib.", "http.", "smtplib.", "urllib.", "webbrowser.")):
        seen.append([event, repr(args)[:200]])
    elif event == "open" and isinstance(args[2], int) and args[2] & 3:
        seen.append(["write", repr(args[0])])
sys.addaudithook(watch)
import socket
if "--probe" in sys.argv:
    socket.socket().close()
    sys.argv.remove("--probe")
from handouts.cli import main
status = main(sys.argv[1:])
print()
print(json.dumps([status, seen]))
"""


LINKERS = re.compile(r"\('(?:/\w+)*/?(?:ldconfig|gcc|cc|ld|objdump|sh)'")
"""What ctypes asks where Pango is (``ctypes.util.find_library``)."""


def run(folder: Path, *words: str) -> tuple[int, list[tuple[str, str]]]:
    """Status of a command, and what it did to the world."""
    (folder / "passing").mkdir()
    env = {"PYTHONPATH": str(ROOT), "PATH": "/usr/bin:/bin:/sbin:/usr/sbin", "TMPDIR": str(folder / "passing"), "PYTHONDONTWRITEBYTECODE": "1"}
    env["XDG_CACHE_HOME"] = str(folder / "kept")
    if sys.pycache_prefix:  # what was compiled is read from there
        env["PYTHONPYCACHEPREFIX"] = sys.pycache_prefix
    done = subprocess.run([sys.executable, "-c", PROGRAM, *words], cwd=folder, env=env, capture_output=True, text=True, check=True)
    status, seen = json.loads(done.stdout.rstrip("\n").rpartition("\n")[2])
    return status, [(event, told) for event, told in seen]


def test_a_build_keeps_to_itself(tmp_path: Path) -> None:
    """PDFs are made, and no socket is; only the linker is run; each file is written below the output folder or the cache."""
    texts = {**TEXTS, "clinic.yaml": TEXTS["clinic.yaml"].replace("papers: [letter, a4]", "papers: [a4]").replace("[standard, large]", "[standard]")}
    for path, text in texts.items():
        (tmp_path / "lib" / path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "lib" / path).write_text(text, encoding="utf-8")
    status, seen = run(tmp_path, "build", "lib", "--to", "out", "--jobs", "1", "--quiet", "--today", "2026-11-25")
    assert status == 0
    assert len(list((tmp_path / "out/site").rglob("*.pdf"))) >= 4
    assert [event for event, told in seen if event != "write" and not LINKERS.match(told)] == []
    written = [told.strip("'\"b") for event, told in seen if event == "write"]
    assert len(written) > 10
    # the system's folder for passing things is used for the linker, and left empty
    homes = (tmp_path / "out", tmp_path / "kept", tmp_path / "passing", Path("/dev/null"))
    assert [path for path in written if not any((tmp_path / path).resolve().is_relative_to(home) for home in homes)] == []
    assert list((tmp_path / "passing").iterdir()) == []


def test_the_hook_sees_a_socket(tmp_path: Path) -> None:
    """The watch would have noticed one."""
    _, seen = run(tmp_path, "--probe", "check", "nowhere")
    assert "socket.__new__" in [event for event, _ in seen]
