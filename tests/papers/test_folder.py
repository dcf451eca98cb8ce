"""The folder of papers as a whole: what is in it, and that it is the same again."""

import csv
import io
import re
from dataclasses import replace

from tests.papers.pages import ink_mm, opened, overlaps, squeezed, text_of

from sinkside.papers.folder import papers
from sinkside.papers.issue import Issue
from sinkside.papers.label_grid import USUAL
from sinkside.plan import Plan
from sinkside.plan.model import DevicePlan


def only(plan: Plan, *devices: DevicePlan) -> Plan:
    """A plan of some of its devices, that says nothing of the others."""
    written = tuple(plan.site.device(device.id) for device in devices)
    return replace(
        plan,
        devices=devices,
        site=replace(plan.site, devices=written, links=()),
        bought=(),
        clashes=(),
        mixups=(),
        warnings=(),
    )


ALWAYS = {
    *("dossier.pdf", "labels.pdf", "cards.pdf", "workings.pdf"),
    *("index.html", "workings.html", "parts.csv", "parts.md"),
}


def test_every_paper_is_there(demo_papers: dict[str, bytes]) -> None:
    assert set(demo_papers) >= ALWAYS
    rest = set(demo_papers) - ALWAYS
    assert all(re.fullmatch(r"(sheets/[a-z-]+\.pdf|labels/[a-z-]+\.[a-z-]+\.svg)", n) for n in rest)


def test_the_same_plan_gives_the_same_bytes(
    demo_plan: Plan, issue: Issue, demo_papers: dict[str, bytes]
) -> None:
    again = {p.name: p.content for p in papers(demo_plan, issue, USUAL["a4"])}
    assert again == demo_papers


def test_another_date_is_printed(demo_plan: Plan, issue: Issue) -> None:
    few = only(demo_plan, demo_plan.devices[0])
    made = {p.name: p.content for p in papers(few, replace(issue, date="4 May 2031"), USUAL["a4"])}
    assert squeezed("4 May 2031") in text_of(made["dossier.pdf"])
    assert "4 May 2031" in made["index.html"].decode()


def test_a_plan_without_devices_still_has_papers(demo_plan: Plan, issue: Issue) -> None:
    empty = only(demo_plan)
    made = {p.name: p.content for p in papers(empty, issue, USUAL["a4"])}
    assert set(made) == ALWAYS
    assert squeezed("0 devices") in text_of(made["dossier.pdf"])


def test_a_name_longer_than_a_line_is_all_there(demo_plan: Plan, issue: Issue) -> None:
    name = "N" * 299
    device = next(d for d in demo_plan.devices if d.chosen)
    long = replace(device, appliance=replace(device.appliance, id=name))
    written = demo_plan.site.device(device.id).model_copy(update={"id": name})
    one = replace(only(demo_plan, device), devices=(long,))
    one = replace(one, site=replace(one.site, devices=(written,)))
    for paper in papers(one, issue, USUAL["a4"]):
        if paper.name.endswith(".pdf") and paper.name != "labels.pdf":
            assert name in text_of(paper.content), paper.name
            for page in opened(paper.content):
                assert min(ink_mm(page)) > 5.0, paper.name
                assert overlaps(page) == [], paper.name


def test_no_cell_of_the_parts_list_is_a_formula(hostile_papers: dict[str, bytes]) -> None:
    rows = list(csv.reader(io.StringIO(hostile_papers["parts.csv"].decode())))
    assert len({len(row) for row in rows}) == 1
    # OWASP's list of what begins a formula in a spreadsheet (from memory).
    assert not any(cell[:1] in ("=", "+", "-", "@", "\t", "\r") for row in rows for cell in row)


def test_what_is_made_is_told(demo_plan: Plan, issue: Issue) -> None:
    said: list[str] = []
    few = only(demo_plan, *demo_plan.devices[:2])
    list(papers(few, issue, USUAL["a4"], said.append))
    assert said == [
        "keeping plugs and grounds apart",
        "dossier",
        "build sheet 1 of 2",
        "build sheet 2 of 2",
        "labels",
        "cards",
        "workings",
        "web pages",
    ]
