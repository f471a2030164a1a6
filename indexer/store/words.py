"""Words of a reading packed for the database, and page names made for typing."""

import hashlib
import json
import zlib

from indexer.model import Box, PageRef, Word

# no vowels (no accidental words), nothing that looks like something else
_LETTERS = "bcdfghjkmnpqrtvwxy346789"
NAME_LENGTH = 6


def pack(words: tuple[Word, ...]) -> bytes:
    """The words as compressed JSON; boxes to a tenth of a pixel."""
    rows = [
        [
            word.text,
            *(round(side, 1) for side in _sides(word.box)),
            round(word.confidence, 3),
            word.line,
            word.printed,
            word.why,
        ]
        for word in words
    ]
    return zlib.compress(json.dumps(rows, ensure_ascii=False).encode(), 6)


def unpack(packed: bytes) -> tuple[Word, ...]:
    """The words that `pack` stored."""
    return tuple(
        Word(text, Box(left, top, right, bottom), confidence, line, printed, why)
        for text, left, top, right, bottom, confidence, line, printed, why in json.loads(
            zlib.decompress(packed)
        )
    )


def page_name(ref: PageRef) -> str:
    """A short name that follows the page's content wherever its file goes: 6 letters and digits.

    24^6 names: among a million pages about 2,600 pairs share one; a shared name is refused
    when typed, and the file name with its page number serves instead.
    """
    number = int.from_bytes(hashlib.sha256(f"{ref.sha256}:{ref.page}".encode()).digest()[:8], "big")
    letters = []
    for _ in range(NAME_LENGTH):
        number, letter = divmod(number, len(_LETTERS))
        letters.append(_LETTERS[letter])
    return "".join(letters)


def _sides(box: Box) -> tuple[float, float, float, float]:
    return box.left, box.top, box.right, box.bottom
