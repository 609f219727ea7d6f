"""Something is withdrawn in one go: nothing names it any more, what came after it falls back, and every sheet is told why."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from html import unescape
from pathlib import Path

import pytest

from handouts.cli import main
from handouts.dose.progression import build_progression
from handouts.ledger.entries import Ledger
from handouts.model import Library, Ref
from handouts.problems import show_problem
from handouts.rules.graph import check_cycles
from handouts.rules.lapsed import sort_by_review
from handouts.rules.names import check_exercises, check_whole_steps
from handouts.rules.question import ask_about
from handouts.rules.withdrawn import find_withdrawn, without
from tests.changes.test_changes import build, edit, published, update
from tests.small_library import CLASS, EXERCISE, FUNCTION_TEST, LEAFLET, LESSON, TEXTS, TODAY, small_library
from tests.test_cli import write
from tests.words.demo import demo

FOOT, LEG, BUNDLE, PROGRAMME = "exercises/foot-lift.md", "exercises/leg-lift.md", "bundles/first-days.yaml", "programmes/stand-up.md"
THIRD = "exercises/toe-lift.md"
THREE: Mapping[str, str] = {
    **TEXTS,
    THIRD: EXERCISE.format(code="C222", title="Toe lift", tier="live", after="after: [leg-lift]\n"),
    PROGRAMME: TEXTS[PROGRAMME].replace("review:", "  - {tier: live, enter when: You can do each one above., exercises: [toe-lift]}\nreview:"),
    "bundles/legs.yaml": TEXTS[BUNDLE].replace("First days", "Legs alone").replace("[foot-lift, {exercise: leg-lift, dose: {sets: 1}}]", "[leg-lift]"),
}


def withdraw(folder: Path, *words: str) -> int:
    """The command."""
    return main(["withdraw", *words, "--library", str(folder / "lib"), "--today=2026-11-27"])


def text_of(folder: Path, path: str) -> str:
    """What stands in the main part of a page."""
    main_part = re.search(r"<main.*?</main>", (folder / "out/site" / path).read_text(), re.DOTALL)
    assert main_part
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", main_part[0])).split())


def test_in_one_go(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The middle of a line: what came after it falls back, programme and bundles go on without it, the empty bundle goes with it."""
    folder = published(tmp_path, THREE)
    files = {path: (folder / "lib" / path).read_bytes() for path in THREE}
    capsys.readouterr()
    assert withdraw(folder, "b222", "--why", "It strained  the knee.") == 0
    assert capsys.readouterr().out == (
        "Leg lift (B222) is withdrawn: It strained the knee.\n"
        "  Toe lift came after Leg lift; now it comes after Foot lift\n"
        "  Stand up well step 2 is shown without Leg lift; 0 exercises are left\n"
        "  First days is shown without Leg lift\n"
        "  Legs alone has no exercise left and is withdrawn with it\n"
        f"Next: handouts build {folder / 'lib'}, copy the site, handouts ledger update.\n"
        "To take it back, delete 'withdrawn' in its entry in ledger.yaml.\n"
    )
    assert {path: (folder / "lib" / path).read_bytes() for path in THREE} == files
    assert main(["check", str(folder / "lib"), "--today=2026-11-27"]) == 0
    assert build(folder, "2026-11-27") == 0
    for page in ("en/code/B222/index.html", "en/exercises/leg-lift/index.html"):
        assert text_of(folder, page) == (
            "Code B222 Leg lift This was withdrawn on November 27, 2026. Stop using the sheet, and ask your clinician what to do in its place. It strained the knee."
        )
    assert "This was withdrawn on November 27, 2026." in text_of(folder, "en/bundles/legs/index.html")
    assert "Leg lift" not in text_of(folder, "en/programmes/stand-up/index.html")
    assert "missing here" not in text_of(folder, "en/programmes/stand-up/index.html")
    assert "its place among the other exercises" in text_of(folder, "en/exercises/toe-lift/index.html")
    report = json.loads((folder / "out/report.json").read_text())
    assert [(item["code"], item["why"]) for item in report["withdrawn"]] == [("B222", "It strained the knee."), ("legs", "It strained the knee.")]
    assert update(folder, today="2026-11-27") == 0
    capsys.readouterr()
    assert main(["check", str(folder / "lib"), "--today=2026-11-27"]) == 0
    assert "notice" not in capsys.readouterr().err


def test_taken_back(tmp_path: Path) -> None:
    """Without its line in the ledger it stands where it stood."""
    folder = published(tmp_path, THREE)
    before = (folder / "lib/ledger.yaml").read_bytes()
    assert withdraw(folder, "B222", "--why", "It strained the knee.") == 0
    assert build(folder, "2026-11-27") == 0
    (folder / "lib/ledger.yaml").write_bytes(before)
    assert build(folder, "2026-11-27") == 0
    assert "Leg lift" in text_of(folder, "en/programmes/stand-up/index.html")


def test_replaced(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What took its place stands before what came after it, and its code leads there."""
    side = EXERCISE.format(code="D222", title="Side lift", tier="build", after="after: [foot-lift]\n")
    programme = THREE[PROGRAMME].replace("exercises: [leg-lift]", "exercises: [leg-lift, side-lift]")
    folder = published(tmp_path, {**THREE, "exercises/side-lift.md": side, PROGRAMME: programme})
    capsys.readouterr()
    assert withdraw(folder, "B222", "--why", "It strained the knee.", "--replaced-by", "D222") == 0
    assert "  Toe lift came after Leg lift; now it comes after Side lift\n" in capsys.readouterr().out
    assert build(folder, "2026-11-27") == 0
    assert text_of(folder, "en/code/B222/index.html").endswith("It strained the knee. What replaced it: Side lift")


def test_a_programme_takes_its_bundles_with_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A bundle without its programme would lose the programme's cautions."""
    bundle = TEXTS[BUNDLE].replace("for: ", "programme: stand-up\ntier: wake\nfor: ").replace(", {exercise: leg-lift, dose: {sets: 1}}", "")
    folder = published(tmp_path, {**TEXTS, BUNDLE: bundle})
    capsys.readouterr()
    assert withdraw(folder, "P222", "--why", "It was too much.") == 0
    assert "  First days belongs to a programme that goes, and is withdrawn with it\n" in capsys.readouterr().out
    assert build(folder, "2026-11-27") == 0
    assert "It was too much." in text_of(folder, "en/bundles/first-days/index.html")


@pytest.mark.parametrize(("words", "said"), [
    (["ZZZZ", "--why", "x"], "there is no 'ZZZZ'."),
    (["B222", "--why", "x", "--replaced-by", "B222"], "'B222' cannot take its place: name something else that is in the library."),
    (["B222", "--why", "x", "--replaced-by", "Q222"], "'Q222' cannot take its place: name something else that is in the library."),
    (["B222", "--why", " "], "[wrong-value]"),
    (["B222", "--why", "a\u200bb"], "[forbidden-character]"),
    (["B222", "--why", "x" * 301], "[wrong-value]"),
    (["B222", "--why", "x", "--why-in", "e s", "y"], "[wrong-value]"),
])
def test_or_not_at_all(words: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What cannot be written whole is not written."""
    folder = published(tmp_path, THREE)
    before = (folder / "lib/ledger.yaml").read_bytes()
    capsys.readouterr()
    assert withdraw(folder, *words) in (1, 2)
    assert said in capsys.readouterr().err
    assert (folder / "lib/ledger.yaml").read_bytes() == before


def test_lessons_and_advice_sheets(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A lesson goes with what it teaches, an advice sheet is shown without it; the address of an emptied list holds no build up."""
    leaflet = LEAFLET.replace("review:", "keep: [foot-lift, leg-lift]\nreview:", 1)
    folder = published(tmp_path, {**TEXTS, "lessons/teach-foot-lift.md": LESSON, "leaflets/rest-well.md": leaflet})
    assert build(folder) == 0
    assert "Foot lift" in text_of(folder, "en/leaflets/rest-well/index.html")
    capsys.readouterr()
    assert withdraw(folder, "A222", "--why", "It strained the knee.") == 0
    said = capsys.readouterr().out
    assert "  Rest well is shown without Foot lift\n  How we teach the foot lift teaches what goes, and is withdrawn with it\n" in said
    assert build(folder, "2026-11-27") == 0
    assert "It strained the knee." in text_of(folder, "en/lessons/teach-foot-lift/index.html")
    assert text_of(folder, "en/lessons/index.html").endswith("Exercises")
    sheet = text_of(folder, "en/leaflets/rest-well/index.html")
    assert "Leg lift" in sheet and "Foot lift" not in sheet


@pytest.mark.parametrize(("path", "text"), [("leaflets/rest-well.md", LEAFLET), ("lessons/teach-foot-lift.md", LESSON), ("tests/chair-stand.md", FUNCTION_TEST),
                                              ("classes/chair-circle.yaml", CLASS)])
def test_what_holds_no_exercise_is_withdrawn_too(path: str, text: str, tmp_path: Path) -> None:
    """Its page says so, and the address of its list leads on."""
    folder = published(tmp_path, {**TEXTS, path: text})
    assert build(folder) == 0
    code = re.search("^code: (.*)$", text, re.MULTILINE)
    assert code and withdraw(folder, code[1], "--why", "It was wrong.") == 0
    assert build(folder, "2026-11-27") == 0
    assert "It was wrong." in text_of(folder, f"en/{path.rpartition('.')[0]}/index.html")
    assert text_of(folder, f"en/{path.partition('/')[0]}/index.html").endswith("Exercises")


def test_twice_and_never_published(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A second time it says so; what no ledger knows yet is written down and withdrawn."""
    folder = published(tmp_path)
    assert withdraw(folder, "A222", "--why", "It strained the knee.") == 0
    assert withdraw(folder, "A222", "--why", "It strained the knee.") == 2
    assert "'Foot lift' (A222) is withdrawn already" in capsys.readouterr().err
    write(folder / "lib", {THIRD: THREE[THIRD], PROGRAMME: THREE[PROGRAMME]})
    assert withdraw(folder, "C222", "--why", "It was a mistake.") == 0
    assert build(folder, "2026-11-27") == 0
    assert "It was a mistake." in text_of(folder, "en/code/C222/index.html")


def test_an_urgent_withdrawal_needs_no_approval(tmp_path: Path) -> None:
    """What is left was approved before."""
    write(tmp_path / "lib", {**THREE, "clinic.yaml": TEXTS["clinic.yaml"] + "approval: required\n"})
    assert update(tmp_path, "--approved-by", "clinical lead") == 0
    assert build(tmp_path) == 0
    assert withdraw(tmp_path, "B222", "--why", "It strained the knee.") == 0
    assert build(tmp_path, "2026-11-27") == 0
    edit(tmp_path, FOOT, ("Sit tall.", "Sit up."))
    assert build(tmp_path, "2026-11-27") == 1


def refs_of(library: Library) -> set[str]:
    """Every exercise that something of a library names."""
    ways = (way.exercise for item in library.exercises for way in (*item.easier, *item.harder) if way.exercise)
    after = (need for item in library.exercises for need in item.after if isinstance(need, Ref))
    inside = (slug for programme in library.programmes for slug in programme.exercise_slugs)
    return {*(ref.slug for ref in (*ways, *after)), *inside, *(pick.exercise.slug for bundle in library.bundles for pick in bundle.picks)}


def test_any_exercise_of_the_demo() -> None:
    """Nothing names what is gone, there is no ring, and what had something before it has something before it, unless the first of a line went."""
    library = demo()[0]
    needs = build_progression(library).needs
    for gone in library.exercises:
        left = without(library, {f"exercises/{gone.slug}": ""}).library
        assert gone.slug not in refs_of(left) | set(left.exercise)
        now = build_progression(left).needs
        for slug, before in needs.items():
            if slug != gone.slug and before and not now[slug]:
                assert before == (gone.slug,) and not needs[gone.slug], slug
        question = ask_about(sort_by_review(left, TODAY).library, TODAY)  # advice sheets and lessons that name it go there
        found = [each for rule in (check_exercises, check_whole_steps, check_cycles) for each in rule(question)]
        assert [show_problem(each) for each in found if not each.place.file.endswith("vocabulary.yaml")] == []  # words to search by may name it


def test_without_anything_withdrawn_the_library_is_itself() -> None:
    """No copy is made, so nothing is digested twice."""
    library = small_library()
    assert find_withdrawn(library, None) == find_withdrawn(library, Ledger()) == {}
    assert without(library, {}).library is library
