"""Which plug harms which device, and what conducts between them: for people."""

from collections.abc import Iterator

from sinkside.cli.paragraphs import WIDTH, listed, wrapped
from sinkside.figures.matrix_marks import matrix_of
from sinkside.figures.matrix_svg import matrix_svg
from sinkside.figures.matrix_text import matrix_text
from sinkside.grounds.at_site import Report
from sinkside.grounds.remedies import NEVER
from sinkside.mixups.elsewhere import Elsewhere
from sinkside.mixups.labels import name_of
from sinkside.mixups.sentences import PLUGS_CARE, doing, staying
from sinkside.plan.kept_apart import KeptApart

PICTURE = "mixups.svg"


def lines(told: KeptApart) -> Iterator[str]:
    """For people."""
    plugs = told.plugs
    yield told.site
    yield ""
    yield from matrix_text(matrix_of(plugs.cells), width=WIDTH)
    yield ""
    yield from listed("Volts against the limit, where they are over it the most:", _worst(told))
    yield from listed("To keep them apart at the least cost:", _doing(told))
    if plugs.without_ties is not None:
        again = plugs.without_ties
        price = _price(again.cents, told.currency)
        yield from listed(f"Or without tying any new lead to its device{price}:", doing(again))
    yield from listed("What stays, whatever is done of that:", staying(plugs.separation))
    yield from listed("What to write on them:", _labels(told))
    yield from listed("The other end, in a charger that it is not planned for:", _ports(told))
    yield from _conductors(told.conductors)
    if plugs.separation.left:
        yield from wrapped(PLUGS_CARE)
    yield from wrapped(NEVER)


def _worst(told: KeptApart) -> tuple[str, ...]:
    """Volts that are over the limit for sure: of each lead, the inlet where they are so most."""
    worst: dict[str, tuple[float, str]] = {}
    for cell in told.plugs.harmful:
        if cell.top_v is None or cell.harmed_above_v is None:
            continue
        over = cell.top_v / cell.harmed_above_v[1]
        name = name_of(cell.lead, cell.source)
        if over > max(1.0, worst.get(name, (0.0, ""))[0]):
            worst[name] = (over, f"{name} in {cell.inlet}: {cell.told}")
    return tuple(words for _, words in worst.values())


def _doing(told: KeptApart) -> tuple[str, ...]:
    separation = told.plugs.separation
    found = doing(separation)
    if not found:
        return ()
    bought = ", ".join(f"{count} × {part}" for part, count in separation.bought)
    cost = _price(separation.cents, told.currency)
    joints = f", {separation.joints} joints to solder" if separation.joints else ""
    proven = "proven the least" if separation.proven else "not proven the least"
    return (*found, f"to buy: {bought or 'nothing'}{cost}{joints}; {proven}")


def _labels(told: KeptApart) -> tuple[str, ...]:
    """The texts of the labels of what stays in danger: of the rest they are among the papers."""
    left = told.plugs.separation.left
    names = {name_of(pair.lead, pair.source) for pair in left}
    names |= {f"inlet of {pair.inlet}" for pair in left}
    return tuple(
        f"{label.on}: {' / '.join(label.lines)}" for label in told.plugs.labels if label.on in names
    )


def _price(cents: int, currency: str) -> str:
    return f", {cents / 100:.2f} {currency}".rstrip() if cents else ""


def _ports(told: KeptApart) -> tuple[str, ...]:
    """Of each lead, where else it runs, and what happens where it does not."""
    by_lead: dict[str, dict[str, list[Elsewhere]]] = {}
    for found in told.plugs.elsewhere:
        by_lead.setdefault(found.lead, {}).setdefault(found.word, []).append(found)
    return tuple(
        f"lead of {lead}: " + "; ".join(f"{word} in {_named(at)}" for word, at in words.items())
        for lead, words in by_lead.items()
        if set(words) != {"fine"}
    )


def _named(found: list[Elsewhere]) -> str:
    """Chargers with their ports, as `tower C1, C2, twin C1`."""
    ports: dict[str, list[str]] = {}
    for one in found:
        ports.setdefault(one.charger, []).append(one.port)
    return ", ".join(f"{charger} {', '.join(names)}" for charger, names in ports.items())


def _conductors(found: Report) -> Iterator[str]:
    """Rings with and without volts, what feeds back, and the tingle."""
    for title, rings in (("Shorts:", found.shorts), ("Loops that can hum:", found.loops)):
        if rings:
            yield title
        for ring in rings:
            yield from wrapped(f"- {ring.words}", indent=2)
            for remedy in ring.remedies:
                cost = f" ({remedy.cents / 100:.2f})" if remedy.cents else ""
                helps = "" if remedy.clears else "; by itself not enough"
                yield from wrapped(f"  helps: {remedy.words}{cost}{helps}", indent=4)
        if rings:
            yield ""
    fed = [f"{feed.words}. Helps: {'; '.join(feed.remedies)}" for feed in found.back_feeds]
    yield from listed("What feeds back into what is off:", fed)
    several = [t for t in found.touches if len(t.devices) > 1 or t.verdict]
    alone = [t for t in found.touches if t not in several]
    told = [t.words for t in several]
    if alone:
        names = ", ".join(name for t in alone for name in t.devices)
        most = max(t.most_a for t in alone)
        told.append(f"each by itself, up to {1e3 * most:.2f} mA: {names}")
    yield from listed("Touch current of what is joined:", told)
    yield from listed("Taken for true:", found.assumed)


def picture(told: KeptApart) -> bytes:
    """The matrix as SVG."""
    return matrix_svg(matrix_of(told.plugs.cells)).encode()
