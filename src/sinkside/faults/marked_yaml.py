"""YAML read as plain text values, with the place of every key and value.

Every scalar stays the text that the person wrote: whether `no`, `12:30` or `010` is a
word, a time or a number is for the field that holds it to say, never for YAML.
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeAlias

import yaml

from sinkside.faults import not_yaml
from sinkside.faults.fault import Fault, Faulty, Place

Path: TypeAlias = tuple[str | int, ...]
Data: TypeAlias = "dict[str, Data] | list[Data] | str | None"

LARGEST = 2 * 1024 * 1024
# Of one mapping or list: nobody owns as many devices, and a plan of more takes minutes.
MOST_ENTRIES = 2500
# What YAML does not take, and half characters, which no file in UTF-8 holds.
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")
DEEPEST = 24
_NOTHING = ("", "~", "null")
# Under which is read what belongs to no key; no person can write it.
_NOWHERE = "\0"


class Places(Mapping[Path, Place]):
    """The places of many paths in one file.

    A place is made when it is asked for: few of those of a large file ever are.
    """

    __slots__ = ("_file", "_marks")

    def __init__(self, file: str, marks: dict[Path, int]) -> None:
        self._file = file
        self._marks = marks

    def __getitem__(self, path: Path) -> Place:
        line, column = divmod(self._marks[path], _LINE)
        return Place(file=self._file, line=line + 1, column=column + 1)

    def __contains__(self, path: object) -> bool:
        return path in self._marks

    def __iter__(self) -> Iterator[Path]:
        return iter(self._marks)

    def __len__(self) -> int:
        return len(self._marks)


# A mark is a line and a column, from 0, in one number; no line is longer than the whole text.
_LINE = 2 * LARGEST


@dataclass(frozen=True, kw_only=True)
class Marked:
    """A document as plain data, and where each part of it stands.

    `places[path]` is the place of the value at `path`; `keys[path]` that of its key.
    """

    data: Data
    places: Places
    keys: Places

    def place(self, path: Path) -> Place:
        """The place of a path, or of the nearest thing around it that has one."""
        while path and path not in self.places:
            path = path[:-1]
        return self.places[path]

    def key_place(self, path: Path) -> Place:
        """The place of the key that leads to a path, or else of its value."""
        return self.keys.get(path) or self.place(path)

    def entry_place(self, path: Path) -> Place:
        """The place of a path, or of its key where that stands on a line above."""
        key, value = self.key_place(path), self.place(path)
        return value if value.line == key.line else key


def load(text: str, file: str) -> Marked:
    """Read one YAML document.

    Raises
    ------
    Faulty
        Not YAML, too large, too deep, several documents, an anchor, a tag, a key given
        twice or a key that is not plain text; with all such faults that can be told.
    """
    found, twice = gather(text, file)
    if twice:
        raise Faulty(twice)
    return found


def gather(text: str, file: str) -> tuple[Marked, list[Fault]]:
    """Read one YAML document in which keys may be given twice: the first one holds.

    Returns
    -------
    tuple
        The document, and a fault for every key that was given before: whoever reads on can
        tell them beside his own.

    Raises
    ------
    Faulty
        Anything else is wrong.
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
    reader = _Reader(text, file)
    try:
        found = reader.document()
    except yaml.MarkedYAMLError as error:
        raise Faulty([*reader.faults, not_yaml.told(error, text, file)]) from None
    if any(fault.code != "key-twice" for fault in reader.faults):
        raise Faulty(reader.faults)
    if found is None:
        raise Faulty([_fault("empty", start, "the file is empty", "see the README for its shape")])
    return found, reader.faults


def _place_at(file: str, text: str, index: int) -> Place:
    before = text[:index]
    return Place(
        file=file, line=before.count("\n") + 1, column=index - (before.rfind("\n") + 1) + 1
    )


class _Reader:
    """Builds the data while the parser goes through the text, once."""

    def __init__(self, text: str, file: str) -> None:
        self.file = file
        self.faults: list[Fault] = []
        self.places: dict[Path, int] = {}
        self.keys: dict[Path, int] = {}
        self.depth = 0
        # Of any kind: PyYAML has two classes of events, C and Python, and of marks as well.
        self.next: Callable[[], Any] = yaml.CBaseLoader(text).get_event

    def document(self) -> Marked | None:
        """The first document; that there is another is a fault."""
        self.next()  # the start of the stream
        if isinstance(self.next(), yaml.StreamEndEvent):
            return None
        data = self.value(self.next(), ())
        self.next()  # the end of the document
        after = self.next()
        if not isinstance(after, yaml.StreamEndEvent):
            self.tell("two-documents", after, "a second document", "give one per file")
        return Marked(
            data=data,
            places=Places(self.file, self.places),
            keys=Places(self.file, self.keys),
        )

    def value(self, event: Any, path: Path) -> Data:
        """The value that starts with an event."""
        mark = event.start_mark
        self.places[path] = mark.line * _LINE + mark.column
        kind = event.__class__
        if kind is yaml.AliasEvent:
            self.tell("anchor", event, "an anchor or alias", "write the value out")
            return None
        if event.anchor is not None or event.tag is not None:
            self.adorned(event)
        if kind is yaml.ScalarEvent:
            text: str = event.value
            # The style of what stands without quotes is empty.
            return None if text in _NOTHING and not event.style else text
        self.depth += 1
        if self.depth > DEEPEST:
            self.tell("too-deep", event, f"nested deeper than {DEEPEST}", "")
            raise Faulty(self.faults)
        found = self.mapping(path) if kind is yaml.MappingStartEvent else self.sequence(path)
        self.depth -= 1
        return found

    def sequence(self, path: Path) -> Data:
        """A list, its start taken already."""
        items: list[Data] = []
        while (event := self.next()).__class__ is not yaml.SequenceEndEvent:
            self.crowd(event, len(items))
            items.append(self.value(event, (*path, len(items))))
        return items

    def mapping(self, path: Path) -> Data:
        """A mapping, its start taken already."""
        data: dict[str, Data] = {}
        entries = 0
        while (event := self.next()).__class__ is not yaml.MappingEndEvent:
            self.crowd(event, entries)
            entries += 1
            key = self.key(event, path)
            if key is not None and key not in data:
                mark = event.start_mark
                here = (*path, key)
                self.keys[here] = mark.line * _LINE + mark.column
                data[key] = self.value(self.next(), here)
                continue
            if key is not None:
                first = self.keys[(*path, key)] // _LINE + 1
                right = f"it stands on line {first} already; keep one"
                self.tell("key-twice", event, f"{key!r} is given twice", right)
            self.value(self.next(), (*path, _NOWHERE))
        return data

    def crowd(self, event: Any, entries: int) -> None:
        """Tell one entry too many: with so many there may be as many faults."""
        if entries == MOST_ENTRIES:
            right = f"{MOST_ENTRIES} are taken; divide the site into several files"
            self.tell("too-many", event, "one entry too many", right)
            raise Faulty(self.faults)

    def key(self, event: Any, path: Path) -> str | None:
        """A key; None, and told, if it cannot be one."""
        if event.__class__ is not yaml.ScalarEvent:
            self.value(event, (*path, _NOWHERE))
            self.tell("key", event, "a key that is not plain text", "")
            return None
        if event.anchor is not None or event.tag is not None:
            self.adorned(event)
        key: str = event.value
        if not key:
            self.tell("key", event, "a key that is not plain text", "")
            return None
        if not key.isprintable() or not key.strip():
            self.tell("key", event, f"{key!r} cannot be shown as a name", "write it plainly")
            return None
        return key

    def adorned(self, event: Any) -> None:
        """Tell an anchor or a tag before a value."""
        if event.anchor is not None:
            self.tell("anchor", event, "an anchor or alias", "write the value out")
        if event.tag not in (None, "!"):
            self.tell("tag", event, f"a tag: {event.tag}", "leave it out")

    def tell(self, code: str, event: Any, wrong: str, right: str) -> None:
        self.faults.append(_fault(code, _place(self.file, event.start_mark), wrong, right))


def _place(file: str, mark: Any) -> Place:
    return Place(file=file, line=mark.line + 1, column=mark.column + 1)


def _fault(code: str, place: Place, wrong: str, right: str) -> Fault:
    return Fault(code=code, wrong=wrong, right=right, place=place)
