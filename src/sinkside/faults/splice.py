"""One value of a YAML text changed in place; every other character stays as it was.

The result is read again, and must differ at that one key and nowhere else.
"""

import json
import re
from typing import Any

import yaml

from sinkside.faults.fault import NotUnderstood
from sinkside.faults.marked_yaml import Data, load

# What YAML counts as the end of a line; Python's own list is longer.
_BREAK = re.compile(r"\r\n|[\n\r\x85\u2028\u2029]")
Keys = tuple[str, ...]


def set_value(text: str, keys: Keys, value: str, file: str = "site file") -> str:
    """Set the text value at a path of keys; mappings on the way are made where missing.

    Parameters
    ----------
    text
        A YAML document that `marked_yaml.load` takes.
    keys
        From the top: `("devices", "radio", "draws", "steady")`.
    value
        The new value, as a person would write it.

    Raises
    ------
    Faulty
        The text cannot be read.
    NotUnderstood
        There is a mapping or a list at the path, or something on the way is no mapping.

    Examples
    --------
    >>> set_value("a: {b: 1 V}  # mine", ("a", "b"), "2 V")
    'a: {b: 2 V}  # mine'
    """
    before = load(text, file).data
    root = yaml.compose(text, Loader=yaml.CBaseLoader)
    after = _spliced(text, root, keys, value)
    if load(after, file).data != _changed(before, keys, value):
        raise NotUnderstood(
            f"{'.'.join(keys)} cannot be changed in place here", "change it by hand in the file"
        )
    return after


def _changed(data: Data, keys: Keys, value: str) -> Data:
    """What the data ought to be afterwards."""
    if not keys:
        return value
    inner = dict(data) if isinstance(data, dict) else {}
    inner[keys[0]] = _changed(inner.get(keys[0]), keys[1:], value)
    return inner


def _spliced(text: str, node: Any, keys: Keys, value: str) -> str:
    lines = _Lines(text)
    for depth, key in enumerate(keys):
        if not isinstance(node, yaml.MappingNode):
            if _is_nothing(node):
                return lines.replaced(node, _flow(keys[depth:], value))
            where = ".".join(keys[:depth])
            raise NotUnderstood(f"{where} is no mapping", "change it by hand in the file")
        found = next((v for k, v in node.value if k.value == key), None)
        if found is None:
            return lines.inserted(node, key, _flow(keys[depth + 1 :], value))
        node = found
    if not isinstance(node, yaml.ScalarNode):
        raise NotUnderstood(f"{'.'.join(keys)} is no single value", "change it by hand in the file")
    return lines.replaced(node, scalar(value))


def _is_nothing(node: Any) -> bool:
    return isinstance(node, yaml.ScalarNode) and not node.style and node.value in ("", "~", "null")


def _flow(keys: Keys, value: str) -> str:
    """A value, or the mappings around it that do not exist yet."""
    return f"{{{scalar(keys[0])}: {_flow(keys[1:], value)}}}" if keys else scalar(value)


def scalar(value: str) -> str:
    """A text as YAML takes it on one line: plain where that reads back the same, else quoted."""
    try:
        plain = yaml.load(f"[{value}]", Loader=yaml.CBaseLoader) == [value]
        comment = "#" in value or value != value.strip() or value in ("", "~", "null")
    except yaml.YAMLError:
        plain, comment = False, True
    if plain and not comment:
        return value
    quoted = json.dumps(value, ensure_ascii=False)
    return re.sub("[\x7f-\x9f\u2028\u2029\ufeff]", lambda c: f"\\u{ord(c[0]):04x}", quoted)


class _Lines:
    """A text by lines, so that marks can be turned into places in it."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.starts = [0]
        self.starts += [found.end() for found in _BREAK.finditer(text)]
        if self.starts[-1] < len(text):
            self.starts.append(len(text))

    def at(self, mark: Any) -> int:
        start: int = self.starts[min(mark.line, len(self.starts) - 1)]
        return start + int(mark.column)

    def replaced(self, node: Any, new: str) -> str:
        start, end = self.at(node.start_mark), self.at(node.end_mark)
        gap = " " if start == end and self.text[start - 1 : start] == ":" else ""
        return self.text[:start] + gap + new + self.text[end:]

    def inserted(self, mapping: Any, key: str, value: str) -> str:
        """A new entry at the end of a mapping, in the style that it is written in."""
        entry = f"{scalar(key)}: {value}"
        if mapping.flow_style:
            close = self.at(mapping.end_mark) - 1
            body = self.text[:close].rstrip()
            comma = "" if not mapping.value else " " if body.endswith(",") else ", "
            return body + comma + entry + self.text[close:]
        first, last = mapping.value[0][0], mapping.value[-1][1]
        end = self._line_end(last)
        indent = " " * int(first.start_mark.column)
        newline = "" if self.text[:end].endswith("\n") else "\n"
        return f"{self.text[:end]}{newline}{indent}{entry}\n{self.text[end:]}"

    def _line_end(self, node: Any) -> int:
        """Just behind the last line that holds something of a node."""
        line = node.end_mark.line
        if node.end_mark.column == 0 and line > node.start_mark.line:
            line -= 1  # a block ends where the next thing begins
        while line > node.start_mark.line and not self._line(line).strip():
            line -= 1
        return int(self.starts[min(line + 1, len(self.starts) - 1)])

    def _line(self, line: int) -> str:
        if line + 1 >= len(self.starts):
            return ""
        found = self.text[self.starts[line] : self.starts[line + 1]]
        return "" if found.lstrip().startswith("#") else found
