"""The gallery's page: every movement stands on it, can be found and copied; nothing is asked of another host."""

from __future__ import annotations

import re
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

from handouts.cli import main
from handouts.commands.posing import Bench
from handouts.commands.preview import PreviewState, handler_for
from handouts.gallery.files import file_names, gallery_file
from handouts.gallery.movements import read_movements
from handouts.gallery.page import gallery_page
from handouts.source.nodes import Mapping, compose


class _Copied(HTMLParser):
    """What the buttons copy, in order."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.texts += [value or "" for key, value in attrs if tag == "button" and key == "data-copy"]


def test_each_movement_can_be_copied() -> None:
    """A command and a figure for each; the copied figure reads as the one in the file."""
    page = _Copied()
    page.feed(gallery_page())
    movements = read_movements()
    assert page.texts[::2] == [f"handouts new NAME --like {one.slug}" for one in movements]
    for text, one in zip(page.texts[1::2], movements, strict=True):
        root, problems = compose(text, "copied.yaml")
        assert root is not None and not problems
        figure = root.get("figure")
        assert isinstance(figure, Mapping) and [each.key for each in figure.entries] == [each.key for each in one.written.entries]
        assert text == "figure:\n" + "".join(f"  {line}\n" for line in one.figure.splitlines())


def test_the_page_asks_no_other_host_and_names_its_pictures() -> None:
    """Each picture is a file of the gallery, and no address leads elsewhere."""
    page = gallery_page()
    assert not re.search(r"(?:src|href)=\"(?:https?:)?//", page)
    pictures = re.findall(r'<img src="([^"]+)"', page)
    assert sorted(pictures) == sorted(f"{one.slug}.svg" for one in read_movements())
    assert set(pictures) <= set(file_names())
    assert all(unescape(one.name) in unescape(page) for one in read_movements())


def test_a_picture_says_what_it_shows() -> None:
    """Title and description stand in the file, and its colours follow a dark screen."""
    picture = (gallery_file("straight-leg-raise.svg") or b"").decode()
    assert "<title" in picture and "Straight leg raise</title>" in picture and "degrees" in picture
    assert "prefers-color-scheme: dark" in picture and "<script" not in picture
    assert gallery_file("no-such.svg") is None


def test_names_are_printed(capsys) -> None:  # type: ignore[no-untyped-def]
    """``gallery --names`` writes nothing and prints each movement with all its names."""
    assert main(["gallery", "--names"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == len(read_movements())
    assert "knee-extension-sitting: Knee extension, sitting; long arc quad; LAQ; seated leg extension" in lines


def test_the_preview_serves_the_gallery() -> None:
    """Page and pictures stand below the preview's own folder; another name there is not found."""
    handler = handler_for(PreviewState(lambda *_: None), Bench(Path("none")))  # type: ignore[arg-type,return-value]
    answers: list[tuple[int, bytes, str]] = []
    asked = handler.__new__(handler)
    asked._answer = lambda status, data, suffix: answers.append((status, data, suffix))  # type: ignore[attr-defined]
    asked.headers = {"Host": "localhost"}  # type: ignore[assignment]
    for path in ("/.preview/gallery/", "/.preview/gallery/squat.svg", "/.preview/gallery/none.svg"):
        asked.path = path
        asked.do_GET()  # type: ignore[attr-defined]
    assert [(status, suffix) for status, _, suffix in answers] == [(200, ".html"), (200, ".svg"), (404, ".txt")]
    assert b"<h1>Gallery of movements</h1>" in answers[0][1] and answers[1][1].startswith(b"<svg")
