"""Hostile input at scale: whatever is typed, plugged in or half written is a value or a fault.

python benchmarks/bench_hostile.py            200 000 inputs, 300 of them through the command line
python benchmarks/bench_hostile.py --quick    5 000 inputs, 20 of them through the command line
python benchmarks/bench_hostile.py --only site/4711    one input again, with its traceback

Every input has a random stream of its own, so its name is enough to see it again. Right is a
value that keeps what it promises, or `NotUnderstood`, or `Faulty`. Wrong is any other exception,
a value that is not finite or does not read back, and whatever takes too long twice.
"""

import argparse
import json
import os
import random
import signal
import string
import subprocess
import sys
import tempfile
import time
import traceback
from collections import Counter, defaultdict
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NoReturn

import yaml

from sinkside import demo, hosts, plates, quantity
from sinkside.cli import check_text, pdo_text, plan_json, plan_text
from sinkside.faults import Faulty, NotUnderstood
from sinkside.plan import plan as plan_site
from sinkside.site.read import read as read_site
from sinkside.site.schema import schema
from sinkside.standards.pd_objects import decode_sink, decode_source, encode
from yardstick import yardstick

FULL, QUICK = 200_000, 5_000
FULL_CALLS, QUICK_CALLS = 300, 20
READING_S, PLANNING_S, HANGS_S = 1.0, 5.0, 20.0
"""What an input may take, before the yardstick: seconds of the processor to be read, and to be
planned, so that a busy neighbour does not count; seconds by the clock at all."""

Draw = random.Random
Tree = dict[str, bytes | str | None]
"""A tree of files: bytes of a file, `>target` of a link, `|` for a pipe, None for a folder."""

UNITS = ("V", "A", "W", "VA", "Ω", "F", "H", "s", "Hz", "m", "°C", "K/W", "J", "V/s")
NASTY = (
    *("\u202e", "\ufeff", "\u0000", "\u0085", "\u2028", "é", "e\u0301", "½", "١٢", "²", "💥"),
    *(
        "∞",
        "NaN",
        "inf",
        "1e999",
        "1e-999",
        "9" * 300,
        "[" * 5000,
        "0",
        "-",
        "−",
        "±",
        "..",
        "…",
        "(",
        ")",
    ),
    *("{", "}", "[", "]", "'", '"', "#", ": ", "&a", "*a", "!!", "%", "\t", "\r", "\n", "---\n"),
    *("µ", "μ", "Ω", "\u2126", "⎓", "⊖–C–⊕", "0x", "PPS ", "AVS ", "W", "V", "A", " max ", "\\"),
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
LISTS = ("5V⎓3A 9V⎓3A 15V⎓2A", "PPS 3.3-11V⎓3A", "AVS 9-15V⎓3A", "9V⎓3A", "0x0002D12C", "65 W")
PLATES = (
    *("DC IN 9V⎓ 500mA ⊕–C–⊖", "OUTPUT: 5V⎓3A, 9V⎓3A, PPS 3.3-11V⎓3A", "9 VAC 1000 mA"),
    *("INPUT 100-240V~ 50/60Hz 0.5A MAX. OUTPUT 12V 1,5A 18VA", "C1+C2: 45W+20W TOTAL 65W"),
    *("EINGANG 230V~ 50Hz AUSGANG 12V= 800mA", "DC 7.5V 1.2A (PEAK 2A)", "S/N 0923-A5 2021/09"),
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


class WrongValue(Exception):
    """A value came out that breaks a promise."""


class Hangs(BaseException):
    """An input took longer than anything may; nothing on the way is to catch it."""


@dataclass(frozen=True, kw_only=True)
class Kind:
    """One kind of input: how one is made, what reads it, and the call that does the same."""

    share: float
    make: Callable[[Draw], Any]
    run: Callable[[Any], object]
    call: Callable[[Any, Path], tuple[list[str], bytes]]
    limit_s: float = READING_S


def spoiled(draw: Draw, text: str, most: int = 4) -> str:
    """A text with some places flipped, cut, doubled, moved or filled with what nobody expects."""
    for _ in range(draw.randint(1, most)):
        a, b = sorted(draw.randint(0, len(text)) for _ in range(2))
        b = min(b, a + draw.choice((1, 3, 40)))
        filling = draw.choice(
            (
                "",
                text[a:b] * 2,
                draw.choice(NASTY),
                draw.choice(string.printable),
                chr(draw.choice((draw.randrange(0x20, 0x2FF), draw.randrange(0xE000, 0x1F000)))),
                text[a:b].swapcase(),
                text[b:a:-1],
            )
        )
        text = text[:a] + filling + text[b:]
    if draw.random() < 0.05:
        text = text[: draw.randint(0, len(text))]
    return text * draw.choice((2, 30)) if draw.random() < 0.02 else text


def make_quantity(draw: Draw) -> tuple[str, str]:
    unit = draw.choice(UNITS)
    figure = draw.choice(("9", "0.5", "1,5", "-3", "1e3", ".5", "1e-9", "123456789", "0"))
    shape = draw.choice(
        ("{f} {u}", "{f}{u}", "max {f} {u}", "{f}..{g} {u}", "{f} {u} ±10 %", "{f} {u} ±1 {u}")
    )
    text = shape.format(f=figure, g=draw.choice(("10", "1e3", "0")), u=draw.choice("mkµ") + unit)
    text += draw.choice(("", " (measured)", " (plate, varies)", " (guess)"))
    return (spoiled(draw, text, 2) if draw.random() < 0.7 else text), unit


def run_quantity(case: tuple[str, str]) -> None:
    found = quantity.read(case[0], case[1])
    written = quantity.write(found)
    again = quantity.read(written, case[1])
    if abs(again.high - found.high) > 1e-9 * max(abs(found.high), abs(found.low)):
        raise WrongValue(f"{found.high!r} is written as {written} and reads back {again.high!r}")


def call_quantity(case: tuple[str, str], _: Path) -> tuple[list[str], bytes]:
    draws = json.dumps(case[0], ensure_ascii=False)
    site = f"site: {{name: x}}\ndevices: {{a: {{use: ordinary, draws: {{steady: {draws}}}}}}}\n"
    return ["check", "-"], encoded(site)


def encoded(text: str) -> bytes:
    return text.encode("utf-8", "surrogateescape")


def make_plate(draw: Draw) -> str:
    text = draw.choice((" ", "\n")).join(draw.choices(PLATES, k=draw.randint(1, 3)))
    if draw.random() < 0.3:
        words = text.split() + list(NASTY)
        text = " ".join(draw.choices(words, k=draw.choice((5, 30, 400))))
    if draw.random() < 0.02:  # what a call holds that is no UTF-8
        text += "\udcff"
    return spoiled(draw, text)


def run_plate(text: str) -> None:
    strict_json(plates.read(text).as_json())
    encoded("\n".join(check_text.plate_lines("plate", text)))


def strict_json(document: Any) -> None:
    """As the command line prints it: nothing that JSON has no word for."""
    json.dumps(document, ensure_ascii=False, allow_nan=False)


Words = tuple[tuple[str, ...], str, str, str | None]


def make_words(draw: Draw) -> Words:
    def word() -> str:
        value = draw.choice((draw.getrandbits(32), draw.getrandbits(32) & 0xF0FFFFFF, 0x0001912C))
        text = f"0x{value:08X}"
        return spoiled(draw, text, 2) if draw.random() < 0.1 else text

    side = draw.choice(("source", "sink", "request", "encode"))
    revision = draw.choice(("2.0", "3.0", "3.1", "3.2"))
    words = tuple(word() for _ in range(draw.randint(1, 12)))
    if side == "request":
        words = (f"{draw.randint(0, 8) << 28 | draw.getrandbits(28):08X}",)
    if side == "encode":
        words = tuple(spoiled(draw, draw.choice(LISTS), 2) for _ in words)
    offers = " ".join(word() for _ in range(draw.randint(0, 8))) if side == "request" else None
    return words, side, revision, offers


def run_words(case: Words) -> None:
    words, side, revision, offers = case
    if side == "encode":
        document = pdo_text.encoded(words, revision)
    else:
        document = pdo_text.decoded(words, side, revision, offers)
    strict_json(document)
    pdo_text.lines(document)
    if side in ("source", "sink"):
        rev = pdo_text.REVISIONS[revision]
        for text in words:
            value = pdo_text.word(text)
            obj = decode_source(value, rev) if side == "source" else decode_sink(value, rev)
            if encode(obj, rev) != value:
                raise WrongValue(f"0x{value:08X} encodes to 0x{encode(obj, rev):08X}")


def call_words(case: Words, _: Path) -> tuple[list[str], bytes]:
    words, side, revision, offers = case
    asked = ["--encode"] if side == "encode" else ["--side", side]
    asked += ["--of", offers] if offers is not None else []
    return ["pdo", *asked, "--revision", revision, "--", *(w.replace("\0", "") for w in words)], b""


OBJECTS: dict[str, dict[str, str]] = {
    "fixed_supply": {"voltage": "9000mV", "maximum_current": "3000mA", "peak_current": "0"},
    "programmable_supply": {
        "minimum_voltage": "3300mV",
        "maximum_voltage": "11000mV",
        "maximum_current": "3000mA",
        "pps_power_limited": "1",
    },
    "spr_adjustable_voltage_supply": {
        "maximum_current_9V_to_15V": "4000mA",
        "maximum_current_15V_to_20V": "3350mA",
        "peak_current": "0",
    },
    "variable_supply": {"minimum_voltage": "9000mV", "maximum_voltage": "15000mV"},
    "battery": {"minimum_voltage": "5000mV", "maximum_power": "27000mW"},
    "augmented_supply": {},
}
FIGURES = (
    "0mV",
    "0mA",
    "-1mV",
    "9V",
    "9000uV",
    "5000",
    "99999mV",
    "",
    "mV",
    "\0",
    "5000mV\n5000mV",
)


def make_tree(draw: Draw) -> tuple[Tree, str]:
    tree: Tree = {}
    for number in range(draw.randint(1, 3)):
        base = f"class/usb_power_delivery/pd{number}"
        tree[f"{base}/revision"] = b"3.1\n"
        listed = f"{base}/{draw.choice(('source-capabilities', 'source_capabilities', 'sink-x'))}"
        tree[f"{listed}/1:fixed_supply/voltage"] = b"5000mV\n"
        tree[f"{listed}/1:fixed_supply/maximum_current"] = b"3000mA\n"
        for position in range(2, draw.randint(2, 9)):
            kind = draw.choice(tuple(OBJECTS))
            entry = f"{listed}/{position}:{kind}"
            tree |= {
                f"{entry}/{key}": f"{figure}\n".encode() for key, figure in OBJECTS[kind].items()
            }
    names = sorted(tree)
    for name in draw.sample(names, k=min(len(names), draw.randint(0, 4))):
        spoil_file(draw, tree, name)
    odd = draw.choice(("my charger", "a: b", "# a", "-", "yes", "", "{", "é", "a\nb", "fuse-2a"))
    return tree, odd if draw.random() < 0.2 else "charger"


def spoil_file(draw: Draw, tree: Tree, name: str) -> None:
    folder, _, file = name.rpartition("/")
    if draw.random() < 0.0003:
        tree[name] = "|"
        return
    match draw.randrange(8):
        case 0:
            del tree[name]
        case 1:
            tree[name] = draw.choice(FIGURES).encode()
        case 2:
            tree[name] = draw.randbytes(draw.choice((0, 3, 5000)))
        case 3:
            tree[name] = None
        case 4:
            tree[name] = f">{draw.choice((file, '..', '../..', '/dev/zero', '/dev/null', 'gone'))}"
        case 5:
            behind = draw.choice(("", "x", "\n", "0"))
            tree[f"{folder}{behind}/{file}x"] = b"1"
        case 6:
            tree[f"{folder}/../{draw.randint(0, 99)}:fixed_supply/voltage"] = b"9000mV"
        case _:
            tree[name] = spoiled(draw, (tree[name] or b"").decode()).encode()  # type: ignore[union-attr]


def write_tree(tree: Tree, root: Path) -> None:
    for name, content in tree.items():
        file = root / name
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            if content is None:
                file.mkdir()
            elif content == "|":
                os.mkfifo(file)
            elif isinstance(content, str):
                file.symlink_to(content[1:])
            else:
                file.write_bytes(content)
        except OSError:
            continue  # two drawn things want one name: the first stays


def run_tree(case: tuple[Tree, str]) -> None:
    tree, name = case
    with tempfile.TemporaryDirectory() as folder:
        write_tree(tree, Path(folder))
        for charger in hosts.chargers(Path(folder)):
            strict_json(hosts.as_json(charger))
            entry = hosts.shelf_entry(name, charger)
            site = SMALL.split("shelf:")[0] + "shelf:\n" + entry
            try:
                found = read_site(site, "import")
            except Faulty as error:
                raise WrongValue(f"the entry does not load: {error.faults[0]}") from None
            if [c.ports[0].offers for c in found.chargers] != [charger.offers]:
                raise WrongValue("the entry loads as another list")


def call_tree(case: tuple[Tree, str], folder: Path) -> tuple[list[str], bytes]:
    write_tree(case[0], folder)
    return ["charger", "--root", str(folder), "--name", case[1]], b""


SCHEMA = schema()


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
    match draw.randrange(8):
        case 0:
            del holder[key]
        case 1 if isinstance(holder, dict):
            holder[spoiled(draw, str(key), 1)] = holder.pop(key)
        case 2:
            other, name = draw.choice(nodes(data))
            holder[key] = json.loads(json.dumps(other[name]))
        case 3:
            holder[key] = draw.choice(({}, [], None, [holder[key]], {"x": holder[key]}))
        case 4:
            for _ in range(draw.choice((3, 30, 90))):
                holder[key] = [holder[key]] if draw.random() < 0.5 else {"a": holder[key]}
        case 5 if isinstance(holder[key], str):
            holder[key] = spoiled(draw, holder[key], 1)
        case 6 if isinstance(holder[key], str):  # what another key like it has
            holder[key] = draw.choice(
                [o[k] for o, k in nodes(data) if k == key and o is not holder] or VALUES
            )
        case _:
            holder[key] = draw.choice(VALUES)


def make_site(draw: Draw) -> bytes:
    origin = draw.choice((SMALL, SMALL, demo.text(), None))
    if origin is not None and draw.random() < 0.4:  # as text
        raw = bytearray(spoiled(draw, origin).encode())
        for _ in range(draw.choice((0, 0, 1, 5))):
            raw[draw.randrange(len(raw))] = draw.randrange(256)
        lines = bytes(raw).splitlines(keepends=True)
        if draw.random() < 0.2:
            lines.insert(draw.randrange(len(lines)), draw.choice(lines))
        return b"".join(lines)
    if origin is None:
        data = invented(draw, SCHEMA)
        data["site"] = {"name": "x"}
        data["links"], data["groups"] = [], []
    else:
        data = yaml.load(origin, Loader=yaml.CBaseLoader)
    if draw.random() < 0.8:
        for _ in range(draw.choice((1, 1, 1, 2, 3))):
            misshape(draw, data)
    return json.dumps(data, ensure_ascii=False, indent=draw.choice((None, 1))).encode()


def run_site(raw: bytes, *, planned: bool = False) -> None:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise NotUnderstood("not UTF-8") from None  # as the command line does
    site = read_site(text, "site.yaml")
    strict_json(check_text.as_json(site))
    check_text.lines(site)
    if planned:
        found = plan_site(site, lambda _: None)
        strict_json(plan_json.as_json(found, None))
        plan_text.lines(found, None, why=True)


def make_planned(draw: Draw) -> bytes:
    """A small site with hostile values at places where a reader takes them."""
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
    return json.dumps(data, ensure_ascii=False).encode()


KINDS = {
    "quantity": Kind(share=0.30, make=make_quantity, run=run_quantity, call=call_quantity),
    "plate": Kind(
        share=0.15,
        make=make_plate,
        run=run_plate,
        call=lambda text, _: (["plate", "-"], encoded(text)),
    ),
    "words": Kind(share=0.26, make=make_words, run=run_words, call=call_words),
    "tree": Kind(share=0.05, make=make_tree, run=run_tree, call=call_tree),
    "site": Kind(
        share=0.22,
        make=make_site,
        run=run_site,
        call=lambda raw, _: (["check", "-"], raw),
    ),
    "plan": Kind(
        share=0.02,
        make=make_planned,
        run=lambda raw: run_site(raw, planned=True),
        call=lambda raw, _: (["plan", "-"], raw),
        limit_s=PLANNING_S,
    ),
}


def outcome(kind: Kind, case: Any) -> tuple[str, float]:
    """What came of one input, and how long the processor took, s."""
    start = time.process_time()
    signal.setitimer(signal.ITIMER_REAL, HANGS_S * SCALE[0])
    try:
        kind.run(case)
        told = "value"
    except (NotUnderstood, Faulty):
        told = "fault"
    except (Exception, Hangs) as error:  # whatever it is, it is a failure and is told
        frames = [f for f in traceback.extract_tb(error.__traceback__) if "sinkside" in f.filename]
        where = f"{Path(frames[-1].filename).name}:{frames[-1].lineno}" if frames else "here"
        told = f"{type(error).__name__}: {str(error)[:70]} [{where}]"
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0.0)
    return told, time.process_time() - start


SCALE = [1.0]


def hangs(*_: object) -> NoReturn:
    raise Hangs(f"longer than {HANGS_S:g} s")


def made(seed: int, name: str, index: int) -> Any:
    return KINDS[name].make(random.Random(f"{seed}/{name}/{index}"))


def in_process(seed: int, total: int) -> int:
    """Every input through the functions; the number of failures."""
    failures: dict[str, list[tuple[int, str, str]]] = defaultdict(list)
    for name, kind in KINDS.items():
        counts: Counter[str] = Counter()
        slowest = (0.0, 0)
        begun = time.perf_counter()
        for index in range(round(total * kind.share)):
            case = made(seed, name, index)
            told, took = outcome(kind, case)
            if told in ("value", "fault") and took > kind.limit_s * SCALE[0]:
                took = min(
                    took, outcome(kind, case)[1]
                )  # collecting garbage may have hit the first
                told = "slow" if took > kind.limit_s * SCALE[0] else told
            slowest = max(slowest, (took, index))
            counts[told if told in ("value", "fault") else "FAILED"] += 1
            if told not in ("value", "fault"):
                alike = f"{name} {told.partition(':')[0]} {told[told.rfind('[') :]}"
                failures[alike].append((len(repr(case)), f"{name}/{index}", told))
        spent = time.perf_counter() - begun
        print(
            f"{name:9} {sum(counts.values()):7} inputs  {counts['value']:6} values "
            f"{counts['fault']:6} faults {counts['FAILED']:5} FAILED  "
            f"slowest {slowest[0]:.3f} s ({name}/{slowest[1]})  {spent:.0f} s",
            flush=True,
        )
    for found in sorted(failures.values(), key=len, reverse=True):
        size, index_of, told = min(found)
        shown = repr(made(seed, index_of.partition("/")[0], int(index_of.partition("/")[2])))
        print(f"{len(found):5} × {told}\n      shortest is {index_of}, {size}: {shown[:300]}")
    return sum(map(len, failures.values()))


def one_call(seed: int, name: str, index: int) -> str:
    """One input through the real command line; empty if it went as it should."""
    with tempfile.TemporaryDirectory() as folder:
        arguments, stdin = KINDS[name].call(made(seed, name, index), Path(folder))
        program = [str(Path(sys.executable).with_name("sinkside")), *arguments]
        program.insert(2, "--json")
        try:
            done = subprocess.run(program, input=stdin, capture_output=True, timeout=120)
        except subprocess.TimeoutExpired:
            return f"{name}/{index}: no end after 120 s"
    try:
        json.loads(done.stdout)
    except ValueError:
        shown = f"{done.stdout[:80]!r} {done.stderr[-200:]!r}"
        return f"{name}/{index}: exit {done.returncode}, no JSON: {shown}"
    if done.returncode not in (0, 1, 2) or b"Traceback" in done.stderr:
        return f"{name}/{index}: exit {done.returncode}: {done.stderr[-200:]!r}"
    return ""


def through_the_command_line(seed: int, calls: int) -> int:
    """A sample through subprocesses; the number of failures."""
    sample = [
        (seed, name, index)
        for name in KINDS
        for index in range(-(-calls // len(KINDS)))  # the first of each kind
    ][:calls]
    with ThreadPoolExecutor(max_workers=2) as pool:
        told = [line for line in pool.map(lambda one: one_call(*one), sample) if line]
    print(f"{len(sample)} calls of the command line, {len(told)} FAILED")
    print("\n".join(told))
    return len(told)


def main() -> int:
    """Run all, or one."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--quick", action="store_true")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--only", metavar="KIND/NUMBER")
    asked = options.parse_args()
    signal.signal(signal.SIGALRM, hangs)
    if asked.only:
        name, _, index = asked.only.partition("/")
        case = made(asked.seed, name, int(index))
        print(repr(case))
        KINDS[name].run(case)
        return 0
    SCALE[0] = max(1.0, yardstick())
    print(f"seed {asked.seed}, limits × {SCALE[0]:.2f}", flush=True)
    failed = in_process(asked.seed, QUICK if asked.quick else FULL)
    failed += through_the_command_line(asked.seed, QUICK_CALLS if asked.quick else FULL_CALLS)
    print(f"{failed} failures")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
