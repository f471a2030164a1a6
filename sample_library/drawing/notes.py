"""Notes typed by the shelf's owner."""

from __future__ import annotations

from pathlib import Path

from .sheet import Printed
from .truth import Truth

NOTE_511 = """OXBARROW ELECTRIC CO.

MODEL 511-A    table set, brown bakelite, no paper on the bottom any more
CHASSIS: 51-K (ink stamp by the volume control)

TUBES: 12BE6 12BA6 12AV6 50C5 35W4
IF 455 kc
AC/DC, live chassis, use the isolating transformer

Filter cap 40-40 mfd 150 V, replaced both sections with 47 uF 160 V.
Line cap .05 mfd was leaky.
"""
NOTE_JOB = """# Tillbrook 5D11 - hum and low volume

In from the Saturday box. Chassis stamp reads CH-41A, so the annual's pages for the 5D10 serve.

- brought up on the lamp limiter, 60 W, glow fell off as it should
- C8 50-30 mfd nearly open, put in 47 and 33
- 35W4 was weak on the tester, new one in
- 50C5 fine, plate 118 V, cathode 5.9 V
- R8 read 171 ohms against 150, left in

Plays well now. Owner told about the live chassis.
"""
NOTE_BOOK = """QUARRYDALE MODEL 38-10
Tubes: 6A8 6K7 6H6 6F5 6F6 5Y3
I.F. 470 kc. Power transformer gets hot, leave it on the limiter for an hour.
Still want the pages. Volume 2 has it, not on my shelf.
\fVANTRICE MODEL M-41
Chassis 41-2
Tubes: 6K8 6K7 6SQ7 6K6 5Y3
I.F. 455 kc. Dial lamp is a 6.3 V bayonet. Eye socket is there but no eye fitted.
"""


def _page(
    truth: Truth,
    file: str,
    number: int,
    set_id: str,
    models: list[str],
    chassis: list[str],
    tubes: list[str],
) -> None:
    what = Printed()
    what.kind("service notes", set_id)
    what.add("models", models)
    what.add("chassis", chassis)
    what.tubes(set_id, tubes)
    truth.page(file, number, None, what)


def write(shelf: Path, truth: Truth) -> None:
    """Write the notes and enter them."""
    folder = shelf / "my notes"
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in (
        ("511-A.txt", NOTE_511),
        ("5D11 hum job.md", NOTE_JOB),
        ("bench book.txt", NOTE_BOOK),
    ):
        (folder / name).write_text(text, encoding="utf-8", newline="\n")
    mini = ["12BE6", "12BA6", "12AV6", "50C5", "35W4"]
    early, late = ["6A8", "6K7", "6H6", "6F5", "6F6", "5Y3"], ["6K8", "6K7", "6SQ7", "6K6", "5Y3"]
    truth.enter(
        "note-oxbarrow-511-a", "Oxbarrow", ["511-A"], ["51-K"], mini, None, 455, "series string"
    )
    truth.enter(
        "note-tillbrook-5d11",
        "Tillbrook",
        ["5D11"],
        ["CH-41A"],
        ["35W4", "50C5"],
        None,
        None,
        "series string",
    )
    truth.enter(
        "note-quarrydale-38-10", "Quarrydale", ["38-10"], [], early, None, 470, "transformer"
    )
    truth.enter(
        "note-vantrice-m-41", "Vantrice", ["M-41"], ["41-2"], late, None, 455, "transformer"
    )
    _page(truth, "my notes/511-A.txt", 1, "note-oxbarrow-511-a", ["511-A"], ["51-K"], mini)
    _page(
        truth,
        "my notes/5D11 hum job.md",
        1,
        "note-tillbrook-5d11",
        ["5D11", "5D10"],
        ["CH-41A"],
        ["35W4", "50C5"],
    )
    _page(truth, "my notes/bench book.txt", 1, "note-quarrydale-38-10", ["38-10"], [], early)
    _page(truth, "my notes/bench book.txt", 2, "note-vantrice-m-41", ["M-41"], ["41-2"], late)
