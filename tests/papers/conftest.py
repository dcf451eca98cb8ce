"""Plans to be printed: the demo's, and one made of it whose every name is hostile."""

from dataclasses import replace

import pytest

from sinkside import demo
from sinkside.papers.folder import papers
from sinkside.papers.issue import Issue
from sinkside.papers.label_grid import USUAL
from sinkside.plan import Plan, plan
from sinkside.site.read import read

HOSTILE_NAMES = (
    "録音機 テープ",
    "مسجل الشرائط القديم",
    "מכונת הקלטה ישנה",
    "🎛️ desk 😀",
    "x" * 60,
    "an old thing with a long name that goes on and on for 60 all",
    "#strong[x] $a^2$ *b* _c_ @d <e> `f`",
    '<script>alert(1)</script> & "q"',
    "evil\u202eeman",
    "Ω ⎓ ⊖–C–⊕ ± × → µ",
    "кириллица και ελληνικά",
    "tab\tand\nline",
    '#panic("no")',
    "\\u{41} #{1+1} // c /* d */",
    "https://example.test/x",
    "= a heading",
    "- an item",
    '#image("/etc/hostname")',
    "#sys.inputs",
    "e\u0301 composed",
)
HOSTILE_SITE = '= #heading[x] *b* $1/0$ <script>alert(1)</script> #panic("no")'


@pytest.fixture(scope="session")
def demo_plan() -> Plan:
    return plan(read(demo.text(), demo.FILE))


@pytest.fixture(scope="session")
def hostile_plan(demo_plan: Plan) -> Plan:
    """The demo's devices over and over, each under a name that tries something."""
    devices, written = [], []
    for k, name in enumerate(HOSTILE_NAMES):
        device = demo_plan.devices[k % len(demo_plan.devices)]
        devices.append(replace(device, appliance=replace(device.appliance, id=name)))
        written.append(demo_plan.site.device(device.id).model_copy(update={"id": name}))
    warnings = tuple(f"the plug for {name} goes into 6 others" for name in HOSTILE_NAMES)
    site = replace(demo_plan.site, name=HOSTILE_SITE, devices=tuple(written))
    return replace(demo_plan, site=site, devices=tuple(devices), warnings=warnings)


@pytest.fixture(scope="session")
def issue(demo_plan: Plan) -> Issue:
    return Issue(site=demo_plan.site.name, revision="B", date="3 May 2031")


@pytest.fixture(scope="session")
def demo_papers(demo_plan: Plan, issue: Issue) -> dict[str, bytes]:
    """Every paper of the demo by its name."""
    return {p.name: p.content for p in papers(demo_plan, issue, USUAL["a4"])}


@pytest.fixture(scope="session")
def hostile_papers(hostile_plan: Plan, issue: Issue) -> dict[str, bytes]:
    """Every paper of the hostile plan by its name, on US Letter."""
    hostile = replace(issue, site=hostile_plan.site.name, paper="letter")
    return {p.name: p.content for p in papers(hostile_plan, hostile, USUAL["letter"])}
