"""The trees of a Linux host against published samples, and against the words of the same objects.

References
----------
Linux patches for SPR AVS of October 2025 (read): a source of the 67 W class, whose object 5 shows
4000mA, 3350mA and peak code 0. USB PD 6.4.1, layouts as given in Linux include/linux/usb/pd.h
(read): an object shown by the tree and the same object as a word are one offer. The words are
arithmetic from those layouts, but for the SPR AVS one, which was read in an open-source file.
Words of marked cables: reports by their owners, each with what another reader made of the word
or with what the cable was sold for (read). What each level of CC promises: USB Type-C R2.0, Table
4-24, as given in a maker's manual.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from sinkside.hosts import Lead, chargers
from sinkside.parts import port_list
from sinkside.parts.charger import Offer
from sinkside.standards.type_c_cable import EMarker

FIVE = {"voltage": "5000mV", "maximum_current": "3000mA"}


def shown(root: Path, **objects: dict[str, str]) -> tuple[Offer, ...]:
    """What is read of objects, given as `p<position>_<kind>`."""
    for name, figures in objects.items():
        position, _, kind = name[1:].partition("_")
        entry = root / f"class/usb_power_delivery/pd1/source-capabilities/{position}:{kind}"
        entry.mkdir(parents=True)
        for file, text in figures.items():
            (entry / file).write_text(f"{text}\n", encoding="utf-8")
    [charger] = chargers(root)
    return charger.offers


def test_the_published_sample_of_an_spr_avs_source(tmp_path: Path) -> None:
    sample = {
        "maximum_current_9V_to_15V": "4000mA",
        "maximum_current_15V_to_20V": "3350mA",
        "peak_current": "0",
    }
    found = shown(tmp_path, p1_fixed_supply=FIVE, p5_spr_adjustable_voltage_supply=sample)
    assert found == (
        Offer(low_v=5.0, high_v=5.0, current_a=3.0),
        Offer(low_v=9.0, high_v=15.0, current_a=4.0, profile="avs"),
        Offer(low_v=15.0, high_v=20.0, current_a=3.35, profile="avs"),
    )
    # 67 W at 20 V is 3.35 A.
    assert found[2].current_a * 20.0 == pytest.approx(67.0)


@pytest.mark.parametrize(
    ("word", "kind", "figures"),
    [
        ("0x0002D12C", "fixed_supply", {"voltage": "9000mV", "maximum_current": "3000mA"}),
        ("0x00064145", "fixed_supply", {"voltage": "20000mV", "maximum_current": "3250mA"}),
        ("0x000641F4", "fixed_supply", {"voltage": "20000mV", "maximum_current": "5000mA"}),
        (
            "0xC0DC213C",
            "programmable_supply",
            {
                "minimum_voltage": "3300mV",
                "maximum_voltage": "11000mV",
                "maximum_current": "3000mA",
            },
        ),
        (
            "0xC1A43264",
            "programmable_supply",
            {
                "minimum_voltage": "5000mV",
                "maximum_voltage": "21000mV",
                "maximum_current": "5000mA",
            },
        ),
        (
            "0xE404B1F4",
            "spr_adjustable_voltage_supply",
            {"maximum_current_9V_to_15V": "3000mA", "maximum_current_15V_to_20V": "5000mA"},
        ),
    ],
)
def test_an_object_in_the_tree_is_the_same_offer_as_its_word(
    tmp_path: Path, word: str, kind: str, figures: dict[str, str]
) -> None:
    offers, guessed = port_list.read(f"0x0001912C {word}")
    assert not guessed
    # What is left out of the tree is not known; the word has a bit for it.
    as_in_the_tree = tuple(replace(offer, power_limited="unknown") for offer in offers)
    assert shown(tmp_path, p1_fixed_supply=FIVE, **{f"p2_{kind}": figures}) == as_in_the_tree


def plant_port(root: Path, mode: str) -> Path:
    """A port in that mode, fed by what is plugged in; the folder is returned."""
    port = root / "class/typec/port0"
    port.mkdir(parents=True)
    (root / "class/typec/port0-partner").mkdir()
    (port / "power_operation_mode").write_text(f"{mode}\n", encoding="utf-8")
    (port / "power_role").write_text("source [sink]\n", encoding="utf-8")
    return port


@pytest.mark.parametrize(("mode", "amps"), [("default", 0.5), ("1.5A", 1.5), ("3.0A", 3.0)])
def test_what_a_level_of_cc_promises(tmp_path: Path, mode: str, amps: float) -> None:
    plant_port(tmp_path, mode)
    [charger] = chargers(tmp_path)
    assert charger.offers == (Offer(low_v=5.0, high_v=5.0, current_a=amps),)


@pytest.mark.parametrize(
    ("header", "word", "amps", "volts", "mark"),
    [
        # Bits 22:21 of the header say that R3.0 or later wrote it.
        (0x1860_0000, 0x000A_4643, 5.0, 50.0, EMarker.EPR),  # sold for 240 W
        (0x1860_0000, 0x000A_4640, 5.0, 50.0, EMarker.EPR),  # sold for 240 W, ran at 140 W
        (0x1860_0000, 0x000A_4644, 5.0, 50.0, EMarker.EPR),
        (0x1C60_0000, 0x110A_4643, 5.0, 50.0, EMarker.EPR),  # has modes besides
        (0x1800_0000, 0x700A_2E40, 5.0, 50.0, EMarker.EPR),  # known by bit 17 alone
        # Two marks that say EPR and 20 V: sold for 100 W, so the volts are what counts.
        (0x1860_0000, 0x140A_2040, 5.0, 20.0, EMarker.FIVE_AMP),
        (0x1860_0000, 0x000A_6042, 5.0, 20.0, EMarker.FIVE_AMP),
        # By the header of R2.0 or R3.0: read as 20 V, which both layouts give.
        (0x1800_0000, 0x0008_2022, 3.0, None, EMarker.THREE_AMP),
        (0x1800_0000, 0x0008_2042, 5.0, None, EMarker.FIVE_AMP),  # sold for 100 W
        (0x1800_0000, 0x0008_4841, 5.0, None, EMarker.FIVE_AMP),
        (0x1860_0000, 0x0008_2042, 5.0, 20.0, EMarker.FIVE_AMP),
    ],
)
def test_the_mark_of_a_real_cable(
    tmp_path: Path, header: int, word: int, amps: float, volts: float | None, mark: EMarker
) -> None:
    port = plant_port(tmp_path, "3.0A")
    identity = port.with_name("port0-cable") / "identity"
    identity.mkdir(parents=True)
    for name, value in {"id_header": header, "product_type_vdo1": word}.items():
        (identity / name).write_text(f"0x{value:08x}\n", encoding="utf-8")
    [charger] = chargers(tmp_path)
    assert charger.port is not None
    lead = charger.port.lead
    assert lead == Lead(kind="passive", plug="type-c", marked=True, current_a=amps, highest_v=volts)
    assert lead.e_marker is mark
