"""Inline Markdown of a text for readers: bold, italic and links, nothing else; as safe HTML and as plain text.

Both come from the same parts, read once from left to right: a sign that is not a mark of a pair, or of a link, is shown
as it is written in both.  nh3's allow list is the second lock on the HTML.  ``find_markup_problems`` tells the author
what was refused, with its column; rendering never drops a sign silently.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache, lru_cache

import nh3
from markupsafe import Markup, escape

from handouts.problems import Place, Problem

ALLOWED_TAGS = {"strong", "em", "a"}
ALLOWED_SCHEMES = {"https", "mailto", "tel"}
MAX_TEXT = 2_000
"""Longest text that an author may write, in characters."""
MOST_STACKED = 4
"""Most marks on one letter; Arabic, Hebrew and Vietnamese need three at most (common practice, no source)."""
MOST_NAMED = 20
"""Most faults that are named in one text."""

_LINK = re.compile(r"\[([^\]\[]*)\]\(([^()\s]*)\)")
# ASCII only, so that no letter stands for one that looks like it; no name or password before the host.
_ADDRESS = re.compile(
    r"(?i:https)://[A-Za-z0-9][A-Za-z0-9.-]*(?::[0-9]{1,5})?(?:[/?#][!-~]*)?"
    r"|(?i:mailto):[A-Za-z0-9.+_-]+@[A-Za-z0-9][A-Za-z0-9.-]*(?:\?[!-~]*)?"
    r"|(?i:tel):[+]?[0-9][0-9.-]*"
)
_WORD = re.compile(r"[^\W\d_]+")
_ALIKE = ("LATIN", "GREEK", "CYRILLIC")
"""Scripts whose letters look alike, as Unicode names them."""
_SPACELESS = ("CJK", "HIRAGANA", "KATAKANA", "THAI", "LAO", "KHMER", "MYANMAR")
"""Scripts that write words without spaces between them, as Unicode names their letters: there a word may be bold by itself."""
_MARK = re.compile(r"\*+|_+")
_TAGS = {1: ("em",), 2: ("strong",), 3: ("strong", "em")}
"""What a mark of so many signs opens; more signs are a line to write on, and no mark."""
_SUSPECT = re.compile(r"[<!`&{\[\\*_]")
"""Without one of these a text holds neither a link nor anything that is refused."""
_REFUSED = (
    (
        re.compile(r"<[!/?a-zA-Z]"),
        "HTML cannot be used in a text",
        "Write plain words; **bold** and *italic* are allowed.",
    ),
    (re.compile(r"!\["), "a picture cannot be put in a text", "Describe the movement in 'figure:'."),
    (re.compile(r"`"), "code marks cannot be used in a text", "Use quotation marks."),
    (re.compile(r"&(?:#\w+|\w+);"), "an HTML code for a character cannot be used", "Type the character itself."),
    (re.compile(r"\\"), "a backslash cannot be used", "Delete it; every sign stands for itself."),
    (re.compile(r"\{:"), "a list of attributes cannot be used", "Delete the part in braces."),
)


def find_markup_problems(text: str, place: Place) -> list[Problem]:
    """What in a text is not the small Markdown that handouts allow, each with its column."""
    if len(text) > MAX_TEXT:
        return [Problem(place, "too-long", f"this text is longer than {MAX_TEXT} characters", "Split it.")]
    if not _SUSPECT.search(text):
        return [*_stacked_marks(text, place), *_mixed_words(text, place)][:MOST_NAMED]
    found = _stacked_marks(text, place)
    found += [
        Problem(_shift(place, match.start()), "markup-not-allowed", what, mend)
        for pattern, what, mend in _REFUSED
        for match in pattern.finditer(text)
    ]
    for match in _LINK.finditer(text):
        if not _ADDRESS.fullmatch(match[2]):
            found.append(
                Problem(
                    _shift(place, match.start(2)),
                    "link-not-allowed",
                    f"the link '{match[2]}' cannot be used",
                    "Use a full address that begins with https:, mailto: or tel:.",
                )
            )
    if "[" in _LINK.sub("", text):
        column = _LINK.sub(lambda match: " " * len(match[0]), text).index("[")
        found.append(
            Problem(
                _shift(place, column),
                "markup-not-allowed",
                "a square bracket stands outside a link",
                "Write a link as [words](https://…), or use round brackets.",
            )
        )
    if not found:
        found += [_stray_problem(text, at, place) for at in _parse(text).stray]
    return [*found, *_mixed_words(text, place)][:MOST_NAMED]


def _stray_problem(text: str, at: int, place: Place) -> Problem:
    """A mark that opens or closes nothing."""
    signs = _MARK.match(text, at)[0]  # type: ignore[index]
    if _is_inside(text, at, at + len(signs)):
        what = f"'{signs}' stands inside a word or between numbers"
        mend = "Write x for 'times', as in 3 x 10, or put the marks around the whole word."
    else:
        what = f"'{signs}' opens or closes nothing"
        mend = "Put one pair of * or ** directly around each part, one inside the other, or delete it."
    return Problem(_shift(place, at), "markup-not-allowed", what, mend)


def _stacked_marks(text: str, place: Place) -> list[Problem]:
    """Letters under so many marks that they are drawn over the lines above and below."""
    if text.isascii():
        return []
    found, count = [], 0
    for at, sign in enumerate(text):
        count = count + 1 if unicodedata.category(sign) in ("Mn", "Me") else 0
        if count == MOST_STACKED + 1:
            what = f"more than {MOST_STACKED} marks stand over or under one letter"
            found.append(Problem(_shift(place, at), "stacked-marks", what, "Retype the word."))
    return found


def _mixed_words(text: str, place: Place) -> list[Problem]:
    """Words with letters of two scripts that look alike: no search finds them."""
    found = []
    for match in () if text.isascii() else _WORD.finditer(text):
        scripts = sorted(set(map(_script, match.group())) & set(_ALIKE))
        if len(scripts) > 1:
            what = f"the word '{match.group()}' mixes {' and '.join(name.capitalize() for name in scripts)} letters"
            found.append(Problem(_shift(place, match.start()), "mixed-script", what, "Retype the word in one script."))
    return found


@cache
def _script(sign: str) -> str:
    """The script of a letter, as its Unicode name begins."""
    return unicodedata.name(sign, "").partition(" ")[0]


def _shift(place: Place, columns: int) -> Place:
    return Place(place.file, place.line, place.column + columns)


@dataclass(slots=True)
class _Parts:
    """A text as it was read: strings are what a reader sees, ``Markup`` is a tag around them."""

    parts: list[str] = field(default_factory=list)
    stray: list[int] = field(default_factory=list)
    """Where marks stand that are no part of a pair; they are shown."""

    def html(self) -> Markup:
        """The parts with their tags; everything else is escaped."""
        return Markup("").join(self.parts)

    def plain(self) -> str:
        """The parts without their tags."""
        return "".join(part for part in self.parts if not isinstance(part, Markup))


@dataclass(slots=True)
class _Opened:
    """A mark that waits for its partner."""

    signs: str
    part: int
    """Its place among the parts."""
    at: int
    """Its place in the text."""


def _parse(text: str, start: int = 0, end: int | None = None) -> _Parts:
    """The parts of a text from ``start`` to ``end``, in time that grows with its length."""
    end = len(text) if end is None else end
    found = _Parts()
    opened: list[_Opened] = []
    at = start
    for match in _tokens(text, start, end):
        found.parts.append(text[at : match.start()])
        at = match.end()
        if match.re is _LINK:
            inner = _parse(text, match.start(1), match.end(1))
            href = Markup(' href="{}"').format(match[2]) if _ADDRESS.fullmatch(match[2]) else Markup("")
            found.parts += [Markup("<a{}>").format(href), *inner.parts, Markup("</a>")]
            found.stray += inner.stray
        else:
            _take_mark(text, match, found, opened)
    found.parts.append(text[at:end])
    found.stray = sorted([*found.stray, *(mark.at for mark in opened)])
    return found


def _tokens(text: str, start: int, end: int) -> Iterator[re.Match[str]]:
    """Links and marks in order; a mark within a link belongs to the link."""
    while start < end:
        link = _LINK.search(text, start, end)
        stop = link.start() if link else end
        yield from _MARK.finditer(text, start, stop)
        if not link:
            return
        yield link
        start = link.end()


def _take_mark(text: str, match: re.Match[str], found: _Parts, opened: list[_Opened]) -> None:
    """A mark closes what it opened last, or opens, or is shown as it is written."""
    signs, before, after = match[0], _sign_before(text, match.start()), text[match.end() : match.end() + 1]
    found.parts.append(signs)
    if len(signs) not in _TAGS or not (before.strip() or after.strip()):
        return
    if opened and opened[-1].signs == signs and before.strip() and not _is_letter(after):
        first = opened.pop()
        tags = _TAGS[len(signs)]
        found.parts[first.part] = Markup("".join(f"<{tag}>" for tag in tags))
        found.parts[-1] = Markup("".join(f"</{tag}>" for tag in reversed(tags)))
    elif after.strip() and not _is_letter(before):
        opened.append(_Opened(signs, len(found.parts) - 1, match.start()))
    elif signs[0] == "*" or not _is_inside(text, match.start(), match.end()):
        found.stray.append(match.start())


def _is_inside(text: str, start: int, end: int) -> bool:
    """Whether a letter or digit of a script with spaces stands directly on both sides."""
    return _is_letter(_sign_before(text, start)) and _is_letter(text[end : end + 1])


def _sign_before(text: str, at: int) -> str:
    return text[at - 1 : at] if at else ""


def _is_letter(sign: str) -> bool:
    """Whether a sign is a letter or digit that another one beside it makes a longer word or number."""
    if not sign or sign.isascii():
        return sign.isalnum()
    return (sign.isalnum() or unicodedata.combining(sign) > 0) and _script(sign) not in _SPACELESS


@lru_cache(maxsize=65_536)
def render_inline(text: str) -> Markup:
    """A text as HTML that holds only ``strong``, ``em`` and ``a``; anything else is shown as typed."""
    if not _SUSPECT.search(text):
        return escape(text)
    clean = nh3.clean(
        _parse(text).html(),
        tags=ALLOWED_TAGS,
        attributes={"a": {"href"}, "*": set()},  # without "*" nh3 lets lang and title through
        url_schemes=ALLOWED_SCHEMES,
        url_relative="deny",  # //host and host have no scheme to be refused by
        attribute_filter=_keep_address,  # nh3 looks past control characters before a scheme
        link_rel="noopener noreferrer",
    )
    return Markup(clean.strip())


def _keep_address(_tag: str, name: str, value: str) -> str | None:
    """An address only as ``find_markup_problems`` takes it, letter for letter; ``rel`` is nh3's own."""
    return value if name != "href" or _ADDRESS.fullmatch(value) else None


@lru_cache(maxsize=65_536)
def plain_text(text: str) -> str:
    """A text without its inline Markdown, for titles, alternative text, search and reading level."""
    return _parse(text).plain() if _SUSPECT.search(text) else text


def count_marks(text: str) -> tuple[int, int]:
    """How many parts of a text are bold, and how many italic."""
    parts = [part for part in _parse(text).parts if isinstance(part, Markup)]
    return sum("<strong>" in part for part in parts), sum("<em>" in part for part in parts)
