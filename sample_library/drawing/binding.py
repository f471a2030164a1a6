"""Writes page images into the shelf's files, the same bytes for the same pages."""

from __future__ import annotations

import datetime
import io
import subprocess
import tempfile
from collections.abc import Sequence
from pathlib import Path

import img2pdf
import pikepdf
from PIL import Image

from .sheet import Sheet

DPI = 300


def pdf(path: Path, pages: Sequence[Image.Image], labels: Sequence[str], title: str) -> None:
    """An image-only PDF of G4 pages, its page labels equal to the printed numbers."""
    blobs = []
    for page in pages:
        out = io.BytesIO()
        page.save(out, "TIFF", compression="group4", dpi=(DPI, DPI))
        blobs.append(out.getvalue())
    when = datetime.datetime(2004, 3, 14, 10, 0, tzinfo=datetime.UTC)
    raw = img2pdf.convert(blobs, creationdate=when, moddate=when, producer="")
    with pikepdf.open(io.BytesIO(raw)) as doc:
        romans = sum(not label.isdigit() for label in labels)
        doc.Root.PageLabels = pikepdf.Dictionary(
            Nums=pikepdf.Array(
                [
                    0,
                    pikepdf.Dictionary(S=pikepdf.Name.r),
                    romans,
                    pikepdf.Dictionary(S=pikepdf.Name.D, St=int(labels[romans])),
                ]
            )
        )
        doc.docinfo["/Title"] = title
        if "/ID" in doc.trailer:  # img2pdf's is random
            del doc.trailer["/ID"]
        doc.save(path, deterministic_id=True)


def tiff(path: Path, frames: Sequence[Image.Image]) -> None:
    """A multi-frame G4 TIFF."""
    frames[0].save(
        path,
        "TIFF",
        compression="group4",
        dpi=(DPI, DPI),
        save_all=True,
        append_images=list(frames[1:]),
    )


def djvu(path: Path, pages: Sequence[Image.Image], hidden: dict[int, Sheet]) -> None:
    """A bundled DjVu; hidden gives the sheets whose lines become a text layer, by page from 1."""
    with tempfile.TemporaryDirectory() as folder:
        names = []
        for n, page in enumerate(pages, 1):
            pbm = Path(folder, f"p{n:03}.pbm")
            page.save(pbm)
            names.append(str(pbm.with_suffix(".djvu")))
            subprocess.run(["cjb2", "-dpi", str(DPI), "-lossy", str(pbm), names[-1]], check=True)
        subprocess.run(["djvm", "-c", str(path), *names], check=True)
        for n, sheet in hidden.items():
            script = Path(folder, f"t{n}.txt")
            script.write_text(_layer(sheet), encoding="utf-8")
            subprocess.run(
                ["djvused", str(path), "-e", f"select {n}; set-txt {script}", "-s"], check=True
            )


def _layer(sheet: Sheet) -> str:
    """The hidden text layer of a sheet: its lines, word by word, y counted from the foot."""
    w, h = sheet.image.size
    out = [f"(page 0 0 {w} {h}"]
    for left, top, width, size, line in sheet.lines:
        y1, y0 = round(h - top), round(h - top - size)
        per = width / max(1, len(line))
        words, at = [], 0
        for word in line.split():
            start = line.index(word, at)
            at = start + len(word)
            safe = word.replace("\\", "\\\\").replace('"', '\\"')
            words.append(
                f'(word {round(left + start * per)} {y0} {round(left + at * per)} {y1} "{safe}")'
            )
        if words:
            out.append(f"(line {round(left)} {y0} {round(left + width)} {y1} {' '.join(words)})")
    return "\n".join(out) + ")\n"


def jpeg(path: Path, image: Image.Image, quality: int = 72) -> None:
    """A JPEG at scanning resolution."""
    image.save(path, "JPEG", quality=quality, dpi=(DPI, DPI), optimize=True)


def png(path: Path, image: Image.Image) -> None:
    """A grey PNG of sixteen even levels, as a photocopier's scanner saves it."""
    levels = image.convert("L").point(lambda v: v >> 4)
    sheet = Image.frombytes("P", levels.size, levels.tobytes())
    sheet.putpalette([c for i in range(16) for c in (i * 17,) * 3])
    sheet.save(path, "PNG", bits=4, dpi=(DPI, DPI), optimize=True)
