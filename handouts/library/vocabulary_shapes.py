"""The closed lists that exercises draw on: parts of the body, positions, things, purposes, and the words that people search with."""

from __future__ import annotations

from handouts import model
from handouts.library.shapes import Choice, Flag, ListOf, Name, Prose, RecordOf, Slug, Text, Whole, field_of, optional

_TERM_FIELDS = {
    "slug": field_of(Slug(), "the name by which exercises refer to it", "slug"),
    "name": field_of(Prose(60, "a name"), "what readers see", "name"),
    "cautions": optional(
        ListOf(Name(), 1, 6), "cautions that it brings: exercises that name it must carry them", "cautions"
    ),
}
_TERMS = ListOf(RecordOf(model.Term, "a term", _TERM_FIELDS), 1, 300)
_POSITION = RecordOf(
    model.Position,
    "a position",
    {
        **_TERM_FIELDS,
        "level": field_of(Choice(("floor", "chair", "standing")), "floor, chair or standing", "level"),
        "rank": optional(Whole(1, 9), "how hard it is to hold, 1 the easiest; equal ranks are equally hard", "rank"),
    },
)
_SEARCH_WORDS = RecordOf(
    model.SearchWords,
    "an entry of search words",
    {
        "slug": field_of(Slug(), "its short name, for translators", "slug"),
        "words": field_of(Prose(300, "words with commas between them"), "what people type; never shown", "words"),
        "exercises": optional(ListOf(Name(), 1, 12), "exercises that come first", "exercises"),
        "regions": optional(ListOf(Name(), 1, 12), "parts of the body, one of which an exercise must have", "regions"),
        "positions": optional(ListOf(Name(), 1, 12), "positions, in one of which it is done", "positions"),
        "equipment": optional(ListOf(Name(), 1, 12), "things, one of which it needs", "equipment"),
        "purposes": optional(ListOf(Name(), 1, 12), "purposes, one of which it has", "purposes"),
        "stop": optional(Flag(), "yes for signs at which to stop: the emergency sentence is shown with what is found", "stop"),
    },
)
_SUBSTITUTE = RecordOf(
    model.Substitute,
    "a substitute",
    {
        "slug": field_of(Slug(), "its short name, for translators", "slug"),
        "in place of": field_of(Name(), "the thing that may be missing, from equipment", "thing"),
        "take": field_of(Name(), "the thing that is taken then, from equipment", "take"),
        "change": field_of(Prose(160), "what changes, for the patient", "change"),
        "exercises": optional(ListOf(Name(), 1, 30), "the exercises in which it serves; left out where it serves in each", "exercises"),
        "source": field_of(Text(300), "where it comes from", "source"),
    },
)
VOCABULARY = RecordOf(
    model.Vocabulary,
    "the vocabulary",
    {
        "regions": field_of(_TERMS, "parts of the body", "regions"),
        "positions": field_of(ListOf(_POSITION, 1, 60), "starting positions", "positions"),
        "equipment": field_of(_TERMS, "things to fetch", "equipment"),
        "purposes": field_of(_TERMS, "what exercises train", "purposes"),
        "bands": optional(_TERMS, "strengths of resistance band, the lightest first", "bands"),
        "demands": optional(_TERMS, "what exercises may ask beside joint angles, for movement limits", "demands"),
        "paces": optional(_TERMS, "how fast, in words, as 'easy, you can talk'", "paces"),
        "occasions": optional(_TERMS, "when something is done that no session holds, as 'when you feel short of breath'", "occasions"),
        "search words": optional(
            ListOf(_SEARCH_WORDS, 0, 300),
            "what people type into the search, and what it finds; words that find nothing are passed over beside others",
            "search_words",
        ),
        "substitutes": optional(
            ListOf(_SUBSTITUTE, 0, 60), "what serves where a thing is missing at home, the best first", "substitutes"
        ),
    },
)
