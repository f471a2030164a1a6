"""Pages as one searchable PDF: each at its own size, upright, with the words read beneath."""

from collections.abc import Sequence
from pathlib import Path

from pypdf import PdfWriter

from indexer.bench import text_layer
from indexer.bench.marked import PacketPage
from indexer.bench.packet import lay, save
from indexer.bench.place import Window
from indexer.bench.scans import ScanMaker
from indexer.errors import InputError


def write_searchable(target: Path, title: str, pages: Sequence[PacketPage]) -> list[str]:
    """Writes the pages from their own files, in order, without cover or foot lines.

    Scans keep their bytes, vectors stay vectors. Returns a line for each page that could not be
    carried over. Raises InputError when the file can't be written, or no page could be.
    """
    writer = PdfWriter()
    lost: list[str] = []
    with ScanMaker(writer) as maker:
        font = text_layer.add_font(writer)
        for page in pages:
            card = page.card
            try:
                scan = maker.add(card.path, card.ref.page, page.reading)
            except InputError as error:
                lost.append(f"{card.file} page {card.ref.page}: {error.message}")
                continue
            width, height = scan.width_pt, scan.height_pt
            sheet = writer.add_blank_page(width, height)
            whole = Window(width, height, 1.0, 0.0, 0.0, (0.0, 0.0, width, height))
            lay(writer, sheet, scan, whole, page.reading, font)
            kinds = ", ".join(card.kinds) or "page"
            printed = f" (printed {card.printed})" if card.printed else ""
            name = f"{kinds}: {card.file}, page {card.ref.page}{printed}"
            writer.add_outline_item(title=name, page_number=len(writer.pages) - 1)
        if not len(writer.pages):
            raise InputError("None of the pages can be used.", "; ".join(lost))
        writer.add_metadata({"/Title": title, "/Producer": "Benchfolio"})
        save(writer, target)
    return lost
