"""A page's reading as ALTO 4.2 XML (namespace http://www.loc.gov/standards/alto/ns-v4#)."""

from xml.etree import ElementTree as ET

from indexer.bench.exports.plain import plain, rounded, row_box
from indexer.model import Box, PageReading

NAMESPACE = "http://www.loc.gov/standards/alto/ns-v4#"
_VERSION = "4.2"


def alto(reading: PageReading, file: str, page: int) -> str:
    """The reading of page `page` (from 1) of `file` as an ALTO document, in pixels.

    Boxes lie on the upright, straightened picture; WC is the confidence, 0 to 1. A word that a
    repair changed keeps what the reader saw as an ALTERNATIVE.
    """
    root = ET.Element("alto", {"xmlns": NAMESPACE, "SCHEMAVERSION": _VERSION})
    about = ET.SubElement(root, "Description")
    ET.SubElement(about, "MeasurementUnit").text = "pixel"
    source = ET.SubElement(about, "sourceImageInformation")
    ET.SubElement(source, "fileName").text = plain(file)
    step = ET.SubElement(about, "Processing", {"ID": "READ"})
    ET.SubElement(step, "processingStepDescription").text = plain(reading.reader or "not read")
    software = ET.SubElement(step, "processingSoftware")
    ET.SubElement(software, "softwareName").text = "benchfolio"
    layout = ET.SubElement(root, "Layout")
    size = {"WIDTH": str(reading.width_px), "HEIGHT": str(reading.height_px)}
    numbers = {"ID": "P1", "PHYSICAL_IMG_NR": str(page), "PROCESSINGREFS": "READ"}
    sheet = ET.SubElement(
        layout, "Page", {**numbers, **size, "PC": f"{min(max(reading.confidence, 0), 1):.3f}"}
    )
    space = ET.SubElement(sheet, "PrintSpace", {"HPOS": "0", "VPOS": "0", **size})
    if reading.words:
        whole = row_box(reading.words)
        block = ET.SubElement(space, "TextBlock", {"ID": "B1", **_place(whole, reading)})
        for at, row in enumerate(reading.lines, 1):
            place = _place(row_box(row), reading)
            line = ET.SubElement(block, "TextLine", {"ID": f"L{at}", **place})
            for number, word in enumerate(row, 1):
                if number > 1:
                    ET.SubElement(line, "SP")
                said = ET.SubElement(
                    line,
                    "String",
                    {
                        "ID": f"L{at}W{number}",
                        **_place(word.box, reading),
                        "CONTENT": plain(word.text),
                        "WC": f"{min(max(word.confidence, 0), 1):.3f}",
                    },
                )
                if word.printed:
                    ET.SubElement(said, "ALTERNATIVE").text = plain(word.printed)
    ET.indent(root)
    text = ET.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'


def _place(box: Box, reading: PageReading) -> dict[str, str]:
    left, top, right, bottom = rounded(box, reading)
    return {
        "HPOS": str(left),
        "VPOS": str(top),
        "WIDTH": str(right - left),
        "HEIGHT": str(bottom - top),
    }
