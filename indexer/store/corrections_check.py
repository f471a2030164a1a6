"""What a correction may hold; values brought into one form. Pure."""

from collections.abc import Iterable
from dataclasses import replace

from indexer.errors import UsageError
from indexer.limits import MAX_CORRECTED_PAGES, MAX_CORRECTION_CHARS, MAX_CORRECTION_VALUES
from indexer.model import PageKind
from indexer.store.corrections import WHATS, Correction
from indexer.trade.numbering import parse_tube
from indexer.trade.tubes import lookup

YEARS = range(1920, 1970)  # the sets meant were made in them
_TEXTS = frozenset({"maker", "models", "chassis", "looked at", "split"})
_WITH_PAGE = frozenset({"kinds", "split", "move", "share"})
_WITH_OTHER = frozenset({"join", "move", "share"})
_WITH_ENTRY = frozenset({*WHATS} - {"kinds", "move", "share", "looked at"})


def checked(correction: Correction) -> Correction:
    """The correction with its values in their one form. Raises UsageError for what can't be."""
    what = correction.what
    if what not in WHATS:
        raise UsageError(f"There is no correction called {what[:40] or '(nothing)'}.")
    missing = (
        (what in _WITH_ENTRY and not correction.pages)
        or (what in _WITH_PAGE and correction.page is None)
        or (what in _WITH_OTHER and not correction.other)
        or not correction.refs
    )
    if missing:
        raise UsageError(f"A correction of the sort {what} must name its pages.")
    if len(correction.refs) > MAX_CORRECTED_PAGES:
        raise UsageError(
            f"{len(correction.refs)} pages are meant; {MAX_CORRECTED_PAGES} is the most.",
            "Split the entry first.",
        )
    return replace(correction, values=values_of(what, correction.values))


def values_of(what: str, given: Iterable[str]) -> tuple[str, ...]:
    """Values as kept: blanks squeezed, empty ones gone, tubes and kinds known.

    Raises UsageError.
    """
    values = tuple(text for value in given if (text := tidy(value)))
    if len(values) > MAX_CORRECTION_VALUES:
        raise UsageError(f"{len(values)} values are given; {MAX_CORRECTION_VALUES} is the most.")
    if what == "tubes":
        return tuple(map(_tube, values))
    if what == "kinds":
        return tuple(dict.fromkeys(map(_kind, values)))
    if what == "year":
        return tuple(map(_year, values[:1]))
    if what == "maker":
        return (" ".join(values),) if values else ()
    if what in ("models", "chassis", "split"):
        return tuple(dict.fromkeys(values))
    return values if what in _TEXTS else ()


def tidy(text: str) -> str:
    """A text with runs of blanks as one and without what doesn't print. Raises UsageError."""
    plain = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    if len(plain) > MAX_CORRECTION_CHARS:
        raise UsageError(
            f"{plain[:30]}… has {len(plain)} characters; {MAX_CORRECTION_CHARS} is the most."
        )
    return plain


def _tube(text: str) -> str:
    name = parse_tube(text)
    if name is None or name.count > 1 or lookup(name.base) is None:
        raise UsageError(
            f"{text} is not a tube type known here.",
            "Give one type at a time, as often as it stands in the set: 6V6 6V6.",
        )
    return text.upper()


def _kind(text: str) -> str:
    plain = text.lower().replace("-", " ").replace("_", " ")
    for kind in PageKind:
        if plain in (kind.value, kind.value.removeprefix("cover or ")):
            return kind.value
    known = ", ".join(kind.value for kind in PageKind)
    raise UsageError(f"There is no page kind {text}.", f"Choose from: {known}.")


def _year(text: str) -> str:
    if not text.isdecimal() or not text.isascii() or int(text) not in YEARS:
        raise UsageError(f"{text} is no year from {YEARS[0]} to {YEARS[-1]}.")
    return text
