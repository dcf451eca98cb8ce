"""Build sheets on paper: nothing that the bench needs is left out, and a reader finds the code."""

import cv2
import pytest
from tests.papers.pages import opened, picture, squeezed, text_of

from sinkside.making.sheet import Sheet, build_sheets
from sinkside.papers.issue import Issue
from sinkside.papers.names import file_names
from sinkside.papers.printable import printable
from sinkside.papers.sheets import identity, sheet_data
from sinkside.plan import Plan


@pytest.fixture(scope="module")
def sheets(demo_plan: Plan) -> tuple[Sheet, ...]:
    return build_sheets(demo_plan)


def texts(papers: dict[str, bytes]) -> dict[str, str]:
    return {name: text_of(raw) for name, raw in papers.items() if name.startswith("sheets/")}


def test_every_device_with_a_chain_has_a_sheet(
    demo_plan: Plan, demo_papers: dict[str, bytes]
) -> None:
    there = {name for name in demo_papers if name.startswith("sheets/")}
    assert there == {f"sheets/{d.id}.pdf" for d in demo_plan.devices if d.chosen}


def test_every_expected_reading_can_be_taken_from_the_text(
    sheets: tuple[Sheet, ...], demo_papers: dict[str, bytes]
) -> None:
    for sheet in sheets:
        text = text_of(demo_papers[f"sheets/{sheet.device}.pdf"])
        assert sheet.probes
        for probe in sheet.probes:
            # Below nought a meter shows a minus, and so does the sheet.
            shown = squeezed(probe.expected.words.replace("-", "\N{MINUS SIGN}"))
            assert f"expect{shown}" in text, (sheet.device, probe.number)
            if probe.limits:
                assert squeezed(probe.limits.removeprefix("stop ")) in text, sheet.device
            for words in (probe.if_low, probe.if_high, probe.note, probe.mode.value):
                assert squeezed(words) in text, (sheet.device, probe.number)


def test_steps_wires_settings_and_sign_off_are_there(
    sheets: tuple[Sheet, ...], demo_papers: dict[str, bytes]
) -> None:
    for sheet in sheets:
        text = text_of(demo_papers[f"sheets/{sheet.device}.pdf"])
        power = sheet.first_power
        said = [
            sheet.code,
            *(step.text for step in sheet.steps),
            *(part.words for part in sheet.chain),
            *(fact.text for fact in (*sheet.facts, *sheet.settings)),
            *(gate.how for gate in sheet.gates),
            sheet.gate_words,
            *sheet.cautions,
            *(risk[1:] for risk in sheet.risks),
            *([step.do for step in power.actions] if power else []),
            *([power.guard, *(d.words for d in power.dummies)] if power else []),
            *([box.text[1:] for box in power.sign_off] if power else []),
        ]
        for words in said:
            assert squeezed(words) in text, (sheet.device, words)


def test_a_gate_stands_before_everything_that_is_made(
    sheets: tuple[Sheet, ...], demo_papers: dict[str, bytes]
) -> None:
    gated = [sheet for sheet in sheets if sheet.gates]
    assert [sheet.device for sheet in gated] == ["cassette-deck"]
    for sheet in gated:
        first = opened(demo_papers[f"sheets/{sheet.device}.pdf"])[0]
        text = squeezed(first.get_text())
        assert text.index(squeezed(sheet.gate_words)) < text.index(squeezed("The chain, from"))


def test_a_reader_finds_the_sheets_identity(
    sheets: tuple[Sheet, ...], demo_papers: dict[str, bytes]
) -> None:
    for sheet in sheets:
        page = opened(demo_papers[f"sheets/{sheet.device}.pdf"])[0]
        found, *_ = cv2.QRCodeDetector().detectAndDecode(picture(page, 200))
        assert found == f"sinkside sheet {sheet.code} revision B"


def test_an_identity_stays_short_whatever_the_revision() -> None:
    assert identity("ABC-DEF", "") == "sinkside sheet ABC-DEF"
    assert identity("ABC-DEF", "x" * 9000) == f"sinkside sheet ABC-DEF revision {'x' * 24}"


def test_hostile_names_stand_on_their_sheets(
    hostile_plan: Plan, hostile_papers: dict[str, bytes]
) -> None:
    found = texts(hostile_papers)
    names = file_names([device.id for device in hostile_plan.devices])
    made = [d.id for d in hostile_plan.devices if d.chosen]
    assert len(found) == len(made)
    for name in made:
        if not any("\u0590" <= c <= "\u08ff" for c in name):
            assert squeezed(printable(name)) in found[f"sheets/{names[name]}.pdf"], name


def test_the_web_says_the_same_as_the_paper(demo_plan: Plan, issue: Issue) -> None:
    sheet = build_sheets(demo_plan)[0]
    on_paper = sheet_data(demo_plan, sheet, issue, spell=printable)
    assert sheet_data(demo_plan, sheet, issue) == on_paper  # its names are plain
