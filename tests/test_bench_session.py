"""A whole session at the bench through the commands, from reading the pages to the packet.

The packet is written with pypdf and fpdf2; it is checked with PDFium (pypdfium2) and with qpdf
(pikepdf). What a five-tube set's values are replaced with is common practice, no source; the
preferred values are those of IEC 60063.
"""

import csv
import json
import re
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pypdfium2 as pdfium
import pytest
from PIL import ImageFilter
from pypdf import PdfReader, PdfWriter

from tests.commands import call
from tests.conftest import SAMPLE_LIBRARY

FIRST, LAST = 4, 5  # the pages of one set in the sample annual
DPI = 80


@pytest.fixture(scope="module")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two pages of the sample annual as a file of their own, and one typed note."""
    folder = tmp_path_factory.mktemp("bench") / "shelf"
    folder.mkdir()
    annual = PdfReader(SAMPLE_LIBRARY / "shelf" / "Wrenfield annual vol 4.pdf")
    writer = PdfWriter()
    for number in range(FIRST, LAST + 1):
        writer.add_page(annual.pages[number - 1])
    writer.write(folder / "annual.pdf")
    (folder / "my hints.txt").write_text(
        "MODEL 5D10\nCHASSIS CH-41A\nTILLBROOK RADIO MFG. CO.\nTUBES: 12BE6 12BA6 12AV6 50C5 35W4\n"
        "Hum that comes and goes: C8 has a dry joint.\n",
        encoding="utf-8",
    )
    return folder


def lines_of(home: Path, *arguments: str) -> list[dict[str, Any]]:
    """What a command prints with `--json`, line by line."""
    done = call(*arguments, "--json", home=home)
    assert done.returncode == 0, done.stderr
    return [json.loads(line) for line in done.stdout.splitlines()]


def did(home: Path, *arguments: str) -> str:
    """What a command prints; it must end well."""
    done = call(*arguments, home=home)
    assert done.returncode == 0, done.stderr
    return done.stdout + done.stderr


def test_from_find_to_the_packet(shelf: Path, tmp_path: Path) -> None:
    home = tmp_path / "home"
    did(home, "index", str(shelf))

    (found,) = lines_of(home, "find", "Tillbrook", "5D11", "--limit", "1")
    match = found["matches"][0]
    assert match["grade"] == "exact"
    names = [page["name"] for page in match["pages"] if page["file"] == "annual.pdf"]
    assert len(names) == 2

    (job,) = lines_of(
        home, "job", "open", "kitchen set", "--entry", match["entry"],
        "--symptom", "hum", "--tag", "114",
    )  # fmt: skip
    number = str(job["job"])
    did(home, "job", "mark", number, names[1], "--why", "parts")
    did(home, "job", "mark", number, names[0], "my hints.txt#1", "--why", "circuit")
    did(home, "job", "move", number, names[0], "3", "--to", "1")
    did(home, "job", "note", number, "C8 nearly open")

    parts = {line["reference"]: line for line in lines_of(home, "job", "parts", number)}
    assert parts["C8A"]["printed"].startswith("50 mfd")
    assert parts["C8A"]["fit"][0].startswith("47 µF")
    assert parts["C8B"]["fit"][0].startswith("33 µF")
    assert parts["C8A"]["source"] == "annual.pdf page 2"
    did(home, "job", "add-part", number, "C20", ".05 mfd 400 V paper")
    did(home, "job", "done", number, "C8A")
    did(home, "job", "strike", number, "C5")
    to_buy = tmp_path / "buy.csv"
    did(home, "job", "parts", number, "--csv", str(to_buy))
    bought = " ".join(row[-1] for row in csv.reader(to_buy.open(encoding="utf-8")))
    assert "C20" in bought
    assert "C8B" in bought
    assert "C8A" not in bought
    assert "C5" not in bought.replace("C50", "")

    (line,) = lines_of(home, "job", "reading", number, "R7", "800K")
    assert (line["verdict"], line["high"]) == ("out", "564 kΩ")  # 470 k and 20 %
    (line,) = lines_of(home, "job", "reading", number, "12BE6 pin 5", "98")
    assert (line["verdict"], line["nominal"]) == ("in", "90 V")

    did(home, "spares", "add", "12AT6", "--place", "tin")
    did(home, "spares", "add", "12BE6", "2")
    assert "12AT6 from tin for 12AV6; 0 left" in did(home, "job", "use", number, "12AT6")
    tubes = {line["tube"]: line for line in lines_of(home, "job", "tubes", number)}
    assert tubes["12AV6"]["used"]
    assert [tubes[tube]["state"] for tube in ("12BE6", "12BA6")] == ["have", "order"]

    (sheet,) = lines_of(home, "job", "power-up", number)
    assert sheet["live_chassis"] == "likely"
    assert sheet["string"].endswith("= 122.8 V at 0.15 A")

    packet = tmp_path / "packet.pdf"
    said = did(home, "job", "packet", number, "--out", str(packet))
    assert "Missing" not in said
    check_packet(packet, shelf / "annual.pdf", cover=("kitchen set", "114", "CH-41A", "122.8 V"))

    did(home, "job", "close", number, "C8 renewed")
    (found,) = lines_of(home, "find", "Tillbrook", "5D10")
    assert [job["outcome"] for job in found["jobs"]] == ["C8 renewed"]


def check_packet(packet: Path, source: Path, cover: tuple[str, ...]) -> None:
    """Sheets, pictures, words and bookmarks of a packet of both pages of `source` and a note."""
    with pikepdf.open(packet) as document:
        assert document.check_pdf_syntax() == []
        count = len(document.pages)
        sizes = {tuple(round(float(v)) for v in page.mediabox) for page in document.pages}
        streams = [o for o in document.objects if isinstance(o, pikepdf.Stream)]
        carried = {stream.read_raw_bytes() for stream in streams}
    assert sizes == {(0, 0, 595, 842)}  # ISO 216 A4 in points
    with pikepdf.open(source) as document:
        for page in document.pages:
            for picture in page.get_images().values():
                assert picture.read_raw_bytes() in carried, "a scan is not compressed again"

    sheets, pages = pdfium.PdfDocument(packet), pdfium.PdfDocument(source)
    try:
        marks = [(item.get_title(), item.get_dest().get_index()) for item in sheets.get_toc()]
        starts = dict(reversed(marks))
        text = [sheets[n].get_textpage().get_text_bounded() for n in range(count)]
        for said in cover:
            assert said in text[0], said
        first = starts["annual.pdf, page 1 (printed 201)"]
        assert starts["annual.pdf, page 2 (printed 202)"] == first + 2, "the note comes second"
        assert starts["my hints.txt, page 1"] == first + 1
        for kind, sheet in (("Schematic", first), ("Parts list", first + 2)):
            assert starts[kind] == sheet
        work = ["Power-up sheet", "Replacement list", "Shopping list", "Readings"]
        assert [starts[title] for title in work] == sorted(starts[title] for title in work)
        assert starts["Power-up sheet"] == first + 3
        for title in work:
            assert title in text[starts[title]]
        assert starts["Tubes and spares"] < count
        for number, sheet in ((0, first), (1, first + 2)):
            own = likeness(sheets[sheet], pages[number])
            other = likeness(sheets[sheet], pages[1 - number])
            assert own > 0.85, f"page {number + 1} looks as its file draws it"
            assert own > other + 0.3
        # the words read lie under the pictures, so a reader's search finds them
        for sheet, words in ((first, ("50C5", "122", "12BA6")), (first + 2, ("ELECTROLYTIC",))):
            found = [w for w in words if sheets[sheet].get_textpage().search(w).get_next()]
            assert found, words
        for sheet, said in ((first, "annual.pdf, page 1 (printed 201)"), (first + 1, "my hints")):
            assert said in sheets[sheet].get_textpage().get_text_bounded(top=42)
            assert f"{sheet + 1} / {count}" in text[sheet]
        assert "dry joint" in text[first + 1]
        assert "C20" in "".join(text[starts["Replacement list"] :])
        assert "800K" in "".join(text[starts["Readings"] :])
    finally:
        sheets.close()
        pages.close()


def likeness(sheet: pdfium.PdfPage, page: pdfium.PdfPage) -> float:
    """How alike (up to 1) a printed sheet and a source page are, laid over each other where they
    fit best, at the scale that the foot of the sheet names in whole percent."""
    foot = sheet.get_textpage().get_text_bounded(top=42)
    named = float((re.search(r"(\d+)% of its size", foot) or ["", "100"])[1]) / 100
    printed = ink(sheet, 1.0, 0.94)
    return max(fit(printed, ink(page, named + step / 500, 1.0)) for step in range(-3, 4))


def ink(page: pdfium.PdfPage, size: float, share: float) -> np.ndarray:
    """The ink of the upper `share` of a page at 40 dpi, blurred by 1 mm, without the black that a
    scanner leaves along an edge; mean 0."""
    picture = page.render(scale=DPI / 72 * size, grayscale=True).to_pil().convert("L")
    picture = picture.crop((0, 0, picture.width, int(picture.height * share)))
    picture = picture.filter(ImageFilter.GaussianBlur(DPI / 25.4)).reduce(2)
    out = np.zeros((520, 400))
    dark = 255 - np.asarray(picture, dtype=float)
    dark[:, dark.mean(axis=0) > 100] = 0
    dark[dark.mean(axis=1) > 180] = 0
    out[: picture.height, : picture.width] = dark
    return out - out.mean()


def fit(one: np.ndarray, other: np.ndarray) -> float:
    """The best correlation over every shift, by Fourier transform."""
    shifts = np.fft.irfft2(np.fft.rfft2(one) * np.conj(np.fft.rfft2(other)), one.shape)
    return float(shifts.max() / np.sqrt((one**2).sum() * (other**2).sum()))
