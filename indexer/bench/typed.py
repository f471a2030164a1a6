"""Typed notes set again in type on a sheet, line by line, with typed columns kept in line."""

from collections.abc import Iterator

from indexer.bench.paper import Sheets
from indexer.bench.place import Window
from indexer.model import PageReading, Word

_LARGEST = 12.0  # points: a short note is not blown up to fill the sheet
_ADVANCE = 0.54  # of the size: small letters fill the note's own grid, capitals are set closer
_BASELINE = 0.3  # of the row, above its foot
_COLUMN_GAP = 1.5  # letters: words further apart stand in columns of their own


def write_note(sheets: Sheets, reading: PageReading, window: Window) -> None:
    """The words of a note on the sheet in hand, within `window`, from its top left corner."""
    cells = [word.box.width / len(word.text) for word in reading.words if word.text]
    if not cells:
        return
    cell = min(cells)
    scale = min(window.scale, _LARGEST * _ADVANCE / cell)
    left, bottom, _, height = window.clip
    top = sheets.h - bottom - height
    sheets.set_text_color(0)
    sheets.set_font("text", "", cell * scale / _ADVANCE)
    for run in _runs(reading, cell):
        text = " ".join(word.text for word in run)
        first, last = run[0].box, run[-1].box
        over = sheets.get_string_width(text) - (last.right - first.left) * scale
        sheets.set_char_spacing(-over / len(text) if over > 0 else 0)
        y = top + (first.bottom - first.height * _BASELINE) * scale
        sheets.text(left + first.left * scale, y, text + " ")
        sheets.set_char_spacing(0)


def _runs(reading: PageReading, cell: float) -> Iterator[list[Word]]:
    """Words of one row that follow each other with a single space between them."""
    run: list[Word] = []
    for word in reading.words:
        follows = (
            bool(run)
            and word.box.top == run[-1].box.top
            and 0 <= word.box.left - run[-1].box.right <= _COLUMN_GAP * cell
        )
        if run and not follows:
            yield run
            run = []
        run.append(word)
    if run:
        yield run
