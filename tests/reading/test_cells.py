"""A figure overlooked in an index's column is sought where the column's others stand. That an index
prints volume and page in columns is common practice, no source."""

from indexer.model import Box, Word
from indexer.reading.cells import empty_cells, filled


def row(line: int, model: str, volume: str, page: str, left: float = 0) -> list[Word]:
    y = 100.0 + 40 * line
    words = [Word(model, Box(left, y, left + 90, y + 30), 0.9, line)]
    if volume:
        words.append(Word(volume, Box(left + 300, y, left + 318, y + 30), 0.9, line))
    return [*words, Word(page, Box(left + 400, y, left + 450, y + 30), 0.9, line)]


def index(missing: int, rows: int = 8) -> list[Word]:
    return [
        word
        for n in range(rows)
        for word in row(n, f"{n}A1", "" if n == missing else str(1 + n % 3), str(100 + n))
    ]


def test_a_row_without_a_volume_has_an_empty_cell() -> None:
    (cell,) = empty_cells(index(missing=3))
    assert cell.line == 3
    assert cell.box.left < 300 and cell.box.right > 318 and cell.box.top == 220


def test_a_figure_found_stands_before_its_page() -> None:
    words = index(missing=3)
    (cell,) = empty_cells(words)
    found = Word("2", cell.box, 1.0, cell.line)
    line = [word.text for word in filled(words, [found]) if word.line == 3]
    assert line == ["3A1", "2", "103"]
    assert filled(words, [Word("||", cell.box, 0.6, 3)]) == tuple(words)


def test_nothing_is_sought_where_the_index_prints_no_volumes() -> None:
    pages_alone = [word for n in range(8) for word in row(n, f"{n}A1", "", str(100 + n))]
    assert empty_cells(pages_alone) == ()
    assert empty_cells(index(missing=99)) == ()
    assert empty_cells([]) == ()
