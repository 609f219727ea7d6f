"""Text into sentences and words, fit for cues and list items as much as for paragraphs.

A text is one block as the author wrote it: a cue, a list item, a paragraph, or several of them in our small Markdown.
Each list item is at least one sentence, with or without a full stop; a sentence of one word is a sentence.
Headings and list numbers are not counted (Flesch 1948).  Leaves out: sentences that start in lower case after "?" and a
closing quotation mark, and a full stop that closes a sentence after an abbreviation which usually goes on.
Never raises, whatever the characters.
"""

from __future__ import annotations

import re
from unicodedata import normalize

from handouts.readability.abbreviations import BEFORE_ORDINAL, MAYBE_ENDING, NEVER_ENDING

_MARKS = "\u0300-\u036f\u0483-\u0487\u0591-\u05bd\u05bf\u0610-\u061a\u0640\u064b-\u065f\u0670\u06d6-\u06dc\u06df-\u06ed"
_LETTER = r"[^\W\d_]"
# No possessive quantifiers: Python 3.11.0 to 3.11.4 repeats groups under them wrongly (CPython issue 101955).
_PIECE = rf"(?:\d+(?:[.,:\u066b\u066c/]\d+)*|{_LETTER}[{_MARKS}]*)+"
_JOINER = "[-\u2010\u2011'\u2019\u02bc\u00b7]"
_WORD = re.compile(
    rf"(?:https?://|www\.)\S+|{_LETTER}(?:\.{_LETTER})+(?!\.?{_LETTER})"
    rf"|{_PIECE}(?:(?:{_JOINER}|(?<=\d)\u2013(?=\d)){_PIECE})*"
)
_LINK = re.compile(r"!?\[([^\[\]]*)\]\([^()\s]*(?:\s[^()]*)?\)")
_EMPHASIS = re.compile(r"(?<!\\)\*+|(?<![\w\\])_+|(?<!\\)_+(?!\w)|(?<!\\)`+")
_ESCAPE = re.compile(r"\\([\\*_\[\]`#.-])")
_ITEM = re.compile(r"\s*(?:[-*+\u2022]|\d{1,3}[.)])\s+")
_HEADING = re.compile(r"\s*#{1,6}(?:\s|$)")
_TERMINATOR = re.compile(r"([.!?\u2026\u061f\u06d4]+)[\"'\u2019\u201d\u201c\u00bb)\]]*$")
_OPENERS = "\"'\u2018\u201c\u201e\u00ab\u00bf\u00a1(["
_DOTTED = re.compile(rf"{_LETTER}(?:\.{_LETTER})+")


def plain(text: str) -> str:
    """The text without inline Markdown: emphasis marks go, a link leaves its words."""
    return _ESCAPE.sub(r"\1", _EMPHASIS.sub("", _LINK.sub(r"\1", normalize("NFC", text))))


def blocks(text: str) -> tuple[str, ...]:
    """Paragraphs and list items of a text, plain, white space made even; headings are left out."""
    found: list[list[str]] = [[]]
    for line in text.splitlines():
        if not line.strip() or _HEADING.match(line):
            found.append([])
            continue
        item = _ITEM.match(line)
        if item:
            found.append([])
        found[-1].append(line[item.end() :] if item else line)
    joined = (" ".join(plain(" ".join(lines)).split()) for lines in found)
    return tuple(block for block in joined if block)


def words_of(sentence: str) -> tuple[str, ...]:
    """Words of a plain sentence: contraction, hyphenated word, figure and address are one word each."""
    return tuple(match.group() for match in _WORD.finditer(sentence))


def sentences_of(language: str, text: str) -> tuple[str, ...]:
    """Sentences of a text in reading order; each has at least one word.  ``language`` picks the abbreviations."""
    found: list[str] = []
    for block in blocks(text):
        current: list[str] = []
        tokens = block.split(" ")
        for index, token in enumerate(tokens):
            current.append(token)
            before = tokens[index - 1] if index else ""
            after = tokens[index + 1] if index + 1 < len(tokens) else ""
            if _ends(language, before, token, after):
                found.append(" ".join(current))
                current = []
        if current:
            found.append(" ".join(current))
    return tuple(sentence for sentence in found if _WORD.search(sentence))


def _starts_high(token: str) -> bool:
    """Whether a token can begin a sentence: a capital, a figure or a letter of a script without case."""
    bare = token.lstrip(_OPENERS)
    return not bare[:1].islower()


def _ends(language: str, before: str, token: str, after: str) -> bool:
    match = _TERMINATOR.search(token)
    if match is None:
        return False
    if not after:
        return True
    marks, stem = match.group(1), token[: match.start()].lstrip(_OPENERS)
    if marks.strip(".\u2026"):
        return len(match.group()) == len(marks) or _starts_high(after)
    if len(marks) > 1 or "\u2026" in marks:
        return _starts_high(after)
    return not _goes_on(language, before, stem, after)


def _goes_on(language: str, before: str, stem: str, after: str) -> bool:
    """Whether the sentence goes on after ``stem`` and its full stop: abbreviation, initial or ordinal."""
    lowered = stem.casefold()
    own = "nb" if language in {"nn", "no"} else language
    if lowered in NEVER_ENDING[""] or lowered in NEVER_ENDING.get(own, ()):
        return True
    if stem.isdecimal():
        return before.casefold() in BEFORE_ORDINAL.get(own, ())
    after_figure = before[-1:].isdecimal()
    if lowered in MAYBE_ENDING and (len(stem) > 1 or after_figure):
        return not _starts_high(after) or (lowered in {"no", "fig", "figs", "vol"} and after[:1].isdecimal())
    if _DOTTED.fullmatch(stem):
        return not _starts_high(after)
    if len(stem) == 1 and stem.isalpha():
        follows_letter = len(before) == 2 and before.endswith(".")
        return stem.islower() or follows_letter or not before[:1].islower()
    return False
