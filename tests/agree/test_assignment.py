"""The assignment against a general-purpose solver, on questions too large to try every answer.

OR-Tools CP-SAT solves a model that is written another way, in a process of its own: see
`tests.sharing.by_cp_sat`. Level by level both must come to the same.
"""

import json
import random
import runpy
import subprocess
import sys
from dataclasses import asdict
from pathlib import Path

import pytest
from tests.sharing import questions

from sinkside.sharing import Question, assign

SITES = Path(__file__).parents[2] / "benchmarks" / "sites.py"
SOLVER = Path(questions.__file__).with_name("by_cp_sat.py")


def by_cp_sat(asked: Question) -> tuple[int, ...]:
    document = {
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
    run = subprocess.run(
        [sys.executable, str(SOLVER)],
        input=json.dumps(document),
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
    )
    return tuple(json.loads(run.stdout))


@pytest.mark.parametrize("seed", range(4))
def test_six_devices_are_seated_as_well_as_by_a_general_solver(seed: int) -> None:
    draw = random.Random(1000 + seed)
    asked = questions.question(draw, 6, blocked=seed % 2 == 0, per_place=2)
    solved = assign(asked)
    values = tuple(level.value for level in solved.levels)[: len(questions.COMPARED)]
    assert questions.worth(asked, solved.seats) == values
    assert values == by_cp_sat(asked)


@pytest.mark.parametrize("seed", [1, 3, 5])
def test_eight_devices_on_chargers_with_tables_are_seated_as_well(seed: int) -> None:
    drawn = runpy.run_path(str(SITES))
    asked = drawn["site"](drawn["SMALL"], seed)
    values = tuple(level.value for level in assign(asked).levels)[: len(questions.COMPARED)]
    assert values == by_cp_sat(asked)
