"""Repair by knowledge: tube types misread by a letter or two, set right only on good grounds.

Grounds are how alike two types look, how often sets used a type, and the rest of the page: types
it shows elsewhere, the heaters of the set it describes, the jobs a set must have.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from indexer.model import Word
from indexer.trade.numbering import look_alikes, parse_tube
from indexer.trade.tubes import lookup
from indexer.trade.usual import familiarity, fit

_DESIGNATOR = re.compile(r"^[RCLTVSJPMFKXYZ]\s?\d{1,3}[A-Z]?$", re.IGNORECASE)
# A number that begins with a figure, or letters and figures as European types have them.
_TUBE_SHAPE = re.compile(
    r"^(?:[0-9OIlSZBG|]{1,3}[A-Z0-9]{1,2}[0-9OIlSZBG|]{1,2}(?:GT/?G?|G|A|B|C)?"
    r"|[DEHPUV][ABCFHKLMY]{1,3}[0-9OISZB]{1,3})$"
)
# What a place that surely names a tube may hold beside: 1407 for 14Q7, LAS for 1A5.
_WIDE_SHAPE = re.compile(r"^[A-Z0-9|]{3,6}(?:GT/?G?|G)?$")
_NAMING = frozenset({"MODEL", "MODELS", "CHASSIS", "CH", "NO", "PART", "SERIAL"})  # a code follows
# Words of service notes before which or after which a tube stands.
_SURELY_BEFORE_TUBE = frozenset({"TUBE", "TUBES", "VALVE", "1/2", "½"})
_BEFORE_TUBE = frozenset({"TYPE", "TYPES", "THE", "A", "OF"})
_AFTER_TUBE = frozenset({"TUBE", "TUBES", "SOCKET", "IS", "AND", "TO", "IN", "FOR", "THROUGH"})
_LIKE_SYMBOL = re.compile(r"^V[YV](\d)$")
_SYMBOL = re.compile(r"^V\d{1,2}[AB]?$")
_SYMBOL_JOINED = re.compile(r"^(V\d{1,2}[AB]?[-.:=])(\S{3,})$")
# What may be a plain number: 117 read as II7.
_NUMBER = re.compile(r"^[0-9OIlSZBG|]+$")
_SUFFIX = re.compile(r"(?<=\w{3})(?:GT/G|GT|G[ABT]?)$")
_STROKES = "1IJ|])!"  # what a line of the drawing beside a label reads like
# A type without its last figure: 12AU of 12AU7, ECC8 of ECC83.
_CUT_OFF = re.compile(r"^(?:\d{1,2}[A-Z]{2}|[DEHPUV][ABCFHKLMY]{2,3}\d)$")
_SURE = 0.6  # of a word whose repair is itself a ground for another
_NOISE = 0.3  # a word read with less is set right only to what the page shows elsewhere
_CONFIDENT, _SURE_COST = 0.85, 0.45  # a reader that is sure is corrected only by a hair
_MOST_COST = 0.8
_CLEARLY_BETTER = 0.3  # how much nearer the best type must be than the next one
_SEEN_GAIN = 0.35  # the page shows the type elsewhere
_REAL_COST, _REAL_CONFIDENCE = 0.5, 0.6  # for a real type that the page's evidence speaks against
# Old serif c reads like e: "455 ke.", "460 ke/s".
_KILOCYCLES = re.compile(r"^ke(/s[.,;:]*|[.,;:)]*)$")
_VALUE = re.compile(r"\d{2}$")
_EDGE = ".,;:()[]{}\"'*"


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the rest of a page says: each type it shows surely, with how often."""

    seen: Counter[str] = field(default_factory=Counter)

    @classmethod
    def of(cls, words: Sequence[Word]) -> "Evidence":
        """The types that a page's words name without repair and not by a hair."""
        names = (
            parse_tube(word.text.strip(_EDGE))
            for word in words
            if word.confidence >= _NOISE and not word.printed and is_known_tube(word.text)
        )
        return cls(Counter(name.base for name in names if name))

    def shows(self, text: str) -> bool:
        """Whether the page names this type elsewhere."""
        name = parse_tube(text)
        return name is not None and self.seen[name.base] > 0

    def only_one_from(self, text: str) -> str:
        """The one type seen that is the text and one figure more; "" when there is none or two."""
        longer = [k for k in self.seen if k[:-1] == text and k[-1].isdigit()]
        return longer[0] if len(longer) == 1 else ""

    def gain(self, kind: str) -> tuple[float, str]:
        """How much it speaks for a type, in the cost of look-alikes, and why."""
        if self.seen[kind]:
            return _SEEN_GAIN, "the page shows it elsewhere"
        return fit(kind, [name for name in self.seen if not name.isdigit()])


@lru_cache(maxsize=65_536)
def is_known_tube(text: str) -> bool:
    """Whether a word is, as printed, a registered tube type of the table."""
    core = text.strip(_EDGE)
    if not core or _DESIGNATOR.match(core):
        return False
    name = parse_tube(core)
    return name is not None and lookup(name.base) is not None


def without_stroke(text: str) -> str:
    """The type that a text is but for a stroke at its end, which a wire beside it may be; else
    ""."""
    core = text.strip(_EDGE)
    fits = len(core) > 3 and core[-1] in _STROKES and is_known_tube(core[:-1])
    return core[:-1] if fits else ""


def repair_word(word: Word, evidence: Evidence = Evidence(), *, named: bool = False) -> Word:
    """The word, with a misread tube type set right; what was printed and why are kept.

    A word is changed only when it has the shape of a type number but isn't one, isn't a
    reference designator, and one type is clearly nearer than any other, all grounds counted.
    `named` tells that it stands where only a tube does: then plain numbers and letters may be
    types too, if the page speaks for it. A real type is changed into another only when it was
    read badly and once, and the page shows the other.
    """
    joined = _SYMBOL_JOINED.match(word.text)
    if joined and not is_known_tube(word.text):
        rest = repair_word(replace(word, text=joined[2]), evidence, named=True)
        return changed(word, joined[1] + rest.text, rest.why) if rest.printed else word
    core = word.text.strip(_EDGE).replace("l", "I").upper()
    if core == "024":
        return changed(word, "0Z4", "no value is printed so")
    if is_known_tube(core):
        return _real(word, core, evidence)
    bare = without_stroke(core)
    if bare and (named or (len(bare) > 3 and evidence.shows(bare))):
        return changed(word, bare, "a stroke of the drawing stands against it")
    if _CUT_OFF.match(core) and (whole := evidence.only_one_from(core)):
        return changed(word, whole, "its last figure is lost, and the page shows it elsewhere")
    wide = named and bool(_WIDE_SHAPE.match(core))
    if not (wide or _worth_trying(core)) or _DESIGNATOR.match(core):
        return word
    found = _candidates(core, evidence, wide)
    most = _MOST_COST if named or word.confidence < _CONFIDENT else _SURE_COST
    found = [
        item for item in found
        if item.looks <= most + (0.15 if item.seen else 0.0)
        and (item.seen or len(item.kind) in (len(core), len(_SUFFIX.sub("", core))))
    ]  # fmt: skip
    if not found:
        return word
    best = found[0]
    doubtful = word.confidence < _NOISE or not _worth_trying(core)
    if doubtful and not best.why:
        return word
    if len(found) > 1 and found[1].cost - best.cost < _CLEARLY_BETTER - (0.1 if best.seen else 0):
        return word
    why = f"looks like it, and {best.why}" if best.why else "the only type that looks like it"
    return changed(word, best.kind, why)


def repair(words: Sequence[Word]) -> tuple[Word, ...]:
    """All words, misread tube types set right."""
    evidence = Evidence.of(words)
    repaired = []
    for n, word in enumerate(words):
        before = _plain(words[n - 1]) if n and words[n - 1].line == word.line else ""
        if before and _VALUE.search(before) and (unit := _KILOCYCLES.match(word.text)):
            repaired.append(changed(word, f"kc{unit[1]}", "the unit after a frequency"))
            continue
        if (before or (_plain(words[n - 1]) if n else "")) in _NAMING:
            repaired.append(word)
            continue
        after = words[n + 1] if n + 1 < len(words) and words[n + 1].line == word.line else None
        if (
            after is not None
            and is_known_tube(after.text)
            and (like := _LIKE_SYMBOL.match(word.text))
        ):
            why = "the symbol of the tube that follows"
            repaired.append(changed(word, f"V{like[1]}", why) if not before else word)
            continue
        named = bool(_SYMBOL.match(before)) or before in _SURELY_BEFORE_TUBE or (
            before in _BEFORE_TUBE and after is not None and _plain(after) in _AFTER_TUBE
        )  # fmt: skip
        repaired.append(repair_word(word, evidence, named=named))
    return _with_last_figures(repaired, evidence)


def _with_last_figures(words: list[Word], evidence: Evidence) -> tuple[Word, ...]:
    """Types that lost their last figure, set right by those that were themselves repaired: both
    halves of a tube may be read badly, each in its way."""
    names = [parse_tube(word.text) for word in words if word.printed and word.confidence >= _SURE]
    wider = Evidence(evidence.seen + Counter(name.base for name in names if name))
    if wider.seen == evidence.seen:
        return tuple(words)
    return tuple(
        repair_word(word, wider) if not word.printed and _CUT_OFF.match(word.text) else word
        for word in words
    )


@dataclass(frozen=True, slots=True)
class _Candidate:
    kind: str
    looks: float
    cost: float
    seen: bool
    why: str


def _candidates(core: str, evidence: Evidence, wide: bool) -> list[_Candidate]:
    """Types a print may mean, all grounds counted, cheapest first."""
    found = []
    for kind, looks in look_alikes(core):
        if not wide and kind[0].isdigit() != (core[0] in "0123456789OILSZBG|"):
            continue
        if wide and kind.isdigit():
            continue
        gain, why = evidence.gain(kind)
        cost = looks - familiarity(kind) - gain
        found.append(_Candidate(kind, looks, cost, bool(evidence.seen[kind]), why))
    return sorted(found, key=lambda item: (item.cost, item.kind))


def _real(word: Word, core: str, evidence: Evidence) -> Word:
    """A real type stays, unless it was read badly and once and the page shows its look-alike."""
    name = parse_tube(core)
    if (
        name is None
        or word.confidence >= _REAL_CONFIDENCE
        or evidence.seen[name.base] > 1
        or familiarity(name.base)
    ):
        return word
    near = [
        kind for kind, looks in look_alikes(core)
        if kind != name.base and looks <= _REAL_COST and evidence.seen[kind]
    ]  # fmt: skip
    if len(near) != 1:
        return word
    return changed(word, near[0], "read badly, and the page shows this look-alike elsewhere")


def _plain(word: Word) -> str:
    return word.text.strip(".:,").upper()


def _worth_trying(core: str) -> bool:
    return (
        bool(_TUBE_SHAPE.match(core))
        and not _DESIGNATOR.match(core)
        and not _NUMBER.match(core)
        and any(c.isdigit() for c in core)
        and any(not c.isdigit() for c in core)
        and len(core) >= 3
    )


def changed(word: Word, text: str, why: str) -> Word:
    """The word with another text; how it was read first, and why it was changed, kept in it."""
    return replace(word, text=text, printed=word.printed or word.text, why=why)
