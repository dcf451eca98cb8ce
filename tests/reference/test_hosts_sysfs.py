"""The tree of a Linux host against published samples, and against the words of the same objects.

References
----------
Linux patches for SPR AVS of October 2025 (read): a source of the 67 W class, whose object 5 shows
4000mA, 3350mA and peak code 0. USB PD 6.4.1, layouts as given in Linux include/linux/usb/pd.h
(read): an object shown by the tree and the same object as a word are one offer. The words are
arithmetic from those layouts, but for the SPR AVS one, which was read in an open-source file.
"""

from pathlib import Path

import pytest

from sinkside.hosts import chargers
from sinkside.parts import port_list
from sinkside.parts.charger import Offer

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
    assert shown(tmp_path, p1_fixed_supply=FIVE, **{f"p2_{kind}": figures}) == offers
