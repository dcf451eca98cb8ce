"""D.c. or a.c., and the polarity: who bears witness, and what happens when they disagree.

One observation of one object is one evidence; the marking on the device, the plate of its own
brick, a meter on that brick and a meter inside the inlet are the four there are.
"""

import pytest
from tests.site.devices import BARREL, NINE_V, USB_C, surveyed, told

from sinkside.site.appliance import Evidence, Observed

PLAIN = 'plate: "DC IN 9V⎓ 500mA"'
POSITIVE = 'plate: "DC IN 9V⎓ 500mA ⊖–C–⊕"'


def witnesses(*lines: str) -> list[tuple[Observed, str]]:
    return sorted(((e.observed, e.centre) for e in surveyed(*lines).evidence), key=str)


@pytest.mark.parametrize(
    ("lines", "kind"),
    [
        ((NINE_V, BARREL), "dc"),
        (('plate: "9V 1A"', BARREL), "unknown"),
        (('plate: "9 VAC 1000 mA"', BARREL), "ac"),
        (('plate: "9V AC/DC 500mA"', BARREL), "unknown"),
        ((BARREL,), "unknown"),
        ((BARREL, 'brick: {plate: "OUTPUT 9V~ 1A"}'), "ac"),
        ((BARREL, 'brick: {plate: "OUTPUT 9V⎓ 1A"}'), "dc"),
        ((BARREL, "brick: {kind: ac (measured)}"), "ac"),
        ((BARREL, "brick: {kind: dc (measured)}"), "dc"),
        ((USB_C,), "dc"),
    ],
)
def test_kind_of_supply(lines: tuple[str, ...], kind: str) -> None:
    assert surveyed(*lines).kind == kind


@pytest.mark.parametrize(
    "lines",
    [
        (NINE_V, BARREL, 'brick: {plate: "OUTPUT 9V~ 1A"}'),
        (NINE_V, BARREL, "brick: {kind: ac (measured)}"),
        (NINE_V, BARREL, "brick: {kind: ac (plate)}"),
        (NINE_V, BARREL, "brick: {kind: ac}"),
        ('plate: "9 VAC 1000 mA"', BARREL, 'brick: {plate: "OUTPUT 9V⎓ 1A"}'),
        ('plate: "9 VAC 1000 mA"', BARREL, "brick: {kind: dc (measured)}"),
        ('plate: "9 VAC 1000 mA"', BARREL, "inside: 5 V logic"),
        ('plate: "9 VAC 1000 mA"', "inlet: {plug: micro-usb}"),
    ],
)
def test_where_d_c_and_a_c_are_both_said_it_is_not_d_c(lines: tuple[str, ...]) -> None:
    assert surveyed(*lines).kind != "dc"


def test_d_c_that_rests_on_nothing_is_not_counted() -> None:
    assert surveyed(BARREL, "brick: {kind: dc}").kind == "unknown"


@pytest.mark.parametrize(
    ("lines", "observed"),
    [
        ((PLAIN, BARREL), []),
        ((POSITIVE, BARREL), [Observed.DEVICE_PRINT]),
        ((PLAIN, "inlet: {plug: 5.5x2.1, centre: positive (plate)}"), [Observed.DEVICE_PRINT]),
        ((PLAIN, "inlet: {plug: 5.5x2.1, centre: positive (datasheet)}"), [Observed.DEVICE_PRINT]),
        ((PLAIN, "inlet: {plug: 5.5x2.1, centre: positive (measured)}"), [Observed.INLET_METER]),
        ((PLAIN, "inlet: {plug: 5.5x2.1, centre: positive}"), []),
        ((PLAIN, "inlet: {plug: 5.5x2.1, centre: unknown}"), []),
        (
            (POSITIVE, "inlet: {plug: 5.5x2.1, centre: positive (measured)}"),
            [Observed.DEVICE_PRINT, Observed.INLET_METER],
        ),
        (
            (PLAIN, BARREL, 'brick: {plate: "OUTPUT 9V⎓ 1A ⊖–C–⊕", original: yes}'),
            [Observed.BRICK_PRINT],
        ),
        (
            (PLAIN, BARREL, "brick: {centre: positive (measured), original: yes}"),
            [Observed.BRICK_METER],
        ),
        (
            (PLAIN, BARREL, "brick: {centre: positive (plate), original: yes}"),
            [Observed.BRICK_PRINT],
        ),
        ((PLAIN, BARREL, "brick: {centre: positive, original: yes}"), []),
        (
            (POSITIVE, BARREL, 'brick: {plate: "OUTPUT 9V⎓ 1A ⊖–C–⊕", original: no}'),
            [Observed.DEVICE_PRINT],
        ),
    ],
)
def test_who_bears_witness(lines: tuple[str, ...], observed: list[Observed]) -> None:
    assert witnesses(*lines) == sorted(((o, "positive") for o in observed), key=str)


@pytest.mark.parametrize(
    "lines",
    [
        # The print on the device, told twice in the file, is one print.
        (POSITIVE, "inlet: {plug: 5.5x2.1, centre: positive (plate)}"),
        (POSITIVE, "inlet: {plug: 5.5x2.1, centre: positive (datasheet)}"),
        # The print on the brick, told twice.
        (
            PLAIN,
            BARREL,
            'brick: {plate: "OUTPUT 9V⎓ 1A ⊖–C–⊕", centre: positive (plate), original: yes}',
        ),
        # Print and meter on one brick that nobody has called the original.
        (
            PLAIN,
            BARREL,
            'brick: {plate: "OUTPUT 9V⎓ 1A ⊖–C–⊕", centre: positive (measured)}',
        ),
    ],
)
def test_no_evidence_counts_twice(lines: tuple[str, ...]) -> None:
    assert len(surveyed(*lines).evidence) == 1


@pytest.mark.parametrize(
    "lines",
    [
        (POSITIVE, "inlet: {plug: 5.5x2.1, centre: negative (measured)}"),
        (POSITIVE, "inlet: {plug: 5.5x2.1, centre: negative (plate)}"),
        (POSITIVE, BARREL, 'brick: {plate: "OUTPUT 9V⎓ 1A ⊕–C–⊖"}'),
        (POSITIVE, BARREL, "brick: {centre: negative (measured)}"),
        (POSITIVE, BARREL, "brick: {centre: negative (plate)}"),
        (
            PLAIN,
            BARREL,
            'brick: {plate: "OUTPUT 9V⎓ 1A ⊖–C–⊕", centre: negative (measured)}',
        ),
    ],
)
def test_witnesses_that_disagree_are_both_heard(lines: tuple[str, ...]) -> None:
    found = surveyed(*lines)
    assert {e.centre for e in found.evidence} == {"positive", "negative"}
    assert found.centre is None


@pytest.mark.parametrize("basis", ["", " (assumed)", " (lived-on)", " (standard)"])
def test_a_word_on_the_polarity_that_is_not_counted_is_told(basis: str) -> None:
    # It speaks against the print: to leave it out without a word would hide a disagreement.
    found = surveyed(POSITIVE, f"inlet: {{plug: 5.5x2.1, centre: negative{basis}}}")
    assert found.evidence == (Evidence(observed=Observed.DEVICE_PRINT, centre="positive"),)
    assert "its centre is negative" in told(found)


def test_a_plate_that_contradicts_itself_bears_no_witness() -> None:
    found = surveyed('plate: "9V⎓ 500 mA centre positive centre negative"', BARREL)
    assert found.evidence == ()
    assert "contradict" in told(found)


@pytest.mark.parametrize(
    ("said", "ground"),
    [
        (", ground: negative (measured)", "negative"),
        (", ground: positive (measured)", "positive"),
        (", ground: mid (datasheet)", "mid"),
        (", ground: isolated (measured)", "isolated"),
        (", ground: unknown", "unknown"),
        ("", "unknown"),
    ],
)
def test_the_ground_pole(said: str, ground: str) -> None:
    assert surveyed(PLAIN, f"inlet: {{plug: 5.5x2.1{said}}}").ground == ground


def test_a_ground_pole_that_rests_on_nothing_is_not_known() -> None:
    # With a wrong ground pole two devices on one charger short a supply through a shield.
    assert surveyed(PLAIN, "inlet: {plug: 5.5x2.1, ground: isolated}").ground == "unknown"
