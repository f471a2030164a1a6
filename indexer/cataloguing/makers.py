"""Makers' names: by corporate wording, by their place before a model, by index pages. Pure."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from statistics import median
from types import MappingProxyType

from indexer.cataloguing.labels import plain_labels
from indexer.cataloguing.maker_words import AFTER_NAMES, GENERAL, NOT_MAKERS
from indexer.cataloguing.region import Line, pieces, squeeze
from indexer.trade.codes import fold

_CORPORATE = re.compile(
    r"^\W*([A-Z][A-Z'&.\- ]{2,40}?)\s+(?:RADIOS?|TELEVISIONS?|WIRELESS|ELECTRIC(?:AL)?|MFG|"
    r"MANUFACTURING|CORP(?:ORATION)?|COMPANY|CO|INC|LTD|LABORATORIES|PRODUCTS|WORKS|RECEIVERS?)\b",
)
# "Tillbrook Model 5D10", "MAKE: TILLBROOK": the word that stands where a maker stands
_BEFORE_MODEL = re.compile(
    r"(?:^\W*|[,;:] )([A-Z][A-Za-z'&\-]{3,20}(?: (?:AND |& )?[A-Z][A-Za-z'\-]{3,20})?)\W+"
    r"(?:MODELS?|RECEIVERS?|RADIOS?|TYPES?|SUPER|RADIO-PHONOGRAPH)\b\W*(?:NOS?\b\W*)?"
    r"(?:[A-Z]{1,3} )?\S*\d",
    re.IGNORECASE,
)
# "TILLBROOK SERVICE DATA", over a set's pages
_SERVICED = re.compile(
    r"^\W*([A-Z][A-Z'&\-]{3,20})\s+SERVICE (?:DATA|INFORMATION|BULLETINS?|NOTES?)\b"
)
_BEFORE_CHASSIS = re.compile(r"^\W*([A-Z][A-Z'&\-]{3,20})\s+CHASSIS\b\W*(?:NOS?\b\W*)?\S*\d")
_TYPED_TITLE = re.compile(r"^#+\s*([A-Z][A-Za-z'&\-]{3,20})\s+(?=\S*\d)[A-Z0-9\-./]{2,12}\s*$")
_LABELLED = re.compile(
    r"\b(?:MAKER?|MFR|MANUFACTURER|BRAND)\b\s*[:.\-]+\s*([A-Z][A-Za-z'&\-]{3,20})"
    r"|^\W*(?:MAKER?|MFR|MANUFACTURER|BRAND)\s+([A-Z][A-Za-z'&\-]{3,20})$",
    re.IGNORECASE,
)
_BEFORE_CODE = re.compile(r"^\W*([A-Z][A-Za-z'&\-]{3,20})\W+(?=\S*\d)(?:[A-Z0-9\-./]{2,12})\b")
_BOOK = re.compile(r"\b(ANNUALS?|MANUALS?|YEARBOOK|HANDBOOK|DIGEST|PRESS|ENCYCLOP\w+|JOURNAL)\b")
_VOLUME_OR_PAGE = re.compile(r"\bV[O0]L(UME|\b)|\bPAGE \d|^\W*\d{1,4}\b|\b\d{1,4}\W*$")
_STOPS = frozenset({"FOR", "OF", "BY", "THE", "FROM", "TO", "WITH"})
_FIRM = re.compile(
    r"\b(Mfg|Manufacturing|Corp|Corporation|Company|Co|Inc|Ltd|Limited)\b\W*(?:, [A-Z].*)?$",
    re.IGNORECASE,
)
_FIRM_WORDS = 7
_OF_FIRMS = "RADIO CORP CO LTD INC BROS SONS & AND MFG ELECTRIC WIRELESS"
_FIRMS = frozenset(_OF_FIRMS.split())
_TITLE_WORDS = 3
_TITLE_HEIGHT = 1.3  # times the page's usual lettering
_SMALL = frozenset({"and", "of", "the", "&"})
_SHORTEST = 4
_HEADER_WORDS = 16
SLIP_FROM = 6  # letters from which a name may be read with a slip
_COMMONER = 3  # times, for a like name to be the right one
_OFTEN = 2  # pages on which a word stands before a code, to be taken for a maker


def maker_in(lines: Iterable[Line], known: Sequence[str] = ()) -> str:
    """The maker named by corporate wording ("TILLBROOK RADIO MFG. CO."), or a known one named
    in a heading; as a person writes it ("Tillbrook"); "" when none is."""
    kept = [line for line in lines if not _is_imprint(line)]
    parts = [part for line in kept for part in pieces(line)]
    headings = [
        squeeze(plain_labels(part.text)) for part in parts if _is_header(part) or _is_firm(part)
    ]
    for text in (*headings, *map(" ".join, pairwise(headings))):  # a name may take two lines
        name = corporate(text)
        if name:
            return as_known(name, known)
    served = next((m[1] for text in headings if (m := _SERVICED.match(text))), "")
    if name := _name([served] if served else []):
        return as_known(name, known)
    folded = by_fold(tuple(known))
    for line in kept:
        if _is_header(line) or len(line.words) <= 8:
            found = _known_word(line, folded)
            if found:
                return found
    return ""


@lru_cache(maxsize=64)
def by_fold(known: tuple[str, ...]) -> Mapping[str, str]:
    """Makers by their folded names; asked for every line of a unit, so worked out once."""
    return MappingProxyType({fold(name): name for name in known if name})


def leading(words: Sequence[str], known: Mapping[str, str]) -> tuple[str, Sequence[str]]:
    """The maker that words begin with, one of `known` (`by_fold`) or a firm's name, and the words
    behind it."""
    for count in range(len(words), 0, -1):
        if fold(" ".join(words[:count])) in known:
            return known[fold(" ".join(words[:count]))], words[count:]
    end = 1
    while end < len(words) and (squeeze(words[end].strip(".")) in _FIRMS or words[end - 1] == "&"):
        end += 1
    return " ".join(words[:end]), words[end:]


def _is_imprint(line: Line) -> bool:
    """A running header that names the book, with its volume or a page number: a publisher is
    no maker, whatever he is called."""
    text = squeeze(line.text)
    return bool(_BOOK.search(text) and _VOLUME_OR_PAGE.search(text))


def _is_header(line: Line) -> bool:
    """In capitals, and no longer than a running header with maker, models and chassis."""
    return line.is_capitals and len(line.words) <= _HEADER_WORDS


def _is_firm(line: Line) -> bool:
    """A firm's full name in small letters: "Tillbrook Radio & Television Corp."."""
    small = [w.text for w in line.words if w.text[:1].islower() and w.text not in _SMALL]
    return len(line.words) <= _FIRM_WORDS and not small and bool(_FIRM.search(line.text))


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
        match = _BEFORE_MODEL.search(text) or _LABELLED.search(text) or _BEFORE_CHASSIS.match(text)
        said = next((group for group in match.groups() if group), "") if match else ""
        if len(line.words) <= 14 and (name := _name(said.upper().split())):
            found.append(name)
    return found


def titled(lines: Sequence[Line]) -> str:
    """The maker by a page's title: the topmost line, in large capitals of one to three words that
    label nothing: "TILLBROOK MAJOR" over "Model 4T". The first word is the name; or ""."""
    if not lines:
        return ""
    top = min(lines, key=lambda line: line.box.top)
    usual = median(word.box.height for line in lines for word in line.words)
    words = [word.text.strip(".,;:'\"") for word in top.words]
    plain = all(word.isalpha() and len(word) >= _SHORTEST for word in words)
    plain &= all(word.isupper() for word in words) or (len(words) == 1 and words[0].istitle())
    large = top.box.height >= _TITLE_HEIGHT * usual
    if not (plain and large and len(words) <= _TITLE_WORDS) or not NOT_MAKERS.isdisjoint(
        map(str.upper, words)
    ):
        return ""
    return _name([words[0].upper()])


def said_in_title(line: Line) -> str:
    """The maker in the title of typed notes, "# Tillbrook 5D11", or ""."""
    match = _TYPED_TITLE.match(" ".join(line.text.split()))
    return _name([match[1].upper()]) if match else ""


def may_be(name: str) -> bool:
    """Whether a name can be a maker's: no word that labels something is one."""
    words = [word.strip(".,:;") for word in name.upper().split()]
    return any(word not in NOT_MAKERS for word in words)


def headed(lines: Sequence[Line]) -> list[str]:
    """Words that begin a line and are followed by a code; makers, where they recur."""
    found = []
    for line in lines:
        match = _BEFORE_CODE.match(" ".join(line.text.split()))
        name = _name([match[1].upper()]) if match and len(line.words) <= 8 else ""
        if len(name) > _SHORTEST:
            found.append(name)
    return found


def recurring(names: Iterable[tuple[int, str]]) -> list[str]:
    """Names that stand on at least two pages, given as (page, name)."""
    pages = Counter(name for _, name in dict.fromkeys(names))
    return [name for name, count in pages.items() if count >= _OFTEN]


def as_known(name: str, known: Sequence[str]) -> str:
    """The known maker that a name folds to or is one slip away from, else the name in title
    case."""
    flat = fold(name)
    same = next((maker for maker in known if fold(maker) == flat), "")
    near = same or next((maker for maker in known if one_slip(flat, fold(maker))), "")
    if not near and " " in name:  # a publisher's name before the maker's
        last = fold(name.split()[-1])
        near = next((maker for maker in known if fold(maker) == last), "")
    return near or name.title()


def without_slips(named: Counter[str], times: int = _COMMONER) -> Counter[str]:
    """Names with those put to one so many times commoner that are one slip away from it."""
    kept: Counter[str] = Counter()
    for name, count in named.most_common():
        like = next(
            (k for k, n in kept.items() if n >= times * count and one_slip(fold(name), fold(k))),
            name,
        )
        kept[like] += count
    return kept


def with_new(known: Iterable[str], names: Iterable[str]) -> tuple[str, ...]:
    """Known makers, and after them the names that none of them is, nor one slip away from."""
    kept = list(dict.fromkeys(known))
    flat = {fold(name) for name in kept}
    new = [n for n in dict.fromkeys(names) if not any(one_slip(fold(n), k) for k in flat)]
    return tuple(dict.fromkeys([*kept, *new]))


def one_slip(a: str, b: str) -> bool:
    """Whether two long names differ by one letter changed, or one for two ("rn" for "m")."""
    if a == b or min(len(a), len(b)) < SLIP_FROM or abs(len(a) - len(b)) > 1:
        return False
    if a[0] != b[0] and a[-1] != b[-1]:
        return False
    start = next(
        (n for n, (x, y) in enumerate(zip(a, b, strict=False)) if x != y), min(len(a), len(b))
    )
    end = 0
    while end < min(len(a), len(b)) - start and a[-1 - end] == b[-1 - end]:
        end += 1
    return max(len(a), len(b)) - start - end <= (1 if len(a) == len(b) else 2)


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
    kept = [word for word in words if word.strip(".") not in NOT_MAKERS]
    own = bool(kept) and kept[0] not in AFTER_NAMES | GENERAL  # "UNITED MOTORS" is a whole name
    while own and len(kept) > 1 and kept[-1].strip(".,") in AFTER_NAMES:
        kept.pop()
    name = " ".join(kept)
    if not kept or len(kept[0]) < _SHORTEST or not name.replace(" ", "").isalpha():
        return ""
    return name.title()
