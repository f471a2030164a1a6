"""Real scans read by us and by plain engines, against the text that their own files carry."""

import os
import re
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from indexer.errors import BenchfolioError
from indexer.intake.sources import open_source
from tests.accuracy.measures import Score
from tests.accuracy.reading_readers import Result, results


@dataclass(frozen=True)
class ScanSet:
    """A set of real scans: files in the folder that BENCHFOLIO_SCANS names, pages from 1.

    `text` is a file that holds the text of each page; without it a page's own text layer serves.
    """

    name: str
    files: tuple[str, ...]
    pages: tuple[int, ...]
    text: str = ""


SETS = (
    ScanSet("bitonal book pages", ("leptonica/lucasta.1.300.tif", "leptonica/harmoniam-11.tif",
                                   "leptonica/table.15.tif", "leptonica/table.27.tif"), (1,)),
    ScanSet("JBIG2 book", ("pypdf/Seige_of_Vicksburg_Sample_OCR.pdf",), (1, 2, 3, 4, 5, 6)),
    ScanSet("rotated fax", ("pypdf/indirect-rotation.pdf",), (1, 2, 3, 4, 5)),
    ScanSet("DjVu dictionary pages", ("djvujs/p6683.djvu", "djvujs/p6698.djvu"), (1,)),
    ScanSet("one sheet, crooked and turned",
            ("ocrmypdf/ccitt.pdf", "ocrmypdf/skew.pdf", "ocrmypdf/rotated_skew.pdf",
             "ocrmypdf/cardinal.pdf"), (1, 2, 3, 4), "ocrmypdf/linn.txt"),
)  # fmt: skip


def scans_table(readers: tuple[str, ...], kept: Path | None) -> str:
    """A line a set and reader: pages read, pages that failed, words read, words and runs wrong.

    "Words wrong" is the share of the words of the file's own text that the reading lacks, in any
    order; "runs wrong" the same of its runs of four letters, blanks left out, for own texts whose
    words are torn apart. That text was made by an earlier reading, so it is no truth. Says so
    when BENCHFOLIO_SCANS is not set.
    """
    folder = os.environ.get("BENCHFOLIO_SCANS")
    if not folder:
        return "real scans: BENCHFOLIO_SCANS is not set"
    lines = [
        f"{'real scans':50}{'pages':>6}{'failed':>7}{'words':>7}{'words wrong':>13}{'runs':>7}"
    ]
    for one in SETS:
        words, runs = ({reader: Score() for reader in readers} for _ in range(2))
        read, failed = 0, 0
        for picture, own in _pages(Path(folder), one):
            try:
                found = results(picture, readers, kept)
            except BenchfolioError:
                failed += 1
                continue
            read += 1
            for reader, result in found.items():
                words[reader].add(own, _words(result))
                runs[reader].add(_runs(own), _runs(_words(result)))
        for reader, score in words.items():
            wrong = f"{1 - score.recall:13.3f}{1 - runs[reader].recall:7.3f}"
            wrong = wrong if score.wanted else f"{'no own text':>13}"
            lines.append(f"{one.name + ', ' + reader:50}{read:6}{failed:7}{score.given:7}{wrong}")
    return "\n".join(lines)


def _runs(words: list[str]) -> list[str]:
    text = "".join(words)
    return [text[n : n + 4] for n in range(len(text) - 3)]


def _pages(folder: Path, one: ScanSet) -> Iterator[tuple[Path, list[str]]]:
    """Each page's picture as a file of its own, without its text, and the words of that text."""
    with tempfile.TemporaryDirectory() as scratch:
        for name in one.files:
            with open_source(folder / name) as source:
                for n in one.pages:
                    if n > source.page_count:
                        break
                    page = source.page(n)
                    picture = Path(scratch) / f"{Path(name).stem}-{n}.tif"
                    page.draw().save(picture, compression="tiff_lzw")
                    texts = [word.text for word in page.embedded.words] if page.embedded else []
                    if one.text:
                        texts = (folder / one.text).read_text(encoding="utf-8").split()
                    yield picture, [key for text in texts if (key := _key(text))]


def _words(result: Result) -> list[str]:
    return [key for word in result.words if (key := _key(word.text))]


def _key(text: str) -> str:
    return re.sub(r"[^\w]", "", text).lower()
