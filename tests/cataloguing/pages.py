"""Pages made of typed lines, placed as a printed page would place them."""

import hashlib

from indexer.model import Box, PageInput, PageReading, PageRef, Word

WIDTH, HEIGHT, PITCH, LETTER = 2550, 3300, 60, 22


def page(
    text: str, *, file: str = "annual.pdf", number: int = 1, reader: str = "tesseract"
) -> PageInput:
    """One line of `text` a printed line, from the top; blanks in a run keep their width."""
    words = []
    for line, row in enumerate(text.strip("\n").split("\n")):
        position = 0
        for part in row.split():
            position = row.index(part, position)
            left, top = 100.0 + position * LETTER, 100.0 + line * PITCH
            box = Box(left, top, left + len(part) * LETTER, top + 36)
            words.append(Word(part, box, 0.95, line))
            position += len(part)
    reading = PageReading(tuple(words), WIDTH, HEIGHT, reader)
    return PageInput(PageRef(hashlib.sha256(file.encode()).hexdigest(), number), file, reading)


def book(*texts: str) -> list[PageInput]:
    """The texts as the pages of one bound file."""
    return [page(text, number=n) for n, text in enumerate(texts, 1)]
