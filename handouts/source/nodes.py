"""YAML as a tree of nodes that keep file, line and column; every scalar stays text.

PyYAML composes the tree with its C loader, so no value changes its meaning on the way: ``no`` stays
"no", ``1:30`` stays "1:30".  Anchors, aliases, tags, repeated keys, second documents, control and
bidirectional characters are refused where they stand.  Never converts, never judges a value.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field

import yaml

from handouts.problems import Place, Problem

MAX_BYTES = 64 * 1024
"""Largest front matter or YAML file read, in bytes; a full exercise needs about 4 KiB."""
MAX_DEPTH = 8
"""Deepest nesting of mappings and lists; the exercise schema needs 5."""
MOST_NAMED = 20
"""Most faults of one kind that are named in a file: what is wrong a thousand times is mended at once."""

# C0 and C1 controls except tab, line feed and carriage return; surrogates; line and paragraph separators;
# bidirectional controls (Unicode TR 9, table 'Directional formatting'); the byte-order mark inside a text;
# other signs without a shape (zero width space, word joiner and its neighbours, annotations, tags); the sign
# that stands for a lost letter; points that are no characters.
_FORBIDDEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\u2028-\u202e\u2060-\u2069\u200b\ufeff\ufff9-\uffff\ufdd0-\ufdef"
    + "".join(f"{chr(plane | 0xFFFE)}{chr(plane | 0xFFFF)}" for plane in range(0x10000, 0x110000, 0x10000))
    + "\U000e0000-\U000e0fff]"
)


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value as the author typed it."""

    text: str
    place: Place = field(compare=False, repr=False)
    quoted: bool = field(default=False, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list."""

    items: tuple[Node, ...]
    place: Place = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Entry:
    """One ``key: value`` of a mapping, with the place of the key."""

    key: str
    value: Node
    place: Place = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys and values in the order typed; keys are text and never repeat."""

    entries: tuple[Entry, ...]
    place: Place = field(compare=False, repr=False)

    def get(self, key: str) -> Node | None:
        """The value of a key, or None."""
        for entry in self.entries:
            if entry.key == key:
                return entry.value
        return None


Node = Scalar | Sequence | Mapping


def find_forbidden(text: str, file: str, first_line: int = 1) -> list[Problem]:
    """Control, surrogate and bidirectional characters in a text, each with its place."""
    problems: list[Problem] = []
    for line_number, line in enumerate(text.split("\n") if _FORBIDDEN.search(text) else ()):
        for match in _FORBIDDEN.finditer(line):
            lost = match.group() == "\ufffd"
            problems.append(
                Problem(
                    Place(file, first_line + line_number, match.start() + 1),
                    "forbidden-character",
                    f"the character U+{ord(match.group()):04X} cannot be used in a text",
                    "Type the letter that was lost here when the file was saved."
                    if lost
                    else "Delete it; it is invisible, so retype the word it stands in.",
                )
            )
            if len(problems) == MOST_NAMED:
                return problems
    return problems


def read_text(data: bytes, file: str) -> tuple[str, list[Problem]]:
    """Bytes of a file as text: UTF-8, an optional byte-order mark at the start, line ends as ``\\n``, letters composed.

    Letters are composed (Unicode NFC) so that é typed as one sign and as two is the same word to a search.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        return "", [
            Problem(
                Place(file, line),
                "not-utf-8",
                f"byte {data[error.start]:#04x} is not UTF-8 text",
                "Save the file as UTF-8.",
            )
        ]
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    problems = find_forbidden(text, file) or _find_conflicts(text, file)
    return text if problems else unicodedata.normalize("NFC", text), problems


_CONFLICT = re.compile(r"^(?:<{7}|>{7}|[|]{7})(?: .*)?$", re.MULTILINE)
"""A line with which git marks two versions of one place (git-merge, "How conflicts are presented"); ``=======`` alone may be a heading."""


def _find_conflicts(text: str, file: str) -> list[Problem]:
    """Places where two people changed the same lines and git could not decide."""
    if not any(mark * 7 in text for mark in "<>|"):
        return []
    marks = [(found[0][0], text.count("\n", 0, found.start()) + 1) for found in _CONFLICT.finditer(text)]
    lines = [line for mark, line in marks if mark == "<"] or [line for _, line in marks]
    return [
        Problem(
            Place(file, line),
            "conflict-marker",
            f"git left a conflict here: '{text.splitlines()[line - 1][:40]}'",
            "Choose between the two versions, and delete the lines that begin with <<<<<<<, |||||||, ======= and >>>>>>>.",
        )
        for line in lines[:MOST_NAMED]
    ]


def compose(
    text: str, file: str, first_line: int = 1, most_bytes: int = MAX_BYTES
) -> tuple[Mapping | None, list[Problem]]:
    """A YAML text as a mapping node; ``first_line`` is the line of the file where the text begins.

    Gives None and problems where the text is not one well-formed mapping.
    """
    start = Place(file, first_line)
    if len(text.encode("utf-8", "surrogatepass")) > most_bytes:
        return None, [Problem(start, "too-long", f"this part is longer than {most_bytes // 1024} KiB", "Split it.")]
    refused = _refuse_features(text, file, first_line)
    if refused:
        return None, refused
    try:
        root = yaml.compose(text, Loader=yaml.CSafeLoader)
    except yaml.MarkedYAMLError as error:
        return None, [_syntax_problem(error, file, first_line)]
    except yaml.YAMLError as error:
        message = str(error).split("\n")[0]
        return None, [Problem(start, "yaml-syntax", f"this is not valid YAML: {message}", "Retype the text.")]
    if root is None:
        return Mapping((), start), []
    problems: list[Problem] = []
    node = _convert(root, file, first_line, 1, problems)
    if problems:
        return None, problems[:MOST_NAMED]
    if not isinstance(node, Mapping):
        return None, [
            Problem(
                node.place,
                "not-a-mapping",
                "lines of the form 'key: value' are wanted here",
                "Write a key, a colon, a space and a value.",
            )
        ]
    return node, []


_SYNTAX_MENDS = (
    ("mapping values are not allowed", 'A text with a colon in it needs quotes: "like: this".'),
    ("found character '\\t'", "Indent with spaces, not with a tab."),
    ("cannot start any token", "Put the value in quotes."),
    ("could not find expected ':'", "Add a colon after the key, or quote the text."),
    ("expected ',' or", "Close the bracket, and put a comma between the values."),
    ("nesting depth", "Take the inner lists and mappings out."),
    ("did not find expected key", "Check the indentation and the quotes of this line and the one above."),
    ("quoted scalar", "Close the quotes."),
)


def _syntax_problem(error: yaml.MarkedYAMLError, file: str, first_line: int) -> Problem:
    mark = error.problem_mark or error.context_mark
    place = Place(file, first_line + mark.line, mark.column + 1) if mark else Place(file, first_line)
    what = (error.problem or "unreadable").strip()
    mend = next((mend for part, mend in _SYNTAX_MENDS if part in what), "Check the punctuation of this line.")
    return Problem(place, "yaml-syntax", f"this is not valid YAML: {what}", mend)


def _refuse_features(text: str, file: str, first_line: int) -> list[Problem]:
    """Anchors, aliases, tags, merge keys and second documents, found in the token stream."""
    problems = []
    documents = 0
    try:
        for event in yaml.parse(text, Loader=yaml.CSafeLoader):
            mark = event.start_mark
            place = Place(file, first_line + mark.line, mark.column + 1) if mark else Place(file, first_line)
            anchor, tag = getattr(event, "anchor", None), getattr(event, "tag", None)
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents == 2:
                    problems.append(
                        Problem(
                            place,
                            "yaml-second-document",
                            "a second YAML document begins here",
                            "Keep one document in a file.",
                        )
                    )
            elif isinstance(event, yaml.AliasEvent):
                problems.append(
                    Problem(
                        place, "yaml-alias", f"the alias '*{anchor}' is not allowed", "Write the value out in full."
                    )
                )
            elif anchor:
                problems.append(
                    Problem(
                        place,
                        "yaml-alias",
                        f"the anchor '&{anchor}' is not allowed",
                        "Delete it and write each value out in full.",
                    )
                )
            elif tag:
                problems.append(
                    Problem(
                        place,
                        "yaml-tag",
                        f"the tag '{tag}' is not allowed",
                        "Delete it; write '!' inside quotes if it belongs to the text.",
                    )
                )
            if len(problems) >= MOST_NAMED:
                break
    except yaml.YAMLError:
        return problems  # the syntax problem itself is said by compose
    return problems


def _convert(root: yaml.Node, file: str, first_line: int, depth: int, problems: list[Problem]) -> Node:
    place = Place(file, first_line + root.start_mark.line, root.start_mark.column + 1)
    if depth > MAX_DEPTH:
        problems.append(
            Problem(
                place,
                "yaml-depth",
                f"values are nested more than {MAX_DEPTH} deep",
                "Take the inner lists and mappings out.",
            )
        )
        return Scalar("", place)
    if isinstance(root, yaml.ScalarNode):
        problems.extend(
            Problem(
                place,
                "forbidden-character",
                f"the character U+{ord(match.group()):04X} cannot be used in a text",
                "Delete it, or the escape that makes it.",
            )
            for match in _FORBIDDEN.finditer(root.value)
        )
        return Scalar(unicodedata.normalize("NFC", root.value), place, root.style in ("'", '"'))
    if isinstance(root, yaml.SequenceNode):
        return Sequence(tuple(_convert(item, file, first_line, depth + 1, problems) for item in root.value), place)
    entries: list[Entry] = []
    seen: dict[str, Place] = {}
    for key_node, value_node in root.value:
        key_place = Place(file, first_line + key_node.start_mark.line, key_node.start_mark.column + 1)
        if not isinstance(key_node, yaml.ScalarNode):
            problems.append(Problem(key_place, "yaml-key", "a key must be a plain word", "Quote it, or write a word."))
            continue
        if key_node.value in seen:
            problems.append(
                Problem(
                    key_place,
                    "repeated-key",
                    f"key '{key_node.value}' is given twice (first on line {seen[key_node.value].line})",
                    "Delete one of the two.",
                )
            )
            continue
        seen[key_node.value] = key_place
        entries.append(Entry(key_node.value, _convert(value_node, file, first_line, depth + 1, problems), key_place))
    return Mapping(tuple(entries), place)
