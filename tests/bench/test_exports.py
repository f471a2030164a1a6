"""Open forms against their own rules: hOCR 1.2, ALTO 4.2, RFC 4180, JSON lines, PDF.

The ALTO schema file comes with no package that installs it. The rules below are those of
alto-4-2.xsd (Library of Congress) for the elements written here; where BENCHFOLIO_ALTO_XSD names a
schema file of version 4, documents are validated against it too (lxml). The source package of
kraken 5.3.0 on PyPI carries alto-4-3.xsd with xlink.xsd beside it among its tests.
"""

import csv
import io
import json
import os
import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pikepdf
import pypdfium2 as pdfium
import pytest

from indexer.bench.exports.alto import NAMESPACE, alto
from indexer.bench.exports.hocr import hocr
from indexer.bench.exports.lists import as_csv, json_lines
from indexer.bench.exports.searchable import write_searchable
from indexer.errors import InputError
from indexer.model import Box, PageReading, Word
from tests.bench.packet_pages import jpeg, page, reading, tiff

READING = PageReading(
    (
        Word("MODEL", Box(10.4, 20, 90, 50), 0.97, 0),
        Word("5D10", Box(100, 20, 180, 50), 0.5, 0),
        Word('4.7 kΩ "<&>"', Box(10, 80, 200, 110), 1.0, 1),
        Word("12BE6", Box(-3, 120, 1200, 150), 0.8, 2, printed="12BEG", why="a known type"),
        Word("bad\x00\x0b", Box(10, 160, 60, 190), 1.2, 3),
    ),
    1000,
    800,
    "tesseract+second",
)
EMPTY = PageReading((), 10, 10, "tesseract")

# alto-4-2.xsd: the children an element may have, in order, and the attributes it must carry.
CHILDREN = {
    "alto": ["Description", "Styles", "Tags", "Layout"],
    "Description": ["MeasurementUnit", "sourceImageInformation", "OCRProcessing", "Processing"],
    "sourceImageInformation": ["fileName", "fileIdentifier", "documentIdentifier"],
    "Processing": [
        "processingCategory", "processingDateTime", "processingAgency",
        "processingStepDescription", "processingStepSettings", "processingSoftware",
    ],
    "processingSoftware": [
        "softwareCreator", "softwareName", "softwareVersion", "applicationDescription",
    ],
    "Layout": ["Page"],
    "Page": ["TopMargin", "LeftMargin", "RightMargin", "BottomMargin", "PrintSpace"],
    "PrintSpace": ["Shape", "TextBlock"],
    "TextBlock": ["Shape", "TextLine"],
    "String": ["Shape", "ALTERNATIVE", "Glyph"],
}  # fmt: skip
REQUIRED = {
    "Page": {"ID", "PHYSICAL_IMG_NR"},
    "TextBlock": {"ID"},
    "String": {"CONTENT"},
    "Processing": {"ID"},
}
FLOATS = {"HPOS", "VPOS", "WIDTH", "HEIGHT", "PHYSICAL_IMG_NR"}


def bare(tag: str) -> str:
    """A tag without its namespace, which must be ALTO's."""
    assert tag.startswith(f"{{{NAMESPACE}}}")
    return tag.rpartition("}")[2]


@pytest.mark.parametrize("read", [READING, EMPTY], ids=["words", "empty"])
def test_alto_keeps_the_rules_of_its_schema(read: PageReading) -> None:
    root = ET.fromstring(alto(read, "Annual vol 4.pdf", 3))
    ids: list[str] = []
    for element in root.iter():
        name = bare(element.tag)
        children = [bare(child.tag) for child in element]
        if name == "TextLine":  # String, then SP or another String; never two SP, never SP first
            assert re.fullmatch(r"(String (SP )?)+", "".join(f"{c} " for c in children))
        else:
            order = [CHILDREN.get(name, []).index(child) for child in children]
            assert order == sorted(order)
        assert REQUIRED.get(name, set()) <= set(element.attrib)
        for key in FLOATS & set(element.attrib):
            assert float(element.attrib[key]) >= 0
        for key in {"WC", "PC"} & set(element.attrib):
            assert 0 <= float(element.attrib[key]) <= 1
        ids += [element.attrib["ID"]] if "ID" in element.attrib else []
    assert len(ids) == len(set(ids))
    assert all(re.fullmatch(r"[A-Za-z_][\w.-]*", name) for name in ids)  # xsd:ID
    refs = [e.attrib["PROCESSINGREFS"] for e in root.iter() if "PROCESSINGREFS" in e.attrib]
    assert set(refs) <= set(ids)
    assert root.find(f".//{{{NAMESPACE}}}MeasurementUnit").text == "pixel"  # type: ignore[union-attr]


def test_alto_says_what_was_read() -> None:
    root = ET.fromstring(alto(READING, "a.pdf", 3))
    words = root.findall(f".//{{{NAMESPACE}}}String")
    said = [word.attrib["CONTENT"] for word in words]
    assert said == ["MODEL", "5D10", '4.7 kΩ "<&>"', "12BE6", "bad"]
    first = {key: float(words[0].attrib[key]) for key in ("HPOS", "VPOS", "WIDTH", "HEIGHT", "WC")}
    assert first == {"HPOS": 10, "VPOS": 20, "WIDTH": 80, "HEIGHT": 30, "WC": 0.97}
    assert words[3].find(f"{{{NAMESPACE}}}ALTERNATIVE").text == "12BEG"  # type: ignore[union-attr]
    assert float(words[3].attrib["HPOS"]) + float(words[3].attrib["WIDTH"]) <= 1000
    assert root.find(f".//{{{NAMESPACE}}}Page").attrib["PHYSICAL_IMG_NR"] == "3"  # type: ignore[union-attr]


def test_alto_against_the_schema_itself() -> None:
    named = os.environ.get("BENCHFOLIO_ALTO_XSD")
    if not named:
        pytest.skip("BENCHFOLIO_ALTO_XSD is not set: no schema file to validate against")
    etree = pytest.importorskip("lxml.etree")
    schema = etree.XMLSchema(etree.parse(named))
    for read in (READING, EMPTY):
        schema.assertValid(etree.fromstring(alto(read, "a.pdf", 1).encode()))


@pytest.mark.parametrize("read", [READING, EMPTY], ids=["words", "empty"])
def test_hocr_is_well_formed_and_nested(read: PageReading) -> None:
    """hOCR 1.2: ocr_page holds ocr_line holds ocrx_word; boxes nest; x_wconf is 0 to 100."""
    root = ET.fromstring(hocr(read, 'Annual "4".pdf', 3))
    space = "{http://www.w3.org/1999/xhtml}"
    assert root.tag == f"{space}html"
    names = {meta.attrib["name"] for meta in root.iter(f"{space}meta")}
    assert {"ocr-system", "ocr-capabilities"} <= names
    (sheet,) = root.findall(f"{space}body/{space}div")
    assert sheet.attrib["class"] == "ocr_page"
    title = sheet.attrib["title"]
    assert re.search(r'image "[^"]+"; bbox 0 0 (\d+) (\d+); ppageno 2$', title)
    found = []
    for line in sheet:
        assert line.attrib["class"] == "ocr_line"
        outer = box(line.attrib["title"])
        for word in line:
            assert word.attrib["class"] == "ocrx_word"
            inner = box(word.attrib["title"])
            assert outer[0] <= inner[0] <= inner[2] <= outer[2] <= read.width_px
            assert outer[1] <= inner[1] <= inner[3] <= outer[3] <= read.height_px
            sure = re.search(r"x_wconf (\d+)$", word.attrib["title"])
            assert sure is not None
            assert 0 <= int(sure[1]) <= 100
            found.append(word.text)
    assert len(found) == len(read.words)
    ids = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]
    assert len(ids) == len(set(ids))
    if read.words:
        assert found[2] == '4.7 kΩ "<&>"'


def box(title: str) -> list[int]:
    """The bbox of an hOCR title."""
    found = re.search(r"bbox (\d+) (\d+) (\d+) (\d+)", title)
    assert found is not None
    return [int(value) for value in found.groups()]


ROWS = [
    {"entry": "a", "tubes": ["12BE6", "50C5"], "year": None, "note": 'say "hum", then\nstop'},
    {"entry": "=1+1", "tubes": [], "year": 1951, "pages": [{"file": "a.pdf", "page": 1}]},
]


def test_csv_reads_back() -> None:
    """RFC 4180 quoting, read back by the standard library; no cell starts a formula."""
    text = as_csv(ROWS)
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert list(rows[0]) == ["entry", "tubes", "year", "note", "pages"]
    assert rows[0]["tubes"] == "12BE6; 50C5"
    assert rows[0]["note"] == 'say "hum", then\nstop'
    assert rows[1]["entry"] == "'=1+1"
    assert json.loads(rows[1]["pages"]) == [{"file": "a.pdf", "page": 1}]
    assert text.count("\r\n") == 3
    assert as_csv([{"shift": "-11"}]) == "shift\r\n-11\r\n"


def test_json_lines_read_back() -> None:
    assert [json.loads(line) for line in json_lines(ROWS).splitlines()] == ROWS


def test_a_searchable_pdf_keeps_size_words_and_bytes(tmp_path: Path) -> None:
    scan = jpeg(tmp_path, "TURNED", turn=90)
    fax = tiff(tmp_path, "FAXONE")
    pages = [
        page(scan, 1, reading("TURNED", turn=90), "schematic"),
        page(fax, 1, reading("FAXONE"), "parts list"),
    ]
    target = tmp_path / "set.pdf"
    assert write_searchable(target, "Tillbrook 5D10", pages) == []
    document = pdfium.PdfDocument(target)
    assert document[0].get_size() == pytest.approx((612, 792), abs=0.5)  # 1,700 x 2,200 at 200 dpi
    for number, word in enumerate(["TURNED", "FAXONE"]):
        assert document[number].get_textpage().search(word).get_next() is not None
    assert [item.get_title() for item in document.get_toc()] == [
        "schematic: TURNED.jpg, page 1",
        "parts list: FAXONE.tif, page 1",
    ]
    document.close()
    with pikepdf.open(target) as opened:
        assert opened.check_pdf_syntax() == []
        raw = [o.read_raw_bytes() for o in opened.objects if isinstance(o, pikepdf.Stream)]
    assert scan.read_bytes() in raw


def test_nothing_usable_is_told(tmp_path: Path) -> None:
    (tmp_path / "bad.jpg").write_bytes(b"\xff\xd8\xff\xe0 nothing")
    with pytest.raises(InputError):
        write_searchable(tmp_path / "x.pdf", "x", [page(tmp_path / "bad.jpg", 1, reading("BAD"))])
