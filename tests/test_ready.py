"""The condition for the next exercise as a sentence that is made of what is measured, in each language."""

from __future__ import annotations

from dataclasses import replace

import pytest

from handouts.model import Exercise, Library, ReadyMeasures, Ref, Side
from handouts.publication.ready import criteria_json, ready_words
from handouts.words.wording import Wording
from tests.builders import PLACE, a_dose, a_library, an_exercise

LANGUAGES = ("en", "es", "ar", "fr", "vi", "zh-Hans")


def measured(**fields: object) -> tuple[Exercise, Library]:
    """An exercise without a sentence, in a library."""
    exercise = replace(an_exercise("step-up", dose=a_dose(side=Side.TOGETHER), ready_measures=ReadyMeasures(place=PLACE, **fields)), ready_when=None)  # type: ignore[arg-type]
    return exercise, a_library(exercise)


def said(language: str, **fields: object) -> str:
    """The sentence in a language."""
    words = ready_words(*measured(**fields), Wording(language))
    assert words is not None
    return words.text


@pytest.mark.parametrize(("language", "sentence"), [
    ("en", "On 2 days in a row, you can do this: 3 sets of 15. Pain is no more than 2 out of 10. Effort is no more than 6 out of 10."),
    ("es", "Puede hacer esto 2 días seguidos: 3 series de 15. El dolor no pasa de 2 sobre 10. El esfuerzo no pasa de 6 sobre 10."),
    ("ar", "تستطيع أن تفعل هذا في يومين متتاليين: 3 مجموعات من 15 مرة. لا يزيد الألم على 2 من 10. لا يزيد الجهد على 6 من 10."),
    ("fr", "Vous pouvez faire ceci 2 jours de suite : 3 séries de 15. La douleur ne dépasse pas 2 sur 10. L’effort ne dépasse pas 6 sur 10."),
    ("vi", "Trong 2 ngày liên tiếp, bạn làm được: 3 hiệp, mỗi hiệp 15 lần. Mức đau không quá 2 trên 10. Mức gắng sức không quá 6 trên 10."),
    ("zh-Hans", "您能连续2天做到：3组，每组15次。疼痛不超过2分（满分10分）。用力程度不超过6分（满分10分）。"),
])  # fmt: skip
def test_sentence(language: str, sentence: str) -> None:
    """All that is measured, with the numbers of the fields."""
    assert said(language, sets=3, reps=15, days=2, pain=2, effort=6) == sentence


@pytest.mark.parametrize(("days", "form"), [(1, "تستطيع أن تفعل هذا: "), (2, "في يومين متتاليين"), (3, "في 3 أيام متتالية"), (7, "في 7 أيام متتالية")])
def test_days_in_arabic(days: int, form: str) -> None:
    """One, two and few take forms of their own (CLDR plural rules of Arabic)."""
    assert form in said("ar", sets=3, reps=15, days=days)


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("days", range(1, 8))
def test_every_number_of_days(language: str, days: int) -> None:
    """Each bound of the field can be said; the number of the dose is always in it."""
    sentence = said(language, sets=3, reps=14, days=days)
    assert "14" in sentence
    assert "{" not in sentence


def test_amount_keeps_the_sides_and_drops_the_weight() -> None:
    """The sides of the dose stay; a weight is no part of what is reached."""
    exercise, library = measured(sets=2, reps=12)
    exercise = replace(exercise, dose=replace(exercise.dose, weight_kg=2.0))
    words = ready_words(exercise, library, Wording("en"))
    assert words is not None
    assert words.text == "You can do this: 2 sets of 12."


def test_the_author_s_sentence_stands() -> None:
    """Where there is a sentence it is shown as it is; the numbers are known all the same."""
    exercise, library = measured(sets=2, reps=12, pain=2)
    written = replace(exercise, ready_when=exercise.why)
    assert ready_words(written, library, Wording("en")) == exercise.why
    assert [item["kind"] for item in criteria_json(written, library, Wording("en"))] == ["amount", "pain"]
    assert ready_words(replace(exercise, ready_measures=None), library, Wording("en")) is None


def test_a_test_that_is_not_there_has_no_name() -> None:
    """In a language without the test it is still said that there is one."""
    exercise, library = measured(test=Ref("chair-stand", PLACE), result=12.0)
    words = ready_words(exercise, library, Wording("en"))
    assert words is not None
    assert words.text == "The test that we do with you: at least 12."
