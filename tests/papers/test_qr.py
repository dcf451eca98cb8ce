"""QR codes, read by a program that did not write them."""

from xml.etree import ElementTree

import cv2
import numpy as np
import pytest
from tests.papers.test_labels import ink

from sinkside.papers.qr import QUIET, qr_svg


@pytest.mark.parametrize("text", ["a", "sinkside sheet 7Q4-F2K revision A", "Ω 録音機", "x" * 300])
def test_what_was_written_is_read(text: str) -> None:
    drawn = qr_svg(text, title="a code").replace('width="', 'x-width="', 1)
    modules = int(ElementTree.fromstring(qr_svg(text, title="")).attrib["width"])
    dark, _ = ink(drawn.replace("x-width", "width"))
    side = modules * max(4, 400 // modules)
    grey = np.where(dark, 0, 255).astype(np.uint8)
    grey = cv2.resize(grey, (side, side), interpolation=cv2.INTER_NEAREST)
    assert cv2.QRCodeDetector().detectAndDecode(grey)[0] == text


def test_the_quiet_zone_is_white() -> None:
    dark, _ = ink(qr_svg("a", title="a code"))
    modules = int(ElementTree.fromstring(qr_svg("a", title="")).attrib["width"])
    edge = int(dark.shape[0] * QUIET / modules) - 1
    assert not dark[:edge].any()
    assert not dark[:, :edge].any()
    assert not dark[-edge:].any()


def test_a_title_is_text() -> None:
    assert "<b>" not in qr_svg("a", title="<b>")
