"""Which phase of a limit holds in a week after the operation or injury."""

from __future__ import annotations

from handouts.model import Limit, LimitPhase


def phase_at(limit: Limit, week: int) -> LimitPhase | None:
    """The phase that holds once ``week`` whole weeks have passed (0 in the first); None where none does."""
    for phase in limit.phases:
        if (phase.from_week or 0) <= week and (phase.to_week is None or week <= phase.to_week):
            return phase
    return None
