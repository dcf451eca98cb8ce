"""What holds for every PDF of a folder: on the page, in its type, in the reader's order."""

import re
from pathlib import Path

import pymupdf
import pytest
from tests.papers.pages import ink_mm, opened, overlaps, squeezed, text_of, words

# ISO 216: A4 is 210 mm × 297 mm. ANSI Y14.1: size A is 8.5 in × 11 in. A point is 1/72 in.
SIZES_PT = {"demo_papers": (595.3, 841.9), "hostile_papers": (612.0, 792.0)}
WHICH = pytest.mark.parametrize("which", list(SIZES_PT))
# Printers leave 3 to 4.5 mm at each edge white (common practice, no source).
WHITE_MM = 5.0


def pdfs(which: str, request: pytest.FixtureRequest) -> dict[str, pymupdf.Document]:
    found = request.getfixturevalue(which)
    return {name: opened(raw) for name, raw in found.items() if name.endswith(".pdf")}


@WHICH
def test_every_page_has_the_size_that_was_asked_for(
    which: str, request: pytest.FixtureRequest
) -> None:
    for name, document in pdfs(which, request).items():
        for page in document:
            assert (page.rect.width, page.rect.height) == pytest.approx(SIZES_PT[which], abs=0.1), (
                name
            )


@WHICH
def test_ink_keeps_off_the_edges(which: str, request: pytest.FixtureRequest) -> None:
    for name, document in pdfs(which, request).items():
        if name == "labels.pdf":
            continue  # its crosses stand at the edges; its words are looked at by themselves
        for number, page in enumerate(document, 1):
            assert min(ink_mm(page)) > WHITE_MM, (name, number)


@WHICH
def test_no_word_lies_on_another(which: str, request: pytest.FixtureRequest) -> None:
    for name, document in pdfs(which, request).items():
        for number, page in enumerate(document, 1):
            assert overlaps(page) == [], (name, number)


@WHICH
def test_every_typeface_is_in_the_file(which: str, request: pytest.FixtureRequest) -> None:
    for name, document in pdfs(which, request).items():
        fonts = {font[0]: font[3] for page in document for font in page.get_fonts(full=True)}
        assert fonts, name
        for number, called in fonts.items():
            assert document.extract_font(number)[3], (name, called)
            plain = called.partition("+")[2]
            assert plain.startswith(("LibertinusSerif", "DejaVuSansMono", "NewCM")), called


@WHICH
def test_type_is_no_smaller_than_can_be_read(which: str, request: pytest.FixtureRequest) -> None:
    # 5.5 pt of a typeface with large lower case in drawings, 6 pt in text (common practice).
    for name, document in pdfs(which, request).items():
        for page in document:
            for block in page.get_text("dict")["blocks"]:
                for line in block.get("lines", []):
                    for span in line["spans"]:
                        assert span["size"] > (
                            4.8 if name == "labels.pdf" or "Mono" in span["font"] else 5.9
                        ), (name, span["text"])


@WHICH
def test_pages_are_counted(which: str, request: pytest.FixtureRequest) -> None:
    for name, document in pdfs(which, request).items():
        if name == "labels.pdf":
            continue
        for number, page in enumerate(document, 1):
            foot = page.rect.height - 60
            said = " ".join(w[4] for w in words(page) if w[1] > foot)
            assert f"{number} of {document.page_count}" in said, name


@WHICH
def test_nothing_in_a_file_acts_or_leads_out(which: str, request: pytest.FixtureRequest) -> None:
    for name, document in pdfs(which, request).items():
        assert document.embfile_count() == 0, name
        kinds = {link["kind"] for page in document for link in page.get_links()}
        assert kinds <= {pymupdf.LINK_GOTO}, name  # the contents lead to their sections
        objects = [document.xref_object(x) for x in range(1, document.xref_length())]
        assert not any(re.search(r"/(JavaScript|JS|Launch|URI)\b", o) for o in objects), name


@WHICH
def test_a_file_tells_no_time_of_its_making(which: str, request: pytest.FixtureRequest) -> None:
    for name, document in pdfs(which, request).items():
        assert not document.metadata["creationDate"], name
        assert not document.metadata["modDate"], name


@WHICH
def test_every_page_can_be_heard(which: str, request: pytest.FixtureRequest) -> None:
    for name, document in pdfs(which, request).items():
        catalog = document.xref_object(document.pdf_catalog())
        assert re.search(r"/Marked\s+true", catalog), name
        assert re.search(r"/Lang\s*\(en\)", catalog), name


def test_what_is_the_same_for_all_stands_on_all(demo_papers: dict[str, bytes]) -> None:
    for name, raw in demo_papers.items():
        if Path(name).suffix == ".pdf" and name != "labels.pdf":
            text = text_of(raw)
            for said in (
                "Fernhollow Sound Archive",
                "revision B",
                "3 May 2031",
                "The tool computes; it does not certify.",
                "Local codes and licensed practice come first.",
            ):
                assert squeezed(said) in text, (name, said)
