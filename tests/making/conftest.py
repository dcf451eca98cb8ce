"""The plan of the demo site, made once, and the device of a name in it."""

import pytest

from sinkside import demo
from sinkside.plan import Plan, plan
from sinkside.site.read import read


@pytest.fixture(scope="session")
def demo_plan() -> Plan:
    return plan(read(demo.text(), demo.FILE))
