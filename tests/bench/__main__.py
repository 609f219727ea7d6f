"""How fast and how large: every ratio from one run, on libraries that are generated.

    ./run bench [PART...] [--quick] [--json] [--peers FOLDER] [--size N] [--languages N]

Parts: pages, pdf, rebuild, growth, figures, phone, search; all where none is named.  Times by the clock count what else the
machine does, so its load stands in the table; the processor's time counts that much less.  Changes nothing in the tree.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import statistics
import sys
import time
from collections.abc import Callable
from contextlib import redirect_stdout
from dataclasses import dataclass
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory

from handouts.build.loading import load
from handouts.build.pipeline import draw, make_site
from handouts.build.settings import Settings
from tests.bench import figures, phone
from tests.bench.library import DEMO, TODAY, make_library
from tests.bench.measure import Report, Run, run
from tests.bench.papers import measure_papers
from tests.bench.peers import PEERS, find_command, texts_of
from tests.bench.search import measure_search
from tests.site.making import write_site

GROWTH = {"quick": (4, 16), "full": (17, 170, 1_700)}
"""Exercises in six languages: 100, 1,000 and 10,000 pages of exercises."""


@dataclass(frozen=True, slots=True)
class Bench:
    """One run: where it works and how much it does."""

    folder: Path
    report: Report
    quick: bool
    size: int
    languages: int
    peers: tuple[Path, ...]

    def library(self, size: int) -> Path:
        """A generated library, written once."""
        folder = self.folder / f"library-{size}"
        if not folder.exists():
            write_site(make_library(size, self.languages), folder)
        return folder

    def settings(self, size: int, out: str, paper: bool = False) -> Settings:
        """What the pipeline is asked; figures come from where the builds keep them."""
        return Settings(self.library(size), self.folder / out, TODAY, os.cpu_count() or 1, paper=paper)

    def build(self, size: int, out: str, *more: str) -> Run:
        """A build by the command that users type."""
        words = [sys.executable, "-m", "handouts", "build", self.library(size), "--to", self.folder / out, "--quiet"]
        return run([*words, "--today", TODAY.isoformat(), *more])

    def draw(self, size: int, out: str) -> float:
        """Draws the figures, so that builds find them kept; gives the seconds."""
        settings = self.settings(size, out)
        loaded = load(settings)
        began = time.perf_counter()
        draw(loaded, settings)
        return time.perf_counter() - began


def measure_pages(bench: Bench) -> None:
    """A full build of the pages against the peers and the floor, each on the same texts."""
    bench.draw(bench.size, "pages")
    rates = {"ours": _page_rate(bench, "ours", bench.build(bench.size, "pages", "--no-paper"), bench.folder / "pages/site")}
    texts = texts_of(bench.settings(bench.size, "pages"))
    for name, write in PEERS.items():
        folder = bench.folder / name
        folder.mkdir()
        command = find_command(write(folder, texts), bench.peers)
        if command is None:
            bench.report.note(f"{name} is not installed")
            continue
        at = Path(__file__).parents[2] if name == "floor" else folder
        rates[name] = _page_rate(bench, name, run(command, at), folder / ("public" if not (folder / "out").exists() else "out"))
    for name, rate in rates.items():
        if name != "ours":
            bench.report.add("pages", f"ours by {name}, pages a second", rates["ours"] / rate, "times")


def _page_rate(bench: Bench, name: str, done: Run, folder: Path) -> float:
    pages = sum(1 for _ in folder.rglob("*.html"))
    bench.report.add("pages", f"{name}: {pages} pages, {done.processor:.1f} s of processor, {done.megabytes:.0f} MB", pages / done.seconds, "a second")
    return pages / done.seconds


def measure_pdf(bench: Bench) -> None:
    """Sheets of exercises, standard and large, of each language, as they follow one another in a build."""
    size, most = (2, 8) if bench.quick else (12, 60)
    made = make_site(bench.settings(size, "papers", paper=True))
    sheets = sorted((each for each in made.documents if "/exercises/" in each.path), key=lambda each: each.path)
    languages = dict.fromkeys(each.path.partition("/")[0] for each in sheets)
    chosen = [[each for each in sheets if each.path.startswith(f"{language}/")][: most // len(languages)] for language in languages]
    measure_papers(bench.report, [each for some in chosen for each in some], bench.folder / "print")


def measure_rebuild(bench: Bench) -> None:
    """A full build, one with nothing changed, and one after one word was changed."""
    more = ["--no-paper"] if bench.size > 100 or bench.quick else []
    bench.draw(bench.size, "again")
    bench.build(bench.size, "again", *more)
    nothing = bench.build(bench.size, "again", *more)
    path = sorted((bench.library(bench.size) / "exercises").iterdir())[0]
    path.write_text(re.sub(r"(?m)^why: (.+)$", r"why: Today. \1", path.read_text("utf-8"), count=1), "utf-8")
    word = bench.build(bench.size, "again", *more)
    kind = "pages only" if more else "pages and PDFs"
    for name, done in (("nothing changed (aim 0.5)", nothing), ("one text changed (aim 1)", word)):
        bench.report.add("rebuild", f"{name}, {bench.size} exercises, {kind}, {done.processor:.1f} s of processor", done.seconds, "s")


def measure_growth(bench: Bench) -> None:
    """Full builds of pages from small to large: seconds a page, and peak memory."""
    found: list[tuple[int, Run]] = []
    for size in GROWTH["quick" if bench.quick else "full"]:
        out = f"grown-{size}"
        bench.draw(size, out)
        done = bench.build(size, out, "--no-paper")
        pages = sum(1 for _ in (bench.folder / out / "site").rglob("*.html"))
        found.append((pages, done))
        bench.report.add("growth", f"{pages} pages, {done.megabytes:.0f} MB at most", 1000 * done.processor / pages, "ms a page")
    (first, small), (last, large) = found[-2], found[-1]
    bench.report.add("growth", f"memory at {last} pages by that at {first} (aim 1.3)", large.megabytes / small.megabytes, "times")


def measure_figures(bench: Bench) -> None:
    """Figures solved and drawn anew, drawn from the shelf, and their bytes."""
    files = sorted((DEMO / "exercises").glob("*.md"))[:: 11 if bench.quick else 1]
    rows = [row for file in files for row in figures.measure(file.read_text("utf-8"), str(file))]
    bench.report.add("figures", f"cold, median of {len(rows)}, processor time", statistics.median(row[1] for row in rows), "ms")
    size = 4 if bench.quick else 44
    bench.draw(size, "figures")
    bench.report.add("figures", "kept", 1000 * bench.draw(size, "figures") / min(size, 44), "ms")
    for column, name in ((2, "bytes"), (3, "bytes in gzip"), (4, "bytes in gzip with the motion")):
        bench.report.add("figures", f"{name}, median", statistics.median(row[column] for row in rows), "bytes")


def measure_phone(bench: Bench) -> None:
    """A first view on a slow phone: ``tests.bench.phone`` on a small library."""
    size = 4 if bench.quick else 44
    bench.draw(size, "phone")
    bench.build(size, "phone", "--no-paper")
    said = StringIO()
    with redirect_stdout(said):
        phone.main(bench.folder / "phone/site", bench.library(size))
    for line in said.getvalue().splitlines():
        bench.report.note(line)


def measure_search_wait(bench: Bench) -> None:
    """From a key to its first result, on the list of a large library in one language."""
    size = 44 if bench.quick else 5_000
    alone = Bench(bench.folder / "alone", bench.report, bench.quick, size, 1, ())
    alone.draw(size, "search")
    alone.build(size, "search", "--no-paper")
    measure_search(bench.report, alone.folder / "search/site", "en", size)


PARTS: dict[str, Callable[[Bench], None]] = {
    "pages": measure_pages, "pdf": measure_pdf, "rebuild": measure_rebuild,
    "growth": measure_growth, "figures": measure_figures, "phone": measure_phone,
    "search": measure_search_wait,
}  # fmt: skip


def main() -> None:
    """Measures the parts that are named."""
    parser = argparse.ArgumentParser(prog="run bench", description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("parts", nargs="*", metavar="PART", help=", ".join(PARTS))
    parser.add_argument("--quick", action="store_true", help="small libraries: under a minute on two free processors")
    parser.add_argument("--json", action="store_true", help="the table as JSON in the end")
    parser.add_argument("--peers", type=Path, action="append", default=[], metavar="FOLDER", help="folder of programs to measure against (bin of a venv)")
    parser.add_argument("--size", type=int, help="exercises of the library for pages and rebuild (default 1000, quick 6)")
    parser.add_argument("--languages", type=int, choices=range(1, 7), help="default 6, quick 2")
    given = parser.parse_args()
    if unknown := set(given.parts) - set(PARTS):
        parser.error(f"no part is called {', '.join(sorted(unknown))}")
    report = Report()
    with TemporaryDirectory(prefix="handouts-bench-") as folder:
        languages = given.languages or (2 if given.quick else 6)
        size = given.size or (6 if given.quick else 1_000)
        bench = Bench(Path(folder), report, given.quick, size, languages, tuple(given.peers))
        for name in given.parts or PARTS:
            report.add(name, f"load of the machine, {os.cpu_count()} processors", os.getloadavg()[0], "")
            PARTS[name](bench)
    if given.json:
        print(json.dumps({"rows": [dict(zip(("part", "what", "value", "unit"), row, strict=True)) for row in report.rows], "notes": report.notes}))


if __name__ == "__main__":
    main()
