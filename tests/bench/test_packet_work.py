"""The work sheets at the end of a packet: in the outline, complete, with their letters."""

from pathlib import Path

import pikepdf
from pypdf import PdfReader

from indexer.bench.packet import write_packet
from indexer.bench.sheet_types import (
    LEAVE,
    REPLACE,
    SUBSTITUTE,
    AlignmentTable,
    DrawerLine,
    PowerUpSheet,
    ReadingLine,
    ReplacementLine,
    ShoppingLine,
    WorkSheets,
)
from indexer.model import PageRef
from indexer.trade.cautions import applying
from tests.bench.packet_pages import JOB, jpeg, page, reading

SHEETS = WorkSheets(
    replacements=(
        ReplacementLine(
            "C7A", ".05 mfd 400 V", "coupling", REPLACE, ("0.047 µF 630 V",), 500.0, "film",
            "check the output grid first", source="Annual.pdf page 5",
        ),
        ReplacementLine("C3", "100 mmf mica", "trimmer", LEAVE, (), None, "", "leave mica alone"),
    ) * 20,
    shopping=(ShoppingLine(2, "0.047 µF 630 V", "film", ("C7A", "C9")),),
    readings=(ReadingLine("R7", "resistance", "470 kΩ", "376 kΩ", "564 kΩ", "800 kΩ", "out"),),
    drawer=(DrawerLine("50C5", "output", SUBSTITUTE, "50B5", 1, "other socket", "rewire it"),),
    power_up=PowerUpSheet(
        "likely", ("The heaters stand in series.",), "Use an isolation transformer.",
        "series string", "12.6 + 50 + 35 = 97.6 V", (), "60 W", ("It dims after a moment.",),
        ("Look over the line cord.", "Feed it through the lamp."),
        applying("likely", "series string", ("12BE6",)), 455.0,
        (AlignmentTable((("Step", "Adjust"), ("1", "T1")), "Annual.pdf page 5", PageRef("x", 5)),),
    ),
    doubts=("C7B was read with doubt.",),
)  # fmt: skip


def test_work_sheets_follow_the_pages(tmp_path: Path) -> None:
    target = tmp_path / "packet.pdf"
    pages = [page(jpeg(tmp_path, "LEVEL"), 1, reading("LEVEL"), "schematic")]
    write_packet(target, JOB, None, pages, [], sheets=SHEETS)
    reader = PdfReader(target)
    texts = [sheet.extract_text() for sheet in reader.pages]
    with pikepdf.open(target) as document, document.open_outline() as outline:
        assert document.check_pdf_syntax() == []
        titles = [item.title for item in outline.root]
    assert titles[-5:] == [
        "Power-up sheet", "Replacement list", "Shopping list", "Readings", "Tubes and spares",
    ]  # fmt: skip
    starts = [next(n for n, text in enumerate(texts) if title in text) for title in titles[-5:]]
    assert starts == sorted(starts)
    whole = "\n".join(texts)
    for said in (
        "isolation transformer", "97.6 V", "Lamp: 60 W", "line cord", "455 kc", "0.047 µF 630 V",
        "leave alone", "C7A, C9", "470 kΩ", "800 kΩ", "out", "50B5", "rewire it",
        "C7B was read with doubt.", "Local codes and licensed practice come first",
    ):  # fmt: skip
        assert said in whole, said
    assert whole.count("C7A") == 20 + 1  # each line once, and once on the shopping list
