"""Tube line-ups in running text: which words are tube types, how many of each, and where."""

import re
from dataclasses import dataclass, replace
from functools import lru_cache

from indexer.trade.line_patterns import (
    BETWEEN,
    CANDIDATE,
    COUNT_AFTER,
    COUNT_BEFORE,
    HALF,
    IN_PAIR,
    NOT_TUBE,
    OLD_HUNDREDS,
    PLURAL,
    STAMP,
    SYMBOL,
    TUBES_WORD,
    UNIT_AFTER,
    WORDS,
    is_value_and_part,
    looks_like_units,
)
from indexer.trade.tube_names import DASHES, squeezed
from indexer.trade.tubes import table_name, taken_apart
from indexer.trade.type_rules import decode_parts


@dataclass(frozen=True, slots=True)
class TubeToken:
    """One mention of a type: `text[start:end]` is the type as printed, without count or symbol.

    `type` is the registered number; `decoded` True when only the type-number rule vouches for it.
    """

    type: str
    printed: str
    start: int
    end: int
    count: int = 1
    symbol: str = ""
    half: bool = False
    alternatives: tuple[str, ...] = ()
    decoded: bool = False


_LEAST_WITH_STROKES = 4
_NEAR = 80  # characters before a type in which its count or the word "tubes" is sought


@dataclass(frozen=True, slots=True)
class _Found:
    token: TubeToken
    strength: int  # 3 the table knows it and it has letters; 2 decoded; 1 bare number or prone


def parse_line_up(text: str, *, bare_numbers: bool = True, joined: bool = True) -> list[TubeToken]:
    """Every tube type in free text, in order, repeats kept, with its count and place.

    Types of the table count anywhere except after words like "model" or before a unit. Bare
    numbers of early types (24, 45, 80) count beside other tubes, after a word like "tubes", or
    when the whole text is such a list; `bare_numbers=False` leaves them out. `joined=False` keeps
    `12 BE 6` apart. Types that only the number rule vouches for need a tube of the table in the
    same text.
    """
    upper = text.upper()
    if len(upper) != len(text):  # a letter that grows in upper case would shift the places
        upper = "".join(c.upper() if len(c.upper()) == 1 else c for c in text)
    found = _candidates(upper, text, joined)
    if any(f.strength == 3 for f in found):
        sure = {id(f) for f in found if f.strength >= 2}
    else:
        found = [f for f in found if f.strength != 2]
        sure = set()
    kept = _with_neighbours(found, sure, upper, bare_numbers)
    return _with_counts(_alternatives_joined(kept, upper), upper)


def line_up_types(text: str) -> tuple[str, ...]:
    """The registered types of a line-up in order, each as often as it is used.

    Halves of one type are put together, two to a tube.
    """
    types: list[str] = []
    halves: dict[str, int] = {}
    for token in parse_line_up(text):
        if token.half:
            halves[token.type] = halves.get(token.type, 0) + 1
            if halves[token.type] % 2 == 0:
                continue
        types.extend([token.type] * token.count)
    return tuple(types)


@lru_cache(maxsize=16384)
def _judge(kind: str, code: str) -> tuple[str, int] | None:
    """The registered type of a candidate and how much it can be trusted."""
    parts = taken_apart(code.removesuffix("P") if code.endswith("GP") else code)  # 1D5GP
    if parts is None:
        return None
    base = parts[0]
    row = table_name(base)
    if kind in {"rma", "euro"}:
        if row:
            short = re.fullmatch(r"[A-Z]{2}\d", base)  # AF3, CH1: chokes and bands look like it
            return row, 1 if short else 3
        return (base, 2) if _plausible(base) else None
    if row is None:
        return None
    if kind == "old" and code[:3].isdigit() and not base.startswith(code[:3]):
        # 245 may be volts: it needs its UX, or a list that says it speaks of tubes
        return (row, 1 if code[-1:] == "A" else 0) if OLD_HUNDREDS.match(code) else None
    prefixed = code[:1].isalpha() and kind == "old"
    return row, 3 if prefixed else 1


def _plausible(base: str) -> bool:
    """Whether a code without a row is likely a tube: later types only, as early ones have rows."""
    if decode_parts(base) is None:
        return False
    if base[0].isdigit():
        return bool(re.fullmatch(r"\d+[A-Z]{2}[3-9]|\d+[A-Z]{2}1[0-2]", base))
    return bool(re.fullmatch(r"[DEHPU][A-Z]{2,3}\d{2,3}|[EPU][A-Z](?:[89]\d|18\d|[58]\d\d)", base))


def _candidates(upper: str, text: str, joined: bool) -> list[_Found]:
    found: list[_Found] = []
    at = 0
    while True:
        match = CANDIDATE().search(upper, at)
        if not match:
            return found
        start, end = match.span()
        kind = match.lastgroup or ""
        before = upper[start - 1 : start]
        times = before in ("X", "×") and re.search(r"(?:^|[^\w.])\d[X×]$", upper[:start])
        if (before.isalnum() and not times) or (
            before == "." and upper[start - 2 : start - 1].isdigit()
        ):
            at = start + 1
            continue
        item = _accept(kind, upper, text, start, end, joined)
        if item is None and " " in match[0]:  # "24A 27" is no 24A27, but a 24A
            alone = CANDIDATE().fullmatch(upper, start, start + match[0].index(" "))
            if alone is not None:
                kind = alone.lastgroup or ""
                item = _accept(kind, upper, text, start, alone.end(), joined)
        if item is None:
            at = start + 1
        else:
            found.append(item)
            at = item.token.end


def _accept(kind: str, upper: str, text: str, start: int, end: int, joined: bool) -> _Found | None:
    while end > start and upper[end - 1] in " -‑–":
        end -= 1
    printed = upper[start:end]
    after = upper[end : end + 1]
    if after.isalnum() or (after == "." and upper[end + 1 : end + 2].isdigit()):
        return None
    gaps = printed.count(" ")
    if gaps and not joined and kind in {"rma", "euro"}:
        return None
    if gaps and kind == "rma" and is_value_and_part(printed, upper, start):
        return None
    verdict = _judge(kind, squeezed(printed) if kind != "old" else printed)
    if verdict is None or NOT_TUBE().search(upper, max(0, start - 24), start):
        return None
    type_, strength = verdict
    letters = sum(c.isalpha() for c in re.split(r"[\-/]", printed)[0])
    if gaps and kind == "euro" and strength < 3:
        return None
    if gaps and kind == "rma" and (strength < 3 or (letters < 2 and looks_like_units(printed))):
        return None
    if (kind == "old" or gaps) and UNIT_AFTER().match(upper, end):
        return None
    if kind == "old" and printed[0].isdigit() and STAMP().search(upper, max(0, start - 8), start):
        return None
    if re.match(rf"[{DASHES}]\d", upper[end : end + 2]) and not CANDIDATE().match(upper, end + 1):
        return None  # 6A8-23 is a part number
    token = TubeToken(type_, text[start:end], start, end, decoded=strength == 2)
    return _Found(token, strength)


def _with_neighbours(
    found: list[_Found], sure: set[int], upper: str, bare_numbers: bool
) -> list[TubeToken]:
    """Weak candidates stay when they touch a sure one in a list, or fill the whole text."""
    kept: list[TubeToken] = []
    run: list[_Found] = []
    for item in [*found, None]:
        if run and (item is None or not _listed(upper, run[-1].token.end, item.token.start)):
            kept.extend(_settle(run, sure, upper, bare_numbers))
            run = []
        if item is not None:
            run.append(item)
    return kept


def _listed(upper: str, end: int, start: int) -> bool:
    between = IN_PAIR().sub("", COUNT_BEFORE().sub("", upper[end:start]))
    between = SYMBOL().sub("", between)
    between = COUNT_AFTER().sub("", between)
    return bool(BETWEEN().fullmatch(between))


def _settle(run: list[_Found], sure: set[int], upper: str, bare: bool) -> list[TubeToken]:
    run = [f for f in run if f.strength] if not _of_tubes(run, upper) else run
    if not run:
        return []
    strong = any(id(f) in sure or f.strength == 3 for f in run)
    strong = strong or sum(f.token.printed[0].isalpha() for f in run) >= 3
    if not strong:
        left, right = _before_count(upper, run[0].token.start), run[-1].token.end
        fills = BETWEEN().fullmatch(upper, 0, left) and BETWEEN().fullmatch(
            COUNT_AFTER().sub("", upper[right:])
        )
        if not (bare and (fills or _said_to_be_tubes(upper, left) or _of_tubes(run, upper))):
            return []
    if strong and bare:  # a row of a voltage chart: more figures follow or precede
        after = upper[run[-1].token.end :].lstrip(" \t,").lstrip("-+.")
        before = upper[: run[0].token.start].rstrip(" \t,")
        bare = not after[:1].isdigit() and not before[-1:].isdigit()
    return [f.token for f in run if f.strength > 1 or bare or not f.token.printed[:1].isdigit()]


def _of_tubes(run: list[_Found], upper: str) -> bool:
    """Whether a run of early numbers is said to be tubes: by the word before it, by counts in
    words, or by the plural."""
    if len(run) < 2 or not run[0].token.printed[0].isdigit():
        return False
    counted = (_count_before(upper, f.token.start) for f in run)
    worded = any(found and found[4] for found in counted)
    plural = any(PLURAL().match(upper, f.token.end) for f in run)
    return worded or plural or _said_to_be_tubes(upper, _before_count(upper, run[0].token.start))


def _count_before(upper: str, at: int) -> re.Match[str] | None:
    return COUNT_BEFORE().search(upper, max(0, at - _NEAR), at)


def _before_count(upper: str, at: int) -> int:
    """Where the count that stands before a place begins; the place itself if there is none."""
    found = _count_before(upper, at)
    return found.start() if found else at


def _said_to_be_tubes(upper: str, at: int) -> bool:
    """Whether a word such as "tubes" ends at a place."""
    return bool(TUBES_WORD().search(upper, max(0, at - _NEAR), at))


def _alternatives_joined(tokens: list[TubeToken], upper: str) -> list[TubeToken]:
    """`6J5 or 6C5` and `6U5/6G5` are one tube with a choice, not two; four or more with strokes
    between them (`6A7/6D6/75/42/80`) are a line-up."""
    runs: list[list[TubeToken]] = []
    for token in tokens:
        between = upper[runs[-1][-1].end : token.start] if runs else ""
        if runs and re.fullmatch(r"\s*,?\s+OR\s+|\s?/\s?", between):
            runs[-1].append(token)
        else:
            runs.append([token])
    out: list[TubeToken] = []
    for run in runs:
        said_or = " OR " in upper[run[0].end : run[-1].start]
        if len(run) >= _LEAST_WITH_STROKES and not said_or:
            out += run
        else:
            others = tuple(t.type for t in run[1:] if t.type != run[0].type)
            out.append(replace(run[0], alternatives=(*run[0].alternatives, *others)))
    return out


def _with_counts(tokens: list[TubeToken], upper: str) -> list[TubeToken]:
    """Give each token its count, symbol and half mark from the words around it."""
    befores: list[int | None] = []
    afters: list[int | None] = []
    out: list[TubeToken] = []
    last_end, in_words = 0, False
    for token in tokens:
        before = upper[last_end : token.start]
        half = HALF().search(before)
        symbol = SYMBOL().search(before[: half.start()] if half else before)
        match = None if half or symbol else COUNT_BEFORE().search(before)
        figure = next((g for g in match.groups() if g), "") if match else ""
        if not figure and IN_PAIR().search(before) and _once(token, tokens):
            figure = "TWO"
        befores.append((WORDS.get(figure) or int(figure)) if figure else None)
        in_words |= figure in WORDS
        match = COUNT_AFTER().match(upper, token.end)
        afters.append(int(match[1] or match[2]) if match else None)
        name = squeezed(symbol[1]) if symbol else ""
        out.append(replace(token, symbol=name, half=bool(half)))
        last_end = token.end
    counting = [b for b in befores if b is not None]
    if len(counting) > 1 and not in_words and counting == list(range(1, len(counting) + 1)):
        befores = [None] * len(befores)  # a numbered list, not counts
    # "(2)" between two tubes belongs to the one before when the last tube has one after it.
    trailing = bool(afters) and afters[-1] is not None
    for place, token in enumerate(out):
        first = afters[place] if trailing else befores[place]
        second = None if trailing else (afters[place] if _free(place, befores) else None)
        count = first or second or 1
        out[place] = replace(token, count=count if 1 <= count <= 12 else 1)
    return out


def _once(token: TubeToken, tokens: list[TubeToken]) -> bool:
    return sum(other.type == token.type for other in tokens) == 1


def _free(place: int, befores: list[int | None]) -> bool:
    """Whether a count after this tube is not already the count before the next one."""
    return place + 1 >= len(befores) or befores[place + 1] is None
