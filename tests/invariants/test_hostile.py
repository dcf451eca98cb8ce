"""A slice of the hostile inputs of `benchmarks/bench_hostile.py`: answered or refused, never 70.

What is asked of an answer is our own promise, no source: exit status 0, 1 or 2 within a second of
the processor, one JSON document where one is asked for, and nothing on a terminal that does
something to it. The benchmark makes 200 000 of them; here each kind has a few hundredths of that.
"""

import importlib
import sys
from pathlib import Path
from types import ModuleType

import pytest

SEED = 7
COUNTS = {
    "quantity": 80,
    "plate": 80,
    "words": 80,
    "tree": 20,
    "site": 60,
    "call": 20,
    "page": 3,
    "plan": 3,
}


@pytest.fixture(scope="module")
def kinds() -> ModuleType:
    """The kinds of hostile input, from the folder of the benchmarks."""
    folder = str(Path(__file__).parents[2] / "benchmarks")
    if folder not in sys.path:
        sys.path.append(folder)
    return importlib.import_module("hostile.kinds")


def test_every_kind_has_its_slice(kinds: ModuleType) -> None:
    assert COUNTS.keys() == kinds.KINDS.keys()
    assert sum(kind.share for kind in kinds.KINDS.values()) == pytest.approx(1.0)


@pytest.mark.parametrize("name", COUNTS)
def test_a_hostile_input_is_answered_or_refused(kinds: ModuleType, name: str) -> None:
    wrong = []
    for index in range(COUNTS[name]):
        found = kinds.outcome(SEED, name, index)
        slow = found.end.cpu_s > kinds.KINDS[name].limit_s
        wrong += [(f"{name}/{index}", told) for told in found.wrong]
        wrong += [(f"{name}/{index}", f"{found.end.cpu_s:.1f} s")] if slow else []
    assert wrong == []


def test_the_same_name_gives_the_same_input(kinds: ModuleType) -> None:
    for name, kind in kinds.KINDS.items():
        again = [kind.make(kinds.stream(SEED, name, 1)) for _ in range(2)]
        assert again[0] == again[1]


def test_what_is_wrong_is_told(kinds: ModuleType) -> None:
    calls = importlib.import_module("hostile.calls")
    ended = calls.Ended(status=70, out=b"", err=b"x\nours", cpu_s=0.0, wall_s=0.0)
    assert calls.faults(ended, json_too=False, plain=False, allowed=(0, 2)) == ["exit 70: ours"]
    nan = calls.Ended(status=0, out=b"NaN", err=b"", cpu_s=0.0, wall_s=0.0)
    assert calls.faults(nan, json_too=True, plain=False, allowed=(0,)) == [
        "no JSON: NaN is no JSON"
    ]
    escape = calls.Ended(status=0, out=b"\x1b[2J", err=b"", cpu_s=0.0, wall_s=0.0)
    told = ["signs that are not to be shown: ['\\x1b']"]
    assert calls.faults(escape, json_too=False, plain=False, allowed=(0,)) == told
    silent = calls.Ended(status=2, out=b"", err=b"", cpu_s=0.0, wall_s=0.0)
    told = ["a wrong call or file, and not told on standard error alone"]
    assert calls.faults(silent, json_too=False, plain=False, allowed=(0, 2)) == told
    assert not kinds.quantities_read_back(kinds.stream(SEED, "quantity", 0))
