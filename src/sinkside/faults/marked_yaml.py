"""YAML read as plain text values, with the place of every key and value.

Every scalar stays the text that the person wrote: whether `no`, `12:30` or `010` is a
word, a time or a number is for the field that holds it to say, never for YAML.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, TypeAlias

import yaml

from sinkside.faults.fault import Fault, Faulty, Place

Path: TypeAlias = tuple[str | int, ...]
Data: TypeAlias = "dict[str, Data] | list[Data] | str | None"

LARGEST = 2 * 1024 * 1024
# What YAML does not take, and half characters, which no file in UTF-8 holds.
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")
DEEPEST = 24


@dataclass(frozen=True, kw_only=True)
class Marked:
    """A document as plain data, and where each part of it stands.

    `places[path]` is the place of the value at `path`; `keys[path]` that of its key.
    """

    data: Data
    places: dict[Path, Place]
    keys: dict[Path, Place]

    def place(self, path: Path) -> Place:
        """The place of a path, or of the nearest thing around it that has one."""
        while path and path not in self.places:
            path = path[:-1]
        return self.places[path]

    def key_place(self, path: Path) -> Place:
        """The place of the key that leads to a path, or else of its value."""
        return self.keys.get(path) or self.place(path)


def load(text: str, file: str) -> Marked:
    """Read one YAML document.

    Raises
    ------
    Faulty
        Not YAML, too large, too deep, several documents, an anchor, a tag, a key given
        twice or a key that is not plain text; with all such faults that can be told.
    """
    start = Place(file=file, line=1, column=1)
    if len(text) > LARGEST:
        raise Faulty(
            [_fault("too-large", start, f"{len(text)} characters", f"{LARGEST} are taken")]
        )
    control = _CONTROL.search(text)
    if control:
        place = _place_at(file, text, control.start())
        wrong = "not YAML: control characters are not allowed"
        raise Faulty([_fault("not-yaml", place, wrong, "")])
    try:
        faults = list(_unwelcome(text, file))
        if faults:
            raise Faulty(faults)
        node = yaml.compose(text, Loader=yaml.CBaseLoader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        place = _place(file, mark) if mark else start
        right = "use spaces, not tabs" if "tab" in str(error.problem) else ""
        raise Faulty([_fault("not-yaml", place, f"not YAML: {error.problem}", right)]) from None
    if node is None:
        raise Faulty([_fault("empty", start, "the file is empty", "see the README for its shape")])
    reader = _Reader(file)
    data = reader.value(node, ())
    if reader.faults:
        raise Faulty(reader.faults)
    return Marked(data=data, places=reader.places, keys=reader.keys)


def _place_at(file: str, text: str, index: int) -> Place:
    before = text[:index]
    return Place(
        file=file, line=before.count("\n") + 1, column=index - (before.rfind("\n") + 1) + 1
    )


def _unwelcome(text: str, file: str) -> Iterator[Fault]:
    """Anchors, aliases, tags, more than one document, and depth, before anything is built."""
    depth = documents = 0
    for event in yaml.parse(text, Loader=yaml.CBaseLoader):
        place = _place(file, event.start_mark)
        if isinstance(event, yaml.DocumentStartEvent):
            documents += 1
            if documents == 2:
                yield _fault("two-documents", place, "a second document", "give one per file")
        elif isinstance(event, yaml.CollectionStartEvent):
            depth += 1
            if depth > DEEPEST:
                yield _fault("too-deep", place, f"nested deeper than {DEEPEST}", "")
                return
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        if getattr(event, "anchor", None):
            yield _fault("anchor", place, "an anchor or alias", "write the value out")
        tag = getattr(event, "tag", None)
        if tag not in (None, "!"):
            yield _fault("tag", place, f"a tag: {tag}", "leave it out")


class _Reader:
    def __init__(self, file: str) -> None:
        self.file = file
        self.faults: list[Fault] = []
        self.places: dict[Path, Place] = {}
        self.keys: dict[Path, Place] = {}

    def value(self, node: yaml.Node, path: Path) -> Data:
        self.places[path] = _place(self.file, node.start_mark)
        if isinstance(node, yaml.MappingNode):
            return self._mapping(node, path)
        if isinstance(node, yaml.SequenceNode):
            return [self.value(item, (*path, i)) for i, item in enumerate(node.value)]
        plain = not getattr(node, "style", None)  # the C parser says "" and the other None
        return None if plain and node.value in ("", "~", "null") else str(node.value)

    def _mapping(self, node: yaml.MappingNode, path: Path) -> Data:
        data: dict[str, Data] = {}
        for key_node, value_node in node.value:
            place = _place(self.file, key_node.start_mark)
            if not isinstance(key_node, yaml.ScalarNode) or not key_node.value:
                self.faults.append(_fault("key", place, "a key that is not plain text", ""))
                continue
            key = str(key_node.value)
            if not key.isprintable() or not key.strip():
                self.faults.append(
                    _fault("key", place, f"{key!r} cannot be shown as a name", "write it plainly")
                )
                continue
            if key in data:
                first = self.keys[(*path, key)]
                self.faults.append(
                    _fault(
                        "key-twice",
                        place,
                        f"{key!r} is given twice",
                        f"it stands on line {first.line} already; keep one",
                    )
                )
                continue
            self.keys[(*path, key)] = place
            data[key] = self.value(value_node, (*path, key))
        return data


def _place(file: str, mark: Any) -> Place:  # PyYAML has two classes of marks, C and Python
    return Place(file=file, line=mark.line + 1, column=mark.column + 1)


def _fault(code: str, place: Place, wrong: str, right: str) -> Fault:
    return Fault(code=code, wrong=wrong, right=right, place=place)
