"""A question from photos of one set: a label, a stamp, tubes' glass. Several are read together."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from indexer.cataloguing.unit import catalogue_unit
from indexer.errors import InputError
from indexer.model import PageInput, PageReading, PageRef, Word
from indexer.reading.page import read_first, read_second
from indexer.search.query import Query
from indexer.trade.codes import CodeClass, classify, normal


@dataclass(frozen=True, slots=True)
class PhotoReading:
    """What was read on one photo."""

    path: Path
    reading: PageReading

    @property
    def lines(self) -> tuple[str, ...]:
        return tuple(" ".join(word.text for word in line) for line in self.reading.lines)


def read_photo(path: Path) -> PhotoReading:
    """Reads one photo by both readers. Raises InputError when the file can't be used."""
    if not path.is_file():
        raise InputError(f"There is no photo {path}.", "Check the spelling.")
    first = read_first(path, 1)
    _, both = read_second(path, 1, first.best)
    return PhotoReading(path, both)


def question(
    photos: Sequence[PhotoReading], makers: Sequence[str], strike: Sequence[str] = ()
) -> Query:
    """What the photos ask for, without the words struck out. Tubes seen on several photos count
    once: a layout label and the glass show the same tube."""
    out = Query()
    most: Counter[str] = Counter()
    for n, photo in enumerate(photos):
        kept = _without(photo.reading, strike)
        page = PageInput(PageRef(f"photo {n}", 1), photo.path.name, kept)
        facts = catalogue_unit([page], tuple(makers)).facts[0]
        out = out.plus(
            Query(
                text=" ".join(word.text for word in kept.words),
                makers=(facts.maker,) if facts.maker else (),
                models=facts.models,
                chassis=facts.chassis,
                year=facts.year,
                codes=() if facts.models or facts.chassis else _loose_codes(kept),
            )
        )
        most |= Counter(place.type for place in facts.tubes)
    return replace(out, tubes=tuple(most.elements()))


def _without(reading: PageReading, strike: Sequence[str]) -> PageReading:
    struck = {normal(word) for text in strike for word in text.split()}
    kept: tuple[Word, ...] = tuple(w for w in reading.words if normal(w.text) not in struck)
    return replace(reading, words=kept)


def _loose_codes(reading: PageReading) -> tuple[str, ...]:
    """Numbers that look like a set's on a stamp without a word beside them."""
    wanted = (CodeClass.MODEL, CodeClass.CHASSIS)
    out: dict[str, None] = {}
    for line in reading.lines:
        texts = [word.text for word in line]
        for at, text in enumerate(texts):
            before, after = " ".join(texts[:at]), " ".join(texts[at + 1 :])
            if classify(text, before + " ", " " + after) in wanted:
                out[text] = None
    return tuple(out)
