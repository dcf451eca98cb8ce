"""A site file read, checked and cross-checked: from text to `Site`, or every fault at once."""

from collections.abc import Iterator
from typing import Any

from sinkside.faults import Fault, Faulty, NotUnderstood, marked_yaml
from sinkside.faults.marked_yaml import Marked, Path
from sinkside.faults.written import nearest
from sinkside.faults.written import read as read_written
from sinkside.parts import market
from sinkside.parts.fields import Money
from sinkside.parts.part import Part
from sinkside.parts.written import PartWritten
from sinkside.site.site import Site
from sinkside.site.written import ChargerWritten, SiteWritten


def read(text: str, file: str) -> Site:
    """Read a site file.

    Parameters
    ----------
    text
        The YAML text.
    file
        Its name, for the places of faults.

    Raises
    ------
    Faulty
        With every fault that can be told at once.
    """
    marked = marked_yaml.load(text, file)
    faults = list(_resolve_likes(marked))
    if faults:
        raise Faulty(faults)
    written = read_written(SiteWritten, marked)
    parts, faults = _parts(written, marked)
    faults += _cross_faults(written, marked)
    if faults:
        raise Faulty(faults)
    return Site(
        name=written.site.name,
        mains=written.site.mains,
        ambient=written.site.ambient,
        currency=written.site.currency,
        tariff=written.site.tariff,
        rules=written.rules,
        places=written.places,
        devices=written.devices,
        chargers=tuple(e.charger() for e in written.shelf if isinstance(e, ChargerWritten)),
        parts=parts,
        links=written.links,
        groups=written.groups,
    )


def _resolve_likes(marked: Marked) -> Iterator[Fault]:
    """Put what an entry is `like` under what it says itself.

    On the shelf a name that is in a market, the site's own before the program's, stands for
    that part without more words, unless the entry says itself what it is.
    """
    root = marked.data if isinstance(marked.data, dict) else {}
    known: dict[str, dict[str, Any]] = dict(market.raw())
    for section in ("market", "shelf"):
        entries = root.get(section)
        if not isinstance(entries, dict):
            continue
        for name, entry in entries.items():
            if entry is None and name in known:
                entry = entries[name] = {}
            if not isinstance(entry, dict):
                continue
            yield from _resolve(name, entry, known, section, marked)
            if section == "market" and "is" in entry:
                known = {**known, name: dict(entry)}


def _resolve(
    name: str, entry: dict[str, Any], known: dict[str, dict[str, Any]], section: str, marked: Marked
) -> Iterator[Fault]:
    like = entry.get("like")
    if like is None and section == "shelf" and "is" not in entry and name in known:
        like = name
    if not isinstance(like, str):
        return
    wanted = like if like in known else like.strip().replace(" ", "-")
    base = known.get(wanted)
    if base is None:
        yield Fault(
            code="unknown-part",
            wrong=f"{name!r} is like {like!r}, which is not in the market",
            right=nearest(wanted, sorted(known)),
            place=marked.place((section, name, "like")),
        )
    elif entry.get("is", base["is"]) != base["is"]:
        yield Fault(
            code="inconsistent",
            wrong=f"{name!r} is a {entry['is']} and like {like!r}, which is a {base['is']}",
            right="drop one of the two",
            place=marked.place((section, name, "like")),
        )
    else:
        merged = {**base, **entry}
        entry.clear()
        entry.update(merged)


def _parts(written: SiteWritten, marked: Marked) -> tuple[tuple[Part, ...], list[Fault]]:
    """The market that comes with the program, then the site's, then the shelf; later replace."""
    entries: dict[str, tuple[PartWritten, Path]] = {
        name: (entry, ()) for name, entry in market.written().items()
    }
    entries |= {e.id: (e, ("market", e.id)) for e in written.market}
    for entry in written.shelf:
        if isinstance(entry, PartWritten):
            count = 1 if entry.count is None else entry.count
            owned = entry.model_copy(update={"count": count})
            entries[entry.id] = (owned, ("shelf", entry.id))
    parts: list[Part] = []
    faults = []
    for part, path in entries.values():
        try:
            parts += part.parts()
        except NotUnderstood as error:
            faults.append(error.fault.at(marked.key_place(path)))
    return tuple(parts), faults


def _cross_faults(written: SiteWritten, marked: Marked) -> Iterator[Fault]:
    devices = [device.id for device in written.devices]
    places = [place.id for place in written.places]
    if not devices:
        yield _fault(marked, ("devices",), "there is no device", "add one under devices:")
    yield from _money_faults(written, marked)
    for i, link in enumerate(written.links):
        if link.from_ == link.to:
            yield _fault(marked, ("links", i), f"{link.to!r} is linked to itself", "drop it")
        for key, name in (("from", link.from_), ("to", link.to)):
            yield from _known(marked, ("links", i, key), "device", name, devices)
    for i, group in enumerate(written.groups):
        if group.name in [g.name for g in written.groups[:i]]:
            yield _fault(
                marked, ("groups", i, "name"), f"group {group.name!r} is given twice", "rename one"
            )
        for k, name in enumerate(group.together):
            yield from _known(marked, ("groups", i, "together", k), "device", name, devices)
    for section, entries in (
        ("devices", written.devices),
        ("shelf", written.shelf),
        ("market", written.market),
    ):
        for entry in entries:
            if entry.at is not None:
                yield from _known(marked, (section, entry.id, "at"), "place", entry.at, places)
    chargers = [e.id for e in written.shelf if isinstance(e, ChargerWritten)]
    for device in written.devices:
        for k, name in enumerate(device.held_on):
            path = ("devices", device.id, "held_on", k)
            yield from _known(marked, path, "charger", name, chargers)
    for place in written.places:
        for name in place.to:
            yield from _known(marked, ("places", place.id, "to", name), "place", name, places)
    for charger in (e for e in written.shelf if isinstance(e, ChargerWritten)):
        yield from _charger_faults(charger, marked)


def _money_faults(written: SiteWritten, marked: Marked) -> Iterator[Fault]:
    """Sums in another money than the site's: they cannot be added up."""
    own = written.site.currency
    sums: list[tuple[Path, Money | None]] = [(("rules", "budget"), written.rules.budget)]
    for section, entries in (("market", written.market), ("shelf", written.shelf)):
        sums += [((section, e.id, "price"), e.price) for e in entries if isinstance(e, PartWritten)]
    for path, sum_ in sums:
        if sum_ is not None and sum_.currency != own and path in marked.places:
            yield Fault(
                code="other-money",
                wrong=f"a sum in {sum_.currency}, and the site reckons in {own}",
                right=f"write it in {own}",
                place=marked.place(path),
            )


def _charger_faults(charger: ChargerWritten, marked: Marked) -> Iterator[Fault]:
    here: Path = ("shelf", charger.id)
    ports = list(charger.ports)
    if not ports:
        yield _fault(marked, (*here, "ports"), f"{charger.id!r} has no port", "add C1: 5V⎓3A")
    for name, port in charger.ports.items():
        if "+" in name:
            yield _fault(
                marked, (*here, "ports", name), f"port {name!r} has a + in its name", "rename it"
            )
        if not any(offer.fixed_v == 5.0 for offer in port.offers):
            yield _fault(
                marked,
                (*here, "ports", name),
                f"port {name!r} does not offer 5 V",
                "every USB-C port does: add 5V⎓3A",
            )
    seen: set[frozenset[str]] = set()
    for key, then in charger.together.items():
        path = (*here, "together", key)
        names = [n.strip() for n in key.split("+")]
        for name in (*names, *then):
            yield from _known(marked, path, "port", name, ports)
        if set(then) - set(names):
            extra = ", ".join(sorted(set(then) - set(names)))
            yield _fault(
                marked, path, f"{extra} is given but not in use in {key!r}", "name it in the key"
            )
        if len(names) < 2 or len(set(names)) < len(names):
            yield _fault(marked, path, f"{key!r} is no set of ports", "write C1+C2")
        if frozenset(names) in seen:
            yield _fault(marked, path, f"{key!r} is given twice", "keep one")
        seen.add(frozenset(names))


def _known(marked: Marked, path: Path, what: str, name: str, known: list[str]) -> Iterator[Fault]:
    if name not in known:
        right = nearest(name, known) if known else f"no {what} is given yet"
        yield Fault(
            code=f"unknown-{what}",
            wrong=f"{name!r} is no {what} of this site",
            right=right,
            place=marked.place(path),
        )


def _fault(marked: Marked, path: Path, wrong: str, right: str) -> Fault:
    return Fault(code="inconsistent", wrong=wrong, right=right, place=marked.key_place(path))
