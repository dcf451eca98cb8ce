"""Whatever is written of a device: it can be surveyed, and knowing less never promises more.

A fact that proves nothing (a look-alike brick, a hearsay) changes nothing; a wider reading never
narrows what follows from it; no survey falls over.
"""

import re
from dataclasses import replace
from math import sqrt

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.site.devices import surveyed

from sinkside.faults import Faulty
from sinkside.quantity import Quantity
from sinkside.site.appliance import Appliance

VOLTS = st.sampled_from([3.0, 5.0, 6.0, 7.5, 9.0, 12.0, 15.0, 19.0, 24.0, 48.0])
AMPS = st.sampled_from([0.05, 0.3, 0.5, 1.0, 2.5])
POLES = st.sampled_from(["", "⊕–C–⊖", "⊖–C–⊕"])
KINDS = st.sampled_from(["⎓", "~", ""])
INSIDES = st.sampled_from(
    [
        "unknown",
        "linear regulator",
        "{is: linear regulator, part: 7805}",
        "{is: linear regulator, part: 78L09, heat_sink: none, in_front: bridge}",
        "{is: linear regulator, part: 7812, input_capacitor: 2200 µF 25 V (plate)}",
        "{is: switching regulator, runs_from: 6..7 V}",
        "5 V logic",
        "resistive",
        "heater",
        "lamp",
        "motor",
        "lit diodes",
        "amplifier",
        "charge pump",
        "{is: unknown, input_capacitor: 470 µF 16 V}",
        "{in_front: full bridge without tap (measured)}",
        "{is: linear regulator, part: 7805, in_front: full bridge without tap (measured)}",
        "{is: lamp, in_front: full bridge without tap (datasheet)}",
    ]
)
PLUGS = st.sampled_from(["5.5x2.1", "usb-c", "micro-usb", "wires", "other"])
SAID = st.sampled_from(["", ", centre: positive (measured)", ", centre: negative (plate)"])


@st.composite
def plates(draw: st.DrawFn, label: str) -> str:
    volts, amps = draw(VOLTS), draw(AMPS)
    return f"{label} {volts:g}V{draw(KINDS)} {amps:g}A {draw(POLES)}".strip()


@st.composite
def devices(draw: st.DrawFn) -> list[str]:
    """A device without a brick."""
    lines = [f"inlet: {{plug: {draw(PLUGS)}{draw(SAID)}}}", f"inside: {draw(INSIDES)}"]
    if draw(st.booleans()):
        lines.append(f'plate: "{draw(plates("DC IN"))}"')
    if draw(st.booleans()):
        lines.append(f"draws: {{steady: {draw(AMPS)} A (measured)}}")
    return lines


@st.composite
def bricks(draw: st.DrawFn, original: str) -> str:
    open_v, drop_v = draw(st.floats(5, 30)), draw(st.floats(0, 4))
    said = [
        f"original: {original}",
        f"open: {open_v:.1f} V (measured)",
        f"loaded: {open_v - drop_v:.1f} V at {draw(AMPS)} A (measured)",
    ]
    if draw(st.booleans()):
        said.append(f'plate: "{draw(plates("OUTPUT"))}"')
    if draw(st.booleans()):
        said.append("centre: positive (measured)")
    if draw(st.booleans()):
        said.append(f"kind: {draw(st.sampled_from(['dc', 'ac']))} (measured)")
    return "brick: {" + ", ".join(said) + "}"


def quantities(found: Appliance) -> list[Quantity]:
    heat = found.heat
    every = [
        found.harmed_above_v,
        found.runs_from_v,
        found.steady_a,
        found.peak_a,
        found.capacitance_f,
        found.ride_through_s,
        heat.allowed_w,
        heat.output_v,
        heat.quiescent_a,
        heat.cool_up_to_v,
    ]
    return [q for q in every if q is not None]


@settings(derandomize=True, max_examples=50, deadline=None)
@given(devices(), st.one_of(st.just(""), bricks("yes"), bricks("no")))
def test_every_device_can_be_surveyed(device: list[str], brick: str) -> None:
    found = surveyed(*device, *([brick] if brick else []))
    for quantity in quantities(found):
        assert 0.0 <= quantity.low <= quantity.high
        assert quantity.name.startswith("d/")
    names = [q.name for q in quantities(found)]
    assert len(names) == len(set(names))
    assert found.reference_v > 0.0
    assert len({e.observed for e in found.evidence}) <= 4


@settings(derandomize=True, max_examples=50, deadline=None)
@given(devices(), bricks("no"))
def test_a_look_alike_brick_changes_nothing(device: list[str], brick: str) -> None:
    with_it, without = surveyed(*device, brick), surveyed(*device)
    same = replace(
        with_it,
        assumptions=without.assumptions,
        conflicts=without.conflicts,
        reference_v=without.reference_v,
    )
    assert same == without


@settings(derandomize=True, max_examples=40, deadline=None)
@given(devices(), st.floats(5, 40), st.floats(0, 3))
def test_a_wider_reading_promises_no_more(device: list[str], open_v: float, width_v: float) -> None:
    close = surveyed(*device, f"brick: {{open: {open_v:.2f} V (measured)}}")
    low_v = max(0.0, open_v - width_v)
    wide = surveyed(*device, f"brick: {{open: {low_v:.2f}..{open_v + width_v:.2f} V (measured)}}")
    assert wide.harmed_above_v.low <= close.harmed_above_v.low + 1e-9


@settings(derandomize=True, max_examples=40, deadline=None)
@given(devices(), st.floats(5, 40), st.sampled_from(["assumed", "plate", "datasheet", "standard"]))
def test_hearsay_of_the_old_brick_proves_nothing(
    device: list[str], volts: float, basis: str
) -> None:
    close, wide = f"{volts:.1f}", f"{volts + 1:.1f}"
    told = surveyed(*device, f"brick: {{open: {close}..{wide} V ({basis})}}")
    without = surveyed(*device)
    assert (told.harmed_above_v, told.runs_from_v) == (without.harmed_above_v, without.runs_from_v)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(devices(), bricks("yes"))
def test_what_it_is_harmed_above_is_promised_by_somebody(device: list[str], brick: str) -> None:
    # Nothing but the plate, a capacitor, what it lived on or a 5 V input makes a floor; behind
    # a bridge the peak of a.c. volts counts, √2 of their r.m.s. value.
    found = surveyed(*device, brick)
    crest = sqrt(2.0) if found.kind == "either" else 1.0
    promises = [5.5]
    if found.plate_v is not None:
        promises.append(1.05 * found.plate_v)
    if found.kind == "either":
        volts = [float(v) for v in re.findall(r"([\d.]+)V", f"{device} {brick}")]
        promises.append(1.05 * crest * max(volts, default=0.0))
    promises.append(crest * float(brick.partition("open: ")[2].partition(" V")[0]))
    if "16 V" in str(device) or "25 V" in str(device):
        promises.append(25.0)
    # A regulator alone stands somewhat more than its output and headroom, nearly at that.
    promises.append(1.05 * (12.0 * 1.05 + 2.5))
    assert found.harmed_above_v.low <= max(promises) + 1e-9


@settings(derandomize=True, max_examples=80, deadline=None)
@given(st.text(max_size=80))
def test_no_plate_makes_it_fall_over(plate: str) -> None:
    quoted = plate.replace("'", "''")
    try:
        found = surveyed(f"plate: '{quoted}'", "inlet: {plug: 5.5x2.1}")
    except Faulty:
        return
    assert found.harmed_above_v.low <= found.harmed_above_v.high
