"""The clinic's own words for the scale of effort."""

from __future__ import annotations

from handouts.model import Clinic
from handouts.text.markup import plain_text


def own_scale(clinic: Clinic) -> str:
    """The clinic's sentence about the scale; empty where the program's words stand."""
    return plain_text(clinic.effort_scale.text) if clinic.effort_scale else ""
