"""Muscle regions and faces as drawn: on the right side of the limb, inside it, uncovered; a head that is seen, with an eye.

Measured in the picture, on the demo's figures; drawing units unless said.
"""

from __future__ import annotations

import numpy as np
import pytest
from shapely.ops import unary_union

from handouts.figure import Figure
from handouts.figure.body.body import make_body
from handouts.figure.body.muscles import MUSCLES
from handouts.figure.body.sites import Plane
from handouts.figure.draw.camera import CM, UNITS_PER_METRE, camera
from handouts.figure.draw.parts import EXCUSED
from handouts.figure.draw.patches import seen_patch
from handouts.figure.scene import make_scene, see

from .conftest import figure_of, spec_of
from .drawn_paths import area_of
from .test_settled import demo
from .test_things import MOST_GAP, SHOWN_AT

BODY = make_body()
MOST_OUTSIDE = 0.02
"""Share of a region that may lie beside its limb or under something."""
MOST_HEAD_HIDDEN = 0.25
"""Share of a head that arms may cover."""
BESIDE_THE_HEAD = {"stick-arm-raise", "wall-walk"}
"""Arms beside the ears, where no view that shows the movement frees the head: then half of it is seen."""
SIDE = camera((0, 0))


def _standing() -> Figure:
    return figure_of(spec_of("base: standing"))


@pytest.mark.parametrize(("muscle", "segment", "way"), [
    ("calf", "shank.r", -1), ("hamstrings", "thigh.r", -1), ("glutes", "sp1", -1), ("back", "sp4", -1), ("triceps", "uarm.r", -1),
    ("shoulder-blades", "sp6", -1), ("rear-deltoid", "uarm.r", -1), ("neck-back", "neck", -1),
    ("shin", "shank.r", 1), ("quads", "thigh.r", 1), ("abs", "sp4", 1), ("chest", "sp6", 1), ("biceps", "uarm.r", 1), ("hip-flexors", "thigh.r", 1),
    ("neck-front", "neck", 1),
])  # fmt: skip
def test_a_region_is_on_its_face_of_the_limb(muscle: str, segment: str, way: int) -> None:
    """Seen from the right, who looks to the right has calf and buttock on the left of the limb, thigh and shin muscles on the right."""
    frame = _standing().motion.frames[0]
    seen = seen_patch(BODY, frame, SIDE, MUSCLES[muscle], "r")
    assert seen is not None
    number = BODY.numbers[segment]
    # The segment's own line at the height of the region: from its origin along its long axis.
    middle = seen.shape.centroid
    origin, down = SIDE @ frame.placed.origins[number], SIDE @ frame.placed.rotations[number][:, 1]
    x = origin[0] + down[0] * (middle.y - origin[1]) / down[1]
    assert (middle.x - x) * way > 0.4 * CM, (middle.x - x) / CM


@pytest.mark.parametrize("muscle", ["calf", "glutes", "hamstrings", "back"])
def test_what_lies_behind_is_not_seen_from_the_front(muscle: str) -> None:
    """A region on the far face is not seen, or only its rim; one that is deep is seen through the body."""
    frame = _standing().motion.frames[0]
    areas = [patch.shape.area if (patch := seen_patch(BODY, frame, camera((yaw, 0)), MUSCLES[muscle], "r")) else 0.0 for yaw in (90, -90)]
    assert areas[0] < 0.35 * areas[1]


def test_deep_regions_are_dashed_where_they_lie_behind() -> None:
    """From the front a shoulder blade is a dashed outline without a tint; from behind it has one; both are striped."""
    text = "base: standing\nview: {view}\nend: {{shoulder: ext 30}}\nactive: [shoulder-blades]"
    roles = {view: [mark.role for mark in figure_of(spec_of(text.format(view=view))).panels[-1].marks] for view in ("front", "back")}
    assert "behind" in roles["front"] and "active" not in roles["front"]
    assert "active" in roles["back"] and "behind" not in roles["back"]
    assert all("hatch" in found for found in roles.values())


def test_regions_lie_inside_their_limbs_and_nothing_covers_them() -> None:
    """Each region of the demo lies on the parts that show it, and no later piece lies over it."""
    wrong, seen = {}, 0
    for name, figure in demo().items():
        panel = figure.panels[-1]
        for number, mark in enumerate(panel.marks):
            if not mark.muscle:
                continue
            seen += 1
            area = area_of(mark.path)
            shown = MUSCLES[mark.muscle].shown_on
            own = [piece.shape for piece in panel.pieces if any(part.split(".")[0] in shown for part in piece.names)]
            later = [piece.shape for piece in panel.pieces if piece.first > number]
            outside = area.difference(unary_union(own)).area / area.area
            under = area.intersection(unary_union(later)).area / area.area
            if max(outside, under) > MOST_OUTSIDE:
                wrong[name, mark.muscle] = round(outside, 3), round(under, 3)
    assert wrong == {}
    assert seen > 45


def test_an_eye_is_seen_in_every_picture() -> None:
    """No head is without a face, unless it is the neck that moves."""
    blind = [
        (name, number) for name, figure in demo().items() for number, panel in enumerate(figure.panels)
        if not any(mark.role == "ink" for mark in panel.marks) and not any("neck" in angle.variable for angle in (*figure.spec.start, *figure.spec.end))
    ]  # fmt: skip
    assert blind == []


def test_arms_leave_the_head_in_view() -> None:
    """What arms and hands cover of a head, in both pictures."""
    hidden = {}
    for name, figure in demo().items():
        scene = make_scene(figure.spec, BODY, figure.motion, figure.style)
        for number in dict.fromkeys((0, -1 if figure.spec.moves else 0)):
            order = see(scene, scene.frames[number], {}).ordered
            head = next(n for n, part in enumerate(order) if part.name == "head")
            arms = [part.polygon for part in order[head + 1 :] if part.is_body and part.side and part.name not in EXCUSED]
            share = order[head].polygon.intersection(unary_union(arms)).area / order[head].polygon.area
            if share > MOST_HEAD_HIDDEN * (2 if name in BESIDE_THE_HEAD else 1):
                hidden[name, number] = round(share, 2)
    assert hidden == {}


def test_soles_stand_on_their_floor() -> None:
    """A foot that stands on a level surface touches it as drawn: neither above nor in it by 2 px."""
    worst: dict[tuple[str, int, str], float] = {}
    for name, figure in demo().items():
        pixels = SHOWN_AT / figure.layout.width * UNITS_PER_METRE
        scene = make_scene(figure.spec, BODY, figure.motion, figure.style)
        for number in dict.fromkeys((0, len(figure.motion.frames) - 1)):
            frame = scene.frames[number].frame
            for touch in figure.motion.tasks[number].touches:
                site, _, side = touch.label.split()[0].partition(".")
                if site not in ("foot", "toes") or not isinstance(touch.surface, Plane) or touch.surface.normal[1] < 0.9:
                    continue
                lumps = [BODY.lumps[f"{lump}.{side}"] for lump in (("soleh", "soleb") if site == "foot" else ("soleb",))]
                normal = np.array(touch.surface.normal)
                low = min(float(frame.centres[lump] @ normal - np.linalg.norm(normal @ frame.axes[lump])) for lump in lumps)
                worst[name, number, touch.label] = round(abs(low - touch.surface.offset) * pixels, 1)
    assert {key: gap for key, gap in worst.items() if gap > MOST_GAP} == {}
    assert len(worst) > 60
