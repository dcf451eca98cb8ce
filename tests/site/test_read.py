"""A site file from text to `Site`, or every fault at once at its place, in whole sentences."""

import pytest

from sinkside.faults import Faulty
from sinkside.site.read import read
from sinkside.site.site import Site

DEVICE = "  d: {use: ordinary, inlet: {plug: 5.5x2.1}}\n"
BASE = f"site: {{name: T}}\ndevices:\n{DEVICE}"
CHARGER = '  c: {is: charger, ports: {C1: "5V⎓3A 9V⎓3A", C2: "5V⎓3A"}}\n'


def site(text: str) -> Site:
    return read(text, "s.yaml")


def told(text: str) -> list[str]:
    with pytest.raises(Faulty) as error:
        site(text)
    return str(error.value).split("\n")


def shelf(entry: str) -> str:
    """A site with one shelf entry; it begins at line 5 and column 3."""
    return f"{BASE}shelf:\n  {entry}\n"


def test_the_least_that_is_a_site() -> None:
    found = site(BASE)
    assert (found.name, found.mains, found.currency) == ("T", "230 V 50 Hz", "EUR")
    assert [d.id for d in found.devices] == ["d"]
    assert (found.chargers, found.links, found.groups, found.places) == ((), (), (), ())
    assert (found.ambient.low, found.ambient.high) == (15.0, 35.0)
    assert found.parts
    assert (found.rules.solder, found.rules.open_cases) == (False, False)


def test_a_place_has_an_ambient_of_its_own() -> None:
    found = site(f"{BASE}places: {{rack: {{ambient: 20..38 °C}}, bench: {{}}}}\n")
    assert found.ambient_at("rack").high == 38.0
    assert found.ambient_at("bench").high == 35.0
    assert found.ambient_at(None).high == 35.0


def test_there_is_no_such_device() -> None:
    assert site(BASE).device("d").id == "d"
    with pytest.raises(KeyError, match="'e'"):
        site(BASE).device("e")


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        (
            "{}",
            ["s.yaml:1:1: 'site' is missing; add it", "s.yaml:1:1: 'devices' is missing; add it"],
        ),
        ("[]", ["s.yaml:1:1: 'the file' holds '[]'; a mapping {key: value, …} is wanted here"]),
        ("", ["s.yaml:1:1: the file is empty; see the README for its shape"]),
        (
            "site: {name: T}\ndevices: {}\n",
            ["s.yaml:2:1: there is no device; add one under devices:"],
        ),
        (
            "site: {name: T}\ndevices: [d]\n",
            ["s.yaml:2:10: a mapping of names is wanted here; write name: {key: value, …}"],
        ),
        (
            "site: {name: [T]}\ndevices:\n" + DEVICE,
            ["s.yaml:1:14: 'name' holds \"['T']\"; plain text is wanted here"],
        ),
        (
            "site: {name: T, mains: 230 V}\ndevices:\n" + DEVICE,
            [
                "s.yaml:1:24: '230 V' is not known for 'mains'; did you mean '230 V 50 Hz'?",
            ],
        ),
        (
            "site: {name: T, ambient: 32..15 °C}\ndevices:\n" + DEVICE,
            [
                "s.yaml:1:26: '32..15 °C' runs from high to low; write the lower end of the "
                "range first",
            ],
        ),
        (
            "site: {name: T}\ndevices:\n  d: {inlet: {plug: 5.5x2.1}}\n",
            ["s.yaml:3:3: 'use' is missing in 'd'; add it"],
        ),
        (
            "site: {name: T}\ndevices:\n  d: {use: domestic, inlet: {plug: 5.5x2.1}}\n",
            [
                "s.yaml:3:12: 'domestic' is not known for 'use'; known are ordinary, medical, "
                "alarm, vehicle, aircraft, outdoor, fixed, machinery",
            ],
        ),
        (
            "site: {name: T}\ndevices:\n  d: {use: ordinary, inlet: {}}\n",
            ["s.yaml:3:22: 'plug' is missing in 'inlet'; add it"],
        ),
        (
            "site: {name: T}\ndevices:\n  d: {use: ordinary, inlet: {plug: 5.5x2.1, contre: x}}\n",
            ["s.yaml:3:45: unknown key 'contre'; did you mean 'centre'?"],
        ),
        (
            f"{BASE}rules: {{solder: On}}\n",
            ["s.yaml:4:17: 'On' is neither yes nor no; write yes or no"],
        ),
        (
            f"{BASE}rules: {{budget: 12}}\n",
            ["s.yaml:4:17: '12' is not a price; write it like 2.40 EUR"],
        ),
        (
            f"{BASE}ruels: {{}}\n",
            ["s.yaml:4:1: unknown key 'ruels'; did you mean 'rules'?"],
        ),
        (
            f"{BASE}links: [{{from: d, to: e}}]\n",
            ["s.yaml:4:23: 'e' is no device of this site; known are d"],
        ),
        (
            f"{BASE}groups: [{{name: g, together: [d, deck]}}]\n",
            ["s.yaml:4:34: 'deck' is no device of this site; known are d"],
        ),
        (
            f"{BASE}groups: [{{name: g, together: d}}]\n",
            ["s.yaml:4:30: 'together' holds 'd'; a list [a, b, …] is wanted here"],
        ),
        (
            f"{BASE}places: {{a: {{to: {{b: 1 m}}}}}}\n",
            ["s.yaml:4:22: 'b' is no place of this site; known are a"],
        ),
        (
            BASE.replace("5.5x2.1}}", "5.5x2.1}, at: bench}"),
            ["s.yaml:3:50: 'bench' is no place of this site; no place is given yet"],
        ),
    ],
)
def test_faults(text: str, faults: list[str]) -> None:
    assert told(text) == faults


@pytest.mark.parametrize(
    ("entry", "faults"),
    [
        ("p: {is: cabel}", ["s.yaml:5:6: 'cabel' is no kind of part; did you mean 'cable'?"]),
        ("p: {count: 2}", ["s.yaml:5:6: 'is' is missing in 'p'; add is: lead, say"]),
        (
            "p: {like: strap-triger-9v}",
            [
                "s.yaml:5:13: 'p' is like 'strap-triger-9v', which is not in the market; did you "
                "mean 'strap-trigger-9v'?"
            ],
        ),
        ("c: {is: charger, ports: {}}", ["s.yaml:5:20: 'c' has no port; add C1: 5V⎓3A"]),
        (
            "c: {is: charger, ports: [C1]}",
            ["s.yaml:5:27: 'ports' holds \"['C1']\"; a mapping {key: value, …} is wanted here"],
        ),
        (
            'c: {is: charger, ports: {C1: "9V⎓3A"}}',
            [
                "s.yaml:5:28: port 'C1' does not offer 5 V; every USB-C port does: add 5V⎓3A",
            ],
        ),
        (
            'c: {is: charger, ports: {C1: "5V⎓3A 9V"}}',
            ["s.yaml:5:32: '5V⎓3A 9V': 9 V has no current; write it like 9V⎓3A"],
        ),
        (
            'c: {is: charger, ports: {C1: ""}}',
            ["s.yaml:5:32: '' lists no offer; write it like 5V⎓3A 9V⎓3A"],
        ),
        (
            'c: {is: charger, ports: {C1+C2: "5V⎓3A"}}',
            ["s.yaml:5:28: port 'C1+C2' has a + in its name; rename it"],
        ),
        (
            'c: {is: charger, ports: {C1: "5V⎓3A"}, off_time: 1.6 s}',
            [
                "s.yaml:5:52: '1.6 s' says nothing of what it rests on; add (measured), "
                "(datasheet) or (plate), or give a range",
            ],
        ),
        (
            'c: {is: charger, ports: {C1: "5V⎓3A"}, price: 9.00 EUR}',
            [
                "s.yaml:5:42: unknown key 'price'; known are is, count, at, output_earth, class, "
                "on_change, off_time, continuous, cuts_off_below, sharing, ports, together, words",
            ],
        ),
    ],
)
def test_faults_on_the_shelf(entry: str, faults: list[str]) -> None:
    assert told(shelf(entry)) == faults


@pytest.mark.parametrize(
    ("together", "faults"),
    [
        (
            '{C1+C3: {C1: "5V⎓1A", C3: "5V⎓1A"}}',
            "'C3' is no port of this site; known are C1, C2",
        ),
        ('{C1: {C1: "5V⎓1A"}}', "'C1' is no set of ports; write C1+C2"),
        ('{C1+C1: {C1: "5V⎓1A"}}', "'C1+C1' is no set of ports; write C1+C2"),
        (
            '{C1+C2: {C1: "5V⎓1A", C2: "5V⎓1A"}, C2 + C1: {C1: "5V⎓1A", C2: "5V⎓1A"}}',
            "'C2 + C1' is given twice; keep one",
        ),
        ('{"C1,C2": {}}', "'C1,C2' is no set of ports; write C1+C2"),
    ],
)
def test_tables_of_ports_in_use(together: str, faults: str) -> None:
    text = BASE + "shelf:\n" + CHARGER.replace("}}\n", f"}}, together: {together}}}\n")
    assert faults in [line.partition(": ")[2] for line in told(text)]


def test_a_table_in_which_a_port_is_left_out() -> None:
    # Either the file is wrong, or what the port gives then is not known: never its full list.
    together = '{C1+C2: {C1: "5V⎓1A"}}'
    text = BASE + "shelf:\n" + CHARGER.replace("}}\n", f"}}, together: {together}}}\n")
    try:
        (charger,) = site(text).chargers
    except Faulty:
        return
    assert charger.offers("C2", frozenset({"C1", "C2"})) is None


@pytest.mark.parametrize(
    "ports",
    [
        "5V⎓3A 230V~ 1A",  # mains
        "5V⎓3A 9V~ 2A",  # a.c.
        "5V⎓3A 100V⎓1A",  # PD ends at 48 V (R3.1)
        "5V⎓3A 9-12V⎓2A",  # a fixed offer has one voltage: 12 V may come where 9 V is meant
        "5V⎓3A 20V⎓99A",  # PD ends at 5 A
        "5V⎓3A 9V⎓0A",  # no current is no offer
        "5V⎓3A 12V⎓-1A",
        "C1: 5V⎓3A C2: 9V⎓3A",  # another port's list
    ],
)
def test_a_list_that_no_port_can_have(ports: str) -> None:
    assert len(told(shelf(f'c: {{is: charger, ports: {{C1: "{ports}"}}}}'))) >= 1


@pytest.mark.parametrize(
    ("ports", "offers"),
    [
        ("5V⎓3A 9V⎓2.77A", [(5.0, 3.0, "fixed"), (9.0, 2.77, "fixed")]),
        ("5V/3A, 9V/2A", [(5.0, 3.0, "fixed"), (9.0, 2.0, "fixed")]),
        ("PPS 3.3-11V⎓3A 5V⎓3A", [(3.3, 3.0, "pps"), (5.0, 3.0, "fixed")]),
        # Published bit vectors: 5 V 3 A and 9 V 3 A (arithmetic from the object layout).
        ("0x0001912C 0x0002D12C", [(5.0, 3.0, "fixed"), (9.0, 3.0, "fixed")]),
    ],
)
def test_lists_as_people_have_them(ports: str, offers: list[tuple[float, float, str]]) -> None:
    (charger,) = site(shelf(f'c: {{is: charger, ports: {{C1: "{ports}"}}}}')).chargers
    found = charger.port("C1")
    assert [(o.low_v, o.current_a, o.profile) for o in found.offers] == offers
    assert not found.guessed


def test_what_a_charger_takes_is_not_what_it_gives() -> None:
    # The whole plate of a charger, pasted: its mains input is no offer.
    text = "INPUT 100-240V~ 50/60Hz 1.5A OUTPUT 5V⎓3A 9V⎓3A"
    (charger,) = site(shelf(f'c: {{is: charger, ports: {{C1: "{text}"}}}}')).chargers
    assert [o.low_v for o in charger.port("C1").offers] == [5.0, 9.0]


def test_all_faults_at_once() -> None:
    assert told(
        "site: {name: T, ambient: hot}\n"
        "devices:\n"
        "  d: {use: ordinary, inlet: {plug: round}, draws: {steady: 610 mA}}\n"
        "  e: {inlet: {plug: 5.5x2.1}, blink: sometimes}\n"
        "shelf:\n"
        "  c: {is: charger}\n"
        "  p: {is: fuze}\n"
    ) == [
        "s.yaml:1:26: 'hot' is not a quantity in °C; write it like 9 °C, 8.2..9.4 °C, 9 °C ±10 % "
        "or max 9 °C, with (measured) behind",
        "s.yaml:3:36: 'round' is not a plug that is known; write outer x inner in mm, like "
        "5.5x2.1, or wires, usb-c, micro-usb, mini-usb, usb-b, other",
        "s.yaml:3:60: '610 mA' says nothing of what it rests on; add (measured), (datasheet) or "
        "(plate), or give a range",
        "s.yaml:4:3: 'use' is missing in 'e'; add it",
        "s.yaml:4:38: 'sometimes' is not known for 'blink'; known are never, brief, any",
        "s.yaml:6:3: 'ports' is missing in 'c'; add it",
        "s.yaml:7:6: 'fuze' is no kind of part; did you mean 'fuse'?",
    ]


@pytest.mark.parametrize(
    "line",
    [
        "site: {name: T, ambient: }\n",
        "site: {name: T, currency: eur}\n",
        "site: {name: T, tariff: banana}\n",
    ],
)
def test_no_fault_speaks_of_the_programs_inside(line: str) -> None:
    for fault in told(line + BASE.partition("\n")[2]):
        assert "instance of" not in fault
        assert "should match pattern" not in fault


def test_a_plate_that_is_too_long_has_a_place() -> None:
    text = BASE.replace("use: ordinary", 'use: ordinary, plate: "' + "9V " * 2000 + '"')
    assert told(text)[0].startswith("s.yaml:3:29: a plate of 6000 characters")


@pytest.mark.parametrize("section", ["shelf", "market"])
def test_a_trigger_that_asks_for_nothing_has_a_place(section: str) -> None:
    assert told(f"{BASE}{section}:\n  p: {{is: trigger}}\n")[0].startswith("s.yaml:5:")


@pytest.mark.parametrize(
    "text",
    [
        f"{BASE}links: [{{from: d, to: d}}]\n",
        f"{BASE}groups: [{{name: a, together: [d]}}, {{name: a, together: [d]}}]\n",
        f"{BASE}rules: {{budget: 120 USD}}\n",
        f"{BASE}market:\n  p: {{is: cable, price: 4 USD}}\n",
    ],
    ids=["link to itself", "group of the same name", "other money", "other price"],
)
def test_what_makes_no_sense_is_told(text: str) -> None:
    with pytest.raises(Faulty):
        site(text)


def test_a_crowd_is_refused_as_one() -> None:
    crowd = "".join(f"  d{n}: {{use: ordinary, inlet: {{plug: 5.5x2.1}}}}\n" for n in range(2501))
    assert told(f"site: {{name: T}}\ndevices:\n{crowd}") == [
        "s.yaml:2:1: devices has 2501 entries; 2500 are taken; divide the site into several files"
    ]
