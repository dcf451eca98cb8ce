"""Valid sites broken in one place, in the ways in which people break them.

Each kind makes its mutations from a value and what the schema says of it, so that what comes out
is wrong by construction: a current in volts, a key that nobody has, a name that nobody bears.
Whether it is wrong is never asked of the reader that is measured. Three things are left out
because they leave a valid site that means something: words that are free text (a name, a plate),
temperatures below nought, and a value emptied that may be empty. What cuts into the punctuation
or the indentation may leave a valid site as well: such a mutation counts only if the plain YAML
library refuses it, or if the JSON Schema refuses what comes of it (see `cuts`).

The line at which it has to be told is that of the edit; where a required key was taken out, that
of the entry which lacks it; where a name was misspelt at the one place where it is given, the
first line that refers to it.
"""

import random
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import yaml
from tests.invariants.schema_walk import Path, Value, entry_line, line_of, values, ways
from tests.invariants.whole_sites import SITES


@dataclass(frozen=True, kw_only=True)
class Mutation:
    """A text with one edit, and the line at which it has to be told.

    Of a cut it has yet to be asked whether it leaves a valid site.
    """

    site: str
    path: Path
    text: str
    line: int
    kind: str = ""
    cut: bool = False

    def __str__(self) -> str:
        lines = self.text.splitlines()
        shown = lines[self.line - 1].strip() if self.line <= len(lines) else ""
        return f"{self.site}, {'.'.join(map(str, self.path))}, line {self.line}: {shown[:110]}"


Draw = random.Random
Mutations = Iterator[Mutation]

CAPACITOR, LOADED = "input_capacitor", ("loaded", "ran")
WITH_QUANTITIES = (CAPACITOR, *LOADED)
_UNIT = re.compile(r"(?<=\d)\s*[µA-Za-zΩ°][A-Za-z°/Ω]*")
_FIGURE = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")
_RANGE = re.compile(r"^([\d.]+)\.\.([\d.]+)(?= )")
_BASIS = re.compile(r"\((?:measured|datasheet|plate|assumed)\)")
# A unit that exists and measures something else.
OTHER_UNIT = {
    **{"V": "A", "A": "V", "W": "V", "Ω": "µF", "F": "mA", "H": "Ω", "s": "V"},
    **{"m": "s", "°C": "V", "K/W": "W"},
}
# More than any of these can be in an old device or beside it.
ABSURD = {
    **{"V": "20 kV", "A": "5 kA", "W": "200 kW", "Ω": "2000 MΩ", "F": "30 kF", "H": "2 kH"},
    **{"s": "90 d", "m": "80 km", "°C": "300 °C", "K/W": "20000 K/W"},
}
ABSURD_WORDS = {
    **{"plug": "55x21", "conductors": "200", "count": "10000", "gauge": "99 AWG"},
    **{"budget": "99999999999 EUR", "price": "99999999999 EUR", CAPACITOR: "30 kF 16 V (plate)"},
    **{"loaded": "20 kV at 600 mA (measured)", "ran": "9 V at 5 kA (measured)"},
}


def replaced(value: Value, new: str, node: Any = None) -> str:
    """The text of a site with another text in the place of a node."""
    node = node or value.node
    text = SITES[value.site]
    end = node.end_mark.index
    if isinstance(node, yaml.MappingNode | yaml.SequenceNode) and not node.flow_style:
        end = len(text[:end].rstrip())  # a block ends where the next thing begins
    return text[: node.start_mark.index] + new + text[end:]


def changed(value: Value, new: str) -> Mutation:
    """A value replaced, quoted as it was."""
    quote = getattr(value.node, "style", None) or ""
    if quote in ('"', "'") and not new.startswith(("[", "{")):
        new = quote + new + quote
    gap = " " if value.node.start_mark.index == value.node.end_mark.index else ""
    text = replaced(value, gap + new)
    # A block that becomes one value stands where the block stood.
    line = line_of(value.node)
    return Mutation(site=value.site, path=value.path, text=text, line=line)


def renamed(value: Value, new: str, line: int = 0) -> Mutation:
    """A key replaced."""
    text = replaced(value, new, value.key)
    line = line or line_of(value.key)
    return Mutation(site=value.site, path=value.path, text=text, line=line)


def slip(word: str, known: set[str], draw: Draw) -> str:
    """A word with a letter lost, doubled, wrong or changed over; never one that is known."""
    for _ in range(50):
        i = draw.randrange(len(word))
        made = draw.choice(
            (
                word[:i] + word[i + 1 :],
                word[: i + 1] + word[i:],
                word[:i] + draw.choice("aeinrstq") + word[i + 1 :],
                word[:i] + word[i + 1 : i + 2] + word[i] + word[i + 2 :],
            )
        )
        if made and made not in known and re.fullmatch(r"\w[\w.+-]*", made):
            return made
    return word + "q"


# What a value is.


def is_text(value: Value) -> bool:
    return isinstance(value.node, yaml.ScalarNode) and value.text != ""


def unit_of(value: Value) -> str:
    """The unit of a quantity; empty for anything else."""
    shown = str([way.get("description", "") for way in ways(value.schema, None)])
    found = re.search(r"a quantity in ([^,]+),", shown)
    return found[1] if found and is_text(value) and value.text != "unknown" else ""


def is_list_of_offers(value: Value) -> bool:
    return is_text(value) and any("0x" in str(w.get("examples")) for w in ways(value.schema, None))


def is_word(value: Value) -> bool:
    """Whether it is one of a few words, or in a narrow form."""
    found = ways(value.schema, None)
    listed = any("enum" in way or "pattern" in way or "const" in way for way in found)
    forms = ("plug", "count", "conductors", "budget", "price", "currency", "tariff", "gauge")
    return is_text(value) and (listed or value.last in (*forms, "mains"))


def figures(value: Value) -> bool:
    """Whether figures with units stand in it."""
    more = (*WITH_QUANTITIES, "budget", "price", "tariff", "gauge")
    return is_text(value) and bool(unit_of(value) or value.last in more)


def refers(value: Value) -> str:
    """How a value names something else: `value`, `key`, or not at all."""
    path = value.path
    if path[0] == "places" and path[2:3] == ("to",) and len(path) == 4:
        return "key"
    if path[0] == "shelf" and path[2:3] == ("together",) and len(path) > 3:
        return "key"
    named = value.last in ("at", "like") or (path[0] == "links" and value.last in ("from", "to"))
    listed = path[-2:-1] == ("held_on",) or (path[0] == "groups" and path[2:3] == ("together",))
    return "value" if is_text(value) and (named or (listed and value.key is None)) else ""


# The kinds.


def key_misspelt(value: Value, draw: Draw) -> Mutations:
    if value.key is not None and not value.named:
        yield renamed(value, slip(value.key.value, set(value.siblings), draw))


def key_taken_out(value: Value, _: Draw) -> Mutations:
    if not value.required:
        return
    text = SITES[value.site]
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
    top = len(value.path) == 1  # the whole file lacks it
    line = line_of(yaml.compose(new)) if top else entry_line(value.site, value.path[:-1])
    yield Mutation(site=value.site, path=value.path, text=new, line=line)


def key_twice(value: Value, _: Draw) -> Mutations:
    if value.key is None:
        return
    text = SITES[value.site]
    end = len(text[: value.node.end_mark.index].rstrip())
    again = text[value.key.start_mark.index : end]
    if value.holder.flow_style:
        new = f"{text[:end]}, {again}{text[end:]}"
        line = text.count("\n", 0, end) + 1
    else:
        stop = text.index("\n", end)
        new = f"{text[:stop]}\n{' ' * value.key.start_mark.column}{again}{text[stop:]}"
        line = text.count("\n", 0, stop) + 2
    yield Mutation(site=value.site, path=value.path, text=new, line=line)


def emptied(value: Value, _: Draw) -> Mutations:
    may_be = any("null" in str(way.get("type")) for way in ways(value.schema, None))
    if value.required and value.key is not None and not may_be:
        text = replaced(value, "")
        line = line_of(value.key)
        yield Mutation(site=value.site, path=value.path, text=text, line=line)


def wrong_word(value: Value, draw: Draw) -> Mutations:
    if is_word(value):
        made = slip(re.split(r"[ (]", value.text)[0], {"dc", "ac", "no"}, draw)
        bad = ("sideways", "maybe", "positiv", value.text + "x", made + "q", "42 x")
        yield changed(value, draw.choice(bad))


def wrong_unit(value: Value, draw: Draw) -> Mutations:
    if figures(value):
        found = list(_UNIT.finditer(value.text))
        if found:
            at = draw.choice(found)
            unit = draw.choice(("kg", "lx", "Vs", "%", "mAh", "xV"))
            yield changed(value, f"{value.text[: at.start()]} {unit}{value.text[at.end() :]}")


def wrong_dimension(value: Value, draw: Draw) -> Mutations:
    unit = unit_of(value)
    if unit:
        found = list(_UNIT.finditer(value.text))
        at = draw.choice(found)
        new = f"{value.text[: at.start()]} {OTHER_UNIT[unit]}{value.text[at.end() :]}"
        yield changed(value, new)
    elif value.last in LOADED and " at " in value.text:
        volts, _, amps = value.text.partition(" at ")
        yield changed(value, f"{volts.replace('V', 'A')} at {amps}")
    elif value.last == CAPACITOR and "F" in value.text:
        yield changed(value, value.text.replace("F", "A"))


def unit_dropped(value: Value, draw: Draw) -> Mutations:
    if figures(value) or is_list_of_offers(value):
        found = list(_UNIT.finditer(value.text))
        if found and "0x" not in value.text:
            at = draw.choice(found)
            yield changed(value, value.text[: at.start()] + value.text[at.end() :])


def negative(value: Value, draw: Draw) -> Mutations:
    if (figures(value) and "°C" not in value.text) or value.last in ("count", "conductors", "plug"):
        found = list(_FIGURE.finditer(value.text))
        if found:
            at = draw.choice(found)
            yield changed(value, f"{value.text[: at.start()]}-{value.text[at.start() :]}")
    elif is_list_of_offers(value) and "⎓" in value.text:
        yield changed(value, value.text.replace("⎓", "⎓-", 1))


def not_a_number(value: Value, draw: Draw) -> Mutations:
    if figures(value) or value.path[-2:-1] in (("efficiency",), ("continuous",)):
        bad = ("nan", ".nan", "NaN V", "inf", "-inf A", "1e400 V", "one volt", "9.1.2 V")
        yield changed(value, draw.choice(bad))


def absurd(value: Value, draw: Draw) -> Mutations:
    unit = unit_of(value)
    tail = _BASIS.search(value.text)
    basis = f" {tail[0]}" if tail else ""
    if unit:
        new = ABSURD[unit]
        shape = draw.choice(("{}", "max {}")) if not tail else "{}"
        yield changed(value, shape.format(new) + (basis or " (measured)"))
    elif value.last in ABSURD_WORDS and is_text(value):
        yield changed(value, ABSURD_WORDS[str(value.last)])
    elif value.path[-2:-1] in (("efficiency",), ("continuous",)):
        yield changed(value, "1.2")
    elif is_list_of_offers(value) and "⎓" in value.text:
        first = value.text.split()[0]
        bad = draw.choice((f"{first} 230V⎓1A", f"{first} 20V⎓99A", f"{first} 1V⎓1A"))
        yield changed(value, bad)


def ends_swapped(value: Value, _: Draw) -> Mutations:
    found = _RANGE.match(value.text) if unit_of(value) else None
    if found:
        yield changed(value, f"{found[2]}..{found[1]}{value.text[found.end() :]}")


def wrong_basis(value: Value, draw: Draw) -> Mutations:
    found = _BASIS.search(value.text)
    if found:
        bad = draw.choice(("(mesured)", "(guess)", "()", "(measured, plate)", "(Measured)"))
        yield changed(value, _BASIS.sub(bad, value.text))


def basis_dropped(value: Value, _: Draw) -> Mutations:
    """Of a bare point that then rests on nothing."""
    words = value.text.split()
    fact = any("unknown" in way.get("description", "") for way in ways(value.schema, None))
    shaped = _BASIS.search(value.text) and len(words) == 3 and ".." not in value.text
    free = value.path[-1] in ("at",) or value.last in ("ambient", "length", "straps", "button")
    if fact and shaped and not free:
        yield changed(value, " ".join(words[:2]))


def text_for_mapping(value: Value, draw: Draw) -> Mutations:
    if isinstance(value.node, yaml.MappingNode):
        yield changed(value, draw.choice(("hello", "'12'", "9 V", "-3")))


def list_for_mapping(value: Value, draw: Draw) -> Mutations:
    if isinstance(value.node, yaml.MappingNode):
        yield changed(value, draw.choice(("[a, b]", "[]", "[{a: b}]")))


def other_for_list(value: Value, draw: Draw) -> Mutations:
    if isinstance(value.node, yaml.SequenceNode):
        yield changed(value, draw.choice(("hello", "{}", "{a: b}", "9 V")))


def list_for_text(value: Value, draw: Draw) -> Mutations:
    if is_text(value):
        yield changed(value, draw.choice(("[a, b]", "[]", "[[9 V]]")))


def mapping_for_text(value: Value, draw: Draw) -> Mutations:
    if is_text(value) and value.last != "inside":
        yield changed(value, draw.choice(("{a: b}", "{}")))


def unknown_reference(value: Value, draw: Draw) -> Mutations:
    if refers(value) == "value":
        yield changed(value, draw.choice(("zzz", value.text + "-x", "x" * 40)))
    elif refers(value) == "key":
        yield renamed(value, draw.choice(("zzz", "Q+zzz", f"{value.key.value}x")))


def misspelt_reference(value: Value, draw: Draw) -> Mutations:
    if refers(value) == "value":
        names = {v.key.value for v in values(value.site) if v.key is not None}
        yield changed(value, slip(value.text, names, draw))
    elif refers(value) == "key":
        names = {k.value for k, _ in value.holder.value}
        yield renamed(value, slip(value.key.value, names, draw))


def misspelt_where_given(value: Value, draw: Draw) -> Mutations:
    path = value.path
    port = path[0] == "shelf" and path[2:3] == ("ports",) and len(path) == 4
    if not port and not (path[0] in ("devices", "places") and len(path) == 2):
        return
    name = str(value.last)
    lines = [
        line_of(other.key if refers(other) == "key" else other.node)
        for other in values(value.site)
        if refers(other)
        and (
            (other.path[:2] == path[:2] and name in str(other.last).split("+"))
            if port
            else (other.text == name or (refers(other) == "key" and other.last == name))
            and other.last != "like"
        )
    ]
    if lines:
        new = slip(name, {str(k.value) for k, _ in value.holder.value}, draw)
        yield renamed(value, new, min(lines))


def other_money(value: Value, _: Draw) -> Mutations:
    found = re.search(r"[A-Z]{3}(?=$|/kWh)", value.text)
    if found and value.last in ("budget", "price", "tariff"):
        yield changed(value, value.text.replace(found[0], "XTS"))


KINDS: dict[str, Callable[[Value, Draw], Mutations]] = {
    "key misspelt": key_misspelt,
    "key taken out": key_taken_out,
    "key twice": key_twice,
    "required value left empty": emptied,
    "wrong word": wrong_word,
    "wrong unit": wrong_unit,
    "wrong dimension": wrong_dimension,
    "unit dropped": unit_dropped,
    "sign flipped": negative,
    "no number": not_a_number,
    "out of all reason": absurd,
    "ends swapped": ends_swapped,
    "no such basis": wrong_basis,
    "basis dropped": basis_dropped,
    "other money": other_money,
    "text for a mapping": text_for_mapping,
    "list for a mapping": list_for_mapping,
    "no list for a list": other_for_list,
    "list for text": list_for_text,
    "mapping for text": mapping_for_text,
    "unknown name": unknown_reference,
    "name misspelt": misspelt_reference,
    "name misspelt where it is given": misspelt_where_given,
}
