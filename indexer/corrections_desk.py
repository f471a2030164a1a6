"""Corrections from the person's side: said, listed, taken back, carried elsewhere as CSV."""

from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from dataclasses import replace
from functools import cached_property
from pathlib import Path

from indexer.corrections.apply import Corrected
from indexer.corrections.lines import line
from indexer.corrections.meant import codes_of
from indexer.corrections.said import Change as Change
from indexer.corrections.said import CorrectionState as CorrectionState
from indexer.corrections.said import Imported as Imported
from indexer.corrections.said import Subject
from indexer.corrections.settle import foresee, settle
from indexer.errors import InputError, LibraryError, NothingFound, UsageError
from indexer.intake.notes import decoded
from indexer.model import Entry, PageRef
from indexer.shelf import Shelf
from indexer.store.corrections import Correction, CorrectionList, stamp_of
from indexer.store.corrections_check import checked
from indexer.store.corrections_csv import from_csv, to_csv
from indexer.store.entries import PageCard
from indexer.store.given import Given


class CorrectionsDesk(Shelf):
    """What the person says against what was read. It wins, at once and after every re-reading."""

    def __init__(self, home: Path) -> None:
        super().__init__(home)
        self.follow_corrections()

    @cached_property
    def _log(self) -> CorrectionList:
        return CorrectionList(self.records)

    def follow_corrections(self) -> None:
        """Brings the catalogue in line with the records, if they changed by other means: put back
        from a copy, or written by a command that was stopped before it was through."""
        stamp = stamp_of(self.home / "records.db")
        if stamp != Given(self.catalogue).stamp():
            with suppress(LibraryError):  # busy: the next command will find it so
                settle(self.entries, self._said(), stamp=stamp)

    def _said(self) -> list[Correction]:
        """The corrections in force; never makes a `records.db`."""
        return self._log.all() if (self.home / "records.db").exists() else []

    def correct(
        self,
        name: str,
        *,
        maker: str | None = None,
        models: Sequence[str] | None = None,
        chassis: Sequence[str] | None = None,
        tubes: Sequence[str] | None = None,
        year: int | None = None,
    ) -> Change:
        """Says a field of an entry, or of the set on a page; "", [] or 0 says there is none.

        `name` is an entry, or a page that serves one entry; on a page that serves none, a maker,
        model, chassis or tubes make a new entry. Codes stay as typed. Raises NothingFound, and
        UsageError for a value that can't be used.
        """
        given = {
            "maker": None if maker is None else [maker],
            "models": models,
            "chassis": chassis,
            "tubes": tubes,
            "year": None if year is None else [str(year)] if year else [],
        }
        subject = self._subject(name)
        said = [
            Correction(what, tuple(values), subject.pages, subject.codes, file=subject.file)
            for what, values in given.items()
            if values is not None
        ]
        if not said:
            raise UsageError("Nothing is said of the set.", "Give a maker, model, chassis, …")
        return self._say(said)

    def set_kinds(self, page: str, kinds: Sequence[str]) -> Change:
        """Says what a page prints: values of PageKind, the main one first."""
        card = self.page(page)
        if not kinds:
            raise UsageError("No kind of page is given.", "For example: schematic.")
        return self._say([Correction("kinds", tuple(kinds), page=card.ref, file=_file(card))])

    def join_entries(self, first: str, *others: str) -> Change:
        """Says that entries are one; the others become part of the first."""
        if not others:
            raise UsageError("One entry can't be joined.", "Name the entries that belong to it.")
        kept = self._subject(first)
        said = []
        for name in others:
            other = self._subject(name)
            said.append(
                Correction(
                    "join", (), kept.pages, kept.codes,
                    other=other.pages, other_codes=other.codes, file=kept.file,
                )
            )  # fmt: skip
            if set(other.pages) == set(kept.pages) and other.codes == kept.codes:
                raise UsageError(f"{name} can't be joined to itself.")
        return self._say(said)

    def split_entry(
        self, entry: str, at: str, codes: Sequence[str] = (), *, both: bool = False
    ) -> Change:
        """Says that the page `at` and those after it are another set, of the models and chassis
        `codes` (as those pages name them when left out); `both`: that page belongs to both sets.

        Raises UsageError for a page that is not the entry's, or its first one unless it belongs to
        both and codes are given.
        """
        whole, card = self.entry(entry), self.page(at)
        if card.ref not in whole.pages:
            raise UsageError(f"{at} is no page of {entry}.", f"See `benchfolio show {entry}`.")
        if card.ref == whole.pages[0] and not (both and codes):
            raise UsageError(
                f"{at} is the first page of {entry}.",
                "Name where the next begins; if both are on it: --both --model MODEL.",
            )
        subject = self._subject(entry)
        return self._say(
            [
                Correction(
                    "split", tuple(codes), subject.pages, subject.codes, card.ref,
                    other=(card.ref,) if both else (), file=_file(card),
                )
            ]
        )  # fmt: skip

    def share_page(self, page: str, to: str) -> Change:
        """Says that a page belongs to an entry as well, and stays with those that have it."""
        card, target = self.page(page), self._subject(to)
        return self._say(
            [
                Correction(
                    "share", page=card.ref, other=target.pages, other_codes=target.codes,
                    file=_file(card),
                )
            ]
        )  # fmt: skip

    def move_page(self, page: str, to: str, from_entry: str = "") -> Change:
        """Says that a page belongs to another entry, and no more to `from_entry` (every other
        entry when left out)."""
        card, target = self.page(page), self._subject(to)
        source = self._subject(from_entry) if from_entry else Subject((), (), "")
        if from_entry and card.ref not in source.pages:
            raise UsageError(f"{page} is no page of {from_entry}.")
        return self._say(
            [
                Correction(
                    "move", (), source.pages, source.codes, card.ref,
                    target.pages, target.codes, _file(card),
                )
            ]
        )  # fmt: skip

    def not_an_entry(self, name: str) -> Change:
        """Says that what was taken for an entry is none; its pages stay, searchable."""
        subject = self._subject(name)
        return self._say(
            [Correction("not an entry", (), subject.pages, subject.codes, file=subject.file)]
        )

    def undo_correction(self, number: int | None = None) -> Change:
        """Takes a correction back, the last one when no number is given. Raises NothingFound."""
        in_force = self._said()
        if not in_force:
            raise NothingFound("There is no correction to undo.")
        found = [c for c in in_force if number is None or c.id == number]
        if not found:
            raise NothingFound(
                f"There is no correction {number} in force.", "See `benchfolio correct list --all`."
            )
        taken = found[-1]
        made = self._settled(taken.refs, lambda: self._log.undo(taken.id))
        later = [c for c in in_force if c.id > taken.id and c.refs & taken.refs]
        said = tuple(f"Made after it on the same pages: {c.id}, {self._line(c)}" for c in later)
        ids = [entry.id for entry in made.entries if taken.refs & set(entry.pages)]
        return Change((taken,), tuple(ids), said)

    def corrections(self, *, undone: bool = False) -> list[CorrectionState]:
        """Every correction with what became of it, oldest first; `undone` adds those taken back."""
        if not (self.home / "records.db").exists():
            return []
        log = self._log.all(undone=True)
        effects = foresee(self.entries, [c for c in log if c.undone is None]).effects
        states = []
        for one in log:
            effect = effects.get(one.id)
            if effect is not None:
                state = (not effect.said, effect.said, effect.entries)
            else:
                state = (False, f"undone {(one.undone or '')[:16].replace('T', ' ')}", ())
            if undone or one.undone is None:
                states.append(CorrectionState(one, *state, self._line(one)))
        return states

    def export_corrections(self) -> str:
        """The corrections in force as CSV."""
        return to_csv(self._said())

    def import_corrections(self, text: str | bytes) -> Imported:
        """Adds the corrections of a CSV (a file's bytes, or its text) that are not in force yet,
        after those that are.

        Raises InputError when it is no such CSV.
        """
        try:
            rows = from_csv(text if isinstance(text, str) else decoded(text))
        except ValueError as error:
            raise InputError(
                f"This is no list of corrections: {error}.", "Give what `correct export` wrote."
            ) from error
        in_force = self._said()
        known = {c.said for c in in_force}
        known |= {replace(c.said, at="") for c in in_force}
        fresh = [c for c in dict.fromkeys(c.said for c in rows.corrections) if c not in known]
        named = {c.said: c for c in rows.corrections}
        if fresh:
            seeds = frozenset(ref for c in fresh for ref in c.refs)
            self._settled(seeds, lambda: self._log.add(named[c] for c in fresh))
        return Imported(len(fresh), len(rows.corrections) - len(fresh), rows.troubles)

    # -- how it is done

    def _say(self, said: Iterable[Correction]) -> Change:
        """Records corrections that have an effect, and makes it. Raises UsageError for others."""
        drafts = [replace(checked(one), id=-n) for n, one in enumerate(said, 1)]
        refs = frozenset(ref for draft in drafts for ref in draft.refs)
        seen = foresee(self.entries, [*self._said(), *drafts], refs).effects
        for draft in drafts:
            if seen[draft.id].said:
                raise UsageError(f"That can't be done: {seen[draft.id].said}.")
        kept: list[Correction] = []
        made = self._settled(refs, lambda: kept.extend(self._log.add(drafts)))
        ids = dict.fromkeys(name for one in kept for name in made.effects[one.id].entries)
        return Change(tuple(kept), tuple(ids))

    def _settled(self, refs: frozenset[PageRef], write: Callable[[], object]) -> Corrected:
        """Writes to the log, then makes the catalogue follow it.

        Stopped in between, the stamps differ, and whoever opens the library next makes up for it.
        """
        followed = self._log.stamp() == Given(self.catalogue).stamp()
        write()
        stamp = self._log.stamp()
        made = settle(self.entries, self._said(), refs if followed else None, stamp=stamp)
        with suppress(LibraryError):  # the next `find` brings it up to date
            self._index.refresh()
        return made

    def _subject(self, name: str) -> Subject:
        """The pages and codes by which an entry, or a page without one, is remembered."""
        entry = self._whole(name)
        if entry is None:
            card = self.page(name)
            ids = self.entries.entries_on_page(card.page_id)
            if len(ids) > 1:
                raise UsageError(
                    f"{name} serves {len(ids)} entries.", f"Say which: {' or '.join(ids)}."
                )
            if not ids:
                return Subject((card.ref,), (), _file(card))
            entry = self._whole(ids[0]) or self.entry(ids[0])
        if not entry.pages:
            raise UsageError(
                f"{entry.id} stands on a typed list ({_source(entry)}).",
                "Change it there and run `benchfolio index`.",
            )
        return Subject(entry.pages, codes_of(entry), self._where(entry.pages[0]))

    def _whole(self, name: str) -> Entry | None:
        looks = (self.entries.entry(name) for _ in range(2))  # made anew beside us: once pageless
        return next((one for one in looks if one is None or one.pages or one.on_paper), None)

    def _where(self, ref: PageRef) -> str:
        return _file(card) if (card := self.entries.card_of(ref)) else ""

    def _line(self, correction: Correction) -> str:
        return line(correction, self._where)


def _file(card: PageCard) -> str:
    return f"{card.file} page {card.ref.page}"


def _source(entry: Entry) -> str:
    return next(iter(entry.evidence.values()), entry.on_paper)
