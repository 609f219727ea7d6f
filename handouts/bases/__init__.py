"""A library that stands on another: what it takes from its base, what it has of its own, and who reviewed which."""
