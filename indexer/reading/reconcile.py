"""One reading out of two: word by word, by where the words stand."""

from collections.abc import Sequence
from dataclasses import replace

from indexer.model import Box, PageReading, Word
from indexer.reading.repair import is_known_tube, without_stroke
from indexer.reading.second import worth_rereading
from indexer.trade.codes import fold
from indexer.trade.vocabulary import SHORT

_SAME_PLACE = 0.5  # shared area of the smaller box
_REACH = 12.0  # how far from a line's end, in letter heights, a word may still belong to it
_LARGER, _ASIDE = 1.5, 0.35  # type so much larger, and how far off its middle is another line
_ONE_ROW = 0.3  # shared height, of the lower one, from which two words stand in one row
_BESIDE = 0.3  # of a word's height: closer than a blank
_CELL_PX = 120
_FIRST_IS_UNSURE = 0.6
_FIRST_IS_SURE = 0.9  # it keeps its letter where the second saw the like figure: 12-S, 12-5


def merge(first: PageReading, second: PageReading, *, everywhere: bool = True) -> PageReading:
    """Both readers' words as one reading in the first's order, the second's finds at the end.

    Where both read the same place, codes and labels (anything with a digit) come from the second
    reader, prose from the first; a word that names a known tube beats one that doesn't. An
    unsure word of the first that the second didn't find is dropped; when the second didn't look
    `everywhere`, only one that it was asked about.
    """
    grid = _Grid(second.words)
    used: set[int] = set()
    taken: set[int] = set()  # stand in the place of a word of the first
    kept: list[Word] = []
    for word in first.words:
        near = grid.near(word)
        rivals = [i for i in near if word.box.overlap(second.words[i].box) >= _SAME_PLACE]
        rivals = _in_one_row(word, rivals, second.words)
        rivals = _run_together(word, near, second.words) or rivals
        if not rivals:
            if word.confidence >= 0.5 or not (everywhere or worth_rereading(word)):
                kept.append(word)
            continue
        fresh = [i for i in rivals if i not in used]
        if _prefer_second(word, [second.words[i] for i in rivals]):
            kept += [replace(second.words[i], line=word.line) for i in fresh]
            taken.update(rivals)
        elif not taken.issuperset(rivals):
            kept.append(word)
        used.update(rivals)
    fresh_words = [w for i, w in enumerate(second.words) if i not in used]
    kept += _placed([w for w in fresh_words if not _told(w, kept)], kept)
    kept.sort(key=lambda word: (word.line, word.box.left))
    return replace(
        first,
        words=_once(kept),
        reader="tesseract+second",
        seconds=first.seconds + second.seconds,
    )


def _in_one_row(word: Word, rivals: list[int], words: Sequence[Word]) -> list[int]:
    """Those of the rivals that stand in the row nearest to the word's middle: a word of large
    type, or a piece of rubbish, may reach over two rows of small type."""
    if len(rivals) < 2:
        return rivals
    middle = word.box.middle[1]
    nearest = words[min(rivals, key=lambda i: abs(words[i].box.middle[1] - middle))].box
    return [
        i
        for i in rivals
        if min(nearest.bottom, words[i].box.bottom) - max(nearest.top, words[i].box.top)
        >= _ONE_ROW * min(nearest.height, words[i].box.height)
    ]


def _run_together(word: Word, near: list[int], words: Sequence[Word]) -> list[int]:
    """Those words of one piece that a word is without the blanks: 331 for 3 and 31. Where one
    ends within a piece is only reckoned, so that such a word may stand half beside its own."""
    pieces: dict[int, list[int]] = {}
    for i in near:
        pieces.setdefault(words[i].line, []).append(i)
    for piece in pieces.values():
        piece.sort(key=lambda i: words[i].box.left)
        joined = "".join(_letters(words[i].text) for i in piece)
        if len(piece) > 1 and joined == _letters(word.text):
            whole = words[piece[0]].box.union(words[piece[-1]].box)
            if whole.overlap(word.box) >= _SAME_PLACE:
                return piece
    return []


def _told(word: Word, kept: list[Word]) -> bool:
    """Whether the same word stands there already, a little aside, or one that begins with the
    letter that it is: places within a piece of text are only reckoned."""
    text, reach = _letters(word.text) or word.text, word.box.height
    return any(
        (
            (_letters(other.text) or other.text) == text
            or (text.isalpha() and len(text) == 1 and other.text.startswith(text))
        )
        and _gap(other.box, word.box) < 0.5 * reach
        and abs(other.box.middle[1] - word.box.middle[1]) < 0.5 * reach
        for other in kept
    )


def _once(words: Sequence[Word]) -> tuple[Word, ...]:
    """The words in order, without those that a neighbour in their line holds already: the same
    letters, or the tail or head of it, in the same place."""
    kept: list[Word] = []
    for word in words:
        before = kept[-1] if kept and kept[-1].line == word.line else None
        if before is None or _gap(before.box, word.box) > _BESIDE * word.box.height:
            kept.append(word)
        elif kind := _glued(before.text, word.text):
            kept[-1] = replace(before, text=kind, why=f"read as {before.text}")
            kept.append(word)
        elif _is_head(before, word):
            kept[-1] = word
        elif before.box.overlap(word.box) < _SAME_PLACE:
            kept.append(word)
        elif _holds(word.text, before.text) and word.text != before.text:
            kept[-1] = word
        elif not _holds(before.text, word.text):
            kept.append(word)
    return tuple(kept)


def _is_head(letter: Word, word: Word) -> bool:
    """Whether a letter is the first of the word that it reaches into, seen by itself."""
    text = letter.text
    return (
        len(text) == 1
        and text.isalpha()
        and word.text.startswith(text)
        and letter.box.right > word.box.left
    )


def _holds(longer: str, shorter: str) -> bool:
    """Whether a word's letters begin or end with those of another; signs and plain figures, which
    may be values of their own, are held by the same ones only."""
    whole, part = _letters(longer), _letters(shorter)
    if not part:
        return longer == shorter
    if part.isdigit():
        return whole == part
    return whole.startswith(part) or whole.endswith(part)


def _glued(text: str, figures: str) -> str:
    """The type that a text is but for figures at its end, which stand beside it as well; "" when
    it is none."""
    fits = figures.isdigit() and text.endswith(figures) and is_known_tube(text[: -len(figures)])
    return text[: -len(figures)] if fits and not is_known_tube(text) else ""


def _placed(fresh: list[Word], kept: list[Word]) -> list[Word]:
    """Words only the second reader found: each in the printed line it stands in, if there is one
    close by, else in a line of its own at the end."""
    lines: dict[int, Box] = {}
    for word in kept:
        lines[word.line] = lines[word.line].union(word.box) if word.line in lines else word.box
    next_line = 1 + max(lines, default=-1)
    own: dict[int, int] = {}
    placed = []
    for word in fresh:
        near = [
            (_gap(box, word.box), line)
            for line, box in lines.items()
            if _level(box, word.box) and _gap(box, word.box) <= _REACH * word.box.height
        ]
        if near:
            placed.append(replace(word, line=min(near)[1]))
        else:
            line = own.setdefault(word.line, next_line + len(own))
            placed.append(replace(word, line=line))
    return placed


def _level(line: Box, word: Box) -> bool:
    """Whether a word stands at a line's height; a tall "line" over several rows is none, nor is
    one of larger type with two lines of small type beside it."""
    shared = min(line.bottom, word.bottom) - max(line.top, word.top)
    aside = abs(line.middle[1] - word.middle[1])
    return (
        shared >= 0.5 * word.height
        and line.height <= 2.2 * word.height
        and (line.height <= _LARGER * word.height or aside <= _ASIDE * word.height)
    )


def _gap(line: Box, word: Box) -> float:
    return max(0.0, word.left - line.right, line.left - word.right)


def _prefer_second(word: Word, rivals: list[Word]) -> bool:
    if is_known_tube(word.text):
        if word.printed and any(without_stroke(rival.text) for rival in rivals):
            return True  # a type as printed, but for a stroke, before a repaired one
        return any(is_known_tube(rival.text) for rival in rivals)
    if any(is_known_tube(rival.text) for rival in rivals):
        return True
    text = "".join(rival.text for rival in rivals)
    sure = min(rival.confidence for rival in rivals)
    if _letters(text) and not _letters(word.text):  # a speck where a word stands
        return sure >= _FIRST_IS_UNSURE
    if _letters(text) == _letters(word.text):
        specks = len(rivals) == 1 and _only_specks(word.text, text)
        return sure > word.confidence and not specks
    if fold(text) == fold(word.text) and len(_letters(text)) == len(_letters(word.text)):
        if word.confidence < _FIRST_IS_UNSURE and sure >= _FIRST_IS_SURE:
            return True  # the same but for look-alikes: else numbers hold more figures
        return word.confidence < _FIRST_IS_SURE and _figures(text) > _figures(word.text)
    lost = len(_letters(text)) - len(_letters(word.text))
    longer = text.isupper() and 0 < lost <= 3 and text.startswith(word.text.upper())
    if longer and len(rivals) == 1 and sure >= _FIRST_IS_SURE:
        return True  # the end of a label, lost in glare
    if any(character.isdigit() for character in text + word.text):
        best = max(rival.confidence for rival in rivals)
        return best >= 0.6 or best > word.confidence
    return word.confidence < 0.6


def _only_specks(first: str, second: str) -> bool:
    """Whether the second reading of the same letters differs by dots before or behind them, by a
    full stop for another sign or by that of a shortened word: it is careless of dots, and reads
    specks and leaders as such."""
    core = second.strip(".·•")
    if first == f"{second}." and second.lower() in SHORT:
        return True
    return core == first.strip(".·•,;:") and len(second) - len(core) >= len(first) - len(core)


def _letters(text: str) -> str:
    return "".join(character for character in text if character.isalnum())


def _figures(text: str) -> int:
    return sum(character.isdigit() for character in text)


class _Grid:
    """Words by the squares they touch, so that neighbours are found without comparing all."""

    def __init__(self, words: tuple[Word, ...]) -> None:
        self._cells: dict[tuple[int, int], list[int]] = {}
        for i, word in enumerate(words):
            for cell in self._touched(word):
                self._cells.setdefault(cell, []).append(i)

    def near(self, word: Word) -> list[int]:
        found = {i for cell in self._touched(word) for i in self._cells.get(cell, ())}
        return sorted(found)

    @staticmethod
    def _touched(word: Word) -> list[tuple[int, int]]:
        box = word.box
        columns = range(int(box.left // _CELL_PX), int(box.right // _CELL_PX) + 1)
        rows = range(int(box.top // _CELL_PX), int(box.bottom // _CELL_PX) + 1)
        return [(column, row) for column in columns for row in rows]
