"""Figures computed once for all tests of the engine: every pose of ``specs.yaml``."""

from __future__ import annotations

from pathlib import Path

import pytest

from handouts.figure import Figure, FigureSpec, FigureStyle, compute_figure, read_figure
from handouts.source.nodes import Mapping, compose
from tests.kept import kept

SPECS = Path(__file__).with_name("specs.yaml")


def spec_nodes() -> dict[str, Mapping]:
    """The typed figures of ``specs.yaml`` by name."""
    root, problems = compose(SPECS.read_text("utf-8"), "specs.yaml")
    assert root is not None and not problems
    return {entry.key: entry.value for entry in root.entries if isinstance(entry.value, Mapping)}


def spec_of(text: str) -> FigureSpec:
    """A spec from figure text; fails on any problem."""
    root, problems = compose(text, "figure.yaml")
    assert root is not None and not problems
    spec, problems = read_figure(root)
    assert spec is not None, problems
    return spec


def figure_of(spec: FigureSpec, *style: FigureStyle) -> Figure:
    """The figure of a spec, kept between runs."""
    return kept(compute_figure, spec, *style)


@pytest.fixture(scope="session")
def figures() -> dict[str, Figure]:
    """All figures of ``specs.yaml``."""
    found = {}
    for name, node in spec_nodes().items():
        spec, problems = read_figure(node)
        assert spec is not None, (name, problems)
        found[name] = figure_of(spec)
    return found
