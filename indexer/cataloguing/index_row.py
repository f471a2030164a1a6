"""One line of an index page taken apart: maker, model, volume, page."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from indexer.cataloguing.imprint import roman
from indexer.cataloguing.index_heads import NAME_WORDS
from indexer.cataloguing.labels import plain_words
from indexer.cataloguing.makers import corporate, may_be
from indexer.cataloguing.region import Line, make_line
from indexer.model import Box, Word

_LEADER = re.compile(r"(?:[.·•…_~-]\s?){3,}|\s{3,}")
# Ditto marks, and what readers make of them.
DITTO = re.compile(r"^(?:[\"”“„'’`″,]{1,3}|DO\.?|DITTO|[1Il]{2}|[t1]{1,2}|rr|ii)$", re.IGNORECASE)
_TITLE = re.compile(
    r"\bINDEX\b|\bCONTENTS\b|\bVOLUMES?\b.*\bTO\b"
    r"|^\D*\b(?:MANUAL|ANNUAL|YEAR ?BOOK)\b\W*VOL",  # the book's own name above its rows
    re.IGNORECASE,
)
_MOST_DITTOS = 3
_TAIL = re.compile(
    r"(?:(?:^|\s)(?:(?:VOL(?:UME)?|BOOK|BAND|BD)\.?\s*)?(?P<volume>[IVXL]{1,6}|\d{1,2})"
    r"(?:\s*[,:]?\s+|\s?[-–./]\s?))?"
    r"(?:\b(?:P(?:AGES?|G|P|E)?|S(?:EITE|HEET)?|BL(?:ATT)?)\b[.]?\s*|(?<![A-Za-z\d]))"
    r"(?P<page>\d{1,4})\W{0,3}$",
    re.IGNORECASE,
)
_DOTS_BEFORE_PLACE = re.compile(r"^[.·•…]+(?=\d{1,2}-\d)")  # "..6-27": the end of a leader
_FIGURE = str.maketrans("OoQIl|SZBGi", "00011152861")
_LONE_FIGURES = frozenset("OoQl|SZBGi")  # a volume alone
_LAST_WORDS = re.compile(r"^(?P<head>.*?)(?P<single>(?<![^ \t])\S)?(?P<space>[ \t])(?P<last>\S+)$")
_PAGES = re.compile(r"(?P<first>\b\d{3,4})(?:\s?[,&]\s?\d{1,4})+\W{0,3}$")  # 201, 202
_PLACE = re.compile(r"^(?P<volume>[IVXL]{1,6}|\d{1,2}) ?[-–/] ?(?P<page>\d{1,4})$")
# "7-31, 9-112": a place before the last, whatever few words join them
_EARLIER = re.compile(
    r"(?:^|[\s(])(?P<volume>[IVXL]{1,6}|\d{1,2})[-–/](?P<page>\d{1,4})\s*"
    r"(?:[,;&]|\band\b|\(?see\b)\s*(?:\(?[A-Za-z]+[.)]?\s*){0,3}$"
)
_PART = re.compile(  # a price, a value, what the part is
    r"\$|(?:^|\s)0?\.\d+\W{0,3}$|\d\.\d\d?[05]?\W{0,2}(?:EACH|EA\.)$"
    r"|\b(?:OHMS?|MEG(?:OHMS?)?|MM?FD|MMF|WATTS?|RESISTORS?|CONDENSERS?|CAPACITORS?|TRANSFORMERS?)\b",
    re.IGNORECASE,
)
_LABEL = frozenset({"MODEL", "MODELS", "TYPE", "TYPES", "NO", "NOS", "SET", "SETS"})
_CHASSIS = re.compile(r"\s\(?CH(?:AS(?:SIS)?)?\b[.:,;]*", re.IGNORECASE)
_CHASSIS_LABEL = re.compile(r"\(?CH(?:AS(?:SIS)?|[A-Z])?\W*", re.IGNORECASE)  # "Ch.", read "Chi"
_OWN_CHASSIS = re.compile(r"^\(?CH(?:AS(?:SIS)?)?[.:]\s?|^\(?CHASSIS\s", re.IGNORECASE)
_VOLUME = re.compile(r"^\d{1,2}$")
_SHORT = 2  # characters of a mark that stands for the maker above
_LOW = 0.5  # of the lettering's height: a mark
_CELL_GAP = 1.5  # heights of lettering between two columns
_JOINERS = frozenset({"and", "&", "or", "to", "through", "thru", "-", ","})
_STRAY = 3  # words without figures beside a model, above which a line is no row
_NUMBER_LIKE = re.compile(r"^[\dOoQIl|SZBGi]{1,4}$")


@dataclass(frozen=True, slots=True)
class IndexRow:
    """What one line says: a set, and where it is printed."""

    maker: str  # "" under a ditto mark or where none is printed
    model: str
    volume: str
    page: str
    chassis: str = ""  # where the row names one: "CH-42P"
    aside: str = ""  # words that stand between model and page: the maker, where it comes second
    also: tuple[tuple[str, str], ...] = ()  # further places named before the last: (volume, page)


def row_of(line: Line) -> IndexRow | None:
    """One index line taken apart; None when it isn't one."""
    if not _ends_in_figures(line.text):
        return None
    words = _without_marks(line.words)
    if len(words) < len(line.words):
        rest = _taken_apart(make_line(words), under=True)
        if rest is not None:
            return rest
    words = line.words
    if len(words) > 2 and len(words[0].text) <= _SHORT and _gap(words[0], words[1]) > _CELL_GAP:
        # a ditto mark read as a figure or letter: alone in the makers' column
        rest = _taken_apart(make_line(words[1:]), under=True)
        if rest is not None:
            return rest
    return _taken_apart(line, under=False)


def _ends_in_figures(text: str) -> bool:
    """Whether the last word has a figure: what ends in a page has."""
    last = next((word for word in reversed(text.split()) if any(map(str.isalnum, word))), "")
    return any(map(str.isdecimal, last))


def _without_marks(words: Sequence[Word]) -> Sequence[Word]:
    """The words without those before them that are half as high at most and no letters: ditto
    marks, whatever they were read as."""
    at = 0
    while at < len(words) - 2:
        usual_px = median(word.box.height for word in words[at + 1 :])
        if words[at].box.height > _LOW * usual_px or words[at].text.isalpha():
            break
        at += 1
    return words[at:]


def _taken_apart(line: Line, *, under: bool) -> IndexRow | None:
    """The row that a line is; `under` a ditto mark that was taken off it."""
    plain = _in_cells(line)
    if _TITLE.search(plain.replace("\t", " ")) or _PART.search(plain):
        return None
    plain = _figures_at_end(_PAGES.sub(r"\g<first>", plain))
    tail = _TAIL.search(plain)
    if tail is None:
        return None
    before = plain[: tail.start()]
    named: list[tuple[str, str]] = []
    while earlier := _EARLIER.search(before) if tail["volume"] else None:
        if not any(c.isdigit() for c in before[: earlier.start()]):
            break  # it is the model
        named.insert(0, (roman(earlier["volume"]), earlier["page"]))
        before = before[: earlier.start()]
    cells = [cell.split() for cell in before.strip(" .,-—\t").split("\t")]
    first = cells[0]
    dittos = int(under)
    while sum(map(len, cells)) > 1 and first and dittos < _MOST_DITTOS and DITTO.match(first[0]):
        first.pop(0)
        dittos += 1
        cells = cells if first else cells[1:]
        first = cells[0]
    makers: list[str] = []
    while not dittos and sum(map(len, cells)) > 1 and first and _is_name(first[0], bool(makers)):
        makers.append(plain_words(first.pop(0)))
        ended = not first
        cells = cells if first else cells[1:]
        first = cells[0]
        if ended and any(any(c.isdigit() for c in word) for word in first):
            break  # what begins the next cell names the set: "Minuet 52W"
    while len(first) > 1 and first[0].strip(".,:#").upper() in _LABEL | {"—", "-"}:
        first.pop(0)
    while makers and makers[-1].strip(".,:").upper() in _LABEL:
        makers.pop()
    aside = next((" ".join(c) for c in cells[1:] if all(_is_name(w, False) for w in c)), "")
    further = [
        ["Ch." if _CHASSIS_LABEL.fullmatch(word) else word for word in cell if _says(word)]
        for cell in cells[1:]
    ]
    while further and not any(c.isdigit() for c in "".join(further[-1][-1:])):
        further[-1] = further[-1][:-1]  # joins nothing
        further = further if further[-1] else further[:-1]
    printed = tail["volume"] or ""
    if not printed and further and len(further[-1]) == 1 and _VOLUME.match(further[-1][0]):
        printed = further.pop()[0]  # with a stray mark between it and the page
    also = [place for cell in further if (place := _PLACE.match(" ".join(cell)))]
    further = [cell for cell in further if not _PLACE.match(" ".join(cell))]
    kept = first + [word for cell in further for word in cell]
    if sum(map(len, cells)) - len(kept) - len(also) > _STRAY:
        return None
    model, chassis = _model_and_chassis(" ".join(kept))
    if not any(c.isdigit() for c in model) or len(model.split()) > 6 or len(makers) > 4:
        return None
    volume = roman(printed) if printed else ""
    name = " ".join(makers).strip(" .,")
    return IndexRow(
        corporate(name.upper()) or (name.title() if may_be(name) else ""),
        model,
        volume,
        tail["page"],
        chassis,
        aside,
        (*((roman(place["volume"]), place["page"]) for place in also), *named),
    )


def _model_and_chassis(text: str) -> tuple[str, str]:
    """What a row's words name: "H-440 Ch. 283.404" is a model and its chassis."""
    model, *further = _CHASSIS.split(_OWN_CHASSIS.sub("", text), maxsplit=1)
    chassis = further[0].strip(" .,:#()") if further else ""
    return model.strip(' .,"”“'), chassis if any(map(str.isdecimal, chassis)) else ""


def place_of(line: Line) -> tuple[str, tuple[str, str]] | None:
    """The words that a line without a number begins with, and the (volume, page) that it ends in:
    a set's name ("Minuet 413"), a further place of the set above ("(Addenda) 7-112"), or nothing
    but the place. None when it ends in none or holds a number besides."""
    if not _ends_in_figures(line.text):
        return None
    plain = _figures_at_end(_in_cells(line))
    tail = _TAIL.search(plain)
    if tail is None or _TITLE.search(plain.replace("\t", " ")) or _PART.search(plain):
        return None
    words = plain[: tail.start()].strip(" .,-—\t").replace("\t", " ").split()
    while len(words) > 1 and DITTO.match(words[0]):
        words.pop(0)
    if any(c.isdigit() for c in "".join(words)) or len(words) > NAME_WORDS:
        return None
    return " ".join(words), (roman(tail["volume"]) if tail["volume"] else "", tail["page"])


def is_further(words: str) -> bool:
    """Whether words before a place send from the set above to it."""
    first = words.split()[0] if words else ""
    return bool(first) and (first[0] == "(" or first.islower() or bool(_FURTHER.match(first)))


def runs_on(line: Line) -> bool:
    """Whether a line is the beginning of a list of numbers that goes on in the next: it ends in
    a comma or a joining word."""
    last = line.words[-1].text
    if not (last.endswith((",", ";")) or last.lower() in _JOINERS):
        return False
    if not any(c.isdigit() for word in line.words for c in word.text):
        return False
    return len(line.words) < 2 or _gap(line.words[-2], line.words[-1]) <= _CELL_GAP


def with_place(text: str) -> Line:
    """A line as typed with a page after it, for what stands before a page to be told apart."""
    words = [
        Word(w, Box(30.0 * n, 0, 30.0 * n + 20, 20), 1.0, 0) for n, w in enumerate(text.split())
    ]
    end = Word("1", Box(30.0 * len(words) + 90, 0, 30.0 * len(words) + 110, 20), 1.0, 0)
    return make_line([*words, end])


def _gap(left: Word, right: Word) -> float:
    """The space between two words of a row, in heights of the second one's lettering."""
    return (right.box.left - left.box.right) / max(1.0, right.box.height)


def _in_cells(line: Line) -> str:
    """The line's text, a tab where a wide space or a row of dots parts two columns."""
    text = line.words[0].text
    for left, right in pairwise(line.words):
        text += "\t" if _gap(left, right) > _CELL_GAP else " "
        text += _DOTS_BEFORE_PLACE.sub("", right.text)
    text = re.sub(r"\s*\t\s*", "\t", _LEADER.sub("\t", text))
    return re.sub(r" +", " ", text).strip(" \t")


def _says(word: str) -> bool:
    """Whether a word between model and page belongs to the row: what dots or a column of lone
    figures were read as is letters alone."""
    if any(c.isdigit() for c in word) or word.lower() in _JOINERS:
        return True
    return bool(_CHASSIS_LABEL.fullmatch(word))


def _is_name(word: str, further: bool) -> bool:
    plain = plain_words(word).strip(".,&")
    return (plain.isalpha() and len(plain) > 2) or (further and word in {"&", "and", "AND"})


def _figures_at_end(plain: str) -> str:
    """The row with look-alike letters in its page and volume as figures: "4 1O5" gives "4 105"."""
    match = _LAST_WORDS.match(plain)
    if not match:
        return plain
    head, single, space, last = match["head"], match["single"] or "", match["space"], match["last"]
    volume, dash, page = last.rpartition("-")
    if not (_NUMBER_LIKE.match(page) and any(c.isdigit() for c in page)):
        return plain
    page = page.translate(_FIGURE)
    if dash and _NUMBER_LIKE.match(volume) and len(volume) <= 2:
        volume = volume.translate(_FIGURE)
    if not dash and single in _LONE_FIGURES:
        single = single.translate(_FIGURE)
    return f"{head}{single}{space}{volume}{dash}{page}"


_FURTHER = re.compile(
    r"^(?:ADDEND|SUPPL|SEE\b|ALSO\b|CORRECTI|REVIS|CHANGE|NACHTR|SIEHE|VOIR)", re.IGNORECASE
)
