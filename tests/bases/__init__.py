"""A library that stands on another."""
