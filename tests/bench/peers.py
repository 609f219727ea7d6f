"""The same texts for other site generators: Markdown with front matter and the figure, and each one's smallest theme.

What is not on PATH (or in a folder that is named) is left out; nothing is installed.
"""

from __future__ import annotations

import json
import shutil
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import yaml
from jinja2 import Environment
from markdown import Markdown

from handouts.build.loading import load
from handouts.build.pipeline import draw
from handouts.build.settings import Settings
from handouts.model import Exercise

PAGE = '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>%s</title></head><body>%s</body></html>'


@dataclass(frozen=True, slots=True)
class Text:
    """One page: its name in one folder, its title, and its Markdown with the figure as inline SVG."""

    name: str
    title: str
    body: str


def texts_of(settings: Settings) -> list[Text]:
    """Every exercise in every language."""
    loaded = load(settings)
    shelf, _ = draw(loaded, settings)
    libraries = [each.library for each in loaded.translations if each.library]
    return [
        Text(f"{library.language}-{exercise.slug}", exercise.title.text, _body(exercise, str(shelf.figure_svg(exercise, library.language))))
        for library in libraries
        for exercise in library.exercises
    ]  # fmt: skip


def _body(exercise: Exercise, figure: str) -> str:
    parts = [exercise.why.text, figure]
    for section in exercise.sections:
        parts.append(f"## {section.heading.text}")
        for block in section.blocks:
            sign = {"steps": "1. ", "bullets": "- "}.get(block.kind, "")
            parts.append("\n".join(f"{sign}{item.text}" for item in block.items))
    parts += ["\n".join(f"- {cue.text}" for cue in exercise.cues), exercise.feel.text]
    parts.append("\n".join(f"- {pair.see.text} **{pair.do.text}**" for pair in exercise.mistakes))
    return "\n\n".join(parts) + "\n"


def front(text: Text, **more: str) -> str:
    """Markdown with YAML front matter."""
    return f"---\n{yaml.dump({'title': text.title, **more}, allow_unicode=True)}---\n{text.body}"


def write_hugo(folder: Path, texts: Sequence[Text]) -> list[str]:
    """A site for Hugo; gives its command."""
    _write(folder / "config.toml", 'baseURL = "https://example.invalid/"\ndisableKinds = ["RSS", "sitemap", "taxonomy", "term"]\n[markup.goldmark.renderer]\nunsafe = true\n')
    _write(folder / "layouts/_default/single.html", PAGE % ("{{ .Title }}", "{{ .Content }}"))
    _write(folder / "layouts/_default/list.html", PAGE % ("all", "{{ range .RegularPages }}<a href='{{ .RelPermalink }}'>{{ .Title }}</a>{{ end }}"))
    for text in texts:
        _write(folder / f"content/{text.name}.md", front(text))
    return ["hugo", "--quiet", "--destination", "out"]


def write_eleventy(folder: Path, texts: Sequence[Text]) -> list[str]:
    """A site for Eleventy; gives its command."""
    _write(folder / "in/_includes/page.njk", PAGE % ("{{ title }}", "{{ content | safe }}"))
    _write(folder / "package.json", json.dumps({"name": "bench", "private": True}))
    for text in texts:
        _write(folder / f"in/{text.name}.md", front(text, layout="page.njk"))
    return ["eleventy", "--input=in", "--output=out", "--quiet"]


def write_pelican(folder: Path, texts: Sequence[Text]) -> list[str]:
    """A site for Pelican; gives its command."""
    nothing = "".join(f"{name} = None\n" for name in ("FEED_ALL_ATOM", "CATEGORY_FEED_ATOM", "TRANSLATION_FEED_ATOM", "AUTHOR_FEED_ATOM", "AUTHOR_FEED_RSS"))
    _write(folder / "conf.py", f"SITENAME = 'bench'\nTIMEZONE = 'UTC'\nTHEME = 'simple'\nDIRECT_TEMPLATES = []\nAUTHOR_SAVE_AS = ''\nCATEGORY_SAVE_AS = ''\nTAG_SAVE_AS = ''\n{nothing}")
    for text in texts:
        _write(folder / f"content/{text.name}.md", f"Title: {text.title}\nDate: 2026-09-14\nSlug: {text.name}\n\n{text.body}")
    return ["pelican", "content", "-o", "out", "-s", "conf.py", "--quiet"]


def write_mkdocs(folder: Path, texts: Sequence[Text]) -> list[str]:
    """A site for MkDocs; gives its command."""
    _write(folder / "mkdocs.yml", "site_name: bench\ntheme: {name: null, custom_dir: theme}\nplugins: []\n")
    _write(folder / "theme/main.html", PAGE % ("{{ page.title }}", "{{ page.content }}"))
    _write(folder / "docs/index.md", "# All\n")
    for text in texts:
        _write(folder / f"docs/{text.name}.md", front(text))
    return ["mkdocs", "build", "--quiet", "--site-dir", "out"]


def write_floor(folder: Path, texts: Sequence[Text]) -> list[str]:
    """The floor in Python: this module reads, parses, renders and writes, one process and nothing else."""
    for text in texts:
        _write(folder / f"in/{text.name}.md", front(text))
    return [sys.executable, "-m", "tests.bench.peers", str(folder)]


PEERS: dict[str, Callable[[Path, Sequence[Text]], list[str]]] = {
    "floor": write_floor, "Hugo": write_hugo, "Eleventy": write_eleventy, "Pelican": write_pelican, "MkDocs": write_mkdocs,
}  # fmt: skip


def find_command(words: Sequence[str], folders: Sequence[Path]) -> list[str] | None:
    """The command with the program's whole path, from the folders that were named or from PATH."""
    places = [str(folder) for folder in folders]
    found = next((path for place in (*places, None) if (path := shutil.which(words[0], path=place))), None)
    return [found, *words[1:]] if found else None


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, "utf-8")


def make_floor(folder: Path) -> None:
    """Reads, parses, renders and writes every page."""
    template = Environment(autoescape=True).from_string(PAGE % ("{{ title }}", "{{ content | safe }}"))
    reader = Markdown()
    for path in sorted((folder / "in").iterdir()):
        _, head, body = path.read_text("utf-8").split("---\n", 2)
        known = yaml.load(head, yaml.CSafeLoader)
        _write(folder / "out" / path.stem / "index.html", template.render(title=known["title"], content=reader.reset().convert(body)))


if __name__ == "__main__":
    make_floor(Path(sys.argv[1]))
