"""A valid site file broken in one place is told at that place, in 99 of 100 cases.

The sites together hold every key that the schema knows. `benchmarks/bench_mutated.py` breaks them
in thousands of ways with the same code; here it is some of each kind. No outside source: the
program's own promise.
"""

from functools import cache

import pytest
from tests.invariants.cuts import CUTS
from tests.invariants.mutated import lines_told, mutations
from tests.invariants.mutations import KINDS, Mutation
from tests.invariants.schema_walk import SCHEMA, Value, values, ways
from tests.invariants.whole_sites import SITES

from sinkside.parts.written import PartWritten
from sinkside.site.read import read

SEED = 20
OF_A_KIND = 16
SHARE = 0.99


@cache
def results() -> tuple[tuple[Mutation, list[int]], ...]:
    pools = mutations(OF_A_KIND, 1, SEED)
    return tuple((m, lines_told(m)) for pool in pools.values() for m in pool)


@pytest.mark.parametrize("site", SITES)
def test_the_sites_are_valid(site: str) -> None:
    assert read(SITES[site], site).devices != ()


def test_the_sites_hold_every_key_that_there_is() -> None:
    held = {
        (way["title"], value.last)
        for site in SITES
        for value in values(site)
        for way in _owners(site, value)
    }
    anywhere = {value.last for site in SITES for value in values(site)}
    common = {field for field in PartWritten.model_fields if field != "id"}
    missing = [
        (title, key)
        for title, node in SCHEMA["$defs"].items()
        for key in node["properties"]
        if ((title, key) not in held) and not (key in common and key in anywhere)
    ]
    assert missing == []


def _owners(site: str, value: Value) -> list[dict[str, object]]:
    around = next((v for v in values(site) if v.path == value.path[:-1]), None)
    return [
        way
        for way in (ways(around.schema, around.node) if around else [])
        if "title" in way and value.last in way.get("properties", ())
    ]


def test_mutations_of_every_kind_are_made() -> None:
    made = {mutation.kind for mutation, _ in results()}
    assert made == {*KINDS, *CUTS}
    assert len(results()) >= 0.9 * OF_A_KIND * len(made)


def test_a_broken_site_is_told_at_the_line_where_it_is_broken() -> None:
    missed = [(m, lines) for m, lines in results() if m.line not in lines]
    share = 1 - len(missed) / len(results())
    listed = [f"{m.kind}: {m} (told at {lines or 'none'})" for m, lines in missed]
    assert share >= SHARE, "\n".join(listed)


def test_nothing_that_is_broken_is_taken_as_valid() -> None:
    assert [f"{m.kind}: {m}" for m, lines in results() if not lines] == []


def test_nothing_is_told_without_a_place() -> None:
    assert [f"{m.kind}: {m}" for m, lines in results() if 0 in lines] == []
