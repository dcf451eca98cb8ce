"""All papers of the demo and of a generated site, beyond the plan itself.

The demo's fifteen devices may take 5 s beyond the plan, 200 generated ones 60 s (by the
yardstick). The generator is that of `bench_plan`.
"""

import argparse
import sys
import time

from bench_plan import DEVICES, site
from sinkside import demo
from sinkside.papers.folder import papers
from sinkside.papers.issue import Issue
from sinkside.papers.label_grid import USUAL
from sinkside.plan import Plan, plan
from sinkside.site.read import read
from yardstick import yardstick

DEMO_S, LARGE_S = 5.0, 60.0
SEED = 1


class Stages:
    """How long each stage takes, by what the papers say of themselves."""

    def __init__(self) -> None:
        self.took: dict[str, float] = {}
        self.name, self.start = "", time.perf_counter()

    def say(self, step: str) -> None:
        """The next stage begins."""
        now = time.perf_counter()
        if self.name:
            self.took[self.name] = self.took.get(self.name, 0.0) + now - self.start
        self.name = "build sheets" if step.startswith("build sheet") else step
        self.start = now


def timed(name: str, planned: Plan, target_s: float) -> bool:
    """Make every paper of a plan and judge the time against a target."""
    before = yardstick()
    stages, start, used = Stages(), time.perf_counter(), time.process_time()
    issue = Issue(site=planned.site.name, revision="A", date="a day")
    sizes = [len(paper.content) for paper in papers(planned, issue, USUAL["a4"], stages.say)]
    wall, spent = time.perf_counter() - start, time.process_time() - used
    stages.say("")
    factor = (before + yardstick()) / 2
    for stage, seconds in stages.took.items():
        print(f"  {stage}: {seconds:.2f} s")
    print(
        f"{name}: {len(planned.devices)} devices, {len(sizes)} files, {sum(sizes) / 1e6:.1f} MB, "
        f"{wall:.2f} s ({spent:.2f} s of processor time), {wall / factor:.2f} s after the "
        f"yardstick (× {factor:.2f}), target {target_s:g} s: {wall / factor / target_s:.2f} of it",
        flush=True,
    )
    return wall / factor <= target_s


def main() -> int:
    """Measure."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--quick", action="store_true", help="20 generated devices, not 200")
    devices = 20 if options.parse_args().quick else DEVICES
    found = plan(read(demo.text(), demo.FILE))
    timed("the demo, with what is read once", found, DEMO_S)
    kept = [timed("the demo", found, DEMO_S)]
    large = plan(read(site(SEED, devices), "depot.yaml"))
    kept.append(timed("generated", large, LARGE_S * devices / DEVICES))
    return 0 if all(kept) else 1


if __name__ == "__main__":
    sys.exit(main())
