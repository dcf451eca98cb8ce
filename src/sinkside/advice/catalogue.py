"""The measurements that there are: what to do, with what, and what each outcome decides."""

from collections.abc import Callable
from dataclasses import dataclass

from sinkside.quantity import number, span
from sinkside.site.appliance import Appliance

MULTIMETER = "multimeter"
USB_METER = "multimeter and USB power meter"
BENCH = "multimeter and adjustable bench supply"
EYES = "eyes, a screwdriver"


@dataclass(frozen=True, kw_only=True)
class Measurement:
    """One thing to do at the bench.

    Parameters
    ----------
    topics
        The unknowns that it makes known.
    opens_case
        Whether the case has to be opened.
    how
        What to do, step by step.
    expect
        What reading to expect of a device.
    decides
        What each outcome means.
    """

    id: str
    title: str
    kit: str
    minutes: int
    topics: frozenset[str]
    how: str
    expect: Callable[[Appliance], str]
    decides: str
    opens_case: bool = False


def _brick_reading(a: Appliance) -> str:
    if a.plate_v is None:
        return "any steady d.c. volts; on the a.c. range next to nothing"
    v = a.plate_v
    pole = f", centre {a.centre} as marked" if a.centre else ""
    return (
        f"open {span(v, round(1.75 * v, 1), 'V')} d.c. (near {v:g} V if it is regulated), "
        f"loaded {v:g} V or a little more{pole}; on the a.c. range next to nothing"
    )


def _current_reading(a: Appliance) -> str:
    steady, peak = a.steady_a, a.peak_a
    return f"steady {span(steady.low, steady.high, 'A')}, at most {peak.high:g} A at the start"


def _window_reading(a: Appliance) -> str:
    runs = a.runs_from_v
    return f"it stops somewhere in {span(runs.low, runs.high, 'V')}"


def _ride_reading(a: Appliance) -> str:
    return span(a.ride_through_s.low, a.ride_through_s.high, "s")


def _rail_reading(a: Appliance) -> str:
    currents = ((need.name, need.current_a) for need in a.rails)
    told = (
        f"{name} {number(c.low, 'A') if c.low == c.high else span(c.low, c.high, 'A')}"
        for name, c in currents
        if c is not None
    )
    return "; ".join(told) or "what the label of the supply says, or less"


def _always(text: str) -> Callable[[Appliance], str]:
    """The same reading whatever the device."""
    return lambda _: text


CATALOGUE: tuple[Measurement, ...] = (
    Measurement(
        id="old-brick",
        title="its old brick: polarity, volts open and loaded",
        kit=MULTIMETER,
        minutes=2,
        topics=frozenset(
            (
                "polarity",
                "kind of supply",
                "harmed above",
                "runs from",
                "runs cool up to",
                "heat allowed",
            )
        ),
        how="plug the brick in without the device; meter on d.c. volts, red to the centre: note "
        "sign and volts, then the a.c. range; then plug the device in, work it hard, and read "
        "the volts at the plug again, and the current on the 10 A range",
        expect=_brick_reading,
        decides="volts open: the device stands them; volts loaded: it runs there; the sign is an "
        "evidence of the polarity; volts on the a.c. range mean an a.c. brick: leave it, unless "
        "one full bridge without a tap is found behind the inlet",
    ),
    Measurement(
        id="marks",
        title="a polarity mark at the inlet or on the old brick, and whose brick it is",
        kit="eyes",
        minutes=3,
        topics=frozenset(("polarity",)),
        how="look beside the inlet and on the brick for the drawing of a ring and a dot with plus "
        "and minus; ask whether the brick is the one that came with the device, and write "
        "original: yes if it is",
        expect=_always("the sign on the line to the dot is the centre"),
        decides="with one more evidence that agrees the polarity is settled; if it disagrees, stop",
    ),
    Measurement(
        id="current",
        title="the current into the device on its old brick",
        kit=MULTIMETER,
        minutes=5,
        topics=frozenset(("steady current", "peak current")),
        how="meter on the 10 A range in series with the plug; start the device, work it hard, "
        "note the most that is seen and what it settles to",
        expect=_current_reading,
        decides="which ports, leads and fuses carry it",
    ),
    Measurement(
        id="inlet-polarity",
        title="from the sleeve of the inlet to the negative of the input capacitor",
        kit=MULTIMETER,
        minutes=10,
        topics=frozenset(("polarity", "ground")),
        how="nothing plugged in, wait a minute, open the case; meter on ohms, sleeve to the "
        "striped side of the first large capacitor, then centre to the same",
        expect=_always("a few ohms from one of them, and no more than a diode from the other"),
        decides="the contact with few ohms is the negative one",
        opens_case=True,
    ),
    Measurement(
        id="inside",
        title="what stands behind the inlet: regulator and capacitor",
        kit=EYES,
        minutes=15,
        topics=frozenset(
            (
                "inside",
                "harmed above",
                "runs from",
                "heat allowed",
                "runs cool up to",
                "input capacitance",
                "regulator output",
                "regulator's own current",
            )
        ),
        how="nothing plugged in, wait a minute, open the case; follow the inlet to the first "
        "three-legged part and the first large capacitor; write down what is printed on both",
        expect=_always("a 78xx or a coil and a small chip; a capacitor of 16, 25 or 35 V"),
        decides="the regulator gives the least volts and the heat, the capacitor the most volts",
        opens_case=True,
    ),
    Measurement(
        id="step-down",
        title="the least volts that it runs from, on a bench supply",
        kit=BENCH,
        minutes=10,
        topics=frozenset(("runs from",)),
        how="bench supply at its plate volts, current limit a little over its own; work it hard "
        "and turn the volts down slowly until it misbehaves; note the volts at its plug",
        expect=_window_reading,
        decides="it runs from there, if nothing at stake was lost on the way",
    ),
    Measurement(
        id="jack",
        title="what the device's jack is rated for",
        kit=EYES,
        minutes=3,
        topics=frozenset(("jack",)),
        how="look for the maker's mark and figure on the jack; where there is none, keep the "
        "fuse at 1.25 A or less",
        expect=_always("2 to 5 A"),
        decides="whether it stands what the port can drive into a fault",
    ),
    Measurement(
        id="current-limit",
        title="at what current the converter limits",
        kit="multimeter and load resistors",
        minutes=10,
        topics=frozenset(("current limit",)),
        how="converter on the bench, set; load it more and more until its volts give way; note the "
        "current just before",
        expect=_always("1.1 to 2.5 times its rating"),
        decides="whether lead and plug stand what it gives into a fault; or put a fuse behind it",
    ),
    Measurement(
        id="timed-cut",
        title="how long it rides through a gap",
        kit=MULTIMETER,
        minutes=5,
        topics=frozenset(("ride-through",)),
        how="nothing at stake recorded or running; pull the plug and push it back, a little "
        "longer each time, until it misses a beat; time it from a film if it is short",
        expect=_ride_reading,
        decides="whether it may share a charger with anything that comes and goes",
    ),
    Measurement(
        id="ground",
        title="which pole is signal ground",
        kit=MULTIMETER,
        minutes=2,
        topics=frozenset(("ground",)),
        how="nothing plugged in; meter on ohms from the sleeve of an audio jack to the sleeve of "
        "the inlet, then to its centre",
        expect=_always("a few ohms to one of them"),
        decides="ground on the positive pole must not share a charger with linked gear",
    ),
    Measurement(
        id="shield",
        title="whether the shield is tied at both ends",
        kit=MULTIMETER,
        minutes=1,
        topics=frozenset(("shield",)),
        how="unplug the signal lead; meter on ohms from shell to shell",
        expect=_always("under an ohm if it is tied at both ends"),
        decides="an open shield cannot short two grounds",
    ),
    Measurement(
        id="charger-company",
        title="what the port offers, and does, when the others are in use",
        kit=USB_METER,
        minutes=5,
        topics=frozenset(("sharing", "advertised current", "off time", "offer")),
        how="USB power meter in the port: write down its list alone, then with something plugged "
        "into the other ports; time how long the meter goes dark when that is plugged in",
        expect=_always("a shorter list; a gap of 1 to 5 s if it drops all ports"),
        decides="write it under together:, on_change: and off_time: of the charger",
    ),
    Measurement(
        id="fallback",
        title="where the trigger goes when it cannot have its volts",
        kit=MULTIMETER,
        minutes=3,
        topics=frozenset(("fallback",)),
        how="no device; trigger on a charger that lacks its volts; meter on its output",
        expect=_always("the next lower volts, 5 V, nothing, or the highest"),
        decides="write it as falls_back: of the trigger",
    ),
    Measurement(
        id="keep-alive",
        title="whether the trigger keeps its contract alive",
        kit=MULTIMETER,
        minutes=5,
        topics=frozenset(("keep-alive",)),
        how="trigger on the charger with a resistor of a few hundred ohms and nothing else; meter "
        "on its output for two minutes; then leave it for an hour and look again",
        expect=_always("steady volts; a gap some 12 to 15 s after they came, if it asks only once"),
        decides="write it as keeps_alive: yes (measured) of the trigger, or take a fixed contract",
    ),
    Measurement(
        id="rail-currents",
        title="the most that each rail of the built-in supply is asked for",
        kit="a qualified person with a clamp meter",
        minutes=20,
        topics=frozenset(("rail currents",)),
        how="a qualified person reads the current of each rail on the low-voltage side, at the "
        "start and at full work; what is on mains is theirs alone",
        expect=_rail_reading,
        decides="which converter gives the rails, and which port feeds it; write the most of each "
        "rail with (measured)",
        opens_case=True,
    ),
    Measurement(
        id="rail-volts",
        title="the volts of each rail of the new converter",
        kit="multimeter and load resistors",
        minutes=10,
        topics=frozenset(("rail volts",)),
        how="converter on the bench, without the device; read each rail with nothing on it, then "
        "with a resistor that takes what the device takes",
        expect=_always("each rail within 5 % of what it is called, both times"),
        decides="write what was read as gives: of that rail; out of 5 % it is the wrong converter",
    ),
    Measurement(
        id="start-up",
        title="whether the port trips when the device is plugged in",
        kit=MULTIMETER,
        minutes=3,
        topics=frozenset(("step speed", "input capacitance", "melting pulse", "limit")),
        how="on a dummy load first, then the device: barrel first, USB-C last; watch the volts "
        "at the plug for a minute",
        expect=_always("steady volts; if they come and go, the port trips: add a soft start"),
        decides="whether a soft start is needed; plugged in ten times without a trip, at its own "
        "volts, write the charger under held_on: of the device",
    ),
    Measurement(
        id="warm-charger",
        title="whether the charger keeps it up for hours",
        kit=USB_METER,
        minutes=10,
        topics=frozenset(("continuous load",)),
        how="let it run for two hours where it will stand, everything else on that charger "
        "running too; then read volts and current again, and feel the charger's case",
        expect=_always("the same volts and amps as at the start; a case that can be held"),
        decides="write what it keeps up under continuous: of the charger",
    ),
    Measurement(
        id="idle",
        title="the current while it idles",
        kit=MULTIMETER,
        minutes=3,
        topics=frozenset(("idle current", "cut-off")),
        how="meter on the 10 A range in series with the plug; leave the device idle for a minute",
        expect=lambda a: f"at most {a.steady_a.high:g} A",
        decides="whether a charger that switches an empty port off takes it to be empty",
    ),
    Measurement(
        id="lead",
        title="the ohms of lead and contacts",
        kit=MULTIMETER,
        minutes=5,
        topics=frozenset(
            (
                "ohms",
                "ohms at full duty",
                "headroom",
                "efficiency",
                "quiescent current",
                "ramp",
                "forward volts",
                "esr",
            )
        ),
        how="volts at the port and at the plug while a known current flows; the difference by "
        "the current",
        expect=_always("0.1 to 0.4 Ω in all"),
        decides="how much the device loses at its peak",
    ),
)
