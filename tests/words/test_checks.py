"""A translation that says something else than its source is refused where it stands."""

from __future__ import annotations

import pytest

from handouts.problems import Place, show_problem
from handouts.words.checks import find_faults, numbers_in
from handouts.words.glossary import Glossary, GlossaryTerm

SOURCE = "Hold the **resistance band** for 30 seconds, 2.5 kg at most. See [our page](https://quillmoor.example/a) {name}."
GOOD = "Sostenga la **banda elástica** 30 segundos, 2,5 kg como máximo. Vea [nuestra página](https://quillmoor.example/a) {name}."
PLACE = Place("es.po", 7)
GLOSSARY = Glossary((GlossaryTerm("resistance band", {"es": ("banda elástica", "bandas elásticas")}, PLACE),), ("kg",))


def rules_of(translation: str, source: str = SOURCE) -> list[str]:
    """The rules that a translation breaks, all at the place of its entry."""
    found = find_faults(source, translation, "es", GLOSSARY, PLACE)
    assert all((fault.place.file, fault.place.line) == ("es.po", 7) for fault in found)
    return sorted({fault.rule for fault in found})


def test_good_translation() -> None:
    """Another decimal sign and another order are fine."""
    assert rules_of(GOOD) == []


@pytest.mark.parametrize(
    ("old", "new", "rules"),
    [
        ("30 segundos", "20 segundos", ["translation-number"]),
        ("30 segundos", "unos segundos", ["translation-number"]),
        ("30 segundos", "30 segundos 3 veces", ["translation-number"]),
        ("2,5 kg", "25 kg", ["translation-number"]),
        ("{name}", "", ["translation-placeholder"]),
        ("{name}", "{nombre}", ["translation-placeholder"]),
        ("{name}", "{name", ["translation-placeholder"]),
        ("quillmoor.example/a", "quillmoor.example/b", ["translation-link"]),
        ("(https://quillmoor.example/a)", "(javascript:alert)", ["link-not-allowed", "translation-link"]),
        ("**banda elástica**", "banda elástica", ["translation-marks"]),
        ("**banda elástica**", "**banda elástica*", ["markup-not-allowed", "translation-marks"]),
        ("**banda elástica**", "**liga**", ["glossary"]),
        ("2,5 kg", "2,5 kilos", ["glossary"]),
        ("Sostenga", "<b>Sostenga</b>", ["markup-not-allowed"]),
    ],
)
def test_mutants(old: str, new: str, rules: list[str]) -> None:
    """One change of a good translation, and the rule that finds it."""
    assert GOOD.count(old) == 1
    assert rules_of(GOOD.replace(old, new)) == rules


def test_left_in_the_source_language() -> None:
    """A sentence that is not translated is no translation; a short name may be alike."""
    assert rules_of("You feel dizzy.", "You feel dizzy.") == ["translation-same"]
    assert rules_of("Zig-zag", "Zig-zag") == []


def test_other_digits_are_the_same_numbers() -> None:
    """Arabic digits count as the numbers that they are."""
    assert numbers_in("٣ مجموعات من ١٠، ٢٫٥ كغ") == numbers_in("3 sets of 10, 2.5 kg")
    assert numbers_in("[words](https://x.example/12)") == {}


@pytest.mark.parametrize(
    ("source", "translation", "rules"),
    [
        ("Take 2 seconds.", "خذ ثانيتين.", []),
        ("You can do 2 sets of 10.", "تستطيع أداء مجموعتين من 10.", []),
        ("Rest for 1 minute.", "استرح دقيقة واحدة.", []),
        ("You can do 2 sets of 10.", "تستطيع أداء 3 مجموعات من 10.", ["translation-number"]),
        ("You can do 2 sets of 12.", "تستطيع أداء مجموعات من 12.", ["translation-number"]),
        ("You can do 3 sets of 12.", "تستطيع أداء مجموعتين من 12.", ["translation-number"]),
        ("Take 2 seconds, then 2 more.", "خذ ثانيتين.", ["translation-number"]),
    ],
)
def test_arabic_dual(source: str, translation: str, rules: list[str]) -> None:
    """Arabic says one and two of a unit in words; each word stands for one number only."""
    assert [fault.rule for fault in find_faults(source, translation, "ar", Glossary(), PLACE)] == rules


def test_whole_message() -> None:
    """What a translator reads."""
    fault = find_faults("Rest for 3 minutes, then do 10.", "Descanse 5 minutos.", "es", Glossary(), PLACE)[0]
    assert (fault.what, fault.mend) == (
        "the translation lacks 10, 3 and has 5 in addition", "Write every number of the source text, as a figure.",
    )


@pytest.mark.parametrize(
    ("translation", "is_safety", "rules"),
    [
        ("Pare. Siéntese.", True, []),
        ("¡Pare! Siéntese.", True, []),
        ("**Pare** y siéntese.", True, ["translation-marks"]),
        ("Siga cuando se le pase.", True, ["translation-stop"]),
        ("Siéntese. Pare.", True, ["translation-stop"]),
        ("Pareja de baile.", True, ["translation-stop"]),
        ("Siga cuando se le pase.", False, []),
    ],
)
def test_a_stop_rule_still_stops(translation: str, is_safety: bool, rules: list[str]) -> None:
    """A safety text that begins with 'Stop' begins so in the other language; other texts may say it as they like."""
    assert [fault.rule for fault in find_faults("Stop. Sit down.", translation, "es", Glossary(), PLACE, is_safety)] == rules


def test_whole_message_of_a_stop_rule() -> None:
    """What is wrong and how to mend it; an action that does not stop, and a language without a row, ask for nothing."""
    (fault,) = find_faults("Stop. Sit down.", "توجه إلى الكرسي", "ar", Glossary(), PLACE, is_safety=True)
    assert show_problem(fault) == (
        f"{PLACE}: error: the source tells the reader to stop, the translation does not begin so. "
        "Begin it with a word for 'stop', such as 'توقف'. [translation-stop]"
    )
    assert find_faults("Ask us first.", "Pregúntenos primero.", "es", Glossary(), PLACE, is_safety=True) == ()
    assert find_faults("Stop. Sit down.", "Kaa chini sasa.", "sw", Glossary(), PLACE, is_safety=True) == ()
