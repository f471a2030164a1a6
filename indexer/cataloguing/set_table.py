"""Lists of sets on a page, typed, written or printed by a program: each row is a set of its own.

Columns may have been read one after the other; rows are put together again by their heights.
What a note beside the list says of a row's set goes with that set.
"""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from indexer.cataloguing import cross_list
from indexer.cataloguing.identity import Masthead
from indexer.cataloguing.index_row import DITTO
from indexer.cataloguing.lineups import TubeSource
from indexer.cataloguing.makers import by_fold, leading, maker_in
from indexer.cataloguing.region import Line, Region, make_line, squeeze
from indexer.cataloguing.sequence import Stretch
from indexer.cataloguing.set_columns import (
    Head,
    cells_of,
    divided,
    edges_of,
    head_of,
    items_joined,
    level_rows,
)
from indexer.cataloguing.sheet import Sheet
from indexer.model import PageKind, TubePlace, Word
from indexer.trade.codes import fold, parse_codes
from indexer.trade.numbering import parse_line_up

_TYPE_LIKE = re.compile(r"\b(?:\d{1,3}[A-Z]{1,3}\d{1,2}|[A-Z]{2,4}\d{1,3})", re.IGNORECASE)
_LISTED = 3  # tubes in a row, from which it gives a set's line-up
_FEW_ROWS = 3  # without a heading
_SHARE = 0.5  # of the words of a cell of tubes are tubes
_GROUPED = 0.3  # share of rows without a maker, from which the one above stands for them
_MOST_NAME = 4  # words of a maker or model
_LABEL_WORDS = (
    "MODEL MODELS CHASSIS TUBE TUBES VALVE VALVES TYPE SET SETS RECEIVER SERIES PAGE VOLUME USES"
    " PIN PLATE SCREEN OHMS VOLTS PART NO"
)
_LABELS = frozenset(_LABEL_WORDS.split())
_SENTENCE_END = re.compile(r"[\w)\"'][.!?;]$")
_MAY_SEEM = (PageKind.OTHER, PageKind.SERVICE_NOTES, PageKind.INDEX_PAGE, PageKind.PARTS_LIST)
_OWN_MATTER = frozenset(PageKind) - {*_MAY_SEEM, PageKind.VOLTAGE_CHART}


@dataclass(frozen=True, slots=True)
class SetRow:
    """One row: the set it names, its tubes, the line it stands on."""

    maker: str
    models: tuple[str, ...]
    chassis: tuple[str, ...]
    tubes: tuple[TubePlace, ...]
    line: Line


def stretches(sheet: Sheet, known: Sequence[str], aliases: Mapping[str, str]) -> list[Stretch]:
    """The sets that a list on this page names, each a stretch of its own with the notes on it;
    [] when the page holds no such list."""
    region = sheet.whole
    rows = sets_in(sheet, known)
    if rows and not any(row.maker for row in rows):
        maker = maker_in([line for line in region.lines if line.is_heading], known)
        if cross_list.sets_in(region, maker):
            return []  # one maker's own table, whose rows join his sheets
        rows = [replace(row, maker=maker) for row in rows]
    height = max(1.0, float(region.page.reading.height_px))
    notes = _notes(region, rows) if rows else []
    found = []
    for number, row in enumerate(rows):
        said = [line for line, about in notes if number in about]
        maker = aliases.get(fold(row.maker), row.maker)
        head = Masthead(row.line.box.top / height, maker, row.models, row.chassis)
        part = Region(region.page, (row.line, *said), row.line.box.top, row.line.box.bottom)
        source = TubeSource(PageKind.SERVICE_NOTES, row.tubes)
        own = frozenset({f"row {number} of {region.page.ref}"})  # joined to no other sheet's set
        sources = (source,) if row.tubes else ()
        found.append(Stretch(part, {PageKind.OTHER: 1.0}, head, own, maker, sources, False))
    return found


def sets_in(sheet: Sheet, known: Sequence[str] = ()) -> list[SetRow]:
    """The rows of a list of sets, top to bottom; [] when the page holds none."""
    region = sheet.whole
    if len(_TYPE_LIKE.findall(region.text)) < _LISTED:
        return []
    lines = level_rows(region.lines)
    heads = ((n, head) for n, line in enumerate(lines) if (head := head_of(line)) is not None)
    start, head = next(((n, head) for n, head in heads if _is_of_sets(head)), (-1, None))
    rows = _headed(lines[start + 1 :], head, region) if head is not None else []
    if not rows:
        rows = _plain(items_joined(lines), region, by_fold(tuple(known)))
    if not rows:
        return []
    own_matter = not _OWN_MATTER.isdisjoint(sheet.kinds)
    return [] if own_matter and 2 * len(rows) < len(lines) else rows


def _is_of_sets(head: Head) -> bool:
    names = set(head.names)
    named = "maker" in names or "model" in names or "chassis" in names
    return "tubes" in names and named and "place" not in names


def _headed(lines: Sequence[Line], head: Head, region: Region) -> list[SetRow]:
    likely = [line for line in lines if len(_TYPE_LIKE.findall(line.text)) >= 2]
    edges = edges_of(head, likely)
    rows: list[SetRow] = []
    given: list[str] = []
    for line in lines:
        if head.separator:
            cells = divided(line, head) or _by_looks(line.text.split(head.separator))
        else:
            parted = cells_of(line, head, edges) or {}
            cells = {name: _written(name, words) for name, words in parted.items()}
        tubes = _tubes(cells.get("tubes", ""), region)
        maker = cells.get("maker", "").strip(" .,;:|")
        models, chassis = _codes(cells.get("model", "")), _codes(cells.get("chassis", ""))
        if tubes and not models and not chassis and not maker and rows:  # goes on from above
            rows[-1] = replace(rows[-1], tubes=rows[-1].tubes + tubes)
        elif _is_set(maker, models, chassis, tubes, cells):
            given.append("" if DITTO.match(maker) else maker)
            above = next((name for name in reversed(given[:-1]) if name), "")
            maker = above if DITTO.match(maker) else maker
            rows.append(SetRow(_name(maker), models, chassis, tubes, line))
    several = sum(len(row.tubes) >= _LISTED for row in rows)
    if 2 * several < len(rows) or not several:
        return []  # one tube a row: a chart, or a list of tubes
    return _under_makers(rows)


def _written(name: str, words: Sequence[Word]) -> str:
    """A cell's text; what is no tube as it was seen, since repairs know tubes only."""
    return " ".join(w.text if name == "tubes" else w.printed or w.text for w in words)


def _is_set(
    maker: str,
    models: Sequence[str],
    chassis: Sequence[str],
    tubes: Sequence[TubePlace],
    cells: Mapping[str, str],
) -> bool:
    """Whether cells give a set: a number, and tubes or at least nothing but types in their cell."""
    if not (models or chassis) or len(maker.split()) > _MOST_NAME:
        return False
    if any(any(c.isdigit() for c in word) for word in maker.split()):
        return False
    return bool(tubes) or (not cells.get("tubes") and bool(maker))


def _under_makers(rows: Sequence[SetRow]) -> list[SetRow]:
    """Rows in groups under one maker, who is named in the first of each, given his name."""
    if not _GROUPED * len(rows) <= sum(not row.maker for row in rows) < len(rows):
        return list(rows)
    found, above = [], ""
    for row in rows:
        above = row.maker or above
        found.append(replace(row, maker=above))
    return found


def _by_looks(parts: Sequence[str]) -> dict[str, str]:
    """Cells told apart by what they look like, where a separator was misread."""
    words = " ".join(parts).split()
    found = _split(words, {})
    if found is None:
        return {}
    maker, codes, tubes = found
    return {"maker": maker, "model": " ".join(codes[:1]), "tubes": " ".join(tubes)}


def _plain(lines: Sequence[Line], region: Region, known: Mapping[str, str]) -> list[SetRow]:
    """Rows under no heading that each say maker, model and tubes."""
    rows: list[SetRow] = []
    above = ""
    for line in lines:
        words = [word.text for word in line.words]
        ditto = bool(above) and len(words) > _LISTED and bool(DITTO.match(words[0]))
        found = _split(words[1:] if ditto else words, known, named=not ditto)
        if found is None:
            continue
        maker, codes, tubes = found
        above = above if ditto else maker
        places = _tubes(" ".join(tubes), region)
        rows.append(SetRow(_name(above), codes[:1], codes[1:2], places, line))
    named = {fold(row.models[0]) for row in rows}
    return rows if len(named) >= _FEW_ROWS else []


def _split(
    words: Sequence[str], known: Mapping[str, str], *, named: bool = True
) -> tuple[str, tuple[str, ...], list[str]] | None:
    """A row as maker, numbers (model, chassis) and tubes; None when it is no such row."""
    kept = [word for part in words if (word := part.strip(",;:|.\"'-")) and word not in "-–—/"]
    lead = 0
    while lead < len(kept) and not any(c.isdigit() for c in kept[lead]):
        lead += 1
    if (named and not 0 < lead <= _MOST_NAME) or lead >= len(kept):
        return None
    if any(squeeze(word) in _LABELS or word[:1].islower() for word in kept[:lead]):
        return None
    at = lead + 1  # the first with a figure is the model, whatever it looks like
    while at < len(kept) and at - lead <= _LISTED and not _all_tubes(kept[at:]):
        at += 1
    if len(kept) - at < _LISTED or at - lead > _LISTED:
        return None
    codes = [word for word in kept[lead:at] if any(c.isdigit() for c in word)]
    codes = [word for word in codes if not re.fullmatch(r"19[2-6]\d", word) or word == kept[lead]]
    if len(codes) < at - lead - 1:
        return None
    maker, name = leading(kept[:lead], known) if named else ("", kept[:lead])
    codes[0] = " ".join([*name, codes[0]])
    return maker, tuple(codes), kept[at:]


def _all_tubes(words: Sequence[str]) -> bool:
    return _left_over("TUBES: " + " ".join(words)) == 0


def _left_over(text: str) -> int:
    """How many words of a text are no part of a line-up."""
    rest = text
    for token in parse_line_up(text):
        rest = rest[: token.start] + " " * (token.end - token.start) + rest[token.end :]
    words = [word.strip(".,;:()/&+*|-") for word in rest.split()]
    return sum(bool(w) and w.upper() not in ("TUBES", "AND", "X", "TWO", "PLUS") for w in words)


def _tubes(cell: str, region: Region) -> tuple[TubePlace, ...]:
    """The line-up that a cell gives; () when most of its words are something else."""
    text = "TUBES: " + cell
    tokens = parse_line_up(text)
    if _left_over(text) > _SHARE * len(tokens):
        return ()
    return tuple(
        TubePlace(t.type, t.printed, page=region.page.ref, alternatives=t.alternatives)
        for t in tokens
        for _ in range(t.count)
    )


def _codes(cell: str) -> tuple[str, ...]:
    """The numbers of a cell; a name before one belongs to it ("Serenata 58W")."""
    text = cell.strip(" .,;:|*-–—\"'")
    words = text.split()
    if not any(c.isdigit() for c in text) or len(words) > _MOST_NAME:
        return ()
    if any(word[:1].islower() and word.isalpha() and len(word) > 2 for word in words):
        return ()  # prose
    parts = [part for part in re.split(r"\s*[,;]\s*|\s+&\s+|\s+and\s+", text) if part]
    if len(parts) > 1:
        whole = [code for span in parse_codes(f"Models {text}") for code in span.codes]
        return tuple(dict.fromkeys(whole or parts))
    return (text,)


def _name(maker: str) -> str:
    """A maker as a person writes it."""
    return maker.title() if maker.isupper() and len(maker) > _LISTED else maker


def _notes(region: Region, rows: Sequence[SetRow]) -> list[tuple[Line, frozenset[int]]]:
    """Each sentence beside a list, with the rows whose set it names: by a model, or by a maker who
    has one row only."""
    inside = {id(word) for row in rows for word in row.line.words}
    makers = Counter(fold(row.maker) for row in rows if row.maker)
    once = {maker for maker, count in makers.items() if count == 1}
    found = []
    for words in _sentences(level_rows(region.lines), inside):
        said = {fold(word.text.strip(".,;:!?()\"'")) for word in words}
        said |= {fold(f"{a.text}{b.text}") for a, b in pairwise(words)}
        by_model = {n for n, row in enumerate(rows) if said & {fold(code) for code in row.models}}
        by_maker = {n for n, row in enumerate(rows) if fold(row.maker) in said & once}
        if about := by_maker | {n for n in by_model if _long_enough(rows[n])}:
            found.append((make_line(words), frozenset(about)))
    return found


def _long_enough(row: SetRow) -> bool:
    """Whether a model can't well be anything else in a sentence."""
    return any(len(fold(code)) > 2 and not code.isdecimal() for code in row.models)


def _sentences(lines: Sequence[Line], without: set[int]) -> Iterator[list[Word]]:
    words = [word for line in lines for word in line.words if id(word) not in without]
    start = 0
    for end, word in enumerate(words, 1):
        if end == len(words) or _SENTENCE_END.search(word.text):
            yield words[start:end]
            start = end
