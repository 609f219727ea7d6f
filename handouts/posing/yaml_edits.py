"""One entry of a YAML text set, added or taken out; all other letters, comments among them, stay as they are.

Works on mappings and lists in both styles, with lines or in brackets.  Knows nothing of figures.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import yaml

Node = yaml.Node
Mark = yaml.Mark


@dataclass(frozen=True, slots=True)
class _Child:
    """An entry of a mapping or an item of a list: its key ('' in a list), where its text begins and ends, and its value."""

    key: str
    start: int
    end: int
    value: Node


class _Text:
    """A text with its node, and places in it as numbers of letters."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.lines = [0]
        for found in re.finditer("\n", text):
            self.lines.append(found.end())
        self.root = yaml.compose(text, Loader=yaml.CSafeLoader)

    def at(self, mark: Mark) -> int:
        """The place of a mark."""
        return self.lines[mark.line] + mark.column if mark.line < len(self.lines) else len(self.text)

    def end(self, node: Node) -> int:
        """Where the text of a node ends: of one written in lines, its last child's."""
        if isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
            last = node.value[-1]
            return self.end(last[1] if isinstance(last, tuple) else last)
        return self.at(node.end_mark)

    def children(self, node: Node) -> list[_Child]:
        """The children of a mapping or a list."""
        if isinstance(node, yaml.MappingNode):
            found = ((str(key.value), self.at(key.start_mark), self.at(key.end_mark) + 1, value) for key, value in node.value)
            return [_Child(key, start, max(self.end(value), least), value) for key, start, least, value in found]
        if isinstance(node, yaml.SequenceNode):
            items = [_Child("", self.at(item.start_mark), self.end(item), item) for item in node.value]
            if node.flow_style:
                return items
            return [_Child("", self.text.rindex("-", 0, one.start), one.end, one.value) for one in items]
        return []

    def line_of(self, place: int) -> int:
        """Where the line of a place begins."""
        return self.text.rfind("\n", 0, place) + 1

    def after_line(self, place: int) -> int:
        """Where the line after a place begins."""
        found = self.text.find("\n", place)
        return len(self.text) if found < 0 else found + 1


def _is_flow(node: Node) -> bool:
    return bool(getattr(node, "flow_style", False))


def _remove(text: _Text, node: Node, child: _Child) -> str:
    """The text without a child; a comment on its own line stays, in brackets also one beside it."""
    whole = text.text
    if not _is_flow(node):
        return whole[: text.line_of(child.start)] + whole[text.after_line(child.end) :]
    tail = re.match(r"[ ]*,[ ]*", whole[child.end :])
    if tail:
        return whole[: child.start] + whole[child.end + tail.end() :]
    head = re.search(r",[ ]*\Z", whole[: child.start])
    return whole[: head.start() if head else child.start] + whole[child.end :]


def _insert(text: _Text, node: Node, said: str, before: _Child | None, after: _Child | None) -> str:
    """The text with one more child, after one or else before one; in an empty pair of brackets where it has neither."""
    whole = text.text
    if after is None and before is None:
        place = text.at(node.start_mark) + 1
        return whole[:place] + said + whole[place:]
    if _is_flow(node):
        if after is not None:
            return f"{whole[: after.end]}, {said}{whole[after.end :]}"
        assert before is not None
        return f"{whole[: before.start]}{said}, {whole[before.start :]}"
    beside = after or before
    assert beside is not None
    indent = whole[text.line_of(beside.start) : beside.start]
    bare = " " * len(indent)
    if after is None:
        return f"{whole[: beside.start]}{said}\n{bare}{whole[beside.start :]}"
    place = text.after_line(beside.end)
    glue = "" if place == 0 or whole[place - 1] == "\n" else "\n"
    return f"{whole[:place]}{glue}{bare}{said}\n{whole[place:]}" if not glue else f"{whole}\n{bare}{said}"


def _find(text: _Text, node: Node | None, key: str) -> _Child | None:
    return next((one for one in text.children(node) if one.key == key), None) if node is not None else None


def _replace(text: _Text, child: _Child, said: str) -> str:
    """Another value for a key; the blank and the colon before it stay."""
    whole = text.text
    start = text.at(child.value.start_mark)
    if isinstance(child.value, yaml.CollectionNode) and not _is_flow(child.value):
        start = text.text.index(":", child.start + len(child.key)) + 1
        return f"{whole[:start]} {said}{whole[child.end :]}"
    if start == text.end(child.value) and not whole[start - 1].isspace():  # a key without a value
        said = f" {said}"
    return whole[:start] + said + whole[text.end(child.value) :]


def set_key(whole: str, path: tuple[str, ...], said: str | None, order: tuple[str, ...] = ()) -> str:
    """The text with a key of its mapping set to a value as it is written, or without it (None).

    ``path`` leads through mappings.  A new key comes behind those that stand before it in ``order``, else last.
    """
    text = _Text(whole)
    node, *inner = text.root, *path[:-1]
    if node is None:
        return whole if said is None else f"{path[0]}: {said if len(path) == 1 else '{' + f'{path[1]}: {said}' + '}'}\n"
    for number, key in enumerate(inner):
        child = _find(text, node, key)
        if child is None or not isinstance(child.value, yaml.MappingNode):
            return whole if said is None else set_key(whole, path[: number + 1], f"{{{path[-1]}: {said}}}", order)
        node = child.value
    key = path[-1]
    child = _find(text, node, key)
    if child is not None:
        return _remove(text, node, child) if said is None else _replace(text, child, said)
    if said is None:
        return whole
    children = text.children(node)
    if not children and not _is_flow(node):
        return set_key(whole, path[:-1], f"{{{key}: {said}}}", order)
    ranks = {name: number for number, name in enumerate(order)}
    rank = ranks.get(key, len(order))
    before = [one for one in children if ranks.get(one.key, len(order)) <= rank] if len(path) == 1 else children
    return _insert(text, node, f"{key}: {said}", children[0] if children else None, before[-1] if before else None)


def rename_key(whole: str, path: tuple[str, str], key: str, said: str) -> str:
    """The text with another key and value in place of one of a mapping in the text's own mapping."""
    text = _Text(whole)
    group = _find(text, text.root, path[0])
    child = _find(text, group.value, path[1]) if group else None
    assert child is not None
    return f"{whole[: child.start]}{key}: {said}{whole[child.end :]}"


def set_items(whole: str, key: str, items: tuple[str, ...], order: tuple[str, ...] = ()) -> str:
    """The text with a list under a key: items that stay keep their place and what is written beside them."""
    text = _Text(whole)
    child = _find(text, text.root, key) if text.root is not None else None
    if child is None or not isinstance(child.value, yaml.SequenceNode) or not items:
        return set_key(whole, (key,), f"[{', '.join(items)}]", order)
    there = [str(one.value.value) for one in text.children(child.value)]
    for one in dict.fromkeys(item for item in there if item not in items):
        whole = _without_item(whole, key, one)
    for item in items:
        if item not in there:
            text = _Text(whole)
            node = _find(text, text.root, key)
            assert node is not None
            children = text.children(node.value)
            if not children:
                return set_key(whole, (key,), f"[{', '.join(items)}]", order)
            said = item if _is_flow(node.value) else f"- {item}"
            whole = _insert(text, node.value, said, None, children[-1])
    return whole


def _without_item(whole: str, key: str, item: str) -> str:
    text = _Text(whole)
    child = _find(text, text.root, key)
    assert child is not None
    children = text.children(child.value)
    if len(children) == 1:
        return set_key(whole, (key,), "[]")
    return _remove(text, child.value, next(one for one in children if one.value.value == item))
