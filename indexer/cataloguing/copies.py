"""One page scanned twice: known by what the picture looks like and by what was read on it. Pure."""

import zlib
from array import array
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from indexer.model import PageInput
from indexer.trade.codes import fold

_KEYS = 8  # least hashes of a page's words: two pages that share half of them share one of these
_BANDS = 4  # of the picture's hash, 16 bits each
_FEW_WORDS = 12  # a page with fewer is known by its picture alone
_SAME_PICTURE = 8  # of 64 bits
_READ_BADLY = 0.76  # product of two readings' confidence
_READ_FAIRLY, _READ_WELL = 0.82, 0.92
_MANY_NAMES = 3  # with figures at head and foot of both pages
_READABLE = 0.6  # of the best reading's quality, for a bound page to be kept all the same
_BOUND = 4  # pages of a file from which it is bound; and of the larger file, the share it may be
_LIKE_PICTURE = 14  # of 64 bits, that may differ between two scans
_NO_PICTURE = 64
_HEAD_SHARE = 0.16  # of the page's height, where a set is named
_FOOT_SHARE = 0.06
_SURE = 0.7  # confidence of a word that tells pages apart; a slip would tell a copy from its page
_EDGE_SHARE = 0.07  # where page numbers stand
_MUCH_TEXT = 80  # words of their own, from which two pages are no forms filled in
_LITTLE_TEXT = 40  # words, below which all with figures tell pages apart
_MIX = tuple(zlib.crc32(f"mark {n}".encode()) | 1 for n in range(_KEYS))


@dataclass(frozen=True, slots=True)
class Sketch:
    """What is kept of a page to know its copies by.

    `words` are hashes of the words read, sorted; `names` those with figures at its head and foot
    (models, page numbers), which tell apart pages that say much the same; `phash` the picture's
    hash (16 hex digits or ""); `quality` how well it was read: more is better; `sureness` the
    reader's own confidence (0 to 1).
    """

    words: tuple[int, ...]
    names: tuple[int, ...]
    phash: str
    quality: float
    sureness: float = 1.0

    def packed(self) -> bytes:
        """Words and names for keeping."""
        return array(
            "I", (len(self.names), round(self.sureness * 1000), *self.names, *self.words)
        ).tobytes()

    @staticmethod
    def of(packed: bytes, phash: str, quality: float) -> "Sketch":
        """The sketch that was kept."""
        kept = array("I")
        kept.frombytes(packed)
        if len(kept) < 2:
            return Sketch((), (), phash, quality, 0.0)
        count = kept[0] + 2
        names, sureness = tuple(kept[2:count]), kept[1] / 1000
        return Sketch(tuple(kept[count:]), names, phash, quality, sureness)


def sketch(page: PageInput) -> Sketch:
    """A page's sketch. A letter taken for one that looks like it makes no difference."""
    reading = page.reading
    words: set[int] = set()
    names: set[int] = set()
    others: set[int] = set()  # with figures, elsewhere on the page
    for word in reading.words:
        folded = fold(word.text)
        figures = any(letter.isdigit() for letter in word.text)
        if not folded or (len(folded) < 2 and not figures):
            continue
        hashed = zlib.crc32(folded.encode())
        words.add(hashed)
        middle = word.box.middle[1] / max(1, reading.height_px)
        outer = middle < _HEAD_SHARE or middle > 1 - _FOOT_SHARE
        if figures and outer and len(folded) > 1 and word.confidence >= _SURE:
            names.add(hashed)
            if word.text.isdecimal() and not _EDGE_SHARE < middle < 1 - _EDGE_SHARE:
                number = zlib.crc32(b"page " + folded.encode())  # a page number counts twice:
                words.add(number)  # nothing tells two pages of one set apart as well
                names.add(number)
        elif figures:
            others.add(hashed)
    if not names and len(reading.words) < _LITTLE_TEXT:
        names = others
    quality = reading.confidence * (1 + len(reading.words)) if reading.words else 0.0
    return Sketch(
        tuple(sorted(words)),
        tuple(sorted(names)),
        page.picture.phash,
        round(quality, 3),
        round(reading.confidence, 3),
    )


def marks(page: Sketch) -> tuple[int, ...]:
    """Numbers of which two copies nearly always share one; different pages seldom do."""
    found = []
    if len(page.words) >= _FEW_WORDS:
        for n, mix in enumerate(_MIX):
            least = min(((word ^ mix) * 2654435761) & 0xFFFFFFFF for word in page.words)
            found.append((n << 32) | least)
    if page.phash:
        bits = int(page.phash, 16)
        found += [((16 + n) << 32) | ((bits >> (16 * n)) & 0xFFFF) for n in range(_BANDS)]
    return tuple(found)


def alike(one: Sketch, other: Sketch) -> tuple[float, float, int]:
    """(share of the words that both have; that of the names, 0 to 1, 1 when neither has any;
    bits in which the pictures' hashes differ, 64 when one has none)."""
    bits = _NO_PICTURE
    if one.phash and other.phash:
        bits = (int(one.phash, 16) ^ int(other.phash, 16)).bit_count()
    words, others = set(one.words), set(other.words)
    kept = len(others.intersection(one.names)) + len(words.intersection(other.names))
    both = len(one.names) + len(other.names)
    return _shared(words, others), kept / both if both else 1.0, bits


def is_copy(one: Sketch, other: Sketch) -> bool:
    """Whether two pages are scans of one printed page.

    Pages of one set say much the same, so what names them must agree too. Two scans read badly
    share fewer words; then their pictures must agree.
    """
    words, names, bits = alike(one, other)
    if not one.words and not other.words:
        return False
    if not one.names and not other.names:
        return words >= 0.85 and bits <= _LIKE_PICTURE
    read = one.sureness * other.sureness
    if read < _READ_BADLY and names >= 0.55 and words >= 0.55 and bits <= _SAME_PICTURE:
        return True  # so much is misread that less can agree
    if names >= 0.7 and words >= 0.8 and bits <= _SAME_PICTURE // 2:
        if read < _READ_FAIRLY:
            return True
        much = min(len(one.words), len(other.words)) >= _MUCH_TEXT  # a form says much the same
        if much and read < _READ_WELL and names >= 0.75:
            return True
    marked = min(len(one.names), len(other.names)) >= _MANY_NAMES
    # a drawing's labels are taken otherwise by each reading; its head and number are not
    if names < 0.82 or words < (0.45 if marked else 0.6):
        return False
    return bits <= _LIKE_PICTURE or (names >= 0.95 and words >= 0.75)


def _shared(one: set[int], other: set[int]) -> float:
    both = len(one & other)
    return both / (len(one) + len(other) - both) if one or other else 1.0


def best_of(pages: Iterable[tuple[str, Sketch, int]]) -> str:
    """The name of the page to show, of (name, sketch, pages of its file).

    The one that was read best, of equals the first by name. But a page bound with those of its
    set is only given up for a scan elsewhere when it was read much worse; of two scanned volumes
    the first is kept whole.
    """
    kept = list(pages)
    best = max(one.quality for _, one, _ in kept)
    most = max(count for _, _, count in kept)
    bound = [
        name
        for name, one, count in kept
        if count >= max(_BOUND, most / _BOUND) and one.quality >= _READABLE * best
    ]
    files = Counter(name.partition(":")[0] for name in bound)
    if bound and len(files) == 1:  # scanned again in its own file
        kept = [(name, one, count) for name, one, count in kept if name in bound]
    elif bound:
        return min(bound)
    return min((-one.quality, name) for name, one, _ in kept)[1]
