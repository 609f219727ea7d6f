"""What a figure touches and sits on, against what is drawn in it.

Never reads a node and never solves: it compares contacts with props.
"""

from __future__ import annotations

from handouts.figure.body.sites import BODY_TARGETS, GRIP
from handouts.figure.pose.spec import Contact, PropUse
from handouts.figure.pose.surroundings import HELD, PROP_OF
from handouts.problems import Problem

AWAY = frozenset({"support", "front", "beside", "beside-left", "beside-right"})
"""Words of a chair that stands by the body: it is held, not sat on."""
_SAT_ON = {"exercise-ball": "ball", "stool": "stool"}
"""What is sat on in place of a chair with the word 'sit', and its name in a contact."""
_EXAMPLES = {"mat": "mat: yes", "slope": "slope: yes", "roll": "roll: knees", "pillow": "pillow: head", "step": "step: front",
             "chair": "chair: support", "exercise-ball": "exercise-ball: 0.6", "towel": "towel: hand.r",
             "stool": "stool: foot"}  # fmt: skip


def sat_on(props: tuple[PropUse, ...]) -> str:
    """What the figure sits on, as a contact names it: the chair where nothing else is sat on."""
    return next((_SAT_ON[use.name] for use in props if use.name in _SAT_ON and "sit" in use.words), "seat")


def _is_drawn(contact: Contact, props: dict[str, PropUse]) -> bool:
    prop = PROP_OF[contact.target]
    if prop and prop not in props:
        return False
    stands_by = prop == "chair" and not AWAY.isdisjoint(props[prop].words)
    if contact.target == "seat":
        return not stands_by
    return stands_by or prop != "chair" or contact.site.name != GRIP


def check_drawn(contacts: tuple[Contact, ...], props: tuple[PropUse, ...]) -> list[Problem]:
    """A problem for each contact with a thing that is not in the picture, or that no hand can grip there."""
    known = {use.name: use for use in props}
    found: dict[str, Problem] = {}
    for contact in contacts:
        target, text = contact.target, f"{contact.site} {contact.target}"
        if target in BODY_TARGETS or text in found:
            continue
        if contact.site.name == GRIP and target not in HELD:
            what = f"the contact '{text}' takes hold of a {target}, which has no place for a hand"
            mend = f"Write for example 'palm {target}', or grip one of: {', '.join(sorted((*HELD, *BODY_TARGETS)))}."
        elif not _is_drawn(contact, known):
            prop = PROP_OF[target]
            is_chair = prop == "chair" and prop in known
            what = (
                f"the contact '{text}' needs a chair that "
                + ("is sat on" if target == "seat" else "stands by the body, and this one is sat on")
                if is_chair
                else f"the contact '{text}' touches a {prop}, and there is none in the picture"
            )
            example = "chair: seat" if target == "seat" else _EXAMPLES.get(prop, f"{prop}: front")
            mend = f"Write props: {{{example}}}, or take the contact out."
        else:
            continue
        found[text] = Problem(contact.site.place, "figure-not-drawn", what, mend)
    return list(found.values())
