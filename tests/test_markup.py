"""Inline Markdown: what is refused is said with its column, and what is rendered is inert whatever was typed."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from itertools import product

import pytest

from handouts.problems import Place, show_problem
from handouts.text.markup import MAX_TEXT, find_markup_problems, plain_text, render_inline
from tests.fuzz.targets import assert_inert
from tests.hostile.payloads import XSS

PLACE = Place("x.md", 4, 10)


def said(text: str) -> list[str]:
    """Every problem of a text."""
    return [show_problem(problem) for problem in find_markup_problems(text, PLACE)]


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("Lift **both** heels *slowly*.", "Lift <strong>both</strong> heels <em>slowly</em>."),
        ("See [our page](https://clinic.example/a_b?c=1#d).", 'See <a href="https://clinic.example/a_b?c=1#d" rel="noopener noreferrer">our page</a>.'),
        ("Call [us](tel:555-0100).", 'Call <a href="tel:555-0100" rel="noopener noreferrer">us</a>.'),
        ("Write [us](mailto:desk@clinic.example).", 'Write <a href="mailto:desk@clinic.example" rel="noopener noreferrer">us</a>.'),
        ("Tom & Ann's \"way\"", "Tom &amp; Ann's \"way\""),
        ("1 < 2 and 3 > 2", "1 &lt; 2 and 3 &gt; 2"),
    ],
)  # fmt: skip
def test_what_is_allowed(text: str, html: str) -> None:
    """Bold, italic, links to https, mailto and tel, and any sign as itself."""
    assert said(text) == []
    assert str(render_inline(text)) == html


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a <b>x</b>", "x.md:4:12: error: HTML cannot be used in a text. Write plain words; **bold** and *italic* are allowed. [markup-not-allowed]"),
        ("a ![x](https://a.example)", "x.md:4:12: error: a picture cannot be put in a text. Describe the movement in 'figure:'. [markup-not-allowed]"),
        ("a `x`", "x.md:4:12: error: code marks cannot be used in a text. Use quotation marks. [markup-not-allowed]"),
        ("a &lt; b", "x.md:4:12: error: an HTML code for a character cannot be used. Type the character itself. [markup-not-allowed]"),
        ("java&#115;cript", "x.md:4:14: error: an HTML code for a character cannot be used. Type the character itself. [markup-not-allowed]"),
        ("a {: onclick=x}", "x.md:4:12: error: a list of attributes cannot be used. Delete the part in braces. [markup-not-allowed]"),
        ("a [b] c", "x.md:4:12: error: a square bracket stands outside a link. Write a link as [words](https://…), or use round brackets. [markup-not-allowed]"),
        ('[a](https://a.example "t")', "x.md:4:10: error: a square bracket stands outside a link. Write a link as [words](https://…), or use round brackets. [markup-not-allowed]"),
        ("[a](javascript:x)", "x.md:4:14: error: the link 'javascript:x' cannot be used. Use a full address that begins with https:, mailto: or tel:. [link-not-allowed]"),
        ("[a](//host)", "x.md:4:14: error: the link '//host' cannot be used. Use a full address that begins with https:, mailto: or tel:. [link-not-allowed]"),
        ("[a](http://a.example)", "x.md:4:14: error: the link 'http://a.example' cannot be used. Use a full address that begins with https:, mailto: or tel:. [link-not-allowed]"),
        ("[a](https:a.example)", "x.md:4:14: error: the link 'https:a.example' cannot be used. Use a full address that begins with https:, mailto: or tel:. [link-not-allowed]"),
        ("[a](https://clinic@evil.example)", "x.md:4:14: error: the link 'https://clinic@evil.example' cannot be used. Use a full address that begins with https:, mailto: or tel:. [link-not-allowed]"),
        ("[a](https://сlinic.example)", "x.md:4:14: error: the link 'https://сlinic.example' cannot be used. Use a full address that begins with https:, mailto: or tel:. [link-not-allowed]"),
        ("[a](../secret)", "x.md:4:14: error: the link '../secret' cannot be used. Use a full address that begins with https:, mailto: or tel:. [link-not-allowed]"),
        ("[a](tel:)", "x.md:4:14: error: the link 'tel:' cannot be used. Use a full address that begins with https:, mailto: or tel:. [link-not-allowed]"),
        ("a \\* b", "x.md:4:12: error: a backslash cannot be used. Delete it; every sign stands for itself. [markup-not-allowed]"),
        ("*that**_*this", "x.md:4:10: error: '*' opens or closes nothing. Put one pair of * or ** directly around each part, one inside the other, or delete it. [markup-not-allowed]"),
        ("Stand up 3*10 times", "x.md:4:20: error: '*' stands inside a word or between numbers. Write x for 'times', as in 3 x 10, or put the marks around the whole word. [markup-not-allowed]"),
        ("3**10", "x.md:4:11: error: '**' stands inside a word or between numbers. Write x for 'times', as in 3 x 10, or put the marks around the whole word. [markup-not-allowed]"),
        ("See note 3*.", "x.md:4:20: error: '*' opens or closes nothing. Put one pair of * or ** directly around each part, one inside the other, or delete it. [markup-not-allowed]"),
        ("lift your һeel", "x.md:4:20: error: the word 'һeel' mixes Cyrillic and Latin letters. Retype the word in one script. [mixed-script]"),
    ],
)  # fmt: skip
def test_what_is_refused(text: str, message: str) -> None:
    """The whole message, with its column; what follows in the text may be refused too."""
    assert said(text)[0] == message


def test_a_text_that_is_too_long_is_named_once() -> None:
    """However many faults it has."""
    assert said("`" * (MAX_TEXT + 1)) == ["x.md:4:10: error: this text is longer than 2000 characters. Split it. [too-long]"]


def test_faults_of_a_text_are_bounded() -> None:
    """Twenty are named."""
    assert len(said("`" * MAX_TEXT)) == 20


def test_attack_is_refused_and_inert() -> None:
    """Each of the attacks is refused, and would be inert even where nobody refused it."""
    for payload in XSS:
        assert said(payload), payload
        shown = assert_inert(str(render_inline(payload)))
        assert not re.search(r"(?i)<\s*script", str(render_inline(payload))), payload
        assert shown or not payload.strip(), payload


@pytest.mark.parametrize("address", ["\x07tel:555-0100", "\x01https://clinic.example/a_b", "http://a.example", "https://clinic@evil.example", "https:a.example", "//host", "tel:"])
def test_a_refused_address_is_no_link(address: str) -> None:
    """What the check refuses leads nowhere even where it is rendered: nh3 alone lets a control character before a scheme through."""
    assert said(f"[us]({address})")[0].endswith("[link-not-allowed]")
    assert str(render_inline(f"[us]({address})")) == '<a rel="noopener noreferrer">us</a>'


FAMILIES = (
    "[", "![", "[a](<b", "<a ", "<![CDATA[", "`", "- ", ">", "*", "**", "_", "_a*", "a*b", "*** ", "[a](", "[a](https://a.b)", "\\", "&", "&#1;",
    "<", "*_", "**a*", "<a@b>", "<http://a", "{: #a}", "[]", "][",
)  # fmt: skip


def test_input_that_grows_too_fast() -> None:
    """Families on which parsers of Markdown need quadratic time: refused by length, and inert when rendered."""
    for family, size in product(FAMILIES, (500, 1000, MAX_TEXT, 8000)):
        text = (family * size)[:size]
        if size > MAX_TEXT:
            assert [message.rpartition(" ")[2] for message in said(text)] == ["[too-long]"], family
        assert_inert(str(render_inline(text)))


def test_a_long_text_is_not_cut() -> None:
    """A text that is too long is refused; where it is shown all the same, no word of it is lost."""
    assert str(render_inline("**a** " * 9000)).count("<strong>a</strong>") == 9000


@pytest.mark.parametrize("text", ["*_**this*this_ **", "*that**_*this", "**__*_**_that__ "])
def test_marks_that_cross_one_another(text: str) -> None:
    """They are refused, and where they are shown all the same no letter is lost."""
    assert {message.rpartition(" ")[2] for message in said(text)} == {"[markup-not-allowed]"}
    assert re.sub(r"[\W_]+", "", plain_text(text)) == re.sub(r"[\W_]+", "", text)


NUMBERS = ("0", "1", "2", "5", "9", "03", "10", "25", "310", "１", "٣", "½", "a", "B", "é", "ß", "ж", "ب")
"""Numbers and letters that a mark may stand between; those of other scripts too."""
MARKS = ("*", "**", "***", "_", "__", "___", "****")


def shown(text: str) -> str:
    """What a reader sees of a text, by another parser than ours."""
    reader = HTMLParser()
    seen: list[str] = []
    reader.handle_data = seen.append  # type: ignore[method-assign]
    reader.feed(str(render_inline(text)))
    reader.close()
    return "".join(seen)


@pytest.mark.parametrize("mark", MARKS)
@pytest.mark.parametrize("form", ["{a}{m}{b}", "{a}{m}{b}{m}{c}", "x {a}{m}{b} y {c}{m}{a} z", "{m}{a}{m}{b}", "{a}{m}{b}{m}", "({a}{m}{b})", "{a} {m} {b}", "{a}{m} {b}{m}", "[{a}{m}{b}](https://a.example/1_2_3)"])
def test_no_mark_eats_a_number(mark: str, form: str) -> None:
    """Around every mark, for every pair of numbers: the page and the plain text say the same, with every sign that stands beside a number."""
    for a, b in product(NUMBERS, NUMBERS):
        text = form.format(a=a, b=b, c="7", m=mark)
        seen = plain_text(text)
        assert shown(text) == seen, text
        written = text.removeprefix("[").removesuffix("](https://a.example/1_2_3)")
        if seen != written:  # a pair around a whole word was taken for bold or italic, and nothing else was
            assert re.sub(rf"(?<![\w*]){re.escape(mark)}(?=\S)([^*_]+)(?<=\S){re.escape(mark)}(?![\w*])", r"\1", written) == seen, text
        elif mark[0] == "*" and f"{a}{mark}{b}" in text and mark != "****":
            assert said(text), text


@pytest.mark.parametrize(("text", "html"), [("做**10**次", "做<strong>10</strong>次"), ("请*慢慢*站", "请<em>慢慢</em>站"), ("做3*10次", "做3*10次")])
def test_scripts_without_spaces(text: str, html: str) -> None:
    """Where words are not parted by spaces a mark may stand directly beside a letter, never between two numbers."""
    assert str(render_inline(text)) == html
    assert bool(said(text)) == ("3*10" in text)


def test_plain_text() -> None:
    """Words of links stay, marks go, an underline inside a word stays."""
    assert plain_text("**Lift** *one* [heel](https://a.example), snake_case") == "Lift one heel, snake_case"
    assert plain_text("3 * 10, 2_5, Name: ____") == "3 * 10, 2_5, Name: ____"
