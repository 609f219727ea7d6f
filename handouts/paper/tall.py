"""An article on one tall page, from which sums place its blocks: laid out once, whatever its pages are."""

from __future__ import annotations

import re
from dataclasses import replace

from handouts.paper.articles import Article
from handouts.paper.contained_writer import lay_out, stack_of
from handouts.paper.document import ArticleSource, source_rules
from handouts.paper.geometry import LARGE, PX_IN_MM, column_rules, figure_width, wide_height
from handouts.paper.page_sums import PageRoom
from handouts.paper.stacking import reference
from handouts.paper.writer.stack import Stack

TALL_MM = 2000.0
"""Height of the page on which an article is laid out."""


_STOPS = re.compile(r'<div class="cautions stop(">.*?</ul>\n</div>\n?)', re.DOTALL)
"""The stop rules of an article as its template writes them."""
_PICTURED = re.compile(r'<section class="mistakes(">(?:(?!</section>).)*?)(<div class="fault-figure">.*?</div>\n)(.*?</section>\n)', re.DOTALL)
"""What goes wrong, with the picture of the first mistake."""

_WORDS = re.compile(r'<div class="dose-words">\n(.*?)</div>\n</section>.*?(?=<div class="steps">)', re.DOTALL)
"""The words of a dose, beside the figure, and what follows them up to the steps."""


class TallArticle:
    """An article on one tall page, with its columns as it says; ``stack`` only where it was laid out without a problem."""

    stack: Stack
    listed: bool
    """Whether the stop rules stand there twice, running on and with a line each."""

    def __init__(self, source: ArticleSource, article: Article) -> None:
        self.article = article
        self.listed = source.size != LARGE and bool(_STOPS.search(source.html))
        self.layout = lay_out(set_tall(replace(source, article=article)), {}, article.place, own_fonts=source.own_fonts)
        if not self.layout.problems:
            self.stack = stack_of(self.layout, article.anchor, reference(source.size))
        width = figure_width(source.width, article.share)
        highest = width / article.shape * PX_IN_MM if article.shape else 0.0
        wanted = min(highest, wide_height(source.width, article.shape) * PX_IN_MM) if article.shape else 0.0
        self.room = PageRoom(
            source.height * PX_IN_MM, article.free * PX_IN_MM, highest, source.size, source.language,
            wanted, source.above * PX_IN_MM, article.halves,
        )  # fmt: skip


def set_tall(source: ArticleSource) -> str:
    """The HTML of an article on one tall page, in the reference spacing, its figure without height."""
    article, laid = source.article, reference(source.size)
    html = with_alternatives(source.html, listed=source.size != LARGE)
    name = f"article.{article.kind.partition(' ')[0]}"
    rules = [
        source_rules(replace(source, height=TALL_MM, article=replace(article, free=0.0)), first_is_last=True),
        column_rules(name, source.width, article.share),
        f"html {name}[id] {{ --line: {laid.line}; --gap: {laid.gap / PX_IN_MM:g}mm; }}",
        f"{name} .figure {{ height: 0; }} html {name} .back {{ break-before: auto; }}",
    ]
    return html.replace("</head>", "".join(f"<style>{rule}</style>\n" for rule in rules) + "</head>", 1)


def with_alternatives(html: str, *, listed: bool) -> str:
    """The HTML with each choice of the sums in both forms, one after the other.

    Mistakes without and with a picture; stop rules that run on, and ``listed``; in large type the words of a dose beside the figure and below it.
    """
    html = _PICTURED.sub(r'<section class="mistakes\1\3<section class="mistakes pictured\1\2\3', html)
    html = _WORDS.sub(r'\g<0><section class="dose-words">\n\1</section>\n', html)
    return _STOPS.sub(r'<div class="cautions stop\1<div class="cautions stop listed\1', html) if listed else html
