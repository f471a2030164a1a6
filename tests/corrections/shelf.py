"""A small library of typed pages put straight into the catalogue: nothing is drawn or read."""

import hashlib
from dataclasses import replace
from pathlib import Path

from indexer import Library
from indexer.indexing import catalogue_again
from indexer.model import Entry, PageState, PictureFacts
from tests.cataloguing.pages import page
from tests.cataloguing.test_unit import ADVERTISEMENT, FIRST, LAST, PARTS, SHARED

BOOK = "annual.pdf"
SHEET = """
VANTRICE RADIO COMPANY
MODEL M-37   CHASSIS 37-5
PARTS LIST
V1 6A8 CONVERTER
V2 6K7 I.F. AMPLIFIER
V3 6Q7 DET. AUDIO
V4 6F6 POWER OUTPUT
V5 5Y3 RECTIFIER
"""
TEXTS = {BOOK: (FIRST, PARTS, SHARED, LAST, ADVERTISEMENT), "sheet 1.png": (SHEET,)}


def sha(file: str) -> str:
    """The content that stands for a file's bytes."""
    return hashlib.sha256(file.encode()).hexdigest()


def put(
    library: Library,
    folder: Path,
    file: str,
    texts: tuple[str, ...],
    name: str = "",
    confidence: float = 0.95,
) -> None:
    """Adds a file's pages as read; `name` is where the same content lies now."""
    catalogue = library.catalogue
    unit = sha(file) if len(texts) > 1 else "1:."
    catalogue.put_content(sha(file), "pdf", "", unit, [""] * len(texts))
    catalogue.put_file(catalogue.folder_id(folder), name or file, 1, 1, sha256=sha(file))
    for text, task in zip(
        texts,
        [t for t in catalogue.tasks(PageState.WAITING) if t.ref.sha256 == sha(file)],
        strict=True,
    ):
        reading = page(text).reading
        words = tuple(replace(word, confidence=confidence) for word in reading.words)
        reading = replace(reading, words=words)
        catalogue.put_reading(
            task.page_id,
            [reading],
            reading,
            PictureFacts(),
            state=PageState.DONE,
            wants_second=False,
        )


def library_in(folder: Path) -> Library:
    """The small library, catalogued."""
    library = Library(folder / "home")
    for file, texts in TEXTS.items():
        put(library, folder, file, texts)
    catalogue_again(library.catalogue)
    return library


def with_code(library: Library, code: str) -> Entry:
    """The entry that shows a model or chassis."""
    (found,) = [e for e in library.all_entries() if code in (*e.models, *e.chassis)]
    return found


def everything(library: Library) -> list[tuple[object, ...]]:
    """All that a person can see of entries and page kinds."""
    kinds = library.catalogue.rows("SELECT page_id, kinds FROM page_fact ORDER BY page_id")
    return [(entry,) for entry in library.all_entries()] + [tuple(row) for row in kinds]


def again(library: Library) -> None:
    """Catalogues all anew, as `index --catalogue-only` does."""
    catalogue_again(library.catalogue, corrections=library._said)
