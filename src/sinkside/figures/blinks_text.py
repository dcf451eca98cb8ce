"""Who blinks whom, as lines of text: one small table for each charger, then what it means."""

from collections.abc import Iterator, Sequence

from sinkside.figures.labels import cells, clean, wrapped
from sinkside.plan.blinks import Blinks, Cause, Cell, Outcome
from sinkside.quantity import Quantity, rounded

_COLUMN = 17
_NAME = 24


def blinks_text(found: Blinks, width: int = 98) -> list[str]:
    """The matrix for a terminal.

    Parameters
    ----------
    width
        Columns that a line may take.

    Notes
    -----
    Devices on other chargers keep going whatever happens here, so each charger has a table of
    its own. Rows say what is plugged or pulled; switching has a row only where it does something.
    """
    units = sorted({(c.charger, c.unit) for c in found.causes})
    lines: list[str] = []
    for charger, unit in units:
        causes = [c for c in found.causes if (c.charger, c.unit) == (charger, unit)]
        here = [c.device for c in causes if c.device and c.how == "plugged"]
        several = sum(name == charger for name, _ in units) > 1
        title = f"{charger} no. {unit}" if several else charger
        lines += [*_unit(found, title, causes, here, width), ""]
    return lines[:-1]


def _unit(
    found: Blinks, title: str, causes: Sequence[Cause], here: Sequence[str], width: int
) -> Iterator[str]:
    shown = [c for c in causes if c.how == "plugged" or _does(found, c, here)]
    if len([c for c in causes if c.how == "plugged"]) == 1:
        yield from _lines(f"{title}: {here[0]} is alone there; nothing else puts it out.", width)
        return
    yield from _lines(f"{title}: what is plugged or pulled, and what becomes of", width)
    most = max(1, (width - _NAME) // _COLUMN)
    for first in range(0, len(here), most):
        some = here[first : first + most]
        yield " " * _NAME + "".join(_fitted(name, _COLUMN) for name in some).rstrip()
        for cause in shown:
            row = "".join(_fitted(found.cell(cause, name).outcome.value, _COLUMN) for name in some)
            yield (_fitted(_named(cause), _NAME) + row).rstrip()
    for name in here:
        yield from _lines(_meaning(found, name), width)


def _does(found: Blinks, cause: Cause, here: Sequence[str]) -> bool:
    idle = (Outcome.ITSELF, Outcome.KEEPS)
    return any(found.cell(cause, name).outcome not in idle for name in here)


def _named(cause: Cause) -> str:
    if cause.device is None:
        return f"spare port {cause.port}"
    return f"{cause.device} switched" if cause.how == "switched" else cause.device


def _meaning(found: Blinks, name: str) -> str:
    """What all that comes to for one device."""
    bad = [c for c in found.of(name) if c.cause.how == "plugged"]
    if not bad:
        gaps = [c for c in found.cells if c.device == name and c.outcome is Outcome.RIDES]
        return f"{name} {_rides(gaps[0]) if gaps else 'is not put out by its neighbours'}."
    worst = bad[0]
    whom = dict.fromkeys(_named(c.cause) for c in bad)
    daily = [c.cause.device for c in bad if c.cause.every_use and c.cause.device]
    often = f", each time {', '.join(daily)} is used" if daily else ""
    verdict = (
        "which does not matter to it"
        if worst.verdict is None or worst.stakes is None
        else f"{worst.verdict.word}, {worst.stakes.value}"
    )
    return (
        f"{name} {worst.outcome.value} for {_seconds(worst.gap_s)} when {' or '.join(whom)} is "
        f"plugged or pulled{often}; it rides through {_seconds(worst.ride_s)}: {verdict}."
    )


def _rides(cell: Cell) -> str:
    return f"rides out a gap of {_seconds(cell.gap_s)}: it lasts {_seconds(cell.ride_s)}"


def _seconds(value: Quantity | None) -> str:
    """A time with its spread; what is known from one side only is told so."""
    if value is None:
        return "–"
    if value.low == value.high:
        return rounded(value.low, "s")
    if value.low == 0.0:
        return f"up to {rounded(value.high, 's')}"
    return f"{rounded(value.low, 's')} to {rounded(value.high, 's')}"


def _lines(text: str, width: int) -> Iterator[str]:
    for k, line in enumerate(wrapped(text, width - 2, 99)):
        yield f"  {line}" if k else line


def _fitted(text: str, room: int) -> str:
    text = clean(text)
    while cells(text) > room - 1:
        text = text.rstrip("…")[:-1] + "…"
    return text + " " * (room - cells(text))
