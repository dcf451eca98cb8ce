"""Every value of a valid site, with what the schema says of it.

The text is composed by the plain loader of the YAML library, not by the program's own.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

import yaml
from tests.invariants.whole_sites import SITES

from sinkside.site.schema import schema

SCHEMA = schema()
Path = tuple[str | int, ...]
Node = dict[str, Any]


@dataclass(frozen=True, kw_only=True, eq=False)
class Value:
    """One value of a site file: where it stands, and what the schema says of it.

    `key` is the node of its key, None for an item of a list; `holder` the node around it.
    """

    site: str
    path: Path
    key: Any
    node: Any
    holder: Any
    schema: Node
    required: bool
    named: bool
    siblings: tuple[str, ...]

    @property
    def text(self) -> str:
        """The value of a scalar; empty for anything else."""
        return str(self.node.value) if isinstance(self.node, yaml.ScalarNode) else ""

    @property
    def last(self) -> str | int:
        """The last step of its path."""
        return self.path[-1]


def ways(node: Node, data: Any) -> list[Node]:
    """Every plain schema that a schema may mean for this node of a file."""
    if "$ref" in node:
        return ways(SCHEMA["$defs"][node["$ref"].rpartition("/")[2]], data)
    several = [*node.get("anyOf", ()), *node.get("oneOf", ())]
    found = [way for one in several for way in ways(one, data)] or [node]
    kind = next((v.value for k, v in _pairs(data) if k.value == "is"), None)
    fitting = [n for n in found if n.get("properties", {}).get("is", {}).get("const") == kind]
    return fitting or found


def _pairs(node: Any) -> list[tuple[Any, Any]]:
    return list(node.value) if isinstance(node, yaml.MappingNode) else []


def _values(site: str, node: Any, way: Node, path: Path = ()) -> Iterator[Value]:
    fitting = ways(way, node)
    if isinstance(node, yaml.SequenceNode):
        inner = next((w for w in fitting if "items" in w or "prefixItems" in w), {})
        for i, item in enumerate(node.value):
            its = (inner.get("prefixItems") or [inner.get("items", {})] * (i + 1))[i]
            at = (*path, i)
            yield Value(
                site=site,
                path=at,
                key=None,
                node=item,
                holder=node,
                schema=its,
                required=False,
                named=True,
                siblings=(),
            )
            yield from _values(site, item, its, at)
    mapping = next((w for w in fitting if "properties" in w), None)
    if mapping is None:
        mapping = next((w for w in fitting if isinstance(w.get("additionalProperties"), dict)), {})
    fixed = mapping.get("properties", {})
    for key, value in _pairs(node):
        its = fixed.get(key.value) or mapping.get("additionalProperties") or {}
        at = (*path, key.value)
        yield Value(
            site=site,
            path=at,
            key=key,
            node=value,
            holder=node,
            schema=its,
            required=key.value in mapping.get("required", ()),
            named=not fixed,
            siblings=tuple(fixed),
        )
        yield from _values(site, value, its, at)


@cache
def values(site: str) -> tuple[Value, ...]:
    """Every value of a site below the top."""
    root = yaml.compose(SITES[site], Loader=yaml.SafeLoader)
    return tuple(_values(site, root, SCHEMA))


def line_of(node: Any) -> int:
    """The line on which a node starts, from 1."""
    return int(node.start_mark.line) + 1


def entry_line(site: str, path: Path) -> int:
    """The line of the key, or of the item, that a path leads to."""
    return next(line_of(v.key or v.node) for v in values(site) if v.path == path)
