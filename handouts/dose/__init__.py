"""Dose: what a set, a session and a week add up to."""
