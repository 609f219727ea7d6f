"""What a figure touches and sits on, against what is drawn in it.

Never reads a node and never solves: it compares contacts with props.
"""

from __future__ import annotations

from handouts.figure.body.sites import BODY_TARGETS, GRIP
from handouts.figure.pose.spec import Contact, PropUse
from handouts.figure.pose.surroundings import HELD, PROP_OF
from handouts.figure.pose.things import THINGS
from handouts.problems import Problem

AWAY = frozenset({"support", "front", "beside", "beside-left", "beside-right"})
"""Words of a chair that stands by the body: it is held, not sat on."""
_EXAMPLES = {"mat": "mat: yes", "slope": "slope: yes", "roll": "roll: knees", "pillow": "pillow: head", "chair": "chair: support",
             "exercise-ball": "exercise-ball: 0.6", "towel": "towel: hand.r"}  # fmt: skip


def _example(prop: str) -> str:
    first = next(iter(THINGS[prop].stands), "hands") if prop in THINGS else "front"
    return _EXAMPLES.get(prop, f"{prop}: {first}")


def _carried(props: tuple[PropUse, ...], base: str, word: str) -> str:
    """The top of the thing that carries the body in place of the 'mat' or the 'seat' of a base position, or ''."""
    for use in props:
        thing = THINGS.get(use.name)
        stand = thing.stand(use.words, base) if thing else None
        if thing and stand and word in thing.carries and stand.tops:
            return next(iter(stand.tops))
    return ""


def carrier(props: tuple[PropUse, ...], base: str, word: str) -> str:
    """What comes in place of the 'mat' or 'seat' of a base position, as a contact names it; the word itself where nothing does."""
    if top := _carried(props, base, word):
        return top
    sat_on = {use.name for use in props if "sit" in use.words} if word == "seat" else set()
    return "ball" if "exercise-ball" in sat_on else "stool" if "stool" in sat_on else word


def _is_drawn(contact: Contact, props: dict[str, PropUse], base: str) -> bool:
    prop, target = PROP_OF[contact.target], contact.target
    if target in ("mat", "seat") and _carried(tuple(props.values()), base, target):
        return True
    if prop and prop not in props:
        return False
    stand = THINGS[prop].stand(props[prop].words, base) if prop in THINGS else None
    if stand is not None and prop != "chair":
        return target in stand.holds if contact.site.name == GRIP else target in (*stand.tops, *stand.holds, *stand.footholds)
    stands_by = prop == "chair" and not AWAY.isdisjoint(props[prop].words)
    if target == "seat":
        return not stands_by
    return stands_by or prop != "chair" or contact.site.name != GRIP


def check_drawn(contacts: tuple[Contact, ...], props: tuple[PropUse, ...], base: str) -> list[Problem]:
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
        elif not _is_drawn(contact, known, base):
            prop = PROP_OF[target]
            is_chair = prop == "chair" and prop in known
            what = (
                f"the contact '{text}' needs a chair that "
                + ("is sat on" if target == "seat" else "stands by the body, and this one is sat on")
                if is_chair
                else f"the contact '{text}' touches a {prop}, and there is none in the picture"
            )
            example = "chair: seat" if target == "seat" else _example(prop)
            mend = f"Write props: {{{example}}}, or take the contact out."
        else:
            continue
        found[text] = Problem(contact.site.place, "figure-not-drawn", what, mend)
    return list(found.values())
