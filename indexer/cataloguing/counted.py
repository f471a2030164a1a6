"""How many tubes a set has, where its pages disagree: what settles the count.

A page may say the number outright, number its tubes V1, V2 … without a gap, or draw the chain of
heaters, which has each tube once; and a series string can't want far more than the line gives.
"""

import re
from collections import Counter
from collections.abc import Iterable, Sequence

from indexer.cataloguing.region import squeeze
from indexer.model import TubePlace
from indexer.trade.jobs import CONVERTERS
from indexer.trade.strings import US_LINE_V, heater_string, line_rectifier
from indexer.trade.tubes import known
from indexer.trade.usual import fit

CHAIN = re.compile(r"\b(HEATERS?|FILAMENTS?|FIL\b|HTRS?|HEIZ\w*|FILAM\w*)\W", re.IGNORECASE)
_WORDS = "THREE FOUR FIVE SIX SEVEN EIGHT NINE TEN ELEVEN TWELVE THIRTEEN FOURTEEN"
_NUMBERS = {word: n for n, word in enumerate(_WORDS.split(), 3)}
_SAID = re.compile(
    rf"(?<![\w.,/-])(\d{{1,2}}|{'|'.join(_NUMBERS)})[ -]?(TUBE|VALVE|LAMP|RÖHREN|RÖR)"
    r"(S?)\b(?P<after>[^.;]{0,60})"
)
_OF_A_SET = re.compile(
    r"\b(SUPER\w*|RECEIVERS?|RADIOS?|SETS?|RADIOGRAM|PORTABLE|T\.?R\.?F|CONSOLE|INCL\w*|PLUS"
    r"|CHASSIS|AC|A\.C|AC/DC|BATTERY|MODELS?)\b|\b(?:AND|WITH)\W+(?:A )?\w*\W?RECTIFIER"
)
_BESIDES = re.compile(r"^\W*(?:PLUS|AND|WITH|\+)\W+(?:A |THE )?(?:METAL |FULL.WAVE |VALVE )?RECTIF")
_FEW, _MANY = 4, 30
_WHOLE_NUMBERING = 4
_MOST_V = 1.25 * US_LINE_V  # that a string for one line voltage may want, on paper
_MOST_EUROPEAN_V = 275.0  # above the highest line, 250 V
_DOUBLED = 4  # types told twice, from which a line-up is
_DOUBLED_SHARE = 0.6


def said_in(text: str) -> int:
    """The number of tubes a page says the set has ("five tube superheterodyne", "4-valve plus
    rectifier"); 0 where it says none, or several."""
    found: Counter[int] = Counter()
    for match in _SAID.finditer(squeeze(text)):
        n = _NUMBERS.get(match[1]) or int(match[1])
        besides = bool(_BESIDES.match(match["after"]))
        if not _OF_A_SET.search(match["after"]) or not _FEW <= n + besides <= _MANY:
            continue
        if match[2] == "VALVE" and not besides and "INCL" not in match["after"]:
            continue  # the British may leave the rectifier out
        found[n + besides] += 1
    return next(iter(found)) if len(found) == 1 else 0


def numbered_whole(places: Sequence[TubePlace]) -> bool:
    """Whether all places bear V1, V2 … up to their number, one type each: the sockets of a set."""
    symbols = {place.symbol for place in places}
    full = {f"V{n}" for n in range(1, len(places) + 1)}
    return len(places) >= _WHOLE_NUMBERING and symbols == full


def overloads(types: Iterable[str]) -> bool:
    """Whether tubes whose rectifier runs on the line make a series string that wants far more than
    the line gives."""
    tubes = [known(name) for name in types]
    if not any(tube and line_rectifier(tube) for tube in tubes):
        return False
    string = heater_string(tubes)
    european = 2 * sum(bool(tube and tube.type[0].isalpha()) for tube in tubes) > len(tubes)
    return bool(string and string.volts > (_MOST_EUROPEAN_V if european else _MOST_V))


def told_twice(counts: Counter[str]) -> bool:
    """Whether most types stand twice, the converter among them, which a set has once; or the
    heaters in series say that some are told twice."""
    doubled = [name for name, count in counts.items() if count > 1]
    if len(doubled) < 2:
        return False
    if overloads(counts.elements()) and not overloads(counts):
        return True
    converts = any((tube := known(name)) and set(tube.functions) & CONVERTERS for name in doubled)
    most = len(doubled) >= max(_DOUBLED, _DOUBLED_SHARE * len(counts))
    return converts and most


def settled(options: Sequence[Counter[str]], said: int) -> Counter[str]:
    """Of several readings of a line-up, likeliest first, the one with the number of tubes that the
    page says; else the first whose heaters don't overload the line; else the first."""
    exact = [some for some in options if said and some.total() == said]
    fed = [some for some in options if not overloads(some.elements())]
    return next(iter([*exact, *fed, *options]))


def belongs(name: str, listed: Sequence[str]) -> bool:
    """Whether a type that only a drawing shows fills a gap in what is listed: the rectifier that
    the list lost, the tube that brings the heater string to the line voltage."""
    gain, why = fit(name, listed)
    if "string to" in why:
        return True
    heated = any((tube := known(other)) and tube.heating == "indirect" for other in listed)
    return heated and gain > 0.0 and "leave open" in why
