"""Site files: spoiled text, YAML that means something else, misshapen and invented data."""

import json
from typing import Any

import yaml

from hostile.calls import Call
from hostile.plate_texts import texts
from hostile.signs import FIGURES, LONG, SIGNS, Draw, any_sign, nested, raw, repeated, spoiled
from sinkside import demo
from sinkside.site.schema import schema

SCHEMA = schema()
UNITS = ("V", "A", "W", "VA", "Ω", "F", "H", "s", "Hz", "m", "°C", "K/W", "J", "V/s", "EUR", "AWG")
SPREADS = (
    *("{f} {u}", "{f}{u}", "max {f} {u}", "{f}..{g} {u}", "{f} {u} ±10 %", "{f} {u} ±1 {u}"),
    *(
        "{f} {u} ±{g} %",
        "{f}-{g} {u}",
        "{f} {u}..{g} {u}",
        "{u} {f}",
        "{f} {u} at {g} A",
        "~{f} {u}",
    ),
    *(
        "min {f} {u}",
        "{f} {u} {g} {u}",
        "{f}…{g} {u}",
        "≤ {f} {u}",
        "{f} {u} +{g} % -{f} %",
        "({f} {u})",
    ),
)
BASES = (
    "",
    "",
    "",
    " (measured)",
    " (plate, varies)",
    " (guess)",
    " (lived-on)",
    " ()",
    " (measured",
)
VALUES = (
    *("", "0", "-1", "1", "nan", "inf", "1e308", "unknown", "yes", "no", "null", "⎓", "a+b", "💥"),
    *("0 V", "0 A", "0 Ω", "0 s", "0 m", "0 F", "0..0 V", "1e4 V", "-5 V", "1000 A (measured)"),
    *("1e-300 A (measured)", "1e-12 V (plate)", "max 0 A", "9 V ±100 %", "9 V ±0 %", "-100 °C"),
    *("5V⎓0A", "5V⎓3A -9V⎓3A", "0x00000000", "0xC0000000", "0xD0000000", "0xE0000000", "0.5 W"),
    *("0x0001912C 0xC0000000", "0x0001912C 0xD0000000", "0x0001912C 0x0002D000"),
    *("240 W", "0xFFFFFFFF 0x0001912C", "1.1x0.1", "12x11.9", "0 AWG", "99 AWG", "0.00 EUR"),
    *("0 V at 0 A (measured)", "10 V at 1 A (measured)", "0 F 0 V", "7805", "x" * 5000, "../.."),
)
SMALL = """\
site: {name: My bench, ambient: 10..30 °C, currency: EUR}
rules: {solder: yes, open_cases: yes, spare_ports: may be used}
places: {bench: {}, rack: {ambient: max 38 °C, to: {bench: 1.8 m}}}
devices:
  radio: {use: ordinary, plate: "DC IN 9V⎓ 300mA ⊕–C–⊖", inlet: {plug: 5.5x2.1}, at: rack,
    brick: {plate: "OUTPUT 9V DC 500mA", open: 13.1 V (measured),
      loaded: 10.4 V at 280 mA (measured)}}
shelf:
  desk: {is: charger, at: bench, ports: {C1: "5V⎓3A 9V⎓3A 12V⎓3A", C2: "5V⎓3A 9V⎓2A"},
    together: {C1+C2: {C1: "5V⎓3A 9V⎓3A", C2: "5V⎓3A"}}}
"""
LAMP = "devices: {a: {use: ordinary, inlet: {plug: 5.5x2.1}}}"
# Where one quantity is asked for: a site with a gap, and the unit of the gap.
GAPS = (
    ("devices: {a: {use: ordinary, inlet: {plug: 5.5x2.1}, draws: {steady: GAP}}}", "A"),
    ("devices: {a: {use: ordinary, inlet: {plug: 5.5x2.1}, draws: {peak: GAP}}}", "A"),
    ("devices: {a: {use: ordinary, inlet: {plug: 5.5x2.1}, brick: {open: GAP}}}", "V"),
    ("devices: {a: {use: ordinary, inlet: {plug: 5.5x2.1}, brick: {loaded: GAP}}}", "V"),
    (
        "devices: {a: {use: ordinary, inlet: {plug: 5.5x2.1}, inside: {is: linear regulator,"
        " input_capacitor: GAP}}}",
        "F",
    ),
    (f"{LAMP}\nplaces: {{p: {{ambient: GAP}}}}", "°C"),
    (f"{LAMP}\nplaces: {{p: {{}}, q: {{to: {{p: GAP}}}}}}", "m"),
    (f"{LAMP}\nshelf: {{f: {{is: fuse, rating: GAP}}}}", "A"),
    (f"{LAMP}\nshelf: {{f: {{is: bleeder, across: GAP}}}}", "Ω"),
    (f"{LAMP}\nshelf: {{f: {{is: filter, henries: GAP, farads: 80..120 µF, carries: 2 A}}}}", "H"),
    (f"{LAMP}\nshelf: {{f: {{is: soft start, ramp: GAP, accepts: 4..26 V, carries: 3 A}}}}", "s"),
    (f"{LAMP}\nmarket: {{f: {{is: plug, plug: 4x1.7, price: GAP}}}}", "EUR"),
    (f"{LAMP}\nshelf: {{c: {{is: charger, ports: {{A: GAP}}}}}}", "W"),
)
YAML_TURNS = (
    "---\n{}",
    "{}---\n{}",
    "{}...\n{}",
    "%YAML 1.1\n---\n{}",
    "%YAML 9.9\n---\n{}",
    "%TAG ! tag:x,2000:\n---\n{}",
    "a: &a [x, x, x, x, x, x, x, x]\nb: &b [*a, *a, *a, *a, *a, *a]\nc: [*b, *b, *b]\n{}",
    "base: &base {{use: ordinary}}\nsite: &s\n  <<: *base\n  <<: *s\n{}",
    "x: &x [*x]\n{}",
    "x: !!python/object/apply:os.system ['true']\n{}",
    "x: !!binary {}\n{}",
    "x: !!int '9'\ny: !!float .inf\nz: !!timestamp 2001-01-01\n{}",
    "? [a, b]\n: c\n{}",
    "? {{a: b}}\n? ? a\n{}",
    "{}\ttab: x\n",
    "x:\n\t- a\n{}",
    "x: |\n  {}",
    "x: |9-\n         y\n{}",
    "x: >+\n\n\n\n{}",
    "{}# comment without an end",
    "{}'",
    '{}"\\',
    '{}x: "\\ud800 \\xff \\UFFFFFFFF \\q"',
    "- {}",
    "[{}]",
    "!x {}",
    "&x {}",
    "*x\n",
    "@x: {}",
    "{}x: @y",
    "{}`",
)


def call(draw: Draw) -> Call:
    """A site file by standard input, and the check of it."""
    return Call(arguments=("check", "-"), stdin=site(draw))


def quantity_call(draw: Draw) -> Call:
    """A small site with one quantity where it is asked for."""
    template, unit = draw.choice(GAPS)
    if draw.random() < 0.1:
        unit = draw.choice(UNITS)
    written = quantity(draw, unit)
    match draw.randrange(5):
        case 0:
            shown = written
        case 1:
            shown = "'" + written.replace("'", "''") + "'"
        case _:
            shown = json.dumps(written, ensure_ascii=draw.random() < 0.1)
    text = "site: {name: x, currency: EUR}\n" + template.replace("GAP", shown) + "\n"
    return Call(arguments=("check", "-"), stdin=raw(draw, text))


def quantity(draw: Draw, unit: str) -> str:
    """A quantity, in half of the cases one that somebody may have meant."""
    usual = ("9", "0.5", "1,5", "-3", "1e3", ".5", "1e-9", "123456789", "0", "250", "47", "12")
    size = draw.choice(("", "m", "k", "µ", "μ", "M", "n"))
    if draw.random() < 0.5:
        figure, other = draw.choice(("1.5", "3", "5")), draw.choice(("6", "9.5", "10"))
        size = size if draw.random() < 0.2 else ""
        text = draw.choice(SPREADS[:6]).format(f=figure, g=other, u=size + unit)
        text += draw.choice(BASES[1:3])
        return spoiled(draw, text, 1) if draw.random() < 0.3 else text
    figure, other = draw.choice(FIGURES), draw.choice((*usual, *FIGURES))
    size = draw.choice((size, "u", "p", "G", "da", "K", "mm", "µm"))
    text = draw.choice(SPREADS).format(f=figure, g=other, u=size + unit) + draw.choice(BASES)
    if draw.random() < 0.08:
        return repeated(draw, (text, "9", "..", " ", "V", "±", "(", "max ", *SIGNS), 20_000)
    return spoiled(draw, text, 2) if draw.random() < 0.6 else text


def site(draw: Draw) -> bytes:
    """A site file."""
    match draw.randrange(20):
        case 0 | 1 | 2 | 3:
            return raw(draw, as_text(draw))
        case 4 | 5 | 6:
            return raw(draw, as_yaml(draw))
        case 7:
            return raw(draw, large(draw) if draw.random() < 0.08 else nested(draw))
        case _:
            return raw(draw, as_data(draw))


def as_text(draw: Draw) -> str:
    """A site spoiled as text: lines doubled, moved, indented, ended in another way."""
    text = spoiled(draw, draw.choice((SMALL, SMALL, demo.text())), 6)
    lines = text.split("\n")
    for _ in range(draw.choice((0, 1, 3))):
        at = draw.randrange(len(lines))
        match draw.randrange(4):
            case 0:
                lines.insert(draw.randrange(len(lines)), lines[at])
            case 1:
                lines[at] = draw.choice((" ", "\t", "  ", "      ")) + lines[at]
            case 2:
                lines[at] = lines[at].lstrip()
            case _:
                lines.insert(at, draw.choice(SIGNS))
    return draw.choice(("\n", "\n", "\n", "\r\n", "\r", "\x85", "\u2028", "\n\n")).join(lines)


def as_yaml(draw: Draw) -> str:
    """A site with what YAML means by anchors, tags, documents, directives, blocks and escapes."""
    turn = draw.choice(YAML_TURNS)
    return (
        turn.replace("{}", draw.choice((SMALL, SMALL, demo.text())))
        .replace("{{", "{")
        .replace("}}", "}")
    )


def large(draw: Draw) -> str:
    """A line, a name, a list, a comment or a crowd of a million characters."""
    long = draw.choice(
        ("x", "9", " ", "é", "a ", "9 V ", "- ", "'", "[", "\\", "\t", "{a: ", "? ", "&a ")
    )
    filler = (long * LONG)[:LONG]
    return draw.choice(
        (
            f"{SMALL}# {filler}\n",
            SMALL.replace("My bench", json.dumps(filler)),
            SMALL + f"{filler}: x\n",
            SMALL.replace("13.1 V (measured)", json.dumps(filler)),
            filler,
            SMALL + "groups: [" + "x, " * (LONG // 3) + "]\n",
            SMALL + "links:\n" + "- {from: radio, to: radio, kind: data}\n" * (LONG // 40),
            SMALL + "".join(f"k{i}: x\n" for i in range(LONG // 9)),
            SMALL + "site: x\n" * (LONG // 8),
            SMALL + "".join(f"  p{i}: {{like: nothing}}\n" for i in range(LONG // 22)),
            SMALL + "  t: {is: trigger, straps: [" + "9 V, " * (LONG // 5) + "]}\n",
            SMALL.replace("at: rack,", "at: rack, held_on: [" + "none, " * (LONG // 6) + "],"),
            SMALL.replace("500mA", "500mA " * (LONG // 6)),
            many_devices("use: ordinary, plate: 9V DC"),
            many_devices("use: ordinary, plate: 9V DC 1A, inlet: {plug: 5.5x2.1}"),
        )
    )


def many_devices(said: str) -> str:
    """A site of a million characters, with as many devices as that takes."""
    one = f"  d00000: {{{said}}}\n"
    devices = "".join(f"  d{i}: {{{said}}}\n" for i in range(LONG // len(one)))
    return f"site: {{name: x}}\ndevices:\n{devices}"


def as_data(draw: Draw) -> str:
    """A site with its data misshapen, or one that was invented from the schema."""
    origin = draw.choice((SMALL, SMALL, demo.text(), None))
    if origin is None:
        data = invented(draw, SCHEMA)
        data["site"] = {"name": "x"}
        data["links"], data["groups"] = [], []
    else:
        data = yaml.load(origin, Loader=yaml.CBaseLoader)
    if draw.random() < 0.8:
        for _ in range(draw.choice((1, 1, 1, 2, 3, 9))):
            misshape(draw, data)
    if draw.random() < 0.3:
        return str(yaml.safe_dump(data, allow_unicode=True, sort_keys=False))
    return json.dumps(data, ensure_ascii=draw.random() < 0.1, indent=draw.choice((None, 1)))


def invented(draw: Draw, node: dict[str, Any], depth: int = 0) -> Any:
    """Something that the schema of the site file takes, whatever keys it has today."""
    if "$ref" in node:
        return invented(draw, SCHEMA["$defs"][node["$ref"].rpartition("/")[2]], depth)
    for several in ("anyOf", "oneOf"):
        if several in node:
            ways = [way for way in node[several] if "not" not in way]  # an entry that is `like` one
            return invented(draw, draw.choice(ways), depth)
    if node.get("type") == "null":
        return None
    if "pattern" in node and "examples" not in node:
        return draw.choice(("EUR", "22 AWG", "0 AWG", "99 AWG"))
    if "enum" in node:
        return str(draw.choice(node["enum"]))
    if "const" in node or "examples" in node:
        return str(node.get("const") or draw.choice(node["examples"]))
    if "properties" in node:
        wanted = node.get("required", [])
        return {
            key: invented(draw, inner, depth + 1)
            for key, inner in node["properties"].items()
            if key in wanted or draw.random() < 0.3
        }
    if isinstance(node.get("additionalProperties"), dict):
        names = draw.sample(("a", "b", "bench", "C1", "C2"), k=draw.randint(1, 2))
        return {name: invented(draw, node["additionalProperties"], depth + 1) for name in names}
    if node.get("type") == "array":
        items = node.get("prefixItems") or [node.get("items", {})] * draw.randint(0, 2)
        return [invented(draw, item, depth + 1) for item in items]
    if node.get("type") == "number":
        return draw.choice(("0.85", "0.9", "1", "0", "nan", "-1"))
    return draw.choice(VALUES) if draw.random() < 0.05 else draw.choice(("a", "bench", "7805"))


def nodes(data: Any) -> list[tuple[Any, Any]]:
    """Every (holder, key) of a document."""
    pairs: list[tuple[Any, Any]] = []
    keys = data.keys() if isinstance(data, dict) else range(len(data))
    for key in keys:
        pairs.append((data, key))
        if isinstance(data[key], dict | list):
            pairs += nodes(data[key])
    return pairs


def misshape(draw: Draw, data: Any) -> None:
    """One thing of a document renamed, moved, replaced, removed or nested."""
    holder, key = draw.choice(nodes(data) or [(data, "x")])
    text = holder[key] if key != "x" and isinstance(holder[key], str) else None
    match draw.randrange(11):
        case 0:
            holder.pop(key) if key != "x" else None
        case 1 if isinstance(holder, dict) and key != "x":
            holder[spoiled(draw, str(key), 1)] = holder.pop(key)
        case 2:
            other, name = draw.choice(nodes(data) or [({"x": 1}, "x")])
            holder[key] = json.loads(json.dumps(other[name]))
        case 3:
            holder[key] = draw.choice(({}, [], None, [text], {"x": text}, "", {"": ""}))
        case 4:
            inner: Any = text
            for _ in range(draw.choice((3, 30, 90))):
                inner = [inner] if draw.random() < 0.5 else {"a": inner}
            holder[key] = inner
        case 5 if text is not None:
            holder[key] = spoiled(draw, text, 1)
        case 6 if text is not None:  # what another key of its name has
            alike = [o[k] for o, k in nodes(data) if k == key and o is not holder]
            holder[key] = json.loads(json.dumps(draw.choice(alike or VALUES)))
        case 7 if text is not None:
            holder[key] = quantity(draw, draw.choice(UNITS))
        case 8 if isinstance(holder, dict):
            holder[draw.choice((*SIGNS, *FIGURES, any_sign(draw), "like", "is"))] = draw.choice(
                VALUES
            )
        case 9 if text is not None:
            holder[key] = spoiled(draw, draw.choice(texts()))
        case _:
            holder[key] = draw.choice((*VALUES, *FIGURES))


def plan_call(draw: Draw) -> Call:
    """A small site with hostile values at places where a reader takes them, to be planned."""
    data = yaml.load(SMALL, Loader=yaml.CBaseLoader)
    node = SCHEMA["$defs"]
    for name, entry in data["devices"].items():
        data["devices"][name] = invented(draw, node["DeviceWritten"]) | draw.choice(({}, entry))
        data["devices"][name].update(at="bench", held_on=[], use="ordinary")
    for number in range(draw.randint(1, 4)):
        data["shelf"][f"p{number}"] = invented(
            draw, SCHEMA["properties"]["shelf"]["additionalProperties"]
        )
    for part in data["shelf"].values():
        part.pop("at", None)
        part.pop("like", None)
    for _ in range(draw.randint(0, 2)):
        holder, key = draw.choice(nodes({"d": data["devices"], "s": data["shelf"]}))
        if isinstance(holder[key], str):
            holder[key] = draw.choice(VALUES)
    how = draw.choice(((), (), ("--why",), ("--strict",)))
    text = json.dumps(data, ensure_ascii=False)
    return Call(arguments=("plan", "-", *how), stdin=text.encode("utf-8", "replace"))
