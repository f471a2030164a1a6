"""Tables on a page put back into rows and cells, whatever order their words were read in."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.makers import SLIP_FROM, one_slip
from indexer.cataloguing.region import Line, make_line
from indexer.model import Word

# Words that head a column, in the trade's English and as other countries print them.
_HEAD_WORDS = {
    "maker": "MAKER MAKERS MAKE MAKES MANUFACTURER MFR MFG BRAND FIRM MARQUE MARKE HERSTELLER"
    " FABRIKAT FIRMA MERK FABRIKANT MARCA MÄRKE FABRIKK",
    "model": "MODEL MODELS MODELL MODELE MODÈLE MODELO MODELLO RECEIVER RECEIVERS SET SETS",
    "chassis": "CHASSIS CHAS CH",
    "tubes": "TUBES TUBE VALVES VALVE LINE-UP LINEUP COMPLEMENT RÖHREN ROHREN ROEHREN BESTÜCKUNG"
    " BESTUCKUNG RÖHRENBESTÜCKUNG ROHRENBESTUCKUNG LAMPES BUIZEN RÖR RØR VALVOLE VALVULAS"
    " VÁLVULAS",
    "year": "YEAR YEARS DATE DATED JAHR BAUJAHR ANNÉE ANNEE ANNO JAAR ÅR",
    "place": "PAGE PAGES VOL VOLUME BOOK SHEET SEITE BAND",
}
_NAMES = {word: name for name, words in _HEAD_WORDS.items() for word in words.split()}
# The long ones by how many letters a word has that may be one of them with a slip.
_LONG_NAMES = {
    letters: [(form, name) for form, name in _NAMES.items() if abs(len(form) - letters) <= 1]
    for letters in range(SLIP_FROM, max(map(len, _NAMES)) + 2)
}
_TYPE = frozenset(("TYPE", "TYPES", "TYP", "NAME"))  # a model, or what sort of tube
_JOINED = frozenset(
    ("NO", "NOS", "NUMBER", "NUMBERS", "NR", "USED", "LINE", "UP", "LINE-UP", "COMPLEMENT", "TYPES")
)
_MOST_HEAD_WORDS = 12
_SHARE_KNOWN = 0.5  # of a heading's words name columns
_SEPARATORS = ",;\t|"
_ROW_SHARE = 0.6  # of the lettering's height
_LONG = 12.0  # heights of lettering, from which a line tells how a page slopes
_OVER = 0.5  # of the smaller of two words, from where both are readings of one


@dataclass(frozen=True, slots=True)
class Head:
    """A row that names a table's columns: their names left to right, "" for any other."""

    names: tuple[str, ...]
    middles_px: tuple[float, ...]
    separator: str  # "" when the columns stand apart


def level_rows(lines: Sequence[Line]) -> list[Line]:
    """Words that stand side by side as rows, top to bottom, on a page that may slope a little;
    of two readings of one place the longer line's is kept."""
    slope = _slope(lines)
    words = _once(lines)
    if not words:
        return []
    reach = _ROW_SHARE * median(word.box.height for word in words)
    placed = [(w.box.middle[1] - slope * w.box.middle[0], w) for w in words]
    rows: list[list[Word]] = []
    total = 0.0  # of the heights in the last row
    for height, word in sorted(placed, key=lambda pair: (pair[0], pair[1].box.left)):
        if rows and height - total / len(rows[-1]) <= reach:
            rows[-1].append(word)
            total += height
        else:
            rows.append([word])
            total = height
    return [make_line(sorted(row, key=lambda w: w.box.left)) for row in rows]


def _slope(lines: Sequence[Line]) -> float:
    slopes = []
    for line in lines:
        first, last = line.words[0].box, line.words[-1].box
        if last.left - first.left >= _LONG * max(1.0, first.height):
            rise = last.middle[1] - first.middle[1]
            slopes.append(rise / (last.middle[0] - first.middle[0]))
    return median(slopes) if slopes else 0.0


def _once(lines: Sequence[Line]) -> list[Word]:
    kept: list[Word] = []
    for line in sorted(lines, key=lambda line: -len(line.words)):
        near = [k for k in kept if k.box.top < line.box.bottom and k.box.bottom > line.box.top]
        kept += [word for word in line.words if not any(_covers(k, word) for k in near)]
    return kept


def _covers(one: Word, other: Word) -> bool:
    a, b = one.box, other.box
    wide = min(a.right, b.right) - max(a.left, b.left)
    high = min(a.bottom, b.bottom) - max(a.top, b.top)
    least = min(a.width * a.height, b.width * b.height)
    return wide > 0 and high > 0 and wide * high > _OVER * least


def head_of(row: Line) -> Head | None:
    """What columns a row names; None when it names no columns of a table of sets."""
    if len(row.words) > _MOST_HEAD_WORDS:
        return None
    separator = max(_SEPARATORS, key=row.text.count)
    parts: list[tuple[str, float]]
    if row.text.count(separator) >= 2 and separator != "\t":
        parts = [(plain_words(part), float(n)) for n, part in enumerate(row.text.split(separator))]
    else:
        separator = ""
        parts = [(plain_words(word.text), word.box.middle[0]) for word in row.words]
    names: list[str] = []
    middles: list[float] = []
    for text, middle in parts:
        words = [word for part in text.split() if (word := part.strip(" .:_|#*()"))]
        if not words:
            continue
        if names and all(word in _JOINED for word in words) and not _names_alone(words, names):
            continue
        found = next((name for word in words if (name := _known(word))), "")
        if not found and words[-1] in _TYPE:
            if names and names[-1] == "tubes":
                continue
            found = "type"
        names.append(found)
        middles.append(middle)
    names = _settled(names)
    known = {name for name in names if name}
    if len(known) < 2 or sum(map(bool, names)) < _SHARE_KNOWN * len(names):
        return None
    twice = len([name for name in names if name]) != len(known)
    return None if twice else Head(tuple(names), tuple(middles), separator)


def _names_alone(words: Sequence[str], names: Sequence[str]) -> bool:
    """Whether a word that may go with the one before names a column of its own."""
    return any(_NAMES.get(word) == "tubes" for word in words) and "tubes" not in names


def _known(word: str) -> str:
    """The column that a word names, be it read with a slip; "" for any other word."""
    if word in _NAMES:
        return _NAMES[word]
    return next((name for form, name in _LONG_NAMES.get(len(word), ()) if one_slip(word, form)), "")


def _settled(names: Sequence[str]) -> list[str]:
    """The names with "type" understood: the model where no other column is, else nothing."""
    meant = "" if "model" in names else "model"
    return [meant if name == "type" else name for name in names]


def cells_of(row: Line, head: Head, edges: Sequence[float]) -> dict[str, list[Word]] | None:
    """A row's words by column; None when they can't be told apart. `edges` are the heights of
    `edges_of`."""
    if head.separator:
        return None
    cells: dict[str, list[Word]] = {}
    for word in row.words:
        at = sum(word.box.middle[0] >= edge for edge in edges)
        cells.setdefault(head.names[at], []).append(word)
    return cells


def edges_of(head: Head, rows: Sequence[Line]) -> list[float]:
    """Where one column ends and the next begins, in pixels: the widest gap that the fewest words
    cross between the middles of two headings."""
    edges = []
    for low, high in pairwise(head.middles_px):
        spans = [
            (max(low, w.box.left), min(high, w.box.right))
            for row in rows
            for w in row.words
            if w.box.right > low and w.box.left < high
        ]
        cuts = sorted({low, high, *(x for span in spans for x in span)})
        best = max(
            pairwise(cuts),
            key=lambda gap: (
                -sum(span[0] < gap[1] and span[1] > gap[0] for span in spans),
                gap[1] - gap[0],
            ),
            default=(low, high),
        )
        edges.append((best[0] + best[1]) / 2)
    return edges


def divided(row: Line, head: Head) -> dict[str, str] | None:
    """The cells of a row whose columns are parted by a sign; None when they are too few. A last
    column of tubes takes all that is left."""
    parts = [part.strip(" \"'") for part in row.text.split(head.separator)]
    if len(parts) < len(head.names):
        return None
    if len(parts) > len(head.names):
        last = len(head.names) - 1
        if head.names[last] != "tubes" and any(parts[len(head.names) :]):
            return None
        parts = [*parts[:last], re.sub(r"\s+", " ", " ".join(parts[last:]))]
    return dict(zip(head.names, parts, strict=True))


def items_joined(lines: Sequence[Line]) -> list[Line]:
    """The lines with numbered items, each with the tubes that a line below gives it, as rows:
    "3. Tillbrook 5D10, chassis 41A" over "tubes: 12BE6 …"."""
    out: list[Line] = []
    for line in lines:
        words = list(line.words)
        if out and _TUBES_BELOW.match(line.text) and _ITEM.match(out[-1].text):
            words = [*out.pop().words, *words]
        out.append(make_line(words))
    return [
        make_line([word for word in line.words[1:] if not _SAID.fullmatch(word.text)])
        if len(line.words) > _ITEM_WORDS and _ITEM.match(line.text)
        else line
        for line in out
    ]


_ITEM_WORDS = 3  # of an item that holds more than a number and a name
_ITEM = re.compile(r"^\W{0,2}\d{1,3}[.)]\s")
_TUBES_BELOW = re.compile(r"^\W{0,2}(?:TUBES?|VALVES?|LINE-?UP)\b", re.IGNORECASE)
_SAID = re.compile(
    r"(?:TUBES?|VALVES?|LINE-?UP|CHASSIS|CH|MODELS?|SET|RADIO)[.:,;]*", re.IGNORECASE
)
