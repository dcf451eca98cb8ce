"""The waveform as SVG, read back from its own coordinates as a reader would."""

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import numpy as np
import pytest

from sinkside.figures.labels import cells
from sinkside.figures.svg import CELL, SIZE
from sinkside.figures.waveform_svg import NARROWEST, description, waveform_svg
from sinkside.figures.window import Window
from sinkside.outages.table import Curve

NS = "{http://www.w3.org/2000/svg}"
WINDOW = Window(
    wont_run_v=5.0,
    runs_v=6.5,
    stands_v=16.0,
    harmed_v=18.0,
    left_v=0.0,
    right_v=20.0,
    bars=(),
)


def curve(label: str, *corners: tuple[float, float]) -> Curve:
    """Straight lines between corners, sampled finely."""
    times = np.unique(np.concatenate([np.linspace(-0.1, 2.0, 400), [t for t, _ in corners]]))
    volts = np.interp(times, [t for t, _ in corners], [v for _, v in corners])
    return Curve(label=label, t_s=times, pins_v=volts, port_v=volts, port_a=volts * 0.0)


NOMINAL = curve(
    "nominal", (-0.1, 9.0), (0.0, 9.0), (0.05, 0.0), (1.0, 0.0), (1.05, 9.0), (2.0, 9.0)
)
WORST = curve(
    "longest outage", (-0.1, 8.5), (0.02, 8.5), (0.1, 0.5), (1.6, 0.5), (1.7, 8.5), (2.0, 8.5)
)
BOTH = (NOMINAL, WORST)


def drawn(*curves: Curve, **about: object) -> ET.Element:
    return ET.fromstring(waveform_svg(curves or BOTH, WINDOW, **about))  # type: ignore[arg-type]


def found(root: ET.Element, kind: str) -> list[ET.Element]:
    return [e for e in root.iter() if e.get("class") == kind]


def scale(root: ET.Element, ticks: str, along: str) -> tuple[float, float]:
    """Offset and slope of an axis, from its numbers and where their ticks stand."""
    numbers = [float(e.text or "nan") for e in found(root, ticks)]
    lines = found(root, "waveform-tick")
    upright = [e for e in lines if e.get("x1") == e.get("x2")]
    level = [e for e in lines if e.get("y1") == e.get("y2")]
    places = [
        float(e.get("x1" if along == "x" else "y1", "nan"))
        for e in (upright if along == "x" else level)
    ]
    assert len(numbers) == len(places) >= 3
    slope, offset = np.polyfit(places, numbers, 1)
    assert np.allclose(np.polyval([slope, offset], places), numbers, atol=1e-2)
    return float(offset), float(slope)


def test_volts_and_seconds_can_be_read_off() -> None:
    root = drawn()
    at, per_x = scale(root, "waveform-seconds", "x")
    foot, per_y = scale(root, "waveform-volts", "y")
    for element, given in zip(found(root, "waveform-curve"), BOTH, strict=True):
        pairs = re.findall(r"([\d.]+) ([\d.]+)", element.get("d", ""))
        times = np.array([at + per_x * float(x) for x, _ in pairs])
        volts = np.array([foot + per_y * float(y) for _, y in pairs])
        # Edges of 50 ms over nine volts: a tenth of a unit along is some tenths of a volt.
        expected = np.interp(times, given.t_s, given.pins_v)
        near = np.minimum(
            np.abs(volts - expected),
            np.minimum(
                np.abs(volts - np.interp(times + 2e-3, given.t_s, given.pins_v)),
                np.abs(volts - np.interp(times - 2e-3, given.t_s, given.pins_v)),
            ),
        )
        assert near.max() < 0.15
        assert volts.min() == pytest.approx(given.pins_v.min(), abs=0.06)
        assert volts.max() == pytest.approx(given.pins_v.max(), abs=0.06)


def test_the_window_lies_behind() -> None:
    root = drawn()
    foot, per_y = scale(root, "waveform-volts", "y")
    edges = {
        round(foot + per_y * float(e.get("y1", "nan")), 1) for e in found(root, "waveform-edge")
    }
    assert {5.0, 6.5, 16.0} <= edges
    for name in ("waveform-wont-run", "waveform-may-not-run"):
        assert len(found(root, name)) == 1
    kinds = [e.get("class") for e in root.iter()]
    assert kinds.index("waveform-wont-run") < kinds.index("waveform-curve")


def test_dots_stay_in_their_band() -> None:
    root = drawn()
    foot, per_y = scale(root, "waveform-volts", "y")
    (dots,) = found(root, "waveform-wont-run")
    for y in re.findall(r"M[\d.]+ ([\d.]+)h", dots.get("d", "")):
        assert 0.0 <= foot + per_y * float(y) <= 5.0


def test_curves_are_told_apart_without_colour() -> None:
    root = drawn()
    looks = [
        (e.get("stroke-width"), e.get("stroke-dasharray")) for e in found(root, "waveform-curve")
    ]
    assert len(set(looks)) == len(looks)
    assert [e.text for e in found(root, "waveform-name")] == ["nominal", "longest outage"]


def test_names_do_not_lie_over_each_other_and_stay_inside() -> None:
    many = [curve(f"case {k}", (-0.1, 9.0), (2.0, 9.0 + 0.01 * k)) for k in range(4)]
    root = drawn(*many)
    places = sorted(float(e.get("y", "nan")) for e in found(root, "waveform-name"))
    assert all(b - a >= SIZE for a, b in pairwise(places))
    for e in found(root, "waveform-name"):
        assert float(e.get("x", "nan")) + cells(e.text or "") * CELL <= 560.0


def test_the_drawing_is_said_in_words() -> None:
    said = description(BOTH, WINDOW)
    assert said.startswith("The device runs from 6.50 V, and stands 16.00 V. nominal: from 9.00 V")
    assert "least 0.00 V" in said
    desc = next(e for e in drawn().iter(f"{NS}desc"))
    assert desc.text == said
    (title,) = drawn(title='a "lamp" & <more>').iter(f"{NS}title")
    assert title.text == 'a "lamp" & <more>'


def test_the_same_curves_give_the_same_bytes() -> None:
    assert waveform_svg(BOTH, WINDOW) == waveform_svg(BOTH, WINDOW)


@pytest.mark.parametrize(
    ("curves", "width", "wrong"),
    [
        ((), 560.0, "a waveform needs at least one curve"),
        (BOTH, 100.0, f"a waveform needs a width of {NARROWEST:g} or more, not 100"),
        (
            (
                Curve(
                    label="x",
                    t_s=np.zeros(1),
                    pins_v=np.ones(1),
                    port_v=np.ones(1),
                    port_a=np.ones(1),
                ),
            ),
            560.0,
            "a waveform needs a curve that lasts",
        ),
    ],
)
def test_what_cannot_be_drawn(curves: tuple[Curve, ...], width: float, wrong: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(wrong)}$"):
        waveform_svg(curves, WINDOW, width=width)
