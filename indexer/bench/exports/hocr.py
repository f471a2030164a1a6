"""A page's reading as hOCR: XHTML whose elements carry boxes and confidence (hOCR 1.2)."""

from xml.etree import ElementTree as ET

from indexer.bench.exports.plain import plain, rounded, row_box
from indexer.model import PageReading

_XHTML = "http://www.w3.org/1999/xhtml"
_DOCTYPE = (
    '<!DOCTYPE html PUBLIC "-//W3C//DTD XHTML 1.0 Transitional//EN"'
    ' "http://www.w3.org/TR/xhtml1/DTD/xhtml1-transitional.dtd">'
)


def hocr(reading: PageReading, file: str, page: int) -> str:
    """The reading of page `page` (from 1) of `file` as an hOCR document.

    Boxes are pixels of the upright, straightened picture; `x_wconf` is 0 to 100. `ppageno`
    counts from 0, as hOCR has it.
    """
    root = ET.Element("html", {"xmlns": _XHTML, "xml:lang": "en", "lang": "en"})
    head = ET.SubElement(root, "head")
    ET.SubElement(head, "title").text = plain(f"{file}, page {page}")
    for name, content in (
        ("ocr-system", f"benchfolio ({reading.reader or 'not read'})"),
        ("ocr-capabilities", "ocr_page ocr_line ocrx_word ocrp_wconf"),
        ("ocr-number-of-pages", "1"),
    ):
        ET.SubElement(head, "meta", {"name": name, "content": content})
    body = ET.SubElement(root, "body")
    image = plain(file).replace("\\", "/").replace('"', "'")
    box = f"bbox 0 0 {reading.width_px} {reading.height_px}"
    sheet = ET.SubElement(
        body,
        "div",
        {
            "class": "ocr_page",
            "id": "page_1",
            "title": f'image "{image}"; {box}; ppageno {page - 1}',
        },
    )
    number = 0
    for at, row in enumerate(reading.lines, 1):
        line = ET.SubElement(
            sheet,
            "span",
            {
                "class": "ocr_line",
                "id": f"line_1_{at}",
                "title": "bbox {} {} {} {}".format(*rounded(row_box(row), reading)),
            },
        )
        for word in row:
            number += 1
            place = "bbox {} {} {} {}".format(*rounded(word.box, reading))
            title = f"{place}; x_wconf {round(100 * min(max(word.confidence, 0), 1))}"
            span = ET.SubElement(
                line, "span", {"class": "ocrx_word", "id": f"word_1_{number}", "title": title}
            )
            span.text, span.tail = plain(word.text), " "
        line.tail = "\n"
    text = ET.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{_DOCTYPE}\n{text}\n'
