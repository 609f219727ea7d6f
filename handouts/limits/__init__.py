"""Movement limits: an exercise's solved motion held against the bounds that a patient has been given.

Modules, lowest first: motions, shown, demands, find, record, cautions.  Nothing found says nothing: no value here means
that a movement is fit for anybody, and what cannot be judged is a finding of its own.
"""

from handouts.limits.cautions import check_limit_cautions, hold_to_limits
from handouts.limits.demands import DERIVED, DERIVED_DEMANDS, SIDED_DEMANDS
from handouts.limits.find import (
    BAND,
    TOLERANCE_DEGREES,
    BoundSubject,
    Finding,
    LimitCondition,
    Moment,
    Whose,
    find_conflicts,
)
from handouts.limits.motions import MOTIONS
from handouts.limits.record import Findings, check_demands, find_all, limits_record
from handouts.limits.shown import ShownMotion

__all__ = [
    "BAND",
    "DERIVED",
    "DERIVED_DEMANDS",
    "MOTIONS",
    "SIDED_DEMANDS",
    "TOLERANCE_DEGREES",
    "BoundSubject",
    "Finding",
    "Findings",
    "LimitCondition",
    "Moment",
    "ShownMotion",
    "Whose",
    "check_demands",
    "check_limit_cautions",
    "find_all",
    "find_conflicts",
    "hold_to_limits",
    "limits_record",
]
