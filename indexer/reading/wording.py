"""Common words of service pages put right: units, ordinals, symbols, ordinary words.

They matter less than types and codes, which `repair` sees to, but a page is also found by its
words. A word so changed keeps in `printed` how it was read and says why.
"""

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from indexer.model import Word
from indexer.reading.decimals import with_points
from indexer.reading.dittos import with_dittos
from indexer.reading.labels import INITIALS, initials_meant, reference_meant
from indexer.reading.numbered import in_turn
from indexer.reading.repair import is_known_tube
from indexer.reading.sentences import in_sentences
from indexer.reading.shapes import in_shape
from indexer.reading.signs import without_specks
from indexer.reading.spelling import EDGE, Place, plain, printed_word
from indexer.trade.german import is_german, with_umlauts
from indexer.trade.language import is_english, is_word, of_trade
from indexer.trade.vocabulary import PLAIN, SHORT

_FIGURE_END = re.compile(r"\d$|^[./]?\d[\d./-]*$")
_POLARISED = frozenset(("electrolytic", "electrolytics", "elect", "electro"))
_LESS_THAN_ONE = re.compile(r"0?\.\d+")
_UNITS = (  # what stands after a figure, and the unit it is; old serif c reads like e
    (re.compile(r"^(?:ke|kc|k¢|ko)$"), "kc"),
    (re.compile(r"^(?:me|m¢)$"), "mc"),
    (re.compile(r"^(?:mid|mld|mtd|mfa|mfdl|mifd|rnfd|mfcl|nfd)$"), "mfd"),
    (re.compile(r"^(?:mnf|mmi|mmt|munf|rnmf|mrnf|mmfl|imf|mimf)$"), "mmf"),
    (re.compile(r"^MQ$"), "MΩ"),
    (re.compile(r"^[kK]Q$"), "kΩ"),
    (re.compile(r"^Q$"), "Ω"),
    (re.compile(r"^0z\.?$"), "oz."),
    (re.compile(r"^[|1I]b\.?$"), "lb."),
)
_ORDINAL = re.compile(r"^[Il|!](st\b)")
_ORDINAL_READ_SMALL = re.compile(r"^[iL]st(?=[.,;]?$)")  # a word in German
_STAGE_WORD = re.compile(
    r"^(?:\.(?=F\.$)|1\.?|[l|]\.?|[LT](?=F\.))F\.?(?=$|[,;])"
)  # 1.F. or LF. for I.F.
_LOW_FOR_MIDDLE = re.compile(r"^L\.? ?F\.$|^LF\.$")
_SYMBOL = re.compile(r"^[Vv]([1-9]|1\d|[il|])$")
_REFERENCE = re.compile(r"^([crltmvCRLTMV])(\d{1,3}|[il])$")
_STROKE_PART = re.compile(r"^([A-Z]{1,2}|vc|sp|ls|sw)[|!Iil]$")  # LS! for LS1
_STROKE = re.compile(r"^[|Il!](?=$|/[248]$)")  # | watt, I/2
_COUNTED = re.compile(
    r"^(?:watts?|amps?|amperes?|volts?|megohms?|meg|mfd?|inch|turns?|hours?|tubes?)\b",
    re.IGNORECASE,
)
_IS = re.compile(r"^[1l|][sS]$")
_THE = re.compile(r"^([Tt])(?:ne|be|hc|lie)$")
_PART_NUMBER = re.compile(r"^[A-Z]{0,2}-?\d{3,}[\d-]*$")
_SHORT_LABEL = 5  # letters; fewer in capitals are a label
_OFTEN, _NAMED = 2, 3  # times on a page, for a word to be known by it; for a text that is none
_HALF_SMALL = re.compile(r"[A-Z][cosvwxz]{1,2}")  # Nc for NC
_WORD_LIKE = re.compile(r"(?=.*[a-z].*[a-z])[a-z]+[!|]?[a-z]*")  # a stroke may be a letter
_MIXED = re.compile(r"[a-z][A-Z]")
_TAIL = ".,;:)"


@dataclass(frozen=True, slots=True)
class _Page:
    """What a page's words tell together: their letters in order, those it repeats, whether it is
    English, the letters of its references, the initials with dots (I.F.) that it repeats, the
    lines that name an electrolytic, and how often it shows each text."""

    cores: list[str]
    often: frozenset[str]
    english: bool
    german: bool
    references: frozenset[str]
    dotted: frozenset[str]
    electrolytics: frozenset[int]
    shown: Counter[str]


def put_right(words: Sequence[Word]) -> tuple[Word, ...]:
    """The words with common ones put right by what stands beside them and by the page."""
    whole = with_points(in_shape(in_turn(without_specks(with_dittos(words)))))
    page = _page(whole)
    out: list[Word] = []
    for n, word in enumerate(whole):
        after = whole[n + 1] if n + 1 < len(whole) and whole[n + 1].line == word.line else None
        out.append(_right(word, n, out[-1] if out else None, after, page))
    return in_sentences(out, page.often) if page.english else tuple(out)


def _page(words: Sequence[Word]) -> _Page:
    cores = [plain(word.text) for word in words]
    shown = Counter(word.text.rstrip(",;:") for word in words)
    often = (
        text
        for text, n in Counter(cores).items()
        if (n >= _NAMED and len(text) >= _SHORT_LABEL and text.isalpha())
        or (n >= _OFTEN and is_word(text))
    )
    electrolytics = (w.line for w, core in zip(words, cores, strict=True) if core in _POLARISED)
    return _Page(
        cores,
        frozenset(often),
        is_english(cores),
        is_german(cores),
        frozenset(text[0] for text in cores if re.fullmatch(r"[clrtv][2-9]", text)),
        frozenset(text for text, n in shown.items() if n >= _OFTEN and INITIALS.fullmatch(text)),
        frozenset(electrolytics),
        shown,
    )


def _right(word: Word, n: int, before: Word | None, after: Word | None, page: _Page) -> Word:
    text = word.text
    if is_known_tube(text) or (word.printed and any(c.isdigit() for c in text)):
        return word
    said, reason = _unit(text, before, word.line in page.electrolytics)
    if not reason:
        said, reason = _beside(text, before if before and before.line == word.line else None, after)
    if not reason and text[:1] == "l" and page.shown[f"I{text[1:]}".rstrip(",;:")]:
        said, reason = f"I{text[1:]}", "the page has it so elsewhere"  # lvermoss
    core = text.rstrip(_TAIL)
    if not reason and page.german and (meant := with_umlauts(core)) != core:
        said, reason = meant + text[len(core) :], "an umlaut or ß"
    if not reason and text.lower() in SHORT and page.shown[f"{text}."] >= _NAMED * page.shown[text]:
        said, reason = f"{text}.", "the page has it so elsewhere"
    if not reason and page.shown[text.upper()] >= _NAMED and _HALF_SMALL.fullmatch(text):
        said, reason = text.upper(), "the page has it so elsewhere"
    if not reason and page.english and _ORDINAL_READ_SMALL.match(text):
        said, reason = f"1{text[1:]}", "an ordinal"
    if not reason and (dotted := initials_meant(text, page.dotted, page.shown)):
        said, reason = dotted, "the page has it so elsewhere"
    if not reason and (named := reference_meant(text, before, after, page.references)):
        said, reason = named, "a reference beside others of its letter"
    if not reason and page.english:
        said, reason = _spelt(text, n, word, before, page)
    if said == text:
        return word
    return replace(word, text=said, printed=word.printed or text, why=reason)


def _unit(text: str, before: Word | None, electrolytic: bool) -> tuple[str, str]:
    """(the unit that follows a figure, why); the text and "" when it is none."""
    core = text.rstrip(_TAIL)
    figure = before.text if before is not None and before.text[-1:].isdigit() else ""
    if core == "pF" and figure and (electrolytic or _LESS_THAN_ONE.fullmatch(figure)):
        return "µF" + text[len(core) :], "no capacitor of its kind has so little"
    if before is not None and _FIGURE_END.search(before.text.rstrip(_TAIL)):
        for pattern, unit in _UNITS:
            if pattern.match(core) and core != unit:
                return unit + text[len(core) :], "the unit after a figure"
    return text, ""


def _beside(text: str, before: Word | None, after: Word | None) -> tuple[str, str]:
    """(an ordinal, stage, symbol or small word, why) by what stands beside it in its line; the
    text and "" if none."""
    if the := _THE.match(text):
        return f"{the[1]}he", "no word is spelt so"
    if _IS.match(text) and before and after and before.text.isalpha() and after.text[:1].isalpha():
        return "is", "it stands between words"
    if _ORDINAL.match(text):
        return _ORDINAL.sub(r"1\1", text), "an ordinal"
    if after is not None and _STROKE.match(text) and _COUNTED.match(after.text):
        return _STROKE.sub("1", text), "a figure stands before its unit"
    if stage := _STAGE_WORD.match(text):
        return "I.F." + text[stage.end() :], "no figure stands before F"
    tuned = after is not None and re.match(r"^\d{3}\b", after.text)
    if tuned and _LOW_FOR_MIDDLE.match(text):
        return "I.F.", "a frequency in kilocycles follows"
    if before is None and after is not None:
        symbol = _SYMBOL.match(text)
        if symbol and is_known_tube(after.text):
            named = "V" + symbol[1].translate(str.maketrans("il|", "111"))
            return named, "the symbol of the tube that follows" if named != text else ""
    if after is not None and _PART_NUMBER.match(after.text):
        part, drawn = _REFERENCE.match(text), _STROKE_PART.match(text)
        named = part[1].upper() + part[2].translate(str.maketrans("il", "11")) if part else text
        named = f"{drawn[1].upper()}1" if drawn else named
        return named, "the reference before a part number" if named != text else ""
    return text, ""


def _spelt(text: str, n: int, word: Word, before: Word | None, page: _Page) -> tuple[str, str]:
    """(the word that a misread one is, why); as it is when nothing is likelier."""
    core, shown = page.cores[n], text.strip(EDGE)
    capitals = shown.isupper()
    begins = before is None or before.line != word.line or before.text[-1:] in ".:;"
    if (
        not _WORD_LIKE.fullmatch(core)
        or (capitals and len(core) < _SHORT_LABEL)
        or _MIXED.search(shown)
        or text.endswith("-")
        or (before is not None and before.text.endswith("-"))
    ):
        return text, ""
    place = Place(
        _beside_core(page, n, -1, before), _beside_core(page, n, 1, word), word.confidence
    )
    said = printed_word(core, place, page.often)
    title = shown[:1].isupper() and not capitals
    if said == core and (core == shown.lower() or not is_word(core)):
        return text, ""
    usual = of_trade(said) or said in PLAIN
    if (capitals or (title and not begins)) and not usual:
        return text, ""  # a name, perhaps
    if before is not None and before.text[-1:].isdigit() and len(core) < _SHORT_LABEL and not usual:
        return text, ""  # a unit, perhaps
    page.cores[n] = said
    as_shown = said.upper() if capitals else said.title() if title else said
    return text.replace(shown, as_shown, 1), "the likelier word"


def _beside_core(page: _Page, n: int, step: int, sooner: Word | None) -> str:
    """The letters of the word beside number `n` when no sentence ends between; else "".
    `sooner` is the word that stands before the other."""
    beside = n + step
    if sooner is None or sooner.text[-1:] in ".:;!?" or not 0 <= beside < len(page.cores):
        return ""
    core = page.cores[beside]
    return core if core.isalpha() else ""
