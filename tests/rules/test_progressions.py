"""What is named as easier or harder is held against both exercises; each message is compared whole, in both directions."""

from __future__ import annotations

import pytest

from handouts.library.read import read_library
from tests.small_library import EXERCISE, TEXTS, VOCABULARY, messages

EASIER = "content/exercises/hard.md:20:10: "
HARDER = "content/exercises/easy.md:20:10: "
MEND_EASIER = " Name another exercise, correct one of the two, or write a sentence in 'easier'."
MEND_HARDER = " Name another exercise, correct one of the two, or write a sentence in 'harder'."
WORDS = VOCABULARY.replace("regions: [{slug: knee, name: Knee}]", "regions: [{slug: knee, name: Knee}, {slug: hip, name: Hip}]").replace(
    "level: chair}", "level: chair, rank: 1}").replace("level: standing}", "level: standing, rank: 2}").replace(
    "equipment: [{slug: chair, name: Chair}]", "equipment: [{slug: chair, name: Chair}, {slug: mat, name: Mat}]").replace(
    "bands: [{slug: light, name: Light}]", "bands: [{slug: light, name: Light}, {slug: heavy, name: Heavy}]")
USUAL = {"effort": "3-5", "load": "", "position": "sitting", "equipment": "chair", "regions": "knee"}


def exercise(code: str, title: str, ways: str, **changes: str) -> str:
    """An exercise with its ways in line 20; ``changes`` of what is usual."""
    given = USUAL | changes
    text = EXERCISE.format(code=code, title=title, tier="wake", after="").replace("easier: Lift half as high.", ways)
    text = text.replace("effort: 3-5}", f"effort: {given['effort']}{given['load']}}}" if given["effort"] else "}").replace("3, }", "3}")
    text = text.replace("position: sitting", f"position: {given['position']}").replace("equipment: [chair]", f"equipment: [{given['equipment']}]")
    return text.replace("regions: [knee]", f"regions: [{given['regions']}]")


def told(easy: dict[str, str], hard: dict[str, str], *, vocabulary: str = WORDS) -> tuple[list[str], list[str]]:
    """What is said where the hard one names the easy one, and where the easy one names the hard one."""
    found = []
    for easy_ways, hard_ways in (("easier: Slow down.", "easier: [easy]"), ("harder: [hard]\neasier: Slow down.", "easier: Slow down.")):
        texts = {
            **TEXTS, "vocabulary.yaml": vocabulary,
            "exercises/easy.md": exercise("C222", "Easy", easy_ways, **easy),
            "exercises/hard.md": exercise("D222", "Hard", hard_ways, **hard),
        }  # fmt: skip
        found.append([each for each in messages(texts) if "easier" in each or "harder" in each])
    return found[0], found[1]


@pytest.mark.parametrize(
    ("easy", "hard", "easier", "harder"),
    [
        ({"effort": "2-4"}, {}, "", ""),
        ({"effort": "3-4"}, {}, "", ""),
        ({"effort": "2-5"}, {}, "", ""),
        ({}, {}, "its effort is 3 to 5, and that of this exercise is 3 to 5", "its effort is 3 to 5, and that of this exercise is 3 to 5"),
        ({"effort": "4"}, {}, "its effort is 4, and that of this exercise is 3 to 5", "its effort is 3 to 5, and that of this exercise is 4"),
        ({"effort": "2-6"}, {}, "its effort is 2 to 6, and that of this exercise is 3 to 5", "its effort is 3 to 5, and that of this exercise is 2 to 6"),
        ({"effort": "5-6"}, {"effort": "3-4"}, "its effort is 5 to 6, and that of this exercise is 3 to 4", "its effort is 3 to 4, and that of this exercise is 5 to 6"),
    ],
)  # fmt: skip
def test_effort(easy: dict[str, str], hard: dict[str, str], easier: str, harder: str) -> None:
    """Neither end of the effort may be higher, and one must be lower."""
    first, second = told(easy, hard)
    if not easier:
        assert first == second == []
        return
    assert first == [f"{EASIER}error: 'easy' is not easier: {easier}.{MEND_EASIER} [easier-effort]"]
    assert second == [f"{HARDER}error: 'hard' is not harder: {harder}.{MEND_HARDER} [harder-effort]"]


@pytest.mark.parametrize(
    ("easy", "hard", "easier", "harder"),
    [
        ({"load": ", weight: 1 kg"}, {"load": ", weight: 1 kg"}, "", ""),
        ({"load": ", weight: 1 kg"}, {"load": ", weight: 1.5 kg"}, "", ""),
        ({"load": ", weight: 2 kg"}, {"load": ", weight: 1.5 kg"}, "weight is 2 kg, and that of this exercise is 1.5 kg", "weight is 1.5 kg, and that of this exercise is 2 kg"),
        ({"load": ", weight: 2 kg"}, {}, "weight is 2 kg, and that of this exercise is none", "weight is none, and that of this exercise is 2 kg"),
        ({"load": ", band: light"}, {"load": ", band: heavy"}, "", ""),
        ({"load": ", band: heavy"}, {"load": ", band: light"}, "band is 'heavy', and that of this exercise is 'light'", "band is 'light', and that of this exercise is 'heavy'"),
        ({"load": ", band: light"}, {}, "band is 'light', and that of this exercise is none", "band is none, and that of this exercise is 'light'"),
    ],
)  # fmt: skip
def test_load(easy: dict[str, str], hard: dict[str, str], easier: str, harder: str) -> None:
    """No heavier weight, and no stronger band by the order of the vocabulary."""
    first, second = told({"effort": "2-4", **easy}, hard)
    assert first == ([f"{EASIER}error: 'easy' is not easier: its {easier}.{MEND_EASIER} [easier-load]"] if easier else [])
    assert second == ([f"{HARDER}error: 'hard' is not harder: its {harder}.{MEND_HARDER} [harder-load]"] if harder else [])


def test_position() -> None:
    """No harder position by the ranks of the vocabulary; equal ranks may stand for each other."""
    assert told({"effort": "2-4"}, {"position": "standing"}) == ([], [])
    easier, harder = told({"effort": "2-4", "position": "standing"}, {})
    assert easier == [f"{EASIER}error: 'easy' is not easier: its position is 'standing' of rank 2, and that of this exercise is 'sitting' of rank 1.{MEND_EASIER} [easier-position]"]
    assert harder == [f"{HARDER}error: 'hard' is not harder: its position is 'sitting' of rank 1, and that of this exercise is 'standing' of rank 2.{MEND_HARDER} [harder-position]"]
    alike = WORDS.replace("rank: 2", "rank: 1")
    assert told({"effort": "2-4", "position": "standing"}, {}, vocabulary=alike) == ([], [])


def test_equipment() -> None:
    """Nothing to fetch that the first does not need."""
    assert told({"effort": "2-4", "equipment": ""}, {}) == ([], [])
    easier, harder = told({"effort": "2-4", "equipment": "chair, mat"}, {"equipment": "chair"})
    mend = "Name another exercise, correct 'equipment' in one of the two, or write a sentence in"
    assert easier == [f"{EASIER}error: 'easy' is not easier: it needs 'mat', which this exercise does not. {mend} 'easier'. [easier-equipment]"]
    assert harder == [f"{HARDER}error: 'hard' is not harder: it does not need 'mat', which this exercise does. {mend} 'harder'. [harder-equipment]"]


def test_region() -> None:
    """The main region of the easier one, which stands first, is one of the harder one's."""
    assert told({"effort": "2-4", "regions": "hip, knee"}, {"regions": "knee, hip"}) == ([], [])
    easier, harder = told({"effort": "2-4", "regions": "hip, knee"}, {})
    mend = "Name an exercise for the same part of the body; its main region stands first in 'regions'."
    assert easier == [f"{EASIER}error: 'easy' is of another region: it works hip, and this exercise knee. {mend} [easier-region]"]
    assert harder == [f"{HARDER}error: 'hard' is of another region: it works knee, and this exercise hip. {mend} [harder-region]"]


def test_what_cannot_be_compared_is_a_notice() -> None:
    """No effort in one of the doses, no rank of one of the positions."""
    for easy, hard, name in (({"effort": ""}, {}, "easy"), ({}, {"effort": ""}, "hard")):
        first, second = told(easy, hard)
        assert first == [f"{EASIER}notice: 'easy' cannot be compared: '{name}' has no effort in its dose. Add 'effort' to the dose of '{name}'. [easier-unknown]"]
        assert second == [f"{HARDER}notice: 'hard' cannot be compared: '{name}' has no effort in its dose. Add 'effort' to the dose of '{name}'. [harder-unknown]"]
    bare = WORDS.replace(", rank: 2", "")
    first, second = told({"effort": "2-4"}, {"position": "standing"}, vocabulary=bare)
    mend = "Give each position a 'rank' in vocabulary.yaml, 1 the easiest."
    assert first == [f"{EASIER}notice: 'easy' cannot be compared: the position 'standing' has no rank. {mend} [easier-unknown]"]
    assert second == [f"{HARDER}notice: 'hard' cannot be compared: the position 'standing' has no rank. {mend} [harder-unknown]"]


@pytest.mark.parametrize(
    ("written", "what"),
    [
        ("easier: [foot lift]", ":21:10: error: 'foot lift' is neither the name of an exercise nor a whole sentence. Write the exercise's file name or code, such as heel-raise or H7K2, or a whole sentence with its full stop. [way-unclear]"),
        ("easier: [{exercise: foot-lift, change: slower}]", ":21:40: error: 'slower' is neither the name of an exercise nor a whole sentence. Write the exercise's file name or code, such as heel-raise or H7K2, or a whole sentence with its full stop. [way-unclear]"),
        ("easier: [a, b, c, d, e]", ":21:9: error: this list has 5 entries, at most 4 are wanted. Keep those that help most. [wrong-value]"),
        ("easier: [foot-lft]", ":21:10: error: 'foot-lft' is not declared in exercises/. Did you mean 'foot-lift'? [unknown-name]"),
        ("harder: [leg-lift]\neasier: Slow down.", ":21:10: error: 'leg-lift' is this exercise itself, as harder than itself. Name another, or write a sentence. [harder-itself]"),
    ],
)  # fmt: skip
def test_what_is_no_way(written: str, what: str) -> None:
    """Neither a name nor a sentence, too many, unknown, itself."""
    texts = {**TEXTS, "exercises/leg-lift.md": TEXTS["exercises/leg-lift.md"].replace("easier: Lift half as high.", written)}
    assert messages(texts) == [f"content/exercises/leg-lift.md{what}"]


def test_codes_and_all_forms() -> None:
    """An exercise by code or by name, a sentence, one sentence alone, and an exercise with what changes there."""
    ways = 'easier:\n  - A222\n  - Slow down.\n  - {exercise: foot-lift, change: "Both feet."}\nharder: Hold for longer.\nafter: [A222]'
    texts = {
        **TEXTS,
        "exercises/leg-lift.md": TEXTS["exercises/leg-lift.md"].replace("after: [foot-lift]\n", "").replace("easier: Lift half as high.", ways),
        "bundles/first-days.yaml": TEXTS["bundles/first-days.yaml"].replace("[foot-lift, {exercise: leg-lift", "[A222, {exercise: B222"),
        "programmes/stand-up.md": TEXTS["programmes/stand-up.md"].replace("exercises: [leg-lift]", "exercises: [B222]"),
    }  # fmt: skip
    library, problems = read_library({path: text.encode() for path, text in texts.items()})
    assert library is not None and problems == []
    leg = library.exercise["leg-lift"]
    told = [(way.exercise and way.exercise.slug, way.change and way.change.text) for way in (*leg.easier, *leg.harder)]
    assert told == [("foot-lift", None), (None, "Slow down."), ("foot-lift", "Both feet."), (None, "Hold for longer.")]
    assert [str(need) for need in leg.after] == ["foot-lift"]
    assert [pick.exercise.slug for pick in library.bundles[0].picks] == ["foot-lift", "leg-lift"]
    assert library.programmes[0].exercise_slugs == ("foot-lift", "leg-lift")
