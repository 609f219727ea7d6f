"""What a translation says about amounts, and in which letters: units beside numbers, script, length.

Compares words and figures only, with tables of CLDR (through babel).  Names what is surely something else.  Never judges style.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from functools import cache, lru_cache

from babel import UnknownLocaleError
from babel.core import get_global

from handouts.words import locales

UNITS = ("second", "minute", "hour", "day", "week", "month", "year", "centimeter", "meter", "kilometer", "inch", "kilogram", "gram", "pound")
"""Units of CLDR that exercises are told in; feet are left out, since they are a part of the body too."""
SCRIPTS: dict[str, tuple[str, ...]] = {
    "Latn": ("LATIN",), "Cyrl": ("CYRILLIC",), "Grek": ("GREEK",), "Arab": ("ARABIC",), "Hebr": ("HEBREW",), "Hans": ("CJK", "BOPOMOFO"),
    "Hant": ("CJK", "BOPOMOFO"), "Jpan": ("CJK", "HIRAGANA", "KATAKANA"), "Kore": ("HANGUL", "CJK"), "Thai": ("THAI",), "Deva": ("DEVANAGARI",),
    "Beng": ("BENGALI",), "Taml": ("TAMIL",), "Telu": ("TELUGU",), "Gujr": ("GUJARATI",), "Guru": ("GURMUKHI",), "Ethi": ("ETHIOPIC",),
    "Armn": ("ARMENIAN",), "Geor": ("GEORGIAN",), "Khmr": ("KHMER",), "Laoo": ("LAO",), "Mymr": ("MYANMAR",),
}  # fmt: skip
"""How the Unicode names of the letters of each script begin, by ISO 15924 code."""
LEAST_LETTERS, LEAST_SHARE = 12, 0.3
"""A text in letters of its own has this share of them, from so many letters on: names and links may stay in Latin ones."""
LEAST_COMPARED, LONGEST, SHORTEST = 30, 5.0, 0.08
"""From so many signs on: no translation is five times as long, or a twelfth (Chinese takes a quarter of English; common practice, no source)."""
NUMBER = r"\d+(?:[.,٫]\d+)?"
_DIGIT = re.compile(r"\d")
_LETTERS = re.compile(r"[^\W\d_]+")
LINK = re.compile(r"\]\([^()\s]*\)|https?://\S+|\{[a-z_]+\}")


def find_script_fault(source: str, translation: str, language: str) -> str:
    """What is wrong with the letters of a translation, in words; empty where nothing is."""
    wanted = SCRIPTS.get(script_of(language))
    if wanted is None:
        return ""
    found = _scripts(LINK.sub(" ", translation))
    foreign = {script for script in found if script not in (*wanted, "LATIN")} - set(_scripts(source))
    name = script_name(language)
    if foreign:
        sample = next(word for word in _LETTERS.findall(translation) if foreign & set(_scripts(word)))
        return f"'{sample}' has {min(foreign).capitalize()} letters, the language is written in {name}"
    own = sum(found[script] for script in wanted)
    if "LATIN" not in wanted and sum(found.values()) >= LEAST_LETTERS and own < LEAST_SHARE * sum(found.values()):
        return f"it has hardly any {name} letters"
    return ""


def script_of(language: str) -> str:
    """The ISO 15924 code of the script of a language tag; empty where CLDR names none."""
    locale, likely_subtags = locales.parse(language), get_global("likely_subtags")
    likely = likely_subtags.get("_".join(filter(None, (locale.language, locale.territory)))) or likely_subtags.get(locale.language)
    return str(locale.script or next((part for part in (likely or "").split("_")[1:] if len(part) == 4), ""))


def script_name(language: str) -> str:
    """The English name of the script of a language."""
    return str(locales.parse("en").scripts.get(script_of(language), script_of(language)))


def _scripts(text: str) -> Counter[str]:
    """The scripts of a text's letters, each with how many there are."""
    found: Counter[str] = Counter()
    for sign, count in Counter(text).items():
        if script := _script(sign):
            found[script] += count
    return found


@lru_cache(maxsize=8192)
def _script(sign: str) -> str:
    """The script of a letter; empty for any other sign."""
    if unicodedata.category(sign) not in ("Lu", "Ll", "Lt", "Lo"):
        return ""
    first = unicodedata.name(sign, "").partition(" ")[0]
    return "" if first in ("MASCULINE", "FEMININE", "MICRO", "") else first


def find_unit_fault(source: str, translation: str, languages: tuple[str, str]) -> str:
    """Which number has another unit than in the source, in words; ``languages`` are those of both texts."""
    wanted, found = _amounts(source, languages[0]), _amounts(translation, languages[1])
    for number, units in found.items():
        asked = wanted.get(number, set())
        if asked and units and not asked & units:
            return f"it says {number} {_several(min(units))} where the source says {number} {_several(min(asked))}"
    return ""


def _several(unit: str) -> str:
    return "inches" if unit == "inch" else f"{unit}s"


def _amounts(text: str, language: str) -> dict[str, set[str]]:
    """The units that stand beside each number."""
    words = unit_words(language)
    if not words or not _DIGIT.search(text):
        return {}
    found: dict[str, set[str]] = {}
    for match in _beside(language).finditer(text.casefold()):
        number, word = (match["first"], match["after"]) if match["first"] else (match["last"], match["before"])
        found.setdefault(western(number), set()).add(words[word])
    return found


@cache
def _beside(language: str) -> re.Pattern[str]:
    words = "|".join(sorted(map(re.escape, unit_words(language)), key=len, reverse=True))
    end = "" if script_of(language) in ("Hans", "Hant", "Jpan", "Thai") else r"(?!\w)"
    after = rf"(?P<first>{NUMBER})[\s\u00a0\u202f-]*(?P<after>{words}){end}"
    return re.compile(rf"{after}|(?<!\w)(?P<before>{words})\s(?P<last>{NUMBER})(?![\s-]*(?:{words}))")


@cache
def unit_words(language: str) -> dict[str, str]:
    """The words of units in a language by CLDR, in small letters; words that two units share are left out."""
    try:
        patterns = locales.parse(language)._data.get("unit_patterns", {})
    except (UnknownLocaleError, AttributeError):
        return {}
    words: dict[str, set[str]] = {}
    for unit in UNITS:
        for kind in ("duration", "length", "mass"):
            for width, forms in patterns.get(f"{kind}-{unit}", {}).items():
                if width not in ("long", "short") or not hasattr(forms, "items"):
                    continue
                for form in forms.values():
                    word = str(form).replace("{0}", "").strip().casefold() if "{0}" in str(form) else ""
                    # holes of CLDR show the unit's own name
                    if (len(word) > 1 or ord(word[:1] or "a") > 0x2000) and word != f"{kind}-{unit}" and not re.search(r"[\d{}]", word):
                        words.setdefault(word, set()).add(unit)
    return {word: min(units) for word, units in words.items() if len(units) == 1}


def find_length_fault(source: str, translation: str) -> str:
    """That a translation is far too long or too short to say the same; empty where it is not."""
    if len(source) < LEAST_COMPARED:
        return ""
    ratio = len(translation) / len(source)
    if ratio > LONGEST:
        return f"it is {ratio:.0f} times as long as the source"
    return f"it has {len(translation)} signs for {len(source)}" if ratio < SHORTEST else ""


def western(number: str) -> str:
    """A number in Western digits with a point, whatever the script."""
    return "".join(str(unicodedata.digit(sign)) if sign.isdigit() else "." for sign in number)
