"""Questions of sharing for OR-Tools CP-SAT: JSON in, the best value of each level of each out.

A program of its own: OR-Tools brings its own build of the solver that the program under test is
bound to, and one process cannot hold both. It is written port by port and unit by unit, as a
person would; the program's own model is written loading by loading.
"""

import json
import sys
from itertools import combinations
from types import SimpleNamespace
from typing import Any

from ortools.sat.python import cp_model


class Straight:
    """One Boolean for each (unit, option); who is loaded decides which options may be taken."""

    def __init__(self, asked: SimpleNamespace) -> None:
        self.asked = asked
        self.model = cp_model.CpModel()
        self.kinds = {k.id: k for k in asked.kinds}
        self.units = [(k.id, u) for k in asked.kinds for u in range(1, k.count + 1)]
        self.take = {
            (unit, i): self.model.new_bool_var("")
            for unit in self.units
            for i, o in enumerate(asked.options)
            if o.kind == unit[0]
        }
        self.used = {unit: self.model.new_bool_var("") for unit in self.units}
        self._places()
        self._companies()
        self.costs = {key: self._plain(key) for key in self.asked.levels}
        self.costs["chargers"] = sum(self.used.values())
        self.costs["off"] = -sum(self.take.values())
        lost = [x for (_, i), x in self.take.items() if asked.options[i].brick_lost]
        self.costs["lost"] = -sum(lost)
        self._blinks()
        self._grounds()
        self._money()

    def _plain(self, key: str) -> Any:
        options = self.asked.options
        key = {"harm": "harm_unproven", "misbehaves": "misbehaves_unproven"}.get(key, key)
        return sum(int(getattr(options[i], key, 0)) * x for (_, i), x in self.take.items())

    def _places(self) -> None:
        options = self.asked.options
        for device in {o.device for o in options}:
            here = [x for (_, i), x in self.take.items() if options[i].device == device]
            self.model.add_at_most_one(here)
        for unit in self.units:
            here = [x for (u, _), x in self.take.items() if u == unit]
            self.model.add_max_equality(self.used[unit], [*here, self.model.new_constant(0)])
            for port in self.kinds[unit[0]].ports:
                self.model.add_at_most_one(
                    x for (u, i), x in self.take.items() if u == unit and options[i].port == port
                )

    def _companies(self) -> None:
        """An option for one company is taken only while just those ports are loaded."""
        for (unit, i), x in self.take.items():
            o, kind = self.asked.options[i], self.kinds[unit[0]]
            if not kind.spare_ports_blocked:
                self.model.add(x == 0) if set(o.company) != set(kind.ports) else None
                continue
            for port in kind.ports:
                there = [
                    y
                    for (u, j), y in self.take.items()
                    if u == unit and self.asked.options[j].port == port
                ]
                if port in o.company:
                    self.model.add(sum(there) >= 1).only_enforce_if(x)
                else:
                    self.model.add(sum(there) == 0).only_enforce_if(x)

    def _blinks(self) -> None:
        self.shaken: dict[str, list[Any]] = {}
        for (_, i), x in self.take.items():
            o = self.asked.options[i]
            code = self.asked.blinks.get(f"{o.device}|{o.kind}", 0) if len(o.company) > 1 else 0
            if code == 3:
                self.model.add(x == 0)
            if code == 2:
                self.shaken.setdefault(o.device, []).append(x)
            if code == 1 and not o.misbehaves_unproven:
                self.costs["misbehaves"] += x

    def _grounds(self) -> None:
        """Two that clash and are not isolated must not be on one negative; if sure, never."""
        open_: dict[str, list[Any]] = {d: list(xs) for d, xs in self.shaken.items()}
        for f in self.asked.forbidden:
            for one, other in combinations(self.units, 2):
                if {one[0], other[0]} <= set(self.asked.earthed):
                    for a, b in ((one, other), (other, one)):
                        self._apart(f.certain, self._bare(a, f.a), self._bare(b, f.b), f, open_)
            for unit in self.units:
                self._apart(f.certain, self._bare(unit, f.a), self._bare(unit, f.b), f, open_)
        for xs in open_.values():
            self.costs["harm"] += sum(xs)

    def _bare(self, unit: tuple[str, int], device: str) -> Any:
        options = self.asked.options
        return sum(
            x
            for (u, i), x in self.take.items()
            if u == unit and options[i].device == device and not options[i].isolated
        )

    def _apart(self, certain: bool, a: Any, b: Any, f: Any, open_: dict[str, Any]) -> None:
        if certain:
            self.model.add(a + b <= 1)
            return
        both = self.model.new_bool_var("")
        self.model.add(a + b <= 1 + both)
        for device in (f.a, f.b):
            open_.setdefault(device, []).append(both)

    def _money(self) -> None:
        options = self.asked.options
        cents = 0
        for part in {p for o in options for p in o.parts}:
            need = sum(options[i].parts.count(part) * x for (_, i), x in self.take.items())
            bought = self.model.new_int_var(0, 50, "")
            self.model.add(bought >= need - self.asked.stock.get(part, 0))
            cents += bought * self.asked.prices[part]
        if self.asked.budget is not None:
            self.model.add(cents <= self.asked.budget)
        self.costs["cents"] = cents

    def levels(self) -> list[int]:
        """The best value of each level, each frozen before the next."""
        found = []
        for key in self.asked.levels:
            solver = cp_model.CpSolver()
            solver.parameters.num_workers = 1
            solver.parameters.random_seed = 0
            self.model.minimize(self.costs[key])
            assert solver.solve(self.model) == cp_model.OPTIMAL
            value = round(solver.objective_value)
            self.model.add(self.costs[key] <= value)
            found.append(-value if key in ("off", "lost") else value)
        return found


def asked_of(document: dict[str, Any]) -> SimpleNamespace:
    """A question as JSON gives it."""
    lists = ("kinds", "options", "forbidden")
    plain = ("blinks", "earthed", "stock", "prices", "budget", "levels")
    return SimpleNamespace(
        **{key: [SimpleNamespace(**entry) for entry in document[key]] for key in lists},
        **{key: document[key] for key in plain},
    )


if __name__ == "__main__":
    json.dump([Straight(asked_of(one)).levels() for one in json.load(sys.stdin)], sys.stdout)
