"""How an action tells the reader to stop, by language: a stop rule opens with one of these words.

A small table and no grammar: it sees an action that says something else, not one that says it badly.  A language
without a row cannot be checked, and that is said.
"""

from __future__ import annotations

import re
import unicodedata

STOP_WORDS: dict[str, tuple[str, ...]] = {
    "ar": ("توقف", "توقفي", "توقفوا", "أوقف", "أوقفي", "التوقف", "يرجى التوقف", "يجب التوقف"),
    "de": ("stopp", "stoppen sie", "hören sie auf", "hör auf", "halten sie an", "brechen sie ab"),
    "en": ("stop", "please stop"),
    "es": ("pare", "párese", "deténgase", "detente", "detenga", "interrumpa", "suspenda"),
    "fil": ("tumigil", "huminto", "itigil", "ihinto"),
    "fr": ("arrêtez", "arrêtez-vous", "arrête", "stop", "interrompez", "cessez"),
    "ht": ("sispann", "rete"),
    "it": ("si fermi", "fermati", "smetta", "smetti", "interrompa", "interrompi", "stop"),
    "ja": ("中止", "やめて", "止めて", "止まって", "運動をやめ"),
    "ko": ("멈추", "중단", "그만", "운동을 멈추", "운동을 중단"),
    "nl": ("stop",),
    "pl": ("przerwij", "zatrzymaj", "przestań", "proszę przerwać"),
    "pt": ("pare", "interrompa", "suspenda"),
    "ro": ("opriți", "opriți-vă", "oprește", "oprește-te", "încetați"),
    "ru": ("остановитесь", "прекратите", "остановись", "прекрати", "стоп"),
    "tr": ("dur", "durun", "bırakın", "egzersizi bırakın", "egzersizi durdurun"),
    "uk": ("зупиніться", "припиніть", "стоп"),
    "vi": ("dừng", "ngừng", "ngưng", "hãy dừng", "hãy ngừng"),
    "zh": ("停", "请停", "請停", "立即停", "立刻停", "马上停"),
}
"""Opening words of an action by primary language; common usage, no source.  Read them with a speaker of the language."""
_UNSPACED = ("ja", "ko", "zh")
"""Languages in which a word may go on without a space, or with an ending."""
_TONAL = ("vi",)
"""Languages in which a mark makes another word: Vietnamese 'dừng' is stop, 'dùng' is use."""


def knows_stop_words(language: str) -> bool:
    """Whether the table has a row for a language."""
    return _primary(language) in STOP_WORDS


def tells_to_stop(action: str, language: str) -> bool:
    """Whether an action opens with a word that tells the reader to stop; the language must have a row."""
    primary = _primary(language)
    text, end = _plain(action, primary), "" if primary in _UNSPACED else r"(?!\w)"
    return any(re.match(re.escape(_plain(word, primary)) + end, text) for word in STOP_WORDS[primary])


def opens_with_stop(action: str) -> bool:
    """Whether an action opens with such a word of any language; for a text whose language the caller does not know."""
    return any(tells_to_stop(action, language) for language in STOP_WORDS)


def _primary(language: str) -> str:
    primary = language.partition("-")[0]
    return "fil" if primary == "tl" else primary


def _plain(text: str, primary: str) -> str:
    """Small letters without signs before the first word, and without accents where they are sometimes left out."""
    letters = unicodedata.normalize("NFKC" if primary in _TONAL else "NFKD", text.casefold())
    bare = "".join(sign for sign in letters if primary in _TONAL or not unicodedata.combining(sign))
    return re.sub(r"^[\W_]+", "", bare)
