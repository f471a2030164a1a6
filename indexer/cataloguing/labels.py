"""Words that announce something (MODEL, CHASSIS, VOLTAGE), read rightly through a reader's slips.

A letter taken for a figure spoils a word; a figure taken for a letter would spoil a code. So only
words that are plainly words are put right, and codes stay as they were read.
"""

import re
from functools import lru_cache

_LETTER = str.maketrans("015826|$", "OISBZGIS")
_LIKE_LETTERS = frozenset("015826|$")
_LABEL_WORDS = (
    "MODEL MODELS CHASSIS CHAS TYPE TYPES RECEIVER RECEIVERS RADIO SERIES MAKE MAKER STYLE SETS"
    " TUBE TUBES CORP CORPORATION COMPANY ELECTRIC INDEX CONTENTS VOLUME PAGE SERVICE MOD"
)
_LABELS = frozenset(_LABEL_WORDS.split())
# Long enough to be known with one letter misread: "Modcl", "Cbassis". Pairs are common practice.
_LONG_LABELS = frozenset({"MODEL", "MODELS", "CHASSIS", "RECEIVER", "RECEIVERS"})
_ALIKE = frozenset(
    map(frozenset, ("EC", "EO", "EA", "OA", "OC", "HB", "LI", "IT", "LT", "DO", "NU"))
)
_FIRM = re.compile(r"\bMF[6C](?=\W{1,3}C[O0]\b)")  # MFG. CO.
_MOSTLY = 0.6  # of a word's characters are letters, for it to be a word
_WORD = re.compile(r"[A-Za-z0-9|$]{4,}")
_RUN_ON = re.compile(  # MODEL3W-4, CHASSIS-4A
    r"\b(MODELS?|CHASSIS)[-.:]?(?=[A-Z]{0,2}-?\d)", re.IGNORECASE
)
_TOKEN = re.compile(r"[A-Za-z0-9|$]{3,}")


def plain_words(text: str) -> str:
    """Upper case, blanks as one, figures inside words as the letters they look like: for
    matching phrases."""
    upper = " ".join(text.upper().split())
    if _LIKE_LETTERS.isdisjoint(upper):
        return upper
    return _WORD.sub(lambda match: _as_word(match[0]), upper)


def plain_labels(text: str) -> str:
    """The text with nothing changed but the words that announce a set: "M0DEL 50A" gives
    "MODEL 50A"."""
    text = _TOKEN.sub(lambda match: _as_label(match[0]), _FIRM.sub("MFG", text))
    return _RUN_ON.sub(r"\1 ", text)


@lru_cache(maxsize=8192)
def _as_word(token: str) -> str:
    letters = sum(character.isalpha() for character in token)
    if letters == len(token) or letters < max(3, _MOSTLY * len(token)):
        return token
    return token.translate(_LETTER)


@lru_cache(maxsize=8192)
def _as_label(token: str) -> str:
    if token.isalpha():
        return _misread(token.upper()) or token
    fixed = token.upper().translate(_LETTER)
    return fixed if fixed in _LABELS else token


def _misread(word: str) -> str:
    """The label that a word is but for one letter that looks like another; "" when it is none or
    is read rightly."""
    for label in _LONG_LABELS if word not in _LABELS else ():
        wrong = [frozenset(pair) for pair in zip(word, label, strict=False) if pair[0] != pair[1]]
        if len(word) == len(label) and len(wrong) == 1 and wrong[0] in _ALIKE:
            return label
    return ""
