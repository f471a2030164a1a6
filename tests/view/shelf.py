"""A small shelf drawn for the view: pages with their own text, so that reading them is quick."""

from pathlib import Path

from fpdf import FPDF

from indexer import Library

FOLDOUT_MM = (846.7, 508.0)  # 33.3 x 20 inches: 10,000 x 6,000 pixels at 300 dpi
SCRIPT = "<script>alert(1)</script>"

_FIRST = """TILLBROOK RADIO MFG. CO.
MODEL 5D10
CHASSIS CH-41A
5 TUBE A.C. - D.C. RECEIVER   ISSUED 1951
SCHEMATIC DIAGRAM
V1 12BE6 CONVERTER
V2 12BA6 I.F. AMPLIFIER
V3 12AV6 DETECTOR
V4 50C5 OUTPUT
V5 35W4 RECTIFIER
I.F. 455 KC"""
_SECOND = f"""TILLBROOK RADIO MFG. CO.   MODEL 5D10   CHASSIS CH-41A (Continued)
PARTS LIST
REF. PART NO. DESCRIPTION
C1 A-4010 .05 MFD 400 V PAPER
C2 A-4011 50-30 MFD 150 V ELECTROLYTIC
R1 B-2001 470K 1/2 W CARBON
R2 B-2002 150 OHM 1/2 W CARBON
{SCRIPT} & "quoted" 'text'"""
_THIRD = """TILLBROOK RADIO MFG. CO.   MODEL 5D10   CHASSIS CH-41A (Continued)
FOLD-OUT WIRING DIAGRAM   SCHEMATIC DIAGRAM
V1 12BE6   V2 12BA6   V3 12AV6   V4 50C5   V5 35W4"""
_NOTE = """MODEL 511-A
CHASSIS 51-K
OXBARROW RADIO CORP.
TUBES: 12BE6 12BA6 12AT6 50B5 35W4
\fMODEL 88-K
QUARRYDALE RADIO CORP.
TUBES: 6SA7 6SK7 6SQ7 6V6GT 5Y3GT
power transformer
"""


def draw(folder: Path) -> None:
    """The shelf's files: a bound manual with a fold-out, and typed notes."""
    (folder / "notes").mkdir(parents=True)
    manual = FPDF(unit="mm", format="Letter")
    manual.set_font("Helvetica", size=12)
    for text in (_FIRST, _SECOND):
        manual.add_page()
        _lines(manual, text, 9)
    manual.add_page(format=FOLDOUT_MM)
    manual.set_font("Helvetica", size=40)
    _lines(manual, _THIRD, 20)
    for row in range(40):
        for column in range(60):
            x, y = 20 + column * 13.4, 110 + row * 9.6
            manual.line(x, y, x + 9, y + 5)
            manual.rect(x, y, 3, 2)
    manual.output(str(folder / "manual.pdf"))
    (folder / "notes" / "sets.txt").write_text(_NOTE, encoding="utf-8")


def _lines(manual: FPDF, text: str, height_mm: float) -> None:
    for line in text.splitlines():
        manual.cell(0, height_mm, line, new_x="LMARGIN", new_y="NEXT")


def read(folder: Path, home: Path) -> None:
    """Reads the shelf into a home."""
    with Library(home) as library:
        library.index([folder], workers=1)
