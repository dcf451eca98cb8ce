"""The page, read back with programs that did not write it: poppler's pdftotext, and MuPDF."""

import re
import subprocess
from dataclasses import replace

import numpy as np
import pymupdf
import pytest

from sinkside.advice import advise
from sinkside.making.words import CAUTIONS, chain, doing, ground_warnings, taken, waiting
from sinkside.mixups import Outcome
from sinkside.papers.page import TITLE, page_pdf
from sinkside.papers.printable import printable
from sinkside.plan import Action, Plan
from sinkside.plan.model import DevicePlan

A4_PT = (210 / 25.4 * 72, 297 / 25.4 * 72)
UNSEEN = "\u200b\u200e"


def printed(plan: Plan) -> bytes:
    return page_pdf(plan, revision="B", date="3 May 2031")


def squeezed(text: str) -> str:
    """Without spaces, breaks and what is not seen: where lines break does not matter."""
    return re.sub(rf"[\s{UNSEEN}]+", "", text)


def text_of(pdf: bytes) -> str:
    call = ["pdftotext", "-raw", "-", "-"]
    return squeezed(
        subprocess.run(call, input=pdf, check=True, capture_output=True).stdout.decode()
    )


def opened(pdf: bytes) -> pymupdf.Document:
    return pymupdf.open(stream=pdf, filetype="pdf")


@pytest.fixture(scope="module")
def demo_pdf(demo_plan: Plan) -> bytes:
    return printed(demo_plan)


@pytest.fixture(scope="module")
def hostile_pdf(hostile_plan: Plan) -> bytes:
    return printed(hostile_plan)


def only(plan: Plan, *devices: DevicePlan) -> Plan:
    return replace(plan, devices=devices)


def test_a_handful_of_devices_is_one_a4_page(demo_plan: Plan) -> None:
    handful = replace(
        only(demo_plan, *demo_plan.devices[:7]), warnings=demo_plan.warnings[:3], clashes=()
    )
    document = opened(printed(handful))
    assert document.page_count == 1
    assert (document[0].rect.width, document[0].rect.height) == pytest.approx(A4_PT, abs=0.1)


def test_many_devices_flow_to_more_pages(hostile_pdf: bytes) -> None:
    pages = opened(hostile_pdf).page_count
    assert pages > 1
    assert squeezed(f"page 1 of {pages}") in text_of(hostile_pdf)


def test_the_same_plan_gives_the_same_bytes_without_a_date_of_making(
    demo_plan: Plan, demo_pdf: bytes
) -> None:
    assert printed(demo_plan) == demo_pdf
    metadata = opened(demo_pdf).metadata
    assert not metadata["creationDate"]
    assert not metadata["modDate"]
    assert metadata["title"] == f"{demo_plan.site.name}: {TITLE}"


def test_every_device_has_action_why_chain_and_verdict(demo_plan: Plan, demo_pdf: bytes) -> None:
    text = text_of(demo_pdf)
    for k, device in enumerate(demo_plan.devices, 1):
        what = doing(device, demo_plan)
        head = f"{k} {device.id}" + (
            f"verdict: {device.verdict.word}" if device.verdict is not None else ""
        )
        action = f"{what.action.capitalize()}: {what.detail or device.why}"
        assert squeezed(head) in text
        assert squeezed(action) in text
        if device.action is not Action.TRY:  # what to watch says the same
            assert squeezed(device.why) in text
        if device.chosen:
            assert squeezed(chain(device.chosen)) in text
            for risk in device.chosen.risks:
                assert squeezed(f"Residual risk: {risk}") in text
        for refusal in device.appliance.refusals:
            assert squeezed(f"Ask: {refusal.ask}") in text


def test_the_action_comes_before_everything_else_of_a_device(
    demo_plan: Plan, demo_pdf: bytes
) -> None:
    text = text_of(demo_pdf)
    for k, device in enumerate(demo_plan.devices, 1):
        action = text.index(
            squeezed(device.action.value.capitalize()), text.index(f"{k}{device.id}")
        )
        if device.chosen:
            assert action < text.index(squeezed(f"Chain: {chain(device.chosen)}"))


def test_cautions_revision_and_date_are_printed(demo_pdf: bytes) -> None:
    text = text_of(demo_pdf)
    for caution in CAUTIONS:
        assert squeezed(caution) in text
    # The trade's own list of what is printed on every sheet.
    for words in (
        "Meter before device",
        "dummy load",
        "Barrel first, USB-C last",
        "tag the old brick",
        "smell, heat or hum",
        "computes; it does not certify",
        "Local codes and licensed practice come first",
    ):
        assert squeezed(words) in text
    assert squeezed("revision B · 3 May 2031") in text


def test_without_revision_and_date_neither_is_spoken_of(demo_plan: Plan) -> None:
    text = text_of(page_pdf(demo_plan, revision="", date=""))
    assert "revision" not in text


def test_parts_are_priced_and_summed(demo_plan: Plan, demo_pdf: bytes) -> None:
    text = text_of(demo_pdf)
    parts = {p.id: p for p in demo_plan.site.parts}
    total = 0
    for name, count in demo_plan.bought:
        cents = parts[name].price_cents
        if cents is None:
            continue
        total += count * cents
        row = f"{count} × {parts[name].words}{cents / 100:.2f}{count * cents / 100:.2f}"
        assert squeezed(row) in text
    assert re.search(rf"inall.*?{total / 100:.2f}", text)


def test_an_unknown_price_is_said_and_never_nought(demo_plan: Plan) -> None:
    (name, count), *_ = demo_plan.bought
    parts = tuple(replace(p, price_cents=None) if p.id == name else p for p in demo_plan.site.parts)
    words = next(p.words for p in parts if p.id == name)
    text = text_of(printed(replace(demo_plan, site=replace(demo_plan.site, parts=parts))))
    assert squeezed(f"{count} × {words} price unknown") in text
    assert squeezed("in all, but for 1 of unknown price") in text


def test_who_sits_where_with_volts(demo_plan: Plan, demo_pdf: bytes) -> None:
    text = text_of(demo_pdf)
    for k, device in enumerate(demo_plan.devices, 1):
        if device.chosen:
            volts = device.chosen.front.trigger.asks_v
            seat = device.chosen.seat.port
            assert re.search(rf"{seat}{volts:g}V{k}{re.escape(device.id)}", text)


@pytest.mark.parametrize(
    ("spare_ports", "said"), [("may be used", "free"), ("blocked", "keep blocked")]
)
def test_ports_that_nobody_has(demo_plan: Plan, spare_ports: str, said: str) -> None:
    rules = demo_plan.site.rules.model_copy(update={"spare_ports": spare_ports})
    seated = [d for d in demo_plan.devices if d.chosen]
    site = replace(demo_plan.site, rules=rules)
    text = text_of(printed(replace(only(demo_plan, *seated[:1]), site=site)))
    ports = sum(c.count * len(c.ports) for c in site.chargers)
    assert len(re.findall(rf"C[123]{squeezed(said)}", text)) == ports - 1


@pytest.mark.parametrize("action", list(Action))
def test_every_action_is_printed(demo_plan: Plan, action: Action) -> None:
    seated = next(d for d in demo_plan.devices if d.chosen)
    chosen = None if action in (Action.LEAVE, Action.REFUSED) else seated.chosen
    device = replace(seated, action=action, why="a reason of its own", chosen=chosen)
    text = text_of(printed(only(demo_plan, device)))
    assert squeezed(action.value.capitalize()) in text
    assert squeezed("a reason of its own") in text
    assert squeezed(f"1 device: 1 {action.value}") in text


def test_how_to_measure_is_told_once(hostile_plan: Plan) -> None:
    text = text_of(printed(hostile_plan))
    told = re.findall(r"Itdecides:", text)
    asking = [a[0].measurement.id for d in hostile_plan.devices if (a := advise(d, hostile_plan))]
    assert 1 <= len(told) == len(set(asking)) < len(asking)


def test_every_hostile_name_is_printed_as_text(hostile_plan: Plan, hostile_pdf: bytes) -> None:
    text = text_of(hostile_pdf)
    for name in (device.id for device in hostile_plan.devices):
        if not re.search("[\u0590-\u08ff]", name):
            assert squeezed(printable(name)) in text
    assert squeezed(hostile_plan.site.name) in text


def test_right_to_left_names_are_there_letter_by_letter(
    hostile_plan: Plan, hostile_pdf: bytes
) -> None:
    # A reader gives such words in the order of the eye or of the tongue; the letters are the same.
    names = (device.id for device in hostile_plan.devices)
    letters = {c for n in names for c in n if "\u0590" <= c <= "\u08ff"}
    shown = {c for page in opened(hostile_pdf) for c in page.get_text()}
    hebrew = {c for c in letters if c < "\u0600"}
    assert hebrew <= shown


def test_no_name_is_markup(hostile_plan: Plan, hostile_pdf: bytes) -> None:
    document = opened(hostile_pdf)
    assert [link for page in document for link in page.get_links()] == []
    assert document.embfile_count() == 0
    # What a heading would have added to the outline is not there: site, devices, four sections.
    plain = [title.split(maxsplit=1)[0] for _, title, _ in document.get_toc()]
    numbers = [n for n in plain if n.isdigit()]
    assert numbers == [str(k) for k in range(1, len(hostile_plan.devices) + 1)]
    assert len(plain) == 1 + len(numbers) + 4


@pytest.mark.parametrize("which", ["demo_pdf", "hostile_pdf"])
def test_nothing_is_cut_and_no_word_lies_on_another(
    which: str, request: pytest.FixtureRequest
) -> None:
    for page in opened(request.getfixturevalue(which)):
        # MuPDF gives words that run from right to left boxes as wide as all of them together.
        boxes = np.array(
            [
                w[:4]
                for w in page.get_text("words")
                if w[4].strip(UNSEEN) and not re.search("[\u0590-\u08ff]", w[4])
            ]
        )
        left, top, right, bottom = boxes.T
        assert left.min() > 20
        assert right.max() < A4_PT[0] - 20
        assert top.min() > 10
        assert bottom.max() < A4_PT[1] - 10
        # A word's box has the height of its line; the letters stand in the middle of it.
        rim = 0.3 * (bottom - top)
        across = np.minimum.outer(right, right) - np.maximum.outer(left, left)
        down = np.minimum.outer(bottom - rim, bottom - rim) - np.maximum.outer(top + rim, top + rim)
        hits = (across > 0.6) & (down > 0)
        assert np.argwhere(np.triu(hits, 1)).tolist() == []


@pytest.mark.parametrize("which", ["demo_pdf", "hostile_pdf"])
def test_type_is_no_smaller_than_can_be_read(which: str, request: pytest.FixtureRequest) -> None:
    # 5.9 pt of a typeface with large lower case in the drawings, 7 pt in text (common practice).
    for page in opened(request.getfixturevalue(which)):
        for block in page.get_text("dict")["blocks"]:
            for line in block.get("lines", []):
                for span in line["spans"]:
                    drawing = "Mono" in span["font"] and span["size"] < 6.5
                    assert span["size"] > (5.8 if drawing else 6.95), span["text"]


@pytest.mark.parametrize("which", ["demo_pdf", "hostile_pdf"])
def test_only_the_typefaces_that_come_with_the_typesetter_are_in_it(
    which: str, request: pytest.FixtureRequest
) -> None:
    document = opened(request.getfixturevalue(which))
    names = {font[3].partition("+")[2] for page in document for font in page.get_fonts()}
    assert names
    assert all(n.startswith(("LibertinusSerif", "DejaVuSansMono", "NewCM")) for n in names), names


def test_the_page_can_be_heard(demo_plan: Plan, demo_pdf: bytes) -> None:
    document = opened(demo_pdf)
    catalog = document.xref_object(document.pdf_catalog())
    assert re.search(r"/Marked\s+true", catalog)
    assert re.search(r"/Lang\s*\(en\)", catalog)
    objects = [document.xref_object(x) for x in range(1, document.xref_length())]
    alternatives = [o for o in objects if "/Alt" in o and "Volts at the inlet of" in o]
    assert len(alternatives) == sum(d.chosen is not None for d in demo_plan.devices)


def test_a_site_without_devices_still_prints_its_cautions(demo_plan: Plan) -> None:
    empty = replace(demo_plan, devices=(), bought=(), warnings=(), clashes=())
    text = text_of(printed(empty))
    assert squeezed("0 devices") in text
    assert squeezed(CAUTIONS[0]) in text


def test_a_name_longer_than_a_page_flows(demo_plan: Plan) -> None:
    device = demo_plan.devices[-1]
    long = replace(device, appliance=replace(device.appliance, id="n" * 9000))
    written = demo_plan.site.device(device.id).model_copy(update={"id": "n" * 9000})
    site = replace(demo_plan.site, devices=(written,))
    document = opened(printed(replace(only(demo_plan, long), site=site)))
    assert sum(page.get_text().count("n") for page in document) >= 9000


def test_a_device_that_is_left_out_is_told_who_has_the_ports(
    demo_plan: Plan, demo_pdf: bytes
) -> None:
    left = [d for d in demo_plan.devices if d.action is Action.LEAVE]
    assert [d.id for d in left] == ["slide-viewer"]
    told = taken(left[0], demo_plan)
    assert "of its own polarity nothing is known" in told
    for device in demo_plan.devices:
        if device.chosen:
            assert device.id in told
    assert squeezed(told[1:]) in text_of(demo_pdf)


def test_the_plugs_that_harm_stand_in_a_table_and_not_in_words(
    demo_plan: Plan, demo_pdf: bytes
) -> None:
    text = text_of(demo_pdf)
    assert squeezed("Which plug harms which inlet") in text
    assert squeezed("also goes into others") not in text
    number = {d.id: k for k, d in enumerate(demo_plan.devices, 1)}
    code = {Outcome.REVERSED: "R", Outcome.OVER_VOLTS: "V", Outcome.AC_INLET: "A"}
    harmful = [c for c in demo_plan.mixups if not c.own and c.harmful and c.source == "lead"]
    inlets = [d.id for d in demo_plan.devices if any(c.inlet == d.id for c in harmful)]
    for lead in dict.fromkeys(c.lead for c in harmful):
        into = {c.inlet: code.get(c.outcome, "?") for c in harmful if c.lead == lead}
        cells = "".join("–" if lead == inlet else into.get(inlet, "") for inlet in inlets)
        assert squeezed(f"{number[lead]} {lead} {cells}") in text


def test_grounds_that_are_not_known_are_told_once_each(demo_plan: Plan, demo_pdf: bytes) -> None:
    text = text_of(demo_pdf)
    told = ground_warnings(demo_plan)
    assert [t.partition(":")[0] for t in told] == ["cassette-deck", "tape-echo"]
    for warning in (*told, *(w for w in demo_plan.warnings if "also goes into" not in w)):
        assert text.count(squeezed(warning)) == 1


def test_parts_that_can_wait_are_named(demo_plan: Plan, demo_pdf: bytes) -> None:
    names = ", ".join(waiting(demo_plan))
    assert squeezed(f"Wait with the parts for {names} until it is measured.") in text_of(demo_pdf)
