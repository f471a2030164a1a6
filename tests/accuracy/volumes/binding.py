"""Blocks laid on pages, one set after the other, with what a bound volume has between them."""

import random
from dataclasses import dataclass, field

from indexer.model import PageKind
from tests.accuracy.press.faces import Family, drafting, families
from tests.accuracy.press.paper import Paper
from tests.accuracy.volumes.conventions import (
    ADDENDUM,
    ADS,
    CHARTS,
    HOUSES,
    PUBLICATION,
    VOLUME,
    House,
)
from tests.accuracy.volumes.index_leaves import set_index
from tests.accuracy.volumes.matter import (
    BOTTOM,
    LEFT,
    RIGHT,
    Block,
    Bound,
    fits,
    make_bound,
    notes,
    relate,
)

TOP = 300
_SIZE, _STEP = 40, 56
_ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX")


@dataclass
class Leaf:
    """One page as set: its paper, its printed number ("" for none), what stands on it."""

    paper: Paper
    printed: str = ""
    kinds: set[PageKind] = field(default_factory=set)
    sets: list[Bound] = field(default_factory=list)
    listed: list[tuple[str, str, str, str]] = field(default_factory=list)  # maker model vol page


@dataclass
class Volume:
    """One bound volume being set."""

    split: str
    seed: str
    number: int
    rng: random.Random
    house: House
    first: int  # printed number of the third leaf
    leaves: list[Leaf] = field(default_factory=list)
    sets: list[Bound] = field(default_factory=list)
    addenda: list[Bound] = field(default_factory=list)
    y: float = BOTTOM
    in_hand: Bound | None = None

    @property
    def file(self) -> str:
        return f"volume-{self.number}.pdf"

    @property
    def font(self) -> Family:
        return families(self.split)[self.number % len(families(self.split))]

    def named(self) -> str:
        """The volume as this volume's own headings write it."""
        n = self.number + 3
        return VOLUME[self.split][self.number % 3].format(n=n, r=_ROMAN[n - 1])

    @property
    def volume_no(self) -> str:
        return str(self.number + 3)

    # -- leaves

    def leaf(self, *, numbered: bool = True) -> Leaf:
        """Opens a new page."""
        n = len(self.leaves) + 1
        made = Leaf(Paper(f"{self.seed}-{self.number}-{n}"))
        if numbered and n >= 3:
            made.printed = str(self.first + n - 3)
            self._folio(made)
        self.leaves.append(made)
        self.y = TOP
        return made

    def _folio(self, leaf: Leaf) -> None:
        paper, style, bold = leaf.paper, self.house.folio, self.font.bold
        if self.house.publication_on == "every":
            paper.put(1275, 95, f"{PUBLICATION[self.split]}   {self.named()}", self.font.body, 34,
                      "ma")  # fmt: skip
        even = int(leaf.printed) % 2 == 0
        if style == "outer":
            x, anchor = (LEFT, "la") if even else (RIGHT, "ra")
            same = self.house.publication_on == "every"
            paper.put(x, 95, leaf.printed, bold, 40, anchor, same_line=same)
        elif style == "page":
            paper.put(RIGHT, 3190, f"PAGE {leaf.printed}", bold, 38, "ra")
        else:
            shown = f"- {leaf.printed} -" if self.number % 2 else leaf.printed
            paper.put(1275, 3190, shown, bold, 40, "ma")

    # -- sets

    def add(self, bound: Bound, *, addendum: str = "", fresh: bool = True) -> None:
        """Sets one set's blocks, on a new page or below what stands there."""
        room = self.y < BOTTOM - 1300 and self.leaves and self.leaves[-1].printed
        if fresh or not room:
            self.leaf()
        else:
            self.y += 90
            self.leaves[-1].paper.rule(LEFT, self.y - 60, RIGHT, self.y - 60, 8)
        self.in_hand = bound
        self._masthead(bound, addendum)
        for block in bound.blocks:
            self._block(bound, block)
        (self.addenda if addendum else self.sets).append(bound)

    def _masthead(self, bound: Bound, addendum: str) -> None:
        leaf, house = self.leaves[-1], bound.house
        if addendum:
            leaf.paper.put(1275, self.y, addendum, self.font.bold, 60, "ma")
            self.y += 90
        for line in house.masthead:
            self._pieces(leaf.paper, line, bound, 60, self.y)
            self.y += 84
        self.y += 20
        self._belongs(leaf, bound)

    def _pieces(self, paper: Paper, pattern: str, bound: Bound, size: int, y: float) -> None:
        one = bound.one
        text = pattern.format(M=one.maker.upper(), m=one.maker, chassis=one.chassis,
                              models=bound.house.joiner.join(one.models),
                              model=one.models[0])  # fmt: skip
        left, _, right = text.partition("|")
        size = fits(left + "   " + right, self.font.bold, size, RIGHT - LEFT)
        if right:
            paper.put(LEFT, y, left, self.font.bold, size)
            paper.put(RIGHT, y, right, self.font.bold, size, "ra", same_line=True)
        else:
            paper.put(1275, y, left, self.font.bold, size, "ma")

    def _belongs(self, leaf: Leaf, bound: Bound) -> None:
        if bound not in leaf.sets:
            leaf.sets.append(bound)
            bound.pages.append((self.file, self.leaves.index(leaf) + 1))

    def _go_on(self, bound: Bound) -> None:
        """A further page of the set in hand, sometimes after an advertisement."""
        if self.rng.random() < 0.12:
            self.advertisement()
        leaf = self.leaf()
        if bound.house.header:
            self._pieces(leaf.paper, bound.house.header, bound, 46, self.y - 130)
            if self.rng.random() < 0.5:
                leaf.paper.put(1275, self.y - 60, bound.house.continued, self.font.body, 36, "ma")
        self._belongs(leaf, bound)

    def _block(self, bound: Bound, block: Block) -> None:
        title_px = 90 if block.title else 0
        need = title_px + (block.height or min(len(block.rows), 6) * _STEP)
        if self.y + need > BOTTOM:
            self._go_on(bound)
        self._title(block.title)
        if block.draw is not None:
            font = drafting(self.split)[self.number % len(drafting(self.split))]
            block.draw(self.leaves[-1].paper, font, self.y)
            self._note_kind(block)
            self.y += block.height
            return
        widest = 1.0
        for row in block.rows:
            if self.y > BOTTOM:
                self._go_on(bound)
                self._title(f"{block.title} {bound.house.continued}" if block.title else "")
            self._note_kind(block)
            size = int(_SIZE * widest)
            for n, (share, text) in enumerate(row):
                room = (row[n + 1][0] if n + 1 < len(row) else 1.0) - share
                one = fits(text, self.font.body, size, room * (RIGHT - LEFT) - 8)
                x = LEFT + share * (RIGHT - LEFT)
                self.leaves[-1].paper.put(x, self.y, text, self.font.body, one, same_line=n > 0)
            self.y += _STEP
        self.y += 50

    def _title(self, title: str) -> None:
        if title:
            self.leaves[-1].paper.put(1275, self.y, title, self.font.bold, 50, "ma")
            self.y += 90

    def _note_kind(self, block: Block) -> None:
        if block.kind is not None:
            self.leaves[-1].kinds.add(block.kind)

    # -- what stands between

    def advertisement(self) -> None:
        """A page that belongs to no set."""
        head, *lines = self.rng.choice(ADS[self.split])
        paper = self.leaf(numbered=self.rng.random() < 0.5).paper
        y = self.rng.randrange(500, 1200)
        for n, line in enumerate((head, *lines)):
            size = fits(line, self.font.bold, 90 if n == 0 else 52, RIGHT - LEFT)
            paper.put(1275, y + n * 190, line, self.font.bold if n == 0 else self.font.body, size,
                      "ma")  # fmt: skip
        self.y = BOTTOM

    def chart(self) -> None:
        """A tube substitution chart: mentions, no line-up."""
        title, a, b = CHARTS[self.split]
        paper = self.leaf().paper
        paper.put(1275, TOP, title, self.font.bold, 66, "ma")
        y = TOP + 150.0
        for x in (LEFT, LEFT + 1100):
            paper.put(x, y, a, self.font.bold, 42, same_line=x > LEFT)
            paper.put(x + 300, y, b, self.font.bold, 42, same_line=True)
        pairs = ("12SA7 12BE6", "6SA7 6BE6", "12SK7 12SG7", "6SK7 6SG7", "50L6 35L6", "6V6 6F6",
                 "5Y3 5V4", "6SQ7 6SR7", "35Z5 35Z4", "12AV6 12AT6", "6BA6 6BJ6", "1N5 1P5",
                 "80 5Y3", "6K7 6U7", "6Q7 6B6", "42 6F6")  # fmt: skip
        for n, pair in enumerate(pairs * 2):
            x, at = (LEFT, LEFT + 1100)[n % 2], y + 80 + (n // 2) * 70
            one, other = pair.split()
            paper.put(x, at, one, self.font.body, 42, same_line=n % 2 == 1)
            paper.put(x + 300, at, other, self.font.body, 42, same_line=True)
        self.y = BOTTOM

    def nothing(self) -> None:
        """A page with nothing to recognise."""
        paper = self.leaf(numbered=False).paper
        words = ("This copy belongs to the back room", "please do not take it home", "",
                 "ordered March 3, two pounds of wax")  # fmt: skip
        for n, line in enumerate(words):
            paper.put(LEFT + 200, 900 + 110 * n, line, self.font.body, 56)
        self.y = BOTTOM


def bind(split: str, edition: int = 0, volumes: int = 3, sets: int = 24) -> list[Volume]:
    """The split's volumes, set and indexed; every edition has other sets, pages and slips."""
    seed = f"{split} {edition}" if edition else split
    taken: set[str] = set()
    made: list[Volume] = []
    for number in range(volumes):
        rng = random.Random(f"{seed} volume {number}")
        house = HOUSES[split][number % len(HOUSES[split])]
        volume = Volume(split, seed, number, rng, house, first=rng.randrange(3, 240))
        cover = volume.leaf(numbered=False).paper
        for n, line in enumerate((PUBLICATION[split], volume.named())):
            size = fits(line, volume.font.bold, 100, RIGHT - LEFT)
            cover.put(1275, 900 + 220 * n, line, volume.font.bold, size, "ma")
        volume.nothing()
        earlier = [bound for other in made for bound in other.sets]
        for n in range(sets):
            bound = make_bound(rng, split, number, taken)
            others = [*earlier, *volume.sets]
            if others and rng.random() < 0.2:
                relate(rng, split, bound, rng.choice(others))
            volume.add(bound, fresh=rng.random() < 0.6)
            if rng.random() < 0.15:
                volume.advertisement()
            if n == sets // 2:
                volume.chart()
        for old in rng.sample(earlier, 3) if earlier else ():
            again = Bound(old.one, volume.house, [_notes(rng, old)], [])
            volume.add(again, addendum=rng.choice(ADDENDUM[split]))
        made.append(volume)
    rows = [row for volume in made for row in _rows(volume)]
    elsewhere = [_elsewhere(random.Random(f"{seed} other {n}"), split, taken) for n in range(20)]
    rows = sorted({*rows, *elsewhere}, key=lambda row: (row[0], row[1]))
    for volume in made:
        set_index(volume, rows)
    return made


def _notes(rng: random.Random, old: Bound) -> Block:
    return notes(rng, old, rng.choice(old.house.headings[PageKind.SERVICE_NOTES]))


def _rows(volume: Volume) -> list[tuple[str, str, str, str]]:
    rows = []
    for bound in volume.sets:
        printed = volume.leaves[bound.pages[0][1] - 1].printed
        rows += [(bound.one.maker, model, volume.volume_no, printed) for model in bound.one.models]
    return rows


def _elsewhere(rng: random.Random, split: str, taken: set[str]) -> tuple[str, str, str, str]:
    bound = make_bound(rng, split, 0, taken)
    number = str(rng.choice((1, 2)))
    return bound.one.maker, bound.one.models[0], number, str(rng.randrange(5, 400))
