"""A changed source text: the author says that it means the same, or the last whole version stays, dated and named as such."""

from __future__ import annotations

import html
import re
import shutil
from datetime import date
from pathlib import Path

import pytest
import yaml

from handouts.cli import main
from handouts.words.catalogue import write_catalogue
from handouts.words.reviews import read_reviews, write_reviews
from tests.small_library import TEXTS, small_library, texts_with
from tests.words.sample import reviewed, translated
from tests.words.test_command import write

FOOT, LEG = "exercises/foot-lift.md", "exercises/leg-lift.md"
NOTICE = "Este texto es del 2 de octubre de 2026. Hay un texto más nuevo que todavía no está en este idioma."
CLINIC = (
    ("languages: {source: en}", "languages: {source: en, also: [es]}"),
    ("grace days: 90}", "grace days: 90, older translations: show}"),
)
Edit = tuple[str, str, str]


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small library, whole and reviewed in Spanish, with a ledger that was written on 2 October 2026."""
    texts = texts_with("clinic.yaml", *CLINIC)
    texts["cautions.yaml"] += "  - {slug: stop-faint, kind: stop, when: You feel faint., do: Stop and sit down., call: clinic, source: common practice}\n"
    texts[LEG] = texts[LEG].replace("cautions: [stop-pain]", "cautions: [stop-faint]")
    library = small_library(texts)
    catalogue = translated(library)
    texts["words/es.po"] = write_catalogue(catalogue).decode()
    texts["words/es.reviews.yaml"] = write_reviews(reviewed(library, catalogue)).decode()
    folder = write(tmp_path_factory.mktemp("older") / "lib", texts)
    assert main(["ledger", "update", str(folder), "--unbuilt", "--today=2026-10-02"]) == 0
    return folder


def change(published: Path, to: Path, *edits: Edit) -> Path:
    """A copy of the library with edits of its files, and its ledger of 20 November 2026."""
    library = to / "lib"
    shutil.copytree(published, library)
    for path, old, new in edits:
        text = (library / path).read_text(encoding="utf-8")
        assert text.count(old) == 1, old
        (library / path).write_text(text.replace(old, new), encoding="utf-8")
    assert main(["ledger", "update", str(library), "--unbuilt", "--today=2026-11-20"]) == 0
    return library


def build(library: Path) -> Path:
    """The site of a library, without PDFs."""
    assert main(["build", str(library), "--to", str(library.parent / "out"), "--no-paper", "--today=2026-11-25"]) == 0
    return library.parent / "out" / "site"


def read(path: Path) -> str:
    """What a page says."""
    return " ".join(html.unescape(path.read_text(encoding="utf-8")).split())


def version(page: str) -> str:
    """The stamp of a page."""
    found = re.search(r"(?:Version|Versión) ([2-9A-Z]{6})", page)
    assert found is not None
    return found[1]


KEPT = [
    (FOOT, "cues: [Sit tall.]", "cues: [Sit very tall.]"),
    (FOOT, "2. Lift your foot.", "2. Lift your foot slowly."),
    (FOOT, "feel: You feel your thigh work.", "feel: You feel your thigh work hard."),
    (FOOT, "see: You lean back.", "see: You lean far back."),
    (FOOT, "do: Sit up tall.", "do: Sit up tall again."),
]
HELD_BACK = [
    ("a dose", (FOOT, "cues: [Sit tall.]", "cues: [Sit very tall.]"), (FOOT, "reps: 10,", "reps: 8,")),
    ("a condition", (FOOT, "with ease.", "with great ease.")),
    ("a stop rule", (FOOT, "cues: [Sit tall.]", "cues: [Sit very tall.]"), ("cautions.yaml", "You have sharp pain.", "You have very sharp pain.")),
    ("which cautions", (FOOT, "cues: [Sit tall.]", "cues: [Sit very tall.]"), (FOOT, "cautions: [stop-pain]", "cautions: [stop-pain, go-slow]")),
    ("the title", (FOOT, "title: Foot lift", "title: Foot lifts")),
    ("why", (FOOT, "You use this each time", "You use it each time")),
    ("a step more", (FOOT, "2. Lift your foot.", "2. Lift your foot.\n3. Lower it.")),
    ("a step less, and one changed", (FOOT, "1. Sit on a chair.\n2. Lift your foot.", "1. Lift your foot now.")),
]  # fmt: skip


@pytest.fixture(scope="module")
def before(published: Path, tmp_path_factory: pytest.TempPathFactory) -> str:
    """The stamp that the Spanish page has before any edit."""
    site = build(change(published, tmp_path_factory.mktemp("before")))
    return version(read(site / "es/exercises/foot-lift/index.html"))


@pytest.mark.parametrize("collected", [True, False])
@pytest.mark.parametrize("edit", KEPT)
def test_the_last_whole_version_stays(published: Path, before: str, tmp_path: Path, edit: Edit, collected: bool) -> None:
    """Page, sheet and phone say the former text with its date, and carry its stamp; the other language has the new one."""
    library = change(published, tmp_path, edit)
    if collected:
        assert main(["words", "collect", "--library", str(library), "--to", str(tmp_path / "draw"), "--jobs", "1"]) == 0
    site = build(library)
    spanish, english = (read(site / f"{language}/exercises/foot-lift/index.html") for language in ("es", "en"))
    assert NOTICE in spanish
    assert (version(spanish), version(english) != before) == (before, True)
    old, new = (text.partition(": ")[2].strip("[]") if ": " in text else text[3:] for text in edit[1:])
    assert (old.swapcase() in spanish, new in english, new.swapcase() in spanish) == (True, True, False)
    assert "There is a newer text" not in english
    assert "lead physiotherapist".swapcase() not in spanish  # who read the new text has not read this one
    assert NOTICE in read(site / "es/sheets/standard/index.html")
    phone = [text for text in map(read, site.rglob("*.js")) if NOTICE in text and '"why"' in text]
    assert len(phone) == 1
    assert f'"stamps":{{"A222":"{before}"}}' in next(text for text in map(read, site.rglob("*.js")) if "handoutsBook" in text and '"tongues"' in text)


@pytest.mark.parametrize("edits", [row[1:] for row in HELD_BACK], ids=[row[0] for row in HELD_BACK])
def test_what_else_changes_is_held_back(published: Path, tmp_path: Path, edits: tuple[Edit, ...]) -> None:
    """Where a dose, a caution, a stop rule, a condition, a name or the number of steps changed, nothing old stays."""
    site = build(change(published, tmp_path, *edits))
    assert (site / "en/exercises/foot-lift/index.html").exists()
    page = site / "es/exercises/foot-lift/index.html"
    assert not page.exists() or NOTICE not in read(page)


def test_the_clinic_chooses(published: Path, tmp_path: Path) -> None:
    """Without its word in clinic.yaml an exercise that changed is held back, as before."""
    edits = (KEPT[0], ("clinic.yaml", ", older translations: show", ""))
    site = build(change(published, tmp_path, *edits))
    assert NOTICE not in "".join(map(read, (site / "es").rglob("*.html")))


def test_a_version_that_nobody_had_is_not_kept(published: Path, tmp_path: Path) -> None:
    """The ledger must know the version: a text that was never published has no day."""
    library = change(published, tmp_path, KEPT[0])
    ledger = yaml.safe_load((library / "ledger.yaml").read_text(encoding="utf-8"))
    foot = next(entry for entry in ledger["codes"] if entry["code"] == "A222")
    assert [len(entry["versions"]) for entry in ledger["codes"] if entry["code"] == "A222"] == [2]
    text = (library / "ledger.yaml").read_text(encoding="utf-8")
    lines = [line for line in text.split("\n") if foot["versions"][0]["version"] not in line]
    (library / "ledger.yaml").write_text("\n".join(lines), encoding="utf-8")
    site = build(library)
    assert NOTICE not in "".join(map(read, (site / "es").rglob("*.html")))


def test_an_unfinished_translation_is_not_kept(published: Path, tmp_path: Path) -> None:
    """A translation that a translator marked as not finished was never shown, so it is no last version."""
    library = change(published, tmp_path)
    path = library / "words/es.po"
    text = path.read_text(encoding="utf-8")
    assert text.count('msgctxt "exercise/A222/cue"') == 1
    path.write_text(text.replace('msgctxt "exercise/A222/cue"', '#, fuzzy\nmsgctxt "exercise/A222/cue"'), encoding="utf-8")
    exercise = library / FOOT
    exercise.write_text(exercise.read_text(encoding="utf-8").replace("cues: [Sit tall.]", "cues: [Sit very tall.]"), encoding="utf-8")
    assert main(["ledger", "update", str(library), "--unbuilt", "--today=2026-11-20"]) == 0
    assert main(["words", "collect", "--library", str(library), "--to", str(tmp_path / "draw"), "--jobs", "1"]) == 0
    site = build(library)
    assert NOTICE not in "".join(map(read, (site / "es").rglob("*.html")))


def test_chart(published: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The chart says the version that the patient's sheets carry."""
    library = change(published, tmp_path, KEPT[0])
    ledger = yaml.safe_load((library / "ledger.yaml").read_text(encoding="utf-8"))
    old, new = (each["version"] for entry in ledger["codes"] if entry["code"] == "A222" for each in entry["versions"])
    for language, stamp in (("es", old), ("en", new)):
        capsys.readouterr()
        assert main(["bundle", "first-days", "--library", str(library), "--to", str(tmp_path / "x"), "--chart", "--language", language]) == 0
        assert f"A222 {stamp}" in capsys.readouterr().out


def test_report_and_summary(published: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The clinic is told what stands in an older version."""
    library = change(published, tmp_path, KEPT[0])
    capsys.readouterr()
    assert main(["check", str(library), "--today=2026-11-25"]) == 0
    assert "es: 1 in an older version" in capsys.readouterr().out


def same(library: Path, *arguments: str) -> int:
    """``words same``."""
    return main(["words", "same", *arguments, "--library", str(library), "--to", str(library.parent / "draw"), "--jobs", "1"])


COMMA = (FOOT, "feel: You feel your thigh work.", 'feel: "You feel, your thigh work."')


def test_same_meaning(published: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The author says so once: the translation stands, with its review, and the page is as it was."""
    library = change(published, tmp_path, COMMA)
    capsys.readouterr()
    assert same(library) == 0
    listed = "exercise/A222/feel\n    before: You feel your thigh work.\n    now:    You feel, your thigh work.\n"
    assert capsys.readouterr().out == f"{listed}1 changed text wait for a translation.\n"
    assert same(library, "exercise/A222") == 0
    assert capsys.readouterr().out == f"{listed}1 text: the translations stand in es.\n"
    assert main(["words", "state", "--library", str(library)]) == 0
    assert "all translated; 0 of " in capsys.readouterr().out
    reviews, problems = read_reviews((library / "words/es.reviews.yaml").read_bytes(), "r")
    assert not problems
    assert {(item.by, item.on) for item in reviews.values()} == {("medical translator", date(2026, 10, 1))}
    site = build(library)
    page = read(site / "es/exercises/foot-lift/index.html")
    assert "You feel your thigh work.".swapcase() in page
    assert NOTICE not in page


def test_a_number_is_another_meaning(published: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Whoever says that it is the same: nothing is written."""
    library = change(published, tmp_path, (FOOT, "You can do 2 sets of 15 with ease.", "You can do 2 sets of 12 with ease."))
    before = (library / "words/es.po").read_bytes()
    capsys.readouterr()
    assert same(library, "exercise/A222/ready-when") == 1
    assert capsys.readouterr().err == "handouts: a number has changed in exercise/A222/ready-when, so the meaning is not the same.\nNothing was written.\n"
    assert (library / "words/es.po").read_bytes() == before


def test_same_of_nothing(published: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A name that fits no changed text is said; a language that the clinic does not have as well."""
    library = change(published, tmp_path, COMMA)
    capsys.readouterr()
    assert same(library, "exercise/B222") == 1
    assert capsys.readouterr().out == "0 changed texts wait for a translation.\n"
    assert same(library, "exercise/A222", "--language", "fr") == 2
    assert capsys.readouterr().err == "handouts: 'fr' is not a language of clinic.yaml. Use one of: es.\n"


def test_the_small_library_is_what_it_was() -> None:
    """The edits above stand in it, each once."""
    assert all(TEXTS[path].count(old) == 1 for path, old, _ in (*KEPT, COMMA))
