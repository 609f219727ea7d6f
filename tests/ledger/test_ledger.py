"""The ledger: what it writes down, what it refuses, and an old sheet walked through a rename, a replacement, a withdrawal."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from handouts import model
from handouts.bundle.catalogue import make_catalogue
from handouts.bundle.code import decode_bundle, encode_bundle
from handouts.bundle.values import OpenedBundle, PickedBundle
from handouts.ledger.check import check_ledger
from handouts.ledger.entries import Ledger
from handouts.ledger.history import follow, former_doses, former_versions
from handouts.ledger.parts import (
    BUNDLE_PARTS,
    EXERCISE_PARTS,
    PART_NAMES,
    PROGRAMME_PARTS,
    STANDALONE_PARTS,
    bundle_parts,
    changed_parts,
    exercise_parts,
    programme_parts,
)
from handouts.ledger.read import read_ledger
from handouts.ledger.stamp import LATER, UNSEEN, stamp_of, stamps_of
from handouts.ledger.update import Present, find_present, find_titles, say_update, update_ledger
from handouts.ledger.write import write_dose, write_ledger
from handouts.library.dose_shapes import DOSE
from handouts.model import (
    Bundle,
    Counted,
    Dose,
    DoseChange,
    Exercise,
    Pick,
    Programme,
    Ref,
    Side,
    Span,
    Tempo,
    WorkKind,
)
from handouts.problems import Place, show_problem
from handouts.source.nodes import compose
from handouts.words.standalone_texts import STANDALONE_KINDS
from tests.builders import an_exercise, easier_ways, harder_ways
from tests.small_library import TEXTS, read_texts, small_library, texts_with

FOOT, LEG = "exercises/foot-lift.md", "exercises/leg-lift.md"
FIRST, SECOND = date(2026, 9, 1), date(2026, 11, 1)


def present_of(texts: Mapping[str, str], ledger: Ledger | None = None) -> tuple[Present, ...]:
    """What the library of some texts has now."""
    library = small_library(texts)
    return find_present(library, stamps_of(library), ledger)


def the_ledger(texts: Mapping[str, str] = TEXTS, on: date = FIRST, before: Ledger | None = None) -> Ledger:
    """The ledger after a publication, as it is read again from its file."""
    written = write_ledger(update_ledger(before or Ledger(), present_of(texts, before), on))
    ledger, problems = read_ledger(written, "content/ledger.yaml")
    assert ledger is not None, problems
    return ledger


def with_lines(ledger: Ledger, code: str, lines: str) -> Ledger:
    """The ledger after a person added lines to an entry."""
    text = write_ledger(ledger).decode()
    head, tail = text.split(f'  - code: "{code}"\n')
    made, problems = read_ledger(f'{head}  - code: "{code}"\n{lines}{tail}'.encode(), "content/ledger.yaml")
    assert made is not None, problems
    return made


def said(ledger: Ledger, texts: Mapping[str, str]) -> list[str]:
    """Every message of the check."""
    return [show_problem(problem) for problem in check_ledger(ledger, present_of(texts, ledger))]


def moved(texts: Mapping[str, str], old: str, new: str) -> dict[str, str]:
    """A library whose exercise has another file name."""
    return {path.replace(old, new): text.replace(f"[{old}", f"[{new}").replace(f" {old}", f" {new}") for path, text in texts.items()}


def test_every_seen_field_is_in_a_part() -> None:
    """No version can differ from another in nothing: parts hold every field that the stamp covers."""
    for kind, parts in ((Exercise, EXERCISE_PARTS), (Programme, PROGRAMME_PARTS)):
        seen = {item.name for item in fields(kind)} - set(UNSEEN)
        assert {name for names in parts.values() for name in names} == seen
    assert {item.name for item in fields(Bundle)} - set(UNSEEN) == {
        name for names in BUNDLE_PARTS.values() for name in names
    } | {"picks"}
    assert {item.name for item in fields(Pick)} - set(UNSEEN) == {"exercise", "change", "stages", "substitutes", "part"}  # the parts picks and dose
    seen = {item.name for kind in STANDALONE_KINDS for item in fields(kind)} - set(UNSEEN)
    assert {name for names in STANDALONE_PARTS.values() for name in names} == seen
    known = (EXERCISE_PARTS, PROGRAMME_PARTS, BUNDLE_PARTS, STANDALONE_PARTS)
    assert set().union(*known) | {"exercises"} == set(PART_NAMES)


def test_written_and_read_again() -> None:
    """The file gives the same ledger, and the same ledger the same file."""
    ledger = the_ledger(texts_with(FOOT, ("title: Foot lift", 'title: "Foot: \\"lift\\""')))
    assert update_ledger(ledger, present_of(texts_with(FOOT, ("title: Foot lift", 'title: "Foot: \\"lift\\""'))), SECOND) == ledger
    assert [entry.code for entry in ledger.entries] == ["A222", "B222", "P222", "first-days"]
    assert ledger.by_code["A222"].title == 'Foot: "lift"'
    assert ledger.by_code["A222"].latest.dose == small_library().exercise["foot-lift"].dose


def whole(low: int, high: int) -> st.SearchStrategy[int]:
    return st.integers(low, high)


TYPED = tuple(side for side in Side if side not in (Side.LEFT, Side.RIGHT))
"""Sides that a library may name: which of the two is trained is chosen for a patient, and no ledger keeps it."""


@given(
    st.fixed_dictionaries(
        {},
        optional={
            "sets": whole(1, 10), "reps": whole(1, 100), "hold_seconds": whole(1, 300), "time_seconds": whole(10, 7200),
            "distance_metres": whole(1, 20_000), "side": st.sampled_from(TYPED), "rest_seconds": whole(0, 600), "days": whole(1, 7),
            "times": whole(1, 12), "pace_metres_per_second": whole(5, 300).map(lambda hundredth: hundredth / 100), "weight_kg": whole(1, 400).map(lambda quarter: quarter / 4),
            "tempo": st.builds(Tempo, whole(1, 99), whole(0, 99), whole(0, 99), whole(0, 99)),
            "effort": whole(0, 9).map(lambda low: Span(low, low + 1)), "band": st.just(Ref("light", Place(""))),
            "counted": st.sampled_from(Counted), "reps_to": whole(2, 100), "rate": whole(1, 240), "work": st.sampled_from(WorkKind), "pace_words": st.just(Ref("easy", Place(""))),
            "warm_up_seconds": whole(30, 1800), "cool_down_seconds": whole(30, 1800), "every_minutes": whole(5, 720), "occasion": st.just(Ref("breathless", Place(""))),
            "rest_days": whole(1, 3),
        },
    )
)  # fmt: skip
def test_any_dose_is_kept(values: dict[str, object]) -> None:
    """A dose in the ledger is read as the dose that was written."""
    dose = Dose(place=Place(""), **values)  # type: ignore[arg-type]
    node, problems = compose(write_dose(dose), "dose")
    assert node is not None
    assert (DOSE.read(node, problems), problems) == (dose, [])


def test_new_version_says_what_changed() -> None:
    """Another dose and another caution's words are another version; the former dose stays in the ledger."""
    ledger = the_ledger()
    edited = {**texts_with(FOOT, ("sets: 2, reps: 10", "sets: 3, reps: 12")), "cautions.yaml": TEXTS["cautions.yaml"].replace("sharp pain", "strong pain")}
    after = the_ledger(edited, SECOND, ledger)
    assert [entry.latest.changed for entry in after.entries] == [
        ("dose", "cautions"),
        ("cautions",),
        ("exercises",),
        ("exercises",),
    ]
    assert say_update(ledger, after)[0].startswith("A222  Foot lift: version ")
    assert say_update(ledger, after)[0].endswith(", changed: dose, cautions")
    (former,) = former_doses(after, present_of(edited))["A222"]
    assert (former.sets, former.reps) == (2, 10)
    (sheet,) = former_versions(after.by_code["A222"], present_of(edited)[0])
    assert (sheet.on, sheet.changed) == (FIRST, ("dose", "cautions"))


def test_a_change_that_was_taken_back() -> None:
    """A sheet of the present words has nothing to be told, and is told once of each other version."""
    edited = texts_with(FOOT, ("Sit tall.", "Sit up."))
    ledger = the_ledger(TEXTS, date(2026, 12, 1), the_ledger(edited, SECOND, the_ledger()))
    entry = ledger.by_code["A222"]
    assert [each.changed for each in entry.versions] == [(), ("tips",), ("tips",)]
    assert [former.version for former in former_versions(entry, present_of(TEXTS)[0])] == [entry.versions[1].version]


def test_an_open_dose_is_kept() -> None:
    """A dose that the library leaves to the clinician is written as an author writes it, and read back."""
    node, problems = compose(f"{{version: A2, dose: {write_dose(Dose(place=Place(''), sets=0))}, parts: {{}}}}", "ledger")
    assert node is not None
    value = next(entry.value for entry in node.entries if entry.key == "dose")
    assert (DOSE.read(value, problems), problems) == (Dose(place=Place(""), sets=0), [])


def test_old_code_opens_with_its_dose() -> None:
    """A bundle code from before a change of dose opens with the dose that it was made with."""
    before = small_library()
    code = encode_bundle(PickedBundle("en", "main", 2, (Pick(place=Place(""), exercise=Ref("foot-lift", Place(""))),)), make_catalogue(before))
    assert isinstance(code, str)
    edited = texts_with(FOOT, ("sets: 2, reps: 10", "sets: 3, reps: 12"))
    ledger = the_ledger(edited, SECOND, the_ledger())
    after = small_library(edited)
    opened = decode_bundle(code, make_catalogue(after, former_doses(ledger, present_of(edited))))
    assert isinstance(opened, OpenedBundle)
    assert (opened.doses[0].sets, opened.doses[0].reps) == (2, 10)


def test_a_rename_keeps_its_code() -> None:
    """Another file name with the same title and steps is a rename: a notice, and both names are kept."""
    renamed = moved(TEXTS, "foot-lift", "ankle-lift")
    assert said(the_ledger(), renamed) == [
        "content/ledger.yaml:1:1: notice: 1 thing is not in the ledger as it stands now: ankle-lift. "
        "Run 'handouts ledger update' when this is published. [not-in-ledger]"
    ]
    after = the_ledger(renamed, SECOND, the_ledger())
    assert after.by_code["A222"].slugs == ("foot-lift", "ankle-lift")
    assert [len(entry.versions) for entry in after.entries] == [1, 1, 1, 1]  # nothing is new for readers
    assert said(after, renamed) == []


OTHER = {"title: Foot lift": "title: Toe wave", "Sit on a chair.": "Lie on a mat.", "figure: {base: sitting}": "figure: {base: standing}"}


def test_a_code_on_another_exercise_is_refused() -> None:
    """A new name with nothing left of title, steps and figure is another exercise."""
    renamed = moved(TEXTS, "foot-lift", "toe-wave")
    text = renamed["exercises/toe-wave.md"]
    for old, new in OTHER.items():
        text = text.replace(old, new)
    assert said(the_ledger(), {**renamed, "exercises/toe-wave.md": text})[0] == (
        "content/exercises/toe-wave.md:2:7: error: the code 'A222' was printed on 'Foot lift' and 'toe-wave' has none of its title, steps and figure. "
        "Give this a new code; say in ledger.yaml what became of the old one ('replaced by' or 'withdrawn'). [code-reused]"
    )


def test_swapped_codes_are_refused() -> None:
    """Two exercises that exchange their codes are both refused."""
    swapped = texts_with(FOOT, ("code: A222", "code: B222")) | {LEG: TEXTS[LEG].replace("code: B222", "code: A222")}
    found = said(the_ledger(), swapped)
    assert [line for line in found if "[code-reused]" in line] == [
        "content/exercises/foot-lift.md:2:7: error: the code 'B222' was printed on 'Leg lift' and now names 'foot-lift', which was printed with the code 'A222'. "
        "Give this a new code; say in ledger.yaml what became of the old one ('replaced by' or 'withdrawn'). [code-reused]",
        "content/exercises/leg-lift.md:2:7: error: the code 'A222' was printed on 'Foot lift' and now names 'leg-lift', which was printed with the code 'B222'. "
        "Give this a new code; say in ledger.yaml what became of the old one ('replaced by' or 'withdrawn'). [code-reused]",
    ]


def test_a_new_code_for_the_same_file_is_a_dropped_code() -> None:
    """An exercise that is given another code leaves its printed one without an answer."""
    found = said(the_ledger(), texts_with(FOOT, ("code: A222", "code: C222")))
    assert found[0].startswith("content/ledger.yaml:8:5: error: 'Foot lift' (A222) was published and is no longer in the library. Add 'replaced by: CODE'")


GONE = {path: text.replace("exercises: [foot-lift]", "exercises: [leg-lift]").replace("after: [foot-lift]\n", "").replace("[foot-lift, ", "[")
        for path, text in TEXTS.items() if path != FOOT}  # fmt: skip


@pytest.mark.parametrize("lines", ["    replaced by: B222\n", '    withdrawn: {on: 2026-11-01, why: "It strained the knee."}\n'])
def test_replaced_and_withdrawn_codes_are_accounted_for(lines: str) -> None:
    """Dropped without a word is an error; with a replacement or a reason it is not."""
    assert any("[code-dropped]" in line for line in said(the_ledger(), GONE))
    ledger = with_lines(the_ledger(), "A222", lines)
    assert [line for line in said(ledger, GONE) if "error" in line] == []
    assert follow(ledger, "A222", {"B222"}) == ("B222" if "replaced" in lines else "A222")


BUNDLE = "bundles/first-days.yaml"
NO_BUNDLE = {path: text for path, text in TEXTS.items() if path != BUNDLE}


def test_a_renamed_bundle_is_known_by_its_title_or_its_exercises() -> None:
    """A bundle has no code: under a new file name it is the one with its title, or else the one with its exercises."""
    for edit in (("title: First days", "title: First days"), ("title: First days", "title: The first week")):
        renamed = {**NO_BUNDLE, "bundles/first-week.yaml": TEXTS[BUNDLE].replace(*edit)}
        after = the_ledger(renamed, SECOND, the_ledger())
        assert after.by_code["first-days"].slugs == ("first-days", "first-week")
        assert said(after, renamed) == []
        (now,) = (item for item in present_of(renamed, after) if item.kind == "bundle")
        assert (now.code, now.slug) == ("first-days", "first-week")
    other = {
        **NO_BUNDLE,
        "bundles/first-week.yaml": TEXTS[BUNDLE].replace("First days", "Later").replace("[foot-lift, ", "["),
    }
    assert (
        "'First days' (first-days) was published and is no longer in the library. Add 'replaced by: NAME'"
        in said(the_ledger(), other)[0]
    )


def test_a_bundle_replaced_by_a_renamed_one() -> None:
    """A line may name a bundle by any name that it has or had."""
    two = {**TEXTS, "bundles/later.yaml": TEXTS[BUNDLE].replace("First days", "Later")}
    renamed = {**NO_BUNDLE, "bundles/much-later.yaml": two["bundles/later.yaml"]}
    for name in ("later", "much-later"):
        ledger = with_lines(
            the_ledger({**two, **renamed}, SECOND, the_ledger(two)), "first-days", f"    replaced by: {name}\n"
        )
        gone = {path: text for path, text in renamed.items() if path != "bundles/later.yaml"}
        ledger = the_ledger(gone, SECOND, ledger)
        assert [line for line in said(ledger, gone) if "error" in line and "'First days'" in line] == []


def test_a_bundle_says_what_changed() -> None:
    """Another dose of an exercise, another exercise, other words and other numbers inside are told apart."""
    edits = {
        "dose": ("dose: {sets: 1}", "dose: {sets: 2}"), "picks": ("[foot-lift, {exercise: leg-lift, dose: {sets: 1}}]", "[{exercise: leg-lift, dose: {sets: 1}}, foot-lift]"),
        "title": ("title: First days", "title: First week"), "why": ("weeks: 2", "weeks: 3"),
    }  # fmt: skip
    for part, edit in edits.items():
        assert part in the_ledger(texts_with(BUNDLE, edit), SECOND, the_ledger()).by_code["first-days"].latest.changed
    inside = the_ledger(texts_with(FOOT, ("Sit tall.", "Sit up.")), SECOND, the_ledger())
    assert inside.by_code["first-days"].latest.changed == ("exercises",)


def test_titles_in_other_languages_are_kept_as_they_are_read() -> None:
    """A title with a narrow or a firm space, as in French, is the same after the file was read, so that nothing is new twice."""
    library = small_library()
    title = replace(library.exercise["foot-lift"].title, text="Pied\u00a0: lever\u202f!")
    french = replace(
        library,
        exercises=tuple(replace(item, title=title) if item.code == "A222" else item for item in library.exercises),
        clinic=replace(library.clinic, languages=replace(library.clinic.languages, source="fr")),
    )
    present = present_of(TEXTS)
    titles = find_titles(present, [french])
    assert titles["A222"] == {french.language: "Pied : lever !"}
    ledger = update_ledger(Ledger(), present, FIRST, titles)
    again, problems = read_ledger(write_ledger(ledger), "content/ledger.yaml")
    assert (again, problems) == (ledger, [])
    assert update_ledger(ledger, present, SECOND, titles) == ledger


def test_reason_in_other_languages_is_read_and_asked_for() -> None:
    """A reason that is not translated is a notice that names the languages; texts by language are read strictly."""
    line = '    withdrawn: {on: 2026-11-01, why: "It strained the knee.", translated: {es: "Lastimaba la rodilla."}}\n'
    ledger = with_lines(the_ledger(), "A222", line)
    gone = ledger.by_code["A222"].withdrawn
    assert gone is not None
    assert (gone.why_in("es"), gone.why_in("fr")) == ("Lastimaba la rodilla.", None)
    found = [show_problem(each) for each in check_ledger(ledger, present_of(GONE), languages=("es", "fr"))]
    assert [line for line in found if "reason-not-translated" in line] == [
        "content/ledger.yaml:9:16: notice: why 'Foot lift' was withdrawn cannot be read in: fr. Add 'translated: {es: \"…\"}' beside 'why'. [reason-not-translated]"
    ]
    assert write_ledger(ledger).decode().count("translated: {es:") == 2  # the explanation at the top and the entry
    for wrong in ("translated: [es]", "translated: {}", 'translated: {"e s": "x"}', "translated: {es: [x]}"):
        text = write_ledger(ledger).decode().replace('translated: {es: "Lastimaba la rodilla."}', wrong)
        assert read_ledger(text.encode(), "content/ledger.yaml")[0] is None, wrong


def test_a_retired_code_does_not_come_back() -> None:
    """Its code on another name is refused; the file of the withdrawn exercise may stay (``tests/rules/test_withdrawn.py``)."""
    ledger = with_lines(the_ledger(), "A222", '    withdrawn: {on: 2026-11-01, why: "It strained the knee."}\n')
    assert said(ledger, TEXTS) == []
    assert "and was withdrawn or replaced. Give this a new code" in said(ledger, moved(TEXTS, "foot-lift", "toe-lift"))[0]


@pytest.mark.parametrize(
    ("code", "what"), [("Z222", "'Z222', which is not in the library"), ("A222", "something that it replaces itself")]
)
def test_a_replacement_must_exist(code: str, what: str) -> None:
    """A code that leads nowhere, or round in a ring, is refused."""
    ledger = with_lines(the_ledger(), "A222", f"    replaced by: {code}\n")
    assert any(what in line and "[replacement-unknown]" in line for line in said(ledger, GONE))


@pytest.mark.parametrize("path", ["exercises/leg-lift.md", "programmes/stand-up.md", "bundles/first-days.yaml"])
def test_a_file_that_cannot_be_read_was_not_dropped(path: str) -> None:
    """Its own problem says what is wrong with it; the ledger asks for no reason."""
    ledger = the_ledger()
    library, _ = read_texts(texts_with(path, ("title:", "titel:")))
    assert library is not None
    present = find_present(library, stamps_of(library), ledger)
    found = check_ledger(ledger, present, library.unread)
    assert not [problem for problem in found if problem.rule == "code-dropped"]
    assert [problem for problem in check_ledger(ledger, present) if problem.rule == "code-dropped"]


def test_unreadable_ledger() -> None:
    """A part that nobody knows, and a code with two entries, are problems with their places."""
    text = write_ledger(the_ledger()).decode()
    ledger, problems = read_ledger(text.replace("parts: {dose:", "parts: {dosis:", 1).encode(), "ledger.yaml")
    assert ledger is None
    assert [problem.what for problem in problems] == ["this is not a fingerprint for each part"]
    ledger, problems = read_ledger(text.replace('"B222"', '"A222"').encode(), "ledger.yaml")
    assert [problem.what for problem in problems] == ["the code 'A222' has two entries"]


def test_parts_that_changed() -> None:
    """In the order in which they matter to a patient."""
    assert changed_parts({"title": "a", "dose": "b", "why": "c"}, {"title": "x", "dose": "y", "why": "c"}) == ("dose", "title")


def test_an_upgrade_makes_no_version() -> None:
    """A field that a newer program knows is in no stamp while it is not set; set, it is."""
    change = DoseChange(place=Place("a"), sets=2)
    assert stamp_of(change) == "S4Q8DT"  # as the program gave it before there was a tempo
    assert stamp_of(replace(change, tempo=Tempo(go=2, hold=0, back=2))) != stamp_of(change)
    exercise = an_exercise()
    assert stamp_of(exercise) == "U7ZY7F"  # as the program gave it before anything was easier or harder
    assert stamp_of(replace(exercise, easier=easier_ways("Slow down."))) != stamp_of(exercise) != stamp_of(replace(exercise, harder=harder_ways("Speed up.")))
    assert all(name in {item.name for item in fields(getattr(model, owner))} for owner, name in LATER)


def test_an_upgrade_makes_no_version_of_a_programme_or_a_bundle() -> None:
    """Stamps and parts as the program gave them before a programme had cues and a bundle a programme of its own."""
    library = small_library()
    library = replace(library, exercises=tuple(replace(each, easier=()) for each in library.exercises))
    stamps = stamps_of(library)
    assert (stamps["programmes/stand-up"], stamps["bundles/first-days"]) == ("M2E9NK", "UDSVYZ")
    parts = {"steps": "UUTA8R", "cautions": "68NJWT", "why": "WASZZX", "title": "2WFM76", "picks": "GDRDF6", "exercises": "HR4MVP"}
    assert programme_parts(library.programmes[0], library, stamps) == parts
    assert bundle_parts(library.bundles[0], library, stamps) == {
        "dose": "5YC6EC", "why": "23QJ95", "title": "868TSA", "picks": "H89WDY", "exercises": "HR4MVP",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("path", "old", "new", "item", "part"),
    [
        ("programmes/stand-up.md", "weeks: 6", "weeks: 6\ncues: [Breathe out as you lift.]", "programmes/stand-up", "tips"),
        ("programmes/stand-up.md", "weeks: 6", "weeks: 6\nthrough the day: [Stand tall.]", "programmes/stand-up", "tips"),
        ("bundles/first-days.yaml", "weeks: 2", "weeks: 2\ncautions: [go-slow]", "bundles/first-days", "cautions"),
        ("bundles/first-days.yaml", "weeks: 2", "weeks: 2\nprogramme: stand-up", "bundles/first-days", "place"),
        ("bundles/first-days.yaml", "weeks: 2", "weeks: 2\nprogramme: stand-up\ntier: build", "bundles/first-days", "place"),
    ],
)
def test_a_newer_field_that_is_set_makes_a_version(path: str, old: str, new: str, item: str, part: str) -> None:
    """Cues, text for the day, a bundle's programme and cautions are seen, and named."""
    before, after = small_library(), small_library(texts_with(path, (old, new)))
    assert stamps_of(before)[item] != stamps_of(after)[item]
    parts = [
        programme_parts(each.programmes[0], each, stamps_of(each)) if item.startswith("programmes")
        else bundle_parts(each.bundles[0], each, stamps_of(each)) for each in (before, after)
    ]  # fmt: skip
    assert changed_parts(*parts) == (part,)


@pytest.mark.parametrize(
    ("path", "old", "new", "part"),
    [
        ("cautions.yaml", "do: Go slower.", "do: Go slowly.", "cautions"),
        ("programmes/stand-up.md", "cautions: [go-slow]", "cautions: [go-slow, stop-pain]", "cautions"),
        ("programmes/stand-up.md", "cues: [Breathe.]", "cues: [Breathe out.]", "tips"),
        ("programmes/stand-up.md", "You can do each one above.", "You can do each one.", "place"),
    ],
)
def test_a_bundle_changes_with_its_programme(path: str, old: str, new: str, part: str) -> None:
    """What a bundle shows of its programme is in its version."""
    texts = texts_with("programmes/stand-up.md", ("weeks: 6", "weeks: 6\ncautions: [go-slow]\ncues: [Breathe.]"))
    texts["bundles/first-days.yaml"] = texts["bundles/first-days.yaml"].replace("weeks: 2", "weeks: 2\nprogramme: stand-up")
    first = small_library(texts)
    assert texts[path].count(old) == 1
    second = small_library({**texts, path: texts[path].replace(old, new)})
    assert stamps_of(first)["bundles/first-days"] != stamps_of(second)["bundles/first-days"]
    assert changed_parts(*(bundle_parts(each.bundles[0], each, stamps_of(each)) for each in (first, second))) == (part,)


def test_the_picture_of_a_mistake_is_of_the_figure() -> None:
    """A reader would call it a change of the picture, not of the tips; a mistake without one tells nothing of it."""
    before = small_library(TEXTS)
    after = small_library(texts_with("exercises/foot-lift.md", ("do: Sit up tall.}", "do: Sit up tall., figure: {end: {trunk: ext 20}}}")))
    one, two = (exercise_parts(each.exercise["foot-lift"], each) for each in (before, after))
    assert changed_parts(one, two) == ("figure",)
    stamps = [stamps_of(each)["exercises/foot-lift"] for each in (before, after)]
    assert stamps[0] != stamps[1]
