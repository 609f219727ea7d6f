"""The template environment refuses whatever is not a ready text."""

from __future__ import annotations

import pytest
from jinja2 import UndefinedError
from markupsafe import Markup

from handouts.templating.templates import NotTextError, template_environment


def render(template: str, **values: object) -> str:
    """One template, rendered."""
    return template_environment({"t.html": template}).get_template("t.html").render(**values)


def test_everything_is_escaped() -> None:
    """Texts are escaped under any name, Markup is not."""
    assert render("{{ a }}{{ b }}", a='<b "\'>', b=Markup("<i>")) == "&lt;b &#34;&#39;&gt;<i>"


@pytest.mark.parametrize("value", [None, 3, ["a"], {"a": 1}.items, object()])
def test_other_values_are_refused(value: object) -> None:
    """None, numbers, lists and methods never reach a page."""
    with pytest.raises(NotTextError):
        render("{{ a }}", a=value)


@pytest.mark.parametrize("template", ["{{ a }}", "{% if a %}{% endif %}", "{% for x in a %}{% endfor %}", "{{ b.c }}"])
def test_undefined_names_are_refused(template: str) -> None:
    """A name that is not there fails wherever it is used."""
    with pytest.raises(UndefinedError):
        render(template, b="text")


def test_no_globals() -> None:
    """Templates have no functions but those that they are given."""
    with pytest.raises(UndefinedError):
        render("{{ range(3) }}")
    with pytest.raises(UndefinedError):
        render("{{ cycler }}")
