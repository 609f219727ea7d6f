"""A year of running it, from a wheel, outside the checkout, as an ordinary user: every step with its seconds.

    python tests/long/year.py [FOLDER]

Builds the wheel, installs it with what pip gives today into an environment of its own, gives up root's rights where it has them, and walks through
start, build, approval, a version that nobody wrote down, a withdrawal, the nights on which reviews lapse, two authors in git, a translation
office, a leaflet, faulty libraries as JSON, the papers, a clinic on a base, languages of its own with a font, a workbook with leaflets, and editors.  Ends with 1 where a step does not give what it should.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from tempfile import mkdtemp

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from tests.intake.clinic_files import leaflets, workbook  # noqa: E402 - the script stands outside the package
from tests.intake.test_clinic import MOST_MINUTES, Person, run_answered  # noqa: E402
from tests.paper.test_own_fonts import LICENCE, make_font  # noqa: E402
from tests.paper.test_own_fonts import fill as fill_hebrew  # noqa: E402
from tests.words.pseudo_german import fill  # noqa: E402

NOBODY = 65534
"""Number of the user who owns nothing."""
TODAY, LATER = "2026-11-25", "2026-11-28"


class Year:
    """The folder, the program, and what was seen."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.program = folder, folder / "env/bin/handouts"
        self.failed: list[str] = []

    def run(self, *words: str, status: int | None = 0, cwd: Path | None = None) -> str:
        """A command as the ordinary user; what it said on both streams."""
        drop = {"user": NOBODY, "group": NOBODY, "extra_groups": []} if os.geteuid() == 0 else {}
        environment = {"PATH": f"{self.folder}/env/bin:/usr/bin:/bin", "HOME": str(self.folder / "home"), "LC_ALL": "C.UTF-8", "GIT_CONFIG_NOSYSTEM": "1"}
        done = subprocess.run(words, cwd=cwd or self.folder, env=environment, capture_output=True, text=True, check=False, **drop)  # type: ignore[call-overload]
        said = str(done.stdout + done.stderr)
        assert status is None or done.returncode == status, f"{' '.join(words)}: {done.returncode}\n{said}"
        return said

    def handouts(self, *words: str, status: int | None = 0) -> str:
        """A command of the program."""
        return self.run(str(self.program), *words, status=status)

    def build(self, library: str, *words: str, out: str = "", status: int | None = 0, today: str = TODAY) -> str:
        """A build without sheets."""
        return self.handouts("build", library, "--to", out or f"{library}-out", "--no-paper", "--quiet", "--today", today, *words, status=status)

    def update(self, library: str, *words: str, today: str = TODAY, status: int | None = 0) -> str:
        """``ledger update``."""
        return self.handouts("ledger", "update", library, "--to", f"{library}-out", "--today", today, *words, status=status)

    def edit(self, path: str, *edits: tuple[str, str]) -> None:
        """Changes one place each in a file."""
        file = self.folder / path
        text = file.read_text()
        for old, new in edits:
            assert text.count(old) == 1, (path, old, text.count(old))
            text = text.replace(old, new)
        file.write_text(text)

    def put(self, path: str, data: bytes | str) -> None:
        """A new file of the ordinary user."""
        file = self.folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(data.encode() if isinstance(data, str) else data)
        if os.geteuid() == 0:
            for each in (file, file.parent):
                os.chown(each, NOBODY, NOBODY)

    def answered(self, person: Person, *words: str) -> str:
        """A command of the program as the ordinary user, its questions answered as a person would; ends with 0."""
        drop = {"user": NOBODY, "group": NOBODY, "extra_groups": []} if os.geteuid() == 0 else {}
        environment = {"PATH": "/usr/bin:/bin", "HOME": str(self.folder / "home"), "LC_ALL": "C.UTF-8", "PYTHONUNBUFFERED": "1"}
        status, said = run_answered([str(self.program), *words], self.folder, environment, person, **drop)
        assert status == 0, said
        return said

    def copy(self, source: str, target: str) -> str:
        """A folder once more, owned by the ordinary user."""
        self.run("cp", "-r", source, target)
        return target

    def step(self, name: str, walk: Callable[[], None]) -> None:
        """One step, its seconds, and whether it gave what it should."""
        began = time.perf_counter()
        said = "as it should"
        try:
            walk()
        except (AssertionError, KeyError, StopIteration) as fault:
            said = f"NOT AS IT SHOULD: {str(fault)[:600]}"
            self.failed.append(name)
        print(f"{time.perf_counter() - began:7.1f} s  {name}: {said}", flush=True)


def has(said: str, *wanted: str) -> None:
    """Each of some words is there."""
    for each in wanted:
        assert each in said, f"{each!r} is not in {said!r}"


def text_of(page: Path) -> str:
    """The words of a page."""
    return " ".join(re.sub(r"<[^>]+>", " ", page.read_text()).split())


def install(year: Year) -> None:
    """The wheel with what the registry has today."""
    subprocess.run([sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", str(year.folder / "dist")], cwd=ROOT, check=True, capture_output=True)
    (wheel,) = (year.folder / "dist").glob("*.whl")
    python = find_python()
    packages, program = year.folder / "env/packages", year.program
    program.parent.mkdir(parents=True)
    subprocess.run([sys.executable, "-m", "pip", "install", "--quiet", "--target", str(packages), str(wheel)], check=True, capture_output=True, cwd=year.folder)
    program.write_text(f'#!/bin/sh\nPYTHONPATH={packages} exec {python} -P -m handouts "$@"\n')
    program.chmod(0o755)
    has(year.handouts("--version"), "handouts ")


def find_python() -> str:
    """A Python of this release that the ordinary user may run."""
    for each in (sys.executable, f"/usr/bin/python3.{sys.version_info.minor}", f"/usr/local/bin/python3.{sys.version_info.minor}"):
        with suppress(OSError):
            drop = {"user": NOBODY, "group": NOBODY, "extra_groups": []} if os.geteuid() == 0 else {}
            if subprocess.run([each, "-c", "import ctypes, sqlite3"], check=False, capture_output=True, **drop).returncode == 0:  # type: ignore[call-overload]
                return each
    raise SystemExit("an ordinary user may run none of the Pythons of this machine")


def first_site(year: Year) -> None:
    """Start, build, write down."""
    year.handouts("start", "ours")
    year.build("ours")
    has(year.update("ours"), "Sit to stand: new, version")
    has(year.handouts("changes", "ours", "--today", TODAY), "Nothing changes for readers since 2026-11-25.")


def sign(year: Year) -> None:
    """What changes, by whom it is approved, and no build before that."""
    year.edit("ours/exercises/sit-to-stand.md", ("reps: 10, tempo", "reps: 8, tempo"))
    has(year.handouts("changes", "ours"), "- 3 sets of 10;", "+ 3 sets of 8;", "printed sheets that are touched: Sit to stand (sheet); Stand up with ease (booklet)")
    year.edit("ours/clinic.yaml", ("pain rule:", "approval: required\npain rule:"))
    has(year.build("ours", status=1), "[not-approved]")
    has(year.update("ours", "--approved-by", "Dr. Anna Beispiel", status=2), "reads like the name of a person")
    year.update("ours", "--approved-by", "clinical lead")
    year.build("ours")
    has(text_of(year.folder / "ours-out/site/en/exercises/sit-to-stand/index.html"), "Approved for use on November 25, 2026 by our clinical lead.")
    year.edit("ours/clinic.yaml", ("approval: required\n", ""))


def forgotten(year: Year) -> None:
    """Two builds in a row, the first of them never written down."""
    year.edit("ours/exercises/sit-to-stand.md", ("reps: 8, tempo", "reps: 9, tempo"))
    year.build("ours", today="2026-11-26")
    year.edit("ours/exercises/sit-to-stand.md", ("reps: 9, tempo", "reps: 12, tempo"))
    has(year.build("ours", today="2026-11-27"), "[version-not-in-ledger]", "(2026-11-26)")
    year.update("ours", "--built", today="2026-11-27")
    has((year.folder / "ours/ledger.yaml").read_text(), "reps: 9,", "reps: 12,")
    has(year.handouts("check", "ours", "--today", "2026-11-27"), "no problems")


def withdraw(year: Year) -> None:
    """One command, in a copy."""
    library = year.copy("ours", "withdrawn")
    year.build(library, today="2026-11-27")
    code = re.search("^code: (.*)$", (year.folder / library / "exercises/seated-knee-straightening.md").read_text(), re.MULTILINE)
    assert code
    said = year.handouts("withdraw", code[1].lower(), "--why", "It strained the knee.", "--library", library, "--today", LATER)
    has(said, "is withdrawn: It strained the knee.", "First visit has no exercise left and is withdrawn with it", "Sit to stand came after")
    year.build(library, today=LATER)
    has(text_of(year.folder / f"{library}-out/site/en/code/{code[1]}/index.html"), "This was withdrawn on November 28, 2026.", "It strained the knee.")
    has(text_of(year.folder / f"{library}-out/site/en/bundles/first-visit/index.html"), "It strained the knee.")


def nights(year: Year) -> None:
    """A quiet one, one on which a review lapses, one on which all have."""
    library = year.copy("ours", "nights")
    year.build(library, today="2026-11-27")
    assert year.build(library, today="2026-11-27") == ""
    said = year.build(library, "--fail-on", "review-lapsed", today="2027-07-20", status=3)
    has(said, "Not published, as the review has ended: Knee straightening on a chair (2027-04-14); First visit (2027-04-14)")
    has(text_of(year.folder / f"{library}-out/site/en/programmes/stand-up-with-ease/index.html"), "missing here until it has been reviewed again")
    assert "not translated" not in text_of(year.folder / f"{library}-out/site/en/programmes/stand-up-with-ease/index.html")
    desk = text_of(year.folder / f"{library}-out/site/en/desk/index.html")
    has(desk, "First visit Since April 14, 2027")
    has(year.build(library, today="2029-01-01", status=1), "[all-lapsed]", "the last good site stays")


def lost(year: Year) -> None:
    """What a bad merge, a language taken out, or a build without sheets would lose."""
    library = year.copy("ours", "lost")
    year.edit(f"{library}/clinic.yaml", ("papers: [letter, a4]", "papers: [letter]"), ("type sizes: [standard, large]", "type sizes: [standard]"))
    year.handouts("build", library, "--to", "lost-out", "--quiet", "--today", LATER)
    has(year.build(library, today=LATER), "[sheets-left-out]")
    (year.folder / library / "exercises/sit-to-stand.md").unlink()
    year.edit(f"{library}/programmes/stand-up-with-ease.md", (next(line for line in (year.folder / library / "programmes/stand-up-with-ease.md").read_text().splitlines(True) if "tier: build" in line), ""))
    ledger = (year.folder / library / "ledger.yaml").read_text()
    entries = re.split(r"(?m)^(?=  - code: )", ledger)
    (year.folder / library / "ledger.yaml").write_text("".join(each for each in entries if "sit-to-stand" not in each))
    has(year.build(library, today=LATER, status=1), "[address-lost]", "en/exercises/sit-to-stand/")


def example(year: Year) -> None:
    """The demo library from the wheel: every language that has whole catalogues, with the newest packages."""
    year.handouts("start", "demo", "--example")
    year.build("demo")
    report = json.loads((year.folder / "demo-out/report.json").read_text())
    assert set(report["languages"]) == {"en", "es", "ar", "fr", "vi", "zh-Hans"}, report["languages"]
    year.update("demo")
    step = next(line for line in (year.folder / "demo/exercises/step-up.md").read_text().splitlines() if line.startswith("1. "))
    year.edit("demo/exercises/step-up.md", (step, "1. Face the step and stand tall."))
    has(year.handouts("check", "demo", "--today", LATER), "[left-language]", "Not published in 'es': Step-up")
    has(year.handouts("changes", "demo", "--today", LATER), "no longer in: Spanish (es), Arabic (ar)")


def office(year: Year) -> None:
    """A partial delivery, and one that comes back after a source text has changed."""
    year.copy("demo", "office")
    year.handouts("words", "collect", "office", "--to", "office-out")
    before = year.handouts("words", "state", "office", "--quiet")
    year.handouts("words", "export", "es", "es.xlf", "--library", "office")
    text = (year.folder / "es.xlf").read_text()
    (year.folder / "empty.xlf").write_text(re.sub(r"<target[^>]*>[^<]*</target>", '<target xml:space="preserve"></target>', text))
    has(year.handouts("words", "import", "es", "empty.xlf", "--library", "office", "--to", "office-out"), "0 taken", "empty and left alone")
    assert year.handouts("words", "state", "office", "--quiet") == before
    year.edit("office/exercises/sit-to-stand.md", ("Bring your nose over your toes.", "Bring your nose well over your toes."))
    year.handouts("words", "collect", "office", "--to", "office-out")
    has(year.handouts("words", "import", "es", "es.xlf", "--library", "office", "--to", "office-out"), "as they were", "1 of texts that have changed since")


def leaflet(year: Year) -> None:
    """Its stop rule is no step, and its page shows that there is no picture."""
    library = year.copy("ours", "leaflet")
    page = "<h2>Wall slide</h2><ol><li>Stand with your back to the wall.</li></ol><p>Stop if pain is above 3 out of 10.</p>"
    (year.folder / "page.html").write_text(f"<html><body>{page}</body></html>")
    year.handouts("import", "page.html", library, status=1)
    steps = next((year.folder / library / "exercises").glob("wall-slide*.md")).read_text().split("## How to do it")[1]
    assert "Stop" not in steps, steps
    year.copy("ours", "bare")
    figure = (year.folder / "bare/exercises/sit-to-stand.md").read_text()
    (year.folder / "bare/exercises/sit-to-stand.md").write_text(re.sub(r"(?ms)^figure:\n.*?(?=^---$)", "", figure))
    year.build("bare", today=LATER)
    shown = year.folder / "bare-out/site/en/exercises/sit-to-stand/index.html"
    has(text_of(shown), "There is no picture of this exercise yet.")
    has(shown.read_text(), '<path class="y2" fill="none" stroke=')


def faulty(year: Year) -> None:
    """JSON where nothing can be done, conflicts of git, a ledger of a newer program."""
    library = year.copy("ours", "faulty")
    year.edit(f"{library}/ledger.yaml", ("format: 2\n", "format: 9\n"))
    has(year.handouts("check", library, status=1), "a newer handouts wrote this ledger")
    (year.folder / library / "clinic.yaml").write_text("<<<<<<< HEAD\nname: A\n=======\nname: B\n>>>>>>> other\n")
    for words in (["check", library], ["build", library, "--to", "f-out"], ["score", library, "--to", "f-out"], ["words", "state", library], ["changes", library, "--to", "f-out"]):
        told = json.loads(year.handouts(*words, "--json", status=None))
        assert told["kind"] == " ".join(words[: 2 if words[0] == "words" else 1]) and told["problems"], told
    has(year.handouts("check", library, status=1), "faulty/clinic.yaml:1:1: error: git left a conflict here")


def authors(year: Year) -> None:
    """Two people bring a new exercise each and write the ledger; git merges."""
    git = ("git", "-c", "user.name=x", "-c", "user.email=x@x.example", "-c", "init.defaultBranch=one")
    year.handouts("start", "team")
    year.update("team", "--unbuilt")
    here = year.folder / "team"
    for words in (["init", "--quiet"], ["add", "--all"], ["commit", "--quiet", "-m", "begin"], ["branch", "two"]):
        year.run(*git, *words, cwd=here)
    for branch, old, new in (("one", "reps: 10, tempo: 1-1-3", "reps: 9, tempo: 1-1-3"), ("two", "Sit tall, away from", "Sit up, away from")):
        year.run(*git, "checkout", "--quiet", branch, cwd=here)
        name = "sit-to-stand" if branch == "one" else "seated-knee-straightening"
        year.edit(f"team/exercises/{name}.md", (old, new))
        year.update("team", "--unbuilt")
        year.run(*git, "commit", "--quiet", "--all", "-m", branch, cwd=here)
    year.run(*git, "merge", "--quiet", "--no-edit", "one", cwd=here)
    year.handouts("check", "team", "--today", TODAY)
    year.update("team", "--unbuilt")
    has(year.handouts("check", "team", "--today", TODAY), "no problems")


def group(year: Year) -> None:
    """A clinic on a base: its own dose, phone and letters, nothing sent out without its review; a new base is told before it goes out."""
    year.copy("ours", "shared")
    year.edit("shared/clinic.yaml", ("pain rule:", "codes kept free: [X]\npain rule:"))
    year.handouts("start", "north", "--base", "shared")
    code = re.search("^code: (.*)$", (year.folder / "shared/exercises/sit-to-stand.md").read_text(), re.MULTILINE)
    assert code
    year.edit("north/clinic.yaml", ("name: Your Clinic", "name: North Clinic"), ("phone: 555-0100", "phone: 555-0199"), ("base: ../shared\n", f"base: ../shared\ndoses: {{{code[1]}: {{sets: 2}}}}\n"))
    has(year.build("north", status=1), "in another way than its base, and nobody has reviewed that", "[own-change]")
    year.handouts("base", "review", code[1], "--by", "clinical lead", "--on", TODAY, "--library", "north")
    has(year.handouts("new", "heel-slide", "--like", "heel-slide-supine", "--library", "north"), "north/exercises/heel-slide.md")
    drafted = (year.folder / "north/exercises/heel-slide.md").read_text()
    assert re.search("^code: X", drafted, re.MULTILINE), drafted[:200]
    (year.folder / "north/exercises/heel-slide.md").unlink()
    year.build("north")
    page = text_of(year.folder / "north-out/site/en/exercises/sit-to-stand/index.html")
    has(page, "555-0199", "2 sets of 12", "of Your Clinic. Changed here: the dose. Reviewed on November 25, 2026 by our clinical lead.")
    year.update("north")
    year.copy("shared", "next")
    year.edit("next/exercises/sit-to-stand.md", ("reps: 12, tempo", "reps: 10, tempo"))
    told = year.handouts("base", "diff", "next", "--library", "north", "--quiet", "--today", TODAY)
    has(told, "the base's dose\n    - 3 sets of 12;", "+ 3 sets of 10;", "the dose here\n    - 2 sets of 12;", "+ 2 sets of 10;", "by clinical lead is void")
    assert not [path for path in (year.folder / "shared").rglob("*") if path.stat().st_mtime > (year.folder / "north/clinic.yaml").stat().st_mtime and path.is_file()]


def own_language(year: Year) -> None:
    """German from nothing to published, a number that is another in it refused; Hebrew with a font in the library."""
    library = year.copy("ours", "german")
    year.edit(f"{library}/clinic.yaml", ("languages: {source: en}", "languages: {source: en, also: [de, he]}"), ("translations: hold back", "translations: show"))
    has(year.handouts("check", library, "--today", LATER), "'he' is written in Hebrew letters, which no font of handouts has", "Run 'handouts words interface de'")
    font = "{languages: [he], regular: own.ttf, bold: own-bold.ttf, licence: free for all, licence file: licence.txt, source: made for a test}"
    year.edit(f"{library}/clinic.yaml", ("pain rule:", f"fonts: [{font}]\npain rule:"))
    for name, data in (("own.ttf", make_font()), ("own-bold.ttf", make_font(wide=100)), ("licence.txt", LICENCE)):
        year.put(f"{library}/fonts/{name}", data)
    for language in ("de", "he"):
        year.handouts("words", "interface", language, "--library", library)
    year.handouts("words", "collect", library, "--to", "german-out")
    for name in ("words/interface/de.po", "words/de.po"):
        fill(year.folder / library / name)
    for name in ("words/interface/he.po", "words/he.po"):
        fill_hebrew(year.folder / library / name)
    year.build(library, today=LATER)
    site = year.folder / "german-out/site"
    assert (site / "de/exercises/sit-to-stand/index.html").is_file()
    assert '<html lang="he" dir="rtl"' in (site / "he/exercises/sit-to-stand/index.html").read_text()
    assert len(list((site / "assets").glob("own-he-*.woff2"))) == 2
    text = (year.folder / library / "words/de.po").read_text()
    wrong = re.sub(r'(msgctxt "exercise/[A-Z0-9]+/ready-when"\nmsgid "[^"]*3 sets[^"]*"\nmsgstr "[^"]*)3 ', r"\g<1>4 ", text, count=1)
    assert wrong != text
    (year.folder / library / "words/de.po").write_text(wrong)
    has(year.handouts("check", library, "--today", LATER, status=1), "german/words/de.po:", "[translation-number]")


def clinic_files(year: Year) -> None:
    """25 rows of a workbook and five leaflets become a library that passes the check, by less than 15 minutes of a person's answers."""
    year.handouts("start", "imported")
    year.put("exercises.xlsx", workbook())
    for name, data in leaflets().items():
        year.put(name, data)
    person = Person()
    has(year.answered(person, "import", "exercises.xlsx", *leaflets(), "imported", "--ask", "--quiet"), "31 exercises written")
    year.handouts("check", "imported", "--today", TODAY)
    assert person.minutes < MOST_MINUTES, person.minutes
    print(f"          {len(person.questions)} questions, {person.keys} keys, {person.minutes:.1f} minutes of a person, as user {NOBODY if os.geteuid() == 0 else os.geteuid()}")


def editors(year: Year) -> None:
    """Schemas with the library's own names, renewed by ``check``; the server's absence is said."""
    library = year.copy("ours", "edited")
    year.edit(f"{library}/vocabulary.yaml", ("regions:\n", "regions:\n  - {slug: wrist, name: Wrist}\n"))
    year.handouts("check", library, "--today", LATER)
    has((year.folder / library / "schema/exercise.schema.json").read_text(), '"wrist"', '"sit-to-stand"')
    has(year.handouts("editor", "--server", "no-such-server", status=2), "there is no 'no-such-server'")


def draft(year: Year) -> None:
    """A trial build is never written down as published."""
    library = year.copy("ours", "tried")
    year.edit(f"{library}/exercises/sit-to-stand.md", ("reps: 12, tempo", "reps: 11, tempo"))
    year.build(library, "--draft", out="draft-out", today=LATER)
    has(year.handouts("ledger", "update", library, "--to", "draft-out", "--today", LATER, status=2), "the site in 'draft-out' is a draft")
    assert "reps: 11" not in (year.folder / library / "ledger.yaml").read_text()


def papers(year: Year) -> None:
    """They come with the wheel."""
    has(year.handouts("guide", "operations"), "# Running it for years")
    has(year.handouts("guide", "hosting"), "# Publishing the site")
    assert json.loads(year.handouts("guide", "json"))["$defs"]


STEPS: tuple[tuple[str, Callable[[Year], None]], ...] = (
    ("wheel and install", install), ("start, build, ledger", first_site), ("what changes, signed", sign), ("a version nobody wrote down", forgotten),
    ("withdraw", withdraw), ("nights and lapsed reviews", nights), ("what would be lost", lost), ("the demo library, six languages", example),
    ("a translation office", office), ("a leaflet, no picture", leaflet), ("faulty libraries", faulty), ("two authors in git", authors), ("papers", papers),
    ("a clinic on a base", group), ("languages of one's own", own_language), ("a workbook and leaflets", clinic_files), ("editors", editors), ("a draft", draft),
)  # fmt: skip


def main(folder: Path) -> int:
    """The whole year."""
    folder.chmod(0o755)
    (folder / "home").mkdir()
    if os.geteuid() == 0:
        for each in (folder, folder / "home"):
            os.chown(each, NOBODY, NOBODY)
    os.umask(0o022)
    year = Year(folder)
    for name, walk in STEPS:
        year.step(name, lambda walk=walk: walk(year))  # type: ignore[misc]
        if name == "wheel and install" and year.failed:
            break
        if os.geteuid() == 0:
            for path in folder.glob("*/**/*"):
                with suppress(OSError):
                    if path.lstat().st_uid == 0 and "env" not in path.parts and "dist" not in path.parts:
                        os.chown(path, NOBODY, NOBODY, follow_symlinks=False)
    print(f"{len(STEPS) - len(year.failed)} of {len(STEPS)} steps gave what they should")
    return 1 if year.failed else 0


if __name__ == "__main__":
    place = Path(sys.argv[1]) if sys.argv[1:] else Path(mkdtemp(prefix="handouts-year-"))
    place.mkdir(parents=True, exist_ok=True)
    ended = main(place)
    if not sys.argv[1:]:
        shutil.rmtree(place, ignore_errors=True)
    sys.exit(ended)
