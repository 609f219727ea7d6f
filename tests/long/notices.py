"""Lays out every sheet of the demo and lists what a build would say of it: ``python tests/long/notices.py [PART OF A PATH]``.

Nothing is published.  Prints how many sheets take how many pages, by language, and each problem; ends with 1 where there is one: the demo
builds without a word.  All of it takes a quarter of an hour; ``with-en`` takes the sheets in two languages alone.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from datetime import date
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from handouts.build.pdfs import Sheets
from handouts.build.pipeline import make_site
from handouts.build.settings import Settings
from handouts.paper.plan import Documents
from handouts.problems import show_problem
from handouts.store.memo import using
from handouts.tasks.progress import Progress

ROOT = Path(__file__).parents[2]
TODAY = date(2026, 11, 25)


def main() -> int:
    """Every sheet, or those whose path has the part."""
    part = sys.argv[1] if len(sys.argv) > 1 else ""
    tally: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(ROOT / "content", Path(folder), TODAY, 2, progress=Progress())
        with settings.workers:
            made = make_site(settings)
            problems = list(made.problems)
            documents = Documents({path: make for path, make in made.documents.makers.items() if part in path})
            with using(None, settings.results) as memo:
                sheets = list(Sheets(documents, made.sheet_reads, memo, settings.workers.map).lay_out())
            for sheet in sheets:
                problems += sheet.problems
                tally[f"{sheet.path.partition('/')[0]}: {sheet.pages if sheet.pages < 5 else 'more'} pages"] += 1
    for what, number in sorted(tally.items()):
        print(f"{number:>5}  {what}")
    print(f"{len(problems):>5}  problems")
    for problem in problems:
        print(show_problem(problem))
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
