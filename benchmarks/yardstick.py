"""How fast this machine is now, against the machine and hour in which targets were written.

A target of s seconds is judged as s × `yardstick()`. The workload is fixed: changing it, the
interpreter's minor version or numpy's makes `REFERENCE_S` meaningless, so measure that again.
"""

from __future__ import annotations

import statistics
import time

import numpy as np

# Median round on two cores of a shared server processor with quiet neighbours, CPython 3.11,
# numpy 2.4; with busy ones the same machine showed up to 2.6 times this.
REFERENCE_S = 0.1137
ROUNDS = 7

_SMALL_CALLS = 3_500
_BIG_SIZE = 1_000_000
_BIG_PASSES = 2
_WORDS = 45_000


def _small_arrays() -> float:
    """Many numpy calls on arrays so small that the call is what costs."""
    volts = np.linspace(4.0, 20.0, 24)
    total = 0.0
    for number in range(_SMALL_CALLS):
        drop = volts * 0.05 + number * 1e-6
        root = np.sqrt(np.maximum(volts * volts - 4.0 * drop, 0.0))
        high = np.where(root > 0.0, 0.5 * (volts + root), np.nan)
        total += float(high[number % 24])
    return total


def _big_array() -> float:
    """Passes over arrays that no cache near the core holds."""
    volts = np.linspace(4.0, 20.0, _BIG_SIZE)
    total = 0.0
    for number in range(_BIG_PASSES):
        current = np.exp(-volts * (0.1 + number)) + 1.0 / volts
        total += float(np.sum(np.where(volts > 9.0, current, 0.5 * current)))
    return total


def _plain_python() -> int:
    """Dictionaries, tuples, strings and integer arithmetic, as search and rules use them."""
    counts: dict[tuple[str, int], int] = {}
    state = 12_345
    for number in range(_WORDS):
        state = (state * 1_103_515_245 + 12_345) & 0x7FFF_FFFF
        key = (f"part-{state % 997}", number % 7)
        counts[key] = counts.get(key, 0) + state % 11
    ranked = sorted(counts.items(), key=lambda item: (-item[1], item[0]))
    return sum(place * count for place, (_, count) in enumerate(ranked))


def seconds() -> float:
    """Time one round of the workload; the median of `ROUNDS`, s."""
    took: list[float] = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        _small_arrays()
        _big_array()
        _plain_python()
        took.append(time.perf_counter() - start)
    return statistics.median(took)


def yardstick() -> float:
    """Measure how many times slower this machine is now than the reference.

    Returns
    -------
    float
        Median seconds of a round now ÷ `REFERENCE_S`; 2.0 means that targets double.

    Notes
    -----
    Wall time, so that a busy neighbour stretches the yardstick as it stretches the benchmark.
    Call it right before or after what is measured; about 1 s.

    References
    ----------
    Common practice, no source.
    """
    return seconds() / REFERENCE_S


def main() -> None:
    """Print seconds and ratio."""
    took = seconds()
    print(f"a round takes {took:.4f} s, {took / REFERENCE_S:.3f} × the reference {REFERENCE_S} s")


if __name__ == "__main__":
    main()
