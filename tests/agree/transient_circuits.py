"""The circuits of which the transients are compared: every kind of load, branch and shunt."""

from tests.outages.plain import LOADS, Charging, Plain, Ramp, Shunt, Stage, Wire, current, power

_NONE = Shunt()
_DOWN = Stage(direction="step-down", set_v=5.0, ratio=0.9, starts_v=6.5, stops_v=5.6)
_ISOLATED = Stage(direction="isolated", set_v=9.0, ratio=1.0, starts_v=6.5, stops_v=5.6)
_UP = Stage(direction="step-up", set_v=12.0, ratio=1.0, starts_v=8.0, stops_v=7.0)
_BESIDE = Charging(ohm=4.7, forward_v=0.4, slope_ohm=0.1, own_siemens=1 / 470)
_INPUT = Shunt(farad=47e-6, esr_ohm=0.02)


def _plain(name: str, ohm: float, farad: float, esr_ohm: float, load: dict[str, object]) -> Plain:
    shunts = (_NONE, Shunt(farad=farad, esr_ohm=esr_ohm))
    return Plain(name=name, branches=(Wire(ohm=ohm),), shunts=shunts, **load)  # type: ignore[arg-type]


def _with(name: str, branches: object, shunts: object, load: dict[str, object]) -> Plain:
    return Plain(name=name, branches=branches, shunts=shunts, **load)  # type: ignore[arg-type]


def _by_load(name: str, branches: object, shunts: object) -> list[Plain]:
    loads = vars(LOADS)
    return [_with(f"{name}, {kind}", branches, shunts, load) for kind, load in loads.items()]


_DIODE = Wire(ohm=0.4, forward_v=0.35)
_CIRCUITS = [
    # Bare lead into the device's capacitor.
    *_by_load("bare", (Wire(ohm=0.35),), (_NONE, Shunt(farad=1e-3, esr_ohm=0.05))),
    # A diode before it.
    *_by_load("diode", (_DIODE,), (_NONE, Shunt(farad=1e-3, esr_ohm=0.1))),
    # A hold-up of 10 mF behind a diode, lead, and the device's own capacitor.
    *_by_load(
        "hold-up",
        (_DIODE, Wire(ohm=0.15)),
        (_NONE, Shunt(farad=10e-3, esr_ohm=0.05), Shunt(farad=470e-6, esr_ohm=0.05)),
    ),
    # A choke with its capacitor.
    *_by_load(
        "choke",
        (Wire(ohm=0.2), Wire(ohm=0.3, henry=1e-3), Wire(ohm=0.15)),
        (_NONE, Shunt(farad=10e-6, esr_ohm=0.02), Shunt(farad=470e-6, esr_ohm=0.1),
         Shunt(farad=220e-6, esr_ohm=0.05)),
    ),
    _with("step-down, current", (Wire(ohm=0.2), _DOWN, Wire(ohm=0.15)),
          (_NONE, _INPUT, _NONE, Shunt(farad=1e-3, esr_ohm=0.05)), current(0.8, 1.0)),
    _with("step-down, power", (Wire(ohm=0.2), _DOWN, Wire(ohm=0.15)),
          (_NONE, _INPUT, _NONE, Shunt(farad=1e-3, esr_ohm=0.05)), power(4.0, 4.0, 4.5)),
    _with("hold-up, step-down, current", (_DIODE, _DOWN),
          (_NONE, Shunt(farad=10e-3, esr_ohm=0.05), Shunt(farad=220e-6, esr_ohm=0.02)),
          current(0.8, 0.5)),
    _with("isolated, regulator", (Wire(ohm=0.2), _ISOLATED, Wire(ohm=0.15)),
          (_NONE, _INPUT, _NONE, Shunt(farad=1e-3, esr_ohm=0.05)), LOADS.regulator),
    _with("step-up, resistance", (Wire(ohm=0.2), _UP, Wire(ohm=0.15)),
          (_NONE, _INPUT, _NONE, Shunt(farad=1e-3, esr_ohm=0.05)), LOADS.resistance),
    _with("soft start, power", (Wire(ohm=0.25), Ramp()),
          (_NONE, _NONE, Shunt(farad=4.7e-3, esr_ohm=0.03)), LOADS.power),
    _with("slew limiter, power", (Wire(ohm=0.25), Ramp(every_step=True)),
          (_NONE, _NONE, Shunt(farad=4.7e-3, esr_ohm=0.03)), LOADS.power),
    _with("soft start, hold-up, current", (Wire(ohm=0.2), Ramp(every_step=True), _DIODE),
          (_NONE, _NONE, _NONE, Shunt(farad=10e-3, esr_ohm=0.05)), LOADS.current),
    _plain("limited port, power", 0.2, 4.7e-3, 0.03, LOADS.power).called(
        "limited port, power", limit_a=3.0),
    _plain("limited port, current", 0.2, 2.2e-3, 0.03, LOADS.current).called(
        "limited port, current", limit_a=1.5),
    _plain("ceramic, power", 0.15, 10e-6, 2e-3, LOADS.power),
    _with("bleeder behind a diode, current", (_DIODE,),
          (_NONE, Shunt(farad=4.7e-3, esr_ohm=0.05, siemens=0.01)), LOADS.current),
    _with("reservoir beside the feed, power", (_DIODE, Wire(ohm=0.15)),
          (_NONE, Shunt(farad=22e-3, esr_ohm=0.04, charging=_BESIDE),
           Shunt(farad=470e-6, esr_ohm=0.05)), power(3.0, 5.0, 6.5)),
    _with("crowbar, current", (Wire(ohm=0.2), Wire(ohm=0.15)),
          (_NONE, Shunt(crowbar_v=7.0), Shunt(farad=1e-3, esr_ohm=0.05)),
          LOADS.current).called("crowbar, current", limit_a=3.0),
    # A live lead on ceramics: it rings.
    _with("live lead, power", (Wire(ohm=0.05), Wire(ohm=0.06, henry=1e-6)),
          (_NONE, Shunt(farad=10e-6, esr_ohm=0.01), Shunt(farad=10e-6, esr_ohm=0.01)),
          LOADS.power),
]  # fmt: skip

CIRCUITS = {circuit.name: circuit for circuit in _CIRCUITS}
