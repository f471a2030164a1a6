"""Every file of the openpreserve corpus of malformed PDFs (CC0) opens or is refused plainly."""

import os
import time
from pathlib import Path

import pytest

from indexer.errors import InputError
from indexer.intake.sources import FileKind, examine, open_source

_FOLDER = Path(os.environ.get("BENCHFOLIO_SCANS", "")) / "corrupt_cc0"
_NAMES = (
    sorted(path.name for path in _FOLDER.glob("*.pdf"))
    if os.environ.get("BENCHFOLIO_SCANS")
    else []
)
# The reference file of the corpus prints this line; so do those whose damage spares it.
_LINE = "Hello PDF-world!"


def test_the_corpus_is_whole(scans):
    assert len(list((scans / "corrupt_cc0").glob("*.pdf"))) == 98


@pytest.mark.parametrize("name", _NAMES or ["(corpus)"])
def test_opens_or_is_refused_plainly(scans, name):
    path = scans / "corrupt_cc0" / name
    began = time.monotonic()
    try:
        assert examine(path).kind is FileKind.PDF
        with open_source(path) as source:
            assert source.page_count >= 1
            for page in source:
                try:
                    picture = page.draw()
                    assert picture.size == page.draw_size()
                    if page.embedded is not None:
                        assert page.embedded.words
                except InputError as error:
                    assert error.message
                    assert error.remedy
    except InputError as error:
        assert path.name in error.message
        assert error.remedy
    assert time.monotonic() - began < 5.0


def test_most_of_the_damage_spares_the_text(scans):
    """What other readers can still show should be found here too: 60 of the files say it."""
    found = 0
    for path in sorted((scans / "corrupt_cc0").glob("hb_*.pdf")):
        try:
            with open_source(path) as source:
                reading = source.page(1).embedded
                found += reading is not None and _LINE in reading.text
        except InputError:
            continue
    assert found >= 60


def test_only_the_file_with_an_open_password_asks_for_one(scans):
    asking = []
    for path in sorted((scans / "corrupt_cc0").glob("encryption_*.pdf")):
        try:
            open_source(path).close()
        except InputError as error:
            assert "password" in error.message
            asking.append(path.name)
    assert asking == ["encryption_openpassword.pdf"]
