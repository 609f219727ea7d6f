"""The role of a person as a command line gives it."""

from __future__ import annotations

import argparse

from handouts.library.texts import ROLE_MEND, looks_like_a_name

MOST_ROLE = 80
"""Letters of a role; the readers of reviews and of the ledger take no more."""


def read_role(text: str) -> str:
    """The role of a person as the command line gives it; never a name."""
    role = " ".join(text.split())
    if not 0 < len(role) <= MOST_ROLE:
        raise argparse.ArgumentTypeError(f"a role of 1 to {MOST_ROLE} letters is wanted, such as 'medical translator'")
    if looks_like_a_name(role):
        raise argparse.ArgumentTypeError(f"'{role}' reads like the name of a person. {ROLE_MEND}")
    return role
