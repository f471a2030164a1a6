"""How a tube type is written: shapes, envelope suffixes and revisions. Pure text, no table."""

import re
from dataclasses import dataclass

from indexer.trade.late_patterns import late

DASHES = r"\-‐‑‒–—−"  # for use inside a character class

# Envelope: M metal, G tall glass, GT short glass, GT/G either, MG glass in a metal cap, S spray
# shield, LM and LT early loctals, X and Y low-loss bases, W ruggedised.
_SUFFIX = (
    r"(?P<w>W)?(?P<env>GT/GT?|G/GT|GTG|GTX|GTY|GT|GX|GY|MG|LM|LT|M|G|S|X|Y)?"
    r"(?P<rev>[A-F])?(?P<w2>W[A-C]?)?"
)
RMA_SHAPE = late(r"(?P<volts>\d{1,3})(?P<letters>[A-Z]{1,2})(?P<elements>\d{1,2})")
_RMA = late(rf"(?P<base>\d{{1,3}}[A-Z]{{1,2}}\d{{1,2}}){_SUFFIX}")
_LETTERS_FIRST = late(r"(?P<base>[A-Z]{1,4}\d{1,4})(?P<rev>[A-Z]{0,2})")
_DIGITS = late(rf"(?P<base>\d{{2,4}}){_SUFFIX}")
_OLD_PREFIX = late(rf"(?:U[XYV]|C[XY]|WX)[{DASHES} ]?(?=\d\d)")
_REGULATOR_TAIL = late(rf"(VR[{DASHES} ]?\d{{2,3}})[/{DASHES} ]+\d\d$")


@dataclass(frozen=True, slots=True)
class TubeName:
    """A type as printed, taken apart.

    `base` is the number without envelope and revision, `envelope` G, GT, GT/G, M … as printed,
    `revision` the letter of a later version. `alternatives` are other bases that the print offers
    ("6J5 or 6C5"); `count` how many are meant; `symbol` the reference (V3); `half` marks "½".
    """

    base: str
    envelope: str = ""
    revision: str = ""
    alternatives: tuple[str, ...] = ()
    count: int = 1
    symbol: str = ""
    half: bool = False
    printed: str = ""

    @property
    def suffix(self) -> str:
        """Envelope and revision together, for comparing two prints of one type."""
        return self.envelope + self.revision


def squeezed(text: str) -> str:
    """Upper case without blanks, hyphens, dots and quote marks: `12 sk7-gt/g` -> `12SK7GT/G`."""
    out = re.sub(rf"[{DASHES}\s.'’`\"_]", "", text.upper())
    return "0" + out[1:] if re.match(r"O[A-Z]\d|O\d", out) else out


def without_prefix(text: str) -> str:
    """Drop the base letters put before early types: `UX-245` -> `245`. Other text is unchanged."""
    text = text.strip().upper()
    tail = _REGULATOR_TAIL().match(text)
    if tail:
        return tail.group(1)
    return _OLD_PREFIX().sub("", text, count=1) if _OLD_PREFIX().match(text) else text


def codes_of(text: str) -> tuple[str, ...]:
    """The squeezed code of a print, and the code without an early base prefix if it has one.

    UY41 is a type of its own and UY-227 is a 27, so both readings are for the table to judge.
    """
    full, short = squeezed(text), squeezed(without_prefix(text))
    return (full,) if full == short else (full, short)


def splits(code: str) -> list[tuple[str, str, str]]:
    """Ways to take a squeezed code apart as (base, envelope, revision), longest base first.

    Empty when the code has no shape of a tube type. Whether a base exists is for the table to say.
    """
    found: list[tuple[str, str, str]] = []
    for shape in (_RMA, _DIGITS):
        match = shape().fullmatch(code)
        if match:
            env = match["env"] or ""
            env = "GT/G" if env in {"GT/GT", "G/GT", "GTG"} else env
            env = (match["w"] or "") + env + (match["w2"] or "")
            rev = match["rev"] or ""
            if rev:
                found.append((match["base"] + env + rev, "", ""))
                if env:  # a revision with its own row: 5U4GB, kept as 5U4B or 5U4GB
                    found.append((match["base"] + rev, env, ""))
            elif env:
                found.append((match["base"] + env, "", ""))
            found.append((match["base"], env, rev))
    match = _LETTERS_FIRST().fullmatch(code)
    if match:
        if match["rev"]:
            found.append((code, "", ""))
        found.append((match["base"], "", match["rev"]))
    return found
