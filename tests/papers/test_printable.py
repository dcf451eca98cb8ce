"""What the page's typefaces hold, asked of the typesetter itself.

PDF/UA-1 (ISO 14289-1, 7.21.8: no reference to the .notdef glyph; clause from memory) lets no
character through that no face holds, and the typesetter refuses to write such a file.
"""

import json

import pytest
import typst

from sinkside.figures.labels import as_xml
from sinkside.figures.window import Bar, Window
from sinkside.figures.window_svg import window_svg
from sinkside.papers.printable import DRAWING, TEXT, Ranges, held, printable

FACES = '("Libertinus Serif", "DejaVu Sans Mono", "New Computer Modern Math")'
CUTS = """
    #set document(title: "t")
    #set text(font: FACES, lang: "en")
    #let given = json(bytes(sys.inputs.given))
    #given
    #text(weight: "semibold", given)
    #text(weight: "bold", given)
    #text(style: "italic", given)
""".replace("FACES", FACES)
PICTURE = """
    #set document(title: "t")
    #set text(lang: "en")
    #image(bytes(sys.inputs.given), format: "svg", alt: "labels")
"""


def every(ranges: Ranges) -> str:
    """All that is held; a space between keeps marks from being shaped with their neighbours."""
    return " ".join(chr(code) for code in range(0x10000) if held(chr(code), ranges))


def set_without_a_missing_glyph(template: str, given: str) -> None:
    compiler = typst.Compiler(
        template.encode(), ignore_system_fonts=True, sys_inputs={"given": given}
    )
    compiler.compile(format="pdf", pdf_standards="ua-1")


def drawn(label: str) -> str:
    bar = Bar(label=label, low_v=1.0, nominal_v=1.0, high_v=1.0, match=True)
    window = Window(
        wont_run_v=1, runs_v=2, stands_v=3, harmed_v=4, left_v=0, right_v=5, bars=(bar,)
    )
    return window_svg(window, width=20.0 * len(label) + 400)


def test_every_character_that_is_held_has_a_glyph_in_every_cut() -> None:
    set_without_a_missing_glyph(CUTS, json.dumps(every(TEXT)))


def test_every_character_that_is_held_in_drawings_has_a_glyph_there() -> None:
    label = every(DRAWING)
    picture = drawn(label)
    assert as_xml(label[-20:]) in picture
    set_without_a_missing_glyph(PICTURE, picture)


@pytest.mark.parametrize(("template", "given"), [(CUTS, '"歌"'), (PICTURE, drawn("歌"))])
def test_the_typesetter_says_so_where_there_is_none(template: str, given: str) -> None:
    with pytest.raises(typst.TypstError, match="could not be displayed"):
        set_without_a_missing_glyph(template, given)


def test_the_signs_of_the_trade_are_held() -> None:
    assert all(held(sign, TEXT) for sign in "Ω⎓±×→–µμ⊖⊕°…≤≥·²½≈√Δ€£“”‘’")
    assert all(held(sign, DRAWING) for sign in "Ω±×→–µμ°…≤≥·²½≈€")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("5.1 kΩ ±5 % → 9 V⎓", "5.1 kΩ ±5 % → 9 V⎓"),
        ("歌声 A 機", "[U+6B4C 58F0] A [U+6A5F]"),
        ("😀", "[U+1F600]"),
        ("a\tb\r\nc\u00a0d", "a b  c d"),
        ("evil\u202eeman\x00", "evil[U+202E]eman[U+0000]"),
        ("lone \ud800", "lone [U+D800]"),
        ("e\u0301", "é"),
        ("2 שלום עולם, 6", "2 \u200eשלום עולם\u200e, 6"),
        ("", ""),
    ],
)
def test_printable(text: str, shown: str) -> None:
    assert printable(text) == shown


def test_what_a_drawing_lacks_stands_as_code_points_there() -> None:
    assert printable("שלום C1⎓", DRAWING) == "[U+05E9 05DC 05D5 05DD] C1[U+2393]"
