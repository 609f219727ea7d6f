"""Phrases of the phone room."""

from __future__ import annotations

from handouts.words.phrase import AnyPhrase

PHRASES: dict[str, AnyPhrase] = {}
