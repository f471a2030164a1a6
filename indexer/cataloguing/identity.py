"""Whose set a stretch of a page is about: maker, models, chassis.

Names and codes count where the trade prints them: after the words MODEL and CHASSIS, in mastheads
and running headers. A number in running text is not a model.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from indexer.cataloguing.headings import (
    first_clause,
    first_sentence,
    labels_completed,
    mended,
    named_first,
    sides_joined,
    without_paper,
)
from indexer.cataloguing.labelled import (
    LETTERED,
    SET_WORD,
    chassis_in,
    chassis_said,
    codes_after,
    models_in,
    until_next_label,
)
from indexer.cataloguing.labels import plain_labels
from indexer.cataloguing.makers import maker_in, named_before_code, said_in_title
from indexer.cataloguing.region import Line, Region, as_printed, squeeze
from indexer.cataloguing.titles import (
    YEARS,
    after_maker,
    alone,
    before_maker,
    codes_alone,
    named_alone,
    named_too,
    standing_large,
    typed_title,
)
from indexer.trade.codes import fold

__all__ = ["Masthead", "chassis_in", "maker_in", "mastheads", "models_in", "with_same_set"]

_HEADER_WORDS = 16  # a running header may hold maker, models and chassis in one line
_RUNNING_WORDS = 2  # lower-case words in a line that is still a heading: "through", "and"
_MASTHEAD_SHARE = 0.12  # of the page's height: how far a masthead reaches
_JOIN_SHARE = 0.06  # of the height, from the top of one line of a masthead to that of the next
_PLATE = 4.0  # heights of lettering, on a name plate's picture with few large lines
_MASTHEAD_LINES = 4  # between the lines of one masthead


@dataclass(frozen=True, slots=True)
class Masthead:
    """A heading that names a set: where it stands (0 to 1 of the height) and what it says."""

    top: float
    maker: str
    models: tuple[str, ...]
    chassis: tuple[str, ...]


def mastheads(
    lines: Sequence[Line],
    height_px: float,
    known: Sequence[str],
    *,
    typed: bool = False,
    large: bool = False,
) -> list[Masthead]:
    """Headings that name a set, top to bottom; lines that stand close together, in whatever order
    they were read, make one masthead.

    In typed notes any line that begins with MODEL or CHASSIS counts, and so does a title of
    maker and number ("# Tillbrook 5D11"). With `large` a number that only its size announces
    counts where no other does.
    """
    heads: list[Masthead] = []
    last_line = 0
    if not typed:
        lines = labels_completed(sides_joined(lines, known), height_px)
    for i, line in enumerate(lines):
        models, chassis = _codes_in_heading(line, typed, known)
        if not (models or chassis) and line.box.top < _USED_IN_SHARE * height_px:
            models = _used_in(line)
        if not (models or chassis):
            continue
        near = [
            other
            for other in lines[max(0, i - _MASTHEAD_LINES) : i + _MASTHEAD_LINES]
            if typed or abs(other.box.top - line.box.top) < _MASTHEAD_SHARE * height_px
        ]
        maker = (
            maker_in([first_sentence(line)], known)
            or maker_in(near, known)
            or _before_it(line, typed, known)
        )
        above = [
            other.box.top
            for other in near
            if other.box.top < line.box.top and maker and maker_in([other], known) == maker
        ]
        start = min([line.box.top, *above]) / max(1.0, height_px)
        models += _going_on(line, lines, models)
        head = Masthead(start, maker, models, chassis)
        reach = max(_MASTHEAD_SHARE, _PLATE * line.box.height / max(1.0, height_px))
        near_last = heads and (typed or abs(start - heads[-1].top) <= reach)
        if near_last and i - last_line <= _MASTHEAD_LINES and _may_join(heads[-1], head):
            head = joined(heads.pop(), head)
        heads.append(head)
        last_line = i
    if large and not typed and not any(head.models for head in heads):
        heads += _standing_large(lines, height_px, known)
    return heads if typed else _close_joined(heads)


def _standing_large(
    lines: Sequence[Line], height_px: float, known: Sequence[str]
) -> list[Masthead]:
    """Mastheads of the numbers that are set largest at the page's head, or alone right below the
    maker's name."""
    head = [line for line in lines if line.box.top < _MASTHEAD_SHARE * height_px]
    maker = maker_in(head, known)
    found = standing_large(lines, height_px) or [
        (line, codes)
        for above, line in pairwise(head)
        if 0 <= line.box.top - above.box.bottom <= _GOING_ON * above.box.height
        and maker_in([above], known)
        and (codes := codes_alone(line))
    ]
    return [Masthead(part.box.top / max(1.0, height_px), maker, codes, ()) for part, codes in found]


def _going_on(line: Line, lines: Sequence[Line], models: Sequence[str]) -> tuple[str, ...]:
    """The models of the line right below a heading that goes on with it."""
    reach = line.box.bottom + _GOING_ON * line.box.height
    below = (other for other in lines if line.box.bottom <= other.box.middle[1] <= reach)
    found = [code for other in below for code in named_too(as_printed(other).text, models)]
    return tuple(code for code in dict.fromkeys(found) if models and code not in models)


_GOING_ON = 1.2  # heights of a heading's lettering


def _used_in(line: Line) -> tuple[str, ...]:
    """The models that the head of a chassis's page names: "used in models 215 and 220"."""
    match = _USED_IN.match(line.text)
    return models_in(as_printed(line).text) if match and len(line.words) <= _TITLE_WORDS else ()


_USED_IN = re.compile(r"^\W*(?:AS )?(?:USED|EMPLOYED|FITTED) IN (?:THE )?MODELS?\b", re.IGNORECASE)
_USED_IN_SHARE = 0.2  # of the page's height


def _before_it(line: Line, typed: bool, known: Sequence[str]) -> str:
    """The maker that stands before the number in a heading itself."""
    if typed:
        return named_first(line, known) or said_in_title(line)
    return next(iter(named_before_code([line])), "") if line.words[0].text.isupper() else ""


def _close_joined(heads: Sequence[Masthead]) -> list[Masthead]:
    """Heads top to bottom; those that stand close together, though the reader took them far apart,
    are one."""
    kept: list[Masthead] = []
    for head in sorted(heads, key=lambda head: head.top):
        close = kept and head.top - kept[-1].top <= _JOIN_SHARE
        if close and _may_join(kept[-1], head):
            head = joined(kept.pop(), head)
        kept.append(head)
    return kept


def with_same_set(heads: Sequence[Masthead]) -> Masthead | None:
    """The first masthead with what later ones that share a code with it add, and the chassis that
    stands by itself where nothing else names a set; None without any."""
    if not heads:
        return None
    first = heads[0]
    for other in heads[1:]:
        if set(map(fold, first.models)) & set(map(fold, other.models)):
            first = joined(first, other)
    bare = [head for head in heads if not head.models and head.chassis]
    others = [head for head in heads[1:] if head.models and not _may_join(first, head)]
    if len(bare) == 1 and not (first.chassis or others) and bare[0].maker in ("", first.maker):
        first = joined(first, bare[0])
    return first


def with_chassis_said(heads: Sequence[Masthead], region: Region) -> Masthead | None:
    """The same with the chassis that the text below names, where all headings are of one set and
    none gives a chassis."""
    head = with_same_set(heads)
    if head is None or not head.models or any(one.chassis for one in heads):
        return head
    if any(not set(one.models) <= set(head.models) for one in heads):
        return head
    said = chassis_said(" ".join(line.text for line in region.lines))
    return replace(head, chassis=tuple(code for code in said if code not in head.models))


def joined(a: Masthead, b: Masthead) -> Masthead:
    """One masthead, standing where the first does, that says what both say."""
    return Masthead(
        a.top,
        a.maker or b.maker,
        tuple(dict.fromkeys(a.models + b.models)),
        tuple(dict.fromkeys(a.chassis + b.chassis)),
    )


def _codes_in_heading(
    line: Line, typed: bool, known: Sequence[str]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """(models, chassis) of a line that heads a set; both empty for any other line."""
    if typed:
        line = as_printed(line)
        if _ASIDE.search(squeeze(plain_labels(line.text))):
            return (), ()
        return models_in(line.text) or typed_title(line, known), chassis_in(line.text)
    line = first_clause(first_sentence(as_printed(line)), _SET_TITLE)
    printed = mended(without_paper(plain_labels(line.text)))
    text = squeeze(printed)
    if _ASIDE.search(text):
        return (), ()
    if first := before_maker(line, known):
        return first, chassis_in(printed)
    running = sum(
        w.text.islower() and w.text.isalpha() and w.text not in _LINKS for w in line.words
    )
    labelled = _LABELLED.search(text)
    header = (
        line.is_capitals
        or bool(_SET_TITLE.match(text))
        or (running <= _RUNNING_WORDS and bool(named_first(line, known)))
    )
    titled = running == 0 and len(line.words) <= _TITLE_WORDS
    if len(line.words) > _HEADER_WORDS or running > _RUNNING_WORDS:
        return (), ()
    if served := _SERVED.search(text):  # "Service Data for the RL20 to RL24"
        return models_in(f"MODEL {printed[served.end() :]}"), ()
    if not (header or labelled or titled):
        return (), ()
    chassis = chassis_in(printed)
    models = models_in(printed)
    if not models and (header or titled):
        models = codes_after(SET_WORD, printed) if header else ()
        models = tuple(code for code in models if code not in chassis)  # CHASSIS TYPE FX-4
        if header and not models and (plain := LETTERED.search(printed)):
            models = (plain[1],)  # "56 W" is no rating here
        models = tuple(code for code in models if not YEARS.match(code))
        models = models or after_maker(line, printed, known)
        if header and chassis and not models:  # "5D10, 5D11   CHASSIS CH-41A"
            models = alone(until_next_label(printed))
        if titled and chassis and not models:
            models = named_alone(line, printed)
    return models, tuple(code for code in chassis if code not in models)


# What is said of another set, or in an advertisement, heads nothing.
_ASIDE = re.compile(
    r"\b(SAME AS|SIMILAR TO|SEE|REFER|REPLACES|SUPERSEDES|USED IN|ALSO|PRICES?|ORDER|OUR)\b|[$]"
)
_TITLE_WORDS = 12
_LINKS = frozenset({"and", "to", "thru", "through", "or"})
_SET_TITLE = re.compile(
    r"^\W*(?:RADIO )?(?:RECEIVERS?|SETS?|RADIOS?|SUPERHET(?:ERODYNE)?S?)\W+"
    r"(?:TYPES?|NOS?\.?)?\W*\S*\d\S*$"
)
_SERVED = re.compile(
    r"^\W*(?:DEALERS?'? )?(?:SERVICE|INSTRUCTIONS?|ALIGNMENT|PARTS|NOTES|DATA|INSTALLATION)\b"
    r"[A-Z ,&]*(?:\bFOR (?:THE )?|: )(?=[A-Z]{0,4}-?\d)"
    r"|^\W*(?:ABOUT|SUBJECT|CONCERNING|BETRIFFT|OBJET)\b\W*(?:[A-Z ]{0,30} THE )?(?=[A-Z]{1,4}-?\d)"
)
_LABELLED = re.compile(
    r"^\W{0,3}(?:MODELS?|MOD\.|CHASSIS|CH(?:AS)?\.)|\b(?:MODELS?|CHASSIS)(?: NOS?\.?)? ?:"
)


def _may_join(a: Masthead, b: Masthead) -> bool:
    """Two headings close together are one masthead unless each names other models."""
    return not (a.models and b.models and not set(map(fold, a.models)) & set(map(fold, b.models)))
