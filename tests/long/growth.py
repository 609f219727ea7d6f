"""Changes a word of the small library many times, with sheets: ``python tests/long/growth.py [CHANGES]``, 50 by default.

After each change the library is built over the same output.  What is kept and published, a file with several names counted once, must
stay below twice what two builds need; ends with 1 where it does not.
"""

from __future__ import annotations

import contextlib
import io
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.cli import main as handouts
from tests.faults.publishing import memory
from tests.long.program_edits import CLINIC
from tests.small_library import TEXTS
from tests.test_caches import size
from tests.test_cli import write

PLACE = "exercises/foot-lift.md"


def sizes_of(folder: Path, changes: int) -> list[int]:
    """Bytes on the disk after each build."""
    found = []
    write(folder / "lib", {**TEXTS, "clinic.yaml": CLINIC})
    for number in range(changes):
        (folder / "lib" / PLACE).write_text(TEXTS[PLACE].replace("Sit tall.", f"Sit tall, {number} times."), encoding="utf-8")
        words = ["build", str(folder / "lib"), f"--to={folder / 'out'}", f"--cache={folder / 'cache'}", "--jobs=1", "--quiet", "--today=2026-11-25"]
        with contextlib.redirect_stdout(io.StringIO()):
            if handouts(words):
                raise RuntimeError("the library was not built")
        found.append(size(folder / "out", folder / "cache"))
        print(f"{number + 1:>3} builds: {found[-1] / 1e6:.2f} MB", flush=True)
    return found


def main() -> int:
    """Counts and prints."""
    with tempfile.TemporaryDirectory(dir=memory()) as folder:
        found = sizes_of(Path(folder), int(sys.argv[1]) if len(sys.argv) > 1 else 50)
    print(f"{len(found)} builds: at most {max(found) / found[1]:.2f} times what two builds need")
    return 1 if max(found) >= 2 * found[1] else 0


if __name__ == "__main__":
    sys.exit(main())
