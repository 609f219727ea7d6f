"""The words that authors may type in a figure: views, props, muscles, balance; and the JSON Schema for editors.

Never reads a node; ``handouts.figure.pose.read`` does.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from handouts.figure.body.joints import JOINTS, SIDED
from handouts.figure.body.muscles import MUSCLE_ALIASES, MUSCLES
from handouts.figure.body.people import ENDS, PEOPLE
from handouts.figure.body.sites import ALIASES, BODY_SITES, BODY_TARGETS, GRIP, LIMB_SITES, POINTS
from handouts.figure.pose.bases import BASES
from handouts.figure.pose.surroundings import PROP_OF
from handouts.figure.pose.thing import Thing
from handouts.figure.pose.things import ANCHORS, THINGS
from handouts.problems import suggest

VIEWS: dict[str, tuple[float, float]] = {
    "side": (20, 8), "flat-side": (6, 5), "side-high": (20, 16), "other-side": (-20, 8), "three-quarter": (42, 11),
    "front": (72, 7), "straight-front": (88, 5), "back": (-72, 8), "lying": (5, 17), "lying-front": (40, 24),
    "lying-high": (8, 30), "above": (2, 66),
}  # fmt: skip
"""Camera yaw and elevation in degrees; yaw 0 sees the right side, 90 the front."""

USUAL_VIEW = {"standing": "side", "sitting": "three-quarter", "kneeling": "side", "half-kneeling": "side"}
"""The view of a base that names none; all others are seen lying."""


@dataclass(frozen=True, slots=True)
class PropKind:
    """What may be written of a prop.

    ``words`` say how it stands or is used; ``points`` are the points of the body that it may be on or be tied to;
    ``distance`` says whether a number tells how far away it stands, metres.
    """

    words: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    distance: bool = False

    @property
    def names(self) -> tuple[str, ...]:
        """All words and points."""
        return (*self.words, *self.points)


def _kind(thing: Thing) -> PropKind:
    """What may be written of a declared thing."""
    return PropKind(thing.words, tuple(thing.worn), thing.moves and bool(thing.stands))


PROPS: dict[str, PropKind] = {
    "mat": PropKind(("yes",)),
    "pillow": PropKind(("head", "knees"), ("foot", "heel", "ankle", "knee")),
    "wall": PropKind(("front", "back", "left", "right"), distance=True),
    "doorway": PropKind(("yes", "front"), distance=True),
    "step": PropKind(("front", "under", "low")),
    "door": PropKind(("left", "right", "front", "back", "low", "high", "mid")),
    "band": PropKind(("door", "floor", *ANCHORS, "loop-knees", "loop-ankles", "loop-feet"), tuple(POINTS)),
    "strap": PropKind((), tuple(POINTS)),
    "exercise-ball": PropKind(("feet", "calves", "sit"), distance=True),
    "weighted-ball": PropKind(("hands",)),
    "roll": PropKind(("between-knees", "knees"), tuple(POINTS)),
    "towel": PropKind(("hands",), tuple(POINTS)),
    "stick": PropKind(("hands",)),
    "slope": PropKind(("yes",)),
    **{name: _kind(thing) for name, thing in THINGS.items()},
}
"""Every prop; what is not written here of a prop is not drawn, and refused."""

PROP_ALIASES = {"ball": "exercise-ball", "hand-weight": "weight", "dumbbell": "weight", "weights": "weight",
                "resistance-band": "band", "towel-roll": "roll", "wand": "stick", "belt": "strap", "stairs": "step",
                "cushion": "pillow", "kitchen-counter": "counter", "door-frame": "doorway", "doorframe": "doorway",
                "walker": "walking-frame", "walking-stick": "cane", "bike": "exercise-bike", "treatment-table": "plinth",
                "couch": "plinth", "wrist-weight": "ankle-weight", "cuff-weight": "ankle-weight", "pole": "post", "target": "card"}  # fmt: skip
KEY_HELP = {
    "base": "the position to begin from, with all its joint angles and what it rests on",
    "view": "from where it is seen: a name, or yaw and elevation in degrees",
    "props": "the things in the picture, each with how it stands or where it is",
    "contacts": "what touches what in picture 1; in place of what the base rests on, so write all of it",
    "end-contacts": "what touches what in picture 2, where that changes; all of it again",
    "start": "joint angles of picture 1 that differ from the base, in degrees",
    "end": "joint angles of picture 2 that differ from picture 1, or from its own 'base' where it has one; left out: a position that is held",
    "reach": "what a part of the body comes to in picture 2, as {hand.l: toes.r}; the solver finds the angles that nobody wrote",
    "together": "what touches its other side all the way: feet, knees or hands",
    "mirror": "left and right exchanged: 'end' for picture 2 as the mirror of picture 1, 'start' for the reverse, 'both' for the whole figure",
    "via": "joint angles of a picture between both, as for 'end'; with 'contacts' where they change, 'base' for another; a list: up to four pictures",
    "slide": "parts of the body that keep contact and move along what they touch",
    "pin": "parts of the body that stay where they are during the movement",
    "arrow": "points whose path is drawn from picture 1 to picture 2; 'none' for no arrow",
    "inset": "the point round which the last picture is shown once more, larger, in a circle: for a movement that is too small to see; or 'none'",
    "active": "regions that work, striped",
    "stretched": "regions that are stretched, dotted",
    "lean": "degrees by which the whole body leans forward from its base",
    "balance": "whether the body must stand over its feet: yes, no, or only at the start or the end",
    "flight": "metres by which the lowest foot is above the ground in picture 2: a jump, a hop, a run",
    "side": "the side that the exercise is done with: r or l; 'check' compares it with the movement",
    "person": "who is drawn, whoever the clinic draws else",
    "without": "a limb that ends early, in this part: shank (below the knee), thigh, forearm or upper-arm, with .r or .l",
    "beyond": "a motion that leaves its normal range, with the reason, as {knee flexion: deep squat}",
    "shows": "what the words beside the pictures promise, as {ankle.r: below seat}; 'check' measures it",
}
"""What each key of a figure means, in one line."""
TOGETHER = ("feet", "knees", "hands")
"""Parts that can stay together with those of the other side."""
MIRRORS = ("end", "start", "both")
"""What may be the mirror of what is written."""
KEYS = tuple(KEY_HELP)
MOST_VIA = 4
"""Pictures between the first and the last: six in all."""
WHERE_ALL = "'handouts figure --words' lists all."
"""Where the words of a figure are found."""


def normal(word: str) -> str:
    """A typed word as it is looked up: lower case, blanks and underscores as hyphens."""
    return "-".join(word.strip().lower().replace("_", "-").split())


SYNONYMS: dict[str, tuple[str, ...]] = {
    "medicine-ball": ("weighted-ball",), "seat-cushion": ("pillow",), "desk": ("table",),
    "rope": ("band", "strap"), "tubing": ("band",), "worktop": ("counter",), "sink": ("counter",), "crutch": ("cane",),
    "broomstick": ("stick",), "mattress": ("bed",), "lying": ("supine", "prone", "side-lying"),
    "hands-and-knees": ("all-fours",), "quadruped": ("all-fours",), "back-lying": ("supine",), "front-lying": ("prone",),
    "flexion": ("flex",), "extension": ("ext",), "abduction": ("abd",), "adduction": ("add",), "dorsiflexion": ("df",),
    "plantarflexion": ("pf",), "inversion": ("inv",), "eversion": ("ev",), "pronation": ("pro",), "supination": ("sup",),
    "internal-rotation": ("ir",), "external-rotation": ("er",), "rot": ("turn-r", "turn-l", "ir", "er"),
    "rotation": ("turn-r", "turn-l", "ir", "er"), "turn": ("turn-r", "turn-l"), "side": ("side-r", "side-l"),
    "spine": ("trunk",), "back": ("trunk",), "head": ("neck",), "transversus": ("abs",), "multifidus": ("back",),
    "soleus": ("calf",), "gastrocnemius": ("calf",), "supraspinatus": ("rotator-cuff",), "thumb": ("fingers",),
}  # fmt: skip
"""Words of the trade and of daily life, and the words of a figure that may be meant."""
_CLOSE = 0.7
"""Least likeness of a misspelt word, of 1: 'wheelchair' is not a chair misspelt (0.67)."""


def nearest(word: str, known: Iterable[str]) -> str:
    """The mend for a word that is not known: what was probably meant, or the nearest words and where all of them stand."""
    return suggest(normal(word), known, _CLOSE, SYNONYMS.get(normal(word), ()), WHERE_ALL)


def site_names() -> tuple[str, ...]:
    """All names of sites that may touch something."""
    return tuple(sorted({*LIMB_SITES, *BODY_SITES, *ALIASES, GRIP, "side"}))


def target_names() -> tuple[str, ...]:
    """All names of things that may be touched or held."""
    return tuple(sorted({*PROP_OF, *BODY_TARGETS}))


def muscle_names() -> tuple[str, ...]:
    """All names of muscle regions."""
    return tuple(sorted({*MUSCLES, *MUSCLE_ALIASES}))


def _named(names: tuple[str, ...]) -> dict[str, Any]:
    pattern = "|".join(sorted(name.replace("-", "[- ]") for name in names))
    return {"type": "string", "pattern": f"^(?:{pattern})(?:\\.[rl])?$", "examples": sorted(names)[:12]}


def _pose() -> dict[str, Any]:
    properties: dict[str, Any] = {}
    for joint in JOINTS:
        for name in (joint, f"{joint}.r", f"{joint}.l") if joint in SIDED else (joint,):
            properties[name] = {"type": ["number", "string"]}
    return {"type": "object", "properties": properties, "additionalProperties": False}


def _station(contacts: dict[str, Any]) -> dict[str, Any]:
    pose = _pose()
    return {**pose, "properties": {**pose["properties"], "contacts": contacts, "base": _OWN_BASE}}


_OWN_BASE = {"enum": sorted(BASES), "description": "A base position of its own: the angles of this picture and of those after it differ from it."}


def figure_json_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of the ``figure`` mapping of an exercise."""
    point = _named(tuple(POINTS))
    points = {"anyOf": [point, {"type": "array", "items": point}, {"const": "none"}]}
    contact = {"type": "string", "pattern": "^\\S+ \\S+$"}
    contacts = {"type": "array", "items": contact, "examples": [["foot floor", "grip chair"]]}
    word = {"type": ["string", "number", "boolean"]}
    props = {name: {"anyOf": [word, {"type": "array", "items": word}], "examples": list(kind.names[:12])}
             for name, kind in PROPS.items()}  # fmt: skip
    sites = _named(site_names())
    bases = sorted({*BASES} - {"side-lying-right"})
    properties: dict[str, Any] = {
        "base": {"enum": bases},
        "view": {"anyOf": [{"enum": sorted(VIEWS)},
                           {"type": "array", "items": {"type": "number"}, "minItems": 2, "maxItems": 2}]},
        "props": {"type": "object", "properties": props},
        "contacts": contacts,
        "end-contacts": contacts,
        "start": _pose(),
        "end": {**_pose(), "properties": {**_pose()["properties"], "base": _OWN_BASE}},
        "reach": {"type": "object", "examples": [{"hand.l": "toes.r"}, {"hand.r": "belly"}], "additionalProperties": word},
        "together": {"anyOf": [{"enum": sorted(TOGETHER)}, {"type": "array", "items": {"enum": sorted(TOGETHER)}}]},
        "mirror": {"enum": list(MIRRORS)},
        "via": {"anyOf": [_station(contacts), {"type": "array", "items": _station(contacts), "minItems": 1, "maxItems": MOST_VIA}]},
        "slide": {"type": "array", "items": sites},
        "pin": {"type": "array", "items": sites},
        "arrow": points,
        "inset": {"anyOf": [point, {"const": "none"}]},
        "active": {"type": "array", "items": _named(muscle_names())},
        "stretched": {"type": "array", "items": _named(muscle_names())},
        "lean": {"type": "number", "minimum": -60, "maximum": 80},
        "balance": {"enum": ["yes", "no", "start", "end", True, False]},
        "person": {"enum": sorted(PEOPLE)},
        "without": {"type": "array", "items": {"enum": [f"{end}.{side}" for end in sorted(ENDS) for side in "rl"]}},
        "flight": {"type": "number", "minimum": 0, "maximum": 0.6},
        "side": {"enum": ["r", "l", "right", "left"]},
        "beyond": {"type": "object", "additionalProperties": {"type": "string"}},
        "shows": {"type": "object", "examples": [{"ankle.r": "below seat", "knee.r": "straight"}],
                  "additionalProperties": {"anyOf": [{"type": "string"},
                                                     {"type": "array", "items": {"type": "string"}}]}},
    }  # fmt: skip
    return {
        "type": "object",
        "required": ["base"],
        "additionalProperties": False,
        "properties": {name: {"description": f"{KEY_HELP[name][0].upper()}{KEY_HELP[name][1:]}.", **properties[name]} for name in KEYS},
    }
