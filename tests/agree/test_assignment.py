"""The assignment against a general-purpose solver, on questions too large to try every answer.

OR-Tools CP-SAT solves a model that is written another way, in a process of its own: see
`tests.sharing.by_cp_sat`. Level by level both must come to the same.
"""

import json
import random
import runpy
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
from tests.sharing import questions

from sinkside.sharing import Question, assign

SITES = Path(__file__).parents[2] / "benchmarks" / "sites.py"
SOLVER = Path(questions.__file__).with_name("by_cp_sat.py")


def by_cp_sat(asked: Sequence[Question]) -> list[tuple[int, ...]]:
    run = subprocess.run(
        [sys.executable, str(SOLVER)],
        input=json.dumps([plain(one) for one in asked]),
        capture_output=True,
        text=True,
        check=True,
        timeout=300,
    )
    return [tuple(values) for values in json.loads(run.stdout)]


def plain(asked: Question) -> dict[str, Any]:
    return {
        "kinds": [vars(k) for k in asked.kinds],
        "options": [{**asdict(o), "company": sorted(o.company)} for o in asked.options],
        "forbidden": [vars(f) for f in asked.forbidden],
        "blinks": {f"{device}|{kind}": code for (device, kind), code in asked.blinks.items()},
        "earthed": sorted(asked.earthed),
        "stock": dict(asked.stock),
        "prices": dict(asked.prices),
        "budget": asked.budget,
        "levels": list(questions.COMPARED),
    }


def solved(asked: Question) -> tuple[int, ...]:
    found = assign(asked)
    values = tuple(level.value for level in found.levels)[: len(questions.COMPARED)]
    assert questions.worth(asked, found.seats) == values
    return values


@pytest.mark.parametrize(("devices", "sites"), [(6, 20), (8, 30), (10, 20)])
def test_devices_are_seated_as_well_as_by_a_general_solver(devices: int, sites: int) -> None:
    asked = [
        questions.question(random.Random(1000 + n), devices, blocked=n % 2 == 0, per_place=2)
        for n in range(sites)
    ]
    assert [solved(one) for one in asked] == by_cp_sat(asked)


def test_eight_devices_on_chargers_with_tables_are_seated_as_well() -> None:
    """Odd seeds alone: blocked ports make more options than that solver gets through in minutes."""
    drawn = runpy.run_path(str(SITES))
    asked = [drawn["site"](drawn["SMALL"], seed) for seed in range(1, 2 * 30, 2)]
    assert [solved(one) for one in asked] == by_cp_sat(asked)
