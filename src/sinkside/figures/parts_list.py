"""The parts list as a table: CSV for a spreadsheet, Markdown for a page, lines for a terminal."""

import re
from collections.abc import Iterator, Sequence
from typing import Literal

from sinkside.figures.labels import cells, clean
from sinkside.plan.parts_list import Line, PartsList, Sum

HEAD = (
    "part",
    "what it is",
    "needed",
    "on the shelf",
    "to buy",
    "of those wait",
    "spare",
    "price of one",
    "in all",
    "currency",
    "for",
)
# What a spreadsheet may take for the beginning of a formula; some trim spaces first, and some
# read the full-width signs alike (common practice, no source).
_FORMULA = re.compile(r"[\s\ufeff\u200b]*[=+\-@\uff1d\uff0b\uff0d\uff20\u2212]")
_MARKUP = re.compile(r"([\\`*_\[\]|~$>])")
_LEADS = re.compile(r"^(\s*)([#+=-]|\d+(?=[.)]))")
UNKNOWN_PRICE = "unknown"
Cell = str | int


def parts_csv(
    found: PartsList, *, separator: Literal[",", ";"] = ",", byte_order_mark: bool = False
) -> str:
    """The parts list as CSV.

    Parameters
    ----------
    separator
        A semicolon where the spreadsheet writes decimals with a comma.
    byte_order_mark
        Whether to begin with U+FEFF, by which some spreadsheets know UTF-8.

    Notes
    -----
    Every cell of text is quoted, and one that a spreadsheet could take for a formula begins
    with an apostrophe; whoever reads it back has to take that off. Numbers are plain. Lines end
    in CR LF (RFC 4180, section 2).
    """
    rows: list[Sequence[Cell]] = [HEAD, *(_row(line, found.currency) for line in found.lines)]
    text = "".join(separator.join(_csv_cell(c) for c in row) + "\r\n" for row in rows)
    return ("\ufeff" if byte_order_mark else "") + text


def _row(line: Line, currency: str) -> tuple[Cell, ...]:
    return (
        line.part,
        line.words,
        line.needed,
        line.owned,
        line.to_buy,
        line.waits,
        line.spare,
        _price(line.price_cents),
        _price(line.cents),
        currency,
        _for(line),
    )


def _price(cents: int | None) -> str:
    return UNKNOWN_PRICE if cents is None else f"{cents / 100:.2f}"


def _for(line: Line) -> str:
    """The devices that take it, each with what is to be set on it there."""
    said = dict.fromkeys(u.device + (f" ({u.setting})" if u.setting else "") for u in line.uses)
    return ", ".join(said)


_NUMBER = re.compile(r"\d+(\.\d+)?")


def _csv_cell(value: Cell) -> str:
    if isinstance(value, int) or _NUMBER.fullmatch(value):
        return str(value)
    guarded = "'" + value if _FORMULA.match(value) or value[:1] in "\t\r\n" else value
    return '"' + clean(guarded).replace('"', '""') + '"'


def parts_markdown(found: PartsList) -> str:
    """The parts list as Markdown: one table of what is needed, one line for each sum.

    Notes
    -----
    What people wrote is escaped, so that nothing in it becomes markup, a link or HTML.
    """
    head = ("part", "needed", "on the shelf", "to buy", "in all", "for")
    lines = [
        f"| {' | '.join(head)} |",
        "| --- | ---: | ---: | ---: | ---: | --- |",
    ]
    for line in found.lines:
        if not line.needed:
            continue
        cells_ = (
            _escaped(line.words),
            str(line.needed),
            str(line.owned),
            _buy(line),
            _price(line.cents) if line.to_buy else "–",
            _escaped(_for(line)),
        )
        lines.append(f"| {' | '.join(cells_)} |")
    lines += ["", *(f"- {_escaped(text)}" for text in totals(found))]
    return "\n".join(lines) + "\n"


def _escaped(text: str) -> str:
    plain = clean(text).replace("&", "&amp;").replace("<", "&lt;")
    # What begins a heading or a list does so at the beginning only.
    plain = _LEADS.sub(lambda m: f"{m[1]}{''.join(f'&#{ord(c)};' for c in m[2])}", plain)
    # Some dialects make links of an address even without markup.
    plain = plain.replace("@", "&#64;").replace("://", "&#58;//")
    plain = re.sub(r"(?i)www\.", lambda m: m[0][:3] + "&#46;", plain)
    return _MARKUP.sub(r"\\\1", plain)


def _buy(line: Line) -> str:
    if not line.waits:
        return str(line.to_buy)
    rest = line.to_buy - line.waits
    return f"{rest} now, {line.waits} later" if rest else f"{line.waits} later"


def totals(found: PartsList) -> tuple[str, ...]:
    """The sums in words."""
    said = [f"to buy in all: {sum_words(found.total, found.currency)}"]
    later = [d.device for d in found.devices if d.waits]
    if later and found.now != found.total:
        said.append(
            f"of that now: {sum_words(found.now, found.currency)}; the rest waits until "
            f"{', '.join(later)} {'is' if len(later) == 1 else 'are'} measured"
        )
    if found.budget_cents is not None:
        said.append(f"budget: {found.budget_cents / 100:.2f} {found.currency}".rstrip())
    spare = [f"{line.spare} × {line.words}" for line in found.spare]
    if spare:
        said.append(f"left on the shelf: {', '.join(spare)}")
    said += [
        f"{c.charger}: {c.used} of {c.owned} used, {c.ports_left} ports left on those"
        for c in found.chargers
        if c.used
    ]
    return tuple(said)


def sum_words(sum_: Sum, currency: str) -> str:
    """A sum in words: at least so much, where prices are not known."""
    known = f"{sum_.cents / 100:.2f} {currency}".rstrip()
    if not sum_.unpriced:
        return known
    return f"{known}, and {sum_.unpriced} of unknown price"


def parts_text(found: PartsList, width: int = 98) -> Iterator[str]:
    """The parts list for a terminal: what is needed, then what each device costs, then sums."""
    needed = [line for line in found.lines if line.needed]
    room = max(20, width - 42)
    yield f"{'part':{room}} {'need':>5} {'own':>5} {'buy':>5} {'one':>10} {'in all':>10}"
    for line in needed:
        yield (
            f"{_fitted(line.words, room)} {line.needed:5} {line.owned:5} {line.to_buy:5} "
            f"{_price(line.price_cents):>10} {_price(line.cents) if line.to_buy else '–':>10}"
        )
    yield ""
    for device in found.devices:
        wait = ", once it is measured" if device.waits else ""
        yield f"{device.device}: {sum_words(device.to_buy, found.currency)}{wait}"
    yield from totals(found)


def _fitted(text: str, room: int) -> str:
    text = clean(text)
    while cells(text) > room:
        text = text.rstrip("…")[:-1] + "…"
    return text + " " * (room - cells(text))
