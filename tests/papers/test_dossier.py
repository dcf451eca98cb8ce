"""The dossier: every section, with what the rooms below have to say."""

import re
import subprocess

import pytest
from tests.papers.pages import opened, squeezed, text_of

from sinkside.figures.parts_list import totals
from sinkside.making.open_points import open_points
from sinkside.making.words import CAUTIONS
from sinkside.papers.apart import kept
from sinkside.plan import Plan
from sinkside.plan.blinks import Outcome, blinks
from sinkside.plan.parts_list import parts_list

SECTIONS = (
    "What to do",
    "What hangs on each port",
    "Who sits where",
    "Parts",
    "Which plug harms which inlet",
    "Who blinks whom",
    "What to measure, in the best order",
    "Residual risks",
    "Grounds",
    "Warnings",
)


@pytest.fixture(scope="module")
def text(demo_papers: dict[str, bytes]) -> str:
    return text_of(demo_papers["dossier.pdf"])


def test_contents_name_every_section_and_its_page(demo_papers: dict[str, bytes]) -> None:
    document = opened(demo_papers["dossier.pdf"])
    found = [(title, page) for level, title, page in document.get_toc() if level == 1]
    assert [title for title, _ in found] == list(SECTIONS)
    call = ["pdftotext", "-layout", "-l", "1", "-", "-"]
    done = subprocess.run(call, input=demo_papers["dossier.pdf"], check=True, capture_output=True)
    for title, page in found:
        assert re.search(rf"{re.escape(title)}[ .\u2060]+{page}\n", done.stdout.decode())
        assert squeezed(title) in squeezed(document[page - 1].get_text())


def test_who_sits_where_with_code_and_verdict(demo_plan: Plan, text: str) -> None:
    for device in demo_plan.devices:
        assert squeezed(device.action.value) in text.lower()
        if device.chosen:
            assert squeezed(f"{device.chosen.seat.port}") in text
            assert device.id in text


def test_parts_measurements_and_risks(demo_plan: Plan, text: str) -> None:
    for said in totals(parts_list(demo_plan)):
        assert squeezed(said) in text
    found = open_points(demo_plan)
    assert squeezed(f"{found.minutes} minutes in all") in text
    places = [text.index(squeezed(m.how[1:])) for m in found.measurements]
    assert places == sorted(places)
    for risk in found.risks:
        assert squeezed(risk.words[1:]) in text
    for caution in CAUTIONS:
        assert squeezed(caution) in text


def test_everything_that_puts_another_out_is_told(demo_plan: Plan, text: str) -> None:
    told = [c for c in blinks(demo_plan).cells if c.outcome in (Outcome.MAY, Outcome.OUT)]
    assert told
    for cell in told:
        assert squeezed(f"{cell.device}{cell.outcome.value}") in text


def test_grounds_are_told_with_what_helps(demo_plan: Plan, text: str) -> None:
    found = kept(demo_plan).conductors
    for ring in (*found.shorts, *found.loops):
        assert squeezed(ring.words) in text
        for remedy in ring.remedies:
            assert squeezed(remedy.words) in text
    for touch in found.touches:
        assert all(name in text for name in touch.devices)
    assert squeezed("Never lift a protective earth") in text


def test_the_numbers_of_the_matrix_have_names(demo_plan: Plan, text: str) -> None:
    for k, device in enumerate(demo_plan.devices, 1):
        assert squeezed(f"{k} {device.id}") in text
