"""Corrections as lines for people."""

from collections.abc import Callable

from indexer.model import PageRef
from indexer.store.corrections import FIELDS, Correction

Where = Callable[[PageRef], str]  # "annual.pdf page 4", "" for a page that is not on the shelf
_NAMES = {"models": "model", "year": "year"}


def line(correction: Correction, where: Where) -> str:
    """What was said, of which page, in one line."""
    first = correction.page or next(iter(correction.pages), None)
    place = (where(first) if first else "") or correction.file or "a page"
    codes = ", ".join(correction.codes[:3])
    subject = f"{codes} on {place}" if codes and correction.what != "kinds" else place
    given = ", ".join(correction.values)
    if correction.what in FIELDS:
        name = _NAMES.get(correction.what, correction.what)
        return f"{name} of {subject}: {given or 'none'}"
    if correction.what == "kinds":
        return f"kinds of {place}: {given or 'none'}"
    if correction.what == "looked at":
        return f"looked at {subject}: {given or 'nothing doubtful'}"
    if correction.what == "not an entry":
        return f"{subject} is not an entry"
    if correction.what == "split":
        second = f", {given} being the second" if given else ""
        both = ", which belongs to both" if correction.other else ""
        return f"split {codes or 'the entry'} at {place}{both}{second}"
    other = ", ".join(correction.other_codes[:3])
    target = other or where(correction.other[0]) or "an entry"
    if correction.what == "join":
        return f"joined {target} to {subject}"
    if correction.what == "share":
        return f"{place} belongs to {target} as well"
    return f"moved {place} to {target}"
