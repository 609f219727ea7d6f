"""handouts: a static-site generator for patient-education exercise handouts."""

__version__ = "0.1.0"
