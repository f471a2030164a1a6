"""The first words of a list's rows put right by the rows above and below.

References of parts and steps of a procedure go up by one from row to row, and parts of one name
have one letter. Common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Iterator, Sequence

from indexer.model import Word
from indexer.reading.repair import changed

_STROKES = frozenset("|]!lI[)")
_REFERENCE = re.compile(r"[A-Z]\d{1,3}[A-D]?")
_NUMBER = re.compile(r"[A-Z]?(\d{1,3})[.,]?")
_LOST = ("", "1.", "I.", "|.", '"')  # what is left of a letter that was not read
_LONGEST, _NAME = 5, 4  # letters of a reference as read, at most; of a part's name, at least
_LEAST_ROWS = 3
_FAR = 3  # rows up or down in which one with a number is sought
_ASIDE, _ROW_STEP = 0.8, 4.0  # of a letter's height: beside a column's edge; down to the next row
_LIKE_FIGURES = {
    "0": "oOQDGc", "1": "lIi|]!tT", "2": "Zz", "3": "B", "4": "A", "5": "Ss", "6": "bGé",
    "7": "T?", "8": "BSs", "9": "gqYy",
}  # fmt: skip
_ALIKE_LETTERS = frozenset((("G", "C"), ("O", "C"), ("B", "R"), ("P", "R"), ("I", "L")))
_WHY = "the rows above and below"


def in_turn(words: Sequence[Word]) -> tuple[Word, ...]:
    """The words with the first of a row as its turn asks: Cll between C10 and C12 is C11, a stroke
    above 2 is 1; `15 A6763-14 Transformer` between 4 and 6 is T5 where other transformers are T."""
    columns = list(_columns(words))
    if not columns:
        return tuple(words)
    heads = {n for column in columns for n in column}
    letters = _letters_of_parts(words, heads)
    out = list(words)
    for column in columns:
        for k, n in enumerate(column):
            expected, stops = _turn([words[m] for m in column], k)
            if stops and words[n].text.endswith("."):
                continue
            letter = letters.get(_part(words, n, heads), "") if _lettered(words, column, k) else ""
            said = _as_expected(words[n].text, expected, letter)
            if said and said != words[n].text:
                out[n] = changed(words[n], said, _WHY)
    return tuple(out)


def _lettered(words: Sequence[Word], column: Sequence[int], k: int) -> bool:
    """Whether a row right above or below begins with a letter: the column holds references, and
    not the numbers of steps."""
    beside = [column[m] for m in (k - 1, k + 1) if 0 <= m < len(column)]
    return any(words[n].text[:1].isalpha() for n in beside)


def _columns(words: Sequence[Word]) -> Iterator[list[int]]:
    """Numbers of the short words that stand below one another with three references or figures."""
    short = [n for n, word in enumerate(words) if len(word.text) <= _LONGEST]
    short.sort(key=lambda n: words[n].box.left)
    column: list[int] = []
    for n in short:
        box = words[n].box
        if column and box.left - words[column[-1]].box.left > _ASIDE * box.height:
            yield from _rows_of(words, column)
            column = []
        column.append(n)
    yield from _rows_of(words, column)


def _rows_of(words: Sequence[Word], column: list[int]) -> Iterator[list[int]]:
    if sum(bool(_NUMBER.fullmatch(words[n].text)) for n in column) >= _LEAST_ROWS:
        yield sorted(column, key=lambda n: words[n].box.middle[1])


def _turn(column: Sequence[Word], k: int) -> tuple[int, bool]:
    """(the number that row `k` of a column has by the nearest rows above and below, whether those
    end in a full stop); the number is 0 when they don't tell."""
    above, stop_above = _nearest(column, k, -1)
    below, stop_below = _nearest(column, k, 1)
    if above and below == above:
        return above, stop_above or stop_below
    if len(column) > _LEAST_ROWS and k in (0, len(column) - 1):  # an end: the next two agree
        step = 1 if k == 0 else -1
        second, stops = _nearest(column, k + step, step)
        if (below or above) and second - step == (below or above):
            return below or above, stops
    return (1 if not above and below == 1 else 0), stop_below


def _nearest(column: Sequence[Word], k: int, step: int) -> tuple[int, bool]:
    """What row `k` is by the nearest numbered row on one side, counted on; 0 when none is near."""
    for away in range(1, _FAR + 1):
        at, before = k + step * away, column[k + step * (away - 1)]
        if not 0 <= at < len(column):
            break
        height = max(before.box.height, column[at].box.height)
        if abs(before.box.middle[1] - column[at].box.middle[1]) > _ROW_STEP * height:
            break
        if found := _NUMBER.fullmatch(column[at].text):
            return max(0, int(found[1]) - step * away), column[at].text.endswith(".")
    return 0, False


def _as_expected(text: str, expected: int, letter: str) -> str:
    """The text as the number it should have; "" when it is another. `letter` is that of the parts
    named like its own, if known."""
    core = text.rstrip(".,")
    if not expected:
        return ""
    if _REFERENCE.fullmatch(core):
        if core[1:] != str(expected):
            return ""
        if letter and (core[0], letter) in _ALIKE_LETTERS:  # G3 among C2 and C4
            return letter + core[1:]
        return core if core == text[:-1] else ""
    if core.isdecimal() and not letter:
        return core if int(core) == expected and text[-1] == "." else ""
    if expected == 1 and core in _STROKES:
        return "1"
    figures = str(expected)
    body, head = core[-len(figures) :], core[: -len(figures)]
    if len(body) < len(figures) or not all(map(_alike, body, figures)):
        return ""
    if len(head) == 1 and head.isalpha():
        return head.upper() + figures
    return letter + figures if letter and (head in _LOST or len(head) == 1) else ""


def _alike(read: str, figure: str) -> bool:
    return read == figure or read in _LIKE_FIGURES.get(figure, "")


def _letters_of_parts(words: Sequence[Word], heads: set[int]) -> dict[str, str]:
    """The letter that references of a part have, by the part's name: capacitor, C."""
    seen: dict[str, Counter[str]] = {}
    for n in heads:
        if _REFERENCE.fullmatch(words[n].text) and (name := _part(words, n, heads)):
            seen.setdefault(name, Counter())[words[n].text[0]] += 1
    return {name: found.most_common(1)[0][0] for name, found in seen.items()}


def _part(words: Sequence[Word], head: int, heads: set[int]) -> str:
    """The first name in a row, in small letters; "" when it has none."""
    for n in range(head + 1, len(words)):
        if n in heads or words[n].line != words[head].line:
            break
        core = words[n].text.rstrip(".,")
        if core.isalpha() and len(core) >= _NAME:
            return core.lower()
    return ""
