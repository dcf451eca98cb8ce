"""A site and its plan are values: equal ones have one hash, so results can be kept by value."""

from sinkside import demo
from sinkside.plan import plan
from sinkside.site.read import read


def test_a_site_and_its_plan_can_be_kept_by_value() -> None:
    one, other = (read(demo.text(), "site.yaml") for _ in range(2))
    assert (one, hash(one)) == (other, hash(other))
    first, second = plan(one), plan(other)
    assert (first, hash(first)) == (second, hash(second))
