"""Index pages: lines that say which publication, volume and page prints a set."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from indexer.cataloguing.imprint import roman
from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.makers import as_known
from indexer.cataloguing.region import Line, Region, as_printed, make_line, page_lines, printed_rows
from indexer.model import Listing, Word
from indexer.trade.numbering import parse_line_up

_LEADER = re.compile(r"(?:[.·•…_~-]\s?){3,}|\s{3,}")
# Ditto marks, and what readers make of them.
_DITTO = re.compile(r"^(?:[\"”“„'’`″,]{1,3}|DO\.?|DITTO|[1Il]{2}|[t1]{1,2}|rr|ii)$", re.IGNORECASE)
_TITLE = re.compile(r"\bINDEX\b|\bCONTENTS\b|\bVOLUMES?\b.*\bTO\b", re.IGNORECASE)
_HAS_VOLUMES = re.compile(r"\bMODELS?\b.*\bVOL(UME|\b)|\bVOL(UME|\.)? *PAGE\b", re.IGNORECASE)
_MOST_DITTOS = 3
_NUMBERED = re.compile(r"^(?:[RCLTV]\d{1,3}|\d{1,3})\b(?!-)")  # a part, a step
_BOTH_ROWS = 0.6  # of the printed rows are two listings, where an index runs in columns
_FEW_CROSS = 0.08  # of the rows may have a word across the space between two columns
_TAIL = re.compile(
    r"(?:(?:^|\s)(?:VOL\.?\s*)?(?P<volume>[IVXL]{1,6}|\d{1,2})(?:\s*[,:]?\s+|\s?[-–]\s?))?"
    r"(?:\bP(?:AGE|P|\.)?\s*)?(?<!\d)(?P<page>\d{1,4})\W{0,3}$",
    re.IGNORECASE,
)
_FIGURE = str.maketrans("OoQIl|SZBGi", "00011152861")
_NUMBER_LIKE = re.compile(r"^[\dOoQIl|SZBGi]{1,4}$")


def listings_in(
    region: Region, publication: str, volume: str, known: Sequence[str] = (), maker: str = ""
) -> tuple[Listing, ...]:
    """The rows of an index page, column by column. A row without a maker (or with ditto marks)
    takes the maker above it, at the top `maker`; where the index prints no volumes, `volume` is
    meant, the book's own. `known` are makers as they are written.
    """
    found: list[Listing] = []
    lines = _columned(region)
    printed = any(_HAS_VOLUMES.search(line.text) for line in lines if len(line.words) <= 8)
    last_volume = "" if printed else volume
    for line in lines:
        row = _row(line)
        if row is None:
            heading = _maker_heading(line)
            maker = as_known(heading, known) if heading else maker
            continue
        maker = as_known(row.maker, known) if row.maker else maker
        row_volume = row.volume or last_volume  # of a printed volume that wasn't read, nothing
        found.append(Listing(region.page.ref, maker, row.model, publication, row_volume, row.page))
    return tuple(found)


def listed_makers(region: Region) -> list[str]:
    """The makers that an index page names, each as often as it heads or begins rows."""
    named = []
    for line in _columned(region):
        row = _row(line)
        name = row.maker.title() if row else _maker_heading(line)
        if name and name.replace(" ", "").isalpha():
            named.append(name)
    return named


def listed_share(region: Region) -> tuple[int, float]:
    """(how many of a region's lines are rows of an index, their share of all lines)."""
    ends = [line.words[-1].text.strip(".,") for line in region.lines]
    if sum(end[-1:].isdigit() for end in ends) < 0.4 * len(ends):
        return 0, 0.0
    lines = _columned(region)
    rows = [row for line in lines if (row := _row(line))]
    listed = sum(
        not parse_line_up(row.model, bare_numbers=False) and not _NUMBERED.match(row.model)
        for row in rows
    )
    return listed, listed / max(1, len(lines))


@dataclass(frozen=True, slots=True)
class _Row:
    maker: str  # "" under a ditto mark or where none is printed
    model: str
    volume: str
    page: str


def _columned(region: Region) -> list[Line]:
    """The page's lines in the order of its columns."""
    words = [
        word
        for line in map(as_printed, page_lines(region.page))
        for word in line.words
        if any(c.isalnum() for c in word.text) or _DITTO.match(word.text)
    ]
    return _in_columns(words)


def _in_columns(words: Sequence[Word]) -> list[Line]:
    rows = printed_rows([make_line(words)]) if words else []
    at = _gutter(rows)
    if at is None:
        return rows
    left = [word for word in words if word.box.middle[0] < at]
    return [*_in_columns(left), *_in_columns([w for w in words if w.box.middle[0] >= at])]


def _gutter(rows: Sequence[Line]) -> float | None:
    """Where two columns of listings stand apart, or None: nearly no word crosses, and most rows
    are a listing on either side."""
    if len(rows) < 3:
        return None
    first = min(row.box.left for row in rows)
    last = max(row.box.right for row in rows)
    best: tuple[float, float] | None = None
    for x in _clear_places(rows, first, last):
        halves = [
            ([w for w in row.words if w.box.right <= x], [w for w in row.words if w.box.left >= x])
            for row in rows
        ]
        both = [(make_line(a), make_line(b)) for a, b in halves if a and b]
        parsed = [(one, other) for a, b in both if (one := _row(a)) and (other := _row(b))]
        good = len(parsed)
        volumes = sum(bool(one.volume) + bool(other.volume) for one, other in parsed)
        heads = sum(
            bool(_maker_heading(a) and _row(b)) or bool(_row(a) and _maker_heading(b))
            for a, b in both
        )
        if good >= 2 and good + heads >= _BOTH_ROWS * len(both):
            score = good + heads + volumes
            if best is None or score > best[0]:
                best = (score, x)
    return best[1] if best else None


def _clear_places(rows: Sequence[Line], first: float, last: float) -> list[float]:
    """The middles of the upright strips that nearly no word crosses, between two sides."""
    spans = [(word.box.left, word.box.right) for row in rows for word in row.words]
    most = max(3, _FEW_CROSS * len(rows))
    strips: list[list[float]] = []
    was_clear = False
    for step in range(20, 81):
        x = first + (last - first) * step / 100
        clear = sum(left < x < right for left, right in spans) <= most
        if clear and was_clear:
            strips[-1].append(x)
        elif clear:
            strips.append([x])
        was_clear = clear
    return [strip[len(strip) // 2] for strip in strips]


def _row(line: Line) -> _Row | None:
    """One index line taken apart; None when it isn't one."""
    plain = " ".join(_LEADER.sub("  ", line.text).split())
    if _TITLE.search(plain):
        return None
    plain = _figures_at_end(plain)
    tail = _TAIL.search(plain)
    if tail is None:
        return None
    words = plain[: tail.start()].strip(" .,-").split()
    dittos = 0
    while len(words) > 1 and dittos < _MOST_DITTOS and _DITTO.match(words[0]):
        words.pop(0)
        dittos += 1
    makers: list[str] = []
    while not dittos and len(words) > 1 and _is_name(words[0], bool(makers)):
        makers.append(plain_words(words.pop(0)))
    model = " ".join(words).strip(' .,"”“')
    if not any(c.isdigit() for c in model) or len(words) > 6 or len(makers) > 4:
        return None
    volume = roman(tail["volume"]) if tail["volume"] else ""
    return _Row(" ".join(makers).strip(" .,").title(), model, volume, tail["page"])


def _is_name(word: str, further: bool) -> bool:
    plain = plain_words(word).strip(".,&")
    return (plain.isalpha() and len(plain) > 2) or (further and word in {"&", "and", "AND"})


def _figures_at_end(plain: str) -> str:
    """The row with look-alike letters in its page and volume as figures: "4 1O5" gives "4 105"."""
    head, _, last = plain.rpartition(" ")
    volume, dash, page = last.rpartition("-")
    if _NUMBER_LIKE.match(page) and any(c.isdigit() for c in page):
        page = page.translate(_FIGURE)
        if dash and _NUMBER_LIKE.match(volume) and len(volume) <= 2:
            volume = volume.translate(_FIGURE)
        before, _, single = head.rpartition(" ")
        if not dash and before and len(single) == 1 and single in "OoQl|SZBGi":
            head = f"{before} {single.translate(_FIGURE)}"
        return f"{head} {volume}{dash}{page}"
    return plain


def _maker_heading(line: Line) -> str:
    words = [plain_words(word.text.strip(".,:;")) for word in line.words if word.text.isupper()]
    if len(words) != len(line.words):
        return ""
    if 1 <= len(words) <= 3 and all(w.isalpha() and w.isupper() and len(w) > 3 for w in words):
        name = " ".join(words)
        return "" if name in _COLUMN_HEADS or "INDEX" in name else name.title()
    return ""


_COLUMN_HEADS = frozenset(
    {"MAKER", "MODEL", "MODELS", "VOLUME", "PAGE", "MAKER MODEL", "CONTENTS", "CONTINUED", "VOL"}
)


def merge_listings(rows: Sequence[Listing]) -> tuple[Listing, ...]:
    """Rows printed twice (an index continued, or scanned twice) once."""
    return tuple({(r.maker, r.model, r.volume, r.page): r for r in reversed(rows)}.values())[::-1]
