"""A device on a front while something happens to its port: the case, and its runs."""

from dataclasses import dataclass

import numpy as np

from sinkside.outages import assumed, build
from sinkside.outages.batch import Job
from sinkside.outages.ends import Look
from sinkside.outages.happenings import Happening
from sinkside.outages.port_course import Gate, PortFigures, course
from sinkside.paths.front import Front
from sinkside.paths.rails import fed
from sinkside.paths.states import State
from sinkside.paths.values import rise
from sinkside.quantity import Basis, Quantity, varies
from sinkside.site.appliance import Appliance, Law

# After the last contract a run goes on until its reservoirs are full, but for so long at most.
_LEAST_TAIL_S, _MOST_TAIL_S = 1.0, 600.0


@dataclass(frozen=True, kw_only=True)
class Case:
    """A device on a front, and what happens to its port."""

    front: Front
    appliance: Appliance
    happening: Happening


def timed(appliance: Appliance) -> bool:
    """Whether somebody has timed what the device rides through."""
    return appliance.ride_through_s.basis is not Basis.ASSUMED


def job_of(case: Case, law: Law, after: State, look: Look, *, feed: bool = False) -> Job:
    """The job of one case under one law and one state after the event.

    Parameters
    ----------
    feed
        Whether to leave the device's own capacitor out.
    """
    front, happening = case.front, case.happening
    if happening.schedule is None:
        raise ValueError("nothing happens to this port")
    # A converter with several outputs is the device, to what feeds it.
    device = fed(front, case.appliance)
    parts = front.parts if front.rails is None else front.parts[:-1]
    figures = figures_of(front, happening.before or after, after)
    circuit = build.circuit(
        parts,
        device,
        law,
        look,
        contract_v=max(after.nominal_v, (happening.before or after).nominal_v),
        peak=look.question == "inrush",
        own_capacitor=not feed,
    )
    limit = np.maximum(look.at(figures.trip_a, "trip"), 1e-3)
    fill_s = build.fill_s(circuit, look.at(figures.after_v, "volts"), limit)
    gated = front.trigger.gated
    return Job(
        circuit=circuit,
        course=course(
            happening.schedule,
            figures,
            look,
            tail_s=np.clip(fill_s, _LEAST_TAIL_S, _MOST_TAIL_S),
            rest_s=2.0 * fill_s,
            trips=front.charger.id not in device.held_on,
            gate=Gate(closes_after=after.kind == "match") if gated else None,
        ),
    )


def figures_of(front: Front, before: State, after: State) -> PortFigures:
    """What the port of a front gives, before and after."""
    charger = front.charger.id
    return PortFigures(
        five_v=assumed.five_v(charger),
        before_v=_volts(charger, before),
        after_v=_volts(charger, after),
        rise_v_per_s=rise(front),
        trip_a=assumed.limit_a(front, after),
        patience_s=assumed.patience_s(front),
        discharge_ohm=assumed.discharge_ohm(charger),
    )


def _volts(charger: str, state: State) -> Quantity:
    return varies(state.low_v, state.high_v, "V", Basis.STANDARD, f"{charger}/volts")
