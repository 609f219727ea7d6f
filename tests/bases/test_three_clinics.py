"""Three clinics on one base: each with its own dose, phone and language, and all else from there."""

from __future__ import annotations

import json
from pathlib import Path

import polib
import pytest

from handouts.cli import main
from tests.bases.group import BASE, DAY, build, change, fill, own_clinic, run, text_of, write
from tests.test_operations import hold

CLINICS = {
    "north": ("North", "555-0101", "doses: {A222: {sets: 3}}\n", "es", "3 sets of 10"),
    "south": ("South", "555-0102", "doses: {A222: {reps: 8, days: 5}}\n", "fr", "2 sets of 8"),
    "west": ("West", "555-0103", "doses: {A222: {reps: 12}}\norder: {P222: {wake: [X222, foot-lift]}}\n", "vi", "2 sets of 12"),
}
ADDED = BASE["exercises/foot-lift.md"].replace("A222", "X222").replace("Foot lift", "Toe lift")


def digest(folder: Path) -> dict[str, bytes]:
    """Every file of a folder."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


@pytest.fixture(scope="module")
def group(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The base with Spanish, and three clinics that are built, written down and reviewed by the commands that a person uses."""
    root = tmp_path_factory.mktemp("group")
    base = write(root / "group", BASE)
    change(base / "clinic.yaml", "languages: {source: en}", "languages: {source: en, also: [es]}")
    run("words", "collect", base, "--to", root / "base-out")
    assert fill(base / "words/es.po") > 40
    run("ledger", "update", base, "--unbuilt", "--today", DAY)
    before = digest(base)
    for slug, (name, phone, more, language, _) in CLINICS.items():
        library = write(root / slug, {"clinic.yaml": own_clinic(name, phone, more, language)})
        if slug == "west":
            write(library, {"exercises/toe-lift.md": ADDED})
        run("build", library, "--to", root / f"{slug}-out", "--no-paper", "--quiet", "--today", DAY, status=1)
        run("ledger", "update", library, "--unbuilt", "--today", DAY, status=1)
        run("base", "review", "*", "--by", f"{slug} lead physiotherapist", "--on", "2026-10-01", "--library", library)
        run("words", "collect", library, "--to", root / f"{slug}-out")
        fill(library / f"words/{language}.po")
        build(library)
        run("ledger", "update", library, "--to", root / f"{slug}-out", "--today", DAY)
    assert {path: data for path, data in digest(base).items() if path not in ("lock", ".lock")} == {path: data for path, data in before.items() if path != ".lock"}
    return root


@pytest.mark.parametrize("slug", CLINICS)
def test_each_has_its_own_dose_phone_and_language(group: Path, slug: str) -> None:
    """On the page of the exercise, in both languages; the other exercise is the base's everywhere."""
    name, phone, _, language, dose = CLINICS[slug]
    site = group / f"{slug}-out/site"
    page = text_of(site / "en/exercises/foot-lift/index.html")
    assert dose in page
    assert phone in page and name in page
    others = [each for key, each in CLINICS.items() if key != slug]
    assert not any(each[1] in page or f"{each[0]} Street" in page for each in others)
    assert (site / language / "exercises/foot-lift/index.html").is_file()
    assert {path.name for path in site.iterdir() if path.is_dir() and (path / "exercises").is_dir()} == {"en", language}
    assert "2 sets of 10" in text_of(site / "en/exercises/leg-lift/index.html")


@pytest.mark.parametrize("slug", CLINICS)
def test_reviews_of_base_and_clinic_are_told_apart(group: Path, slug: str) -> None:
    """The base's words were reviewed by the base, what differs by the clinic; what is the clinic's alone by the clinic alone."""
    site = group / f"{slug}-out/site"
    changed = text_of(site / "en/exercises/foot-lift/index.html")
    own = f"Changed here: the dose. Reviewed on October 1, 2026 by our {slug} lead physiotherapist."
    assert f"Last reviewed on September 14, 2026 by the lead physiotherapist of Group Library. {own}" in changed
    same = text_of(site / "en/exercises/leg-lift/index.html")
    assert "by the lead physiotherapist of Group Library." in same and "Changed here" not in same
    about = text_of(site / "en/about/index.html")
    assert "before it goes out, here or at Group Library." in about and "Lead physiotherapist, Group Library" in about
    if slug == "west":
        assert "Last reviewed on September 14, 2026 by our lead physiotherapist." in text_of(site / "en/exercises/toe-lift/index.html")
        assert "Changed here: the list of exercises. " in text_of(site / "en/programmes/stand-up/index.html")


def test_versions_and_codes_stay_true(group: Path) -> None:
    """What a clinic has as the base has it has the base's version; what differs has another; every code is the base's."""
    versions = {slug: json.loads((group / f"{slug}-out/report.json").read_text())["items"] for slug in CLINICS}
    of = {slug: {each["code"]: each["version"] for each in items} for slug, items in versions.items()}
    assert len({of[slug]["B222"] for slug in CLINICS}) == 1
    assert len({of[slug]["A222"] for slug in CLINICS}) == 3
    base = (group / "group/ledger.yaml").read_text()
    assert of["north"]["B222"] in base and of["north"]["A222"] not in base
    assert set(of["west"]) - set(of["north"]) == {"X222"}
    assert (group / "west-out/site/en/code/X222/index.html").is_file()


def test_own_catalogues_hold_own_texts_only(group: Path) -> None:
    """On a base with Spanish a Spanish catalogue has what the clinic says; in French, which the base lacks, it has all."""
    spanish = {entry.msgctxt for entry in polib.pofile(str(group / "north/words/es.po"))}
    assert "clinic/about" in spanish and "exercise/A222/title" not in spanish
    assert "shared/role" in spanish  # its own reviewer
    french = {entry.msgctxt for entry in polib.pofile(str(group / "south/words/fr.po"))}
    assert {"clinic/about", "exercise/A222/title", "caution/stop-pain/do"} <= french


def test_a_new_base_is_told_before_it_goes_out(group: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Both doses beside each other, which review is void, what changes for readers; the folders stay as they are."""
    new = write(tmp_path / "next", {path: data.decode() for path, data in digest(group / "group").items() if not path.startswith(".")})
    change(new / "exercises/foot-lift.md", "sets: 2, reps: 10", "sets: 2, reps: 12")
    change(new / "exercises/leg-lift.md", "Lift your foot.", "Lift your heel.")
    before = digest(group / "north")
    assert main(["base", "diff", str(new), "--library", str(group / "north"), "--quiet", "--today", DAY]) == 0
    said = capsys.readouterr().out
    assert said.startswith("What changes for readers since the base ../group: 3 things\n")
    assert "    - Lift your foot.\n    + Lift your heel.\n" in said
    assert "  from Group Library, but for the dose\n" in said
    beside = said[said.index("In another way here than in the base: 1 thing") :]
    assert "  the base's dose\n    - 2 sets of 10; 3 days" in beside and "    + 2 sets of 12; 3 days" in beside
    assert "  the dose here\n    - 3 sets of 10; 3 days" in beside and "    + 3 sets of 12; 3 days" in beside
    assert "the review of 2026-10-01 by north lead physiotherapist is void" in beside
    assert main(["base", "diff", str(group / "group"), str(new), "--library", str(group / "south"), "--json", "--today", DAY]) == 0
    told = hold(capsys.readouterr().out)
    (own,) = told["own"]
    assert own["name"] == "A222" and own["dose"]["now"].startswith("2 sets of 8;") and own["base dose"]["then"].startswith("2 sets of 10;")
    assert own["review"] == {"by": "south lead physiotherapist", "on": "2026-10-01", "stands": False}
    assert {change["owner"]: change["base"] for change in told["changes"]} == {"exercise/A222": "from Group Library, but for the dose", "exercise/B222": "from Group Library"}
    assert digest(group / "north") == before


def test_a_caution_of_the_base(group: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Which sheets it touches is said of what readers see, and not of what the base has of it."""
    new = write(tmp_path / "next", {path: data.decode() for path, data in digest(group / "group").items() if not path.startswith(".")})
    change(new / "cautions.yaml", "You have sharp pain.", "You have a sharp pain.")
    assert main(["base", "diff", str(new), "--library", str(group / "south"), "--json", "--today", DAY]) == 0
    told = hold(capsys.readouterr().out)
    (caution,) = [each for each in told["changes"] if each["owner"] == "caution/stop-pain"]
    assert any(each["languages lost"] == ["fr"] for each in told["changes"])
    assert caution["base"] == "from Group Library" and set(caution["sheets"]) == {"exercise/A222", "exercise/B222"}
    assert [each["name"] for each in told["own"]] == ["A222"] and not told["own"][0]["review"]["stands"]
    assert main(["base", "diff", str(new), "--library", str(group / "south"), "--html", str(tmp_path / "base.html"), "--quiet", "--today", DAY]) == 0
    assert "In another way here than in the base" in (tmp_path / "base.html").read_text()


def test_faults_of_a_diff_are_json_too(group: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A library without a base, a base that is none, a faulty one."""
    capsys.readouterr()
    assert main(["base", "diff", "--library", str(group / "group")]) == 2
    assert "stands on no base. Name one in clinic.yaml, as base: ../shared-library." in capsys.readouterr().err
    assert main(["base", "diff", str(tmp_path), "--library", str(group / "north")]) == 2
    assert f"there is no library in '{tmp_path}'. Name the folder of a base." in capsys.readouterr().err
    (tmp_path / "clinic.yaml").write_text("name: [")
    assert main(["base", "diff", str(tmp_path), "--library", str(group / "north"), "--json"]) == 1
    assert hold(capsys.readouterr().out)["problems"]


def test_a_changed_base_waits_for_the_clinics_review(group: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing goes out with a dose that was set beside another base; the diff without a folder tells from what was written down."""
    for name in ("group", "north"):
        write(tmp_path / name, {path: data.decode() for path, data in digest(group / name).items() if not path.startswith((".", "schema"))})
    change(tmp_path / "group/exercises/foot-lift.md", "sets: 2, reps: 10", "sets: 2, reps: 12")
    north = tmp_path / "north"
    run("build", north, "--to", tmp_path / "north-out", "--no-paper", "--quiet", "--today", DAY, status=1)
    what = "north/clinic.yaml:8:9: error: this library has the dose of 'Foot lift' in another way than its base, and the review of 2026-10-01 by north lead physiotherapist was of another state"
    assert f"{what} of the base or of this. Look at 'handouts base diff', then 'handouts base review A222 --by ROLE'; until then a build refuses. [own-change]" in capsys.readouterr().err
    run("base", "diff", "--library", north, "--quiet", "--today", DAY)
    said = capsys.readouterr().out
    assert "  the base's dose\n    - 2 sets of 10;" in said and "  the dose here\n    - 3 sets of 10;" in said and "is void" in said
    run("base", "review", "a222", "--by", "clinical lead", "--on", DAY, "--library", north)
    assert "since 'clinical lead' is to be translated." in capsys.readouterr().out
    run("check", north, "--today", DAY)


def test_what_the_base_withdraws_is_gone_here_too(group: Path, tmp_path: Path) -> None:
    """At the next build, with the base's reason, and written into the clinic's own ledger."""
    for name in ("group", "north"):
        write(tmp_path / name, {path: data.decode() for path, data in digest(group / name).items() if not path.startswith((".", "schema"))})
    run("withdraw", "B222", "--why", "It strained the knee.", "--library", tmp_path / "group", "--today", DAY)
    run("base", "review", "*", "--by", "north lead physiotherapist", "--on", DAY, "--library", tmp_path / "north")
    site = build(tmp_path / "north")
    assert "It strained the knee." in text_of(site / "en/code/B222/index.html")
    assert "Lift your foot." not in text_of(site / "en/code/B222/index.html") and "Leg lift" not in text_of(site / "en/exercises/index.html")
    run("ledger", "update", tmp_path / "north", "--to", tmp_path / "north-out", "--today", DAY)
    assert "It strained the knee." in (tmp_path / "north/ledger.yaml").read_text()
