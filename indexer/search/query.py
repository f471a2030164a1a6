"""A question as typed, understood: what in it is a maker, a code, a tube, a year, a word."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from indexer.errors import UsageError
from indexer.limits import MAX_QUERY_CHARS, MAX_QUERY_TUBES
from indexer.search.slips import is_rubbed
from indexer.trade.code_distance import distance
from indexer.trade.codes import CodeClass, classify, fold, normal
from indexer.trade.numbering import TubeToken, parse_line_up, registered
from indexer.trade.tube_names import squeezed
from indexer.trade.tubes import all_tubes

_YEAR = re.compile(r"^19[2-6]\d$")
_LABELS = {"MODEL", "MODELS", "NO", "NO.", "NUMBER", "TYPE", "TUBES", "TUBE", "YEAR", "RADIO"}
_CHASSIS = {"CHASSIS", "CHAS", "CHAS.", "CH", "CH."}
_ENDS = ",;:\"'()"
_MAKER_CHARS = 5  # shorter names are too near to other words to be mended
_UNREAD = re.compile(r"\?+")
_COUNTS = re.compile(r"\(?\d[X×-]?\)?|[X×]\d|TWO|THREE|FOUR|PAIR|OF|AND|OR|TYPES?|TUBES?", re.I)
_MAX_FITS = 40  # types that one with rubbed characters may stand for
_MAKER_SLIPS = 1.0  # distance under which a word is taken for a maker's name


@dataclass(frozen=True, slots=True)
class Query:
    """What is asked for. Codes may be models or chassis numbers unless said outright.

    `joined` are codes that neighbouring words would make together ("CH" "41 A"); `doubtful` are
    tubes and years that may be model numbers instead.
    """

    text: str = ""
    makers: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    models: tuple[str, ...] = ()
    chassis: tuple[str, ...] = ()
    tubes: tuple[str, ...] = ()
    year: int | None = None
    words: tuple[str, ...] = ()
    joined: tuple[str, ...] = ()
    doubtful: tuple[str, ...] = ()
    unread: int = 0  # tubes marked as there, but not read

    def as_dict(self) -> dict[str, object]:
        """How the question was understood, for showing."""
        return {
            "text": self.text,
            "makers": list(self.makers),
            "codes": list(self.codes),
            "models": list(self.models),
            "chassis": list(self.chassis),
            "tubes": list(self.tubes),
            "year": self.year,
            "words": list(self.words),
        }

    def plus(self, other: "Query") -> "Query":
        """Both questions as one; what stands in both is asked once, tubes excepted."""

        def both(one: tuple[str, ...], two: tuple[str, ...]) -> tuple[str, ...]:
            return tuple(dict.fromkeys((*one, *two)))

        return replace(
            self,
            text=f"{self.text} {other.text}".strip(),
            makers=both(self.makers, other.makers),
            codes=both(self.codes, other.codes),
            models=both(self.models, other.models),
            chassis=both(self.chassis, other.chassis),
            tubes=self.tubes + other.tubes,
            year=self.year or other.year,
            words=both(self.words, other.words),
            joined=both(self.joined, other.joined),
            doubtful=both(self.doubtful, other.doubtful),
            unread=self.unread + other.unread,
        )


@dataclass
class _Parts:
    makers: list[str] = field(default_factory=list)
    codes: list[str] = field(default_factory=list)
    models: list[str] = field(default_factory=list)
    chassis: list[str] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    joined: list[str] = field(default_factory=list)
    year: int | None = None


def understand(text: str, makers: Mapping[str, str] | None = None) -> Query:
    """The parts of a typed question, in any order and case. `makers` maps folded names to names.

    Raises UsageError for an empty question or one longer than MAX_QUERY_CHARS.
    """
    shown = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    if not normal(shown):
        raise UsageError(
            "The question has no letter or digit in it.",
            "Give a maker, model, chassis, tubes or words.",
        )
    if len(shown) > MAX_QUERY_CHARS:
        raise UsageError(
            f"The question has {len(shown)} characters; {MAX_QUERY_CHARS} is the most.",
            "Ask for what stands on the label.",
        )
    unread = unread_in(shown)
    shown = " ".join(word for word in shown.split() if not _UNREAD.fullmatch(word.strip(",")))
    tokens = [token for token in parse_line_up(shown) if not _is_labelled(shown, token)]
    tubes = tubes_of(tokens)
    rest = list(shown)
    for token in tokens:
        rest[token.start : token.end] = " " * (token.end - token.start)
    if len(tubes) > MAX_QUERY_TUBES:
        raise UsageError(
            f"{len(tubes)} tubes are asked for; {MAX_QUERY_TUBES} is the most.",
            "Give the tubes of one set.",
        )
    parts = _sort_words("".join(rest).split(), makers or {})
    doubtful = [token.printed for token in tokens] if len(tokens) < 3 else []
    doubtful += [str(parts.year)] if parts.year else []
    return Query(
        shown,
        tuple(dict.fromkeys(parts.makers)),
        tuple(dict.fromkeys(parts.codes)),
        tuple(dict.fromkeys(parts.models)),
        tuple(dict.fromkeys(parts.chassis)),
        tuple(tubes),
        parts.year,
        tuple(parts.words),
        tuple(dict.fromkeys(parts.joined)),
        tuple(doubtful),
        unread if tubes else 0,
    )


def tubes_of(tokens: Sequence[TubeToken]) -> list[str]:
    """The types that tokens name, repeats kept, alternatives joined by a slash."""
    out: list[str] = []
    for token in tokens:
        out += ["/".join((token.type, *token.alternatives))] * token.count
    return out


def _is_labelled(text: str, token: TubeToken) -> bool:
    """Whether the word before says that this is a model or chassis number, whatever it looks."""
    before = text[: token.start].upper().rstrip(" :.#").split()
    if before and before[-1] in ("NO", "NUMBER") and len(before) > 1:
        before.pop()
    return bool(before) and (before[-1] in _CHASSIS or before[-1] in ("MODEL", "MODELS"))


def _sort_words(raw: Sequence[str], makers: Mapping[str, str]) -> _Parts:
    parts = _Parts()
    words = [word for r in raw if (word := r.strip(_ENDS)) and normal(word)]
    after = ""
    skip = 0
    for at, word in enumerate(words):
        upper = word.upper()
        if skip:
            skip -= 1
            continue
        two = f"{word} {words[at + 1]}" if at + 1 < len(words) else ""
        if two and fold(two) in makers:
            parts.makers.append(makers[fold(two)])
            skip = 1
        elif upper in _CHASSIS:
            after = "chassis"
        elif upper in _LABELS:
            after = "model" if upper.startswith("MODEL") else after
        elif fold(word) in makers:
            parts.makers.append(makers[fold(word)])
        elif _YEAR.match(word) and not after:
            parts.year = int(word)
        elif after and (_is_code(word) or not _is_code(two.partition(" ")[2])):
            (parts.chassis if after == "chassis" else parts.models).append(word)
            if words[at - 1].upper().startswith("CH") and len(words[at - 1]) <= 3:
                parts.joined.append(f"CH-{word}")  # "CH 41A" may be how the number begins
            _join(parts, words, at)
            after = ""
        elif _is_code(word):
            parts.codes.append(word)
            _join(parts, words, at)
        elif (near := _near_maker(word, makers)) is not None:
            parts.makers.append(near)
        else:
            parts.words.append(word)
    return parts


def _join(parts: _Parts, words: Sequence[str], at: int) -> None:
    """Codes that this word makes with a neighbour: "5D 10", "88 K", "U 510"."""
    for one, other in ((at - 1, at), (at, at + 1)):
        if one < 0 or other >= len(words):
            continue
        a, b = words[one], words[other]
        if a.upper() in _LABELS | _CHASSIS or b.upper() in _LABELS | _CHASSIS:
            continue
        if len(a) <= 4 and len(b) <= 6 and not (_YEAR.match(a) or _YEAR.match(b)):
            parts.joined.append(a + b if a[-1:].isalpha() or b[:1].isalpha() else f"{a}-{b}")


def _near_maker(word: str, makers: Mapping[str, str]) -> str | None:
    if len(word) < _MAKER_CHARS or not word.isalpha():
        return None
    near = [(distance(word, name), name) for name in makers.values() if _like(word, name)]
    best = min(near, default=None)
    return best[1] if best and best[0] <= _MAKER_SLIPS else None


def _like(word: str, name: str) -> bool:
    return abs(len(name) - len(word)) <= 1 and (
        name[:1].upper() == word[:1].upper() or name[-2:].upper() == word[-2:].upper()
    )


def _is_code(word: str) -> bool:
    """Any number that is no tube, year or frequency: who asks for a set gives its numbers."""
    if is_rubbed(word):
        return True
    return any(c.isdigit() for c in word) and classify(word) is not CodeClass.FREQUENCY


def tubes_in(text: str) -> list[str]:
    """The registered types named in a text, repeats kept; of a type with a rubbed character, as
    "12A?6", those it may be, joined by slashes. A "?" alone, a tube not read, is left out: see
    `unread_in`.

    Raises UsageError for a word that is no tube type, and for an empty text.
    """
    words = [word for word in text.replace(",", " ").split() if not _UNREAD.fullmatch(word)]
    rubbed = [word for word in words if is_rubbed(word)]
    plain = " ".join(word for word in words if word not in rubbed)
    rest = list(plain)
    found: list[str] = []
    offered: set[str] = set()
    for token in parse_line_up(plain):
        found += ["/".join((token.type, *token.alternatives))] * token.count
        offered.update(token.alternatives)
        rest[token.start : token.end] = " " * (token.end - token.start)
    for word in "".join(rest).replace("/", " ").split():
        if normal(word) and registered(word) not in offered and not _COUNTS.fullmatch(word):
            raise UsageError(
                f"{word} is not a tube type known here.",
                "Check the spelling, put ? for what you can't read, or leave it out.",
            )
    found += [_rubbed_type(word) for word in rubbed]
    if not found:
        raise UsageError("No tube type is given.", "Example: benchfolio kin 12BE6 12BA6")
    if len(found) > MAX_QUERY_TUBES:
        raise UsageError(f"{len(found)} tubes are given; {MAX_QUERY_TUBES} is the most.")
    return found


def unread_in(text: str) -> int:
    """How many tubes of a list are only marked as there: each "?" that stands alone."""
    return sum(bool(_UNREAD.fullmatch(word)) for word in text.replace(",", " ").split())


def _rubbed_type(word: str) -> str:
    """The types that a type with rubbed characters may be, "12AT6/12AV6"; one sign for each."""
    pattern = re.compile(re.sub(r"\\?[?*_#]", "[0-9A-Z]", re.escape(squeezed(word))))
    fits = sorted(name for name in all_tubes() if pattern.fullmatch(name))
    if not fits:
        raise UsageError(
            f"No tube type known here fits {word}.", "Put one ? for each character you can't read."
        )
    if len(fits) > _MAX_FITS:
        raise UsageError(
            f"{word} fits {len(fits)} tube types.", "Give one character more, or a ? for the tube."
        )
    return "/".join(fits)
