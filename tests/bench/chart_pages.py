"""Pages with tables set in columns, as typed words with boxes."""

from indexer.model import Box, PageReading, Word

_STEP_PX, _ROW_PX = 300, 60


def table_page(*blocks: tuple[str, tuple[str, ...]]) -> PageReading:
    """Headings with rows below them; cells are parted by "/"."""
    words: list[Word] = []
    top, line = 100, 1
    for heading, rows in blocks:
        for place, text in enumerate(heading.split()):
            words.append(_word(text, 1000 + 250 * place, top, line))
        for row in rows:
            top, line = top + _ROW_PX, line + 1
            for column, cell in enumerate(row.split("/")):
                left = 150 + _STEP_PX * column
                for text in cell.split():
                    words.append(_word(text, left, top, line))
                    left += 20 * len(text) + 12
        top, line = top + 3 * _ROW_PX, line + 1
    return PageReading(tuple(words), 2550, 3300, "typed")


def _word(text: str, left: int, top: int, line: int) -> Word:
    return Word(text, Box(left, top, left + 20 * len(text), top + 30), 1.0, line)
