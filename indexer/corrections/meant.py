"""Which entry a correction means, after reading and cataloguing may have changed everything. Pure.

The pages that the entry had then decide, and the codes it showed tell entries on a shared page
apart.
"""

from collections.abc import Sequence

from indexer.model import Entry, PageRef
from indexer.trade.codes import fold

GONE = "its page is not on the shelf"
NO_ENTRY = "no entry stands on its pages any more"
SEVERAL = "several entries stand on its page, and none shows the codes it names"


def codes_of(entry: Entry) -> tuple[str, ...]:
    """What tells an entry from its neighbours on a page."""
    return (*entry.models, *entry.chassis)


def meant(
    entries: Sequence[Entry], pages: Sequence[PageRef], codes: Sequence[str]
) -> tuple[int, str]:
    """Index of the entry that stands for `pages` and `codes`, else -1 and the reason.

    An entry that shows one of the codes is meant, the one with most of the pages first. Without
    such, the one entry that holds more than half of the pages is.
    """
    asked, named = set(pages), set(map(fold, codes))
    met = []
    for at, entry in enumerate(entries):
        shared = len(asked & set(entry.pages))
        if shared:
            same = len(named & set(map(fold, codes_of(entry))))
            met.append((same, shared / len(asked | set(entry.pages)), -at, shared))
    if not met:
        return -1, NO_ENTRY
    best = max(met)
    if best[0]:
        return -best[2], ""
    whole = [one for one in met if one[3] * 2 > len(asked)]
    if not whole:
        return -1, NO_ENTRY
    most = max(one[1] for one in whole)
    first = [one for one in whole if one[1] == most]
    return (-first[0][2], "") if len(first) == 1 else (-1, SEVERAL)
