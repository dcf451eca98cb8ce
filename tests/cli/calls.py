"""Calls of the command line from tests: the same entry point, in this process or in a new one."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

PROGRAM = Path(sys.executable).with_name("sinkside")
COMMANDS = ("charger", "check", "demo", "mixups", "outage", "papers", "pdo", "plan", "plate")

# One device of which everything is known, and that fits.
FITS = """\
site: {name: My bench}
rules: {solder: yes, open_cases: yes, spare_ports: blocked}
devices:
  radio:
    use: ordinary
    plate: "DC IN 9V⎓ 300mA ⊖–C–⊕"
    inlet: {plug: 5.5x2.1, centre: positive (measured)}
    inside: {is: switching regulator, runs_from: 4 V (datasheet), harmed_above: 30 V (datasheet),
      input_capacitor: 10 µF 50 V (measured)}
    draws: {steady: 200 mA (measured), peak: 250 mA (measured)}
    blink: any
shelf:
  desk: {is: charger, ports: {C1: "5V⎓3A 9V⎓3A"}}
"""
# The same beside a clock of which only the plate is known.
OPEN = FITS.replace(
    "shelf:", '  clock: {use: ordinary, plate: "9V⎓ 50mA", inlet: {plug: 5.5x2.1}}\nshelf:'
)
# Two faults: a key misspelt on line 6, a fact that rests on nothing on line 9.
FAULTY = FITS.replace("plate:", "plaet:").replace("200 mA (measured)", "200 mA")


@dataclass(frozen=True, kw_only=True)
class Done:
    """What a call left behind."""

    status: int
    out: str
    err: str

    @property
    def told(self) -> tuple[int, str, str]:
        """Everything, to be compared at once."""
        return self.status, self.out, self.err

    @property
    def document(self) -> Any:
        """The one JSON document on standard output; anything beside it is an error here."""
        return json.loads(self.out)


Call = Callable[..., Done]


def fault(
    code: str,
    wrong: str,
    right: str | None = None,
    file: str | None = None,
    line: int | None = None,
    column: int | None = None,
) -> dict[str, str | int | None]:
    """A fault as JSON gives it."""
    return {
        "code": code,
        "file": file,
        "line": line,
        "column": column,
        "wrong": wrong,
        "right": right,
    }


def subprocessed(*arguments: str, **how: Any) -> subprocess.CompletedProcess[bytes]:
    """The installed program in a process of its own."""
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "1", **how.pop("env", {})}
    settings: dict[str, Any] = {"timeout": 60, "stdin": subprocess.DEVNULL, "env": environment}
    if not {"stdout", "stderr"} & how.keys():
        settings["capture_output"] = True
    if "input" in how:
        del settings["stdin"]
    return subprocess.run([str(PROGRAM), *arguments], check=False, **(settings | how))
