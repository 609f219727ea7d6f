"""From the ``figure:`` of a mistake, which says only what differs from the exercise's own, to a spec of its own.

The picture shows one moment: the end, or the start where only ``start`` is written.  Never computes a pose.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from handouts.figure.body.sites import POINTS
from handouts.figure.pose.names import KEY_HELP, figure_json_schema, nearest
from handouts.figure.pose.read import read_figure
from handouts.figure.pose.spec import FigureSpec, Named, over
from handouts.figure.pose.typed import WordReader
from handouts.problems import Place, Problem
from handouts.source.nodes import Entry, Mapping, Node, Scalar, Sequence

_UNSEEN = ("arrow", "via", "active", "stretched", "side", "person", "without")
"""Keys of a figure that say nothing of a mistake."""
FAULT_HELP = {
    "mark": "the point of the body where it goes wrong: a ring is drawn round it, with the sign",
    **{key: words for key, words in KEY_HELP.items() if key not in (*_UNSEEN, "base")},
}
"""What each key of a mistake's figure means; what is left out is as in the exercise's own figure."""
_TYPED_OVER = ("start", "end", "mark")
_OWN_ALONE = ("inset", "arrow", "via", "active", "stretched", "side", "shows")
"""Of the exercise's own figure nothing is taken of these."""


def read_fault(own: Mapping, fault: Mapping) -> tuple[FigureSpec | None, tuple[Named, ...], list[Problem]]:
    """The figure of a mistake and the points round which a ring is drawn; None where it or the exercise's own cannot be read."""
    found = [
        Problem(entry.place, "figure-key", f"'{entry.key}' is not a key of a mistake's figure", nearest(entry.key, FAULT_HELP))
        for entry in fault.entries
        if entry.key not in FAULT_HELP
    ]
    if read_figure(own)[0] is None or found:
        return None, (), found
    spec, problems = read_figure(_joined(own, fault))
    reader = WordReader()
    start, end = reader.pose(fault.get("start")), reader.pose(fault.get("end"))
    mark = fault.get("mark")
    marks = [reader.named(scalar, tuple(POINTS), "point of the body") for scalar in (reader.scalars(mark) if mark else ())]
    problems += reader.problems
    if not (start or end or problems) and not any(fault.get(key) for key in ("contacts", "end-contacts", "lean")):
        mend = "Write what differs, for example 'end: {knee: add 12}'; the rest is as in the exercise's figure."
        problems.append(Problem(fault.place, "figure-same-pose", "the mistake's figure differs in nothing from the exercise's own", mend))
    if spec is None or problems:
        return None, (), in_fault(problems, fault)
    spec = replace(spec, start=over(spec.start, start), end=over(spec.end, end))
    return spec, tuple(point for point in marks if point is not None), []


def in_fault(problems: Iterable[Problem], fault: Mapping) -> list[Problem]:
    """Problems of a mistake's figure, said as such, at the mistake even where the exercise's own figure brings their cause."""
    here = set(_places(fault))
    return [
        replace(one, place=one.place if one.place in here else fault.place, what=f"in the picture of this mistake, {one.what}")
        for one in problems
    ]


def fault_json_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of the ``figure`` mapping of a mistake."""
    own = figure_json_schema()["properties"]
    shapes = {**own, "mark": {key: value for key, value in own["arrow"].items() if key != "description"}}
    described = {key: {**shapes[key], "description": f"{words[0].upper()}{words[1:]}."} for key, words in FAULT_HELP.items()}
    return {"type": "object", "additionalProperties": False, "minProperties": 1, "properties": described}


def figure_schemas() -> dict[str, dict[str, Any]]:
    """The definitions that the schema of an exercise refers to."""
    return {"figure": figure_json_schema(), "fault": fault_json_schema()}


def _joined(own: Mapping, fault: Mapping) -> Mapping:
    """The exercise's own figure with what the mistake writes in place of it; poses stay the exercise's."""
    written = {entry.key: entry for entry in fault.entries if entry.key not in _TYPED_OVER}
    at_start = fault.get("start") is not None and fault.get("end") is None and "end-contacts" not in written
    left = (*_OWN_ALONE, *written, *(("end", "end-contacts", "flight") if at_start else ()))
    kept = [entry for entry in own.entries if entry.key not in left]
    added = [*written.values()]
    if fault.get("end") is not None and not any(entry.key == "end" for entry in kept):
        added.append(Entry("end", Mapping((), fault.place), fault.place))
    return Mapping((*kept, *added), fault.place)


def _places(node: Node) -> list[Place]:
    """Where a node and all that is in it stand."""
    if isinstance(node, Scalar):
        return [node.place]
    if isinstance(node, Sequence):
        return [node.place, *(place for item in node.items for place in _places(item))]
    return [node.place, *(place for entry in node.entries for place in (entry.place, *_places(entry.value)))]

