"""The one Jinja environment of the project: escapes everything, refuses everything that is not ready text.

Templates hold loops and "is it there", no logic; views (frozen dataclasses of ready strings) are made in
Python.  Nothing here knows a page.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup


class NotTextError(TypeError):
    """A template tried to print something that is not a text."""


def template_environment(templates: Mapping[str, str]) -> Environment:
    """An environment over template texts by name: autoescape always, undefined names and non-texts refused.

    Equal texts give the same environment, so that each template is compiled once in a process.
    """
    return _environment(tuple(sorted(templates.items())))


@lru_cache(maxsize=8)
def _environment(templates: tuple[tuple[str, str], ...]) -> Environment:
    environment = Environment(
        loader=DictLoader(dict(templates)),
        undefined=StrictUndefined,
        autoescape=True,
        finalize=_only_text,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        auto_reload=False,
    )
    environment.globals.clear()
    return environment


def _only_text(value: object) -> str:
    """The text as it is; None, numbers, methods and the like are a fault of the view."""
    if isinstance(value, StrictUndefined):
        return str(value)  # raises and names what is missing
    if not isinstance(value, str):
        raise NotTextError(f"a template printed {type(value).__name__}, which is not a text")
    return value


def safe_json(value: Any) -> Markup:
    """JSON that may stand in a script or in an element of a page: no ``<``, no line separator of JavaScript."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return Markup(text.replace("\u2028", "\\u2028").replace("\u2029", "\\u2029").replace("<", "\\u003c"))
