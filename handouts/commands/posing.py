"""The posing bench of the preview: its page, its answers, and a figure saved into its exercise's own file.

Writes nothing but the figure's lines of a file below ``exercises`` of the library that is shown.
"""

from __future__ import annotations

import hashlib
import json
import re
import threading
from dataclasses import dataclass, field
from html import escape
from pathlib import Path
from typing import Any

from handouts.gallery.movements import find_movement
from handouts.posing.answer import answer
from handouts.posing.file_part import find_figure, replace_figure
from handouts.posing.page import bench_page, bench_script, bench_style
from handouts.problems import Problem
from handouts.publishing.author_files import as_file_problem, hold_library, read_regular
from handouts.publishing.disk import PublishError

POSE = ".preview/pose/"
"""Where the bench is: behind it an exercise, or ``gallery/`` and a movement."""
MOST_BYTES = 64 * 1024
"""Bytes of a request."""
NEW_FIGURE = "base: standing\n"
"""What the bench begins with where an exercise has no figure yet."""
_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_EXERCISE_PAGE = re.compile(r"(?:[A-Za-z-]+/)?exercises/(?P<slug>[a-z0-9-]+)/index\.html")
_TITLE = re.compile(r"(?m)^title:[ ]*(?P<title>.+?)[ ]*$")


@dataclass(frozen=True, slots=True)
class Bench:
    """The bench over a library's folder."""

    library: Path
    turn: threading.Lock = field(default_factory=threading.Lock)
    """One request is worked on at a time."""

    def file_of(self, path: str) -> str | None:
        """The exercise file that an address of the bench is about; None where it is about none that is there."""
        slug = path.removeprefix(POSE).rstrip("/")
        file = f"exercises/{slug}.md"
        return file if _SLUG.fullmatch(slug) and (self.library / file).is_file() else None

    def page(self, path: str) -> str | None:
        """The page for an exercise or a movement; None where there is none."""
        rest = path.removeprefix(POSE).rstrip("/")
        movement = find_movement(rest.removeprefix("gallery/")) if rest.startswith("gallery/") else None
        if movement is not None:
            links: tuple[tuple[str, str], ...] = (("Gallery of movements", f"/.preview/gallery/#{movement.slug}"),)
            return bench_page(movement.name, self._answer({"text": movement.figure.rstrip() + "\n"}), links)
        file = self.file_of(path)
        if file is None:
            return None
        with as_file_problem(self.library / file):
            data = read_regular(self.library / file) or b""
        part = find_figure(data, file)
        text = "" if isinstance(part, Problem) else part.text
        found = self._answer({"text": text or NEW_FIGURE})
        if isinstance(part, Problem):
            found |= {"refused": f"{part.what}. {part.mend}"}
        title = _TITLE.search(data.decode("utf-8", "replace"))
        links = (("Gallery of movements", "/.preview/gallery/"), ("The words of a figure", "/.preview/gallery/chapter.html"))
        return bench_page(title["title"].strip("\"'") if title else rest, found, links, rest, file, _digest(data))

    def reply(self, path: str, body: bytes) -> str:
        """The answer to a request, as JSON."""
        try:
            asked = json.loads(body)
        except ValueError:
            asked = None
        if not isinstance(asked, dict):
            return json.dumps({"text": "", "refused": "This is no request of the bench."})
        return json.dumps(self._save(path, asked) if "save" in asked else self._answer(asked))

    def _answer(self, asked: dict[str, Any]) -> dict[str, Any]:
        with self.turn:
            return answer(asked)

    def _save(self, path: str, asked: dict[str, Any]) -> dict[str, Any]:
        text, file = asked.get("text"), self.file_of(path)
        if not isinstance(text, str) or file is None:
            return {"text": "", "refused": "There is no file to save into."}
        try:
            with hold_library(self.library, "preview") as held:
                data = held.read(file)
                if data is None or _digest(data) != asked["save"]:
                    return {"text": text, "refused": "Not saved: the file was changed meanwhile. Copy the text, load this page again, and put it in."}
                made = replace_figure(data, text, file)
                if isinstance(made, Problem):
                    return {"text": text, "refused": f"Not saved: {made.what}. {made.mend}"}
                held.replace({file: made}, {file: data})
        except PublishError as fault:
            return {"text": text, "refused": f"Not saved: {fault.problem.what}. {fault.problem.mend}"}
        return {"text": text, "saved": _digest(made)}


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def asset(path: str) -> tuple[str, str] | None:
    """The style sheet or the script of the bench, with the end of its name."""
    return (bench_style(), ".css") if path == ".preview/pose.css" else (bench_script(), ".js") if path == ".preview/pose.js" else None


def link_to_bench(path: str) -> str:
    """What leads from the preview of an exercise's page to the bench; nothing on other pages."""
    found = _EXERCISE_PAGE.fullmatch(path)
    return f'<p class="preview-pose"><a href="/{POSE}{escape(found["slug"])}">Pose this figure</a></p>' if found else ""


def may_ask(host: str, origin: str | None, kind: str | None) -> bool:
    """Whether a request that changes something comes from a page of this server: a form or a script of another site names another origin, or none."""
    return origin == f"http://{host}" and (kind or "").partition(";")[0].strip() == "application/json"
