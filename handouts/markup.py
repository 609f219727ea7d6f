"""Inline Markdown of a text for readers as safe HTML: bold, italic and links, nothing else.

python-markdown renders it, with a new parser for each text (its state leaks between texts), and nh3's
allow list is the second lock.  ``find_markup_problems`` tells the author what was refused, with its
column; rendering never drops a thing silently.
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache, lru_cache

import markdown
import nh3
from markupsafe import Markup, escape

from handouts.problems import Place, Problem

ALLOWED_TAGS = {"strong", "em", "a"}
ALLOWED_SCHEMES = {"https", "mailto", "tel"}
MAX_TEXT = 2_000
"""Longest text rendered, in characters; python-markdown needs quadratic time on hostile input."""
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
_TRIGGERS = re.compile(r"[*_\[\\&<`!]")
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
        return _mixed_words(text, place)[:MOST_NAMED]
    found = [
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
    if not found and _loses_letters(text):
        what = "the marks for bold and italic do not fit together"
        found.append(Problem(place, "markup-not-allowed", what, "Put one pair of * or ** directly around each part."))
    return [*found, *_mixed_words(text, place)][:MOST_NAMED]


def _loses_letters(text: str) -> bool:
    """Whether python-markdown drops letters of a text: version 3.11 does where many marks cross one another."""
    if text.count("*") + text.count("_") < 2:
        return False
    return _letters(render_inline(text).striptags()) != _letters(_LINK.sub(r"\1", text))


def _letters(text: str) -> str:
    return re.sub(r"[\W_]+", "", text)


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


# python-markdown's block processors other than 'paragraph' (Markdown 3.11, blockprocessors.build_block_parser).
_BLOCKS = ("empty", "indent", "code", "hashheader", "setextheader", "hr", "olist", "ulist", "quote", "reference")


@lru_cache(maxsize=65_536)
def render_inline(text: str) -> Markup:
    """A text as HTML that holds only ``strong``, ``em`` and ``a``; anything else is shown as typed."""
    if not _TRIGGERS.search(text):
        return escape(text)
    parser = markdown.Markdown(extensions=[], output_format="html")
    parser.preprocessors.deregister("html_block")
    for name in _BLOCKS:
        parser.parser.blockprocessors.deregister(name)
    for name in (
        "html",
        "entity",
        "image_link",
        "image_reference",
        "reference",
        "short_reference",
        "autolink",
        "automail",
    ):
        parser.inlinePatterns.deregister(name)
    html = parser.convert(" ".join(text.split())[:MAX_TEXT])
    clean = nh3.clean(
        html,
        tags=ALLOWED_TAGS,
        attributes={"a": {"href"}, "*": set()},  # without "*" nh3 lets lang and title through
        url_schemes=ALLOWED_SCHEMES,
        url_relative="deny",  # //host and host have no scheme to be refused by
        attribute_filter=_keep_address,  # nh3 looks past control characters before a scheme
        link_rel="noopener noreferrer",
    )
    return Markup(clean.removeprefix("<p>").removesuffix("</p>").strip())


def _keep_address(_tag: str, name: str, value: str) -> str | None:
    """An address only as ``find_markup_problems`` takes it, letter for letter; ``rel`` is nh3's own."""
    return value if name != "href" or _ADDRESS.fullmatch(value) else None


def plain_text(text: str) -> str:
    """A text without its inline Markdown, for titles, alternative text, search and reading level."""
    without_links = _LINK.sub(r"\1", text)
    return re.sub(r"(\*\*|__|\*|(?<!\w)_|_(?!\w))", "", without_links)
