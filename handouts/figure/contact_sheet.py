"""A contact sheet: many figures on one page, to look at while posing and before printing.

``python -m handouts.figure.contact_sheet OUT.html [FILE…]`` reads exercises (Markdown with front matter) or one YAML
file of figures, prints each figure's problems, and writes the page.  ``sheet_page`` itself is pure.
"""

from __future__ import annotations

import sys
from html import escape
from pathlib import Path

from handouts.figure.compute import Figure, compute_figure
from handouts.figure.pose.read import read_figure
from handouts.figure.svg import svg_of
from handouts.problems import Problem, show_problem
from handouts.source.nodes import Mapping, compose

_PAGE_STYLE = """
body { margin: 10px; font: 600 18px "DejaVu Sans", sans-serif; display: grid; gap: 10px;
  grid-template-columns: repeat(%d, 1fr); background: var(--fig-paper); color: #70808a; }
figure { margin: 0; border: 1px solid #c8ced2; border-radius: 8px; padding: 6px; }
figure svg { width: 100%%; height: 330px; }
figcaption { text-align: center; }
"""


def figure_nodes(text: str, file: str) -> list[tuple[str, Mapping]]:
    """The figures of a file by name: the ``figure`` of an exercise, or every entry of a YAML file of figures."""
    if text.startswith("---\n"):
        front = text[4:].split("\n---", 1)[0]
        root, _ = compose(front, file, 2)
        node = root.get("figure") if root else None
        return [(Path(file).stem, node)] if isinstance(node, Mapping) else []
    root, _ = compose(text, file)
    return [(entry.key, entry.value) for entry in root.entries if isinstance(entry.value, Mapping)] if root else []


def sheet_page(figures: list[tuple[str, Figure]], css: str, columns: int = 4) -> str:
    """A page (HTML text) with every figure under its name."""
    cards = "".join(
        f"<figure>{svg_of(figure, name, name, f'f{number}')}<figcaption>{escape(name)}</figcaption></figure>"
        for number, (name, figure) in enumerate(figures)
    )
    return (
        f'<!doctype html><html lang="en"><meta charset="utf-8"><title>Figures</title>'
        f"<style>{css}{_PAGE_STYLE % columns}</style><body>{cards}</body></html>"
    )


def main(arguments: list[str]) -> int:
    """Write the sheet; exit status 1 when a figure has problems."""
    target, files = Path(arguments[0]), [Path(name) for name in arguments[1:]]
    found: list[Problem] = []
    figures: list[tuple[str, Figure]] = []
    for file in files or sorted(Path("content/exercises").glob("*.md")):
        for name, node in figure_nodes(file.read_text("utf-8"), str(file)):
            spec, problems = read_figure(node)
            found += problems
            if spec is not None:
                figure = compute_figure(spec)
                found += figure.problems
                figures.append((name, figure))
    for problem in found:
        print(show_problem(problem))
    css = Path("templates/styles/figure.css").read_text("utf-8")
    target.write_text(sheet_page(figures, css), "utf-8")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
