"""References of parts as lists print them (C7, R12, LS1, C8A), repaired by look-alikes and order.

A scan reads C1 as Cl, L3 as 13 and R9 as RQ. A list counts up, so the reference that comes next
in its own row of numbers settles which reading is meant.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

PREFIXES = frozenset(
    [
        "C",
        "R",
        "L",
        "T",
        "V",
        "LS",
        "SP",
        "F",
        "S",
        "SW",
        "M",
        "P",
        "PL",
        "J",
        "B",
        "VB",
        "CR",
        "X",
        "Y",
        "RV",
        "VR",
        "CH",
        "K",
        "N",
        "E",
        "Z",
        "TC",
        "SR",
        "D",
    ]
)
_MAIN = frozenset({"C", "R", "L", "T", "V"})
_DIGITS = str.maketrans("OoQDUlIi|!]JZzSsGBqg", "00000111111122556899")
_LETTERS = {
    "1": "LTI",
    "l": "L",
    "I": "L",
    "|": "L",
    "0": "C",
    "(": "C",
    "<": "C",
    "G": "C",
    "K": "R",
    "Y": "V",
    "U": "V",
    "7": "T",
    "8": "R",
    "i": "L",
    "t": "T",
    "£": "L",
}
_STRICT = re.compile(r"([A-Z]{1,2})[-.]?(\d{1,3})([A-F]?)")
_LOOSE = re.compile(r"([A-Z]{1,2})[-.]?([0-9OoQDUlIi|!\]JZzSsGBqg]{1,3})([A-F]?)")
_ITEM = re.compile(r"\(?([1-9]\d{0,2})[.,):]?")  # not ".1"
_LEAST_ITEMS = 3
_MOSTLY = 0.8
_NOISE = " .,;:'\"`_~=*@°^-—–"


@dataclass(frozen=True, slots=True, order=True)
class Reference:
    """A reference taken apart; `prefix` is "" for a bare item number. `sure` when read plainly."""

    prefix: str
    number: int
    section: str = ""
    sure: bool = True

    @property
    def text(self) -> str:
        return f"{self.prefix}{self.number}"


def clean_token(text: str) -> str:
    """The token without the specks that scans add."""
    return text.strip(_NOISE).replace("’", "")


def plain_reference(text: str) -> Reference | None:
    """A reference read without doubt, else None. "C8A" has section A."""
    found = _STRICT.fullmatch(clean_token(text).upper())
    if found and found[1] in PREFIXES and int(found[2]):
        return Reference(found[1], int(found[2]), found[3])
    return None


def candidates(text: str) -> tuple[Reference, ...]:
    """What a token may stand for, likeliest first; empty when it is no reference at all."""
    token = clean_token(text)
    plain = plain_reference(token)
    found = [plain] if plain else []
    shown = token[:1].upper() + token[1:]
    for prefix in (shown[:2].upper(), shown[:1]):
        loose = _LOOSE.fullmatch(prefix + shown[len(prefix) :])
        if loose and loose[1] == prefix and prefix in PREFIXES:
            number = loose[2].translate(_DIGITS).replace("Q", "0")
            if number.isdecimal() and int(number):
                found.append(Reference(prefix, int(number), loose[3], False))
            if "Q" in loose[2]:
                found.append(
                    Reference(
                        prefix, int(loose[2].replace("Q", "9").translate(_DIGITS)), loose[3], False
                    )
                )
    for letter in _LETTERS.get(token[:1], ""):
        rest = token[1:].translate(_DIGITS)
        if rest.isdecimal() and len(rest) <= 2 and int(rest) and letter in PREFIXES:
            found.append(Reference(letter, int(rest), "", False))
    if token.isdecimal() and len(token) <= 3 and int(token):
        found.append(Reference("", int(token)))
    return tuple(dict.fromkeys(found))


def item_number(text: str) -> int:
    """The figure of a list that numbers its items ("101", "20."), 0 for anything else."""
    found = _ITEM.fullmatch(text)
    return int(found[1]) if found else 0


def item_numbers(tokens: Sequence[str]) -> list[Reference | None]:
    """The rows' references in a list that counts its items by bare figures; [] for another."""
    numbers = [item_number(token) for token in tokens]
    read = [number for number in numbers if number]
    if len(read) < _MOSTLY * sum(bool(token) for token in tokens) or not count_up(read):
        return []
    return [Reference("", number) if number else None for number in numbers]


def count_up(numbers: Sequence[int]) -> bool:
    """Whether at least three numbers rise from row to row, but for a slip here and there."""
    rising = sum(b > a for a, b in pairwise(numbers))
    return len(numbers) >= _LEAST_ITEMS and rising >= _MOSTLY * (len(numbers) - 1)


def settle(tokens: Sequence[str], hints: Sequence[str]) -> list[Reference | None]:
    """One reference for each row of a list, in order; None where nothing fits.

    `tokens` are as read ("" where a row shows none), `hints` the prefix that the row's own words
    suggest ("" for none). A reading that continues its own prefix's count wins; a plain one that
    would repeat an earlier reference gives way to the next number.
    """
    last: dict[str, int] = {}
    taken: set[tuple[str, int, str]] = set()
    kept: list[Reference | None] = []
    for row, (token, hint) in enumerate(zip(tokens, hints, strict=True)):
        options = candidates(token)
        ahead = _ahead(tokens[row + 1 :])
        choice = _choose(token, options, hint, last, taken, ahead)
        kept.append(choice)
        if choice:
            last[choice.prefix] = choice.number
            taken.add((choice.prefix, choice.number, choice.section))
    return kept


def _ahead(tokens: Sequence[str]) -> dict[str, int]:
    """The next plainly read number of each prefix."""
    found: dict[str, int] = {}
    for token in tokens:
        plain = plain_reference(token)
        if plain:
            found.setdefault(plain.prefix, plain.number)
    return found


def _choose(
    token: str,
    options: Sequence[Reference],
    hint: str,
    last: dict[str, int],
    taken: set[tuple[str, int, str]],
    ahead: dict[str, int],
) -> Reference | None:
    free = [o for o in options if (o.prefix, o.number, o.section) not in taken]
    follows = [
        o
        for o in free
        if o.number == last.get(o.prefix, 0) + 1 or (o.section and o.number == last.get(o.prefix))
    ]
    for option in follows:
        if option.sure and (option.prefix or not hint):
            return option
    expected = _expected(token, hint, last, ahead)
    by_hint = expected is not None and expected.prefix == hint
    for option in sorted(follows, key=lambda o: (o.prefix != hint, not o.prefix)):
        if option.prefix == hint or not by_hint:
            return option
    plain = next((o for o in free if o.sure and o.prefix), None)
    if plain and plain.number < last.get(plain.prefix, 0):
        return plain  # lower than the last and not yet seen: the list doesn't only count up
    if plain and not (expected and _one_apart(token, expected) and not _fits(plain, last, ahead)):
        return plain
    if expected:
        return expected
    fitting = [o for o in free if _fits(o, last, ahead)]
    return fitting[0] if fitting else free[0] if free else None


def _fits(one: Reference, last: dict[str, int], ahead: dict[str, int]) -> bool:
    return last.get(one.prefix, 0) < one.number < ahead.get(one.prefix, 1000)


def _expected(
    token: str, hint: str, last: dict[str, int], ahead: dict[str, int]
) -> Reference | None:
    """The next number of the prefix that the row shows or suggests, when the list goes on so."""
    shown = clean_token(token)[:1].upper()
    unread = not plain_reference(token) and len(clean_token(token)) <= 3
    if unread and hint in _MAIN and hint not in last and ahead.get(hint, 2) > 1:
        return Reference(hint, 1, "", False)  # the first of its kind
    for prefix in dict.fromkeys((hint, shown)):
        if prefix in _MAIN and prefix in last:
            number = last[prefix] + 1
            if number < ahead.get(prefix, 1000) or (prefix not in ahead and shown == prefix):
                told = prefix == hint and unread
                if (
                    token
                    and not told
                    and shown != prefix
                    and prefix not in _LETTERS.get(token[:1], "")
                ):
                    continue
                return Reference(prefix, number, "", False)
    return None


def _one_apart(token: str, expected: Reference) -> bool:
    """Whether one dropped or doubled sign makes the token the expected reference."""
    read = clean_token(token).upper().translate(_DIGITS)
    want = expected.text.translate(_DIGITS)
    longer, shorter = (read, want) if len(read) > len(want) else (want, read)
    return len(longer) - len(shorter) <= 1 and any(
        longer[:i] + longer[i + 1 :] == shorter for i in range(len(longer))
    )
