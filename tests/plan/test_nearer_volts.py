"""Of two chains that leave harm open, the one whose volts are nearer to what is known is chosen."""

from sinkside.plan import plan
from sinkside.site.read import read

NINETEEN_VOLTS = """\
site: {name: Desk}
rules: {solder: yes, open_cases: yes}
devices:
  screen:
    use: ordinary
    plate: "DC IN 19V⎓ 1.5A ⊖–C–⊕"
    inlet: {plug: 5.5x2.1, centre: positive (measured)}
    brick:
      original: yes
      plate: "OUTPUT 19V DC 2A"
      centre: positive (measured)
      open: 19.4 V (measured)
      loaded: 19.1 V at 1.2 A (measured)
    blink: any
shelf:
  desk: {is: charger, ports: {C1: "5V⎓3A 9V⎓3A 20V⎓3A"}}
"""


def test_of_two_chains_that_leave_harm_open_the_one_nearer_to_what_is_known_is_first() -> None:
    """A 19 V device with its brick measured: 20 V stands at 21 V, a step-up to 24 V at 24.7 V."""
    found = plan(read(NINETEEN_VOLTS, "s.yaml")).device("screen").chosen
    assert found is not None
    assert (found.front.trigger.asks_v, found.front.converter) == (20.0, None)
