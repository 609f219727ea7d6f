"""Phrases are said in the language asked for, or not at all."""

from __future__ import annotations

import pytest

from handouts.words.catalogue import Catalogue, write_catalogue
from handouts.words.merge import merge_catalogue, new_catalogue
from handouts.words.phrase import Phrase, Plural, fill
from handouts.words.phrases import PHRASES, join_rooms
from handouts.words.shipped import interface_entries, load_interface, read_interface, update_interface
from handouts.words.wording import MissingPhraseError, Wording

TWO = {
    "dose.sets": PHRASES["dose.sets"],
    "dose.comma": PHRASES["dose.comma"],
}


def interface_of(language: str, **forms: str | tuple[str, ...]) -> str:
    """A catalogue of two phrases as text; ``comma`` and ``sets`` give their forms."""
    catalogue = merge_catalogue(new_catalogue(language, "x.po"), interface_entries(TWO))
    texts = {"dose.comma": (forms["comma"],), "dose.sets": forms["sets"]}
    entries = tuple(
        type(entry)(**{name: getattr(entry, name) for name in entry.__slots__} | {"forms": tuple(texts[entry.context])})
        for entry in catalogue.entries
    )
    return write_catalogue(Catalogue(language, "x.po", entries)).decode()


def problems_of(text: str, language: str) -> list[str]:
    """Rule and line of each problem of a catalogue of two phrases."""
    return [f"{problem.rule}:{problem.place.line}" for problem in read_interface(text.encode(), "x.po", language, TWO).problems]


def test_english() -> None:
    """English is the source."""
    wording = Wording("en")
    assert wording.say("dose.comma", first="a", second="b") == "a, b"
    assert [wording.count("dose.sets", n) for n in (1, 3, 1.5)] == ["1 set", "3 sets", "1.5 sets"]
    assert wording.problems == ()


def test_wrong_values_are_refused() -> None:
    """A value that is missing, or that no placeholder takes, is an error of the caller."""
    with pytest.raises(TypeError, match=r"needs the values \['first', 'second'\], got \['first'\]"):
        Wording("en").say("dose.comma", first="a")
    with pytest.raises(TypeError, match=r"dose\.sets"):
        Wording("en").count("dose.sets", 3, n="3")


def test_unknown_ids_are_refused() -> None:
    """An id that nobody declared, or of the other kind, is not said."""
    for name in ("dose.nothing", "dose.sets"):
        with pytest.raises(MissingPhraseError):
            Wording("en").say(name)
    with pytest.raises(MissingPhraseError):
        Wording("en").count("dose.comma", 1)


def test_never_english_by_accident() -> None:
    """A language without a catalogue has a problem, and says nothing."""
    wording = Wording("sw")
    assert [problem.rule for problem in wording.problems] == ["interface-language"]
    with pytest.raises(MissingPhraseError):
        wording.count("dose.sets", 3)


GOOD_AR = {"comma": "{first}، {second}", "sets": ("صفر", "مجموعة واحدة", "مجموعتان", "{n} مجموعات", "{n} مجموعة", "{n} مجموعة")}


def test_whole_catalogue() -> None:
    """A form for one number only may leave the number out."""
    interface = read_interface(interface_of("ar", **GOOD_AR).encode(), "x.po", "ar", TWO)
    assert interface.problems == ()
    wording = Wording("ar", interface)
    assert [wording.count("dose.sets", n) for n in (2, 3, 11)] == ["مجموعتان", "3 مجموعات", "11 مجموعة"]


@pytest.mark.parametrize(
    ("language", "forms", "rules"),
    [
        ("es", {"comma": "", "sets": ("{n} serie", "{n} series", "{n} series")}, ["interface-missing:18"]),
        ("es", {"comma": "{first} y", "sets": ("{n} serie", "{n} series", "{n} series")}, ["interface-placeholder:18"]),
        ("es", {"comma": "{first} {second} {n}", "sets": ("{n} serie", "{n} series", "{n} series")}, ["interface-placeholder:18"]),
        ("es", {"comma": "{first} {second} {", "sets": ("{n} serie", "{n} series", "{n} series")}, ["interface-placeholder:18"]),
        ("es", {"comma": "{first}, {second}", "sets": ("una serie", "{n} series", "")}, ["interface-missing:10"]),
        ("es", {"comma": "{first}, {second}", "sets": ("una serie", "{n} series", "series")}, ["interface-placeholder:10"]),
        ("ru", {"comma": "{first}, {second}", "sets": ("подход", "{n} подхода", "{n} подходов", "{n} подхода")}, ["interface-placeholder:10"]),
        ("es", {"comma": "{first}, {second}", "sets": ("{n} serie", "{n} series")}, ["interface-forms:10"]),
    ],
)
def test_broken_phrases(language: str, forms: dict[str, str | tuple[str, ...]], rules: list[str]) -> None:
    """Each broken phrase is a problem at its line."""
    assert problems_of(interface_of(language, **forms), language) == rules


def test_fuzzy_and_stale_phrases() -> None:
    """A phrase marked as unfinished, or translated from another English text, is not said."""
    text = interface_of("es", comma="{first}, {second}", sets=("{n} serie", "{n} series", "{n} series"))
    assert problems_of(text, "es") == []
    fuzzy = text.replace('msgctxt "dose.comma"', '#, fuzzy\nmsgctxt "dose.comma"')
    assert problems_of(fuzzy, "es") == ["interface-stale:18"]
    assert problems_of(text.replace('msgid "{first}, {second}"', 'msgid "{first}; {second}"'), "es") == ["interface-stale:18"]


def test_regions_share_a_catalogue_but_scripts_do_not() -> None:
    """Mexican Spanish is served by Spanish; traditional Chinese never by simplified."""
    assert load_interface("es-MX").problems == load_interface("es").problems
    assert [problem.rule for problem in load_interface("zh-Hant").problems] == ["interface-language"]


def test_updating_a_catalogue_of_the_interface() -> None:
    """A new language begins with every phrase empty; an old catalogue keeps what it has and gets what is new."""
    fresh, problems = update_interface(None, "x.po", "pl")
    assert problems == []
    assert len(read_interface(fresh, "x.po", "pl", PHRASES).problems) == len(PHRASES)
    old = interface_of("es", comma="{first}, {second}", sets=("{n} serie", "{n} series", "{n} series"))
    updated, problems = update_interface(old.encode(), "x.po", "es")
    assert problems == []
    assert set(read_interface(updated, "x.po", "es", PHRASES).forms) == set(TWO)
    assert update_interface(b'msgid "', "x.po", "es")[0] == b'msgid "'


@pytest.mark.parametrize(
    ("rooms", "message"),
    [
        ({"site": {"dose.x": Phrase("a", "b")}}, "must begin with 'site.'"),
        ({"site": {"site.x": Phrase("a", "")}}, "no note"),
        ({"site": {"site.x": Phrase("{a.b}", "b")}}, "brace"),
        ({"site": {"site.x": Plural("{n} {a}", "{n}", "b")}}, "different placeholders"),
    ],
)
def test_bad_declarations(rooms: dict[str, dict[str, Phrase | Plural]], message: str) -> None:
    """A phrase outside its room, without a note or with a broken brace cannot be declared."""
    with pytest.raises(ValueError, match=message):
        join_rooms(rooms)


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        ("555-0141", "\u2066555-0141\u2069"),
        ("+1 555 0141", "\u2066+1 555 0141\u2069"),
        ("911", "911"),
        ("2.5", "2.5"),
        ("5 دقائق", "5 دقائق"),
        ("Quillmoor", "Quillmoor"),
        ("", ""),
    ],
)
def test_numbers_in_parts_keep_their_order(value: str, shown: str) -> None:
    """In Arabic a phone number is isolated (UAX 9, rule W2 would turn its parts round); in English it is as it was."""
    assert fill("اتصل بالرقم {number}.", {"number": value}) == f"اتصل بالرقم {shown}."
    assert fill("Call {number}.", {"number": value}) == f"Call {value}."
    assert fill("{name} {phone}", {"name": "شارع", "phone": value}) == f"شارع {shown}"
