"""Why a device that could be moved has no seat, in the words of the plan."""

from sinkside.plan import plan
from sinkside.plan.model import Action
from sinkside.site.read import read

RADIO = """\
    use: ordinary
    plate: "DC IN 9V⎓ 300mA ⊖–C–⊕"
    inlet: {plug: 5.5x2.1, centre: positive (measured)}
    inside: {is: switching regulator, runs_from: 4 V (datasheet), harmed_above: 30 V (datasheet),
      input_capacitor: 10 µF 50 V (measured)}
    draws: {steady: 200 mA (measured), peak: 250 mA (measured)}
    blink: any
    at: attic
"""
SITE = f"""\
site: {{name: Two rooms}}
places: {{attic: {{}}, cellar: {{}}}}
rules: {{solder: yes, open_cases: yes}}
devices:
  radio:
{RADIO}
  second:
{RADIO}
shelf:
  near: {{is: charger, at: attic, ports: {{C1: "5V⎓3A 9V⎓3A"}}}}
  far: {{is: charger, at: cellar, ports: {{C1: "5V⎓3A 9V⎓3A", C2: "5V⎓3A 9V⎓3A"}}}}
"""


def test_ports_out_of_reach_are_not_counted_as_free() -> None:
    """Two ports in the cellar are free, and no lead goes there."""
    found = plan(read(SITE, "s.yaml"))
    [left] = [d for d in found.devices if d.action is Action.LEAVE]
    assert left.chosen is None
    assert "want a port of near, and all of those (1) are taken" in left.why
