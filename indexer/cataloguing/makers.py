"""Makers' names: by corporate wording, by their place before a model, by index pages. Pure."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from indexer.cataloguing.labels import plain_labels
from indexer.cataloguing.region import Line, squeeze
from indexer.trade.codes import fold

_CORPORATE = re.compile(
    r"^\W*([A-Z][A-Z'&.\- ]{2,40}?)\s+(?:RADIO|TELEVISION|WIRELESS|ELECTRIC(?:AL)?|MFG|"
    r"MANUFACTURING|CORP(?:ORATION)?|COMPANY|CO|INC|LTD|LABORATORIES|PRODUCTS|WORKS|RECEIVERS?)\b",
)
# "Tillbrook Model 5D10", "MAKE: TILLBROOK": the word that stands where a maker stands
_BEFORE_MODEL = re.compile(
    r"^\W*([A-Z][A-Za-z'&\-]{3,20}(?: (?:AND |& )?[A-Z][A-Za-z'\-]{3,20})?)\W+"
    r"(?:MODELS?|RECEIVERS?|RADIOS?|TYPES?)\b\W*(?:NOS?\b\W*)?\S*\d",
    re.IGNORECASE,
)
_LABELLED = re.compile(
    r"\b(?:MAKER?|MFR|MANUFACTURER|BRAND)\b\s*[:.\-]+\s*([A-Z][A-Za-z'&\-]{3,20})", re.IGNORECASE
)
_BEFORE_CODE = re.compile(r"^\W*([A-Z][A-Za-z'&\-]{3,20})\W+(?=\S*\d)(?:[A-Z0-9\-./]{2,12})\b")
_STOPS = frozenset({"FOR", "OF", "BY", "THE", "FROM", "TO", "WITH"})
_NOT_MAKERS = frozenset(
    "THE SERVICE ANNUAL PRESS MODEL MODELS CHASSIS TRADE VOLUME PARTS PART TUBE TUBES SCHEMATIC"
    " ALIGNMENT INDEX VOLTAGE AC DC FM AM PORTABLE AUTO CAR FARM HOME TABLE DATA NOTES MANUAL"
    " RECEIVER RECEIVERS RADIO RADIOS PAGE STEP NUMBER GRID FIGURE SERIES SUPPLEMENT ADDENDUM"
    " ADDENDA TYPE TYPES CONTINUED SEE SAME ALSO USED EARLY LATER ORDER YOUR THIS THESE EVERY"
    " FINE CIRCUIT DIAGRAM INFORMATION MAKE MAKER OTHER SETS STYLE CAPACITOR RESISTOR COIL"
    " TRANSFORMER SOCKET KNOB CONTROL REPLACES SIMILAR SUPERSEDES FREQUENCY SIGNAL DIAL LAMP"
    " VOLTS OHMS ISSUED JANUARY FEBRUARY MARCH APRIL JUNE JULY AUGUST SEPTEMBER OCTOBER NOVEMBER"
    " DECEMBER CORD ELECTROLYTIC SPEAKER CONVERTER MIXER OSCILLATOR RECTIFIER DETECTOR OUTPUT"
    " MANUFACTURED COMPLEMENT LINEUP GENERAL INSTRUCTIONS BULLETIN FOREWORD".split()
)
_SHORTEST = 4
_OFTEN = 2  # pages on which a word stands before a code, to be taken for a maker


@dataclass(frozen=True)
class Known:
    """Names that count as makers: those learned, and the person's own list, which wins.

    `aliases` maps a folded other name to the maker as the person writes it.
    """

    names: tuple[str, ...] = ()
    aliases: Mapping[str, str] = field(default_factory=dict)

    def settled(self, name: str) -> str:
        """The maker's own name for a name or alias."""
        return self.aliases.get(fold(name), name)


def maker_in(lines: Iterable[Line], known: Sequence[str] = ()) -> str:
    """The maker named by corporate wording ("TILLBROOK RADIO MFG. CO."), or a known one named
    in a heading; as a person writes it ("Tillbrook"); "" when none is."""
    kept = list(lines)
    headings = [squeeze(plain_labels(line.text)) for line in kept if line.is_heading]
    for text in (*headings, *map(" ".join, pairwise(headings))):  # a name may take two lines
        name = corporate(text)
        if name:
            return as_known(name, known)
    folded = {fold(name): name for name in known if name}
    for line in kept:
        if line.is_heading or len(line.words) <= 8:
            found = _known_word(line, folded)
            if found:
                return found
    return ""


def corporate(text: str) -> str:
    """The name before "RADIO", "CORPORATION" …, in title case, or ""."""
    match = _CORPORATE.match(text)
    if not match:
        return ""
    words = match[1].split()
    for n, word in enumerate(words):
        if word.strip(".") in _STOPS:
            return _name(words[n + 1 :]) or corporate(" ".join([*words[n + 1 :], "CO"]))
    return _name(words)


def named_before_code(lines: Sequence[Line]) -> list[str]:
    """Words on headings that stand where a maker's name stands: before a model."""
    found = []
    for line in lines:
        text = " ".join(plain_labels(line.text).split())
        match = _BEFORE_MODEL.match(text) or _LABELLED.search(text)
        if match and len(line.words) <= 14 and (name := _name(match[1].upper().split())):
            found.append(name)
    return found


def headed(lines: Sequence[Line]) -> list[str]:
    """Words that begin a line and are followed by a code; makers, where they recur."""
    found = []
    for line in lines:
        match = _BEFORE_CODE.match(" ".join(line.text.split()))
        if match and len(line.words) <= 8 and (name := _name([match[1].upper()])):
            found.append(name)
    return found


def recurring(names: Iterable[tuple[int, str]]) -> list[str]:
    """Names that stand on at least two pages, given as (page, name)."""
    pages = Counter(name for _, name in set(names))
    return [name for name, count in pages.items() if count >= _OFTEN]


def as_known(name: str, known: Sequence[str]) -> str:
    """The known maker that a name folds to, else the name in title case."""
    return next((maker for maker in known if fold(maker) == fold(name)), name.title())


def _known_word(line: Line, folded: Mapping[str, str]) -> str:
    for n, word in enumerate(line.words):
        one = word.text.strip(".,;:()\"'|")
        if n + 1 < len(line.words):
            two = f"{one} {line.words[n + 1].text.strip('.,;:()')}"
            if fold(two) in folded and " " in folded[fold(two)]:
                return folded[fold(two)]
        if fold(one) in folded:
            return folded[fold(one)]
    return ""


def _name(words: Sequence[str]) -> str:
    kept = [word for word in words if word.strip(".") not in _NOT_MAKERS]
    name = " ".join(kept)
    if not kept or len(kept[0]) < _SHORTEST or not name.replace(" ", "").isalpha():
        return ""
    return name.title()
