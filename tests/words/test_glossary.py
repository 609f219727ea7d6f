"""One word for one thing: what patients read on pages, phone and paper names a thing alike, in every language of the interface."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest

from handouts.words.phrases import phrase_ids
from handouts.words.shipped import load_interface

LANGUAGES = ("en", "es", "ar", "fr", "vi", "zh-Hans")
ROOMS = ("phone", "site", "paper", "dose", "steps", "figure")
"""Rooms whose words patients read."""
SAME: Mapping[str, tuple[str, ...]] = {
    "the speed of a movement": ("dose.tempo", "paper.tempo"),
    "what to fetch": ("site.fact_need", "site.fetch_first", "paper.equipment", "paper.fetch"),
    "how it should feel": ("site.feel", "paper.feel"),
    "common mistakes": ("site.goes_wrong", "paper.mistakes"),
    "large letters": ("site.size_large", "site.print_other", "clinician.size_large"),
    "to start": ("phone.begin_button", "phone.start", "phone.begin_here", "phone.begin"),
    "usual letters": ("site.size_standard", "clinician.size_standard"),
    "to carry on": ("phone.go_on", "phone.ending_on"),
    "to remove": ("clinician.take_out", "clinician.taken_out"),
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
    "usual letters": {"en": "standard print", "es": "letra normal", "ar": "خط عادي", "fr": "caractères standard", "vi": "chữ thường", "zh-Hans": "标准字号"},
    "to carry on": {"en": "Carry on", "es": "Seguir", "ar": "تابع", "fr": "Continuer", "vi": "Tập tiếp", "zh-Hans": "继续"},
    "to remove": {"en": "remove", "es": "quit", "ar": "ذف", "fr": "retir", "vi": "bỏ", "zh-Hans": "移"},
    "to start": {"en": "Start", "es": "Empezar", "ar": "ابدأ", "fr": "Commencer", "vi": "Bắt đầu", "zh-Hans": "开始"},
    "to finish": {"en": "Finish", "es": "Terminar", "ar": "نه", "fr": "Finir", "vi": "Kết thúc", "zh-Hans": "结束"},
    "saved on the device": {"en": "saved", "es": "guardad", "ar": "محفوظ", "fr": "enregistré", "vi": "lưu", "zh-Hans": "存"},
}  # fmt: skip
"""By thing and language the word for it, or its stem where the language bends it."""
TITLES: Mapping[str, Mapping[str, str]] = {
    "clinician.title": {"en": "Exercises for one patient", "es": "Ejercicios para un paciente", "ar": "تمارين لمريض واحد", "fr": "Exercices pour un patient", "vi": "Bài tập cho một bệnh nhân", "zh-Hans": "一位患者的练习"},
    "clinician.totals": {"en": "Summary", "es": "Resumen", "ar": "الملخص", "fr": "Résumé", "vi": "Tóm tắt", "zh-Hans": "摘要"},
    "clinician.look_at": {"en": "Check before you print", "es": "Revise antes de imprimir", "ar": "تحقق قبل الطباعة", "fr": "À vérifier avant d'imprimer", "vi": "Kiểm tra trước khi in", "zh-Hans": "打印前请检查"},
    "clinician.take_out": {"en": "Remove", "es": "Quitar", "ar": "احذف", "fr": "Retirer", "vi": "Bỏ", "zh-Hans": "移除"},
    "clinician.clear": {"en": "Clear all", "es": "Borrar todo", "ar": "امسح الكل", "fr": "Tout effacer", "vi": "Xóa hết", "zh-Hans": "全部清除"},
    "clinician.order": {"en": "Sort by position", "es": "Ordenar por posición", "ar": "رتّب حسب الوضعية", "fr": "Trier par position", "vi": "Xếp theo tư thế", "zh-Hans": "按姿势排序"},
    "clinician.limits": {"en": "Precautions and restrictions", "es": "Precauciones y restricciones", "ar": "الاحتياطات والقيود", "fr": "Précautions et restrictions", "vi": "Lưu ý và giới hạn", "zh-Hans": "注意事项和限制"},
    "clinician.found_none": {"en": "No match", "es": "Sin resultados", "ar": "لا نتائج", "fr": "Aucun résultat", "vi": "Không có kết quả", "zh-Hans": "没有匹配结果"},
    "phone.after_title": {"en": "Session finished", "es": "Sesión terminada", "ar": "انتهت الجلسة", "fr": "Séance terminée", "vi": "Buổi tập đã xong", "zh-Hans": "锻炼结束"},
    "paper.for": {"en": "Name", "es": "Nombre", "ar": "الاسم", "fr": "Nom", "vi": "Họ tên", "zh-Hans": "姓名"},
    "phone.prop": {"en": "Enlarge", "es": "Ampliar", "ar": "كبّر العرض", "fr": "Agrandir", "vi": "Phóng to", "zh-Hans": "放大"},
}  # fmt: skip
"""Titles and buttons that were read aloud, and stay as one would say them."""
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
    forms = load_interface(language).forms
    strays = [
        (name, text)
        for thing, names in SAME.items()
        for name in names
        for text in forms[name].values()
        if WORDS[thing][language].casefold() not in text.casefold()
    ]
    assert strays == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_titles_are_plain(language: str) -> None:
    """Each title stands as it was read aloud."""
    forms = load_interface(language).forms
    assert {name: forms[name]["other"] for name in TITLES} == {name: texts[language] for name, texts in TITLES.items()}


@pytest.mark.parametrize("name", phrase_ids(("clinician",)))
def test_the_clinicians_page_says_it_plainly(name: str) -> None:
    """No phrase of it has a word that stands for a thing beside its own."""
    wrong = (r"\bTake out\b", r"Start anew", r"\bIn all\b", r"Look at this", r"\bBegin\b", r"(?:large|standard) type", r"Fetch", r"\bPace\b", r"^Kept\b")
    assert [text for text in load_interface("en").forms[name].values() for each in wrong if re.search(each, text)] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_second_word(language: str) -> None:
    """No phrase that patients read has a word that stands for such a thing beside it."""
    found = [(name, text) for name, each in forms_of(language).items() for text in each.values() for word in NEVER[language] if re.search(word, text)]
    assert found == []
