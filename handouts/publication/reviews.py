"""Who reviewed something, in a sentence: this clinic, or the library that it stands on, and what the clinic changed of it."""

from __future__ import annotations

from handouts.model import Review
from handouts.text.markup import plain_text
from handouts.words.speech import Speech


def say_review(speech: Speech, review: Review, room: str) -> str:
    """When and by which role; ``room`` is the phrases to take, ``site`` or ``paper``."""
    asked = {"date": speech.date(review.on), "role": plain_text(review.by.text)}
    line = speech.say(f"{room}.reviewed_base", **asked, base=review.of) if review.of else speech.say(f"{room}.reviewed", **asked)
    if review.own is None:
        return line
    parts = speech.join(tuple(speech.say(f"upkeep.part_{name}") for name in review.own.parts))
    own = speech.say("site.reviewed_own", parts=parts, date=speech.date(review.own.on), role=plain_text(review.own.by.text))
    return f"{line} {own}"


def say_reviewer(speech: Speech, review: Review) -> str:
    """The role that reviewed something, with the clinic of the base where it is of the base."""
    role = plain_text(review.by.text)
    return speech.say("site.role_of", role=role, base=review.of) if review.of else role
