"""What is running when the plug is pulled. Each says a line for every promise it made.

Run as `python -m tests.endurance.actors WHAT HOME`; a line is written only once the call that
makes the change has come back, so everything said must be there afterwards.
"""

import json
import sys
from itertools import count
from pathlib import Path

from indexer import BenchfolioError, Library
from indexer.store.entries import PageCard


def say(what: str, *values: object) -> None:
    print(json.dumps([what, *values]), flush=True)


def _page(library: Library) -> PageCard:
    """Any page of an entry; `index` beside it may replace entries at any moment."""
    while True:
        for entry in library.all_entries():
            if cards := library.entries.cards(entry.id):
                return cards[0]


def job(home: Path, run: str) -> None:
    """Jobs opened, noted, marked, read, closed; spares put in."""
    with Library(home) as library:
        entries = list(library.all_entries())
        page = _page(library)
        say("ready")
        for n in count():
            opened = library.open_job(f"job {run}-{n}", entries[n % len(entries)], "hum")
            say("job", opened.id, opened.title)
            library.note(opened.id, f"note {run}-{n}")
            say("note", opened.id, f"note {run}-{n}")
            library.mark(opened.id, [page], f"why {run}-{n}")
            say("mark", opened.id, f"why {run}-{n}")
            library.take_reading(opened.id, "R7", "470K")
            say("reading", opened.id)
            library.add_spare("12BE6", 1, f"drawer {run}-{n}")
            say("spare", f"drawer {run}-{n}")


def correct(home: Path, run: str) -> None:
    """Years of sets corrected, a correction now and then taken back."""
    with Library(home) as library:
        say("ready")
        for n in count():
            entries = list(library.all_entries())
            try:
                change = library.correct(entries[n % len(entries)].id, year=1930 + n % 30)
            except BenchfolioError:  # `index` beside it has just replaced that entry
                continue
            done = change.corrections[0].id
            say("correction", done, str(1930 + n % 30))
            if n % 5 == 4:
                library.undo_correction(done)
                say("undone", done)


def backup(home: Path, run: str) -> None:
    """A note, then a copy that must hold it."""
    with Library(home) as library:
        kept = library.open_job(f"kept {run}")
        say("job", kept.id, kept.title)
        say("ready")
        for n in count():
            library.note(kept.id, f"note {run}-{n}")
            say("note", kept.id, f"note {run}-{n}")
            target = home / "copies" / f"{run}-{n}.db"
            library.back_up(target)
            say("copy", target.name, f"note {run}-{n}")


def index(home: Path, run: str) -> None:
    """The shelf read again and again, a few notes changed each time."""
    shelf = home.parent / "shelf"
    say("ready")
    for n in count():
        for k in range(4):
            number = (n * 4 + k) % 24
            text = f"MODEL {number + 10}T{n % 90}\nTILLBROOK RADIO\nTUBES: 12BE6 12BA6 35W4\n{run}"
            part = shelf / ".part"  # a kill between the two must not leave half a note
            part.write_text(text)
            part.replace(shelf / f"set {number}.txt")
        with Library(home) as library:
            library.index([shelf], workers=1)
        say("indexed")


if __name__ == "__main__":
    ACTORS = {"job": job, "correct": correct, "backup": backup, "index": index}
    ACTORS[sys.argv[1]](Path(sys.argv[2]), sys.argv[3])
