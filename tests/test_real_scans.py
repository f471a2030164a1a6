"""Real scanned pages read from end to end: a JBIG2 book, a turned fax, bitonal book pages.

The files and where they come from are named in SOURCES.md beside them (BENCHFOLIO_SCANS).
"""

import re
import shutil
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pypdfium2
import pytest

from indexer import Library, page_json
from indexer.intake.sources import open_source
from indexer.reading import tesseract

BOOK = "Seige_of_Vicksburg_Sample_OCR.pdf"
FAX = "indirect-rotation.pdf"
PAGES = ("lucasta.1.300.tif", "table.15.tif")


@pytest.fixture(scope="module")
def library(scans: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    folder = tmp_path_factory.mktemp("real")
    shelf = folder / "shelf"
    shelf.mkdir()
    for name in (f"pypdf/{BOOK}", f"pypdf/{FAX}", *(f"leptonica/{page}" for page in PAGES)):
        shutil.copy(scans / name, shelf)
    with Library(folder / "home") as opened:
        opened.index([shelf], quick=True)
        yield opened


def test_every_page_is_there_and_read(library: Library, scans: Path) -> None:
    """Page counts against pikepdf."""
    rows = [page_json(library, row) for row in library.pages()]
    counts = Counter(row["file"] for row in rows)
    for name in (BOOK, FAX):
        with pikepdf.open(scans / "pypdf" / name) as pdf:
            assert counts[name] == len(pdf.pages)
    assert {row["state"] for row in rows} <= {"read", "done"}


def test_a_good_text_layer_is_used_and_agrees_with_our_own_reading(
    library: Library, scans: Path
) -> None:
    """The book's own layer, taken by PDFium, against Tesseract on the picture."""
    rows = [page_json(library, row, text=True) for row in library.pages()]
    book = [row for row in rows if row["file"] == BOOK]
    assert {row["reader"] for row in book} == {"embedded"}
    layer = pypdfium2.PdfDocument(scans / "pypdf" / BOOK)[2].get_textpage().get_text_bounded()
    with open_source(scans / "pypdf" / BOOK) as source:
        ours = tesseract.read(source.page(3).draw())
    assert _agreement(" ".join(word.text for word in ours), layer) > 0.9
    assert _agreement(book[2]["text"], layer) > 0.95


def test_prose_of_real_scans_makes_no_set(library: Library) -> None:
    assert list(library.all_entries()) == []


def test_upright_scans_are_not_turned(library: Library) -> None:
    rows = [page_json(library, row) for row in library.pages()]
    turned = [(row["file"], row["page"]) for row in rows if row["rotation_deg"]]
    assert turned == []


def test_words_of_a_scan_are_found_with_their_page(library: Library) -> None:
    text = next(
        page_json(library, row, text=True)["text"]
        for row in library.pages()
        if row.file == PAGES[0]
    )
    assert len(re.findall(r"[a-z]{4,}", text)) > 100


def _agreement(one: str, other: str) -> float:
    """Share (0 to 1) of the words of `one` that `other` has, too, each as often."""
    words, others = (Counter(re.findall(r"[a-z]{3,}", text.lower())) for text in (one, other))
    return sum((words & others).values()) / max(1, sum(words.values()))
