"""Collecting: what stays, what moves, what is marked, what is put aside; nothing is lost."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.words.catalogue import Catalogue, CatalogueMessage, read_catalogue, write_catalogue
from handouts.words.folder import WordsFolder, collect
from handouts.words.merge import merge_catalogue, new_catalogue, template_entries
from handouts.words.messages import collect_messages, unique_messages
from tests.small_library import TEXTS, small_library, texts_with
from tests.words.sample import translated, turn

FOOT = "exercises/foot-lift.md"


def after(texts: dict[str, str]) -> Catalogue:
    """The whole catalogue of the small library, brought up to date with other texts."""
    template = template_entries(unique_messages(collect_messages(small_library(texts))))
    return merge_catalogue(translated(small_library()), template)


def marked(catalogue: Catalogue) -> list[tuple[str, str, str, str]]:
    """Context, source, former source and translation of every entry that is not usable, obsolete ones last."""
    return [(entry.context, entry.source, entry.previous, entry.text) for entry in catalogue.entries if not entry.usable]


def test_nothing_changes_without_a_change() -> None:
    """Collecting twice gives the same bytes."""
    catalogue = translated(small_library())
    assert write_catalogue(after(dict(TEXTS))) == write_catalogue(catalogue)


def test_changed_text_is_fuzzy_with_its_former_source() -> None:
    """One changed word: exactly that message is marked, with the old source beside it."""
    catalogue = after(texts_with(FOOT, ("You use this each time", "You need this each time")))
    old = "You use this each time you stand up."
    assert marked(catalogue) == [("exercise/A222/why", "You need this each time you stand up.", old, turn(old))]


def test_second_change_keeps_the_first_source() -> None:
    """The former source is the one that was translated, not the one in between."""
    once = after(texts_with(FOOT, ("You use this each time", "You need this each time")))
    again = texts_with(FOOT, ("You use this each time", "You need it each time"))
    twice = merge_catalogue(once, template_entries(unique_messages(collect_messages(small_library(again)))))
    assert [row[2] for row in marked(twice)] == ["You use this each time you stand up."]


def test_changed_back_is_found_again() -> None:
    """A text that returns to what it was does not need a translator, once the fuzzy copy has not taken its place."""
    gone = after(texts_with(FOOT, ("cues: [Sit tall.]", "cues: [Breathe out as you lift.]")))
    assert ("exercise/A222/cue", "Breathe out as you lift.", "", "") in marked(gone)
    back = merge_catalogue(gone, template_entries(unique_messages(collect_messages(small_library()))))
    assert marked(back) == []


def test_renamed_exercise_keeps_everything() -> None:
    """Another file name and the same code: every translation stays usable."""
    texts = {path.replace("foot-lift.md", "foot-rise.md"): text.replace("foot-lift", "foot-rise") for path, text in TEXTS.items()}
    assert marked(after(texts)) == []


def test_new_code_keeps_everything() -> None:
    """The same texts under another code, or a caution under another slug, are carried over."""
    assert marked(after(texts_with(FOOT, ("code: A222", "code: C333")))) == []
    texts = {path: text.replace("stop-pain", "sharp-pain") for path, text in TEXTS.items()}
    assert marked(after(texts)) == []


def test_reordered_steps_keep_everything() -> None:
    """Steps in another order are the same messages."""
    texts = texts_with(FOOT, ("1. Sit on a chair.\n2. Lift your foot.", "1. Lift your foot.\n2. Sit on a chair."))
    assert marked(after(texts)) == []


def test_deleted_text_becomes_obsolete() -> None:
    """The translation of a deleted step is put aside, not thrown away."""
    catalogue = after(texts_with(FOOT, ("\n2. Lift your foot.", "")))
    obsolete = [(entry.source, entry.text) for entry in catalogue.entries if entry.obsolete]
    assert obsolete == [("Lift your foot.", "lIFT YOUR FOOT.")]


def test_same_text_elsewhere_is_a_draft() -> None:
    """A new exercise with a cue that is translated elsewhere gets it as a draft to look at."""
    texts = {**TEXTS, "exercises/toe-lift.md": TEXTS[FOOT].replace("A222", "D444").replace("Foot lift", "Toe lift")}
    catalogue = after(texts)
    cue = catalogue.by_key[("exercise/D444/cue", "Sit tall.")]
    assert (cue.text, cue.fuzzy) == ("sIT TALL.", True)
    assert catalogue.by_key[("exercise/D444/title", "Toe lift")].text == ""


def test_far_text_is_not_offered() -> None:
    """A text with little in common starts empty: a wrong draft is a trap."""
    catalogue = after(texts_with(FOOT, ("feel: You feel your thigh work.", "feel: A warm ache.")))
    assert catalogue.by_key[("exercise/A222/feel", "A warm ache.")].text == ""


TITLES = st.lists(st.text(st.sampled_from("ab "), min_size=1, max_size=10).map(str.strip).filter(bool), min_size=1, max_size=6, unique=True)


@settings(deadline=None)
@given(TITLES, TITLES)
def test_no_translation_is_ever_lost(before: list[str], now: list[str]) -> None:
    """Every translation of the former catalogue is somewhere in the new one, and every text has one entry."""
    def entries(texts: list[str]) -> tuple[CatalogueMessage, ...]:
        return tuple(CatalogueMessage(f"exercise/{text[0]}/cue", text, ("",), source_file="a.md") for text in texts)

    old = replace(new_catalogue("es", "es.po"), entries=tuple(replace(entry, forms=(f"<{entry.source}>",)) for entry in entries(before)))
    merged = merge_catalogue(old, entries(now))
    assert {entry.text for entry in old.entries} <= {entry.text for entry in merged.entries}
    assert sorted(entry.key for entry in merged.entries if not entry.obsolete) == sorted({entry.key for entry in entries(now)})


def test_collect_gives_files() -> None:
    """Collecting into an empty folder gives one readable catalogue for each language."""
    made = collect(WordsFolder(), collect_messages(small_library()), ("es", "ar"))
    assert list(made) == ["words/es.po", "words/ar.po"]
    catalogue, problems = read_catalogue(made["words/ar.po"], "ar.po", "ar")
    assert problems == []
    assert catalogue is not None
    assert len(catalogue.entries) == len(unique_messages(collect_messages(small_library())))


def near(old: CatalogueMessage, wanted: CatalogueMessage) -> CatalogueMessage:
    """What a catalogue with one translation gives for one other text."""
    return merge_catalogue(Catalogue("es", "es.po", (old,)), (wanted,)).entries[0]


SIT = CatalogueMessage("exercise/A222/cue", "Sit tall on the chair.", ("Siéntese.",), source_file="exercises/a.md")
STAND = replace(SIT, context="exercise/A222/step", source="Sit tall on a chair.", forms=("",))


def test_nearly_the_same_text_of_a_neighbour() -> None:
    """The translation of a text of the same file is offered, fuzzy; one of another file is not, nor is one for one thing and for many."""
    assert (near(SIT, STAND).text, near(SIT, STAND).fuzzy) == ("Siéntese.", True)
    assert near(SIT, replace(STAND, source_file="exercises/b.md")).text == ""
    assert near(SIT, replace(STAND, source_plural="Sit tall on chairs.")).text == ""
    assert near(replace(SIT, forms=("",)), STAND).text == ""


def test_neighbours_without_a_place() -> None:
    """A catalogue without places: texts of one owner are neighbours, those of two are not."""
    old, wanted = replace(SIT, source_file=""), replace(STAND, source_file="")
    assert near(old, wanted).text == "Siéntese."
    assert near(old, replace(wanted, context="exercise/B222/step")).text == ""


def test_catalogue_of_no_language() -> None:
    """There is none."""
    with pytest.raises(ValueError, match="no language has the tag 'xx'"):
        new_catalogue("xx", "xx.po")


def test_a_catalogue_does_not_change_with_lines_or_the_name_of_the_folder() -> None:
    """A remark above a text, or another name of the library's folder, gives the same bytes; a file of a former version keeps its texts."""
    plain, moved = small_library(), small_library(texts_with("exercises/foot-lift.md", ("title:", "# a remark\n# and another\ntitle:")))
    made = [write_catalogue(merge_catalogue(new_catalogue("es", "es.po"), template_entries(collect_messages(each)))) for each in (plain, moved)]
    assert made[0] == made[1]
    assert b"#: exercises/foot-lift.md\n" in made[0]
    assert not re.search(rb"^#: .*:\d+$", made[0], re.M)
    template = template_entries(collect_messages(plain))
    others = [replace(entry, source_file=f"other/{entry.source_file}", forms=("x",)) for entry in template]
    old = replace(new_catalogue("es", "es.po"), entries=tuple(others))
    kept = merge_catalogue(old, template)
    assert {entry.source_file for entry in kept.entries} == {entry.source_file for entry in template}
    assert all(entry.forms == ("x",) for entry in kept.entries)
