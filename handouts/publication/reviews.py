"""Who reviewed something, in a sentence: this clinic, or the library that it stands on, and what the clinic changed of it."""

from __future__ import annotations

from handouts.model import Review
from handouts.text.markup import plain_text
from handouts.words.wording import Wording


def say_review(wording: Wording, review: Review, room: str) -> str:
    """When and by which role; ``room`` is the phrases to take, ``site`` or ``paper``."""
    asked = {"date": wording.date(review.on), "role": plain_text(review.by.text)}
    line = wording.say(f"{room}.reviewed_base", **asked, base=review.of) if review.of else wording.say(f"{room}.reviewed", **asked)
    if review.own is None:
        return line
    parts = wording.join(tuple(wording.say(f"upkeep.part_{name}") for name in review.own.parts))
    own = wording.say("site.reviewed_own", parts=parts, date=wording.date(review.own.on), role=plain_text(review.own.by.text))
    return f"{line} {own}"


def say_reviewer(wording: Wording, review: Review) -> str:
    """The role that reviewed something, with the clinic of the base where it is of the base."""
    role = plain_text(review.by.text)
    return wording.say("site.role_of", role=role, base=review.of) if review.of else role
