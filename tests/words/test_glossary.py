"""One word for one thing: what patients read on pages, phone and paper names a thing alike, in every language of the interface."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest

from handouts.words.phrases import phrase_ids
from handouts.words.shipped import load_interface

LANGUAGES = ("en", "es", "ar", "fr", "vi", "zh-Hans")
ROOMS = ("phone", "site", "paper", "dose", "steps", "figure")
"""Rooms whose words patients read; the clinician's page has its own."""
SAME: Mapping[str, tuple[str, ...]] = {
    "the speed of a movement": ("dose.tempo", "paper.tempo"),
    "what to fetch": ("site.fact_need", "site.fetch_first", "paper.equipment", "paper.fetch"),
    "how it should feel": ("site.feel", "paper.feel"),
    "common mistakes": ("site.goes_wrong", "paper.mistakes"),
    "large letters": ("site.size_large", "site.print_other"),
    "to start": ("phone.begin_button", "phone.start", "phone.begin_here", "phone.begin"),
    "to finish": ("phone.end", "phone.ending_title", "phone.ending_now"),
    "saved on the device": ("phone.kept", "phone.list_day", "phone.only_one", "phone.another_list", "site.state_kept", "site.state_kept_since"),
}
"""By thing the phrases that name it."""
WORDS: Mapping[str, Mapping[str, str]] = {
    "the speed of a movement": {"en": "Tempo", "es": "Ritmo", "ar": "السرعة", "fr": "Rythme", "vi": "Nhịp độ", "zh-Hans": "节奏"},
    "what to fetch": {"en": "Have ready", "es": "Tenga a mano", "ar": "جهّز", "fr": "Préparez", "vi": "Chuẩn bị sẵn", "zh-Hans": "请准备好"},
    "how it should feel": {"en": "What you should feel", "es": "Lo que debe sentir", "ar": "ما يجب أن تشعر به", "fr": "Ce que vous devez sentir",
                           "vi": "Cảm giác nên có", "zh-Hans": "应有的感觉"},
    "common mistakes": {"en": "What goes wrong, and what to do", "es": "Lo que sale mal y qué hacer", "ar": "أخطاء شائعة وكيف تصححها",
                        "fr": "Ce qui va mal, et que faire", "vi": "Lỗi thường gặp và cách sửa", "zh-Hans": "容易出错的地方和做法"},
    "large letters": {"en": "large print", "es": "letra grande", "ar": "خط كبير", "fr": "gros caractères", "vi": "chữ lớn", "zh-Hans": "大字号"},
    "to start": {"en": "Start", "es": "Empezar", "ar": "ابدأ", "fr": "Commencer", "vi": "Bắt đầu", "zh-Hans": "开始"},
    "to finish": {"en": "Finish", "es": "Terminar", "ar": "نه", "fr": "Finir", "vi": "Kết thúc", "zh-Hans": "结束"},
    "saved on the device": {"en": "saved", "es": "guardad", "ar": "محفوظ", "fr": "enregistré", "vi": "lưu", "zh-Hans": "存"},
}  # fmt: skip
"""By thing and language the word for it, or its stem where the language bends it."""
NEVER: Mapping[str, tuple[str, ...]] = {
    "en": (r"Pace:", r"You need\b", r"Fetch first", r"How it should feel", r"\bBegin\b", r"larger? type", r"larger print", r"\b(?:is|are|has) kept\b(?! up)", r"That was your session"),
    "es": (r"Necesita\b", r"letra más grande", r"\bconserva\b"),
    "ar": (r"تحتاج إلى: ", r"خط أكبر"),
    "fr": (r"Il vous faut", r"plus gros caractères", r"\bgardée? sur\b"),
    "vi": (r"Quý vị cần:", r"chữ lớn hơn"),
    "zh-Hans": (r"^需要：", r"大字版"),
}  # fmt: skip
"""Second words for a thing that has its one."""


def forms_of(language: str) -> Mapping[str, Mapping[str, str]]:
    """All forms of the phrases that patients read."""
    forms = load_interface(language).forms
    return {name: forms[name] for name in phrase_ids(ROOMS)}


@pytest.mark.parametrize("language", LANGUAGES)
def test_one_thing_has_one_word(language: str) -> None:
    """Each phrase that names a thing does it with the one word of the language."""
    forms = forms_of(language)
    strays = [
        (name, text)
        for thing, names in SAME.items()
        for name in names
        for text in forms[name].values()
        if WORDS[thing][language].casefold() not in text.casefold()
    ]
    assert strays == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_second_word(language: str) -> None:
    """No phrase that patients read has a word that stands for such a thing beside it."""
    found = [(name, text) for name, each in forms_of(language).items() for text in each.values() for word in NEVER[language] if re.search(word, text)]
    assert found == []
