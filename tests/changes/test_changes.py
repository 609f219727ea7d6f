"""What a new version changes for readers, who approved it, and versions that were published and not written down."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path

import pytest

from handouts.changes.facts import read_facts, write_facts
from handouts.changes.show import KINDS as PRINTED
from handouts.cli import main
from handouts.ledger.entries import KINDS
from tests.small_library import FUNCTION_TEST, TEXTS, texts_with
from tests.test_cli import write
from tests.test_lost_addresses import write_anew
from tests.test_work import texts as two_languages

TODAY, LATER = "2026-11-25", "2026-11-28"
FOOT, LEG, BUNDLE = "exercises/foot-lift.md", "exercises/leg-lift.md", "bundles/first-days.yaml"


def build(folder: Path, today: str = TODAY, *words: str) -> int:
    """A build of the library without sheets."""
    return main(["build", str(folder / "lib"), f"--to={folder / 'out'}", "--no-paper", "--jobs=1", f"--today={today}", *words])


def update(folder: Path, *words: str, today: str = TODAY) -> int:
    """``ledger update``."""
    return main(["ledger", "update", str(folder / "lib"), f"--to={folder / 'out'}", f"--today={today}", *words])


def published(folder: Path, files: Mapping[str, str] = TEXTS) -> Path:
    """A library that was built and written down."""
    write(folder / "lib", files)
    assert build(folder) == 0
    assert update(folder) == 0
    return folder


def edit(folder: Path, path: str, *edits: tuple[str, str]) -> None:
    """Changes one place each in a file of the library."""
    file = folder / "lib" / path
    text = file.read_text()
    for old, new in edits:
        assert text.count(old) == 1, (old, text.count(old))
        text = text.replace(old, new)
    file.write_text(text)


def said(folder: Path, capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """What ``changes`` says."""
    capsys.readouterr()
    assert main(["changes", str(folder / "lib"), f"--to={folder / 'out'}", f"--today={LATER}", *words]) == 0
    return capsys.readouterr().out


def test_nothing_changes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As it was published, and as it is read again from its file."""
    published(tmp_path)
    assert said(tmp_path, capsys) == "Nothing changes for readers since 2026-11-25.\n"
    data = (tmp_path / "lib/published.yaml").read_bytes()
    facts, problems = read_facts(data, "published.yaml")
    assert facts is not None and not problems
    assert write_facts(facts) == data


def test_doses_steps_and_cautions_then_and_now(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In the words of the pages, with the sheets that are touched; order and wording are told apart."""
    published(tmp_path)
    edit(tmp_path, FOOT, ("sets: 2, reps: 10", "sets: 3, reps: 12"), ("2. Lift your foot.", "2. Lift one foot.\n3. Hold still."))
    edit(tmp_path, "cautions.yaml", ("do: Go slower.", "do: Go slower and rest."))
    edit(tmp_path, LEG, ("cautions: [stop-pain]", "cautions: [stop-pain, go-slow]"))
    edit(tmp_path, "clinic.yaml", ("phone: 555-0100", "phone: 555-0199"))
    assert said(tmp_path, capsys) == """\
What changes for readers since 2026-11-25: 6 things

Test Clinic (clinic): changed
  phone numbers
    - Main Street: 555-0100
    + Main Street: 555-0199
  printed sheets that are touched: Foot lift (sheet); Leg lift (sheet); Stand up well (booklet); First days (bundle)

You feel tired. (go-slow): changed
  what to do
    - Go slower.
    + Go slower and rest.
  printed sheets that are touched: Leg lift (sheet)

Foot lift (A222): changed
  the dose
    - 2 sets of 10; 3 days a week; rest 1 minute between sets; effort 3 to 5 out of 10; 2 seconds to move, 1 second hold, 2 seconds back
    + 3 sets of 12; 3 days a week; rest 1 minute between sets; effort 3 to 5 out of 10; 2 seconds to move, 1 second hold, 2 seconds back
  how to do it
    - Lift your foot.
    + Lift one foot.
    + Hold still.
  printed sheets that are touched: Foot lift (sheet); Stand up well (booklet); First days (bundle)

Leg lift (B222): changed
  the cautions, or when to stop
    + You feel tired. Go slower and rest.
  printed sheets that are touched: Leg lift (sheet); Stand up well (booklet); First days (bundle)

First days (first-days): changed
  the exercises in it
    - Foot lift: 2 sets of 10, 3 days a week, rest 1 minute between sets, effort 3 to 5 out of 10, and 2 seconds to move, 1 second hold, 2 seconds back
    + Foot lift: 3 sets of 12, 3 days a week, rest 1 minute between sets, effort 3 to 5 out of 10, and 2 seconds to move, 1 second hold, 2 seconds back
  printed sheets that are touched: First days (bundle)
""".replace("6 things", "5 things")


def test_addresses_that_lead_elsewhere_and_withdrawals(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A renamed exercise, a withdrawn one, a replaced bundle: where each address leads."""
    folder = published(tmp_path)
    files = {path: (folder / "lib" / path).read_text() for path in (*TEXTS, "ledger.yaml", "published.yaml")}
    moved = {path.replace("leg-lift", "leg-raise"): text.replace("exercise: leg-lift", "exercise: leg-raise").replace("[leg-lift]", "[leg-raise]") for path, text in files.items()}
    del moved[BUNDLE]
    entry = '  - code: "first-days"\n    kind: bundle  # first-days\n'
    assert moved["ledger.yaml"].count(entry) == 1
    moved["ledger.yaml"] = moved["ledger.yaml"].replace(entry, entry + '    withdrawn: {on: 2026-11-27, why: "It was too much."}\n')
    write_anew(folder / "lib", moved)
    assert said(folder, capsys) == """\
What changes for readers since 2026-11-25: 2 things

Leg lift (B222): changed
  en/exercises/leg-lift/ leads to en/exercises/leg-raise/

First days (first-days): withdrawn: It was too much.
  no longer in: English (en)
  en/bundles/first-days/ says what became of it
  printed sheets that are touched: First days (bundle)
"""


def test_languages_gained_and_lost(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One changed word of a step takes an exercise out of Spanish, and back it brings it."""
    folder = published(tmp_path, {path: text for path, text in two_languages().items() if path != "ledger.yaml"})
    step = next(line for line in (folder / "lib/exercises/arm-lift.md").read_text().splitlines() if line.startswith("1. "))
    edit(folder, "exercises/arm-lift.md", (step, step.replace("1. ", "1. Now ")))
    assert "  no longer in: Spanish (es)\n" in said(folder, capsys)
    assert build(folder, LATER) == 0
    assert update(folder) == 0
    edit(folder, "exercises/arm-lift.md", (step.replace("1. ", "1. Now "), step))
    assert "  now also in: Spanish (es)\n" in said(folder, capsys)


def test_since_a_version_a_day_and_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Of an older publication the dose and which parts changed; of a folder all texts; a word that is none of them is named."""
    folder = published(tmp_path)
    write(tmp_path / "former", TEXTS)
    first = re.search(r'version: "(\w+)", on: 2026-11-25, dose', (folder / "lib/ledger.yaml").read_text())
    assert first
    edit(folder, FOOT, ("sets: 2, reps: 10", "sets: 3, reps: 12"), ("Lift your foot.", "Lift one foot."))
    assert build(folder, LATER) == update(folder, today=LATER) == 0
    assert said(folder, capsys) == "Nothing changes for readers since 2026-11-28.\n"
    for since in (first[1], first[1].lower(), "2026-11-26"):
        told = said(folder, capsys, f"--since={since}")
        assert told.startswith("Of this publication the ledger keeps doses and which parts changed, not every text.\n")
        assert "Foot lift (A222): changed\n  the dose\n    - 2 sets of 10; 3 days a week; rest" in told
        assert "\n    + 3 sets of 12; 3 days a week; rest 1 minute" in told
        assert "2 seconds back\n  how to do it\n  printed sheets" in told
    told = said(folder, capsys, f"--since={tmp_path / 'former'}")
    assert "    - Lift your foot.\n    + Lift one foot.\n" in told
    assert main(["changes", str(folder / "lib"), "--since=QQQQQQ"]) == 2
    assert "'QQQQQQ' is no version of the ledger, no day and no folder." in capsys.readouterr().err


def test_as_a_page_and_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The page escapes what it shows; the record says the same."""
    folder = published(tmp_path)
    edit(folder, FOOT, ("Sit tall.", "Sit tall & wide."))
    told = json.loads(said(folder, capsys, "--json"))
    (change,) = [each for each in told["changes"] if each["owner"] == "exercise/A222"]
    assert change["differences"] == [{"part": "cue", "then": ["Sit tall."], "now": ["Sit tall & wide."]}]
    assert (told["kind"], told["format"], told["since"]) == ("changes", 1, "2026-11-25")
    page = tmp_path / "changes.html"
    assert said(folder, capsys, f"--html={page}") == f"{page}\n"
    assert "<del>Sit tall.</del>" in page.read_text()
    assert "<ins>Sit tall &amp; wide.</ins>" in page.read_text()


REQUIRED = {"clinic.yaml": TEXTS["clinic.yaml"] + "approval: required\n"}


def test_nothing_unapproved_is_built(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where the clinic asks for it a build refuses each change until a role has approved it; the site says who did."""
    write(tmp_path / "lib", {**TEXTS, **REQUIRED})
    assert main(["check", str(tmp_path / "lib"), f"--today={TODAY}"]) == 0
    assert build(tmp_path) == 1
    assert (
        "lib/clinic.yaml:17:11: error: 5 things are not approved as they stand now: foot-lift, leg-lift, stand-up, first-days, the clinic's own words. "
        "See 'handouts changes', then 'handouts ledger update --approved-by ROLE'; until then a build refuses. [not-approved]"
    ) in capsys.readouterr().err
    assert update(tmp_path, "--approved-by", "clinical lead") == 0
    assert build(tmp_path) == 0
    page = (tmp_path / "out/site/en/exercises/foot-lift/index.html").read_text()
    assert "Approved for use on November 25, 2026 by our clinical lead." in page
    ledger = (tmp_path / "lib/ledger.yaml").read_text()
    assert ledger.count('approved: {by: "clinical lead", on: 2026-11-25}') == 5
    edit(tmp_path, FOOT, ("Sit tall.", "Sit up."))
    assert build(tmp_path, LATER) == 1
    assert "3 things are not approved as they stand now: foot-lift, stand-up, first-days." in capsys.readouterr().err
    assert "  not approved\n" in said(tmp_path, capsys)
    assert update(tmp_path, "--approved-by", "shoulder lead", "--code", "A222", today=LATER) == 0
    assert build(tmp_path, LATER) == 1
    assert "2 things are not approved as they stand now: stand-up, first-days." in capsys.readouterr().err
    assert update(tmp_path, "--approved-by", "clinical lead", today=LATER) == 0
    assert build(tmp_path, LATER) == 0
    assert "by our shoulder lead" in (tmp_path / "out/site/en/exercises/foot-lift/index.html").read_text()
    edit(tmp_path, "clinic.yaml", ("phone: 555-0100", "phone: 555-0199"))
    assert build(tmp_path, LATER) == 1
    assert "1 thing is not approved as it stands now: the clinic's own words." in capsys.readouterr().err


def test_a_lapsed_review_needs_no_new_approval(tmp_path: Path) -> None:
    """The nightly build goes on when a review ends: what is left was approved."""
    lapsing = texts_with(FOOT, ("on: 2026-09-14", "on: 2025-09-14"))
    write(tmp_path / "lib", {**lapsing, **REQUIRED})
    assert update(tmp_path, "--approved-by", "clinical lead") == 0
    assert build(tmp_path) == 0
    assert build(tmp_path, "2027-01-20") == 0
    assert "review is not done" in (tmp_path / "out/site/en/exercises/foot-lift/index.html").read_text()


@pytest.mark.parametrize("name", ["Dr. Anna Beispiel", "L. Marten", "Anna Beispiel"])
def test_a_personal_name_is_no_role(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """On the command line and in the ledger."""
    folder = published(tmp_path)
    with pytest.raises(SystemExit, match="2"):
        update(folder, "--approved-by", name)
    assert "reads like the name of a person" in capsys.readouterr().err
    assert update(folder, "--approved-by", "clinical lead") == 0
    edit(folder, "ledger.yaml", ('clinic:\n  - {version: ', f'clinic:\n  - {{approved: {{by: "{name}", on: 2026-11-25}}, version: "AAAAAA"}}\n  - {{version: '))
    assert main(["check", str(folder / "lib"), f"--today={TODAY}"]) == 1
    assert "[person-named]" in capsys.readouterr().err


def test_a_ledger_of_a_newer_program(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It is called that, whatever else is new in it."""
    folder = published(tmp_path)
    edit(folder, "ledger.yaml", ("codes:\n", "format: 3\nsigned: yes\ncodes:\n"))
    capsys.readouterr()
    assert main(["check", str(folder / "lib"), f"--today={TODAY}"]) == 1
    assert capsys.readouterr().err == (
        "lib/ledger.yaml:7:9: error: a newer handouts wrote this ledger (format 3; this one reads up to 2). "
        "Upgrade handouts on this machine. [newer-ledger]\n1 error\n"
    )


def test_a_version_that_was_built_and_not_written_down(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The next command names it, also after another build; --built writes it down, so that its sheet is told what changed."""
    folder = published(tmp_path)
    edit(folder, FOOT, ("reps: 10", "reps: 9"))
    assert build(folder, "2026-11-26") == 0
    middle = next(each for each in json.loads((folder / "out/report.json").read_text())["items"] if each["code"] == "A222")["version"]
    edit(folder, FOOT, ("reps: 9", "reps: 8"))
    notice = f"foot-lift {middle} (2026-11-26)"
    for command in (["check"], ["changes"], ["check"]):
        capsys.readouterr()
        assert main([*command, str(folder / "lib"), *([f"--to={folder / 'out'}"] if command != ["check"] else []), f"--today={LATER}"]) == 0
    capsys.readouterr()
    assert build(folder, LATER) == 0
    told = capsys.readouterr().err
    assert notice in told and "'handouts ledger update --built' writes them down" in told
    assert build(folder, LATER, "--no-cache") == 0
    assert notice in capsys.readouterr().err
    assert update(folder, "--built", today=LATER) == 0
    ledger = (folder / "lib/ledger.yaml").read_text()
    assert f'{{version: "{middle}", on: 2026-11-26, changed: [dose], dose: {{sets: 2, reps: 9,' in ledger
    assert ledger.index("reps: 10,") < ledger.index("reps: 9,") < ledger.index("reps: 8,")
    assert build(folder, LATER) == 0
    assert f'id="{middle}"' in (folder / "out/site/en/exercises/foot-lift/index.html").read_text()
    assert "version-not-in-ledger" not in capsys.readouterr().err


def test_a_draft_that_was_never_published_is_forgotten(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """After the next ledger update nobody is asked about it again."""
    folder = published(tmp_path)
    for number, now in ((10, 9), (9, 8)):
        edit(folder, FOOT, (f"reps: {number}", f"reps: {now}"))
        assert build(folder, LATER) == 0
    assert "version-not-in-ledger" in capsys.readouterr().err
    assert update(folder, today=LATER) == 0
    edit(folder, FOOT, ("reps: 8", "reps: 7"))
    capsys.readouterr()
    assert build(folder, LATER) == 0
    assert "version-not-in-ledger" not in capsys.readouterr().err


def test_an_older_form_of_the_ledger_is_written_anew(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where nothing is new the file still takes the form that merges."""
    folder = published(tmp_path)
    path = folder / "lib/ledger.yaml"
    now = path.read_bytes()
    path.write_bytes(re.sub(rb"  # [\w-]+$", b"", now, flags=re.MULTILINE))
    assert path.read_bytes() != now
    capsys.readouterr()
    assert update(folder) == 0
    assert capsys.readouterr().out == "Nothing is new since the ledger was written.\n"
    assert path.read_bytes() == now


def test_a_dose_that_reads_the_same_is_not_shown_twice(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Since an older version: a part of the dose that no sentence says is named alone."""
    folder = published(tmp_path, texts_with(FOOT, ("reps: 10,", "reps: 10, side: both,")))
    edit(folder, FOOT, ("side: both,", "side: both, limb: leg,"))
    assert build(folder, LATER) == update(folder, today=LATER) == 0
    told = said(folder, capsys, "--since=2026-11-25")
    assert "Foot lift (A222): changed\n  the dose\n  printed sheets" in told


def test_the_sheet_of_every_kind_has_a_name() -> None:
    """What the ledger knows may be printed, and a change of the clinic's words touches all of it."""
    assert set(PRINTED) == set(KINDS)


def test_a_change_that_touches_a_card(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A phone number stands on the card of a test, too."""
    folder = published(tmp_path, {**TEXTS, "tests/chair-stand.md": FUNCTION_TEST})
    edit(folder, "clinic.yaml", ("phone: 555-0100", "phone: 555-0177"))
    assert "Chair stand (card)" in said(folder, capsys)
