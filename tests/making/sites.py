"""Small invented sites that meet what the demo does not: rails, moulded leads, USB plugs."""

from sinkside.plan import Plan, plan
from sinkside.site.read import read

RAILS = """\
site: {name: Rails}
rules: {solder: yes, open_cases: yes, mains_side: qualified}
devices:
  old-player:
    use: ordinary
    plate: "INPUT 230V~ 50Hz 25W"
    inlet: {plug: other}
    inside: {is: internal mains supply, rails: {3.3 V: 0.8 A (measured), 5 V: 1.4 A (measured)}}
shelf:
  big: {is: charger, on_change: nothing, ports: {C1: "5V⎓3A 9V⎓3A 15V⎓3A 20V⎓3.25A"}}
"""

OTHERS = """\
site: {name: Others}
rules: {solder: yes, open_cases: yes}
devices:
  usb-thing:
    use: ordinary
    plate: "5V⎓ 500mA"
    inlet: {plug: micro-usb}
    inside: {is: 5 V logic, runs_from: 4.2 V (datasheet), harmed_above: 6 V (datasheet)}
    draws: {steady: 0.2 A (measured), peak: 0.25 A (measured)}
  unknown-poles:
    use: ordinary
    plate: "DC IN 12V⎓ 300mA"
    inlet: {plug: 5.5x2.5}
    blink: any
  adjusted:
    use: ordinary
    plate: "DC IN 8.4V⎓ 300mA ⊖–C–⊕"
    inlet: {plug: 5.5x2.1, centre: positive (measured)}
    inside: {is: switching regulator, runs_from: 8 V (datasheet), harmed_above: 8.8 V (datasheet)}
    draws: {steady: 0.2 A (measured), peak: 0.25 A (measured)}
  clinic-pump:
    use: medical
    plate: "DC IN 9V⎓ 300mA ⊖–C–⊕"
    inlet: {plug: 5.5x2.1}
shelf:
  big:
    {is: charger, count: 5, on_change: nothing, ports: {C1: "5V⎓3A 9V⎓3A 12V⎓3A 15V⎓3A 20V⎓3.25A"}}
"""

MOULDED = """\
site: {name: Moulded}
rules: {solder: no}
devices:
  plain:
    use: ordinary
    plate: "DC IN 9V⎓ 300mA ⊖–C–⊕"
    inlet: {plug: 5.5x2.1, centre: positive (measured)}
    inside: {is: switching regulator, runs_from: 6 V (datasheet), harmed_above: 25 V (datasheet),
      input_capacitor: 10 µF 25 V (plate)}
    draws: {steady: 0.2 A (measured), peak: 0.25 A (measured)}
    brick: {plate: "OUTPUT 9V⎓ 500mA ⊖–C–⊕", original: yes, kept: no}
shelf:
  small: {is: charger, on_change: nothing, ports: {C1: "5V⎓1.5A 9V⎓1.5A"}}
"""


def planned(text: str) -> Plan:
    return plan(read(text, "site.yaml"))
