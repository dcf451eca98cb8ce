"""The reference page of the site file, from the schema, its meanings and the units.

`tools/docs.py` writes it. What an editor shows for a key and what the page says is one sentence.
"""

import re
from typing import Any

from sinkside import quantity
from sinkside.faults.written import nearest
from sinkside.quantity import Basis, Quantity, Spread
from sinkside.site.meanings import PART, Meaning, meaning
from sinkside.site.schema import schema
from sinkside.site.survey import STEADY_OF_PLATE
from sinkside.site.written import AROUND_DEGC

Node = dict[str, Any]

WHOLE = """\
site: {name: Repair evening, ambient: 15..30 °C, currency: EUR, tariff: 0.31 EUR/kWh}
rules: {solder: yes, open_cases: yes, budget: 80 EUR}
places:
  bench: {}
  window: {ambient: max 40 °C, to: {bench: 3 m}}
devices:
  radio:                                 # your own name for it
    use: ordinary
    plate: "DC IN 9V⎓ 300mA ⊕–C–⊖"       # as it is printed
    inlet: {plug: 5.5x2.1, centre: negative (measured), ground: negative (measured)}
    inside:
      is: linear regulator
      part: "7806"
      in_front: diode (measured)
      input_capacitor: 2200 µF 25 V (plate)
    draws: {steady: 280 mA (measured), peak: 0.3..0.4 A}
    brick:
      plate: "OUTPUT 9V DC 500mA"
      open: 13.1 V (measured)
      loaded: 10.4 V at 280 mA (measured)
      original: yes
    blink: any
    at: window
  mixer: {use: ordinary, plate: "DC IN 12V⎓ 1A ⊖–C–⊕", inlet: {plug: 5.5x2.1}, at: bench}
shelf:
  desk-charger:
    is: charger
    at: bench
    on_change: drops all (measured)
    off_time: 1.5..2 s (measured)
    ports: {C1: "5V⎓3A 9V⎓3A 12V⎓3A 15V⎓3A 20V⎓3.25A", C2: "5V⎓3A 9V⎓2A"}
    together: {C1+C2: {C1: "5V⎓3A 9V⎓3A 12V⎓2.5A", C2: "5V⎓3A 9V⎓2A"}}
  fuse-800ma: {count: 2}                 # a part that the program knows, by its name
  long-lead: {like: lead-5.5x2.1, length: 3 m, count: 1}
market:
  red-lead: {is: lead, plug: 5.5x2.1, length: 1 m, gauge: 20 AWG, price: 3.20 EUR}
links:
  - {from: radio, to: mixer, kind: audio, shield: both ends}
groups:
  - {name: evening, together: [radio, mixer]}
"""

INTRO = """\
# Site file

One YAML file says everything about a site: what is to run, what there is to run it from, and
what you are willing to do. `sinkside check FILE` tells every fault in it at once, with line and
column. [site.schema.json](../../src/sinkside/site/site.schema.json) makes an editor complete and
check it; what it says of a key stands here as well.

Only `site` and `devices` must be there, and in a device only `use` and `inlet`. What nobody knows
is left out. A key that is not listed here is a fault, and so is a key that is given twice.
Everything is text as you write it: `no` is the word no, and `010` is 010. Truth is `yes` or `no`
(`true` and `false` do as well). Anchors, tags and a second document are not taken. A name is any
text on one line. `NAME` below is such a name of your own.

A whole file:
"""

PLACES = {  # where each mapping stands, and what is said of it before its keys
    "SiteWritten": ("At the top", "Each of them is taken apart below."),
    "SiteHeader": ("site", ""),
    "RulesWritten": ("rules", ""),
    "PlaceWritten": ("places: NAME", "A distance need be said at one of the two places only."),
    "DeviceWritten": ("devices: NAME", ""),
    "InletWritten": ("devices: NAME: inlet", ""),
    "InsideWritten": (
        "devices: NAME: inside",
        "`inside: resistive` is short for `inside: {is: resistive}`.",
    ),
    "DrawsWritten": (
        "devices: NAME: draws",
        "What is not said is taken from the plate: {:g} to {:g} times its current at full "
        "work.".format(*STEADY_OF_PLATE),
    ),
    "BrickWritten": (
        "devices: NAME: brick",
        "Two minutes with a meter on the old brick are the best single fact that there is. Without "
        "`original: yes` its plate and a meter on it do not count as two witnesses of polarity.",
    ),
    "ChargerWritten": (
        "shelf: NAME (is: charger)",
        "Write a port's list as it is printed (`5V⎓3A 9V⎓3A PPS 3.3-11V⎓3A`), as the data objects "
        "that a reader shows (`0x0001912C 0x0002D12C`), or as watts (`65 W`). Watts alone become "
        "what the standard asks for, and count as a guess. Every port offers 5 V.",
    ),
    "LinkWritten": ("links: a list", ""),
    "GroupWritten": (
        "groups: a list",
        "A group says what runs together: it sets load and heat. What is plugged in is another "
        "matter, and stays plugged in.",
    ),
}
SHELF = """\
## shelf and market

An entry of `shelf` is a thing that you have, one of `market` a thing that you could buy. Each says
with `is` what it is: a charger (on the shelf only), or one of the parts below. An entry under the
name of a part that the program knows ([market](market.md)) is that part, with what the entry says
otherwise; `like: NAME` does the same under another name. An entry of your `market` under such a
name replaces it.
"""


def page() -> str:
    """The page as Markdown."""
    found = schema()
    models: dict[str, Node] = {"SiteWritten": found, **found["$defs"]}
    parts = [m for m in models if m not in PLACES and m != "RailWritten"]
    lines = [INTRO, "```yaml", WHOLE.rstrip(), "```", ""]
    for model in (*list(PLACES)[: list(PLACES).index("ChargerWritten")],):
        lines += section(model, models)
    lines += [SHELF, *section("ChargerWritten", models)]
    lines += common(models[parts[0]])
    for model in _in_order(parts, found):
        lines += part(model, models)
    lines += section("LinkWritten", models) + section("GroupWritten", models)
    return "\n".join([*lines, *quantities(), ""])


def _in_order(parts: list[str], found: Node) -> list[str]:
    """The parts in the order in which the schema offers them."""
    entry = found["properties"]["market"]["additionalProperties"]["anyOf"][0]
    offered = [way["$ref"].rpartition("/")[2] for way in entry["oneOf"]]
    return [model for model in offered if model in parts]


def section(model: str, models: dict[str, Node]) -> list[str]:
    """One mapping with all its keys."""
    where, more = PLACES[model]
    says = "" if model == "SiteWritten" else f"{models[model]['description'].rstrip('.')}. "
    told = [f"{says}{more}".strip(), ""]
    return [f"## {where}", "", *told, *table(model, models[model])]


def common(node: Node) -> list[str]:
    """What every part may say."""
    rows = [
        row(key, node["properties"][key], PART[key], required=False) for key in PART if key != "is"
    ]
    return [
        "## shelf, market: NAME (any part)",
        "",
        "Every part may say this.",
        "",
        *HEAD,
        *rows,
        "",
    ]


def part(model: str, models: dict[str, Node]) -> list[str]:
    """One kind of part with the keys that it has beside the common ones."""
    node = models[model]
    kind = node["properties"]["is"]["const"]
    own = {
        key: value
        for key, value in node["properties"].items()
        if key not in PART or (key in node.get("required", ()) and key != "is")
    }
    says = str(node.get("description", "")).rstrip(".")
    lines = [f"### is: {kind}", "", f"{says}.", ""]
    lines += table(model, {**node, "properties": own}) if own else []
    if "RailWritten" in str(own):
        lines += ["Each of its `rails`:", "", *table("RailWritten", models["RailWritten"])]
    return lines


HEAD = ["| key | what it says | value | if left out | example |", "| --- | --- | --- | --- | --- |"]


def table(model: str, node: Node) -> list[str]:
    """The keys of a mapping as a table."""
    rows = []
    for key, value in node["properties"].items():
        found = meaning(model, key)
        if found is None:
            near = nearest(key, PART)
            raise SystemExit(f"{key!r} of {model} has no meaning in site/meanings.py; {near}")
        rows.append(row(key, value, found, required=key in node.get("required", ())))
    return [*HEAD, *rows, ""]


def row(key: str, value: Node, found: Meaning, *, required: bool) -> str:
    """One key."""
    says = found.says[0].upper() + found.says[1:]
    left_out = "**required**" if required else default(value)
    return f"| `{key}` | {says} | {kind(value)} | {left_out} | `{key}: {found.example}` |"


def kind(node: Node) -> str:
    """What may be written for a value, in words."""
    ways = [way for way in node.get("anyOf", [node]) if way.get("type") != "null"]
    ways = [way for way in ways if "oneOf" in way] or ways
    said = [
        _kind({**way, "description": way.get("description") or node.get("description", "")})
        for way in ways
    ]
    return ", or ".join(dict.fromkeys(said))


def _kind(node: Node) -> str:
    unit = re.search(r"a quantity in (\S+),", node.get("description", ""))
    if "$ref" in node:
        where = PLACES.get(node["$ref"].rpartition("/")[2], ("", ""))[0]
        anchor = re.sub(r"[^a-z ]", "", where.lower()).replace(" ", "-")
        return f"[mapping](#{anchor})" if where else "mapping"
    if "oneOf" in node:
        return "[entry](#shelf-and-market)"
    if unit and "items" not in node and "additionalProperties" not in node:
        return f"quantity in {unit[1]}"
    if "pattern" in node:
        words = re.sub(r"\\(.)", r"\1", node["pattern"][2:].partition(")( ")[0]).split("|")
        return _words(words) + ", with what it rests on"
    if "enum" in node:
        return "`yes`, `no`" if True in node["enum"] else _words(node["enum"])
    return _plain(node)


def _plain(node: Node) -> str:
    examples = [str(example) for example in node.get("examples", [])]
    if "items" in node:
        return f"list of {kind(node['items'])}".replace("text", "names").replace(
            "quantity", "quantities"
        )
    if isinstance(node.get("additionalProperties"), dict):
        inner = kind(node["additionalProperties"])
        return f"for each name: {inner}"
    if node.get("type") == "array":
        return "two shares of one, low and high"
    if "integer" in str(node.get("type")):
        return "whole number"
    if "0x0001912C" in examples:
        return "a port's list"
    if "wires" in examples:
        return "outer x inner in mm, or " + _words(examples[1:])
    if "const" in node:
        return f"`{node['const']}`"
    return f"text like `{examples[0]}`" if examples else "text"


def _words(words: list[str]) -> str:
    return ", ".join(f"`{word}`" for word in words)


def default(node: Node) -> str:
    """What holds if a key is left out."""
    given = node.get("default")
    match given:
        case bool():
            return "`yes`" if given else "`no`"
        case None:
            fact = re.match(r"quantity|.*(rests on|\(\w+\)`)$", kind(node))
            return "unknown" if fact else "nothing said"
        case {"unit": _}:
            named = Quantity(
                low=given["low"],
                high=given["high"],
                unit=given["unit"],
                basis=Basis(given["basis"]),
                spread=Spread(given["spread"]),
            )
            return f"`{quantity.write(named)}`"
        case dict() | "" | []:
            return "nothing said"
        case list():
            return "`[" + ", ".join(f"{share:g}" for share in given) + "]`"
    return f"`{given}`"


def quantities() -> list[str]:
    """How quantities are written, from what the reader takes."""
    bases = {
        Basis.MEASURED: "a meter has shown it",
        Basis.LIVED_ON: "the device has lived on it for years",
        Basis.DATASHEET: "the maker's sheet says so",
        Basis.PLATE: "it is printed on the thing",
        Basis.STANDARD: "a standard asks for it",
        Basis.ASSUMED: "nobody has looked; a range only",
    }
    names = {
        "V": "volts",
        "A": "current",
        "W": "power",
        "Ω": "resistance",
        "F": "capacitance",
        "H": "inductance",
        "s": "time",
        "m": "length",
        "°C": "temperature",
    }
    lines = [
        "## How quantities are written",
        "",
        "A figure, its unit, and in parentheses what it rests on:",
        "",
        "| written | means |",
        "| --- | --- |",
        "| `610 mA (measured)` | 610 mA, and a meter has shown it |",
        "| `8.2..9.4 V` | somewhere between the two; also `8.2 to 9.4 V` and `8.2–9.4 V` |",
        "| `9 V ±10 %` | 8.1 to 9.9 V; also `9 V ±0.9 V` and `9 V +/- 10 %` |",
        "| `max 500 mA (plate)` | somewhere from nothing to 500 mA |",
        "| `unknown` | the same as leaving the key out |",
        "",
        "A fact about a device or a part that is one bare figure must say what it rests on; a",
        "range need not. A figure by design (a length, a rating, a strap setting) needs nothing.",
        "A comma may stand for the decimal point; `1,500` is refused, because it may mean",
        "thousands. The lower end of a range comes first.",
        "",
        "| rests on | means |",
        "| --- | --- |",
        *(f"| `({basis.value})` | {bases[basis]} |" for basis in Basis),
        "",
        "Better knowledge replaces worse, in this order; `measured` and `lived-on` stand level.",
        "Two statements that cannot both be true are told.",
        "",
        "| unit | of | spellings | taken |",
        "| --- | --- | --- | --- |",
    ]
    for unit, what in names.items():
        low, high = AROUND_DEGC if unit == "°C" else quantity.LIMITS[unit]
        spelt = sorted(quantity.SPELLINGS[unit], key=lambda s: (len(s), s))
        more = [*quantity.TIME_WORDS] if unit == "s" else []
        shown = ", ".join(f"`{word}`" for word in (*spelt, *more))
        lines.append(f"| {unit} | {what} | {shown} | {low:g} to {high:g} {unit} |")
    prefixes = ", ".join(f"`{p}`" for p in quantity.PREFIXES if p)
    return [
        *lines,
        "",
        f"Before a unit may stand {prefixes} (not before °C). Of a device's own figures none is "
        "below nought.",
    ]
