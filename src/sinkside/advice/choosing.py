"""Which one measurement would settle most, for the minutes that it takes."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sinkside.advice.catalogue import CATALOGUE, Measurement
from sinkside.plan.model import DevicePlan, Plan
from sinkside.rules.finding import Finding
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.appliance import Observed

GRAVE_WEIGHT, SLIGHT_WEIGHT = 4.0, 1.0


@dataclass(frozen=True, kw_only=True)
class Advice:
    """A measurement for one device, and the rules that it would settle.

    Parameters
    ----------
    against_rules
        Whether the rules of the site keep it from being made: it is told only where nothing
        else would settle what is grave.
    """

    measurement: Measurement
    settles: tuple[str, ...]
    expect: str
    against_rules: bool = False

    @property
    def title(self) -> str:
        """What to find out, and that the rules of the site would have to change for it."""
        more = ", for which a case has to be opened" if self.against_rules else ""
        return f"{self.measurement.title}{more}"

    @property
    def minutes(self) -> int:
        """How long it takes."""
        return self.measurement.minutes


def advise(device: DevicePlan, plan: Plan) -> tuple[Advice, ...]:
    """Measurements for one device, the most telling for its minutes first.

    A measurement settles a finding if it makes known what weighs most in it.
    """
    if device.chosen is None:
        return ()
    findings = [f for f in device.chosen.findings if f.verdict is Verdict.UNPROVEN]
    weight = {f.rule: _weight(f) for f in findings}

    def grave(advice: Advice) -> bool:
        return any(weight[rule] == GRAVE_WEIGHT for rule in advice.settles)

    advice = _settling([m for m in CATALOGUE if _possible(m, device, plan)], findings, device)
    if GRAVE_WEIGHT in weight.values() and not any(map(grave, advice)):
        shut = [m for m in CATALOGUE if m.opens_case and _unmade(m, device, plan)]
        barred = (replace(a, against_rules=True) for a in _settling(shut, findings, device))
        advice += [a for a in barred if grave(a)]
    return tuple(
        sorted(
            advice,
            key=lambda a: (
                not grave(a),
                -sum(weight[r] for r in a.settles) / a.minutes,
                a.minutes,
            ),
        )
    )


def _settling(
    measurements: Sequence[Measurement], findings: Sequence[Finding], device: DevicePlan
) -> list[Advice]:
    """Those that settle any finding."""
    found = []
    for measurement in measurements:
        settled = [f for f in findings if _settles(measurement, f)]
        if settled:
            found.append(
                Advice(
                    measurement=measurement,
                    settles=tuple(f.rule for f in settled),
                    expect=measurement.expect(device.appliance),
                )
            )
    return found


def _weight(finding: Finding) -> float:
    return GRAVE_WEIGHT if finding.stakes in (Stakes.HARM, Stakes.LOSS) else SLIGHT_WEIGHT


def _settles(measurement: Measurement, finding: Finding) -> bool:
    first = [name.rpartition("/")[2] for name in finding.unknowns[:1]]
    return any(topic in measurement.topics for topic in first)


def _possible(measurement: Measurement, device: DevicePlan, plan: Plan) -> bool:
    """Whether a measurement may be made at all, and has not been made already."""
    shut = measurement.opens_case and not plan.site.rules.open_cases
    return not shut and _unmade(measurement, device, plan)


def _unmade(measurement: Measurement, device: DevicePlan, plan: Plan) -> bool:
    """Whether a measurement can be made, and has not been made already."""
    written = plan.site.device(device.id)
    seen = {e.observed for e in device.appliance.evidence}
    match measurement.id:
        case "old-brick":
            brick = written.brick
            if brick is None:
                return True
            if not brick.kept:
                return False
            done = brick.open is not None and brick.loaded is not None
            sure = Observed.BRICK_METER in seen or len(seen) > 1
            return brick.original is not False and not (done and sure)
        case "marks":
            unsaid = written.brick is not None and written.brick.original is None
            return Observed.DEVICE_PRINT not in seen or unsaid
        case "inlet-polarity":
            return Observed.INLET_METER not in seen
        case _:
            return True
