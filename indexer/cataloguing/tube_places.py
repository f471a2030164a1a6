"""The tubes that one printed row shows: which of its words are types, how many of each, with which
symbols, and which only look like types."""

import re
from collections.abc import Sequence

from indexer.cataloguing.printed_roles import role_after, role_beside
from indexer.cataloguing.region import Line, Region, make_line
from indexer.cataloguing.ways import ROLE, Way, head_type, old_type_at_head, old_types_in
from indexer.model import PageKind, TubePlace, Word
from indexer.trade.line_text import TubeToken
from indexer.trade.numbering import parse_line_up, registered
from indexer.trade.tubes import lookup

SYMBOL = re.compile(r"\b[Vv][- ]?([\dIl]{1,2})(?:[ -]?[AB])?\b")
CHARTS = frozenset({PageKind.VOLTAGE_CHART, PageKind.RESISTANCE_CHART})
_ONE_BY_ONE = CHARTS | {PageKind.SCHEMATIC, PageKind.CHASSIS_VIEW, PageKind.TUBE_LAYOUT}
_READING = re.compile(r"^-?\d*\.?\d+[KM]?$|^(NC|INF)\W?$", re.IGNORECASE)
_SOME_READINGS = 2
_NAMED = re.compile(
    r"\b(?:TYPE|MODEL|CHASSIS|SUPER|SERIES|RADIO)S?\W+\d{2,3} [A-Z]\b(?!\.)", re.IGNORECASE
)
_NAME_WORDS = 5
_COIL = re.compile(r"[3>}{]((?:6|7|12|14|25|35|50)[A-Z]{1,2}\d{1,2}\w*|[A-Z]{2,4}\d{2,3})")
_PART = re.compile(r"\d{1,2}([RCLT])(\d{1,2})", re.IGNORECASE)
_REFERENCE = re.compile(r"[RCLT]\d{1,3}[A-D]?\*?(?:,[RCLT]\d{1,3})?")
_DESCRIBED = 1
_BEFORE = re.compile(r"(?:OF|TO|FROM|AT|FOR|ON|THE|NEAR|PIN|BETWEEN|SAME)", re.IGNORECASE)
_PART_OF = re.compile(
    r"(?:GRIDS?|PLATES?|SCREENS?|CATHODES?|ANODES?|SOCKETS?|PINS?|CAP|FIL\b|FILAMENTS?|HEATERS?"
    r"|BIAS|BASE|SHIELD|PLATE-)",
    re.IGNORECASE,
)
_ITEM = re.compile(r"\(?\d{1,2}[).:]|\d{1,2}")
_LEAST_WORDS = 2  # a number and a type
_LEAST_ITEMS = 3  # that rise from 1 by one each
_NEAR = 1.5  # heights of lettering
_PAIR = re.compile(r"\s?\(\s?[Xx×]?\s?2\s?[Xx×]?\s?\)")


def labels_first(
    lines: Sequence[Line], region: Region, kind: PageKind, way: Way
) -> list[TubePlace]:
    """The tubes that rows show in some way. In a drawing what only speaks of a tube ("to 6V6
    plate", "R5 plate load of 6SQ7") is not its label: it counts where no label shows the type,
    once."""
    if way is not Way.DRAWN:
        return [place for line in lines for place in places_in(line, region, kind, way)]
    shown: list[TubePlace] = []
    spoken: dict[str, TubePlace] = {}
    for line in lines:
        row = _without_mentions(line)
        shown += places_in(row, region, kind, way) if row else []
        if row is not line:
            for place in places_in(line, region, kind, way):
                spoken.setdefault(place.type, place)
    labelled = {place.type for place in shown}
    return shown + [place for name, place in spoken.items() if name not in labelled]


def without_items(rows: Sequence[Line]) -> Sequence[Line]:
    """The rows without the numbers (1), (2), (3) … before their types, which count the rows and
    not the tubes."""
    numbered = [row for row in rows if _is_item(row)]
    numbers = [int(re.sub(r"\D", "", row.words[0].text)) for row in numbered]
    if len(numbers) < _LEAST_ITEMS or numbers != list(range(1, len(numbers) + 1)):
        return rows
    return [make_line(row.words[1:]) if _is_item(row) else row for row in rows]


def with_quantities(rows: Sequence[Line]) -> list[Line]:
    """The rows with the figure of a column of quantities before its type, "2 6SK7"."""
    out: list[Line] = []
    counted = False
    for row in rows:
        counted = counted or bool(_QUANTITY.search(row.text))
        words = row.words
        pair = counted and len(words) > 1 and _HOW_MANY.fullmatch(words[1].text)
        if pair and lookup(registered(words[0].text.strip(".,;:"))) is not None:
            row = make_line([words[1], words[0], *words[2:]])
        out.append(row)
    return out


_QUANTITY = re.compile(
    r"\b(?:TYPE|TUBE|VALVE|RÖHRE)S?\W+(?:QUAN\w*\.?|QTY\.?|N[O0]\.? USED|NUMBER USED|ANZAHL|STÜCK)",
    re.IGNORECASE,
)
_HOW_MANY = re.compile(r"[1-9]")


def _is_item(row: Line) -> bool:
    if len(row.words) < _LEAST_WORDS or not _ITEM.fullmatch(row.words[0].text):
        return False
    return lookup(registered(row.words[1].text.strip(".,;:"))) is not None


def _without_mentions(line: Line) -> Line | None:
    """A drawing's row without the types that it only speaks of; None when nothing is left."""
    words = line.words
    first = words[0].text.strip(".,:")
    described = sum(word.text.isalpha() and len(word.text) > 3 for word in words[1:])
    if _REFERENCE.fullmatch(first) and described >= _DESCRIBED:
        return None  # a row of a parts list
    kept = [word for n, word in enumerate(words) if not _is_spoken_of(words, n)]
    return line if len(kept) == len(words) else make_line(kept) if kept else None


def _is_spoken_of(words: Sequence[Word], n: int) -> bool:
    """Whether what stands right beside word n makes it a mention: "TO 6V6", "6V6 PLATE"."""
    before = words[n - 1] if n else None
    if before and _BEFORE.fullmatch(before.text) and _near(before, words[n]):
        return True
    after = words[n + 1] if n + 1 < len(words) else None
    return bool(after and _PART_OF.match(after.text) and _near(words[n], after))


def _near(left: Word, right: Word) -> bool:
    return right.box.left - left.box.right < _NEAR * right.box.height


def places_in(line: Line, region: Region, kind: PageKind, way: Way) -> list[TubePlace]:
    """The tubes that a printed row shows in some way, left to right, each as often as it says."""
    if not any(map(str.isdigit, line.text)):
        return []  # every type has a figure
    shown: list[tuple[int, TubePlace]] = []
    charted = way is Way.CHART
    text = _without_coils(line) if way is Way.DRAWN else line.text
    single = (
        charted
        or kind in (PageKind.SCHEMATIC, PageKind.CHASSIS_VIEW, PageKind.TUBE_LAYOUT)
        or kind in CHARTS
    ) and way is not Way.SENTENCE
    old_at = -1
    old = old_type_at_head(line) if way in (Way.CHART, Way.LIST) else ""
    if old:  # early types are bare numbers: "75", at the row's head
        word = line.words[head_type(line) or 0].text
        old_at = line.text.find(word)
        shown.append((old_at, TubePlace(old, word.strip(".,|[]"), page=region.page.ref)))
    named = len(line.words) <= _NAME_WORDS and bool(_NAMED.search(line.text))
    tokens = parse_line_up(text, bare_numbers=not charted)
    ends = [token.start for token in tokens[1:]] + [len(text)]
    for token, end in zip(tokens, ends, strict=False):
        if lookup(token.type) is None or token.start == old_at:
            continue
        if named and token.type.isdigit():
            continue  # "Type 53 A" is the set
        if charted and (shown or old) and not _is_word_of(text, token):
            continue  # "25 AC 5"
        if charted and _is_reading(text, token.start, token.end):
            continue
        before, after = text[: token.start], text[token.end :]
        labelled = SYMBOL.search(before[-6:]) or ROLE.match(after)
        if way is Way.DRAWN and not labelled and _is_part(token, region):
            continue
        if way is Way.DRAWN and token.type.isdigit() and kind in _ONE_BY_ONE and not labelled:
            continue  # 20 beside a capacitor
        symbols = SYMBOL.findall(before[-12:])
        place = TubePlace(
            token.type,
            printed=token.printed,
            symbol=f"V{int(symbols[-1].translate(_FIGURES))}" if symbols else "",
            page=region.page.ref,
            alternatives=token.alternatives,
            role=_role(line, region, way, text, token, end),
        )
        # "5-35Z4" beside a symbol is V5, and "2-6V6" in a list two of them
        pair = way is Way.DRAWN and _PAIR.match(after)
        shown += [(token.start, place)] * (2 if pair else 1 if single else token.count)
    if way in (Way.SENTENCE, Way.LIST):
        taken = {start for start, _ in shown}
        shown += [
            (at, TubePlace(name, printed, page=region.page.ref))
            for at, printed, name in old_types_in(line.text)
            if at not in taken
        ]
        shown.sort(key=lambda pair: pair[0])
    return [place for _, place in shown]


def _is_word_of(row: str, token: TubeToken) -> bool:
    """Whether a type is one printed word, and not made up of parts of a row's readings."""
    return " " not in token.printed and (not token.start or row[token.start - 1] in " (|")


_FIGURES = str.maketrans("Il", "11")


def _is_reading(row: str, start: int, end: int) -> bool:
    """Whether what looks like a type stands among a chart's readings: "74" read as "7A4". Of two
    charts side by side each begins with a type and goes on with readings of its own."""
    before = [word for word in row[:start].split() if _READING.match(word)]
    after = [word for word in row[end:].split() if _READING.match(word)]
    return len(before) >= _SOME_READINGS > len(after)


def _role(line: Line, region: Region, way: Way, text: str, token: TubeToken, end: int) -> str:
    """The role printed beside a type whose matter goes on to `end`."""
    if way is not Way.DRAWN:
        return role_after(text[token.end : end])
    word = line.words[text[: token.start].count(" ")]
    return role_after(text[token.end : end]) or role_beside(word.box, region)


def _without_coils(line: Line) -> str:
    """A drawing's row where a coil beside a label was read as a 3: "312AT7"."""
    words = []
    for word in line.words:
        cut = _COIL.fullmatch(word.text)
        known = cut and lookup(registered(cut[1])) and not lookup(registered(word.text))
        words.append(cut[1] if cut and known else word.text)
    return " ".join(words)


def _is_part(token: TubeToken, region: Region) -> bool:
    """Whether a label is more likely a part with a stroke read before it ("1C7"): its neighbours
    in the drawing's sequence of parts are there, and it is not."""
    part = _PART.fullmatch(token.printed)
    if part is None:
        return False
    letter, n = part[1].upper(), int(part[2])
    parts = set(re.findall(rf"(?<![A-Z0-9]){letter}\d{{1,2}}(?!\d)", region.text.upper()))
    before = f"{letter}{n - 1}" in parts or n == 1
    return f"{letter}{n}" not in parts and before and f"{letter}{n + 1}" in parts
