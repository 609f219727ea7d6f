"""What a program can see of a translation's meaning: units, letters, length, order; and that one bad sign holds back one text."""

from __future__ import annotations

import re
from pathlib import Path

import polib
import pytest

from handouts.cli import main
from handouts.problems import Place, show_problem
from handouts.words.checks import find_faults
from handouts.words.directions import SIDES, find_direction_faults
from handouts.words.glossary import Glossary
from handouts.words.meaning import script_of, unit_words
from handouts.words.orders import find_order_faults
from tests.words.pseudo_german import fill
from tests.words.test_own_language import DAY, add_german

ROOT = Path(__file__).parents[2]
PLACE = Place("words/xx.po", 5)
LONG = "Sit tall near the front of the chair."


@pytest.mark.parametrize(
    ("source", "translation", "language", "message"),
    [
        ("Rest for 10 minutes.", "Ruhen Sie 10 Stunden.", "de", "the translation has another unit: it says 10 hours where the source says 10 minutes. Write the unit of the source text. [translation-unit]"),
        ("Hold for 10 seconds.", "保持10分钟。", "zh-Hans", "the translation has another unit: it says 10 minutes where the source says 10 seconds. Write the unit of the source text. [translation-unit]"),
        ("Wait 5 minutes.", "انتظر 5 ساعات.", "ar", "the translation has another unit: it says 5 hours where the source says 5 minutes. Write the unit of the source text. [translation-unit]"),
        ("Raise it 5 inches.", "Levántelo 5 centímetros.", "es", "the translation has another unit: it says 5 centimeters where the source says 5 inchs. Write the unit of the source text. [translation-unit]"),
        (LONG, "Сядьте прямо на край стула.", "de", "the translation is not in the letters of 'de': 'Сядьте' has Cyrillic letters, the language is written in Latin. Translate it again. [translation-script]"),
        (LONG, "Ijlis mustaqiman ala tarf al-kursi.", "ar", "the translation is not in the letters of 'ar': it has hardly any Arabic letters. Translate it again. [translation-script]"),
        (LONG, "ja " * 100, "de", "the translation cannot say the same: it is 8 times as long as the source. Translate it again. [translation-length]"),
        (LONG, "Ja", "de", "the translation cannot say the same: it has 2 signs for 37. Translate it again. [translation-length]"),
    ],
)  # fmt: skip
def test_whole_message(source: str, translation: str, language: str, message: str) -> None:
    """Another unit, another script, another length."""
    found = [show_problem(each) for each in find_faults(source, translation, language, Glossary(), PLACE)]
    assert found == [f"words/xx.po:5:1: error: {message.replace('inchs', 'inches')}"]


@pytest.mark.parametrize(
    ("source", "translation", "language"),
    [
        ("Rest for 10 minutes.", "Ruhen Sie 10 Minuten.", "de"), ("Hold for 10 seconds.", "保持10秒钟。", "zh-Hans"), ("Wait 5 minutes.", "انتظر 5 دقائق.", "ar"),
        ("Do it on 2 days.", "Machen Sie es an 2 Tagen.", "de"), ("Walk 30 minutes on 2 days.", "另外2天各走30分钟。", "zh-Hans"),
        ("See [our page](https://example.org/a).", "انظر [صفحتنا](https://example.org/a).", "ar"), ("Say µ and 5º.", "Sagen Sie µ und 5º.", "de"),
    ],
)  # fmt: skip
def test_what_is_right_passes(source: str, translation: str, language: str) -> None:
    """The unit of the source in other words, an address in Latin letters, signs that belong to no script."""
    assert find_faults(source, translation, language, Glossary(), PLACE) == ()


def test_swapped_numbers() -> None:
    """The same numbers in another order are pointed out; the same order is not."""
    (found,) = find_order_faults("Take 2 seconds up and 3 seconds down.", "3 Sekunden hinauf, 2 Sekunden hinunter.", PLACE)
    assert show_problem(found) == (
        "words/xx.po:5:1: notice: the numbers stand in another order than in the source (2, 3; here 3, 2). "
        "See that each number says the same as there; once the translation is reviewed, this is no longer asked. [translation-order]"
    )
    assert find_order_faults("2 up, 3 down", "2 hinauf, ٣ hinunter", PLACE) == ()


def test_left_and_right_are_not_exchanged() -> None:
    """A text that sends to the other side is pointed out, in German too."""
    for language, wrong, right in (("de", "Heben Sie den rechten Arm.", "Heben Sie den linken Arm."), ("es", "Levante el brazo derecho.", "Levante el brazo izquierdo.")):
        assert [each.rule for each in find_direction_faults("Lift your left arm.", wrong, ("en", language), PLACE)] == ["translation-direction"]
        assert find_direction_faults("Lift your left arm.", right, ("en", language), PLACE) == ()
    (found,) = find_direction_faults("Lean on your left leg.", "Lehnen Sie sich auf das rechte Bein.", ("en", "de"), PLACE, SIDES)
    assert found.what == "the translation of this text says 'right' where the source text says 'left'"
    assert find_direction_faults("Look up.", "Sehen Sie hin.", ("en", "de"), PLACE, SIDES) == ()
    assert find_direction_faults("Lift your arm up.", "Senken Sie den Arm nach unten.", ("en", "de"), PLACE)
    assert find_direction_faults("Step forward.", "Treten Sie nach hinten.", ("en", "de"), PLACE)
    assert not find_direction_faults("Step forward, then back.", "Treten Sie nach vorn, dann zurück.", ("en", "de"), PLACE)


def test_scripts_and_units_are_known() -> None:
    """CLDR's likely script of a tag, and units of each language that ships."""
    assert [script_of(tag) for tag in ("de", "sr", "sr-Latn", "zh-Hant", "zh-TW", "he", "ja", "pt-BR")] == ["Latn", "Cyrl", "Latn", "Hant", "Hant", "Hebr", "Jpan", "Latn"]
    for tag in ("es", "ar", "fr", "vi", "zh-Hans", "de"):
        assert {"second", "minute", "hour", "day", "week"} <= set(unit_words(tag).values())
        assert not any("-" in word and "duration" in word for word in unit_words(tag))


def test_no_text_of_the_demo_is_called_wrong() -> None:
    """5 languages of the demo and of the interface: none of their texts has another unit, script or length."""
    rules = {"translation-unit", "translation-script", "translation-length", "forbidden-character"}
    for folder in ("content/words", "handouts/words/interface"):
        for path in sorted((ROOT / folder).glob("*.po")):
            entries = [entry for entry in polib.pofile(str(path)) if entry.msgstr and not entry.obsolete]
            assert len(entries) > 500
            for entry in entries:
                found = find_faults(entry.msgid, entry.msgstr, path.stem, Glossary(), PLACE)
                assert not rules & {each.rule for each in found}, (entry.msgid, entry.msgstr, found)


def test_one_invisible_sign_holds_back_one_text(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """A zero width space in one German text: that exercise waits in German, its line is named, everything else is built."""
    monkeypatch.chdir(tmp_path)
    assert main(["start", "lib"]) == 0
    add_german(tmp_path / "lib")
    assert main(["words", "interface", "de", "--library", "lib"]) == 0
    assert main(["words", "collect", "--library", "lib"]) == 0
    fill(tmp_path / "lib/words/interface/de.po")
    catalogue = tmp_path / "lib/words/de.po"
    fill(catalogue)
    whole = catalogue.read_text()
    at = whole.index('msgstr "', whole.index('/feel"')) + len('msgstr "')
    catalogue.write_text(whole[:at] + "\u200b" + whole[at:])
    capsys.readouterr()
    assert main(["build", "lib", "--no-paper", DAY]) == 0
    said = capsys.readouterr().err
    line = whole[:at].count("\n") + 1
    named = re.search(r"lib/words/de\.po:(\d+):\d+: notice: the character", said)
    assert named and 0 <= line - int(named[1]) <= 8, said  # the place is where its entry begins
    assert "the character U+200B cannot be used in a text, so this translation is not published. Delete it; it is invisible, so retype the word it stands in. [forbidden-character]" in said
    pages = {path.parent.name: path.read_text() for path in (tmp_path / "build/site/de/exercises").glob("*/index.html")}
    assert [name for name, page in pages.items() if "<ol" in page] == ["sit-to-stand"]
    assert len(list((tmp_path / "build/site/en/exercises").glob("*/index.html"))) == 2
    assert main(["words", "collect", "--library", "lib"]) == 0
    assert "\u200b" in catalogue.read_text()
