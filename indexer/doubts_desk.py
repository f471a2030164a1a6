"""What deserves a look, as a person is shown it: where, what is doubtful, what to do."""

import io
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from indexer.corrections import doubts as finding
from indexer.corrections import places
from indexer.corrections.doubts import DOUBT_SORTS
from indexer.corrections.places import Part
from indexer.corrections.raw_doubt import LISTED, RawDoubt
from indexer.corrections_desk import Change, CorrectionsDesk
from indexer.errors import InputError, NothingFound, UsageError
from indexer.limits import DEFAULT_ANSWERS
from indexer.model import Entry, PageRef
from indexer.store.corrections import Correction
from indexer.store.entries import PageCard
from indexer.store.words import page_name
from indexer.trade.numbering import parse_line_up

_TODO = {
    finding.ADDS_UP: "compare the tubes with the page: benchfolio correct tubes {entry} TYPE…",
    finding.DISAGREE: "look which is right: benchfolio correct tubes {entry} TYPE…",
    finding.UNKNOWN: "check the type: benchfolio correct tubes {entry} TYPE…",
    finding.REPAIRED: "check it against the page; if it is wrong:"
    " benchfolio correct tubes {entry} TYPE… (or model, chassis)",
    finding.NO_MAKER: "say who made it: benchfolio correct maker {entry} MAKER",
    finding.FAINT: "check what was read: benchfolio show {page}; a better scan may help",
    finding.NO_ENTRY: "put it where it belongs: benchfolio correct move {page} ENTRY"
    " (or: correct model {page} MODEL)",
    finding.UNSURE: "say what it shows: benchfolio correct kinds {page} KIND…",
    finding.SUPPLY: "look at the page or the set; if the line-up is wrong:"
    " benchfolio correct tubes {entry} TYPE…",
    LISTED: "compare the row with the page: benchfolio show {page}",
    finding.ROW: "mend that row in {file}, then run benchfolio index",
}
_ON_PAPER = "look at the paper ({where}); the list is {file}"
_DONE = "; if it is right as it is: benchfolio correct looked-at {name}"


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something that deserves a look. `sort` is one of DOUBT_SORTS, worst first.

    `entry` is "" for a doubt about a page; `page`, `name` and `file` ("annual.pdf page 4") say
    where to look, `part` where on that page.
    """

    sort: str
    said: str
    todo: str
    entry: str
    page: PageRef | None
    name: str
    file: str
    part: Part


class DoubtsDesk(CorrectionsDesk):
    """Doubts, and saying that one was looked at."""

    def doubts(
        self, limit: int = DEFAULT_ANSWERS, *, sorts: Sequence[str] = (), of: Sequence[str] = ()
    ) -> list[Doubt]:
        """The worst doubts, one for an entry and sort, of some sorts only when given; `of` keeps to
        these entries and pages (by short name). Raises UsageError for no such sort."""
        for sort in sorts:
            if sort not in DOUBT_SORTS:
                raise UsageError(
                    f"There is no sort of doubt called {sort}.",
                    f"Choose from: {', '.join(DOUBT_SORTS)}.",
                )
        found = finding.raw_doubts(self.entries, sorts)
        if of:
            found = [raw for raw in found if raw.entry in of or self._named(raw) in of]
        return [self._shown(raw) for raw in finding.by_entry(found)[:limit]]

    def doubt_counts(self) -> dict[str, int]:
        """How many doubts there are of each sort (as `doubts` counts), worst sort first."""
        counted = Counter(raw.sort for raw in finding.by_entry(finding.raw_doubts(self.entries)))
        return {sort: counted[sort] for sort in DOUBT_SORTS if counted[sort]}

    def doubt_crop(self, doubt: Doubt, max_side_px: int = 1_200) -> bytes:
        """The part of the page to look at as a PNG file's bytes.

        Raises InputError when there is no page, or its file can't be drawn.
        """
        card = self.entries.card_of(doubt.page) if doubt.page else None
        if card is None:
            raise InputError("There is no page to look at.", "The set lies on paper.")
        picture = self.picture(card)
        part = doubt.part
        box = (
            int(part.left * picture.width),
            int(part.top * picture.height),
            max(int(part.left * picture.width) + 1, round(part.right * picture.width)),
            max(int(part.top * picture.height) + 1, round(part.bottom * picture.height)),
        )
        cut = picture.crop(box)
        cut.thumbnail((max_side_px, max_side_px))
        kept = io.BytesIO()
        cut.save(kept, "PNG")
        return kept.getvalue()

    def looked_at(self, name: str) -> Change:
        """Settles the present doubts of an entry or page as they stand; new ones still show.

        Raises NothingFound when there is nothing doubtful about it.
        """
        entry = self.entries.entry(name)
        card = None if entry else self.page(name)
        pages = set(entry.pages) if entry else set()
        mine = [
            raw
            for raw in finding.raw_doubts(self.entries)
            if (
                entry is not None
                and (raw.entry == entry.id or (not raw.entry and raw.page in pages))
            )
            or (card is not None and not raw.entry and raw.page == card.ref)
        ]
        said = tuple(dict.fromkeys(raw.said for raw in mine))
        if not said:
            raise NothingFound(f"Nothing is doubtful about {name}.")
        if card is not None:
            where = f"{card.file} page {card.ref.page}"
            return self._say([Correction("looked at", said, page=card.ref, file=where)])
        subject = self._subject(name)
        return self._say(
            [Correction("looked at", said, subject.pages, subject.codes, file=subject.file)]
        )

    # -- how a doubt is shown

    @staticmethod
    def _named(raw: RawDoubt) -> str:
        return page_name(raw.page) if raw.page else ""

    def _shown(self, raw: RawDoubt) -> Doubt:
        entry = self.entries.entry(raw.entry) if raw.entry else None
        ref = raw.page or (self._where_to_look(raw, entry) if entry else None)
        card = self.entries.card_of(ref) if ref else None
        place = f"{card.file} page {card.ref.page}" if card else raw.file
        if entry is not None and card is None:
            place = next(iter(entry.evidence.values()), "")
            todo = _ON_PAPER.format(where=entry.on_paper, file=place)
        else:
            page = card.name if card else ""
            todo = _TODO[raw.sort].format(entry=raw.entry, page=page, file=raw.file)
            if entry is not None and entry.tubes:  # the line-up as it stands, to be mended
                types = " ".join("/".join((t.type, *t.alternatives)) for t in entry.tubes)
                todo = todo.replace("TYPE…", types)
            if raw.sort != finding.ROW:
                todo += _DONE.format(name=raw.entry or page)
        part = self._part(raw, entry, card) if card else places.WHOLE
        name = card.name if card else ""
        return Doubt(raw.sort, raw.said, todo, raw.entry, ref, name, place, part)

    @staticmethod
    def _where_to_look(raw: RawDoubt, entry: Entry) -> PageRef | None:
        """The page that prints most of the tubes in question; for a maker the first page."""
        if raw.sort == finding.NO_MAKER:
            return entry.pages[0]
        named = {token.type for token in parse_line_up(raw.said)}
        told = [t for t in entry.tubes if t.page in entry.pages]
        places_told = [t.page for t in told if t.type in named] or [t.page for t in told]
        most = Counter(places_told).most_common(1)
        return most[0][0] if most else next(iter(entry.pages), None)

    def _part(self, raw: RawDoubt, entry: Entry | None, card: PageCard) -> Part:
        if raw.repairs:
            return places.around((r.left, r.top, r.right, r.bottom) for r in raw.repairs)
        if raw.sort == finding.NO_MAKER:
            return places.HEAD
        if raw.sort in (finding.NO_ENTRY, finding.UNSURE):
            return places.WHOLE
        reading = self.reading(card)
        if raw.sort == finding.FAINT:
            return places.faintest(reading)
        types = {token.type for token in parse_line_up(raw.said)}
        on_page = (
            {t.printed or t.type for t in entry.tubes if t.page == card.ref} if entry else set()
        )
        part = places.of_codes(reading, types) if types else places.WHOLE
        return part if part != places.WHOLE else places.of_codes(reading, on_page)
