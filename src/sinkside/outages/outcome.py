"""What came of runs: when the device went out and came back, how far volts and currents went."""

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from sinkside.outages.circuit import Array


@dataclass(frozen=True, kw_only=True)
class Accounts:
    """Charge and energy of runs while they were watched, shape (runs,).

    Parameters
    ----------
    port_c, load_c
        Charge out of the port and into the load, C.
    port_j, load_j
        Energy out of the port and into the load, J.
    lost_j
        Heat in resistances, diodes, switches and converters.
    stored_j
        By how much the energy in capacitors and inductances rose.
    port_a2s, pins_a2s
        What the event adds to ∫I²dt, above the square of the current that flowed at rest: out of
        the port, and into the last node, A²s.
    charge_gap, energy_gap
        What does not add up, in parts of what was moved and held.
    """

    port_c: Array
    load_c: Array
    port_j: Array
    load_j: Array
    lost_j: Array
    stored_j: Array
    port_a2s: Array
    pins_a2s: Array
    charge_gap: Array
    energy_gap: Array


@dataclass(frozen=True, kw_only=True)
class Trace:
    """The waveforms of runs on the times that were asked for, shape (runs, times)."""

    t_s: Array
    pins_v: Array
    port_v: Array
    port_a: Array


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """What came of the runs, each while it was watched, shape (runs,).

    Parameters
    ----------
    outages
        How often the device went out.
    lost_s, back_s
        When it went out first, and when it came back for the last time; NaN if it never did.
    longest_out_s, out_s
        The longest outage, and all together.
    out_at_end
        Whether it was out when the run ended.
    least_v, most_v
        Of its pins.
    peak_a, peak_s
        The largest current out of the port, and when.
    trips
        How often the port tripped.
    never_settles
        Whether the run was ended because the device kept going out and coming back, or because
        something switched without end.
    blocked
        Whether the run was ended because the receptacle did not fall to vSafe0V.
    waited_s
        How long the port had to wait for that, beyond its own time.
    dead_s
        When the receptacle last fell to vSafe0V; NaN if it never did.
    steps, switches
        Accepted steps and changes of mode.
    changes_s
        When the device went out and came back, run by run.
    """

    outages: NDArray[np.int64]
    lost_s: Array
    back_s: Array
    longest_out_s: Array
    out_s: Array
    out_at_end: NDArray[np.bool_]
    least_v: Array
    most_v: Array
    peak_a: Array
    peak_s: Array
    trips: NDArray[np.int64]
    never_settles: NDArray[np.bool_]
    blocked: NDArray[np.bool_]
    waited_s: Array
    dead_s: Array
    steps: NDArray[np.int64]
    switches: NDArray[np.int64]
    changes_s: tuple[tuple[float, ...], ...]
    accounts: Accounts | None
    trace: Trace | None

    def at(self, runs: slice) -> "Outcome":
        """Some of the runs."""
        changed: dict[str, object] = {}
        for field in fields(Outcome):
            value = getattr(self, field.name)
            if isinstance(value, (np.ndarray, tuple)):
                changed[field.name] = value[runs]
            elif isinstance(value, Accounts):
                changed[field.name] = Accounts(**{k: v[runs] for k, v in vars(value).items()})
            elif isinstance(value, Trace):
                changed[field.name] = Trace(
                    t_s=value.t_s,
                    pins_v=value.pins_v[runs],
                    port_v=value.port_v[runs],
                    port_a=value.port_a[runs],
                )
        return replace(self, **changed)  # type: ignore[arg-type]  # fields by their own names


def merged(outcomes: list[Outcome]) -> Outcome:
    """The runs of outcomes one after the other."""
    if len(outcomes) == 1:
        return outcomes[0]
    first = outcomes[0]
    changed: dict[str, object] = {}
    for field in fields(Outcome):
        values = [getattr(o, field.name) for o in outcomes]
        if isinstance(values[0], np.ndarray):
            changed[field.name] = np.concatenate(values)
        elif isinstance(values[0], tuple):
            changed[field.name] = tuple(v for part in values for v in part)
        elif isinstance(values[0], Accounts):
            changed[field.name] = Accounts(
                **{
                    f.name: np.concatenate([getattr(v, f.name) for v in values])
                    for f in fields(Accounts)
                }
            )
        elif isinstance(values[0], Trace):
            changed[field.name] = Trace(
                t_s=values[0].t_s,
                pins_v=np.concatenate([v.pins_v for v in values]),
                port_v=np.concatenate([v.port_v for v in values]),
                port_a=np.concatenate([v.port_a for v in values]),
            )
    return replace(first, **changed)  # type: ignore[arg-type]  # fields by their own names
