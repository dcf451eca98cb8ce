"""The dossier as a page of the web, from the same data as on paper."""

from collections.abc import Iterator, Mapping
from typing import Any, TypeAlias

from sinkside.papers.html_parts import (
    NOTHING,
    Html,
    el,
    figure,
    items,
    joined,
    section,
    table,
    text,
)

# What `dossier` and `sheet_data` made: strings, numbers, and lists and mappings of them.
Data: TypeAlias = Mapping[str, Any]


def dossier_html(data: Data) -> Iterator[Html]:
    """Section after section."""
    yield section("What to do", _devices(data), anchor="do")
    reading = (
        "The open box is what the port promises, the filled bar what is drawn for long, the "
        "hatched one reaches to the peak."
    )
    trees = joined(figure(tree) for tree in data["trees"])
    yield section("What hangs on each port", el("p", reading), trees, anchor="tree")
    yield section("Who sits where", _seats(data), anchor="seats")
    yield section("Parts", _parts(data["parts"]), anchor="parts")
    yield section("Which plug harms which inlet", _plugs(data["apart"]), anchor="plugs")
    yield section("Who blinks whom", _blinks(data), anchor="blinks")
    yield section("What to measure, in the best order", _measurements(data), anchor="measure")
    risks = items(f"{risk['words']} ({risk['devices']})" for risk in data["risks"])
    yield section("Residual risks", risks or el("p", "None is on record."), anchor="risks")
    yield section("Grounds", *_grounds(data["apart"]), anchor="grounds")
    yield section("Warnings", items(data["warnings"]), anchor="warnings")


def _devices(data: Data) -> Html:
    return table(
        ("", "device", "what to do", "verdict", "port", "code"),
        (
            (
                str(d["number"]),
                el("strong", d["name"]),
                joined(
                    (
                        el("strong", d["action"]),
                        f": {d['detail']}" if d["detail"] else "",
                        f". {d['taken']}" if d["taken"] else "",
                        *(f". Ask {who}" for who in d["ask"]),
                    )
                ),
                d["verdict"],
                d["seat"],
                el("code", d["code"]),
            )
            for d in data["devices"]
        ),
        kind="what",
    )


def _seats(data: Data) -> Html:
    return table(
        ("charger", "port", "contract", "device", "left at the worst", "code"),
        (
            (
                f"{s['charger']}, {s['at']}" if s["at"] else s["charger"],
                s["port"],
                s["contract"],
                el("strong" if s["number"] else "em", s["device"]),
                s["left"],
                el("code", s["code"]),
            )
            for s in data["seats"]
        ),
    )


def _parts(data: Data) -> Html:
    rows = table(
        ("part", "needed", "shelf", "buy", "each", data["currency"], "for"),
        (
            (
                p["words"],
                str(p["needed"]),
                str(p["shelf"]),
                f"{p['buy']} ({p['waits']} later)" if p["waits"] else str(p["buy"]),
                *(p["each"], p["sum"], p["for"]),
            )
            for p in data["rows"]
        ),
    )
    return joined((rows or el("p", "Nothing is needed."), items(data["totals"])))


def _plugs(data: Data) -> Html:
    if not data["matrix"] and not data["counted"]:
        return el("p", "No lead ends in a plug.")
    reading = (
        "The matrix is too large to be drawn. Of each lead and each old brick: how many inlets it "
        "goes into and harms, how many it may harm, and which. The user's cards name all."
        if data["counted"]
        else "Down: the lead, or the old brick. Across: the inlet that it is plugged into, by "
        "number. Hatched: it harms; the letter says how."
    )
    bought = f"To buy for that: {data['bought']}" if data["bought"] else ""
    if data["joints"]:
        bought += f"; {data['joints']} joints to solder"
    return joined(
        (
            el("p", reading),
            *(figure(piece) for piece in data["matrix"]),
            table(
                ("lead", "harms", "may harm", "inlets"),
                (
                    (el("strong", c["lead"]), c["harms"], c["may"], c["inlets"])
                    for c in data["counted"]
                ),
            ),
            *(el("p", f"{m['name']}: {m['of']}") for m in data["members"]),
            _titled("To keep them apart at the least cost", items(data["doing"])),
            el("p", bought) if bought else NOTHING,
            _titled("What stays, whatever is done of that", items(data["staying"])),
            el("p", el("strong", data["care"])) if data["care"] else NOTHING,
        )
    )


def _titled(title: str, body: Html) -> Html:
    return joined((el("h3", title), body)) if body else NOTHING


def _blinks(data: Data) -> Html:
    return table(
        ("what happens", "what becomes of", "outcome", "gap", "it rides through", "verdict"),
        (
            (
                b["cause"],
                el("strong", b["device"]),
                *(b["outcome"], b["gap"], b["rides"], b["verdict"]),
            )
            for b in data["blinks"]
        ),
    ) or el("p", data["blinks_not"])


def _measurements(data: Data) -> Html:
    if not data["measurements"]:
        return el("p", "Nothing: every finding is settled.")
    told = (measurement(m) for m in data["measurements"])
    return joined((el("p", f"{data['minutes']} minutes in all."), items(told, ordered=True)))


def measurement(m: Data) -> Html:
    """One measurement: what, where, with what, how, and what it decides."""
    opens = "; it opens the case" if m["opens_case"] else ""
    many = len(m["expect"]) > 1
    return joined(
        (
            el("strong", m["title"]),
            f", at {m['at']} ({m['minutes']} min, {m['kit']}{opens})",
            el("p", m["how"]),
            *(
                el("p", el("em", "Expect "), e["words"], f" ({e['devices']})" if many else "")
                for e in m["expect"]
            ),
            el("p", el("em", "It decides: "), m["decides"]),
        )
    )


def _grounds(data: Data) -> Iterator[Html]:
    for title, rings in (
        ("Shorts through signal leads", data["shorts"]),
        ("Loops that can hum", data["loops"]),
    ):
        told = (
            joined((text(f"{r['words']}. Verdict: {r['verdict']}."), items(r["helps"])))
            for r in rings
        )
        yield joined((el("h3", title), items(told) or el("p", "None.")))
    fed = (joined((text(f["words"]), items(f["helps"]))) for f in data["back_feeds"])
    yield _titled("What feeds back into what is off", items(fed))
    yield _titled("Touch current of what is joined", items(data["touch"]))
    yield _titled("Taken for true", items(data["assumed"]))
    yield el("p", el("strong", data["never"]))
