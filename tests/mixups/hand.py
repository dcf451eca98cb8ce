"""The cells that were labelled by hand, as leads, bricks and inlets of the program."""

from pathlib import Path
from typing import Any, TypeAlias

import yaml
from tests.paths import small_parts as small

from sinkside.mixups.old_brick import REGULATES_UP_TO, OldBrick
from sinkside.paths.front import Front
from sinkside.site.appliance import Appliance, Evidence, Observed, Refusal

FILE = Path(__file__).with_name("hand_labelled.yaml")
Raw: TypeAlias = dict[str, Any]
CELLS: list[Raw] = yaml.safe_load(FILE.read_text(encoding="utf-8"))["cells"]
ANY_FALLBACK = ("next lower", "5 V", "highest", "off")
WITNESSES = (Observed.DEVICE_PRINT, Observed.INLET_METER)


def _figure(value: Any) -> Any:
    return tuple(float(v) for v in value) if isinstance(value, list) else float(value)


def inlet(said: Raw) -> Appliance:
    """The inlet of a device."""
    changes: Raw = {"plug": said["plug"], "kind": said.get("kind", "dc")}
    for key, name in (
        ("harmed_v", "harmed_above_v"),
        ("runs_v", "runs_from_v"),
        ("steady_a", "steady_a"),
    ):
        changes[name] = _figure(said[key])
    changes["peak_a"] = _figure(said.get("peak_a", said["steady_a"]))
    changes["evidence"] = tuple(
        Evidence(observed=WITNESSES[i], centre=said["centre"]) for i in range(said["poles"])
    )
    if "plate_v" in said:
        changes["plate_v"] = float(said["plate_v"])
    if "allows" in said:
        changes["heat"] = small.regulator_heat(*map(float, said["allows"]))
    if "cool_v" in said:
        changes["heat"] = small.cool(float(said["cool_v"]))
    if "refused" in said:
        changes["refusals"] = (Refusal(why=said["refused"], ask="whoever knows it"),)
    return small.device("inlet", **changes)


def front(said: Raw) -> Front:
    """A new lead."""
    listed = said.get("offers", "5:3 9:3 12:3 15:3 20:3")
    source = small.charger(listed)
    if "beside" in said:
        together = {"C1+C2": {"C1": said["beside"], "C2": "5:3"}}
        source = small.charger({"C1": listed, "C2": "5:3"}, together)
    rule = said.get("falls_back", "next lower")
    asks = small.trigger(
        float(said["asks"]),
        ANY_FALLBACK if rule == "unknown" else (rule,),
        gated=said.get("gated", True),
    )
    ohm = _figure(said.get("ohm", 0.0))
    sets = [small.converter(_figure(said["sets"]))] if "sets" in said else []
    lead = small.lead(ohm, centre=said.get("centre"), plug=said["plug"])
    return small.front(source, small.cable(), asks, *sets, lead)


def brick(said: Raw) -> OldBrick:
    """An old brick that belongs to some other device."""
    plate, opened = said.get("plate_v"), said.get("open_v")
    loaded = said.get("loaded")
    ratio = opened / plate if plate and opened else None
    regulates = None if ratio is None else ratio <= REGULATES_UP_TO
    amps = said.get("plate_a")
    return OldBrick(
        device="another",
        plug=said["plug"],
        own=True,
        in_use=False,
        kind=said.get("kind", "unknown"),
        centre=said.get("centre"),
        centre_is_sure=said.get("known") == "meter",
        plate_v=(float(plate), float(plate)) if plate else None,
        regulates=False if said.get("kind") == "ac" else regulates,
        read_open_v=(float(opened), float(opened)) if opened else None,
        loaded_v=(float(loaded[0]), float(loaded[0])) if loaded else None,
        loaded_a=(float(loaded[1]), float(loaded[1])) if loaded else None,
        carries_a=(float(amps), float(amps)) if amps else (0.0, 10.0),
    )
