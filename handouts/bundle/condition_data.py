"""What the clinician's page knows of conditions to ask about: words in one language, and the exercises that their rules touch."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class ConditionRuleFound:
    """A rule of a condition: what to ask or to change, and why it touches which exercises, by slug."""

    says: str
    source: str
    """Empty where it is the condition's."""
    found: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class ConditionFound:
    """A condition that can be ticked, with all that its rules touch."""

    slug: str
    name: str
    asks: str
    source: str
    """With how far it was read."""
    rules: tuple[ConditionRuleFound, ...]


def condition_json(condition: ConditionFound, code_of: Mapping[str, str]) -> dict[str, Any]:
    """A condition as the page takes it; an exercise that is not in the language is left out."""
    return {
        "slug": condition.slug,
        "name": condition.name,
        "asks": condition.asks,
        "source": condition.source,
        "rules": [
            {
                "says": rule.says,
                **({"source": rule.source} if rule.source else {}),
                "found": [[by, codes] for by, slugs in rule.found if (codes := [code_of[slug] for slug in slugs if slug in code_of])],
            }
            for rule in condition.rules
        ],
    }
