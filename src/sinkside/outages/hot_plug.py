"""A live lead pushed onto a device: it rings on what is behind the inlet."""

from dataclasses import dataclass

import numpy as np

from sinkside.outages import assumed, build
from sinkside.outages.batch import Job, together
from sinkside.outages.circuit import LEAST_OHM, Circuit, Shunt, Wire
from sinkside.outages.course import Course
from sinkside.outages.ends import NOMINAL, Look
from sinkside.outages.follows import Extent
from sinkside.paths.front import Front
from sinkside.paths.states import State
from sinkside.paths.values import series_ohm
from sinkside.paths.views import CORNERS
from sinkside.quantity import Basis, Quantity, unknown, varies
from sinkside.site.appliance import Appliance, Law

# What stands across the live end of the lead: output capacitors of a charger or a converter
# (common practice, no source).
BEHIND_FARAD = (47e-6, 470e-6)
BEHIND_ESR_OHM = 0.01
_LEAST_S, _TIMES_TO_FILL = 5e-3, 12.0
_LIMIT_A = 1e4


@dataclass(frozen=True, kw_only=True)
class HotPlug:
    """What a live lead does to a device.

    Parameters
    ----------
    peak_v
        Highest volts at its pins.
    margin_v
        What is left up to the damage limit, with everything at its bad end.
    peak_a, lead_a2s
        Highest current out of what stands behind the lead, and its ∫I²dt in the lead.
    """

    peak_v: Extent
    margin_v: float
    peak_a: Extent
    lead_a2s: Extent


def hot_plug(front: Front, appliance: Appliance, law: Law, state: State) -> HotPlug:
    """The ringing when the barrel goes in while the USB end is live.

    Notes
    -----
    The lead is its resistance in a row with 0.5 to 1 µH a metre, cable and tail together; its
    live end is held by 47 to 470 µF. An undamped lead rings to twice its volts; a peak past the
    damage limit asks for the order "barrel first, USB-C last". Left out: the bounce of the
    contact, which may pump it once more, and the fall of ceramic capacitance with volts, which
    raises it (JOB row 32; textbook LC).
    """
    jobs = [_job(front, appliance, law, state, look) for look in (_NOMINAL, _WORST)]
    nominal, worst = together(jobs, accounts=True)
    assert nominal.accounts is not None
    assert worst.accounts is not None
    peak_v = Extent(nominal=float(nominal.most_v[0]), worst=float(worst.most_v.max()))
    return HotPlug(
        peak_v=peak_v,
        margin_v=appliance.harmed_above_v.low - peak_v.worst,
        peak_a=Extent(nominal=float(nominal.peak_a[0]), worst=float(worst.peak_a.max())),
        lead_a2s=Extent(
            nominal=float(nominal.accounts.pins_a2s[0]),
            worst=float(worst.accounts.pins_a2s.max()),
        ),
    )


_NOMINAL, _WORST = Look("ringing", NOMINAL), Look("ringing", CORNERS)


def _job(front: Front, appliance: Appliance, law: Law, state: State, look: Look) -> Job:
    zero = np.zeros(look.columns)
    converter = front.converter
    last = front.parts[front.split + 1 :] if converter else front.parts
    ohm = zero
    for quantity in series_ohm(last):
        ohm = ohm + look.at(quantity, "ohm")
    metres = sum(part.length_m for part in last) + assumed.LEAD_M
    henry = look.at(assumed.lead_henry(metres, f"{front.charger.id} {front.port}"), "henry")
    source = _source(front, state)
    volts = look.at(source, "volts")
    behind = unknown(*BEHIND_FARAD, "F", name=f"{front.charger.id}/output farads")
    farad = np.maximum(look.at(appliance.capacitance_f, "farad"), assumed.LEAST_FARAD)
    esr = np.maximum(look.at(assumed.input_esr_ohm(appliance), "esr"), LEAST_OHM)
    shunts = (
        Shunt(
            siemens=zero,
            # Most of it rings most.
            farad=np.full(look.columns, behind.high),
            esr_ohm=np.full(look.columns, BEHIND_ESR_OHM),
        ),
        Shunt(siemens=zero, farad=farad, esr_ohm=esr),
    )
    circuit = Circuit(
        source_ohm=np.full(look.columns, build.SOURCE_OHM),
        branches=(Wire(ohm=np.maximum(ohm, LEAST_OHM), forward_v=zero, henry=henry),),
        shunts=shunts,
        load=build.load(appliance, law, look),
    )
    lasts_s = np.maximum(_LEAST_S, _TIMES_TO_FILL * (ohm + esr + build.SOURCE_OHM) * farad)
    course = Course(
        t_s=np.stack([zero, lasts_s]),
        v=np.stack([volts, volts]),
        on=np.ones((1, look.columns), dtype=np.bool_),
        bleed_s=np.zeros((1, look.columns)),
        limit_a=np.full((1, look.columns), _LIMIT_A),
        patience_s=zero + 1.0,
    )
    return Job(circuit=circuit, course=course, start_y=np.stack([volts, zero, zero]))


def _source(front: Front, state: State) -> Quantity:
    """What holds the live end: the converter, or the port."""
    converter = front.converter
    if converter is not None:
        return converter.gives_v
    name = f"{front.charger.id}/volts"
    return varies(state.low_v, state.high_v, "V", Basis.STANDARD, name)
