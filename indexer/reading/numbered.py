"""The first words of a list's rows put right by the rows above and below.

References of parts and steps of a procedure go up by one from row to row, and parts of one name
have one letter. Common practice, no source.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from indexer.model import Word

_STROKES = frozenset("|]!lI[)")
_REFERENCE = re.compile(r"[A-Z]\d{1,3}[A-D]?")
_LOST = ("", "1.", "I.", "|.", '"')  # what is left of a letter that was not read
_NAME = 4  # letters of a part's name, at least
_ROW_STEP = 4.0  # of a letter's height: the next row of a list stands no farther off
_LIKE_FIGURES = {"0": "oOQDGc", "1": "lIi|]!tT", "2": "Zz", "3": "B", "5": "Ss", "6": "bG",
                 "8": "BS", "9": "gqYy", "4": "A", "7": "T?"}  # fmt: skip
_WHY = "the rows above and below"


def in_turn(words: Sequence[Word]) -> tuple[Word, ...]:
    """The words with the first of a row put right by the rows above and below: Cll between C10
    and C12 is C11, a stroke above 2 is 1; `15 A6763-14 Transformer` between 4 and 6 is T5 where
    other transformers are T."""
    out = list(words)
    firsts = [n for n, w in enumerate(words) if not n or words[n - 1].line != w.line]
    rows = [words[n : firsts[k + 1] if k + 1 < len(firsts) else None] for k, n in enumerate(firsts)]
    letters = _letters_of_parts(rows)
    for k, (n, row) in enumerate(zip(firsts, rows, strict=True)):
        word = row[0]
        above = rows[k - 1][0] if k else None
        below = rows[k + 1][0] if k + 1 < len(rows) else None
        said = _in_turn(word.text.rstrip(".,"), _between(word, above, below), letters, row)
        if said and said != word.text:
            out[n] = replace(word, text=said, printed=word.printed or word.text, why=_WHY)
    return tuple(out)


def _in_turn(text: str, expected: int, letters: dict[str, str], row: Sequence[Word]) -> str:
    """The text of a row's first word as the number it should have asks; "" when it is another."""
    if not expected or _REFERENCE.fullmatch(text):
        return ""
    if expected == 1 and text in _STROKES:
        return "1"
    figures = str(expected)
    body, letter = text[-len(figures) :], text[: -len(figures)]
    if len(body) < len(figures) or not all(map(_alike, body, figures)):
        return ""
    if len(letter) == 1 and letter.isalpha():
        return letter.upper() + figures
    named = next((letters[name] for word in row[1:] if (name := _name(word)) in letters), "")
    return named + figures if named and (letter in _LOST or len(letter) == 1) else ""


def _letters_of_parts(rows: Sequence[Sequence[Word]]) -> dict[str, str]:
    """The letter that references of a part have, by the part's name: capacitor, C."""
    seen: dict[str, Counter[str]] = {}
    for row in rows:
        if _REFERENCE.fullmatch(row[0].text):
            for word in row[1:]:
                if name := _name(word):
                    seen.setdefault(name, Counter())[row[0].text[0]] += 1
                    break
    return {name: found.most_common(1)[0][0] for name, found in seen.items()}


def _name(word: Word) -> str:
    core = word.text.rstrip(".,")
    return core.lower() if core.isalpha() and len(core) >= _NAME else ""


def _between(word: Word, above: Word | None, below: Word | None) -> int:
    """The number that a row has between its neighbours; 0 when they don't tell."""
    near = [other for other in (above, below) if other is not None and _in_column(word, other)]
    numbers = [_number(other.text) for other in near]
    if len(near) == 2 and numbers[0] and numbers[1] == numbers[0] + 2:
        return numbers[0] + 1
    if near and near[-1] is below and numbers[-1] == 2 and not (len(near) == 2 and numbers[0]):
        return 1
    return 0


def _number(text: str) -> int:
    found = re.fullmatch(r"[A-Z]?(\d{1,3})[.,]?", text)
    return int(found[1]) if found else 0


def _in_column(word: Word, other: Word) -> bool:
    height = max(word.box.height, other.box.height)
    return (
        abs(word.box.left - other.box.left) <= height
        and abs(word.box.middle[1] - other.box.middle[1]) <= _ROW_STEP * height
    )


def _alike(read: str, figure: str) -> bool:
    return read == figure or read in _LIKE_FIGURES.get(figure, "")
