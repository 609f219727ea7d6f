"""Phrases of the figure room: what a picture shows, for people who hear it, and what its signs mean."""

from __future__ import annotations

from handouts.words.phrase import AnyPhrase, Phrase

_BASE = "How the person in the picture is placed, as a short sentence."
_LIMB = "A part of the body; begins a line such as 'Right leg: up in front, to 40 degrees.'"
_MOVE = "A direction of movement; follows a part of the body and a colon, and a number of degrees follows it. Plain words."

PHRASES: dict[str, AnyPhrase] = {
    "figure.none": Phrase("There is no picture of this exercise yet.", "Stands where an exercise has no picture."),
    "figure.key_active": Phrase("Stripes: muscles that work.", "Beside a picture: what striped areas of the body mean."),
    "figure.key_stretched": Phrase("Dots: where you feel a stretch.", "Beside a picture: what dotted areas of the body mean."),
    "figure.two": Phrase("Picture 1 shows the start, picture 2 the end.", "Read aloud with a picture of two panels."),
    "figure.one": Phrase("The picture shows the position to hold.", "Read aloud with a picture of one panel."),
    "figure.back": Phrase("Lying on the back.", _BASE),
    "figure.front": Phrase("Lying on the front.", _BASE),
    "figure.left_side": Phrase("Lying on the left side.", _BASE),
    "figure.right_side": Phrase("Lying on the right side.", _BASE),
    "figure.standing": Phrase("Standing.", _BASE),
    "figure.sitting": Phrase("Sitting on a chair.", _BASE),
    "figure.long_sitting": Phrase("Sitting with the legs out.", _BASE),
    "figure.all_fours": Phrase("On hands and knees.", _BASE),
    "figure.kneeling": Phrase("Kneeling.", _BASE),
    "figure.half_kneeling": Phrase("Kneeling on one knee.", _BASE),
    "figure.moves": Phrase("{limb}: {movement}, to {degrees} degrees.", "One movement, for example: Right leg: up in front, to 40 degrees."),
    "figure.pelvis_up": Phrase("The hips lift off the mat.", "A movement of the whole body."),
    "figure.stands_up": Phrase("The body rises.", "A movement of the whole body."),
    "figure.sinks": Phrase("The body sinks.", "A movement of the whole body."),
    "figure.leg_r": Phrase("Right leg", _LIMB),
    "figure.leg_l": Phrase("Left leg", _LIMB),
    "figure.leg_both": Phrase("Both legs", _LIMB),
    "figure.knee_r": Phrase("Right knee", _LIMB),
    "figure.knee_l": Phrase("Left knee", _LIMB),
    "figure.knee_both": Phrase("Both knees", _LIMB),
    "figure.foot_r": Phrase("Right foot", _LIMB),
    "figure.foot_l": Phrase("Left foot", _LIMB),
    "figure.foot_both": Phrase("Both feet", _LIMB),
    "figure.arm_r": Phrase("Right arm", _LIMB),
    "figure.arm_l": Phrase("Left arm", _LIMB),
    "figure.arm_both": Phrase("Both arms", _LIMB),
    "figure.elbow_r": Phrase("Right elbow", _LIMB),
    "figure.elbow_l": Phrase("Left elbow", _LIMB),
    "figure.elbow_both": Phrase("Both elbows", _LIMB),
    "figure.trunk": Phrase("Upper body", _LIMB),
    "figure.head": Phrase("Head", _LIMB),
    "figure.forward": Phrase("up in front", _MOVE),
    "figure.backward": Phrase("back", _MOVE),
    "figure.outward": Phrase("out to the side", _MOVE),
    "figure.inward": Phrase("in across the body", _MOVE),
    "figure.turned_in": Phrase("turned in", _MOVE),
    "figure.turned_out": Phrase("turned out", _MOVE),
    "figure.bends": Phrase("bent", _MOVE),
    "figure.straightens": Phrase("straighter", _MOVE),
    "figure.toes_up": Phrase("toes pulled up", _MOVE),
    "figure.toes_down": Phrase("toes pointed, or heel lifted", _MOVE),
    "figure.sole_in": Phrase("sole turned in", _MOVE),
    "figure.sole_out": Phrase("sole turned out", _MOVE),
    "figure.bows": Phrase("leaning or bent forward", _MOVE),
    "figure.arches": Phrase("leaning or bent back", _MOVE),
    "figure.sideways": Phrase("bent to the side", _MOVE),
    "figure.turns": Phrase("turned", _MOVE),
}
