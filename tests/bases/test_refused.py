"""What is wrong between a library and its base: the whole message, with the file of the one or the other."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from handouts.bases.own_changes import OWN_CHANGE
from handouts.build.loading import load
from handouts.build.settings import Settings
from handouts.problems import Grade, show_problem
from tests.bases.group import BASE, change, own_clinic, run, write
from tests.small_library import EXERCISE, TODAY


def errors(library: Path) -> list[str]:
    """Every error of a library, and what a build would refuse, as it is printed."""
    return [show_problem(each) for each in load(Settings(library, library / "no-out", TODAY, keep=False)).problems if each.grade is Grade.ERROR or each.rule == OWN_CHANGE]


@pytest.fixture
def north(tmp_path: Path) -> Path:
    """A clinic on the base, with nothing of its own."""
    write(tmp_path / "group", BASE)
    return write(tmp_path / "north", {"clinic.yaml": own_clinic("North")})


def test_nothing_of_its_own_is_no_fault(north: Path) -> None:
    """A clinic needs no more than its own keys."""
    assert errors(north) == []


def named(path: str) -> Callable[[Path], None]:
    """The clinic with another path to its base."""
    return lambda north: change(north / "clinic.yaml", "base: ../group", f"base: {path}")


def linked(north: Path) -> None:
    """The base behind a link."""
    (north.parent / "group").rename(north.parent / "real")
    (north.parent / "group").symlink_to("real")


def on_itself(north: Path) -> None:
    """A ring of two."""
    change(north.parent / "group/clinic.yaml", "codes kept free", "base: ../north\ncodes kept free")


def tower(north: Path) -> None:
    """Four libraries below one."""
    for number in range(4):
        write(north.parent / f"b{number}", {"clinic.yaml": own_clinic(f"B{number}").replace("../group", f"../b{number + 1}" if number < 3 else "../group")})
    named("../b0")(north)


def around(north: Path) -> None:
    """The base is the folder in which a clinic's folder lies."""
    write(north.parent / "all", BASE)
    north.rename(north.parent / "all/clinic")
    change(north.parent / "all/clinic/clinic.yaml", "../group", "../../all")


PATHS = [
    (named("/srv/group"), "clinic.yaml:6:7: error: '/srv/group' is not a path from this folder to that of the base, such as ../shared-library. Write it so; the folder lies beside this library's own. [base-path]"),
    (named("group"), "clinic.yaml:6:7: error: 'group' is not a path from this folder to that of the base, such as ../shared-library. Write it so; the folder lies beside this library's own. [base-path]"),
    (named('"../../../../../../etc"'), "[base-path]"),
    (named("../group/../group"), "[base-path]"),
    (named('"../gr\\u202eoup"'), "[forbidden-character]"),
    (named("../grupo"), "clinic.yaml:6:7: error: there is no folder '../grupo' beside this library. Put the base there, or name the folder in which it stands. [base-missing]"),
    (named("../group/exercises"), "clinic.yaml:6:7: error: the folder '../group/exercises' holds no library. Name the folder in which the base's clinic.yaml stands. [base-missing]"),
    (named("../north"), "[base-ring]"),
    (named("../north/x"), "[base-missing]"),
    (linked, "clinic.yaml:6:7: error: 'group' on the way to the base '../group' is a link to another place. Name the folder itself. [base-link]"),
    (on_itself, "group/clinic.yaml:17:7: error: '../north' leads back to a library that stands on this one, so there is nothing below. Take 'base' out of one of them. [base-ring]"),
    (tower, "error: more than 3 libraries stand on one another. Join some of them. [base-deep]"),
]


@pytest.mark.parametrize(("break_it", "says"), PATHS, ids=[says[-40:] + str(at) for at, (_, says) in enumerate(PATHS)])
def test_paths_that_lead_nowhere_good(north: Path, break_it: Callable[[Path], None], says: str) -> None:
    """Refused before a file of the base is read, at the place where it is named."""
    break_it(north)
    found = errors(north)
    assert any(says in each for each in found), found


def test_a_base_around_the_library(north: Path) -> None:
    """No file may belong to both."""
    around(north)
    (found,) = errors(north.parent / "all/clinic")
    assert "the base '../../all' and a library that stands on it lie one inside the other. Put them side by side, so that no file belongs to both. [base-inside]" in found


def test_a_pipe_in_the_base_is_never_opened(north: Path) -> None:
    """The base is read as carefully as the library itself, and its file is named."""
    (north.parent / "group/exercises/foot-lift.md").unlink()
    os.mkfifo(north.parent / "group/exercises/foot-lift.md")
    assert any(each.startswith("group/exercises/foot-lift.md:1:1: error: 'exercises/foot-lift.md' is not an ordinary file") for each in errors(north))


EDITS = [
    ("doses: {Z999: {sets: 1}}", {}, "north/clinic.yaml:8:9: error: 'Z999' in 'doses' is nothing that the base has. Use one of: A222, B222. [not-in-base]"),
    ("doses: {A222: {sets: 3, reps: 20}}", {}, "north/clinic.yaml:8:31: error: the dose's reps of 20 lies outside its range of 5 to 15. Change 'reps' in 'dose' or in 'dose range'. [dose-outside-range]"),
    ("doses: {A222: {set: 3}}", {}, "north/clinic.yaml:8:16: error: unknown key 'set' in a changed dose. Did you mean 'sets'? [unknown-key]"),
    ("doses: {foot-lift: {sets: 1}}", {}, "north/clinic.yaml:8:9: error: 'foot-lift' is not the code of an exercise. Write the code of an exercise. [wrong-value]"),
    ("left out: [first-dayz]", {}, "north/clinic.yaml:8:12: error: 'first-dayz' in 'left out' is nothing that the base has. Did you mean 'first-days'? [not-in-base]"),
    ("left out: [A222, B222]", {}, "north/clinic.yaml:8:11: error: without what is left out 'Stand up well' has no exercise left and would be gone. Leave it out too, by its code or its name; or give it other exercises in 'order'. [left-out-empties]"),
    ("left out: [B222, first-days]", {"bundles/mine.yaml": BASE["bundles/first-days.yaml"].replace("First days", "Mine")},
     "north/bundles/mine.yaml:3:35: error: 'leg-lift' is left out of this library, in clinic.yaml. Take it out here, name another one, or take it out of 'left out'. [unknown-name]"),
    ("left out: [A222]", {}, "north/clinic.yaml:8:11: notice: this library has the list of exercises of 'Stand up well' in another way than its base (step 1 is shown without Foot lift; 0 exercises are left), and nobody has reviewed that. Look at 'handouts base diff', then 'handouts base review P222 --by ROLE'; until then a build refuses. [own-change]"),
    ("order: {P222: {wake: [foot-lift, heel-lift]}}", {}, "north/clinic.yaml:8:34: error: 'heel-lift' is not declared in exercises/. "),
    ("order: {B222: [foot-lift]}", {}, "north/clinic.yaml:8:9: error: 'B222' in 'order' is nothing that the base has. "),
    ("doses: {A222: {sets: 1}}", {"exercises/foot-lift.md": BASE["exercises/foot-lift.md"]},
     "north/clinic.yaml:8:9: error: 'A222' has a file of its own in this library, which takes the place of the base's. Delete the file, or take it out of 'doses' and write it in the file. [own-twice]"),
    ("", {"exercises/heel-lift.md": EXERCISE.format(code="A222", title="Heel lift", tier="wake", after="")},
     "north/exercises/heel-lift.md:2:7: error: the code 'A222' is given twice (first in group/exercises/foot-lift.md:2:7). Give one of them a code of its own; a printed code never moves. [repeated-code]"),
    ("", {"exercises/heel-lift.md": EXERCISE.format(code="C222", title="Heel lift", tier="wake", after="")},
     "north/exercises/heel-lift.md:2:7: error: the base may give the code 'C222' to something that it adds later. Give it a code that begins with a letter that the base keeps free: X, Y. [code-not-free]"),
    ("", {"exercises/foot-lift.md": EXERCISE.format(code="X222", title="Foot lift", tier="wake", after="")},
     "north/exercises/foot-lift.md:2:7: error: this file has the name of the base's exercise A222, and the code X222 (group/exercises/foot-lift.md:2:7). Write the base's code to take its place, or give the file another name. [other-code]"),
    ("", {"cautions.yaml": "cautions:\n  - {slug: stop-pain, kind: stop, when: You have pain., do: Stop at once., call: clinic, source: ours}\n"},
     "north/clinic.yaml:6:7: notice: this library has the cautions of 'Foot lift' in another way than its base, and nobody has reviewed that. "),
    ("languages: {source: es}", {}, "north/clinic.yaml:7:21: error: the base is written in 'en', and this library in 'es'. Write 'source: en', and name other languages under 'also'. [base-language]"),
]


@pytest.mark.parametrize(("more", "files", "says"), EDITS, ids=[f"{at} {says[-30:]}" for at, (_, _, says) in enumerate(EDITS)])
def test_changes_that_do_not_fit(north: Path, more: str, files: dict[str, str], says: str) -> None:
    """Each names the file in the base or in the clinic, with line and column, and how to mend it."""
    clinic = own_clinic("North", more=more + "\n")
    if more.startswith("languages"):
        clinic = clinic.replace("languages: {source: en}\n", "")
    write(north, {"clinic.yaml": clinic, **files})
    found = errors(north)
    assert any(each.startswith(says) for each in found), found


def test_a_key_that_every_clinic_writes_itself(north: Path) -> None:
    """The base's address and phone are never taken: its sheets would lead elsewhere."""
    write(north, {"clinic.yaml": own_clinic("North").replace("site: https://north.example/\n", "")})
    assert "north/clinic.yaml:1:1: error: the clinic has no 'site'. Add the line 'site: …' (the address at which the site is published; QR codes lead there). [missing-key]" in errors(north)


def test_a_library_alone_changes_no_base(tmp_path: Path) -> None:
    """Said where it is written; a code that is kept free is none of its own."""
    alone = write(tmp_path / "alone", BASE)
    change(alone / "clinic.yaml", "codes kept free: [X, Y]", "codes kept free: [A]\nleft out: [B222]")
    found = errors(alone)
    assert "alone/clinic.yaml:18:11: error: 'left out' changes what a base has, and this library stands on none. Name the base, as base: ../shared-library, or write it in the files themselves. [no-base]" in found
    says = "alone/exercises/foot-lift.md:2:7: error: the code 'A222' begins with A, which 'codes kept free' leaves to the clinics that stand on this one. "
    assert f"{says}Give it another code, or take the letter out of clinic.yaml if no clinic uses it. [code-kept-free]" in found


def test_a_fault_in_the_base_names_the_base(north: Path) -> None:
    """File, line and column as in the base itself."""
    change(north.parent / "group/exercises/leg-lift.md", "title: Leg lift", "titel: Leg lift")
    assert "group/exercises/leg-lift.md:3:1: error: unknown key 'titel' in an exercise. Did you mean 'title'? [unknown-key]" in errors(north)


def test_an_own_file_tells_when_the_base_has_moved(north: Path) -> None:
    """A notice, since what readers see does not change; a review beside the base ends it."""
    write(north, {"exercises/leg-lift.md": BASE["exercises/leg-lift.md"].replace("Lift your foot.", "Lift your heel.")})
    problems = [show_problem(each) for each in load(Settings(north, north / "no-out", TODAY, keep=False)).problems]
    says = "north/exercises/leg-lift.md:2:7: notice: this file takes the place of the base's 'Leg lift', and nobody has compared both. "
    assert f"{says}Look at 'handouts base diff', then 'handouts base review B222 --by ROLE'. [base-moved]" in problems
    run("base", "review", "B222", "--by", "clinical lead", "--on", "2026-11-20", "--library", north)
    assert not [each for each in load(Settings(north, north / "no-out", TODAY, keep=False)).problems if each.rule == "base-moved"]
    change(north.parent / "group/exercises/leg-lift.md", "Lift your foot.", "Lift your toes.")
    (moved,) = [each for each in load(Settings(north, north / "no-out", TODAY, keep=False)).problems if each.rule == "base-moved"]
    assert moved.what == "this file takes the place of the base's 'Leg lift', and the base has changed since clinical lead compared both on 2026-11-20"


def test_both_reviews_must_be_in_time(north: Path) -> None:
    """What a clinic changed is due when the first of both reviews ends, and the notice stands where that one is."""
    write(north, {"clinic.yaml": own_clinic("North", more="doses: {A222: {sets: 3}}\n")})
    run("base", "review", "A222", "--by", "clinical lead", "--on", "2025-12-20", "--library", north)
    notices = [show_problem(each) for each in load(Settings(north, north / "no-out", TODAY, keep=False)).problems]
    assert "north/base.reviews.yaml:2:54: notice: the review ends on 2026-12-20, in 25 days. Plan the next review. [review-due]" in notices


def test_a_clinic_writes_into_its_own_folder_alone(north: Path) -> None:
    """Commands that write leave every byte of the base as it was."""
    base = north.parent / "group"
    before = {path: path.read_bytes() for path in base.rglob("*") if path.is_file()}
    write(north, {"clinic.yaml": own_clinic("North", more="doses: {A222: {sets: 3}}\n", language="es"), "schema/clinic.schema.json": "{}"})
    run("base", "review", "*", "--by", "clinical lead", "--on", "2026-11-20", "--library", north)
    run("words", "collect", north, "--to", north.parent / "out")
    run("words", "interface", "es", "--library", north)
    run("check", north, "--today", TODAY.isoformat())
    run("ledger", "update", north, "--unbuilt", "--today", TODAY.isoformat())
    run("withdraw", "B222", "--why", "It strained the knee.", "--library", north, "--today", TODAY.isoformat())
    run("new", "heel-slide", "--like", "heel-slide-supine", "--library", north)
    assert {path: path.read_bytes() for path in base.rglob("*") if path.is_file() and path.name != ".lock"} == before
    assert {path.name for path in north.iterdir()} >= {"base.reviews.yaml", "ledger.yaml", "published.yaml", "words", "exercises"}
    assert (north / "exercises/heel-slide.md").read_text().split("code: ")[1][0] in "XY"
    assert '"foot-lift"' in (north / "schema/exercise.schema.json").read_text()
    assert json.loads((north / "schema/clinic.schema.json").read_text())["required"] == ["name", "about", "site", "locations"]


def test_a_base_on_a_base(north: Path) -> None:
    """Each layer takes what it does not say itself; a problem names the layer that it is in."""
    write(north.parent / "region", {"clinic.yaml": own_clinic("Region", more="doses: {A222: {sets: 3}}\n"), "bundles/more.yaml": BASE["bundles/first-days.yaml"].replace("First days", "More days")})
    run("base", "review", "A222", "--by", "regional lead", "--on", "2026-11-20", "--library", north.parent / "region")
    write(north, {"clinic.yaml": own_clinic("North", more="left out: [first-days]\n").replace("../group", "../region")})
    loaded = load(Settings(north, north / "no-out", TODAY, keep=False))
    assert loaded.library is not None and errors(north) == []
    assert [item.slug for item in loaded.library.bundles] == ["more"]
    assert loaded.library.exercise["foot-lift"].dose.sets == 3
    assert [loaded.library.bundle["more"].review.of, loaded.library.exercise["leg-lift"].review.of] == ["Region", "Group Library"]
    change(north.parent / "region/bundles/more.yaml", "foot-lift", "toe-lift")
    assert any(each.startswith("region/bundles/more.yaml:3:13: error: 'toe-lift' is not declared in exercises/.") for each in errors(north))


def test_conflict_marks_in_the_clinic_are_named(north: Path) -> None:
    """A clinic.yaml that git left in two versions hides no fault behind missing files."""
    (north / "clinic.yaml").write_text("<<<<<<< HEAD\nbase: ../group\n=======\nbase: ../other\n>>>>>>> other\n")
    assert any(each.startswith("north/clinic.yaml:1:1: error: git left a conflict here") for each in errors(north))


def test_begin_a_library_on_a_base(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With the keys that a clinic must write, and schemas that ask for no others; a folder that is no library, or lies in the base, is refused."""
    base = write(tmp_path / "group", BASE)
    run("start", tmp_path / "north", "--base", base)
    clinic = (tmp_path / "north/clinic.yaml").read_text()
    assert "base: ../group\n" in clinic and "papers" not in clinic
    assert json.loads((tmp_path / "north/schema/clinic.schema.json").read_text())["required"] == ["name", "about", "site", "locations"]
    assert errors(tmp_path / "north") == []
    run("start", tmp_path / "more", "--base", tmp_path, status=2)
    assert f"there is no library in '{tmp_path}'. Name the folder in which its clinic.yaml stands." in capsys.readouterr().err
    run("start", base / "inner", "--base", base, status=2)
    assert "cannot stand on" in capsys.readouterr().err
    assert not (base / "inner").exists() and not (tmp_path / "more").exists()


def test_what_the_base_withdrew_is_gone_before_a_clinic_publishes(north: Path) -> None:
    """Without a ledger of its own, too; its files go on naming it, as after a withdrawal of its own."""
    run("ledger", "update", north.parent / "group", "--unbuilt", "--today", TODAY.isoformat())
    run("withdraw", "B222", "--why", "It strained the knee.", "--library", north.parent / "group", "--today", TODAY.isoformat())
    loaded = load(Settings(north, north / "no-out", TODAY, keep=False))
    assert errors(north) == []
    assert loaded.library is not None and [item.slug for item in loaded.library.exercises] == ["foot-lift"]
