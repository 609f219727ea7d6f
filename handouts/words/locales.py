"""What CLDR (through babel) knows of a language, guarded against what it does not know.

CLDR answers for some languages in another one: dates for Haitian Creole come in French, and the
simplified Chinese name of itself is missing.  Here such an answer is never passed on: a date without
month names of the language itself is written as 2026-09-14.  Units are never taken from CLDR (its
long patterns have holes that print raw unit ids); they are phrases of our own.
"""

from __future__ import annotations

import pickle
import re
from datetime import date
from functools import cache, lru_cache
from pathlib import Path

from babel import Locale, UnknownLocaleError, localedata
from babel.dates import format_date
from babel.lists import format_list
from babel.numbers import format_decimal
from babel.plural import PluralRule, to_gettext

from handouts.words.plurals import plural_rule

PSEUDO = {"en-XA": "ltr", "ar-XB": "rtl"}
"""Languages made from English for layout tests: lengthened and accented, and mirrored; with their direction."""
CATEGORIES = ("zero", "one", "two", "few", "many", "other")
"""CLDR plural categories, in the order in which a catalogue lists the forms."""
_PROBE = 200
"""Whole numbers tried to find the categories that hold one number only; every rule in CLDR repeats within 100."""


def is_known(language: str) -> bool:
    """Whether CLDR knows a BCP 47 tag, or it is a pseudo-language."""
    if language in PSEUDO:
        return True
    try:
        parse(language)
    except (UnknownLocaleError, ValueError):
        return False
    return True


@cache
def parse(language: str) -> Locale:
    """The locale of a BCP 47 tag; that of English for a pseudo-language."""
    return Locale.parse("en" if language in PSEUDO else language, sep="-")


def direction(language: str) -> str:
    """``ltr`` or ``rtl``."""
    return PSEUDO.get(language) or str(parse(language).text_direction)


def own_name(language: str) -> str:
    """The name of a language in itself, with a capital where the script has them."""
    locale = parse(language)
    if language in PSEUDO:
        return f"English ({language})"
    names = locale.languages
    name = names.get(str(locale)) or locale.get_display_name(locale) or names.get(locale.language) or language
    return name[:1].upper() + name[1:]


def name_in(language: str, reader: str) -> str:
    """The name of a language as its reader's language calls it; the tag where CLDR has none."""
    if language in PSEUDO:
        return own_name(language)
    locale = parse(language)
    names = parse(reader).languages
    return str(names.get(str(locale)) or names.get(locale.language) or language)


def _plural_rule(language: str) -> PluralRule:
    """The program's own rule; CLDR's for a language that its table does not have."""
    locale = parse(language)
    return plural_rule(str(locale), locale.language) or locale.plural_form


def category(language: str, number: float) -> str:
    """The CLDR plural category of a number."""
    value = int(number) if float(number).is_integer() else number
    return str(_plural_rule(language)(value))


def categories(language: str) -> tuple[str, ...]:
    """The plural categories of a language, in the order in which a catalogue lists the forms."""
    rule = _plural_rule(language)
    return tuple(name for name in CATEGORIES if name in rule.tags or name == "other")


@cache
def single_number_categories(language: str) -> frozenset[str]:
    """The categories that stand for one number only, whose form may say the number in words or leave it out."""
    rule = _plural_rule(language)
    found: dict[str, int] = {}
    for number in range(_PROBE):
        found[rule(number)] = found.get(rule(number), 0) + 1
    return frozenset(name for name, count in found.items() if count == 1 and name != "other")


def plural_forms_header(language: str) -> str:
    """The ``Plural-Forms`` line of a catalogue; CLDR's operand for compact numbers is taken out, gettext has none."""
    rules = {
        name: re.sub(r"\be in 0 and | or e not in [0-9.]+", "", rule)
        for name, rule in _plural_rule(language).rules.items()
    }
    return str(to_gettext(PluralRule(rules)))


@cache
def _locale_number(language: str, value: float) -> str:
    return str(format_decimal(value, locale=parse(language)))


def number(language: str, value: float) -> str:
    """A number with the language's decimal sign; at most two decimals."""
    return _locale_number(language, round(value, 2))


@cache
def has_own(language: str, part: str) -> bool:
    """Whether CLDR has a part (``months``, ``list_patterns``) for the language itself, not taken from another one."""
    # babel's own cache mixes merged and unmerged data, so its file is read past the cache.
    data = Path(localedata.resolve_locale_filename(parse(language).language)).read_bytes()
    return bool(pickle.loads(data).get(part))


@cache
def long_date(language: str, day: date) -> str:
    """A date in full, or as 2026-09-14 where CLDR has no month names of this language."""
    if not has_own(language, "months"):
        return day.isoformat()
    return str(format_date(day, "long", locale=parse(language)))


@lru_cache(maxsize=16_384)
def join(language: str, items: tuple[str, ...]) -> str:
    """``a, b, and c`` as the language writes it."""
    if not has_own(language, "list_patterns"):
        return ", ".join(items)
    return str(format_list(list(items), locale=parse(language)))
