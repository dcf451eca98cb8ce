"""The dummy load: what a device draws for long, as resistors that can be bought."""

from dataclasses import dataclass

from sinkside.making import draws
from sinkside.making.levels import reading
from sinkside.making.of_plan import contract, fed
from sinkside.parts.part import Rail
from sinkside.paths.front import Front
from sinkside.paths.rails import given
from sinkside.paths.states import State
from sinkside.plan.model import DevicePlan, Plan
from sinkside.quantity import number
from sinkside.site.rails import RailNeed
from sinkside.standards import preferred_values
from sinkside.working import PRACTICE, Source, Status, Symbol, Working

# A resistor at half its rating gets hot and not scorching; sold as ±5 % (common practice).
SHARE_OF_RATING = 0.5
TOLERANCE = 0.05
# Ratings that power resistors are sold with, W (common practice, no source).
RATED_W = (0.5, 1.0, 2.0, 3.0, 5.0, 10.0, 25.0, 50.0)
# Wire-wound ones carry their rating up to 70 °C around them, none of it at 275 °C (from memory).
FULL_UP_TO_DEGC, NONE_AT_DEGC = 70.0, 275.0
# What is tested where a device draws next to nothing: a load that a meter can see.
LEAST_A = 0.01
# The most that a rail is tested with, over what it is asked for.
OVER_ASKED = 1.5
STEPS_UP = 12
CERTAIN = Source(document="Ohm's law", status=Status.ARITHMETIC)


@dataclass(frozen=True, kw_only=True)
class Resistor:
    """A dummy load.

    Parameters
    ----------
    at
        What it goes across, in words.
    ohm, series, tolerance
        Of each piece: a preferred value of IEC 60063, its series, and what it is sold to.
    pieces
        1, or the square of how many stand in a row: four are two rows of two, which is the
        ohms of one and the watts of four.
    burns_w, rated_w
        Of each piece: the most that it turns into heat, and what it is to be rated for.
    volts_v, amps_a
        What it is meant for: volts under load, and the steady current there.
    working
        How ohms and watts came about.
    """

    at: str
    ohm: float
    series: str
    tolerance: float
    pieces: int
    arrangement: str
    burns_w: float
    rated_w: float
    volts_v: float
    amps_a: float
    working: tuple[Working, ...]

    @property
    def total_ohm(self) -> float:
        """Of all pieces together: as many stand in a row as there are rows."""
        return self.ohm

    @property
    def total_w(self) -> float:
        """The most that all of them turn into heat."""
        return self.pieces * self.burns_w

    @property
    def words(self) -> str:
        """The load in words: `22 Ω ±5 %, 10 W or more`."""
        each = f"{number(self.ohm, 'Ω')} ±{100 * self.tolerance:.0f} %, {self.rated_w:g} W or more"
        return each if self.pieces == 1 else f"{self.pieces} × {each}, {self.arrangement}"


def dummy_loads(plan: Plan, device: DevicePlan) -> tuple[Resistor, ...]:
    """The dummy loads for a chain; empty without one.

    Notes
    -----
    R = V / I with the volts at the plug and the highest steady current, taken to the next
    preferred value below, so that no less flows than the device takes; to the next above where
    that would ask more of the fuse, of a part, or of the port than it is rated for.
    P = V² / (R·(1 − tolerance)) at the highest volts with nothing on the plug.
    """
    chosen = device.chosen
    state = contract(chosen) if chosen else None
    if chosen is None or state is None:
        return ()
    around = plan.site.ambient_at(device.appliance.at).high
    rails = chosen.front.rails
    if rails is not None:
        return tuple(
            _on_rail(need, rail, around)
            for need in device.appliance.rails
            if (rail := given(rails, need))
        )
    front, end = chosen.front, len(chosen.front.parts)
    work = reading(front, state, draws.at_work(fed(chosen)), (end,))
    volts, amps = work.volts[0].nominal, max(work.into.high, LEAST_A)
    ohm, series = _ohm(front, state, volts / amps)
    highest = reading(front, state, draws.nothing(), (end,)).volts[0].high
    return (_resistor("the plug", ohm, series, volts, amps, highest, around),)


def _on_rail(need: RailNeed, rail: Rail, around: float) -> Resistor:
    middle = (rail.low_v + rail.high_v) / 2
    asked = need.current_a.high if need.current_a is not None else 0.0
    amps = min(max(asked, LEAST_A), rail.carries_a)
    most = min(rail.carries_a, max(asked, LEAST_A) * OVER_ASKED)
    ohm, series = preferred_values.at_most(middle / amps, "E12"), "E12"
    if rail.high_v / (ohm * (1 - TOLERANCE)) > most:
        ohm = preferred_values.at_least(rail.high_v / (most * (1 - TOLERANCE)), "E12")
    return _resistor(f"the rail {need.name}", ohm, series, middle, amps, rail.high_v, around)


def _ohm(front: Front, state: State, wanted: float) -> tuple[float, str]:
    """The preferred value, and its series: E12 before E24, for it is easier to come by."""
    tries = [
        (preferred_values.at_most(wanted, "E12"), "E12"),
        (preferred_values.at_most(wanted, "E24"), "E24"),
    ]
    ohm = preferred_values.at_least(wanted, "E12")
    for _ in range(STEPS_UP):
        tries.append((ohm, "E12"))
        ohm = preferred_values.at_least(ohm * 1.01, "E12")
    return next((t for t in tries if _carried(front, state, t[0])), tries[-1])


def _carried(front: Front, state: State, ohm: float) -> bool:
    """Whether a dummy load asks no more than parts and port are rated for."""
    found = reading(front, state, draws.resistor(ohm, TOLERANCE), (len(front.parts),))
    return (
        found.into.high <= device_side_a(front, state)
        and found.out_of_port.high <= port_side_a(front, state)
        and found.always
    )


def device_side_a(front: Front, state: State) -> float:
    """The most that may flow into the device: what the parts that carry it are rated for, and
    without a converter what the port promises."""
    if front.converter is not None:
        return min(part.carries_a for part in front.parts[front.split :])
    behind = front.parts[len(front.head_parts) :]
    return min([port_side_a(front, state), *(part.carries_a for part in behind)])


def port_side_a(front: Front, state: State) -> float:
    """What the port promises, and what cable, trigger and a fuse before the converter carry."""
    promised = state.offer_low_a or state.offer_high_a
    return min([promised, *(part.carries_a for part in front.parts[: front.split])])


def _resistor(
    at: str, ohm: float, series: str, volts: float, amps: float, highest: float, around: float
) -> Resistor:
    burns = highest**2 / (ohm * (1 - TOLERANCE))
    hot = max(0.0, around - FULL_UP_TO_DEGC) / (NONE_AT_DEGC - FULL_UP_TO_DEGC)
    usable = SHARE_OF_RATING * max(0.1, 1.0 - hot)
    row = 1
    while burns / row**2 > usable * RATED_W[-1]:
        row += 1
    pieces = row * row
    rated = next(w for w in RATED_W if burns / pieces <= usable * w)
    return Resistor(
        at=at,
        ohm=ohm,
        series=series,
        tolerance=TOLERANCE,
        pieces=pieces,
        arrangement="one" if row == 1 else f"{row} rows of {row}, the rows side by side",
        burns_w=burns / pieces,
        rated_w=rated,
        volts_v=volts,
        amps_a=amps,
        working=_workings(ohm, volts, amps, highest),
    )


def _workings(ohm: float, volts: float, amps: float, highest: float) -> tuple[Working, ...]:
    def symbol(name: str, meaning: str, value: float, unit: str, basis: str) -> Symbol:
        return Symbol(
            symbol=name, meaning=meaning, value=value, low=value, high=value, unit=unit, basis=basis
        )

    wanted = Working(
        formula="V_plug / I_steady",
        symbols=(
            symbol("V_plug", "volts under load, nominal", volts, "V", "calculated"),
            symbol("I_steady", "highest steady current there", amps, "A", "calculated"),
        ),
        result=volts / amps,
        unit="Ω",
        source=CERTAIN,
    )
    burnt = Working(
        formula="V_most ** 2 / (R * (1 - T))",
        symbols=(
            symbol("V_most", "highest volts with nothing on the plug", highest, "V", "calculated"),
            symbol("R", "the preferred value that was taken", ohm, "Ω", "IEC 60063"),
            symbol("T", "its tolerance", TOLERANCE, "1", str(PRACTICE)),
        ),
        result=highest**2 / (ohm * (1 - TOLERANCE)),
        unit="W",
        source=CERTAIN,
    )
    return wanted, burnt
