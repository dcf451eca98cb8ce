"""The rule table: every rule once, with its stakes, its formula and the trade's reason for it.

A rule holds where its margin is not negative. The margin is computed from the formula
given here, on arrays; the working that is printed is the same formula with the symbols of
the deciding corner. A rule without a formula is categorical: it has a verdict, no margin.
"""

from dataclasses import dataclass
from typing import Literal

from sinkside.rules.verdict import Stakes
from sinkside.working import PRACTICE, Source, Status


@dataclass(frozen=True, kw_only=True)
class Rule:
    """One rule.

    Parameters
    ----------
    title
        What it compares, for people.
    formula
        The margin, in the symbols of `sinkside.rules.symbols`; empty if categorical.
    judged
        `every state`: in every state that the supply can be in. `match`: only while the
        contract stands that was asked for. `once`: on the path as a whole. `company`: on a
        path together with what else is plugged in. `attach`: while that contract stands, and
        as volts first arrive.
    job
        The rows of the trade's list of what goes wrong that it answers.
    breaks
        What to say when it does not hold.
    """

    id: str
    title: str
    stakes: Stakes
    formula: str
    unit: str
    judged: Literal["every state", "match", "attach", "once", "company"]
    job: tuple[str, ...]
    breaks: str
    source: Source


_PD = Source(document="USB Power Delivery R3.x, fixed supply", status=Status.SECONDARY)
_OHM = Source(document="Ohm's law", status=Status.ARITHMETIC)
_UL = Source(document="IEC 60127-2 and UL 248-14 gates", status=Status.MEMORY)
_78XX = Source(document="78xx datasheets, dissipation", status=Status.READ)

RULES: tuple[Rule, ...] = (
    Rule(
        id="polarity",
        title="polarity of the plug against two evidences of the inlet",
        stakes=Stakes.HARM,
        formula="",
        unit="",
        judged="once",
        job=("23",),
        breaks="the polarity is wrong, contradicted, or rests on less than two evidences",
        source=PRACTICE,
    ),
    Rule(
        id="direct-current",
        title="the inlet takes d.c.",
        stakes=Stakes.HARM,
        formula="",
        unit="",
        judged="once",
        job=("22",),
        breaks="nothing says whether the inlet takes d.c. or a.c.",
        source=PRACTICE,
    ),
    Rule(
        id="over-volts",
        title="highest volts against the damage limit",
        stakes=Stakes.HARM,
        formula="V_harm - V_feed_high",
        unit="V",
        judged="every state",
        job=("1", "12", "30", "31"),
        breaks="the supply can stand above what the device survives",
        source=_PD,
    ),
    Rule(
        id="button",
        title="a press of the trigger's button against the damage limit",
        stakes=Stakes.HARM,
        formula="V_harm - V_press",
        unit="V",
        judged="once",
        job=("37a",),
        breaks="one press of the button puts more volts out than the device survives",
        source=PRACTICE,
    ),
    Rule(
        id="part-volts",
        title="highest volts at a part against what it stands",
        stakes=Stakes.HARM,
        formula="V_rated - V_at_part",
        unit="V",
        judged="every state",
        job=("1", "31"),
        breaks="a part of the chain is over its rated volts",
        source=_PD,
    ),
    Rule(
        id="load-side-current",
        title="steady current against the ratings of lead and plug",
        stakes=Stakes.HARM,
        formula="I_rated - I_steady",
        unit="A",
        judged="every state",
        job=("12", "28", "29"),
        breaks="lead or plug is over its rated current",
        source=PRACTICE,
    ),
    Rule(
        id="port-side-current",
        title="steady current against the ratings of cable and trigger",
        stakes=Stakes.HARM,
        formula="I_rated_port - I_port_steady",
        unit="A",
        judged="every state",
        job=("17",),
        breaks="cable or trigger is over its rated current",
        source=Source(document="USB Type-C R2.0, cable ratings", status=Status.SECONDARY),
    ),
    Rule(
        id="fault-current",
        title="what a fault can draw for long against what lead, plug and jack carry",
        stakes=Stakes.HARM,
        formula="I_weakest - I_fault",
        unit="A",
        judged="once",
        job=("9", "28"),
        breaks="in a fault nothing opens before the lead or the plug is over its rating",
        source=_UL,
    ),
    Rule(
        id="regulator-heat",
        title="heat of the regulator against what it may burn",
        stakes=Stakes.HARM,
        formula="P_allow - (V_feed_high - V_out) * I_steady - V_feed_high * I_q",
        unit="W",
        judged="every state",
        job=("21",),
        breaks="the regulator may get hotter than it stands",
        source=_78XX,
    ),
    Rule(
        id="lived-heat",
        title="volts against those at which the device has run cool enough",
        stakes=Stakes.HARM,
        formula="V_cool - V_feed_high",
        unit="V",
        judged="every state",
        job=("20", "21"),
        breaks="it never ran at such volts: what is inside may get too hot",
        source=PRACTICE,
    ),
    Rule(
        id="match-offered",
        title="the volts that are asked for are offered whatever else is plugged in",
        stakes=Stakes.MISBEHAVES,
        formula="",
        unit="",
        judged="once",
        job=("1", "3"),
        breaks="in some company the charger does not offer these volts",
        source=_PD,
    ),
    Rule(
        id="keep-alive",
        title="the contract stays while nobody is near",
        stakes=Stakes.MISBEHAVES,
        formula="",
        unit="",
        judged="once",
        job=("7", "17"),
        breaks="the contract dies unless the trigger asks again in time, and it may not",
        source=Source(
            document="USB Power Delivery R3.x, tPPSRequest and tPPSTimeout", status=Status.SECONDARY
        ),
    ),
    Rule(
        id="rail-volts",
        title="every rail that the device needs, within 5 %",
        stakes=Stakes.HARM,
        formula="",
        unit="",
        judged="once",
        job=("34",),
        breaks="a rail is not given, or not surely within what the device needs",
        source=PRACTICE,
    ),
    Rule(
        id="rail-current",
        title="the most that each rail is asked for against its rating",
        stakes=Stakes.HARM,
        formula="",
        unit="",
        judged="once",
        job=("34",),
        breaks="a rail may be asked for more than it is rated for, or nobody has measured it",
        source=PRACTICE,
    ),
    Rule(
        id="under-volts",
        title="lowest volts at the pins against what the device runs from",
        stakes=Stakes.MISBEHAVES,
        formula="V_feed_low - I_in * R_feed - V_run",
        unit="V",
        judged="match",
        job=("18", "20", "37d"),
        breaks="the device may not get the volts that it runs from",
        source=_OHM,
    ),
    Rule(
        id="operating-point",
        title="a working point for a load of constant power",
        stakes=Stakes.MISBEHAVES,
        formula="V_feed_low ** 2 / (4 * R_feed) - P_load",
        unit="W",
        judged="match",
        job=("13",),
        breaks="through this much resistance the power cannot be had at all",
        source=Source(document="matched load", status=Status.ARITHMETIC),
    ),
    Rule(
        id="port-current",
        title="peak current against what the port offers",
        stakes=Stakes.MISBEHAVES,
        formula="I_offer - I_port",
        unit="A",
        judged="match",
        job=("3", "5", "10", "17"),
        breaks="the device's peak is more than the port offers then",
        source=_PD,
    ),
    Rule(
        id="converter-headroom",
        title="volts left before the converter for it to hold its output",
        stakes=Stakes.MISBEHAVES,
        formula="V_port_low - I_conv * R_front - V_needs",
        unit="V",
        judged="match",
        job=("18", "19"),
        breaks="the converter cannot hold its output",
        source=_OHM,
    ),
    Rule(
        id="converter-peak",
        title="peak current, at the volts it wakes at, against what the converter is rated for",
        stakes=Stakes.MISBEHAVES,
        formula="I_conv_rated - I_start",
        unit="A",
        judged="match",
        job=("10", "13", "19"),
        breaks="the device's peak, or its start, is more than the converter gives",
        source=PRACTICE,
    ),
    Rule(
        id="fuse-holds",
        title="steady current against what the fuse carries",
        stakes=Stakes.MISBEHAVES,
        formula="I_fuse - I_through",
        unit="A",
        judged="match",
        job=("28",),
        breaks="the fuse would open in normal use",
        source=_UL,
    ),
    Rule(
        id="fuse-pulse",
        title="the pulse that charges the input capacitor against what the fuse stands",
        stakes=Stakes.MISBEHAVES,
        formula="J_fuse - J_rush",
        unit="A²s",
        judged="match",
        job=("11", "28"),
        breaks="charging the input capacitor may wear the fuse out",
        source=_UL,
    ),
    Rule(
        id="continuous-load",
        title="steady current against what the charger keeps up for hours",
        stakes=Stakes.MISBEHAVES,
        formula="K_long * I_offer - I_port_steady",
        unit="A",
        judged="match",
        job=("36",),
        breaks="the charger may not keep this up for hours: it runs hot, or gives less",
        source=PRACTICE,
    ),
    Rule(
        id="idle-current",
        title="idle current against the current under which the charger switches off",
        stakes=Stakes.MISBEHAVES,
        formula="I_idle - I_cut",
        unit="A",
        judged="match",
        job=("16",),
        breaks="the charger may take the port to be empty and switch it off",
        source=PRACTICE,
    ),
    Rule(
        id="inrush",
        title="charging the input capacitor and starting up against the port's trip",
        stakes=Stakes.MISBEHAVES,
        formula="I_trip - (C_in * S_rise + I_start) * K_up",
        unit="A",
        judged="attach",
        job=("11", "12", "13"),
        breaks="charging the input capacitor may trip the port",
        source=Source(document="USB Power Delivery R3.x, slew limit", status=Status.SECONDARY),
    ),
    Rule(
        id="single-fault",
        title="full input through a shorted converter against the damage limit",
        stakes=Stakes.NUISANCE,
        formula="V_harm - V_port_high",
        unit="V",
        judged="every state",
        job=("37a",),
        breaks="one fault in the converter puts the port's volts on the device",
        source=PRACTICE,
    ),
    Rule(
        id="blink",
        title="gap when something else is plugged in against what the device rides through",
        stakes=Stakes.MISBEHAVES,
        formula="T_ride - T_gap",
        unit="s",
        judged="company",
        job=("2",),
        breaks="it goes out when something else is plugged into the same charger",
        source=Source(document="USB Power Delivery R3.x, hard reset", status=Status.ARITHMETIC),
    ),
    Rule(
        id="ground-short",
        title="grounds of linked devices on chargers that share their negative",
        stakes=Stakes.HARM,
        formula="",
        unit="",
        judged="company",
        job=("24",),
        breaks="two potentials are forced onto one ground through the signal lead",
        source=PRACTICE,
    ),
)

BY_ID: dict[str, Rule] = {rule.id: rule for rule in RULES}
