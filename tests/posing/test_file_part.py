"""The figure of a file taken out and put back: what is around it stays to the byte, whatever the file looks like."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts.posing.file_part import FigurePart, find_figure, replace_figure
from handouts.problems import Problem, show_problem

DEMO = sorted(Path("content/exercises").glob("*.md"))
FILE = b"""\
---
code: abc   # ours
figure:   # the pose
    # first
    base: standing

    end: {knee.r: 40}   # bent

title: "Knee: bend"
# last words
---
## How to do it

figure: is a word here
"""


def part_of(data: bytes) -> FigurePart:
    """The pieces of a file that has them."""
    part = find_figure(data, "a.md")
    assert isinstance(part, FigurePart)
    return part


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_every_exercise_of_the_demo(path: Path) -> None:
    """Taken apart and put together it is the same; with another figure all else is the same."""
    data = path.read_bytes()
    part = part_of(data)
    assert part.with_text(part.text) == data
    made = replace_figure(data, "base: supine\nend: {hip.r: 30}\n", path.name)
    assert isinstance(made, bytes)
    again = part_of(made)
    assert (again.before, again.after) == (part.before, part.after)
    assert again.text == "base: supine\nend: {hip.r: 30}\n"


def test_remarks_blanks_and_indent_stay() -> None:
    """The text is what stands below the key, without its indent; it goes back with it."""
    part = part_of(FILE)
    assert part.text == "# first\nbase: standing\n\nend: {knee.r: 40}   # bent\n"
    made = replace_figure(FILE, part.text.replace("40", "50"), "a.md")
    assert made == FILE.replace(b"40", b"50")


@pytest.mark.parametrize(("old", "new"), [
    (b"figure: {base: standing}\n", b"figure:\n  base: supine\n"),
    (b"figure: none\n", b"figure:\n  base: supine\n"),
    (b"", b"figure:\n  base: supine\n"),
    (b"figure: {base: standing,\n  end: {knee: 3}}\n", b"figure:\n  base: supine\n"),
])  # fmt: skip
def test_other_ways_to_write_it(old: bytes, new: bytes) -> None:
    """On one line, in brackets over two, none, or not there at all."""
    data = b"---\ncode: abc\n" + old + b"---\nBody\n"
    assert replace_figure(data, "base: supine\n", "a.md") == b"---\ncode: abc\n" + new + b"---\nBody\n"
    assert part_of(data).with_text(part_of(data).text) == data


def test_line_ends_of_windows_and_a_mark_at_the_start_stay() -> None:
    """Every line ends as the file's lines do."""
    data = b"\xef\xbb\xbf" + FILE.replace(b"\n", b"\r\n")
    made = replace_figure(data, part_of(data).text.replace("40", "50"), "a.md")
    assert made == data.replace(b"40", b"50")


def test_brackets_stay_brackets() -> None:
    """A figure on one line is written on one line."""
    data = b"---\nfigure: {base: standing}\ncode: abc\n---\n"
    assert replace_figure(data, "{base: standing, view: front}", "a.md") == data.replace(b"standing", b"standing, view: front")


@pytest.mark.parametrize("text", ["base: standing\n---\ntitle: x\n", "base: [", "- a\n", "base: a\nbase: b\n"])
def test_what_would_change_more_is_refused(text: str) -> None:
    """A text that ends the front matter, or is no mapping, is not written."""
    found = replace_figure(FILE, text, "a.md")
    assert isinstance(found, Problem)
    assert show_problem(found) == (
        "a.md:4:1: error: the figure cannot be put into this file without changing what stands around it. "
        "Copy its text, and put it under 'figure:' by hand. [figure-not-saved]"
    )


def test_a_file_without_front_matter() -> None:
    """Said with a mend."""
    found = find_figure(b"no keys", "a.md")
    assert isinstance(found, Problem)
    assert show_problem(found) == "a.md:1:1: error: the file has no front matter. Begin it with '---', keys, and '---'. [no-front-matter]"
