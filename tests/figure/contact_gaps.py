"""How far what touches is from what it touches, in the picture: measured on the settled frames, as they are drawn.

Pixels are those of a figure 400 px wide.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from handouts.figure import Figure
from handouts.figure.body.gaps import gaps
from handouts.figure.body.sites import BODY_TARGETS, GRIP, Plane
from handouts.figure.draw.camera import UNITS_PER_METRE
from handouts.figure.draw.grips import CLOSED
from handouts.figure.draw.hand import see_hand
from handouts.figure.pose.surroundings import ABOVE_BAR
from handouts.figure.props.scene import PropScene
from handouts.figure.scene import Scene, make_scene, see

SHOWN_AT = 400
_LYING = [2, 3, 4, 5, 6, 7, 11, 15, 19, 23]
"""Of a drawn hand's spheres those that lie where a flat hand lies: the palm and the finger tips."""
_HANDS = frozenset({"palm", "hand"})


def contact_gaps(figure: Figure) -> Iterator[tuple[int, str, float]]:
    """Picture, contact and its gap or overlap in pixels, of each contact that is drawn."""
    scene = make_scene(figure.spec, figure.style.body, figure.motion, figure.style)
    pixels = SHOWN_AT / figure.layout.width
    for number, frame in enumerate(figure.motion.pictures):
        yield from ((number, label, round(gap * pixels, 2)) for label, gap in _touching(scene, frame))
        yield from ((number, label, round(gap * pixels, 2)) for label, gap in _held(scene, frame))


def _touching(scene: Scene, number: int) -> Iterator[tuple[str, float]]:
    """Contacts with surfaces, in drawing units."""
    settled = scene.frames[number]
    for touch in scene.motion.tasks[number].touches:
        site, _, side = touch.label.split()[0].partition(".")
        if site in _HANDS:
            if not isinstance(touch.surface, Plane):
                continue
            normal = np.array(touch.surface.normal)
            outward, on_it = scene.view @ normal / UNITS_PER_METRE, scene.view @ (normal * touch.surface.offset)
            hand = see_hand(settled.grasps[side], scene.view, scene.body.stature)
            away = ((hand.centres - on_it) @ outward - hand.radii)[_LYING]
            # A hand on its back touches with its knuckles: only the nearest part can be asked of it.
            gap = float(np.abs(away).max()) if settled.grasps[side].grip == "flat" else float(abs(away.min()))
            yield touch.label, gap * float(np.hypot(*outward[:2]))
            continue
        lumps = list(touch.lumps)
        gap, _, normals = gaps(touch.surface, settled.frame.centres[lumps], settled.frame.axes[lumps])
        nearest = int(gap.argmin())
        yield touch.label, abs(float(gap[nearest])) * float(np.hypot(*(scene.view @ normals[nearest])[:2]))


def _held(scene: Scene, number: int) -> Iterator[tuple[str, float]]:
    """Contacts of hands with bars and with the body, in drawing units."""
    settled = scene.frames[number]
    grips = scene.motion.tasks[number].grips
    outlines = see(scene, settled, {}).outlines if any(grip.target_segment >= 0 for grip in grips) else {}
    props = PropScene(scene.spec, scene.body, scene.motion, settled.frame, scene.view)
    world = scene.motion.worlds[number]
    for grip in grips:
        site, target = grip.label.split()
        name, _, side = site.partition(".")
        if target in BODY_TARGETS:
            limb = outlines.get(scene.body.segments[grip.target_segment].name)
            if limb is not None and f"hand.{side}" in outlines:
                yield grip.label, float(outlines[f"hand.{side}"].distance(limb))
        elif name == GRIP and target in world.bars and settled.grasps[side].grip in CLOSED:
            axis = np.array(world.bars[target][0])
            away = props.grip(side) - np.array(world.handholds[target][side]) + [0.0, ABOVE_BAR, 0.0]
            across = scene.view[:2] @ (away - axis * (away @ axis))
            yield grip.label, float(np.linalg.norm(across))
