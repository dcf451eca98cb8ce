"""A site file read, checked and cross-checked: from text to `Site`, or every fault at once."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from difflib import get_close_matches
from typing import Any, get_args

from sinkside.faults import Fault, Faulty, NotUnderstood, marked_yaml
from sinkside.faults.marked_yaml import Marked, Path
from sinkside.faults.nearest import nearest
from sinkside.faults.written import keys
from sinkside.faults.written import read as read_written
from sinkside.parts import market
from sinkside.parts.fields import Money
from sinkside.parts.part import Part
from sinkside.parts.written import AnyPartUnion, PartWritten
from sinkside.site.site import Site
from sinkside.site.written import ChargerWritten, SiteWritten

# Of a section of one site file.
MOST_ENTRIES = 2500


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
    marked, faults = marked_yaml.gather(text, file)
    crowds = list(_crowds(marked))
    if crowds:
        raise Faulty([*faults, *crowds])
    faults += _resolve_likes(marked)
    try:
        written = read_written(SiteWritten, marked)
    except Faulty as error:
        raise Faulty([*faults, *error.faults]) from None
    parts, unfit = _parts(written, marked)
    faults += [*unfit, *_cross_faults(written, marked)]
    if faults:
        raise Faulty(faults)
    site = Site(
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
    heated = (replace(c, ambient_degc=site.ambient_at(c.at).high) for c in site.chargers)
    return replace(site, chargers=tuple(heated))


def _crowds(marked: Marked) -> Iterator[Fault]:
    """Sections with more in them than anybody owns: what would be told of each is told of none."""
    root = marked.data if isinstance(marked.data, dict) else {}
    for section, entries in root.items():
        if isinstance(entries, dict | list) and len(entries) > MOST_ENTRIES:
            yield Fault(
                code="too-many",
                wrong=f"{section} has {len(entries)} entries",
                right=f"{MOST_ENTRIES} are taken; divide the site into several files",
                place=marked.key_place((section,)),
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
        for name, entry in list(entries.items()):
            if entry is None and name in known:
                entry = entries[name] = {}
            if not isinstance(entry, dict):
                continue
            faults = list(_resolve(name, entry, known, section, marked))
            if faults:
                del entries[name]  # what it is nobody knows, and that has been told
                yield from faults
            elif section == "market" and "is" in entry:
                known[name] = dict(entry)


def _resolve(
    name: str, entry: dict[str, Any], known: dict[str, dict[str, Any]], section: str, marked: Marked
) -> Iterator[Fault]:
    like = entry.get("like")
    if like is None and section == "shelf" and "is" not in entry and name in known:
        like = name
    if isinstance(like, dict | list):
        path = (section, name, "like")
        yield Fault(
            code="not-text",
            wrong=f"'like' holds {str(like)[:60]!r}",
            right="the name of a part is wanted here",
            place=marked.place(path),
        )
    elif like is None and "is" not in entry:
        for stray in _strays(entry):
            yield Fault(
                code="unknown-key",
                wrong=f"unknown key {stray!r}",
                right="write is: with what it is, or like: with the name of a part",
                place=marked.key_place((section, name, stray)),
            )
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


def _strays(entry: dict[str, Any]) -> list[str]:
    """The keys that no part and no charger has, and that may be a slip of `is` or `like`."""
    known = {key for model in (*get_args(AnyPartUnion), ChargerWritten) for key in keys(model)}
    unknown = [key for key in entry if key not in known]
    return [key for key in unknown if get_close_matches(key, ("is", "like"), cutoff=0.5)]


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
    devices = {device.id: None for device in written.devices}
    places = {place.id: None for place in written.places}
    if not devices:
        yield _fault(marked, ("devices",), "there is no device", "add one under devices:")
    yield from _money_faults(written, marked)
    for i, link in enumerate(written.links):
        if link.from_ == link.to:
            yield _fault(marked, ("links", i), f"{link.to!r} is linked to itself", "drop it")
        for key, name in (("from", link.from_), ("to", link.to)):
            yield from _known(marked, ("links", i, key), "device", name, devices)
    groups: set[str] = set()
    for i, group in enumerate(written.groups):
        if group.name in groups:
            yield _fault(
                marked, ("groups", i, "name"), f"group {group.name!r} is given twice", "rename one"
            )
        groups.add(group.name)
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
    chargers = {e.id: None for e in written.shelf if isinstance(e, ChargerWritten)}
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
    tariff = written.site.tariff
    if tariff is not None and own not in tariff:
        wrong = f"a tariff of {tariff!r}, and the site reckons in {own}"
        right = f"write it in {own}/kWh"
        place = marked.place(("site", "tariff"))
        yield Fault(code="other-money", wrong=wrong, right=right, place=place)
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
    ports = charger.ports
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
        for name in names:
            yield from _known(marked, path, "port", name, ports)
        for name in then:
            yield from _known(marked, (*path, name), "port", name, ports)
            if name in ports and name not in names:
                wrong = f"{name} is given but not in use in {key!r}"
                yield _fault(marked, (*path, name), wrong, "name it in the key")
        if len(names) < 2 or len(set(names)) < len(names):
            yield _fault(marked, path, f"{key!r} is no set of ports", "write C1+C2")
        if frozenset(names) in seen:
            yield _fault(marked, path, f"{key!r} is given twice", "keep one")
        seen.add(frozenset(names))


def _known(
    marked: Marked, path: Path, what: str, name: str, known: Collection[str]
) -> Iterator[Fault]:
    if name not in known:
        right = nearest(name, known) if known else f"no {what} is given yet"
        yield Fault(
            code=f"unknown-{what}",
            wrong=f"{name!r} is no {what} of this site",
            right=right,
            place=marked.entry_place(path),
        )


def _fault(marked: Marked, path: Path, wrong: str, right: str) -> Fault:
    return Fault(code="inconsistent", wrong=wrong, right=right, place=marked.key_place(path))
