"""A valid site file broken in one place is told at that place.

The sites together hold every key that the schema knows; each is broken in one way at a time, by
an edit of its text. Told means a fault with the line of the edit, or, where a required key was
taken out, with the line of the entry that lacks it. No outside source: the program's own promise.
"""

import random
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

import pytest
import yaml

from sinkside import demo
from sinkside.faults import Faulty
from sinkside.parts.written import PartWritten
from sinkside.site.read import read
from sinkside.site.schema import schema

SEED = 20
MUTATIONS = 400
SHARE = 0.99

# Block style, a key a line.
WORKSHOP = """\
site:
  name: Repair evening
  mains: 120 V 60 Hz
  ambient: 18..28 °C
  currency: USD
  tariff: 0.18 USD/kWh
rules:
  solder: yes
  open_cases: no
  mains_side: qualified
  changes: any
  budget: 80.00 USD
  spare_ports: blocked
  single_fault: must survive
places:
  table:
    ambient: max 30 °C
    to:
      shelf: 2 m
  shelf:
devices:
  radio:
    use: ordinary
    plate: "DC IN 9V⎓ 300mA ⊖–C–⊕"
    inlet:
      plug: 5.5x2.1
      centre: positive (measured)
      ground: negative (measured)
      conductors: 2
    inside:
      is: linear regulator
      part: "7806"
      in_front: diode (measured)
      heat_sink: small
      input_capacitor: 2200 µF 25 V (plate)
      runs_from: 7.2..7.8 V (measured)
      harmed_above: 20 V (datasheet)
    draws:
      steady: 180 mA (measured)
      peak: 0.25..0.3 A
      peak_time: 50..90 ms
    starved: loses data
    blink: brief
    ride_through: 100..200 ms (measured)
    plugged: when used
    at: table
    brick:
      plate: "OUTPUT 9V DC 500mA"
      open: 13.1 V (measured)
      loaded: 10.4 V at 180 mA (measured)
      centre: positive (measured)
      kind: dc (measured)
      original: yes
      kept: no
    held_on:
      - pair
    ran: 9.1 V at 180 mA (measured)
    words: the one with the loud hiss
  scanner:
    use: ordinary
    inlet:
      plug: usb-c
shelf:
  pair:
    is: charger
    count: 2
    at: shelf
    output_earth: floating (measured)
    class: II
    on_change: drops all (measured)
    off_time: 1.4..1.9 s (measured)
    sharing: unknown
    ports:
      C1: 5V⎓3A 9V⎓3A 15V⎓3A
      C2: 5V⎓3A 9V⎓2A
    together:
      C1+C2:
        C1: 5V⎓3A 9V⎓2A
        C2: 5V⎓2A
    words: bought in spring
links:
  - from: radio
    to: scanner
    kind: data
    shield: one end
groups:
  - name: evening
    together:
      - radio
      - scanner
    switch: table strip
"""

# Flow style, quoted and over several lines, with comments; every kind of part.
STORES = """\
site: {name: 'The stores', currency: EUR}   # short
places: {room: {}}
devices:
  lamp: {use: ordinary, plate: '12V⎓ 1A', inlet: {plug: 5.5x2.5},
    inside: resistive, draws: {steady: 0.9..1 A, peak: "max 1.2 A (plate)"}, at: room}
shelf:
  solo: {is: charger, at: room, ports: {C1: 0x0001912C 0x0002D12C}}
  guessed: {is: charger, ports: {A: 65 W}}
  fuse-800ma: {count: 3}
  spare: {like: fuse-2a, count: 1, at: room}
market:
  lead-c: {is: cable, length: 0.8 m, e_marked: 5 A, ohms: 0.05..0.12 Ω, price: 7.50 EUR,
    count: 2, carries: 5 A, withstands: 21 V, at: room, words: "short, stout"}
  ask-12: {is: trigger, straps: [9 V, 12 V], falls_back: off (datasheet),
    output_switch: yes (datasheet), by: negotiation, gives: 5.5x2.1, centre: positive}
  press: {is: trigger, button: [9 V, 15 V]}
  tail: {is: lead, plug: 5.5x2.5, centre: positive, length: 0.4 m, gauge: 22 AWG}
  tip: {is: plug, plug: 4x1.7}
  swap: {is: adapter, plug: 5.5x2.5, swaps_poles: yes}
  slow: {is: fuse, rating: 1.6 A, standard: UL 248-14}
  healer: {is: resettable fuse, holds: 0.9 A}
  down-12: {is: converter, direction: step-down, gives: 11.8..12.2 V, adjustable: no,
    accepts: 14..28 V, headroom: 0.5..1.5 V, efficiency: [0.86, 0.95], carries: 2 A}
  three: {is: rails, accepts: 18..30 V, rails: {a: {gives: 4.9..5.1 V, carries: 1 A}}}
  gently: {is: soft start, ramp: 40..90 ms, every_step: no, accepts: 4..26 V, carries: 3 A}
  valve: {is: diode, forward: 0.3..0.6 V, carries: 2 A}
  store: {is: hold-up, farads: 0.3..0.5 F, rated: 16 V, esr: 20..60 mΩ, forward: 0.3..0.6 V,
    carries: 2 A}
  choke: {is: filter, henries: 80..120 µH, farads: 80..120 µF, carries: 2 A}
  guard: {is: crowbar, trips: 13.5..14.5 V, carries: 5 A}
  bleed: {is: bleeder, across: 0.9..1.1 kΩ}
"""
SITES = {"demo": demo.text(), "workshop": WORKSHOP, "stores": STORES}

SCHEMA = schema()
Path = tuple[str | int, ...]
Node = dict[str, Any]


@dataclass(frozen=True, kw_only=True)
class Value:
    """One value of a site file: where it stands, and what the schema says of it.

    `key` is the node of its key, None for an item of a list; `holder` the node around it.
    """

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
        return str(self.node.value) if isinstance(self.node, yaml.ScalarNode) else ""


@dataclass(frozen=True, kw_only=True)
class Mutation:
    """A text with one edit, and the line at which it has to be told."""

    site: str
    kind: str
    path: Path
    text: str
    line: int

    def __str__(self) -> str:
        shown = self.text.splitlines()[self.line - 1].strip()
        return f"{self.site} {self.kind} at {'.'.join(map(str, self.path))}, {self.line}: {shown}"


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


def values(node: Any, way: Node, path: Path = ()) -> Iterator[Value]:
    """Every value below a node."""
    fitting = ways(way, node)
    if isinstance(node, yaml.SequenceNode):
        inner = next((w for w in fitting if "items" in w or "prefixItems" in w), {})
        for i, item in enumerate(node.value):
            its = (inner.get("prefixItems") or [inner.get("items", {})] * (i + 1))[i]
            at = (*path, i)
            yield Value(
                path=at,
                key=None,
                node=item,
                holder=node,
                schema=its,
                required=False,
                named=True,
                siblings=(),
            )
            yield from values(item, its, at)
    mapping = next((w for w in fitting if "properties" in w), None)
    if mapping is None:
        mapping = next((w for w in fitting if isinstance(w.get("additionalProperties"), dict)), {})
    fixed = mapping.get("properties", {})
    for key, value in _pairs(node):
        its = fixed.get(key.value) or mapping.get("additionalProperties") or {}
        at = (*path, key.value)
        yield Value(
            path=at,
            key=key,
            node=value,
            holder=node,
            schema=its,
            required=key.value in mapping.get("required", ()),
            named=not fixed,
            siblings=tuple(fixed),
        )
        yield from values(value, its, at)


@cache
def all_values(site: str) -> tuple[Value, ...]:
    return tuple(values(yaml.compose(SITES[site], Loader=yaml.SafeLoader), SCHEMA))


def line_of(node: Any) -> int:
    return int(node.start_mark.line) + 1


def replaced(site: str, node: Any, new: str) -> str:
    """The text of a site with another text in the place of a node."""
    text = SITES[site]
    end = node.end_mark.index
    if isinstance(node, yaml.MappingNode | yaml.SequenceNode) and not node.flow_style:
        end = len(text[:end].rstrip())  # a block ends where the next thing begins
    return text[: node.start_mark.index] + new + text[end:]


def changed(site: str, kind: str, value: Value, new: str) -> Mutation:
    text = replaced(site, value.node, new)
    return Mutation(site=site, kind=kind, path=value.path, text=text, line=line_of(value.node))


def as_text(value: Value) -> bool:
    return isinstance(value.node, yaml.ScalarNode) and value.text != ""


def is_quantity(value: Value) -> bool:
    """Whether it is a quantity, and not a free text that looks like one."""
    shown = str([way.get("description", "") for way in ways(value.schema, None)])
    return as_text(value) and ("a quantity in" in shown or value.path[-1] in WITH_QUANTITIES)


WITH_QUANTITIES = ("input_capacitor", "loaded", "ran")
FREE = ("name", "words", "plate", "part", "switch", "tariff", "id")
REFERENCES = ("at", "from", "to", "like")


def is_word(value: Value) -> bool:
    """Whether it is one of a few words."""
    found = ways(value.schema, None)
    listed = any("enum" in way or "pattern" in way or "const" in way for way in found)
    return as_text(value) and (
        listed or value.path[-1] in ("plug", "count", "conductors", "budget")
    )


def misspelt(site: str, value: Value, draw: random.Random) -> Iterator[Mutation]:
    if value.named or value.key is None:
        return
    name = value.key.value
    i = draw.randrange(len(name))
    slips = (name[:i] + name[i + 1 :], name[:i] + name[i] + name[i:], name[:i] + "q" + name[i:])
    slip = draw.choice([s for s in slips if s and s not in value.siblings])
    yield Mutation(
        site=site,
        kind="misspelt key",
        path=value.path,
        text=replaced(site, value.key, slip),
        line=line_of(value.key),
    )


def wrong_word(site: str, value: Value, draw: random.Random) -> Iterator[Mutation]:
    if is_word(value):
        new = draw.choice(("sideways", "maybe", "positiv", value.text + "x"))
        yield changed(site, "wrong word", value, new)


def wrong_unit(site: str, value: Value, draw: random.Random) -> Iterator[Mutation]:
    if is_quantity(value) and value.path[-1] not in WITH_QUANTITIES:
        figure = value.text.split()[-1 if value.text.startswith("max") else 0]
        unit = draw.choice(("kg", "lx", "Vs", "%", "mAh"))
        yield changed(site, "wrong unit", value, f"{figure.split('..')[0]} {unit}")


def not_a_number(site: str, value: Value, draw: random.Random) -> Iterator[Mutation]:
    if is_quantity(value) or value.path[-2:-1] == ("efficiency",):
        yield changed(site, "NaN", value, draw.choice(("nan", ".nan", "NaN V", "inf", "-inf A")))


def negative(site: str, value: Value, _: random.Random) -> Iterator[Mutation]:
    if is_quantity(value) and "°C" not in value.text:
        yield changed(site, "negative", value, f"-{value.text.removeprefix('max ')}")


def taken_out(site: str, value: Value, _: random.Random) -> Iterator[Mutation]:
    if not value.required:
        return
    text = SITES[site]
    start, end = value.key.start_mark.index, len(text[: value.node.end_mark.index].rstrip())
    if value.holder.flow_style and text[end] == ",":
        end += len(text[end:]) - len(text[end:].lstrip(", \n"))
    elif value.holder.flow_style:
        start = len(text[:start].rstrip(" ,\n"))
    else:
        after = [k.start_mark.index for k, _ in value.holder.value if k.start_mark.index > end]
        end = min(after, default=text.index("\n", end) + 1)
        start = start if after else text.rindex("\n", 0, start) + 1
    new = text[:start] + text[end:]
    if len(value.path) > 1:
        line = entry_line(site, value.path[:-1])
    else:  # the whole file lacks it
        line = line_of(yaml.compose(new, Loader=yaml.SafeLoader))
    yield Mutation(site=site, kind="taken out", path=value.path, text=new, line=line)


def entry_line(site: str, path: Path) -> int:
    """The line of the key, or of the item, that a path leads to."""
    for value in all_values(site):
        if value.path == path:
            return line_of(value.key or value.node)
    raise KeyError(path)


def text_for_mapping(site: str, value: Value, draw: random.Random) -> Iterator[Mutation]:
    if isinstance(value.node, yaml.MappingNode):
        yield changed(site, "text for mapping", value, draw.choice(("hello", "'12'", "yes")))


def list_for_text(site: str, value: Value, draw: random.Random) -> Iterator[Mutation]:
    if as_text(value):
        yield changed(site, "list for text", value, draw.choice(("[a, b]", "[]", "[[9 V]]")))


def mapping_for_text(site: str, value: Value, draw: random.Random) -> Iterator[Mutation]:
    if as_text(value) and value.path[-1] != "inside":
        yield changed(site, "mapping for text", value, draw.choice(("{a: b}", "{}")))


def unknown_reference(site: str, value: Value, draw: random.Random) -> Iterator[Mutation]:
    path = value.path
    if as_text(value) and (path[-1] in REFERENCES or path[-2:-1] in (("together",), ("held_on",))):
        yield changed(site, "unknown reference", value, draw.choice(("zzz", value.text + "x")))
    named = path[-2:-1] == ("to",) or "together" in path[:-1]
    if value.key is not None and named and value.named:
        text = replaced(site, value.key, f"{value.key.value}x")
        line = line_of(value.key)
        yield Mutation(site=site, kind="unknown reference", path=path, text=text, line=line)


KINDS: tuple[Callable[[str, Value, random.Random], Iterator[Mutation]], ...] = (
    misspelt,
    wrong_word,
    wrong_unit,
    not_a_number,
    negative,
    taken_out,
    text_for_mapping,
    list_for_text,
    mapping_for_text,
    unknown_reference,
)


@cache
def mutations() -> tuple[Mutation, ...]:
    """As many of each kind as of the next, or all that there are."""
    draw = random.Random(SEED)
    pools = []
    for make in KINDS:
        pool = [m for site in SITES for value in all_values(site) for m in make(site, value, draw)]
        draw.shuffle(pool)
        pools.append(pool)
    found: list[Mutation] = []
    for left in range(len(pools), 0, -1):
        pools.sort(key=len)
        found += pools.pop(0)[: (MUTATIONS - len(found)) // left]
    return tuple(found)


def lines_told(mutation: Mutation) -> list[int]:
    """The lines of all faults; empty if it was taken as valid."""
    try:
        read(mutation.text, "site")
    except Faulty as error:
        return [fault.place.line if fault.place else 0 for fault in error.faults]
    return []


@cache
def results() -> tuple[tuple[Mutation, list[int]], ...]:
    return tuple((mutation, lines_told(mutation)) for mutation in mutations())


@pytest.mark.parametrize("site", SITES)
def test_the_sites_are_valid(site: str) -> None:
    assert read(SITES[site], site).devices != ()


def test_the_sites_hold_every_key_that_there_is() -> None:
    held = {
        (way["title"], value.path[-1])
        for site in SITES
        for value in all_values(site)
        for way in _owners(site, value)
    }
    anywhere = {value.path[-1] for site in SITES for value in all_values(site)}
    common = {field for field in PartWritten.model_fields if field != "id"}
    missing = [
        (title, key)
        for title, node in SCHEMA["$defs"].items()
        for key in node["properties"]
        if ((title, key) not in held) and not (key in common and key in anywhere)
    ]
    assert missing == []


def _owners(site: str, value: Value) -> list[Node]:
    around = next((v for v in all_values(site) if v.path == value.path[:-1]), None)
    return [
        way
        for way in (ways(around.schema, around.node) if around else [])
        if "title" in way and value.path[-1] in way.get("properties", ())
    ]


def test_each_kind_of_mutation_is_made() -> None:
    made = Counter(mutation.kind for mutation in mutations())
    assert len(made) == len(KINDS)
    assert min(made.values()) >= 15
    assert sum(made.values()) >= 0.95 * MUTATIONS


def test_each_is_still_yaml() -> None:
    for mutation in mutations():
        assert yaml.compose(mutation.text, Loader=yaml.SafeLoader) is not None, str(mutation)


def test_a_broken_site_is_told_at_the_line_where_it_is_broken() -> None:
    missed = [(m, lines) for m, lines in results() if m.line not in lines]
    share = 1 - len(missed) / len(results())
    kinds = dict(Counter(m.kind for m, _ in missed))
    print(f"{len(results())} mutations, {share:.2%} told at their line; missed: {kinds}")
    listed = [f"{m} (told at {lines or 'none'})" for m, lines in missed]
    assert share >= SHARE, "\n".join(listed)


def test_nothing_that_is_broken_is_taken_as_valid() -> None:
    assert [str(m) for m, lines in results() if not lines] == []


def test_nothing_is_told_without_a_place() -> None:
    assert [str(m) for m, lines in results() if 0 in lines] == []
