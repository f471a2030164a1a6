"""Our own parsers, each as a function of a text that may raise only plain errors.

Every one also checks something of what came back, so that odd input gives no odd answer.
"""

import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from indexer.bench.alignment import alignment_table
from indexer.bench.charts import read_charts
from indexer.bench.parts import read_parts
from indexer.cataloguing.unit import catalogue_unit
from indexer.drawer import _spare_lines
from indexer.errors import BenchfolioError
from indexer.intake.lists import list_in
from indexer.intake.notes import NotesSource, decoded
from indexer.model import Box, PageInput, PageReading, PageRef, Word
from indexer.reading.reconcile import merge
from indexer.reading.repair import repair
from indexer.reading.rows import in_rows, with_ends
from indexer.reading.tidy import tidy
from indexer.reading.wording import put_right
from indexer.search.query import tubes_in, understand
from indexer.store.corrections_csv import from_csv
from indexer.trade.code_distance import distance
from indexer.trade.codes import base, fold, normal, parse_codes, series
from indexer.trade.line_text import parse_line_up
from indexer.trade.lineup import analyse
from indexer.trade.numbering import parse_tube, registered
from indexer.trade.tubes import known, lookup
from indexer.trade.values import parse_tolerance, parse_value

SLOW_S = 2.0  # for a text of at most MOST_CHARS; a person would call it hung
MOST_CHARS = 4_000


def codes(text: str) -> None:
    for span in parse_codes(text):
        assert 0 <= span.start <= span.end <= len(text), span
    line = text.split("\n")[0][:200]
    keys = [normal(line), fold(line), base(line), series(line)]
    assert fold(keys[0]) == fold(keys[1]) or keys[0] != keys[1]
    assert normal(keys[0]) == keys[0], "the normal form has another normal form"
    assert distance(line[:40], line[:40]) == 0


def values(text: str) -> None:
    line = text[:300]
    for kind in ("", "C", "R"):
        try:
            for value in parse_value(line, kind):
                assert value.number == value.number, "not a number"
                assert value.number >= 0
        except BenchfolioError as error:
            assert error.message
    parse_tolerance(line)


def tubes(text: str) -> None:
    for line in text.split("\n")[:50]:
        name = parse_tube(line)
        types = registered(line)
        assert types == registered(types) or name is None
        lookup(line[:60]), known(line[:60])
    kinds = parse_line_up(text)
    assert len(kinds) <= len(text) + 1
    try:
        analyse(tubes_in(text[:500]))
    except BenchfolioError as error:
        assert error.message


def queries(text: str) -> None:
    try:
        asked = understand(text, {"TILLBR00K": "Tillbrook"})
    except BenchfolioError as error:
        assert error.message
        assert "\n" not in str(error)
        return
    asked.plus(understand("6SN7", {}))


def listings(text: str) -> None:
    words, ref = [], PageRef("0" * 64, 1)
    for n, line in enumerate(f"INDEX\n{text}".split("\n")):
        for k, word in enumerate(line.split()):
            left, top = 60.0 + 90 * k, 60.0 + 40 * n
            words.append(Word(word, Box(left, top, left + 80, top + 30), 0.9, n))
    page = PageInput(ref, "a.pdf", PageReading(tuple(words), 1700, 2200, "tesseract"))
    made = catalogue_unit([page], ["TILLBROOK"])
    assert len(made.facts) == 1
    for row in made.listings:
        assert row.model


def pages(text: str) -> None:
    """A page as the readers give it: put right, then asked for all that a job takes from it."""
    words = []
    for n, line in enumerate(text.split("\n")):
        left, top = 60.0, 60.0 + 40 * n
        for word in line.split():
            words.append(Word(word, Box(left, top, left + 14 * len(word), top + 30), 0.9, n))
            left += 14 * len(word) + 10
    ref = PageRef("0" * 64, 1)
    reading = PageReading(tuple(words), 1700, 2200, "tesseract")
    reading = replace(reading, words=put_right(repair(tidy(reading.words))))
    reading = replace(reading, words=in_rows(with_ends(merge(reading, reading).words)))
    for line in read_parts(reading, ref):
        assert line.value is None or line.value.number >= 0
    for point in read_charts(reading, ref):
        assert point.nominal == point.nominal, "not a number"
    alignment_table(reading, ref, "a.pdf page 1")
    catalogue_unit([PageInput(ref, "a.pdf", reading)], ["TILLBROOK"])


def lists(text: str) -> None:
    found = list_in(text)
    if found is not None:
        for row in found.sets:
            assert row.line >= 1
    try:
        from_csv(text)
    except ValueError as error:  # what it promises for a first line that is none
        assert "first line" in str(error) or "cell" in str(error), error
    try:
        list(_spare_lines(text, least=0))
    except BenchfolioError as error:
        assert error.message


TARGETS: dict[str, Callable[[str], None]] = {
    "codes": codes,
    "values": values,
    "tubes": tubes,
    "queries": queries,
    "listings": listings,
    "pages": pages,
    "CSV": lists,
}
SEEDS = {
    "codes": ("40-120 through 40-125", "5D10, -11, -12", "CH 41A Ch. 41-A", "MODELS 6T1 TO 6T9"),
    "values": (
        ".05 mfd",
        "50-30 mfd 150 V",
        "470K 10%",
        "2.2 meg",
        "10M",
        ".00025",
        "0.1 µF ±20%",
        "2X25-3v",
    ),
    "tubes": (
        "12BE6 12BA6 12AV6 50C5 35W4",
        "6SN7-GT/B",
        "V1-6SA7 V2 6SK7",
        "two 6V6GT",
        "80",
        "12A?6 8[8?",
    ),
    "queries": ("Tillbrook 5D10 chassis CH-41A 1951", 'tubes: 6SA7, 6SK7 "dial cord"', "455 kc"),
    "listings": (
        'TILLBROOK 5D10 .... 4 118\n" 5D11 ... 4-119\nModel 6B20 Vol. II p. 12',
        "ROOK 5D10K 43 1OO",
        "TILLBROOK 2222MODEL",
        "....",
    ),
    "pages": (
        "PARTS LIST\nC1 .05 mfd 400 V 123-4\nR2 470K 1/2 W\nC3A 50-30 mfd 150 V",
        "VOLTAGE CHART\nTUBE PIN1 2 3 4 5 6 7\n12BE6 -1 0 12.6 AC 90 90 0\n50C5 7 0 110 AC 95",
        "ALIGNMENT\nSTEP DUMMY GENERATOR DIAL ADJUST\n1 .1 mfd 455 kc open T1\n2 200 mmf 1500 C2",
        "MODEL 5D10 CHASSIS 41-A\nTubes: 12BE6, 12BA6, two 50L6GT",
        "the intermediate freguency transforrner is peaked at 455 kc.",
    ),
    "CSV": (
        'maker,model,tubes,where\nTillbrook,5D10,"12BE6, 12BA6",drawer 2\n',
        "type;count;place;note\n12BE6;3;box 1;\n",
        "what,value,pages,codes,page,other,other_codes,file,at,undone\nyear,1951,,,,,,,,\n",
    ),
}


def tried(target: str, text: str) -> str:
    """ "" when the parser behaves on a text, else what went wrong."""
    started = time.monotonic()
    try:
        TARGETS[target](text[:MOST_CHARS])
    except Exception as error:
        return f"{type(error).__name__}: {error}"
    took = time.monotonic() - started
    return f"took {took:.1f} s" if took > SLOW_S else ""


def note(data: bytes, folder: Path) -> str:
    """A typed note of any bytes, laid out: "" or what went wrong."""
    path = folder / "note.txt"
    path.write_bytes(data)
    try:
        decoded(data)
        with NotesSource(path) as source:
            for page in source:
                assert page.embedded is not None or not page.draw_size()[0] < 0
    except BenchfolioError:
        return ""
    except Exception as error:
        return f"{type(error).__name__}: {error}"
    return ""
