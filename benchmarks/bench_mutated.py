"""How many mutations of a valid site are told at the line of the mutation, kind by kind.

python benchmarks/bench_mutated.py             at least 5 000; exit 1 under 99 %
python benchmarks/bench_mutated.py --misses    with every miss
"""

import argparse
import sys
import time
from collections import defaultdict
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from tests.invariants.mutated import lines_told, mutations
from tests.invariants.mutations import Mutation
from tests.invariants.whole_sites import SITES

SEED = 1
ROUNDS = 4
MOST_OF_A_KIND = 400
LEAST = 5_000
SHARE = 0.99


def main() -> int:
    """Measure, and print what is missed."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--misses", action="store_true", help="print every one, not five a kind")
    options.add_argument("--kind", help="this one alone")
    asked = options.parse_args()
    start = time.perf_counter()
    pools = mutations(MOST_OF_A_KIND, ROUNDS, SEED)
    pools = {k: v for k, v in pools.items() if asked.kind in (None, k)}
    made = time.perf_counter() - start
    missed: dict[str, list[tuple[Mutation, list[int]]]] = defaultdict(list)
    sites: dict[str, int] = defaultdict(int)
    for kind, pool in pools.items():
        for mutation in pool:
            told = lines_told(mutation)
            if mutation.line not in told:
                missed[kind].append((mutation, told))
            sites[mutation.site] += 1
    count = sum(map(len, pools.values()))
    took = time.perf_counter() - start - made
    print(f"{count} mutations of {len(SITES)} sites: {dict(sites)}; read in {took:.0f} s")
    for kind, pool in sorted(pools.items()):
        share = 1 - len(missed[kind]) / len(pool)
        print(f"  {share:7.2%} of {len(pool):4d}  {kind}")
    for kind, some in sorted(missed.items()):
        for mutation, told in some[: None if asked.misses else 5]:
            print(f"missed: {kind}: {mutation} (told at {told or 'no line: taken as valid'})")
    share = 1 - sum(map(len, missed.values())) / count
    silent = sum(not told for some in missed.values() for _, told in some)
    print(f"{share:.3%} told at their line, {silent} taken as valid; target {SHARE:.0%}")
    return 0 if share >= SHARE and count >= LEAST else 1


if __name__ == "__main__":
    sys.exit(main())
