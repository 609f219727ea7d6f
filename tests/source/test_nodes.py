"""YAML as nodes with places: nothing changes its meaning, everything odd is refused where it stands."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from handouts.problems import show_problem
from handouts.source.nodes import Mapping, Scalar, compose, read_text


def refused(text: str) -> list[str]:
    """The messages for a text that begins on line 2 of its file."""
    node, problems = compose(text, "x.md", 2)
    assert node is None
    return [show_problem(problem) for problem in problems]


@pytest.mark.parametrize(
    "value", ["no", "yes", "off", "1:30", "12:30:45", "012", "08", "1_000", "+49", "1.10", "2026-03-09", "0x1F", ".inf", "~", "null", "1e3"]
)
def test_scalars_stay_text(value: str) -> None:
    """What YAML 1.1 would turn into another value stays as typed."""
    node, problems = compose(f"key: {value}\n", "x.md")
    assert problems == []
    assert node is not None and node.get("key") == Scalar(value, node.place)


def test_places_count_characters() -> None:
    """Line and column count from 1, in characters, also after an emoji."""
    node, _ = compose("a: 1\nb: {🦵: 2, c: 3}\n", "x.md", 10)
    inner = node and node.get("b")
    assert isinstance(inner, Mapping)
    assert [str(entry.place) for entry in inner.entries] == ["x.md:11:5", "x.md:11:11"]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("sets: 3\nsets: 30\n", "x.md:3:1: error: key 'sets' is given twice (first on line 2). Delete one of the two. [repeated-key]"),
        ("a: &x 1\n", "x.md:2:4: error: the anchor '&x' is not allowed. Delete it and write each value out in full. [yaml-alias]"),
        ("a: &x 1\nb: *x\n", "x.md:3:4: error: the alias '*x' is not allowed. Write the value out in full. [yaml-alias]"),
        ("a: !!int 3\n", "x.md:2:4: error: the tag 'tag:yaml.org,2002:int' is not allowed. Delete it; write '!' inside quotes if it belongs to the text. [yaml-tag]"),
        ("a: 1\n---\nb: 2\n", "x.md:3:1: error: a second YAML document begins here. Keep one document in a file. [yaml-second-document]"),
        ("title: Sit: stand\n", "x.md:2:11: error: this is not valid YAML: mapping values are not allowed in this context. A text with a colon in it needs quotes: \"like: this\". [yaml-syntax]"),
        ("a:\n\t- b\n", "x.md:3:1: error: this is not valid YAML: found character that cannot start any token. Put the value in quotes. [yaml-syntax]"),
        ("- a\n- b\n", "x.md:2:1: error: lines of the form 'key: value' are wanted here. Write a key, a colon, a space and a value. [not-a-mapping]"),
        ('a: "\\0"\n', "x.md:2:4: error: the character U+0000 cannot be used in a text. Delete it, or the escape that makes it. [forbidden-character]"),
        ("? [a]\n: b\n", "x.md:2:3: error: a key must be a plain word. Quote it, or write a word. [yaml-key]"),
    ],
)
def test_refusals(text: str, message: str) -> None:
    """Each refusal says where, what and how to mend it."""
    assert message in refused(text)


def test_depth_is_bounded() -> None:
    """Nine levels of lists are one too many."""
    assert "nested more than 8 deep" in refused("a: " + "[" * 9 + "]" * 9 + "\n")[0]


def test_size_is_bounded() -> None:
    """More than 64 KiB of keys are not read."""
    assert refused("a: " + "x" * 70_000 + "\n")[0].startswith("x.md:2:1: error: this part is longer than 64 KiB.")


def test_bomb_is_refused_at_once() -> None:
    """Aliases that double at each level are refused before anything is built."""
    text = "a0: &a0 x\n" + "".join(f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]\n" for n in range(1, 12))
    assert all("[yaml-alias]" in message for message in refused(text))


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"a: caf\xe9\n", "x.md:1:1: error: byte 0xe9 is not UTF-8 text. Save the file as UTF-8. [not-utf-8]"),
        ("a: 1\nb: \u202e2\n".encode(), "x.md:2:4: error: the character U+202E cannot be used in a text. Delete it; it is invisible, so retype the word it stands in. [forbidden-character]"),
        (b"a: \x001\n", "x.md:1:4: error: the character U+0000 cannot be used in a text. Delete it; it is invisible, so retype the word it stands in. [forbidden-character]"),
    ],
)
def test_bytes(data: bytes, message: str) -> None:
    """Bytes that are no clean text are refused with their place."""
    assert [show_problem(problem) for problem in read_text(data, "x.md")[1]] == [message]


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=200))
def test_never_raises(text: str) -> None:
    """Any text gives a mapping or problems, never an exception."""
    node, problems = compose(text, "x.md")
    assert (node is None) == bool(problems)


# Named as in the Unicode character database 15.0, DerivedGeneralCategory and PropList (Bidi_Control, Noncharacter_Code_Point).
FORBIDDEN = [
    *range(0x00, 0x09), 0x0B, 0x0C, *range(0x0E, 0x20), *range(0x7F, 0xA0), 0x200B, *range(0x2028, 0x202F), *range(0x2060, 0x206A),
    0xFEFF, *range(0xFFF9, 0x10000), *range(0xFDD0, 0xFDF0), 0x1FFFE, 0x10FFFF, 0xE0001, 0xE007F,
]  # fmt: skip


def test_every_forbidden_character() -> None:
    """Raw and as an escape: each is named with its place."""
    for point in FORBIDDEN:
        mend = "Type the letter that was lost here when the file was saved." if point == 0xFFFD else "Delete it; it is invisible, so retype the word it stands in."
        raw = [show_problem(problem) for problem in read_text(f"a: 1\nb: x{chr(point)}y\n".encode(), "x.md")[1]]
        assert raw == [f"x.md:2:5: error: the character U+{point:04X} cannot be used in a text. {mend} [forbidden-character]"]
        assert refused(f'a: "\\U{point:08x}"\n') == [f"x.md:2:4: error: the character U+{point:04X} cannot be used in a text. Delete it, or the escape that makes it. [forbidden-character]"]


@pytest.mark.parametrize("sign", ["\u200e", "\u200f", "\u200c", "\u200d", "\u00ad", "\u00a0", "é", "ﬁ", "🦵"])
def test_what_writing_needs_stays(sign: str) -> None:
    """Joiners, marks of direction, soft hyphens and signs of any script are texts."""
    assert read_text(f"a: x{sign}y\n".encode(), "x.md") == (f"a: x{sign}y\n", [])


def test_letters_are_composed() -> None:
    """The same word typed in one sign and in two, raw or as an escape, is the same text (Unicode NFC)."""
    text, _ = read_text("a: cafe\u0301\n".encode(), "x.md")
    assert text == "a: café\n"
    node, _ = compose('a: "cafe\\u0301"\n', "x.md")
    assert node is not None and node.get("a") == Scalar("café", node.place)


@pytest.mark.parametrize("markers", ["<<<<<<< HEAD\n{0}||||||| base\n{0}=======\n{0}>>>>>>> other\n", "<<<<<<< HEAD\n{0}=======\n{0}>>>>>>> other\n"])
@pytest.mark.parametrize("line", ["weeks: 6\n", "  - {a: 1}\n", 'msgid "a"\n', "1. Sit.\n"])
def test_a_conflict_of_git_has_its_own_message(markers: str, line: str) -> None:
    """Whatever the file, the place where two versions stand is named, once."""
    text = f"title: A\n{markers.format(line)}"
    assert [show_problem(problem) for problem in read_text(text.encode(), "x.md")[1]] == [
        "x.md:2:1: error: git left a conflict here: '<<<<<<< HEAD'. "
        "Choose between the two versions, and delete the lines that begin with <<<<<<<, |||||||, ======= and >>>>>>>. [conflict-marker]"
    ]
    assert read_text(b"A heading\n=======\na <<<<<<< b\n", "x.md")[1] == []
