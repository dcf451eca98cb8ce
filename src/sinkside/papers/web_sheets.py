"""Build sheets, cards and workings as pages of the web, from the same data as on paper."""

from sinkside.papers.html_parts import (
    NOTHING,
    Html,
    el,
    figure,
    items,
    joined,
    pairs,
    table,
)
from sinkside.papers.web_dossier import Data


def sheet_html(data: Data, anchor: str) -> Html:
    """One build sheet."""
    return el(
        "section",
        el("h2", data["device"]),
        el("p", el("span", data["action"], class_="action"), " ", el("code", data["code"])),
        el("p", el("strong", data["headline"])) if data["headline"] else NOTHING,
        el("div", figure(data["qr"]), class_="qr"),
        _gates(data),
        _facts(data["facts"]),
        el("p", el("strong", "Watch "), "; ".join(data["watch"])) if data["watch"] else NOTHING,
        _titled("To be set, before anything hangs on it", _facts(data["settings"])),
        _titled("The chain, from the charger on", _chain(data)),
        *(_titled(d["title"], figure(d, d["words"])) for d in (*data["drawings"], *data["plug"])),
        _titled("Cut list", _wires(data)),
        _titled("Order of assembly", items(map(_step, data["steps"]), ordered=True)),
        _titled("Readings", _readings(data)) if data["stages"] else NOTHING,
        _first_power(data["first_power"]) if data["first_power"] else NOTHING,
        _titled("Residual risks", items(data["risks"])),
        el("div", items(data["cautions"]), class_="box"),
        id=anchor,
        class_="sheet",
    )


def _titled(title: str, body: Html) -> Html:
    return joined((el("h3", title), body)) if body else NOTHING


def _facts(facts: list[Data]) -> Html:
    return pairs((fact["label"], fact["text"]) for fact in facts)


def _gates(data: Data) -> Html:
    if not data["gates"]:
        return NOTHING
    told = (
        joined(
            (
                el("strong", gate["title"]),
                f" ({gate['minutes']} min, {gate['kit']}): {gate['how']}",
                el("p", el("em", "Expect "), gate["expect"]),
                el("p", el("em", "It decides: "), gate["decides"]),
            )
        )
        for gate in data["gates"]
    )
    return el("div", el("p", el("strong", data["gate_words"])), items(told), class_="box gate")


def _chain(data: Data) -> Html:
    return table(
        ("part", "setting", "how it meets the one before", "from"),
        (
            (
                el("strong", step["words"]),
                *(step["setting"], step["joins"]),
                "to buy" if step["bought"] else "the shelf",
            )
            for step in data["chain"]
        ),
    )


def _wires(data: Data) -> Html:
    return table(
        ("wire", "", "from", "to", "colour", "length", "gauge"),
        (
            (
                str(wire["number"]),
                *(wire["conductor"], wire["start"], wire["end"]),
                f"{wire['colour']} ({wire['note']})" if wire["note"] else wire["colour"],
                *(wire["length"], wire["gauge"]),
            )
            for wire in data["wires"]
        ),
    )


def _step(step: Data) -> Html:
    why = el("em", f" Why: {step['why']}.") if step["why"] else NOTHING
    return joined((step["text"], why))


def _readings(data: Data) -> Html:
    stages = (
        joined(
            (
                el("h3", stage["title"]),
                table(
                    ("", "where, and how", "expected", "read"),
                    map(_probe, stage["probes"]),
                ),
            )
        )
        for stage in data["stages"]
    )
    return joined((el("p", data["meter_words"]), *stages))


def _probe(probe: Data) -> tuple[str, ...]:
    probes = f": red on {probe['red']}, black on {probe['black']}" if probe["red"] else ""
    state = f" · {probe['state']}" if probe["state"] else ""
    maybe = "" if probe["required"] else " · only if you can reach it"
    limits = probe["limits"].removesuffix(".")
    stop = el("strong", f"{limits}. ") if limits else NOTHING
    problems = (
        (f"{probe['low_word']}: ", probe["if_low"]),
        (f"{probe['high_word']}: ", probe["if_high"]),
        ("Note: ", probe["note"]),
    )
    said = [f"{word}{text.removesuffix('.')}. " for word, text in problems if text]
    return (
        str(probe["number"]),
        joined(
            (
                el("strong", probe["where"]),
                f"{state}{maybe}",
                el("div", f"{probe['mode']}{probes}"),
                el("div", stop, *said, class_="small"),
            )
        ),
        el("strong", probe["expected"]),
        el("div", class_="read"),
    )


def _first_power(data: Data) -> Html:
    steps = (
        joined(
            (
                step["do"],
                joined((el("strong", " Stop"), f" if {step['stop_if']}."))
                if step["stop_if"]
                else NOTHING,
            )
        )
        for step in data["actions"]
    )
    return joined(
        (
            el("h3", "First power-up"),
            *(
                el("p", el("strong", "Dummy load"), f" at {d['at']}: {d['words']}; {d['burns']}")
                for d in data["dummies"]
            ),
            el("p", el("strong", "Guard: "), data["guard"]),
            items(steps, ordered=True),
            el("h3", "Sign-off"),
            table(
                ("done", "what", "reading or name"),
                ((el("div", class_="read"), box["text"], "") for box in data["sign_off"]),
            ),
        )
    )


def cards_html(card: Data) -> Html:
    """The two cards of one device."""
    user, back = card["user"], card["back"]
    return el(
        "div",
        el(
            "div",
            el("h3", card["device"], " ", el("code", card["code"])),
            el("p", el("strong", user["title"]), f", {user['state']}"),
            *(_titled(part["title"], items(part["lines"])) for part in user["parts"]),
            class_="card",
        ),
        el(
            "div",
            el("h3", card["device"], " ", el("code", card["code"])),
            el("p", el("strong", back["title"]), f", {back['state']}"),
            items(back["steps"], ordered=True) or el("p", back["words"]),
            _titled("What cannot be undone", items(back["irreversible"])),
            _facts(back["facts"]),
            class_="card",
        ),
        class_="cards",
    )


def workings_html(device: Data, anchor: str) -> Html:
    """Every finding on one device's chain."""
    return el(
        "section",
        el("h2", device["device"], " ", el("code", device["code"])),
        el("p", el("em", "Chain: "), device["chain"]),
        *map(_finding, device["findings"]),
        id=anchor,
    )


def _finding(found: Data) -> Html:
    margin = f", margin {found['margin']}" if found["margin"] else ""
    state = f" · state: {found['state']}" if found["state"] else ""
    hangs = ", ".join(found["unknowns"])
    working = found["working"]
    return joined(
        (
            el("h3", found["title"]),
            el("p", el("strong", found["verdict"]), f"{margin} · {found['stakes']}{state}"),
            el("p", found["words"]) if found["words"] else NOTHING,
            el("p", el("em", "It hangs on: "), hangs) if hangs else NOTHING,
            _working(working) if working else NOTHING,
            el("p", el("em", "Source: "), found["source"], class_="small"),
        )
    )


def _working(working: Data) -> Html:
    return joined(
        (
            el("p", el("code", f"{working['formula']} = "), el("strong", working["result"])),
            table(
                ("symbol", "value", "unit", "low and high", "basis", "meaning"),
                (
                    (
                        el("code", s["symbol"]),
                        *(s["value"], s["unit"], s["range"], s["basis"], s["meaning"]),
                    )
                    for s in working["symbols"]
                ),
            ),
        )
    )
