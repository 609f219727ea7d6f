"""What the bench is told: from a figure's text and a change of it to the new text, the picture, the angles and the problems.

The picture is whole, or, while something is dragged, quick: one picture of two, without the movement between and without fitted curves.
Pure: the same request gives the same answer.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

import numpy as np
from shapely.geometry import Polygon

from handouts.figure import Figure, FigureSpec, FigureStyle, compute_figure, read_figure, svg_of
from handouts.figure.body.body import Body
from handouts.figure.body.joints import VARIABLES
from handouts.figure.body.sites import BODY_TARGETS
from handouts.figure.draw.curves import corner_path
from handouts.figure.draw.style import TONES
from handouts.figure.pose.motion import SolvedMotion, solve_motion
from handouts.figure.pose.surroundings import PROP_OF
from handouts.figure.scene import View, make_scene, see
from handouts.posing.drag import HANDLES, Drag, apply_drag, handle_places
from handouts.posing.edits import (
    EditError,
    apply_edit,
    base_pose,
    contact_texts,
    contacts_of,
    read_text,
    spec_of,
    written_pose,
)
from handouts.problems import Grade, Problem
from handouts.source.nodes import Mapping as Written
from handouts.source.nodes import Scalar, Sequence
from handouts.words.figure import describe_figure
from handouts.words.wording import Wording

MOST_TEXT = 16 * 1024
"""Letters of a figure; the longest of the gallery has 700."""
_REMEMBERED = 12
"""Solved texts kept: a drag begins from the same text many times."""
_SIMPLE = 1.5
"""How far the outline of a quick picture may miss, drawing units."""
_LANGUAGE = "en"
_WORDS = ("base", "view", "mirror", "active", "stretched", "arrow", "side", "together", "lean", "balance")
"""Keys that have a field of the page."""


@dataclass(frozen=True, eq=False, slots=True)
class _Solved:
    """A figure's spec and its solved motion."""

    spec: FigureSpec
    body: Body
    motion: SolvedMotion


def _style(spec: FigureSpec) -> FigureStyle:
    return FigureStyle(person=spec.person, without=spec.without)


@lru_cache(maxsize=_REMEMBERED)
def _solve(text: str, picture: int, is_quick: bool) -> _Solved | None:
    """The spec and motion of a text; quick without what lies between, and of picture 1 without picture 2."""
    spec = spec_of(read_text(text))
    if spec is None:
        return None
    body = _style(spec).body
    alone = replace(spec, moves=False) if picture == 1 and is_quick else spec
    return _Solved(spec, body, solve_motion(alone, body, 0) if is_quick else solve_motion(alone, body))


def _said(problem: Problem) -> dict[str, str]:
    place = problem.place
    where = f"line {place.line}, column {place.column}: " if place.line else ""
    return {"grade": "error" if problem.grade is Grade.ERROR else "notice", "text": f"{where}{problem.what}. {problem.mend}"}


def _change(text: str, asked: Mapping[str, Any]) -> str:
    """The text with what was asked for: one edit, one drag, or nothing."""
    if "edit" in asked:
        return apply_edit(text, asked["edit"]) if isinstance(asked["edit"], dict) else text
    if "drag" not in asked:
        return text
    drag = _drag(asked["drag"])
    solved = _solve(text, drag.picture, True)
    if solved is None:
        raise EditError("Nothing can be dragged before the problems of the text are mended.")
    if drag.picture == 2 and not solved.spec.moves:
        raise EditError("There is no picture 2.")
    return apply_drag(text, solved.spec, solved.body, solved.motion, drag)


def _drag(asked: Any) -> Drag:
    if not isinstance(asked, dict) or set(asked) != {"picture", "point", "x", "y"}:
        raise EditError("This is no drag.")
    name, _, side = str(asked["point"]).partition(".")
    numbers = all(isinstance(asked[key], int | float) and abs(asked[key]) < 1e4 for key in ("x", "y"))
    if name not in HANDLES or side not in (("",) if name == "head" else ("r", "l")) or asked["picture"] not in (1, 2) or not numbers:
        raise EditError("This is no drag.")
    return Drag(asked["picture"], name, side, float(asked["x"]), float(asked["y"]))


def answer(asked: Mapping[str, Any]) -> dict[str, Any]:
    """The answer to a request {text, edit or drag or neither, quick: 0, 1 or 2}; a change that cannot be made is said as ``refused``."""
    text = asked.get("text")
    quick = asked.get("quick", 0)
    if not isinstance(text, str) or len(text) > MOST_TEXT or quick not in (0, 1, 2):
        return {"refused": "This is no figure."}
    try:
        text = _change(text, asked)
        node = read_text(text)
    except EditError as fault:
        return {"text": text, "refused": str(fault)} | _unreadable(text)
    found: dict[str, Any] = {"text": text, **_written(node, text)}
    spec, problems = read_figure(node)
    if spec is None:
        return found | {"problems": [_said(one) for one in problems]}
    found["things"] = [*(name for name, prop in PROP_OF.items() if not prop or spec.prop(prop)), *BODY_TARGETS]
    return found | (_quick(text, quick) if quick else _whole(spec, problems))


def _unreadable(text: str) -> dict[str, Any]:
    try:
        node = read_text(text)
    except EditError as fault:
        return {"problems": [{"grade": "error", "text": str(fault)}]}
    return _written(node, text)


def _words_of(node: Written, key: str) -> str:
    found = node.get(key)
    if isinstance(found, Sequence):
        return ", ".join(item.text for item in found.items if isinstance(item, Scalar))
    return found.text if isinstance(found, Scalar) else ""


def _written(node: Written, text: str) -> dict[str, Any]:
    """What stands in the text, for the fields of the page."""
    start, end = written_pose(node, 1), written_pose(node, 2)
    first = base_pose(node) | start
    props = node.get("props")
    try:
        contacts = [contact_texts(contacts_of(text, picture)) for picture in (1, 2)]
    except EditError:
        contacts = [[], []]
    spec = spec_of(node)
    return {
        "written": [start, end],
        "angles": [first, first | end],
        "moves": spec.moves if spec else node.get("end") is not None,
        "contacts": contacts,
        "props": {entry.key: _words_of(props, entry.key) for entry in props.entries} if isinstance(props, Written) else {},
        "words": {key: _words_of(node, key) for key in _WORDS},
    }


def _came_out(motion: SolvedMotion) -> list[dict[str, int]]:
    frames = [motion.frames[0], motion.frames[-1]] if len(motion.frames) > 1 else [motion.frames[0]]
    return [{name: round(float(value)) for name, value in zip(VARIABLES, frame.state.angles, strict=True)} for frame in frames]


def _whole(spec: FigureSpec, problems: list[Problem]) -> dict[str, Any]:
    """The picture as it is published, and all checks."""
    figure: Figure = compute_figure(spec, _style(spec))
    words = describe_figure(figure.facts, Wording(_LANGUAGE))
    count = 2 if spec.moves else 1  # of more pictures than two the first and the last are posed
    frames = (figure.motion.frames[0], figure.motion.frames[-1])[:count]
    origins = (figure.layout.origins[0], figure.layout.origins[-1])[:count]
    return {
        "svg": svg_of(figure, "Figure", words, "f"),
        "alt": words,
        "size": [figure.layout.width, figure.layout.height],
        "origins": [list(origin) for origin in origins],
        "handles": [handle_places(spec, figure.style.body, frame) for frame in frames],
        "came": _came_out(figure.motion),
        "problems": [_said(one) for one in (*problems, *figure.problems)],
    }


def _quick(text: str, picture: int) -> dict[str, Any]:
    """One picture, its parts as flat outlines in the order of painting."""
    solved = _solve(text, picture, True)
    if solved is None:
        return {}
    scene = make_scene(solved.spec, solved.body, solved.motion, _style(solved.spec))
    frame = scene.frames[0 if picture == 1 else -1]
    return {
        "picture": picture,
        "panel": quick_panel(see(scene, frame, {})),
        "handles": [handle_places(solved.spec, solved.body, solved.motion.frames[0 if picture == 1 else -1])],
        "came": ([{}] if picture == 2 else []) + _came_out(solved.motion)[-1:],
    }


def quick_panel(view: View) -> str:
    """The parts of a view as paths, back to front."""
    found = []
    for part in view.ordered:
        role = f"{part.tone}-far" if part.far and f"{part.tone}-far" in TONES else part.tone
        if part.faces:
            found += [f'<path class="{TONES.get(face.tone, "p")}" d="{corner_path(face.corners)}"/>' for face in part.faces]
            continue
        shape = part.polygon.simplify(_SIMPLE)
        for polygon in getattr(shape, "geoms", [shape]):
            if isinstance(polygon, Polygon) and not polygon.is_empty:
                found.append(f'<path class="{TONES.get(role, "p")}" d="{corner_path(np.asarray(polygon.exterior.coords)[:-1])}"/>')
    return "".join(found)
