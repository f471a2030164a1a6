"""The main job on real scans: read, find, follow the nearest relative, mark, print."""

import json
from io import BytesIO
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from PIL import Image, ImageChops, ImageStat

from indexer import Library, find_json, page_json


@pytest.fixture
def library(home: Path) -> Library:
    with Library(home) as opened:
        yield opened


def test_every_page_was_read_and_none_failed(library: Library) -> None:
    states = {row.state for row in library.pages()}
    assert states == {"done"}


@pytest.mark.parametrize(
    ("file", "turn"), [("loose/IMG_0231.jpg", 180), ("loose/scan0007.jpg", 90)]
)
def test_sheets_laid_wrongly_on_the_glass_are_turned(
    library: Library, file: str, turn: int
) -> None:
    card = library.page(f"{file}#1")
    assert library.reading(card).rotation_deg == turn


def test_upright_pages_are_left_alone(library: Library) -> None:
    rows = [page_json(library, row) for row in library.pages()]
    turned = {row["file"] for row in rows if row["rotation_deg"]}
    assert turned == {"loose/IMG_0231.jpg", "loose/scan0007.jpg"}


def test_all_frames_of_a_tiff_are_one_set(library: Library) -> None:
    (best, *_) = library.find(library.understand("halvorne U 510")).matches
    assert best.grade == "exact"
    assert [(card.file, card.ref.page) for card in library.entries.cards(best.entry.id)] == [
        ("loose/halvorne.tif", n) for n in (1, 2, 3, 4)
    ]
    assert best.entry.tube_types == ("UBC41", "UCH42", "UF41", "UL41", "UY41")


def test_a_label_photo_is_an_entry(library: Library) -> None:
    (best, *_) = library.find(library.understand("62-C")).matches
    assert (best.grade, best.entry.maker, best.entry.chassis) == ("exact", "Larkmoor", ("LK-62",))


def test_a_set_known_by_its_tubes(library: Library) -> None:
    near, entry = library.kin(["12BE6", "12BA6", "12AT6", "50B5", "35W4"])[0]
    assert entry.models == ("511-A",)
    exchanged = {(pair.asked, pair.has): pair.relation for pair in near.exchange}
    # 50B5 and 50C5 differ in their pins, 12AT6 and 12AV6 do not: common practice, no source
    assert exchanged["50B5", "50C5"] == "other socket"
    assert exchanged["12AT6", "12AV6"] == "direct substitute"
    assert not near.same_sockets


def test_the_packet_prints_the_marked_pages_in_order(library: Library, tmp_path: Path) -> None:
    """Page count, text and pictures checked with pikepdf and PDFium, which did not write it."""
    entry = library.find(library.understand("vantrice M-37")).matches[0].entry
    job = library.open_job("Vantrice M-37", entry, "dead")
    cards = library.entries.cards(entry.id)
    library.mark(job.id, cards, "all of it")
    out = tmp_path / "packet.pdf"
    assert library.packet(job.id, out) == []
    with pikepdf.open(out) as packet:
        pages = len(packet.pages)
    assert pages >= 1 + len(cards)
    printed = pypdfium2.PdfDocument(BytesIO(out.read_bytes()))
    cover = printed[0].get_textpage().get_text_bounded()
    assert "M-37" in cover
    assert "6F6" in cover
    for n, card in enumerate(cards, 1):
        sheet = printed[n].render(scale=1).to_pil().convert("L")
        source = library.picture(card).convert("L")
        assert _likeness(sheet, source) > 0.85


def test_find_answers_with_the_agreed_keys(library: Library) -> None:
    answer = library.find(library.understand("tillbrook 5D11"))
    data = json.loads(json.dumps(find_json(library, answer, [])))
    assert set(data) >= {"asked", "matches", "listings", "jobs"}
    assert set(data["matches"][0]) >= {
        "entry", "grade", "score", "why", "maker", "models", "chassis", "tubes", "pages",
    }  # fmt: skip


def _likeness(sheet: Image.Image, source: Image.Image) -> float:
    """How alike (0 to 1) the inked part of a printed sheet and its source are, seen small."""
    small = []
    for picture in (sheet.crop((0, 0, sheet.width, sheet.height - 40)), source):
        ink = picture.point(lambda value: 255 if value < 140 else 0)
        box = ink.getbbox() or (0, 0, *picture.size)
        small.append(picture.crop(box).resize((32, 32), Image.Resampling.BOX))
    difference = ImageChops.difference(*small)
    return 1 - ImageStat.Stat(difference).mean[0] / 255
