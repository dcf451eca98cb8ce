"""Cuts into the punctuation and the indentation of a valid site.

A cut may leave a valid site: a comma too few between two names makes one name of them. It counts
only if the plain YAML library refuses the text, or if the JSON Schema refuses what comes of it.
"""

import random
from collections.abc import Iterator
from functools import cache
from typing import Any

import jsonschema
import yaml
from tests.invariants.mutations import Mutation
from tests.invariants.schema_walk import SCHEMA, values
from tests.invariants.whole_sites import SITES

BRACKETS = {
    yaml.FlowMappingStartToken: "opening bracket dropped",
    yaml.FlowSequenceStartToken: "opening bracket dropped",
    yaml.FlowMappingEndToken: "closing bracket dropped",
    yaml.FlowSequenceEndToken: "closing bracket dropped",
    yaml.FlowEntryToken: "comma dropped",
    yaml.ValueToken: "colon dropped",
}
CUTS = (
    *dict.fromkeys(BRACKETS.values()),
    "closing quote dropped",
    "set in too far",
    "set in too little",
    "set in with a tab",
)
_SCHEMA = jsonschema.Draft202012Validator(SCHEMA)


def data(text: str) -> Any:
    """A document as plain texts; YAMLError if it is none."""
    return _plain(yaml.compose(text, Loader=yaml.CSafeLoader))


def _plain(node: Any) -> Any:
    if isinstance(node, yaml.MappingNode):
        return {
            _plain(key) if isinstance(key, yaml.ScalarNode) else "?": _plain(value)
            for key, value in node.value
        }
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item) for item in node.value]
    empty = node is None or (not node.style and node.value in ("", "~", "null"))
    return None if empty else str(node.value)


@cache
def _whole(site: str) -> Any:
    return data(SITES[site])


def breaks(site: str, text: str) -> bool:
    """Whether a cut leaves neither the same site nor another that the schema takes."""
    try:
        found = data(text)
    except yaml.YAMLError:
        return True
    return bool(found != _whole(site) and not _SCHEMA.is_valid(found))


def cuts(site: str, draw: random.Random) -> Iterator[Mutation]:
    """Every cut of one site; what it leaves is not looked at yet."""
    yield from _dropped(site)
    yield from _shifted(site, draw)


def _dropped(site: str) -> Iterator[Mutation]:
    text = SITES[site]
    for token in yaml.scan(text, Loader=yaml.SafeLoader):
        kind = BRACKETS.get(type(token), "")
        at = token.start_mark.index
        if isinstance(token, yaml.ScalarToken) and token.style in ("'", '"'):
            kind, at = "closing quote dropped", token.end_mark.index - 1
        if kind:
            line = text.count("\n", 0, at) + 1
            new = text[:at] + text[at + 1 :]
            yield Mutation(site=site, kind=kind, path=(line,), text=new, line=line, cut=True)


def _shifted(site: str, draw: random.Random) -> Iterator[Mutation]:
    """Lines of block style set in by too much, by too little, or with a tab."""
    lines = SITES[site].splitlines(keepends=True)
    starts = {
        v.key.start_mark.line for v in values(site) if v.key is not None and not v.holder.flow_style
    } | {v.node.start_mark.line for v in values(site) if v.key is None and not v.holder.flow_style}
    for number in sorted(starts):
        line = lines[number]
        bare = line.lstrip(" ")
        width = len(line) - len(bare)
        for by in (-4, -2, -1, 1, 2, 4):
            if width + by >= 0:
                new = " " * (width + by) + bare
                kind = "set in too far" if by > 0 else "set in too little"
                yield _with_line(site, kind, lines, number, new)
        if width:
            tab = draw.choice(("\t", " " * (width - 1) + "\t", "\t" * (width // 2)))
            yield _with_line(site, "set in with a tab", lines, number, tab + bare)


def _with_line(site: str, kind: str, lines: list[str], number: int, new: str) -> Mutation:
    text = "".join([*lines[:number], new, *lines[number + 1 :]])
    return Mutation(site=site, kind=kind, path=(number + 1,), text=text, line=number + 1, cut=True)
