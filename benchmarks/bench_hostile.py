"""Hostile input at scale: whatever is typed, plugged in or half written is answered or refused.

python benchmarks/bench_hostile.py               200 000 inputs, a sample of them as own processes
python benchmarks/bench_hostile.py --quick       5 000 inputs
python benchmarks/bench_hostile.py --slice 3/40  the third of 40 slices of the 200 000
python benchmarks/bench_hostile.py --slice 3/40 --table rows.jsonl   keeps its figures there
python benchmarks/bench_hostile.py --table rows.jsonl --sum          adds up what is kept there
python benchmarks/bench_hostile.py --only site/4711    one input again, with how it ended

Every input is a call of the command line through its main function, in this process, with streams
of its own: plates and words on the line or by standard input, host trees as real files, quantities
and site files by `check`, and some by `plan`. Every input has a random stream of its own, so the
seed and its name are enough to see it again.

Right is exit status 0, 1 or 2 within a second of the processor (a plan may take five), one JSON
document where one is asked for, no sign on a terminal that does something to it, and an answer
that keeps what it promises: words and quantities read back, and shelf entries load. Wrong is
everything else, status 70 first. What takes too long is made again, so that a collection of
garbage does not count.
"""

import argparse
import json
import resource
import subprocess
import sys
import tempfile
import time
from collections import Counter, defaultdict
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from hostile.calls import HERE, bounded, write_tree
from hostile.kinds import KINDS, Outcome, outcome, stream

FULL, QUICK = 200_000, 5_000
FULL_CALLS, QUICK_CALLS = 300, 20
# What takes so many times the limit is slow, whatever the machine was at.
NOT_BY_CHANCE = 3

Row = dict[str, Any]


def counted(name: str, total: int, part: tuple[int, int]) -> range:
    """The numbers of the inputs of one kind that are in a slice."""
    number, of = part
    return range(number - 1, round(total * KINDS[name].share), of)


def run(seed: int, name: str, indices: range) -> tuple[Row, dict[str, list[str]]]:
    """All inputs of one kind: a row of the table, and what was wrong with which."""
    limit_s = KINDS[name].limit_s
    statuses: Counter[str] = Counter()
    wrong: dict[str, list[str]] = defaultdict(list)
    slowest: dict[str, tuple[float, str]] = {"cpu": (0.0, ""), "wall": (0.0, "")}
    spent_s = 0.0
    for index in indices:
        found = outcome(seed, name, index)
        if limit_s < found.end.cpu_s < NOT_BY_CHANCE * limit_s:
            found = min(found, outcome(seed, name, index), key=_cpu_s)
        this = f"{name}/{index}"
        for clock, took in (("cpu", found.end.cpu_s), ("wall", found.end.wall_s)):
            slowest[clock] = max(slowest[clock], (took, this))
        spent_s += found.end.cpu_s
        statuses[str(found.end.status)] += 1
        for told in found.wrong:
            wrong[told].append(this)
        if found.end.cpu_s > limit_s:
            wrong["slow"].append(f"{this} {found.end.cpu_s:.2f} s")
    row: Row = {"seed": seed, "kind": name, "inputs": len(indices), "statuses": dict(statuses)}
    row |= {f"slowest_{clock}": list(most) for clock, most in slowest.items()}
    return row | {"cpu_s": spent_s, "wrong": sum(map(len, wrong.values()))}, wrong


def _cpu_s(found: Outcome) -> float:
    return found.end.cpu_s


def shown(row: Row) -> str:
    """A row of the table for people."""
    told = "  ".join(f"{row['statuses'].get(s, 0):6} × {s}" for s in ("0", "1", "2"))
    others = sum(n for s, n in row["statuses"].items() if s not in ("0", "1", "2"))
    cpu, wall = row["slowest_cpu"], row["slowest_wall"]
    return (
        f"{row['kind']:9} {row['inputs']:7} inputs  {told}  {others:4} × other"
        f"  {row['wrong']:5} WRONG  slowest {cpu[0]:.3f} s ({cpu[1]}),"
        f" by the clock {wall[0]:.3f} s ({wall[1]})  all {row['cpu_s']:.0f} s"
    )


def added(rows: list[Row]) -> list[Row]:
    """Rows of slices added up kind by kind, and the sum of all."""
    found: dict[str, Row] = {}
    for row in rows:
        for kind in (row["kind"], "all"):
            sums = found.setdefault(kind, {"kind": kind, "statuses": Counter()})
            for key in ("inputs", "cpu_s", "wrong"):
                sums[key] = sums.get(key, 0) + row[key]
            sums["statuses"].update(row["statuses"])
            for key in ("slowest_cpu", "slowest_wall"):
                sums[key] = max(sums.get(key, [0.0, ""]), row[key])
    return [found[kind] for kind in sorted(found, key=lambda kind: kind == "all")]


def missing(rows: list[Row]) -> list[str]:
    """Slices that are not there, because their process ended before it was through."""
    found = []
    for kind in {row["kind"]: None for row in rows}:
        kept = [row["slice"] for row in rows if row["kind"] == kind]
        of = int(kept[0].partition("/")[2])
        lost = sorted({f"{number}/{of}" for number in range(1, of + 1)} - set(kept))
        found += [f"{kind}: no slice {' '.join(lost)}"] if lost else []
        twice = sorted({one for one in kept if kept.count(one) > 1})
        found += [f"{kind}: twice slice {' '.join(twice)}"] if twice else []
    return found


def one_call(seed: int, name: str, index: int) -> str:
    """One input through a process of its own; empty if it ended as it should."""
    kind = KINDS[name]
    draw = stream(seed, name, index)
    json_too = draw.random() < 0.5 and not kind.plain
    call = kind.make(draw)
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        write_tree(call.files, Path(folder))
        arguments = [a.replace(HERE, folder) for a in call.arguments]
        arguments[1:1] = ["--json"] * json_too
        program = [str(Path(sys.executable).with_name("sinkside")), *arguments]
        try:
            done = subprocess.run(program, input=call.stdin, capture_output=True, timeout=120)
        except subprocess.TimeoutExpired:
            return f"{name}/{index}: no end after 120 s"
        except (OSError, ValueError) as error:  # no system passes such a line on
            return "" if "too long" in str(error) or "null byte" in str(error) else str(error)
    if done.returncode not in kind.allowed or b"Traceback" in done.stderr:
        return f"{name}/{index}: exit {done.returncode}: {done.stderr[-200:]!r}"
    return ""


def through_processes(seed: int, calls: int) -> int:
    """A sample as processes of their own; the number of failures."""
    sample = [
        (seed, name, index)
        for name in KINDS
        for index in range(-(-calls // len(KINDS)))  # the first of each kind
    ][:calls]
    with ThreadPoolExecutor(max_workers=2) as pool:
        told = [line for line in pool.map(lambda one: one_call(*one), sample) if line]
    print(f"{len(sample)} calls as processes of their own, {len(told)} WRONG")
    print("\n".join(told))
    return len(told)


def again(seed: int, name: str, index: int) -> int:
    """One input once more, with all that is known of it."""
    draw = stream(seed, name, index)
    draw.random()
    call = KINDS[name].make(draw)
    print(f"{call!r:.2000}")
    found = outcome(seed, name, index)
    print(f"{found.end!r:.4000}\nwrong: {found.wrong}")
    return 1 if found.wrong else 0


def main() -> int:
    """Run all, a slice, or one; or add up what slices kept."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--quick", action="store_true")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--slice", default="1/1", metavar="NUMBER/OF")
    options.add_argument("--kind", choices=KINDS, action="append")
    options.add_argument("--table", type=Path, metavar="FILE")
    options.add_argument("--sum", action="store_true")
    options.add_argument("--only", metavar="KIND/NUMBER")
    asked = options.parse_args()
    bounded()
    if asked.only:
        name, _, index = asked.only.partition("/")
        return again(asked.seed, name, int(index))
    if asked.sum:
        rows = [json.loads(line) for line in asked.table.read_text().splitlines()]
        sums = added(rows)
        print("\n".join(map(shown, sums)))
        print("\n".join(missing(rows)))
        return 1 if any(row["wrong"] for row in sums) else 0
    number, _, of = asked.slice.partition("/")
    print(f"seed {asked.seed}, slice {asked.slice}", flush=True)
    failed = 0
    total = QUICK if asked.quick else FULL
    for name in asked.kind or KINDS:
        begun = time.perf_counter()
        row, wrong = run(asked.seed, name, counted(name, total, (int(number), int(of))))
        print(f"{shown(row)}, {time.perf_counter() - begun:.0f} s by the clock", flush=True)
        for told, which in sorted(wrong.items(), key=lambda item: -len(item[1])):
            print(f"{len(which):5} × {told[:300]}\n        {', '.join(which[:6])}", flush=True)
        failed += row["wrong"]
        row["slice"] = asked.slice
        if asked.table:
            with asked.table.open("a") as kept:
                kept.write(json.dumps(row) + "\n")
    if asked.slice == "1/1" and not asked.kind:
        failed += through_processes(asked.seed, QUICK_CALLS if asked.quick else FULL_CALLS)
    largest = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{failed} wrong; this process took at most {largest:.0f} MiB")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
