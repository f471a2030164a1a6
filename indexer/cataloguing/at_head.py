"""A maker's name that nothing announces: it stands over the model, before it on its row, or large
at the head of the sheet, and is no word of the language. Pure.

Where names stand on service sheets is common practice, no source; which words are no names is told
by counted words (`indexer.trade.language`) and the trade's own.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from statistics import median

from indexer.cataloguing.identity import mastheads
from indexer.cataloguing.labelled import CHASSIS_WORD, MODEL_WORD
from indexer.cataloguing.labels import plain_labels
from indexer.cataloguing.maker_words import NOT_MAKERS
from indexer.cataloguing.makers import one_slip
from indexer.cataloguing.region import Line, Region, pieces
from indexer.trade.language import is_word, of_trade, share
from indexer.trade.numbering import parse_line_up

_SHORTEST, _LONGEST = 4, 14  # letters of a name
_WORDS = 5  # of the piece that holds the name
_HEADING_WORDS = 14
_ABOVE = 2.2  # heights of the larger of two lines, from the name's foot to the model's line
_AS_LARGE = 0.85  # of the model's lettering
_LARGE = 1.35  # times the page's usual lettering
# Of the height: where a sheet's head ends, and what runs along its foot begins.
_HEAD_SHARE, _FOOT_SHARE = 0.13, 0.88
_USUAL = 3e-7  # share of running words from which a word is one that many pages print
_COMMON = 2e-5  # share of a word that a name one letter away may be misread from
_LEAST_HEADS = 3  # headings of name and number that make a page of short notes
_JOIN = frozenset({"thru", "through"})
_SMALL = frozenset({"THE", "AND", "OF", "&", "DER", "DIE", "DAS", "LE", "LA"})
_BOOK = re.compile(
    r"\b(?:ANNUALS?|MANUALS?|YEAR ?BOOK|HANDBOOK|DIGEST|PRESS|JOURNAL|WEEKLY|MAGAZINE|INDEX|VOL)\b",
    re.IGNORECASE,
)
_ADDRESS = re.compile(  # a firm, a street and a town
    r"^\W*[A-Z][\w&.' ]{3,50}, "
    r"(?:.*\d.*|[A-Z][\w. ]+(?:STREET|ROAD|AVENUE|LANE|WORKS|SQUARE|WHARF)\b.*)[,.] [A-Z]",
    re.IGNORECASE,
)
_BY = re.compile(r"^\W*(?:(?:made|built|manufactured) )?by ([A-Z][a-z]{3,13})$", re.IGNORECASE)
_QUOTED = re.compile(r"[\"“”'‘’].*")
_LABEL = re.compile(
    rf"{MODEL_WORD.pattern}|{CHASSIS_WORD.pattern}|\bTYPE?\b(?= \S*\d)", re.IGNORECASE
)
_BEFORE_NUMBER = re.compile(
    r"^\W{0,2}(?P<name>[A-Z][A-Za-zäöüß'\-]{3,13}) (?P<code>(?=\S*\d)[A-Z0-9][\w\-/]*)"
)
_NAME_AND_NUMBER = re.compile(
    r"^\W{0,2}([A-Z][A-Za-z'\-]{3,13})\s*(?:Models? |MODELS? )?(?=\S*\d)[A-Z0-9][A-Z0-9\-/]{1,9}"
    r"(?:(?:,? ?and |, ?| ?& ?)(?=\S*\d)[A-Z0-9\-/]{2,10})*"
    r"(?:\W{0,2}$|\s?[.:,;—–-]+ ?(?=[A-Z][a-z]))"
)


def names_at_head(region: Region) -> list[str]:
    """The makers' names of a page that stand so, topmost first; [] for a page that names no set
    in a heading. Where none stands beside or over a model, a name that begins a title or an
    address at the page's edges is one."""
    parts = [part for line in region.lines for part in pieces(line)]
    named = [part for part in parts if _says_number(part)]
    models = [part for part in named if _LABEL.match(plain_labels(part.text))]
    found = [name for model in models for name in [*_near(model, parts)][:1]]
    numbered = {
        m["name"].title()
        for line in region.lines
        if (m := _BEFORE_NUMBER.match(line.text)) and not parse_line_up(m["code"])
    }
    found += [m[1] for part in parts if (m := _BY.match(part.text)) and is_name_like(m[1])]
    if named or numbered:
        found += [name for name in _largest(region, parts) if named or name in numbered]
    if not found and (named or numbered or mastheads(region.lines, region.bottom, ())):
        found += [*_at_edges(region)][:1]
    return list(dict.fromkeys(found))


def names_over_notes(lines: Iterable[Line]) -> list[str]:
    """The makers' names of a page of short notes, each before a number alone on a line or at the
    start of a paragraph; an ordinary word is one among others that are none."""
    parts = (part for line in lines for part in pieces(line))
    heads = [m[1] for part in parts if (m := _NAME_AND_NUMBER.match(part.text))]
    heads = [
        name for name in heads if name.upper() not in NOT_MAKERS and not of_trade(name.lower())
    ]
    alike = sum(map(is_name_like, heads))
    return [name.title() for name in heads] if alike >= max(_LEAST_HEADS, len(heads) / 2) else []


def _at_edges(region: Region) -> Iterator[str]:
    """The name that begins a page's running head before a number, a title with nothing but labels
    behind it ("Tillbrook Service Bulletin No. 12"), or an address."""
    for line in region.lines:
        if not _HEAD_SHARE * region.bottom <= line.box.top <= _FOOT_SHARE * region.bottom:
            words = line.text.split()
            name = words[0].strip(".,:;|") if words else ""
            behind = [word.strip(".,:;|()").upper() for word in words[1:]]
            title = bool(behind) and all(
                word in NOT_MAKERS or not word.isalpha() or len(word) < _SHORTEST for word in behind
            )
            if (title or _ADDRESS.match(line.text)) and name[:1].isupper() and is_name_like(name):
                yield name.title()


def _says_number(part: Line) -> bool:
    """Whether a heading, or a piece of one, says MODEL or CHASSIS, and has a number."""
    text = plain_labels(part.text)
    running = sum(w.text.islower() and len(w.text) > 3 and w.text not in _JOIN for w in part.words)
    if running or len(part.words) > _HEADING_WORDS or not any(c.isdigit() for c in text):
        return False
    return bool(_LABEL.search(text))


def _near(model: Line, parts: Sequence[Line]) -> Iterator[str]:
    """The names left of a model on its row, and right above it."""
    for part in parts:
        name = "" if any(map(str.isdigit, part.text)) else _name_in(part)
        if not name or part.box.height < _AS_LARGE * model.box.height:
            continue
        level = part.box.top < model.box.bottom and model.box.top < part.box.bottom
        beside = level and part.box.right <= model.box.left
        gap = model.box.top - part.box.bottom
        over = gap + 0.5 * model.box.height >= 0 and gap <= _ABOVE * max(
            part.box.height, model.box.height
        )
        across = part.box.left < model.box.right and model.box.left < part.box.right
        if beside or (over and across):
            yield name


def _largest(region: Region, parts: Sequence[Line]) -> Iterator[str]:
    """The name that is set largest at a page's head, alone."""
    head = [part for part in parts if part.box.top < _HEAD_SHARE * region.bottom]
    usual_px = median(word.box.height for line in region.lines for word in line.words)
    large = [part for part in head if _lettering(part) >= _LARGE * usual_px]
    for part in sorted(large, key=_lettering, reverse=True)[:1]:
        alone = len(_plain_words(part)) == 1 or _NAME_AND_NUMBER.match(part.text)
        if alone and (name := _name_in(part)):
            yield name


def _lettering(part: Line) -> float:
    return max(word.box.height for word in part.words)


def _name_in(part: Line) -> str:
    """The name that a heading begins with: "The Tillbrook 'Minster'" gives Tillbrook; ""."""
    if _BOOK.search(part.text):
        return ""
    words = _plain_words(part)
    while words and words[0].upper() in _SMALL:
        words.pop(0)
    if not 1 <= len(words) <= _WORDS or not all(w[:1].isupper() or w in "&" for w in words):
        return ""
    return words[0].title() if is_name_like(words[0]) else ""


def _plain_words(part: Line) -> list[str]:
    """A heading's words without signs, nor what is quoted at its end."""
    texts = [word.text.strip(".,:;|()*") for word in part.words]
    return _QUOTED.sub("", " ".join(filter(None, texts))).split()


@lru_cache(maxsize=8192)
def is_name_like(word: str) -> bool:
    """Whether a word can be a maker's name and is nothing else: no word that a page of service
    information or of the language prints, nor one misread."""
    flat = word.upper()
    if not (_SHORTEST <= len(flat) <= _LONGEST and flat.isalpha() and set(flat) & set("AEIOUYÄÖÜ")):
        return False
    if flat in NOT_MAKERS or any(one_slip(flat, w) for w in NOT_MAKERS):
        return False
    small = word.lower()
    if is_word(small) and share(small) >= _USUAL:
        return False
    return not any(share(like) >= _COMMON for like in _one_letter_off(small))


def _one_letter_off(word: str) -> Iterator[str]:
    for n in range(len(word)):
        head, tail = word[:n], word[n + 1 :]
        yield head + tail
        yield from (head + letter + tail for letter in "abcdefghijklmnopqrstuvwxyz")
