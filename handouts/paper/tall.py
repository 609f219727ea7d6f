"""An article on one tall page, from which sums place its blocks: laid out once, whatever its pages are."""

from __future__ import annotations

from dataclasses import replace

from handouts.paper.articles import Article
from handouts.paper.contained_writer import lay_out, stack_of
from handouts.paper.document import ArticleSource, source_rules
from handouts.paper.geometry import PX_IN_MM, column_rules, figure_width, wide_height
from handouts.paper.stacking import PageRoom, reference
from handouts.paper.writer.stack import Stack

TALL_MM = 2000.0
"""Height of the page on which an article is laid out."""


class TallArticle:
    """An article on one tall page, with its columns as it says; ``stack`` only where it was laid out without a problem."""

    stack: Stack

    def __init__(self, source: ArticleSource, article: Article) -> None:
        self.article = article
        self.layout = lay_out(set_tall(replace(source, article=article)), {}, article.place, own_fonts=source.own_fonts)
        if not self.layout.problems:
            self.stack = stack_of(self.layout, article.anchor, reference(source.size))
        width = figure_width(source.width, article.share)
        free = 0.0 if source.said else article.free  # where notes are said elsewhere, boxes to tick stand there too
        highest = width / article.shape * PX_IN_MM if article.shape else 0.0
        wanted = min(highest, wide_height(source.width, article.shape) * PX_IN_MM) if article.shape else 0.0
        self.room = PageRoom(
            source.height * PX_IN_MM, free * PX_IN_MM, highest, source.size, source.language,
            wanted, source.above * PX_IN_MM, article.halves,
        )  # fmt: skip


def set_tall(source: ArticleSource) -> str:
    """The HTML of an article on one tall page, in the reference spacing, its figure without height."""
    article, laid = source.article, reference(source.size)
    name = f"article.{article.kind.partition(' ')[0]}"
    rules = [
        source_rules(replace(source, height=TALL_MM, article=replace(article, free=0.0)), first_is_last=True),
        column_rules(name, source.width, article.share),
        f"html {name}[id] {{ --line: {laid.line}; --gap: {laid.gap / PX_IN_MM:g}mm; }}",
        f"{name} .figure {{ height: 0; }} html {name} .back {{ break-before: auto; }}",
    ]
    if source.said:
        rules.append(f"{name} .behind {{ display: none; }}")
    return source.html.replace("</head>", f"<style>{' '.join(rules)}</style>\n</head>", 1)
