"""A build never drops what readers have an address of, unless the library says so, and names what it does not publish."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from handouts.build.lost_addresses import LostAddresses, find_lost
from handouts.cli import main
from handouts.model import TakenOff
from tests.builders import PLACE
from tests.small_library import TEXTS
from tests.test_cli import write
from tests.test_work import texts

CLINIC = "clinic.yaml"


def build(folder: Path, files: Mapping[str, str], today: str = "2026-11-25") -> int:
    """Builds a library anew over what was published before."""
    library = folder / "lib"
    for path in sorted(library.rglob("*"), reverse=True):
        path.unlink() if path.is_file() else path.rmdir()
    write(library, files)
    return main(["build", str(library), "--to", str(folder / "out"), "--no-paper", "--jobs=1", f"--today={today}"])


def with_line(files: Mapping[str, str], line: str) -> dict[str, str]:
    """The library with one more line in clinic.yaml."""
    return {**files, CLINIC: f"{files[CLINIC]}{line}\n"}


def without_ledger() -> dict[str, str]:
    """The library before its first ``ledger update``."""
    return {path: text for path, text in texts().items() if path != "ledger.yaml"}


def lost_language(files: Mapping[str, str]) -> dict[str, str]:
    """The library without the Spanish catalogue."""
    return {path: text for path, text in files.items() if path != "words/es.po"}


@pytest.mark.parametrize("ledger", [True, False], ids=["with a ledger", "without"])
def test_a_language_is_not_dropped(tmp_path: Path, capsys: pytest.CaptureFixture[str], ledger: bool) -> None:
    """Without its catalogue a language that stands on the site, or in the ledger, stops the build; one line lets it go."""
    files = dict(texts()) if ledger else without_ledger()
    assert build(tmp_path, files) == 0
    assert (tmp_path / "out/site/es/index.html").exists()
    capsys.readouterr()
    assert build(tmp_path, lost_language(files)) == 1
    assert (
        "lib/clinic.yaml:1:1: error: 'es' was published, and nothing would be published in it now. "
        "See 'handouts words state' for what keeps it out, or write into clinic.yaml "
        "'taken off: [{address: es, why: \"…\"}]'. [language-lost]"
    ) in capsys.readouterr().err
    assert (tmp_path / "out/site/es/index.html").exists()
    line = "taken off: [{address: es, why: No one reads it.}]"
    assert build(tmp_path, with_line(lost_language(files), line)) == 0
    assert not (tmp_path / "out/site/es").exists()


def test_a_language_of_the_ledger_is_not_dropped_into_a_new_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where no site stands, as on a server that builds anew, the ledger knows which languages there were."""
    files = dict(texts())
    entry = "    slugs: [\"arm-lift\"]\n"
    assert files["ledger.yaml"].count(entry) == 1
    files["ledger.yaml"] = files["ledger.yaml"].replace(entry, f'{entry}    titles: {{es: "Subir el brazo"}}\n')
    assert build(tmp_path, lost_language(files)) == 1
    assert "[language-lost]" in capsys.readouterr().err
    assert not (tmp_path / "out/site").exists()


def test_a_bundle_is_not_dropped(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without a ledger nothing leads on from a former address, so it is refused by name."""
    files = without_ledger()
    assert build(tmp_path, files) == 0
    capsys.readouterr()
    renamed = {path.replace("first-days", "early-days"): text for path, text in files.items()}
    assert build(tmp_path, renamed) == 1
    assert (
        "lib/clinic.yaml:1:1: error: 3 addresses are on the published site and would lead nowhere: en/bundles/first-days/, "
        "es/bundles/first-days/, es/bundles/. Put back what was there, keep a ledger so that it leads on ('handouts ledger update'), "
        "or write into clinic.yaml 'taken off: [{address: en/bundles/first-days, why: \"…\"}]'. [address-lost]"
    ) in capsys.readouterr().err
    line = "taken off: [{address: en/bundles/first-days, why: Renamed.}, {address: es/bundles/, why: Renamed.}]"
    assert build(tmp_path, with_line(renamed, line)) == 0


def test_with_a_ledger_a_former_address_leads_on(tmp_path: Path) -> None:
    """An exercise under another file name needs no such line."""
    assert build(tmp_path, texts()) == 0
    renamed = {path.replace("arm-lift.md", "arm-raise.md"): text for path, text in texts().items()}
    assert build(tmp_path, renamed) == 0
    assert (tmp_path / "out/site/en/exercises/arm-lift/index.html").exists()


@pytest.mark.parametrize(
    ("after", "gone", "lost"),
    [
        (("en/index.html", "es/index.html", "en/code/A222/index.html"), (), LostAddresses((), ())),
        (("en/index.html", "en/code/A222/index.html"), (), LostAddresses(("es",), ())),
        (("en/index.html", "en/code/A222/index.html"), ("es",), LostAddresses((), ())),
        (("en/index.html", "es/index.html"), (), LostAddresses((), ("en/code/A222/",))),
        (("en/index.html", "es/index.html"), ("en/code",), LostAddresses((), ())),
        (("en/index.html", "es/index.html"), ("en/cod",), LostAddresses((), ("en/code/A222/",))),
    ],
)
def test_find_lost(after: tuple[str, ...], gone: tuple[str, ...], lost: LostAddresses) -> None:
    """Sheets for printing, a translator's pages and files that are no pages may go; a place covers what lies below it."""
    before = (
        "en/index.html", "es/index.html", "en/code/A222/index.html", "en/sheets/large/index.html", "es/review/index.html",
        "en/exercises/step-up/step-up-a4-large.pdf", "assets/screen.css",
    )  # fmt: skip
    taken_off = [TakenOff(place=PLACE, address=address, why="For a reason.") for address in gone]
    assert find_lost(before, after, taken_off) == lost


def test_what_is_not_published_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What lapsed, what is stale in a language, and which bundle lost an exercise stand on the terminal."""
    lapsed = dict(texts())
    lapsed["exercises/leg-lift.md"] = lapsed["exercises/leg-lift.md"].replace("on: 2026-09-14", "on: 2024-09-14")
    stale = {**lapsed, "exercises/arm-lift.md": lapsed["exercises/arm-lift.md"].replace("Sit tall.", "Sit very tall.")}
    assert build(tmp_path, stale) == 0
    told = capsys.readouterr().out.splitlines()
    assert told[:6] == [
        "Not published, as the review has ended: Leg lift (2025-09-14)",
        "Not published in 'es': Arm lift (why: handouts words state)",
        "Published in 'en' without all of its exercises: programmes/stand-up lacks leg-lift",
        "Published in 'en' without all of its exercises: bundles/first-days lacks leg-lift",
        "Published in 'es' without all of its exercises: programmes/stand-up lacks leg-lift",
        "Published in 'es' without all of its exercises: bundles/first-days lacks leg-lift",
    ]


def test_truly_also_in_a_library_of_one_language(tmp_path: Path) -> None:
    """Where nothing is ever translated, no page speaks of a translation; what lacks an exercise says that its review has ended."""
    lapsed = {**TEXTS, "exercises/leg-lift.md": TEXTS["exercises/leg-lift.md"].replace("on: 2026-09-14", "on: 2024-09-14")}
    assert "also:" not in lapsed["clinic.yaml"] and build(tmp_path, lapsed) == 0
    pages = {path.parent.relative_to(tmp_path / "out/site").as_posix(): path.read_text() for path in (tmp_path / "out/site").rglob("*.html")}
    assert [page for page, html in pages.items() if "translated" in html] == []
    said = {page for page, html in pages.items() if "until it has been reviewed again" in html}
    assert said >= {"en/programmes/stand-up", "en/bundles/first-days"}


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_page_says_truly_why_it_is_not_whole(tmp_path: Path, language: str) -> None:
    """An exercise whose review has ended is not called untranslated, in the source language or another."""
    lapsed = dict(texts())
    lapsed["exercises/leg-lift.md"] = lapsed["exercises/leg-lift.md"].replace("on: 2026-09-14", "on: 2024-09-14")
    assert build(tmp_path, lapsed) == 0
    reviewed = {"en": "until it has been reviewed again", "es": "hasta que se revise de nuevo"}[language]
    for page in ("programmes/stand-up", "bundles/first-days"):
        html = (tmp_path / "out/site" / language / page / "index.html").read_text()
        assert reviewed in html and "translated yet" not in html and "está traducido" not in html


def test_what_leaves_a_language_is_named_by_check_and_build(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One word changed in a step takes the exercise off the Spanish pages: both commands say so, by name."""
    files = dict(texts())
    entry = "    slugs: [\"arm-lift\"]\n"
    files["ledger.yaml"] = files["ledger.yaml"].replace(entry, f'{entry}    titles: {{es: "Subir el brazo"}}\n')
    assert build(tmp_path, files) == 0
    capsys.readouterr()
    path = "exercises/arm-lift.md"
    changed = {**files, path: files[path].replace("1. ", "1. Now ", 1)}
    for command in ("check", "build"):
        status = build(tmp_path, changed) if command == "build" else main(["check", str(write_anew(tmp_path / "lib", changed)), "--today=2026-11-25"])
        said = capsys.readouterr()
        assert status == 0
        assert "1 thing was published in 'es' and would not be there any more: Arm lift." in said.err, command
        assert "Not published in 'es': Arm lift (why: handouts words state)" in said.out


def write_anew(library: Path, files: Mapping[str, str]) -> Path:
    """The library with exactly these files."""
    for path in sorted(library.rglob("*"), reverse=True):
        path.unlink() if path.is_file() else path.rmdir()
    write(library, files)
    return library
