"""Whether the numbers of a translation stand in the order of the source: '2 seconds up, 3 down' is not '3 up, 2 down'.

A language may put them in another order and say the same, so this is a notice, until somebody has reviewed the text.
"""

from __future__ import annotations

import re
from collections import Counter

from handouts.problems import Grade, Place, Problem
from handouts.words.meaning import LINK, NUMBER, western
from handouts.words.state import LanguageState, TextState

_DIGIT = re.compile(r"\d")


def find_other_orders(state: LanguageState) -> tuple[Problem, ...]:
    """A notice on each text of an exercise that nobody has reviewed whose numbers stand in another order than in the source."""
    found: dict[tuple[str, str], tuple[Problem, ...]] = {}
    for owner in state.owners.values():
        for text in () if owner.reviewed else owner.texts:
            entry = text.entry
            if not text.message.context.startswith("exercise/") or text.message.name == "ready":
                continue
            if text.state is TextState.USABLE and entry is not None and entry.text != entry.source:
                found[text.message.key] = find_order_faults(entry.source, entry.text, entry.place)
    return tuple(problem for problems in found.values() for problem in problems)


def find_order_faults(source: str, translation: str, place: Place) -> tuple[Problem, ...]:
    """A notice where the same numbers stand in another order: '2 seconds up, 3 down' is not '3 up, 2 down'."""
    if not (_DIGIT.search(source) and _DIGIT.search(translation)):
        return ()
    asked, given = ([western(each) for each in re.findall(NUMBER, LINK.sub(" ", text))] for text in (source, translation))
    if asked == given or Counter(asked) != Counter(given):
        return ()
    what = f"the numbers stand in another order than in the source ({', '.join(asked)}; here {', '.join(given)})"
    mend = "See that each number says the same as there; once the translation is reviewed, this is no longer asked."
    return (Problem(place, "translation-order", what, mend, Grade.NOTICE),)
