"""`python -m tests.speed.packet`: time and memory of a packet of 10 pages, then with fold-outs.

Exits with 1 beyond 2 s for ten pages, or beyond 300 MB with fold-outs of 134 million pixels
(60 x 40 cm at 600 dpi) among them.
"""

import resource
import sys
import tempfile
import time
from pathlib import Path

from PIL import Image, ImageDraw

from indexer.bench.packet import write_packet
from tests.bench.packet_pages import JOB, jpeg, page, reading, tiff, vector_pdf

MOST_S, MOST_MB = 2.0, 300
FOLDOUT_PX = (14_170, 9_450)


def main() -> int:
    """Writes both packets; 0 when within the bounds."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        fold = folder / "fold.tif"
        if len(sys.argv) < 2:  # drawn by a process of its own, so as not to count its memory
            import subprocess

            made = subprocess.run([sys.executable, "-m", "tests.speed.packet", name], check=False)
            if made.returncode:
                return made.returncode
        else:
            _draw(Path(sys.argv[1]))
            return 0
        pages = [
            *(page(jpeg_, 1, reading(jpeg_.stem)) for jpeg_ in sorted(folder.glob("JPEG*.jpg"))),
            *(page(folder / "FAX0.tif", n, reading(f"FAX{n - 1}")) for n in (1, 2, 3)),
            *(page(pdf, 1, reading(pdf.stem)) for pdf in sorted(folder.glob("VECTOR*.pdf"))),
        ]
        started = time.perf_counter()
        write_packet(folder / "p.pdf", JOB, None, pages, [])
        ten_s = time.perf_counter() - started
        started = time.perf_counter()
        folded = [*pages, *(page(fold, 1, reading("FOLD", size=FOLDOUT_PX)) for _ in range(2))]
        write_packet(folder / "p2.pdf", JOB, None, folded, [])
        folded_s = time.perf_counter() - started
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{len(pages)} pages: {ten_s:.2f} s; with two fold-outs: {folded_s:.2f} s")
    print(f"peak memory: {peak_mb:.0f} MB")
    return int(ten_s > MOST_S or peak_mb > MOST_MB)


def _draw(folder: Path) -> None:
    for number in range(4):
        jpeg(folder, f"JPEG{number}", turn=90 * (number % 2), border=50)
        if number < 3:
            vector_pdf(folder, f"VECTOR{number}")
    tiff(folder, "FAX0", "FAX1", "FAX2")
    picture = Image.new("1", FOLDOUT_PX, 1)
    pen = ImageDraw.Draw(picture)
    for at in range(200, FOLDOUT_PX[0] - 200, 150):
        pen.line((at, 300, at + 100, 9_000), fill=0, width=9)
    picture.save(folder / "fold.tif", compression="group4", dpi=(600, 600))


if __name__ == "__main__":
    sys.exit(main())
