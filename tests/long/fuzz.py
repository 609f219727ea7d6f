"""Coverage-guided fuzzing of one reader: ``python tests/long/fuzz.py TARGET [COUNT] [SEED]``, 100,000 cases by default.

Needs atheris (``pip install .[fuzz]``).  Targets, and what must hold for them: ``tests/fuzz/targets.py``.
Half of the cases are made by libFuzzer, half by ``tests/fuzz/mutate.py``; the corpus in ``tests/corpus`` is
where they begin and is not changed.  Ends with libFuzzer's status: not 0 where an assertion failed, an
exception escaped, or a case needed more than 2 s of processor time; the case is then kept in the folder
of the run.  A find becomes a test.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[2]))

import atheris

with atheris.instrument_imports(include=["handouts", "polib"]):
    from tests.fuzz.mutate import CORPUS, mutate
    from tests.fuzz.targets import TARGETS

MOST_SECONDS = 2.0
"""Most processor time that one case may take."""
MOST_BYTES = 4_096


class Run:
    """One target with its count of cases and its slowest case."""

    def __init__(self, name: str) -> None:
        self.target, self.cases, self.slowest = TARGETS[name], 0, 0.0

    def one(self, data: bytes) -> None:
        """One case."""
        start = time.process_time()
        self.target(data)
        spent = time.process_time() - start
        self.cases += 1
        if spent > self.slowest:
            self.slowest = spent
            print(f"slowest so far: case {self.cases:,}, {spent:.3f} s of processor time, {len(data):,} bytes", file=sys.stderr)
        assert spent <= MOST_SECONDS, f"{spent:.1f} s"


def breed(data: bytes, most: int, seed: int) -> bytes:
    """The next case of a case: libFuzzer's accidents or ours."""
    random = Random(seed)
    return atheris.Mutate(data, most) if random.random() < 0.5 else mutate(data, random)[:most]


def main() -> None:
    """Runs a target; libFuzzer ends the process."""
    name = sys.argv[1]
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 100_000
    seed = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    grown = Path(tempfile.mkdtemp(prefix=f"fuzz-{name}-"))
    (grown / "corpus").mkdir()
    print(f"cases that are kept: {grown}", file=sys.stderr)
    options = [f"-runs={count}", f"-seed={seed}", f"-max_len={MOST_BYTES}", "-timeout=120", "-rss_limit_mb=2048", "-print_final_stats=1", f"-artifact_prefix={grown}/"]
    atheris.Setup([sys.argv[0], *options, str(grown / "corpus"), str(CORPUS / name)], Run(name).one, custom_mutator=breed)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
