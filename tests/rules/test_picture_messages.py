"""What is said of the clinic's own pictures as they are read, and of ``figure: none``: whole messages."""

from __future__ import annotations

import pytest

from handouts.model import Exercise
from tests.rules.test_messages import FOOT, PICTURE
from tests.small_library import messages, small_library, texts_with

OWN = ("figure: {base: sitting}", PICTURE)
FILE = {"pictures/hands.png": "pixels"}


@pytest.mark.parametrize(
    ("edits", "files", "expected"),
    [
        ([OWN], {}, "content/exercises/foot-lift.md:19:17: error: there is no picture 'hands.png' in the folder pictures. Put the file into pictures/, beside exercises/. [no-picture]"),
        ([OWN], {"pictures/hand.png": "pixels"}, "content/exercises/foot-lift.md:19:17: error: there is no picture 'hands.png' in the folder pictures. Did you mean 'hand.png'? [no-picture]"),
        ([], FILE, "content/pictures/hands.png:1:1: notice: no exercise shows the picture 'hands.png'. Name it in the 'picture' of an exercise, or take it out. [unused-picture]"),
        ([("figure: {base: sitting}", PICTURE.replace("hands.png", "../hands.svg"))], FILE,
         "content/exercises/foot-lift.md:19:17: error: '../hands.svg' is not the name of a PNG, JPEG or WebP file, in small letters. Write the name of a PNG, JPEG or WebP file, in small letters. [wrong-value]"),
        ([("figure: {base: sitting}", PICTURE.replace(", licence: own work", ""))], FILE,
         "content/exercises/foot-lift.md:19:10: error: a picture has no 'licence'. Add the line 'licence: …' (why the clinic may print it). [missing-key]"),
        ([("figure: {base: sitting}", "figure: {}")], {}, "content/exercises/foot-lift.md:19:9: error: this group of keys is empty. Write its keys, or 'none'. [wrong-value]"),
    ],
)  # fmt: skip
def test_whole_message(edits: list[tuple[str, str]], files: dict[str, str], expected: str) -> None:
    """The broken library gives the message, word for word."""
    assert expected in messages(texts_with(FOOT, *edits, **files))


def _foot(*edits: tuple[str, str], **files: str) -> Exercise:
    return next(each for each in small_library(texts_with(FOOT, *edits, **files)).exercises if each.slug == "foot-lift")


def test_a_picture_or_none_is_no_notice() -> None:
    """An exercise that is shown by its own picture, or that its author explains in words only, lacks nothing."""
    assert messages(texts_with(FOOT, OWN, **FILE)) == []
    assert messages(texts_with(FOOT, ("figure: {base: sitting}", "figure: none"))) == []
    assert _foot(("figure: {base: sitting}", "figure: none")).is_in_words_only
    assert not _foot(OWN, **FILE).is_in_words_only and not _foot().is_in_words_only
    picture = _foot(OWN, **FILE).picture
    assert picture is not None and picture.data == b"pixels"
