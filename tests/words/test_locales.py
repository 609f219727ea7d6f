"""Plural rules, dates and names of languages, against the tables of CLDR 47 and GNU gettext's own evaluator."""

from __future__ import annotations

from datetime import date
from gettext import c2py
from pathlib import Path

import babel
import pytest
from babel import Locale, localedata
from babel.plural import PluralRule

from handouts.words import locales
from handouts.words.plurals import plural_rule

SHIPPED = Path(locales.__file__).parent / "interface"

NUMBERS = (0, 1, 2, 3, 5, 11, 21, 22, 25, 100, 103, 1_000_000)
# CLDR 47, supplemental/plurals.xml, as its charts show them.
ROWS = {
    "en": "other one other other other other other other other other other other",
    "es": "other one other other other other other other other other other many",
    "fr": "one one other other other other other other other other other many",
    "ar": "zero one two few few many many many many other few other",
    "ru": "many one few few many many one few many many few many",
    "pl": "many one few few many many many few many many few many",
    "zh-Hans": "other " * 12,
    "vi": "other " * 12,
}


@pytest.mark.parametrize("language", ROWS)
def test_plural_rows(language: str) -> None:
    """The category of twelve numbers in each language."""
    assert [locales.category(language, number) for number in NUMBERS] == ROWS[language].split()


@pytest.mark.parametrize("language", [*ROWS, "de", "pt-BR", "fil", "ht", "uk", "cs", "sl", "ga", "cy"])
def test_header_picks_the_form_of_the_category(language: str) -> None:
    """The expression in a catalogue's header, run by Python's gettext, agrees with CLDR for every whole number."""
    header = locales.plural_forms_header(language)
    form = c2py(header.split("plural=")[1].rstrip(";"))
    names = locales.categories(language)
    assert header.startswith(f"nplurals={len(names)};")
    for number in (*range(300), 1_000_000, 1_000_001, 2_000_000):
        assert names[form(number)] == locales.category(language, number), number


@pytest.mark.parametrize("language", ["en", *sorted(path.stem for path in SHIPPED.glob("*.po")), "pt-BR", "pt-PT", "uk"])
def test_a_newer_babel_changes_no_plural(language: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A release of babel may have other rules (2.19 has a 'one' for Vietnamese): no catalogue becomes faulty, no language is lost."""
    before = (locales.categories(language), locales.plural_forms_header(language), [locales.category(language, n) for n in NUMBERS])
    monkeypatch.setattr(Locale, "plural_form", PluralRule({"zero": "n in 1", "few": "n in 0..50"}))
    locales.single_number_categories.cache_clear()
    after = (locales.categories(language), locales.plural_forms_header(language), [locales.category(language, n) for n in NUMBERS])
    assert after == before
    assert "zero" not in locales.single_number_categories(language) or language == "ar"
    locales.single_number_categories.cache_clear()


def test_every_language_of_babel_has_its_rule() -> None:
    """The table knows each language that a clinic can name; where the installed babel differs, the table holds."""
    for name in localedata.locale_identifiers():
        locale = Locale.parse(name)
        rule = plural_rule(name, locale.language)
        assert rule is not None or babel.__version__ != "2.18.0", name
        if babel.__version__ == "2.18.0":
            assert rule is not None and rule.rules == locale.plural_form.rules, name


def test_forms_for_one_number_only() -> None:
    """Arabic has words for none, one and two; the Russian 'one' also stands for 21, so it must say the number."""
    assert locales.single_number_categories("ar") == {"zero", "one", "two"}
    assert locales.single_number_categories("ru") == frozenset()
    assert locales.single_number_categories("en") == {"one"}


@pytest.mark.parametrize(
    ("language", "shown"),
    [
        # CLDR 47, date format 'long'
        ("en", "March 9, 2026"),
        ("es", "9 de marzo de 2026"),
        ("ar", "9 مارس 2026"),
        ("vi", "9 tháng 3, 2026"),
        ("zh-Hans", "2026年3月9日"),
        ("ru", "9 марта 2026\u202fг."),
        # CLDR has no Haitian month names and would answer in French.
        ("ht", "2026-03-09"),
    ],
)
def test_dates(language: str, shown: str) -> None:
    """A date in full in its own language, or in figures."""
    assert locales.long_date(language, date(2026, 3, 9)) == shown


@pytest.mark.parametrize(
    ("language", "shown"), [("en", "a, b, and c"), ("es", "a, b y c"), ("zh-Hans", "a、b和c"), ("vi", "a, b và c")]
)
def test_lists(language: str, shown: str) -> None:
    """A list in one sentence (CLDR 47, list pattern 'standard')."""
    assert locales.join(language, ("a", "b", "c")) == shown


@pytest.mark.parametrize(("language", "shown"), [("en", "2.5"), ("es", "2,5"), ("ar", "2.5"), ("ru", "2,5")])
def test_numbers(language: str, shown: str) -> None:
    """The decimal sign of the language; two decimals at most."""
    assert locales.number(language, 2.5) == shown
    assert locales.number(language, 2.501) == shown


def test_names_of_languages() -> None:
    """A language is named in itself, with a capital, and by the reader's language."""
    tags = ("es", "ar", "zh-Hans", "vi", "ht", "ru")
    assert [locales.own_name(tag) for tag in tags] == [
        "Español", "العربية", "简体中文", "Tiếng Việt", "Kreyòl Ayisyen", "Русский",
    ]
    assert locales.name_in("ar", "es") == "árabe"


def test_direction() -> None:
    """Arabic and the mirrored pseudo-language run from right to left."""
    assert [locales.direction(tag) for tag in ("en", "ar", "ur", "zh-Hans", "en-XA", "ar-XB")] == [
        "ltr", "rtl", "rtl", "ltr", "ltr", "rtl",
    ]


def test_unknown_languages() -> None:
    """A tag that is no language is not known."""
    assert [locales.is_known(tag) for tag in ("es", "zh-Hans", "xx", "no such", "")] == [True, True, False, False, False]
