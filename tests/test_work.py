"""Pages are known by what they read: whatever changes, what is made again and what is kept together are the site made from nothing."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date
from functools import cache, partial
from pathlib import Path

import pytest

from handouts.build import pipeline
from handouts.build.pdfs import make_document
from handouts.build.pipeline import Made, make_site
from handouts.build.settings import Settings
from handouts.cli import main
from handouts.ledger.entries import Ledger
from handouts.ledger.stamp import stamps_of
from handouts.ledger.update import find_present, update_ledger
from handouts.ledger.write import write_ledger
from handouts.paper.articles import Document
from handouts.problems import show_problem
from handouts.publishing.manifest import MANIFEST
from handouts.site.lay_out import Pages
from handouts.store import reads
from handouts.store.code_digest import Code
from handouts.store.digest import digest
from handouts.store.memo import own_code
from handouts.words.catalogue import write_catalogue
from tests.small_library import EXERCISE, TEXTS, TODAY, small_library
from tests.test_cli import write
from tests.words.sample import translated

FOOT, LEG, ARM = (f"exercises/{name}" for name in ("foot-lift", "leg-lift", "arm-lift"))
Texts = Mapping[str, str]


@cache
def texts() -> Texts:
    """Three exercises, of which one is easier than another, in two languages, once published before."""
    clinic = TEXTS["clinic.yaml"].replace("grace days: 90}", "grace days: 90, unreviewed translations: show}")
    found = {
        **TEXTS,
        "clinic.yaml": clinic.replace("languages: {source: en}", "languages: {source: en, also: [es]}"),
        f"{LEG}.md": TEXTS[f"{LEG}.md"].replace("easier: Lift half as high.", "easier: [foot-lift]").replace("effort: 3-5", "effort: 4-6"),
        f"{ARM}.md": EXERCISE.format(code="C222", title="Arm lift", tier="wake", after=""),
    }
    library = small_library(found)
    found["words/es.po"] = write_catalogue(translated(library)).decode()
    ledger = update_ledger(Ledger(), find_present(library, stamps_of(library)), date(2026, 9, 20))
    return {**found, "ledger.yaml": write_ledger(ledger).decode()}


def edit(path: str, old: str, new: str) -> Callable[[Texts], Texts]:
    """A change of one file."""

    def change(before: Texts) -> Texts:
        assert old in before[path], path
        return {**before, path: before[path].replace(old, new, 1)}

    return change


def without(before: Texts, *paths: str) -> Texts:
    """The library without some of its files."""
    return {path: text for path, text in before.items() if path not in paths}


def plan(folder: Path, files: Texts, today: date = TODAY, before: Made | None = None) -> Made:
    """A library's site, and what is known of the one before."""
    for old in (folder / "lib").rglob("*.*"):
        old.unlink()
    write(folder / "lib", files)
    made = make_site(Settings(library=folder / "lib", out=folder / "out", today=today, paper=False), before=before)
    assert made.pages, [show_problem(item) for item in made.problems]
    return made


def make_pages(made: Made) -> dict[str, bytes]:
    """Every page, made; what each read is known afterwards."""
    return {path: made.reads.make(digest(path), task.func, *task.args) for path, task in made.pages.tasks.items()}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder whose figures are drawn once."""
    return tmp_path_factory.mktemp("work")


@pytest.fixture(scope="module")
def before(folder: Path) -> tuple[Made, dict[str, bytes]]:
    """The site before each change, and its pages."""
    made = plan(folder, texts())
    return made, make_pages(made)


def compare(before: tuple[Made, dict[str, bytes]], folder: Path, files: Texts, today: date = TODAY) -> set[str]:
    """The pages of exercises that are made again; fails where a page that is kept would be another one."""
    after = plan(folder, files, today, before[0])
    kept = {path for path, task in after.pages.tasks.items() if after.reads.find(digest(path), task.func, *task.args) is not None}
    assert {path for path in kept if after.pages[path] != before[1][path]} == set()
    return {path for path in after.pages.tasks if path not in kept and "/exercises/" in path and path.count("/") == 3}


def pages_of(*items: str, languages: str = "en es") -> set[str]:
    """The pages of exercises."""
    return {f"{language}/{item}/index.html" for language in languages.split() for item in items}


EVERY = pages_of(FOOT, LEG, ARM)


def test_nothing_changed(folder: Path, before: tuple[Made, dict[str, bytes]]) -> None:
    """Of the same library every page is known, its sheets and lists too."""
    after = plan(folder, texts(), before=before[0])
    assert [path for path, task in after.pages.tasks.items() if after.reads.find(digest(path), task.func, *task.args) is None] == []


@pytest.mark.parametrize(("change", "made"), [
    (edit(f"{ARM}.md", "You feel your thigh work.", "You feel your arm work."), pages_of(ARM)),
    (edit(f"{FOOT}.md", "Sit tall.", "Sit very tall."), pages_of(FOOT) | pages_of(LEG, languages="es")),
    (edit(f"{FOOT}.md", "reps: 10,", "reps: 11,"), pages_of(FOOT, LEG)),
    (edit(f"{FOOT}.md", "effort: 3-5", "effort: 2-4"), pages_of(FOOT, LEG)),
    (edit(f"{LEG}.md", "easier: [foot-lift]", "easier: Slow down."), None),
    (edit(f"{LEG}.md", "after: [foot-lift]\n", ""), None),
    (edit(f"{ARM}.md", "base: sitting", "base: standing"), pages_of(ARM)),
    (edit(f"{ARM}.md", "review: {on: 2026-09-14", "review: {on: 2026-09-15"), pages_of(ARM)),
    (lambda files: without(edit(f"{ARM}.md", "code: C222", "code: D222")(files), "ledger.yaml"), None),
    (edit("words/es.po", "msgstr", "msgstr"), set()),
    (edit("programmes/stand-up.md", "title: Stand up well", "title: Stand up"), None),
    (edit("programmes/stand-up.md", "exercises: [foot-lift]", "exercises: [foot-lift, arm-lift]"), None),
    (edit("bundles/first-days.yaml", "weeks: 2", "weeks: 3"), set()),
    (edit("tiers.yaml", "name: Wake,", "name: Begin,"), None),
    (edit("vocabulary.yaml", "name: Sitting,", "name: Seated,"), None),
    (edit("cautions.yaml", "You have sharp pain.", "You have a sharp pain."), None),
    (edit("clinic.yaml", "555-0100", "555-0101"), EVERY),
    (edit("clinic.yaml", "papers: [letter, a4]", "papers: [a4]"), EVERY),
    (edit("clinic.yaml", "invented: yes", "invented: no"), pages_of(FOOT, LEG, ARM, languages="en")),
    (edit("clinic.yaml", "also: [es]", "also: []"), pages_of(FOOT, LEG, ARM, languages="en")),
    (edit("ledger.yaml", "exercises", "exercises"), set()),
    (lambda files: without(files, f"{ARM}.md", "ledger.yaml"), None),
    (lambda files: without(files, "ledger.yaml"), None),
    (lambda files: {**files, "exercises/new.md": EXERCISE.format(code="E222", title="New lift", tier="wake", after="")}, None),
])
def test_change_of_the_library(
    folder: Path, before: tuple[Made, dict[str, bytes]], change: Callable[[Texts], Texts], made: set[str] | None
) -> None:
    """Each kind of file: no page is kept that would be another one, and pages that it does not reach are kept."""
    again = compare(before, folder, change(texts()))
    assert made is None or again == made


def change_feel(catalogue: str) -> str:
    """A letter more in a translation."""
    at = catalogue.index('msgctxt "exercise/C222/feel"')
    line = catalogue.index('msgstr "', at) + len('msgstr "')
    return f"{catalogue[:line]}Z{catalogue[line:]}"


def test_translation(folder: Path, before: tuple[Made, dict[str, bytes]]) -> None:
    """A translated word changes the pages that show it, in its language."""
    assert compare(before, folder, {**texts(), "words/es.po": change_feel(texts()["words/es.po"])}) == pages_of(ARM, languages="es")


def test_day(folder: Path, before: tuple[Made, dict[str, bytes]]) -> None:
    """On a day without a review that ends nothing is made again; when reviews have lapsed every page says so."""
    assert compare(before, folder, texts(), date(2026, 11, 26)) == set()
    assert compare(before, folder, texts(), date(2027, 10, 1)) == EVERY


@pytest.mark.parametrize("path", ["pages/exercise.html", "styles/screen.css", "scripts/made/page_state.js", "styles/figure.css"])
def test_templates(
    folder: Path, before: tuple[Made, dict[str, bytes]], monkeypatch: pytest.MonkeyPatch, path: str
) -> None:
    """Templates, styles and scripts stand behind every page."""
    files = pipeline.read_templates()
    more = {"html": b"<!-- -->\n", "css": b"p { color: red; }\n", "js": b"var more = 1;\n"}[path.partition(".")[2]]
    monkeypatch.setattr(pipeline, "read_templates", lambda: {**files, path: files[path] + more})
    assert compare(before, folder, texts()) == EVERY


def test_program(folder: Path, before: tuple[Made, dict[str, bytes]], monkeypatch: pytest.MonkeyPatch) -> None:
    """Another program makes every page again."""
    monkeypatch.setattr(reads, "own_code", lambda: Other(own_code().root))
    after = plan(folder, texts(), before=before[0])
    assert [path for path, task in after.pages.tasks.items() if after.reads.find(digest(path), task.func, *task.args) is not None] == []


class Other(Code):
    """The code of another program."""

    def digest(self, module: str) -> bytes:
        """Another one."""
        return super().digest(module)[::-1]


def test_pages_are_made_when_asked_for() -> None:
    """Files that are ready and tasks are one mapping, and nothing is kept."""
    made: list[str] = []

    def make() -> bytes:
        made.append("b")
        return b"b"

    pages = Pages({"a.css": b"a"}, {"b.html": partial(make)})
    assert (list(pages), len(pages), "b.html" in pages, "c" in pages, made) == (["a.css", "b.html"], 2, True, False, [])
    assert [pages["b.html"], pages["b.html"], made] == [b"b", b"b", ["b", "b"]]
    assert dict(pages.with_files({"c": b"c"})) == {"a.css": b"a", "b.html": b"b", "c": b"c"}


PARTS: dict[str, Callable[[Texts], Texts]] = {
    "text": edit(f"{ARM}.md", "You feel your thigh work.", "You feel your arm work."),
    "title": edit(f"{ARM}.md", "Arm lift", "Arm raise"),
    "dose": edit(f"{FOOT}.md", "reps: 10,", "reps: 11,"),
    "figure": edit(f"{ARM}.md", "base: sitting", "base: standing"),
    "a step more": lambda files: edit(f"{ARM}.md", "regions:", "after: [foot-lift]\nregions:")(without(files, "ledger.yaml")),
    "position": edit("vocabulary.yaml", "name: Sitting,", "name: Seated,"),
    "level": edit("vocabulary.yaml", "name: Sitting, level: chair", "name: Sitting, level: floor"),
    "tier": edit("tiers.yaml", "name: Wake,", "name: Begin,"),
    "caution": edit("cautions.yaml", "You have sharp pain.", "You have a sharp pain."),
    "telephone": edit("clinic.yaml", "555-0100", "555-0101"),
    "papers": edit("clinic.yaml", "papers: [letter, a4]", "papers: [a4]"),
    "address": edit("clinic.yaml", "site: https://", "site: https://www."),
    "programme": edit("programmes/stand-up.md", "title: Stand up well", "title: Stand up"),
    "translation": lambda files: {**files, "words/es.po": change_feel(files["words/es.po"])},
    "exercise less": lambda files: without(files, f"{ARM}.md", "ledger.yaml"),
}


@pytest.mark.parametrize("name", PARTS)
def test_kept_parts(folder: Path, before: tuple[Made, dict[str, bytes]], tmp_path: Path, name: str) -> None:
    """Sheets, scripts, search words and limits that are kept make the files that are made where nothing is."""
    again = plan(folder, PARTS[name](texts()), before=before[0])
    after, clean = {**again.pages.files, **make_pages(again)}, dict(plan(tmp_path, PARTS[name](texts())).pages)
    assert [path for path in sorted({*after, *clean}) if after.get(path) != clean.get(path)] == []


def test_build_takes_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A build makes only what changed, and what was damaged on the disk; its bytes are those of a build from nothing."""
    write(tmp_path / "lib", texts())

    def build(out: str, page: str = ARM) -> str:
        words = ["build", str(tmp_path / "lib"), "--to", str(tmp_path / out), "--no-paper", "--jobs=1", "--today=2026-11-25"]
        assert main([*words, "--explain", f"en/{page}/"]) == 0
        return capsys.readouterr().out

    first = build("out")
    assert "was made: nothing is known of how it was made before." in first
    count = first.partition(" PDFs (")[2].split()[0]
    assert build("out").endswith(f"en/{ARM}/index.html was not made again: nothing has changed.\n")
    assert main(["build", str(tmp_path / "lib"), f"--to={tmp_path / 'out'}", "--no-paper", "--today=2026-11-25", "--json", "--explain=en"]) == 0
    told = capsys.readouterr()
    assert json.loads(told.out)["unchanged"] and told.err == "en/index.html was not made again: nothing has changed.\n"
    write(tmp_path / "lib", edit(f"{ARM}.md", "You feel your thigh work.", "You feel your arm work.")(texts()))
    damaged = tmp_path / "out/site/es" / FOOT / "index.html"
    damaged.write_bytes(damaged.read_bytes()[::-1])
    second = build("out")
    assert "en: library exercise arm-lift feel" in second.partition(" changed.")[0].partition(f"en/{ARM}/index.html was made again: ")[2]
    assert int(second.partition(" PDFs (")[2].split()[0]) < int(count)
    build("clean")
    assert (tmp_path / "out/site" / MANIFEST).read_bytes() == (tmp_path / "clean/site" / MANIFEST).read_bytes()
    assert damaged.read_bytes() == (tmp_path / "clean/site/es" / FOOT / "index.html").read_bytes()
    damaged.unlink()
    build("out")
    assert damaged.read_bytes() == (tmp_path / "clean/site/es" / FOOT / "index.html").read_bytes()


@pytest.mark.paper
def test_explains_sheets_and_figures(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What changed of what a PDF reads, and which argument of the task behind a figure; nothing is made before its page is asked for."""
    files = edit("clinic.yaml", "papers: [letter, a4]\ntype sizes: [standard, large]", "papers: [a4]\ntype sizes: [standard]")(texts())
    pdf, figure = f"en/{ARM}/arm-lift-a4-standard.pdf", "figures/arm-lift"

    def explain(name: str, *more: str) -> str:
        write(tmp_path / "lib", files)
        words = ["build", str(tmp_path / "lib"), "--to", str(tmp_path / "out"), "--jobs=1", "--today=2026-11-25", "--explain", name, *more]
        assert main(words) == 0
        return next(line for line in capsys.readouterr().out.splitlines() if name in line)

    assert explain(pdf) == f"{pdf} was made: nothing is known of how it was made before."
    files = edit(f"{ARM}.md", "You feel your thigh work.", "You feel your arm work.")(files)
    told = explain(pdf)
    assert told.startswith(f"{pdf} was made again: ") and "en on paper: library exercise arm-lift feel" in told and told.endswith(" changed.") and "program" not in told
    files = edit(f"{ARM}.md", "base: sitting", "base: standing")(files)
    assert explain(figure) == f"{figure} was made again: entries base value changed."
    assert explain(figure, "--no-paper") == f"{figure} was not made again: nothing that it shows has changed."


def plan_sheets(folder: Path, files: Texts) -> Made:
    """A library's site with its documents; what each was made from is read from the folder."""
    write(folder / "lib", files)
    return make_site(Settings(folder / "lib", folder / "out", TODAY, cache_folder=folder / "cache"))


@pytest.mark.parametrize(("change", "most"), [
    (edit(f"{ARM}.md", "You feel your thigh work.", "You feel your arm work."), "arm-lift stand-up"),
    (edit(f"{FOOT}.md", "reps: 10,", "reps: 11,"), "foot-lift stand-up first-days leg-lift"),
    (edit("programmes/stand-up.md", "title: Stand up well", "title: Stand up"), "stand-up foot-lift leg-lift first-days"),
    (edit("bundles/first-days.yaml", "weeks: 2", "weeks: 3"), "first-days"),
    (edit("cautions.yaml", "You have sharp pain.", "You have a sharp pain."), None),
    (edit("clinic.yaml", "555-0100", "555-0101"), None),
    (edit("clinic.yaml", "invented: yes", "invented: no"), None),
    (edit("words/es.po", "msgstr", "msgstr"), ""),
])  # fmt: skip
def test_a_document_that_is_kept_is_the_same(tmp_path: Path, change: Callable[[Texts], Texts], most: str | None) -> None:
    """After a change each document that is known would be made the same, and those are made that it may change, of ``most`` items; None: all."""
    before = plan_sheets(tmp_path, texts())
    made = dict[str, Document]()
    for path, maker in before.documents.makers.items():
        made[path], settle = before.sheet_reads.note(digest(path), make_document, maker.func, *maker.args)
        settle(b"known")
    before.sheet_reads.write()
    after = plan_sheets(tmp_path, change(texts()))
    known = {path for path, maker in after.documents.makers.items() if after.sheet_reads.find(digest(path), make_document, maker.func, *maker.args)}
    assert [path for path in known if after.documents.get(path) != made[path]] == []
    if most is not None:
        assert {path.split("/")[2] for path in after.documents.makers.keys() - known} <= set(most.split())
