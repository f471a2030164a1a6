"""What a missing file means: gone for good, or only out of reach just now."""

import os
from collections.abc import Collection, Iterable
from pathlib import Path

_EMPTY = (
    "is empty now; the {count} files known there are kept, in case its disk is not mounted"
    " (put any file there to have them forgotten)"
)


def is_there(path: Path) -> bool:
    """Whether the system can reach the file; False also when its disk or share doesn't answer."""
    return os.path.exists(path)  # noqa: PTH110 (Path.exists raises when a share is gone)


def gone_for_good(
    folder: Path, known: Collection[str], seen: Collection[str], unread: Iterable[str]
) -> tuple[set[str], str]:
    """Which of the known files are gone, and a reason when they are kept all the same.

    `unread` names what the walk left out; what lay under a folder that can't be read just now is
    not gone. A folder with nothing in it at all looks like a disk that is not mounted.
    """
    gone = set(known) - set(seen)
    if not gone:
        return set(), ""
    try:
        with os.scandir(folder) as listing:
            empty = next(listing, None) is None
    except OSError:
        return set(), ""  # the walk has said why
    if empty:
        return set(), _EMPTY.format(count=len(gone))
    tops = tuple(name + "/" for name in unread)
    return {name for name in gone if not name.startswith(tops)}, ""
