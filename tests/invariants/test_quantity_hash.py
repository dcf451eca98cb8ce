"""Quantities that are equal hash alike, in this process and in one that got them by mail."""

import os
import pickle
import subprocess
import sys
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from sinkside.quantity import Basis, Quantity, Spread, point

FLOATS = st.floats(-1e4, 1e4)
QUANTITIES = st.builds(
    lambda low, size, unit, basis, spread, name: Quantity(
        low=low, high=low + size, unit=unit, basis=basis, spread=spread, name=name
    ),
    low=FLOATS,
    size=st.floats(0, 100),
    unit=st.sampled_from(["V", "A"]),
    basis=st.sampled_from(Basis),
    spread=st.sampled_from(Spread),
    name=st.text(max_size=5),
)


@settings(derandomize=True, max_examples=100, deadline=None)
@given(QUANTITIES)
def test_equal_quantities_hash_alike(quantity: Quantity) -> None:
    twin = replace(quantity)
    assert hash(quantity) == hash(twin)
    assert quantity == twin
    assert hash(quantity) == hash(quantity)
    assert {quantity: 1}[twin] == 1


@settings(derandomize=True, max_examples=100, deadline=None)
@given(QUANTITIES)
def test_a_copy_under_another_name_forgets_the_hash(quantity: Quantity) -> None:
    hash(quantity)
    other = quantity.called(f"{quantity.name}, another")
    assert other != quantity
    assert hash(other) == hash(replace(other))


def test_a_remembered_hash_does_not_travel_to_another_process() -> None:
    # Words hash differently in every process, so a kept hash must not be part of what is sent.
    sent = point(9.0, "V", Basis.MEASURED, "recorder/steady current")
    hash(sent)
    code = (
        "import pickle, sys\n"
        "from sinkside.quantity import Basis, point\n"
        "came = pickle.load(sys.stdin.buffer)\n"
        "own = point(9.0, 'V', Basis.MEASURED, 'recorder/steady current')\n"
        "print(came == own, came in {own})\n"
    )
    found = subprocess.run(
        [sys.executable, "-c", code],
        input=pickle.dumps(sent),
        capture_output=True,
        check=True,
        env={**os.environ, "PYTHONHASHSEED": "12345"},
    )
    assert found.stdout.decode().split() == ["True", "True"]
