"""Headings made whole before they are read: what stands beside or below belongs to one heading,
what is said after it, and which sheet it is, does not.
"""

import re
from collections.abc import Sequence
from itertools import pairwise

from indexer.cataloguing.labels import plain_labels
from indexer.cataloguing.makers import by_fold
from indexer.cataloguing.region import Line, make_line, pieces
from indexer.trade.codes import fold

# The number of a sheet, bulletin or page is no set's: "SHEET 118   Chassis: 6A71".
_PAPER = re.compile(
    r"\b(?:SHEETS?|BULLETINS?|NOTES?|PAGES?|PG|FORM|FIGS?|FIGURES?|ISSUE|SUPPLEMENT|SECTION|DATA|ITEM"
    r"|INDEX|SERIAL)\b\.?\s*(?:N[O0]S?\b\.?|NUMBERS?)?\s*[:.\-]?\s*[A-Z]{0,2}-?\d[\w\-]*"
    r"|,? (?:SHEET|PAGE) (?:ONE|TWO|THREE|FOUR)\b",
    re.IGNORECASE,
)
# A heading that goes over into prose ends with its sentence.
_SENTENCE_END = re.compile(r"[\w)]\. [A-Z][a-z]")
_SHORTENED = re.compile(
    r"\b(?:NOS?|MOD|CH|CHAS|CAT|TYP|CO|CORP|INC|LTD|MFG|ELEC|RAD|SER|VOL|[A-Z])\. \w+$",
    re.IGNORECASE,
)


def without_paper(text: str) -> str:
    """The text without the numbers of sheets, bulletins, pages and figures."""
    return _PAPER.sub(" ", text)


def first_sentence(line: Line) -> Line:
    """The words of a line up to the end of its first sentence, if it has one."""
    for n, (word, after) in enumerate(pairwise(line.words), 1):
        text = f"{word.text} {after.text}"
        if _SENTENCE_END.search(text) and not _SHORTENED.search(text):
            return make_line(line.words[:n])
    return line


def first_clause(line: Line, title: re.Pattern[str]) -> Line:
    """The words of a line up to its first comma where they make a title by themselves: "Receiver
    type 44, a farm set"."""
    at = next((n for n, word in enumerate(line.words, 1) if word.text.endswith(",")), 0)
    head = make_line(line.words[:at]) if 0 < at < len(line.words) else line
    numbers = [word.text for word in line.words[at:] if any(map(str.isdigit, word.text))]
    goes_on = any(not _YEAR.fullmatch(text) for text in numbers)
    return head if title.match(head.text.upper().rstrip(",")) and not goes_on else line


_YEAR = re.compile(r"19[2-6]\d\W*")


def sides_joined(lines: Sequence[Line], known: Sequence[str]) -> list[Line]:
    """Lines with what stands beside a lone maker's name put to it, name at the left of the page
    and number at the right, and with the number beside a label at a line's end."""
    out = list(lines)
    names = [
        n
        for n, line in enumerate(out)
        if (len(line.words) <= 3 and named_first(line, known)) or _OPEN.search(line.text)
    ]
    gone: set[int] = set()
    for n in names:
        line = out[n]
        for k, other in enumerate(out):
            level = abs(other.box.middle[1] - line.box.middle[1]) <= 0.6 * line.box.height
            own = named_first(other, known)  # a heading of its own
            if k != n and k not in gone and level and not own and other.box.left > line.box.right:
                out[n] = make_line([*out[n].words, *other.words])
                gone.add(k)
    return [line for n, line in enumerate(out) if n not in gone]


_OPEN = re.compile(r"\w\W+(?:MODELS?|CHASSIS|CH\.|CHAS\.)(?: N[O0]S?\.?)?\W{0,2}$")


def mended(text: str) -> str:
    """A list of codes with one that a blank tore put together, where it then looks as another of
    the list does and its parts do not: "V-51 20, V-5121" gives "V-5120, V-5121"."""
    shapes = {_shape(code) for code in _CODE.findall(text)}

    def put(match: re.Match[str]) -> str:
        first, second = match[1], match[2]
        whole = _shape(first + second)
        torn = whole in shapes and not {_shape(first), _shape(second)} & {whole}
        return first + second if torn and len(first + second) >= _TORN else match[0]

    return _TORN_CODE.sub(put, text)


def _shape(code: str) -> str:
    return re.sub(r"[A-Z]", "A", re.sub(r"\d", "9", code.upper()))


_TORN = 5  # characters, at least, of a code put together
_CODE = re.compile(r"[A-Z0-9]+(?:[-./][A-Z0-9]+)*", re.IGNORECASE)
_TORN_CODE = re.compile(
    r"(?<![\w\-./])([A-Z]{0,3}-?\d{1,3}) (\d{1,3}[A-Z]?)(?![\w\-./])(?=\W|$)", re.IGNORECASE
)


def labels_completed(lines: Sequence[Line], height_px: float) -> list[Line]:
    """Lines with the codes that stand below a label put to it, at the head of a page: MODELS over
    a list of numbers."""
    out = list(lines)
    for n, line in enumerate(lines):
        if line.box.top <= _HEAD_SHARE * height_px and _BOTH.match(plain_labels(line.text)):
            out[n] = _under_both(line, lines)
            continue
        label = pieces(line)[-1]
        if line.box.top > _HEAD_SHARE * height_px or not _LABEL.match(plain_labels(label.text)):
            continue
        reach = label.box.bottom + _LABEL_REACH * label.box.height
        below = [
            part
            for other in lines
            if label.box.bottom <= other.box.middle[1] and other.box.top <= reach
            for part in (pieces(other)[-1:] if label is not line else [other])
            if all(any(c.isdigit() for c in word.text) for word in part.words)
            and (label is line or _overlap(part, label))
        ]
        if below:
            out[n] = make_line([*line.words, *(word for other in below for word in other.words)])
    return out


def _under_both(line: Line, lines: Sequence[Line]) -> Line:
    """A box's "MODEL NO.   CHASSIS NO." with the number that stands below each."""
    reach = line.box.bottom + _LABEL_REACH * line.box.height
    below = [
        word
        for other in lines
        if line.box.bottom <= other.box.middle[1] and other.box.top <= reach
        for word in other.words
        if any(map(str.isdigit, word.text))
        and line.box.left - line.box.height <= word.box.left <= line.box.right + line.box.height
    ]
    at = next(n for n, word in enumerate(line.words) if word.text.upper().startswith("CH"))
    codes = sorted(below, key=lambda word: word.box.left)
    if len(codes) != _EACH:
        return line
    return make_line([*line.words[:at], codes[0], *line.words[at:], codes[1]])


_BOTH = re.compile(r"^\W*MODEL(?: N[O0]\.?)?\W+CHASSIS(?: N[O0]\.?)?\W*$", re.IGNORECASE)
_EACH = 2


def _overlap(one: Line, other: Line) -> bool:
    return one.box.left < other.box.right and other.box.left < one.box.right


_LABEL = re.compile(r"^\W*(?:MODELS?|CHASSIS)(?:\s+N[O0]S?)?\W*$", re.IGNORECASE)
_LABEL_REACH = 3  # heights of a label below which its codes begin
_HEAD_SHARE = 0.2  # of the page's height


BEFORE_NAMES = frozenset({"THE", "RÉCEPTEUR", "RECEPTEUR", "EMPFÄNGER", "ONTVANGER"})


def named_first(line: Line, known: Sequence[str]) -> str:
    """The known maker that a line begins with, or ""."""
    words = name_words(line)
    if words and words[0].upper() in BEFORE_NAMES:
        words = words[1:]
    if not words:
        return ""
    names = by_fold(tuple(known))
    return names.get(fold(" ".join(words[:2])), "") or names.get(fold(words[0]), "")


def name_words(line: Line) -> list[str]:
    return [text for word in line.words if (text := word.text.strip("#*_:,"))]
