"""The one Jinja environment of the project: escapes everything, refuses everything that is not ready text.

Templates hold loops and "is it there", no logic; views (frozen dataclasses of ready strings) are made in
Python.  Nothing here knows a page.
"""

from __future__ import annotations

import json
import marshal
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from jinja2 import BytecodeCache, DictLoader, Environment, StrictUndefined
from jinja2.bccache import Bucket
from markupsafe import Markup

from handouts.tasks.calling import Caller


class NotTextError(TypeError):
    """A template tried to print something that is not a text."""


def template_environment(templates: Mapping[str, str], call: Caller | None = None) -> Environment:
    """An environment over template texts by name: autoescape always, undefined names and non-texts refused.

    Equal texts give the same environment, so that each template is compiled once in a process; where ``call`` is given, as it
    knows it from before.
    """
    environment = _environment(tuple(sorted(templates.items())))
    if call is not None:
        environment.bytecode_cache = _Compiled(call)
    return environment


def compile_template(text: str, name: str) -> bytes:
    """The code of a template, for the Python that runs."""
    return marshal.dumps(_new_environment({}).compile(text, name, "<template>"))


class _Compiled(BytecodeCache):
    """Gives each template's code as a task makes it, or made it before.

    What is kept is run: as with Python's own ``__pycache__``, whoever can write where results are kept can run code here.
    """

    def __init__(self, call: Caller) -> None:
        self._call = call

    def get_bucket(self, environment: Environment, name: str, _filename: str | None, source: str) -> Bucket:
        """The code of a template."""
        bucket = Bucket(environment, name, "")
        bucket.code = marshal.loads(self._call(compile_template, source, name))
        return bucket

    def set_bucket(self, bucket: Bucket) -> None:
        """It is kept already."""

    def load_bytecode(self, bucket: Bucket) -> None:
        """Not asked."""

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Not asked."""


@lru_cache(maxsize=8)
def _environment(templates: tuple[tuple[str, str], ...]) -> Environment:
    return _new_environment(dict(templates))


def _new_environment(templates: Mapping[str, str]) -> Environment:
    environment = Environment(
        loader=DictLoader(templates),
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
