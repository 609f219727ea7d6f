"""A step that sends the reader another way than the source is pointed out where it stands in the catalogue."""

from __future__ import annotations

import re

import pytest

from handouts.problems import Place, show_problem
from handouts.words.directions import NAMES, OPPOSITE, SAYS, directions_in, find_direction_faults
from handouts.words.translate import Translation, translate_library
from tests.small_library import CLINIC, small_library, texts_with
from tests.words.sample import change_one, reviewed, translated

PLACE = Place("es.po", 7, 1)
SHOWN = CLINIC.replace("grace days: 90}", "grace days: 90, unreviewed translations: show}")
MEND = "Compare it with the figure and name the same direction; once the translation is reviewed, this is no longer asked."


def faults(source: str, translation: str, language: str) -> list[str]:
    """What is said about a translation of an English step, without the mend."""
    found = list(find_direction_faults(source, translation, ("en", language), PLACE))
    assert all(fault.mend == MEND and fault.place == PLACE for fault in found)
    return [fault.what for fault in found]


def lost(direction: str) -> list[str]:
    """What is said of a direction that is not there."""
    return [f"the translation of this step has no word for '{direction}' of the source text"]


def turned(direction: str, opposite: str) -> list[str]:
    """What is said of a direction that was turned round."""
    return [f"the translation of this step says '{opposite}' where the source text says '{direction}'"]


@pytest.mark.parametrize(
    ("source", "translation", "language", "expected"),
    [
        # the lift of an arm away from the other hip, told as a movement over the body
        ("Lift your arm up and across, away from the door.", "Suba el brazo y crúcelo, lejos de la puerta.", "es", turned("across", "across the body")),
        ("Lift your arm up and across, away from the door.", "ارفع ذراعك إلى أعلى وعبر جسمك، بعيدًا عن الباب.", "ar", turned("across", "across the body")),
        ("Lift your arm up and out to the side.", "Suba el brazo hacia arriba y hacia afuera.", "es", []),
        ("Lift your arm up and out to the side.", "ارفع ذراعك إلى أعلى وإلى الجانب.", "ar", []),
        ("Pull the arm across your chest.", "Jale el brazo hacia el otro lado del pecho.", "es", []),
        ("Pull the arm across your chest.", "Jale el brazo al frente.", "es", lost("across the body")),
        ("Slide the towel forward.", "Deslice la toalla hacia atrás.", "es", turned("forward", "back")),
        ("Slide the towel forward.", "Deslice la toalla.", "es", lost("forward")),
        ("Slide the towel forward and back.", "Deslice la toalla hacia adelante y hacia atrás.", "es", []),
        ("Slide the towel forward.", "Glissez la serviette vers l'arrière.", "fr", turned("forward", "back")),
        ("Slide the towel forward.", "Trượt khăn ra sau.", "vi", turned("forward", "back")),
        ("Slide the towel forward.", "把毛巾向后滑。", "zh-Hans", turned("forward", "back")),
        ("Slide the towel forward.", "مرر المنشفة إلى الخلف.", "ar", turned("forward", "back")),
        ("Turn your thumb up.", "Gire el pulgar hacia abajo.", "es", turned("up", "down")),
        ("Turn your thumb up.", "أدر إبهامك إلى أسفل.", "ar", turned("up", "down")),
        ("Turn your thumb up.", "拇指向下转。", "zh-Hans", turned("up", "down")),
        ("Turn the foot out.", "Gire el pie hacia adentro.", "es", turned("out", "in")),
        ("Lift the left arm.", "Levante el brazo derecho.", "es", turned("left", "right")),
        ("Lift the left arm.", "Levez le bras droit.", "fr", turned("left", "right")),
        ("Lift the left arm.", "抬起右臂。", "zh-Hans", turned("left", "right")),
        ("Let the arm down slowly.", "Baje el brazo despacio.", "es", []),  # a verb says it
        ("Come back slowly.", "慢慢收回。", "zh-Hans", []),
        ("Lie on your back.", "仰卧。", "zh-Hans", []),  # a part of the body
        ("Straighten the back knee.", "Estire la rodilla.", "es", []),
        ("Stand up slowly. Lie down.", "Párese despacio. Acuéstese.", "es", []),  # a phrase, no direction
        ("Bend the elbow to a right angle.", "Doble el codo.", "es", []),
        ("Hold the ball in both hands.", "Tome la pelota.", "es", []),
        ("Slide the towel forward.", "Teren sie.", "pl", []),  # no table, no judgement
    ],
)
def test_directions(source: str, translation: str, language: str, expected: list[str]) -> None:
    """Lost, turned round, said by a verb, and words that only look like a direction."""
    assert faults(source, translation, language) == expected


def test_a_source_in_another_language() -> None:
    """Any language with a table may be the one that a library is written in."""
    found = list(find_direction_faults("Suba el brazo hacia arriba.", "Lower your arm.", ("es", "en"), PLACE))
    assert [fault.what for fault in found] == lost("up")


def test_vowel_marks_and_composed_letters() -> None:
    """Arabic may be written with its vowel marks, and accents as letters of their own."""
    assert faults("Slide it forward.", "مَرِّرها إلى الأَمامِ.", "ar") == []
    assert faults("Come back.", "Hacia atra\u0301s.", "es") == []


@pytest.mark.parametrize("language", sorted(NAMES))
def test_tables_are_whole(language: str) -> None:
    """Every direction is named and said in every language, and opposites are each other's."""
    assert NAMES[language].keys() == SAYS[language].keys() == OPPOSITE.keys()
    assert all(OPPOSITE[OPPOSITE[each]] == each for each in OPPOSITE)
    assert directions_in("", language) is not None


EXAMPLES = {
    "en": "Lift up. Put it down. Turn it in. Turn it out. Move it across. Pull it across your chest. Lean forward. Step back. Lift the left arm. Lift the right arm.",
    "es": "hacia arriba; hacia abajo; hacia adentro; hacia afuera; en diagonal; cruce el brazo; hacia adelante; hacia atrás; brazo izquierdo; brazo derecho",
    "de": "nach oben; nach unten; nach innen; nach außen; auf die andere Seite; vor dem Bauch; nach vorn; nach hinten; linker Arm; rechter Arm",
    "fr": "vers le haut; vers le bas; vers l'intérieur; vers l’extérieur; en diagonale; croisez le bras; vers l'avant; vers l'arrière; bras gauche; bras droit",
    "ar": "إلى أعلى; إلى أسفل; إلى الداخل; إلى الخارج; إلى الجهة الأخرى; عبر صدرك; إلى الأمام; إلى الخلف; الذراع اليسرى; الذراع اليمنى",
    "vi": "lên trên; xuống; vào trong; ra ngoài; chéo; ngang ngực; ra trước; ra sau; tay trái; tay phải",
    "zh": "向上; 向下; 向内; 向外; 向对侧; 越过胸前; 向前; 向后; 左臂; 右臂",
}
"""The directions by a plain phrase, in the order below: up, down, in, out, across, across the body, forward, back, left, right."""
ORDER = ("up", "down", "in", "out", "across", "across the body", "forward", "back", "left", "right")


@pytest.mark.parametrize("language", sorted(EXAMPLES))
def test_each_direction_is_named_by_its_plain_phrase(language: str) -> None:
    """Each phrase names its own direction and no other; and what names it also says it."""
    assert EXAMPLES.keys() == NAMES.keys()
    phrases = re.split(r"[;.]\s*", EXAMPLES[language].rstrip("."))
    for direction, phrase in zip(ORDER, phrases, strict=True):
        found = directions_in(phrase, language)
        assert found is not None and found.named == {direction} and direction in found.said, (phrase, found)
        assert re.search(SAYS[language][direction], phrase, re.IGNORECASE), phrase


def test_whole_message_and_review() -> None:
    """A notice at the entry of the catalogue, on steps only; a reviewed translation is not asked again."""
    edits = [("Sit on a chair.", "Slide your foot forward."), ("cues: [Sit tall.]", "cues: [Lean forward.]")]
    source = small_library(texts_with("exercises/foot-lift.md", *edits, **{"clinic.yaml": SHOWN}))
    catalogue = change_one(translated(source), "exercise/A222/step", text="Deslice el pie.", place=PLACE)
    catalogue = change_one(catalogue, "exercise/A222/cue", text="Enderezado.", place=PLACE)
    assert directions_told(translate_library(source, catalogue)) == [
        f"es.po:7:1: notice: the translation of this step has no word for 'forward' of the source text. {MEND} [translation-direction]"
    ]
    assert directions_told(translate_library(source, catalogue, reviewed(source, catalogue))) == []


def directions_told(made: Translation) -> list[str]:
    """The notices on directions, whole."""
    return [show_problem(problem) for problem in made.problems if problem.rule == "translation-direction"]
