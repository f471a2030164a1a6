"""A word misread for another: which word was likely printed, by the shapes of letters, by how
usual words are and by the words on either side."""

import math
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from indexer.trade.language import is_word, share, share_after

EDGE = ".,;:()[]\"'‘’“”*·•"
_SIGNS = str.maketrans("¢øə", "coa")
_LETTERS = "abcdefghijklmnopqrstuvwxyz"
# Letters that worn type makes alike (read: printed); common practice, no source.
_ALIKE = {
    "a": "oeugs", "b": "hd", "c": "eo", "d": "clb", "e": "caosnt", "f": "ti", "g": "qcde",
    "h": "bnk", "i": "ltj", "j": "ti", "k": "h", "l": "tib", "m": "n", "n": "hurm", "o": "aec",
    "q": "g", "r": "tniv", "s": "aez", "t": "flrije", "u": "nav", "v": "yu", "w": "v", "x": "k",
    "y": "v", "!": "li", "1": "li", "|": "li", "(": "t", "{": "t", "0": "o", "5": "s", "6": "b",
}  # fmt: skip
_PAIRS = (
    ("rn", "m"), ("in", "m"), ("m", "rn"), ("m", "ni"), ("cl", "d"), ("d", "cl"), ("ol", "d"),
    ("ii", "u"), ("ri", "n"), ("n", "ri"), ("ti", "u"), ("u", "ti"), ("tr", "u"), ("u", "tr"),
    ("li", "h"), ("h", "li"), ("ti", "h"), ("lc", "k"), ("ci", "a"), ("vv", "w"), ("av", "w"),
    ("iv", "w"), ("fi", "h"), ("it", "t"), ("ir", "n"), ("t", "tt"), ("l", "ll"), ("o'", "o"),
)  # fmt: skip
# How unlikely a slip is, in natural logarithms: by how sure the reader was of the word, and more
# for a pair of letters, a letter lost or put in, one for another unlike it, or a second slip.
_BY_SURENESS = ((0.6, 2.0), (0.75, 3.0), (0.88, 4.0), (0.95, 5.0))
_WHEN_SURE = 6.0
_LIKE, _PAIR, _MORE, _ANY, _SECOND = 1.0, 1.5, 3.2, 4.0, 1.5
_TWICE = 5  # letters from which a word may hold two slips
_LONGEST = 20  # letters of a word that is looked at: more are words run together
_REPEATED = 2.0  # what a word gains that stands elsewhere on the page
_MARGIN, _MARGIN_OF_WORD = 1.0, 3.0  # over the next best; over a word that is one as it stands
_SURE_OF_WORD = 0.9  # from here on a word that is one is left
# What a text that is no word has for itself, in natural logarithms: a reader that is sure of it
# may have seen a word that no list holds.
_NO_WORD = ((0.8, -23.0), (0.9, -21.5), (0.95, -20.0))
_NO_WORD_WHEN_SURE = -18.5
_LEAST_SHARE, _LEAST_LONG, _LONG = 1e-6, 3e-8, 6  # of the words taken; of those of six letters on
# Two letters are made only one of these.
_SHORTEST = frozenset(
    {"of", "to", "in", "is", "it", "at", "an", "as", "be", "by", "if", "no", "on", "or", "so", "up"}
)


@dataclass(frozen=True, slots=True)
class Place:
    """Where a word stands: the words on either side in small letters, "" where there is none, and
    how sure (0 to 1) the reader was of it."""

    before: str
    after: str
    confidence: float


def plain(text: str) -> str:
    """A word's own letters: small, without accents, nor signs at its ends."""
    flat = unicodedata.normalize("NFKD", text.strip(EDGE).lower().translate(_SIGNS))
    return "".join(c for c in flat if not unicodedata.combining(c))


def printed_word(core: str, place: Place, elsewhere: frozenset[str] = frozenset()) -> str:
    """The word that a misread one most likely is, in small letters; itself when nothing is
    likelier. `core` is as `plain` gives it; `elsewhere` are words the page repeats."""
    if len(core) > _LONGEST:
        return core
    known = is_word(core)
    if core in elsewhere or (known and place.confidence >= _SURE_OF_WORD):
        return core
    alone = next((own for below, own in _NO_WORD if place.confidence < below), _NO_WORD_WHEN_SURE)
    own = _likelihood(core, place) if known else alone
    slip = next((cost for below, cost in _BY_SURENESS if place.confidence < below), _WHEN_SURE)
    ranked = sorted(
        (
            (_likelihood(word, place) + _REPEATED * (word in elsewhere) - slip - cost, word)
            for word, cost in _like(core, elsewhere)
        ),
        reverse=True,
    )
    if not ranked:
        return core
    best, word = ranked[0]
    margin = _MARGIN_OF_WORD if known else 0.0
    if best < own + margin or (len(ranked) > 1 and best < ranked[1][0] + _MARGIN):
        return core
    if len(core) <= 2 and (word not in _SHORTEST or not (place.before and place.after)):
        return core
    least = _LEAST_LONG if len(word) >= _LONG else _LEAST_SHARE
    return word if word in elsewhere or share(word) >= least else core


def _likelihood(word: str, place: Place) -> float:
    """How likely a word is in its place, in natural logarithms."""
    likely = math.log(share_after(place.before, word))
    if place.after:
        likely += math.log(share_after(word, place.after) / share(place.after))
    return likely


@lru_cache(maxsize=16_384)
def _like(core: str, elsewhere: frozenset[str]) -> tuple[tuple[str, float], ...]:
    """(word, how unlikely the slip is) of the words that look like a text, but for itself."""
    once = _slips(core)
    found = dict(once)
    if not is_word(core):
        if len(core) >= _TWICE and not any(map(is_word, once)):
            for half, cost in once.items():
                for word, more in _slips(half).items():
                    _put(found, word, cost + more + _SECOND)
        if len(core) >= 4:
            for word, cost in _any_slip(core):
                _put(found, word, cost)
    found.pop(core, None)
    return tuple((word, cost) for word, cost in found.items() if is_word(word) or word in elsewhere)


def _slips(core: str) -> dict[str, float]:
    """Texts of which one letter or pair of letters looks like that of the text."""
    found: dict[str, float] = {}
    for n, letter in enumerate(core):
        for like in _ALIKE.get(letter, ""):
            _put(found, core[:n] + like + core[n + 1 :], _LIKE)
    for seen, meant in _PAIRS:
        at = core.find(seen)
        while at >= 0:
            _put(found, core[:at] + meant + core[at + len(seen) :], _PAIR)
            at = core.find(seen, at + 1)
    return found


def _any_slip(core: str) -> Iterable[tuple[str, float]]:
    """The text with any one letter put in, left out or put in the place of another."""
    for n in range(len(core) + 1):
        head, tail = core[:n], core[n:]
        for letter in _LETTERS:
            yield head + letter + tail, _MORE
            if tail:
                yield head + letter + tail[1:], _ANY
        if tail:
            yield head + tail[1:], _MORE


def _put(found: dict[str, float], word: str, cost: float) -> None:
    found[word] = min(cost, found.get(word, cost))
