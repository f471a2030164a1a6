"""Runs of pages joined to sets: the likeliest reading of a bound volume as one sequence.

Each stretch of a page either opens a new set, goes on with one opened before, or belongs to none
(a cover, an advertisement, an index). Evidence for each choice adds up as a score, and the best
chain over the whole volume is found by dynamic programming (Viterbi). Weights are set by hand.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from indexer.cataloguing.identity import Masthead
from indexer.cataloguing.lineups import TubeSource
from indexer.cataloguing.region import Region
from indexer.model import PageKind
from indexer.trade.codes import fold

_BEAM = 24  # chains kept at each step

_MASTHEAD = 3.0
_OTHER_SET_NAMED = 2.5
_OTHER_SORT_NAMED = 0.5  # a model where the set is known by its chassis alone, or the reverse
_SAME_SET_NAMED = 3.0
_SAYS_CONTINUED = 2.0
_SET_MATTER = 1.5  # a schematic, parts list … that names no set goes on with the last one
_NO_MATTER = 2.0
_IS_INDEX = 8.0
_RESUME = 1.0  # price of going back to a set that is not the last one
_BREAK = 0.5  # price of a page in between that belongs to none


@dataclass(frozen=True)
class Stretch:
    """One region with all that was read from it."""

    region: Region
    kinds: dict[PageKind, float]
    masthead: Masthead | None
    named: frozenset[str]  # folded models and chassis that its headings name
    maker: str
    sources: tuple[TubeSource, ...]
    continued: bool
    addendum: bool = False  # its page's title says that it adds to what was printed before
    shared: bool = False  # one of several sets that the same matter serves

    @property
    def is_index(self) -> bool:
        return PageKind.INDEX_PAGE in self.kinds

    @property
    def has_matter(self) -> bool:
        return bool(set(self.kinds) - {PageKind.OTHER, PageKind.INDEX_PAGE})


@dataclass(frozen=True)
class _Chain:
    score: float
    path: tuple[int, ...] = ()  # for each stretch: index of the stretch that opened its set, or -1
    last: int = -1  # the set in hand, kept across pages that belong to none
    sets: dict[int, "_Set"] = field(default_factory=dict)  # what is known of each open set


@dataclass(frozen=True, slots=True)
class _Set:
    """What the stretches of an open set name so far: folded codes, and which sorts of them."""

    keys: frozenset[str] = frozenset()
    maker: str = ""
    models: bool = False
    chassis: bool = False

    def with_stretch(self, stretch: Stretch) -> "_Set":
        """The same with what a further stretch names."""
        head = stretch.masthead
        return _Set(
            self.keys | stretch.named,
            self.maker or fold(stretch.maker),
            self.models or bool(head and head.models),
            self.chassis or bool(head and head.chassis),
        )

    def unlike(self, stretch: Stretch) -> float:
        """How much a stretch that names none of the set's codes speaks against the set: less
        when only one of the two gives a model (or a chassis), which may not have been read."""
        head = stretch.masthead
        if self.maker and stretch.maker and fold(stretch.maker) != self.maker:
            return _OTHER_SET_NAMED
        if head is None or (head.models and self.models) or (head.chassis and self.chassis):
            return _OTHER_SET_NAMED
        return _OTHER_SORT_NAMED


def assign(stretches: Sequence[Stretch]) -> tuple[int, ...]:
    """For each stretch the index of the stretch that opens its set, or -1 for none."""
    chains = [_Chain(0.0)]
    for i, stretch in enumerate(stretches):
        grown: dict[tuple[int, int], _Chain] = {}
        for chain in chains:
            for option in _options(i, stretch, chain):
                key = (option.path[-1], option.last)
                if key not in grown or option.score > grown[key].score:
                    grown[key] = option
        chains = sorted(grown.values(), key=lambda chain: -chain.score)[:_BEAM]
    return chains[0].path


def _options(i: int, stretch: Stretch, chain: _Chain) -> list[_Chain]:
    options = [_step(chain, -1, _none_score(stretch))]
    served = stretch.shared and any(stretch.named & one.keys for one in chain.sets.values())
    begins = stretch.masthead is not None and not served
    if begins or (not chain.sets and stretch.has_matter):
        options.append(_step(chain, i, _new_score(stretch, chain), stretch))
    if chain.last >= 0:
        score = _same_score(stretch, chain.sets[chain.last])
        options.append(_step(chain, chain.last, score, stretch))
    options += [
        _step(chain, start, _same_score(stretch, known) - _RESUME, stretch)
        for start, known in chain.sets.items()
        if start != chain.last and stretch.named & known.keys
    ]
    return options


def _step(chain: _Chain, start: int, score: float, stretch: Stretch | None = None) -> _Chain:
    if start < 0 or stretch is None:
        return _Chain(chain.score + score, (*chain.path, -1), chain.last, chain.sets)
    known = chain.sets.get(start, _Set()).with_stretch(stretch)
    return _Chain(chain.score + score, (*chain.path, start), start, {**chain.sets, start: known})


def _new_score(stretch: Stretch, chain: _Chain) -> float:
    score = _MASTHEAD if stretch.masthead else 0.0
    if chain.last >= 0:
        known = chain.sets[chain.last]
        if stretch.named & known.keys:
            score -= _SAME_SET_NAMED
        elif stretch.named:
            score += known.unlike(stretch)
    if stretch.continued:
        score -= _SAYS_CONTINUED
    return score - (_IS_INDEX if stretch.is_index else 0.0)


def _same_score(stretch: Stretch, known: _Set) -> float:
    score = _SET_MATTER if stretch.has_matter else -_NO_MATTER
    if stretch.named & known.keys:
        score += _SAME_SET_NAMED
    elif stretch.named:
        score -= known.unlike(stretch)
    if stretch.continued:
        score += _SAYS_CONTINUED
    return score - (_IS_INDEX if stretch.is_index else 0.0)


def _none_score(stretch: Stretch) -> float:
    score = -_BREAK - (_SET_MATTER if stretch.has_matter else 0.0)
    if stretch.named or stretch.masthead:
        score -= _SAME_SET_NAMED
    return score + (_IS_INDEX if stretch.is_index else 0.0)


def group_loose(stretches: Sequence[Stretch]) -> tuple[int, ...]:
    """The same answer for loose sheets, where order says nothing: sheets that name one code
    (and no other maker) are one set; a sheet that names none stands alone when it shows a
    line-up, else it belongs to none."""
    starts: list[int] = []
    for i, stretch in enumerate(stretches):
        start = -1 if stretch.is_index or not (stretch.named or stretch.sources) else i
        for j in range(i):
            other = stretches[j]
            if starts[j] >= 0 and stretch.named & other.named and _one_maker(stretch, other):
                start = starts[j]
                break
        starts.append(start)
    return tuple(starts)


def _one_maker(a: Stretch, b: Stretch) -> bool:
    return not a.maker or not b.maker or fold(a.maker) == fold(b.maker)
