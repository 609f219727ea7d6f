"""Tests of the paper room."""
