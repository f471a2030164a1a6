"""How usual English words are, alone and after one another, on papers of this trade.

Counts of words and of pairs come with the package symspellpy (its lists of 82,765 words and
243,342 pairs, from Google Books Ngram data and the SCOWL word lists); words of the trade, which
are rare elsewhere, have shares of their own (common practice, no source).
"""

from collections.abc import Iterable
from functools import cache
from importlib.resources import files

from indexer.trade.vocabulary import PLAIN, SHORT, TRADE

_SINGLE, _PAIRS = (
    "frequency_dictionary_en_82_765.txt",
    "frequency_bigramdictionary_en_243_342.txt",
)
# Shares of running words: what a word of the trade or a plain one has besides its general share,
# and what of that share is left to it on these papers.
_TRADE_SHARE, _PLAIN_SHARE, _SHORT_SHARE = 1.5e-4, 3e-5, 1e-4
_OF_TRADE, _OF_PLAIN, _OF_OTHERS = 0.5, 0.8, 0.4
_NO_WORD = 1e-10
_KNOWN_PAIR = 0.8  # what a counted pair's share is trusted; the rest is for pairs not counted
_LEAST_COUNTED = 1e7  # pairs counted less often are not in the list
_FEW_WORDS, _ENGLISH = 12, 0.5  # words a language is told by; share of them that are English


@cache
def _counts(name: str) -> dict[str, int]:
    text = files("symspellpy").joinpath(name).read_text(encoding="utf-8-sig")
    rows = (line.rpartition(" ") for line in text.splitlines())
    return {said: int(count) for said, _, count in rows if said}


@cache
def _total() -> int:
    return sum(_counts(_SINGLE).values())


def is_word(text: str) -> bool:
    """Whether small letters are a word that is counted, or one of the trade."""
    return text in _counts(_SINGLE) or text in PLAIN or text in SHORT or of_trade(text)


def of_trade(text: str) -> bool:
    """Whether small letters are a word of the trade, in the singular or the plural."""
    return text in TRADE or f"{text}s" in TRADE or (text[-1:] == "s" and text[:-1] in TRADE)


@cache
def share(text: str) -> float:
    """How often (0 to 1 of running words) a word in small letters stands on such papers; hardly
    ever when it is none."""
    general = _counts(_SINGLE).get(text, 0) / _total()
    if of_trade(text):
        return _OF_TRADE * general + _TRADE_SHARE
    if text in PLAIN:
        return _OF_PLAIN * general + _PLAIN_SHARE
    if text in SHORT:
        return _OF_OTHERS * general + _SHORT_SHARE
    return _OF_OTHERS * general or _NO_WORD


@cache
def share_after(before: str, text: str) -> float:
    """How often (0 to 1) a word follows `before`; `before` is "" when that is no word."""
    alone = share(text)
    counted = _counts(_SINGLE).get(before, 0)
    if not counted:
        return alone
    if pair := _counts(_PAIRS).get(f"{before} {text}"):
        return max(alone, min(1.0, _KNOWN_PAIR * pair / counted))
    return min(alone, 0.5 * _LEAST_COUNTED / counted)


def counted_pair(before: str, text: str) -> bool:
    """Whether two words in small letters often stand one after the other."""
    return f"{before} {text}" in _counts(_PAIRS)


def is_english(words: Iterable[str]) -> bool:
    """Whether a page's words in small letters are English; one with hardly any passes."""
    long = [word for word in words if len(word) >= 3 and word.isalpha()]
    return len(long) < _FEW_WORDS or sum(map(is_word, long)) >= _ENGLISH * len(long)
