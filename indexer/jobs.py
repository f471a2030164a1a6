"""Jobs: opened, changed, closed, merged; their notes, and their pages in order."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

from indexer import limits
from indexer.bench.marked import MarkedPage
from indexer.errors import NothingFound, UsageError
from indexer.model import Entry, PageRef
from indexer.search.query import Query
from indexer.shelf import Shelf
from indexer.store.entries import PageCard
from indexer.store.records import JobRecord, Mark


class JobDesk(Shelf):
    """Jobs and what belongs to them. What takes a job's number raises NothingFound for one that
    is not there; what changes a job raises UsageError for one that is deleted."""

    def open_job(
        self,
        title: str,
        entry: Entry | None = None,
        symptom: str = "",
        *,
        asked: Query | None = None,
        owner_tag: str = "",
        on: str = "",
    ) -> JobRecord:
        """Opens a job for a set that an entry names, that was asked for in words, or neither.

        `on` is the day, "YYYY-MM-DD", where it is not today. Raises UsageError for another form.
        """
        job_id = self.records.open_job(
            typed(title, "title", limits.MAX_TITLE_CHARS, needed=True),
            **_set_of(entry, asked),  # type: ignore[arg-type]
            symptom=typed(symptom, "symptom"),
            owner_tag=typed(owner_tag, "tag", limits.MAX_TITLE_CHARS),
            opened=_time_on(on) if on else "",
        )
        return self.job(job_id)

    def job(self, job_id: int) -> JobRecord:
        """One job, a deleted one too."""
        found = self.records.job(job_id)
        if found is None:
            raise NothingFound(f"There is no job {job_id}.", "`benchfolio job list` shows them.")
        return found

    def _live(self, job_id: int) -> JobRecord:
        job = self.job(job_id)
        if job.deleted is None:
            return job
        if job.merged_into is not None:
            raise UsageError(
                f"Job {job_id} was merged into job {job.merged_into}.",
                f"Work on that one, or take them apart: benchfolio job undelete {job_id}",
            )
        raise UsageError(
            f"Job {job_id} is deleted.", f"Bring it back: benchfolio job undelete {job_id}"
        )

    def jobs(self, words: str = "", *, deleted: bool = False) -> list[JobRecord]:
        """Every job, the newest first, or those in which every word stands somewhere."""
        if words.strip():
            return self.records.search_jobs(words, deleted=deleted)
        return self.records.jobs(deleted=deleted)

    def change_job(
        self,
        job_id: int,
        *,
        title: str | None = None,
        symptom: str | None = None,
        owner_tag: str | None = None,
        entry: Entry | None = None,
    ) -> JobRecord:
        """Gives a job another title, symptom, tag or set; None leaves it as it is."""
        self._live(job_id)
        values: dict[str, str | Sequence[str]] = {}
        if title is not None:
            values["title"] = typed(title, "title", limits.MAX_TITLE_CHARS, needed=True)
        if symptom is not None:
            values["symptom"] = typed(symptom, "symptom")
        if owner_tag is not None:
            values["owner_tag"] = typed(owner_tag, "tag", limits.MAX_TITLE_CHARS)
        self.records.change_job(job_id, **values, **(_set_of(entry, None) if entry else {}))
        return self.job(job_id)

    def note(self, job_id: int, text: str) -> JobRecord:
        """Notes something, with the time."""
        self._live(job_id)
        self.records.note(job_id, typed(text, "note", needed=True))
        return self.job(job_id)

    def close_job(self, job_id: int, outcome: str, on: str = "") -> JobRecord:
        """Closes a job with what was wrong and what was done, today or on "YYYY-MM-DD"."""
        job = self._live(job_id)
        closed = _time_on(on) if on else ""
        if closed and closed[:10] < job.opened[:10]:
            raise UsageError(f"Job {job_id} was opened on {job.opened[:10]}, after {on}.")
        self.records.close_job(job_id, typed(outcome, "outcome", needed=True), closed)
        return self.job(job_id)

    def reopen_job(self, job_id: int) -> JobRecord:
        """Opens a closed job again; what it was closed with stays as a note."""
        if self._live(job_id).closed is None:
            raise UsageError(f"Job {job_id} is open.")
        self.records.reopen_job(job_id)
        return self.job(job_id)

    def delete_job(self, job_id: int) -> JobRecord:
        """Puts a job out of sight; nothing is lost."""
        self._live(job_id)
        self.records.delete_job(job_id)
        return self.job(job_id)

    def undelete_job(self, job_id: int) -> JobRecord:
        """Brings a deleted job back, or takes a merged one out of the other again."""
        if self.job(job_id).deleted is None:
            raise UsageError(f"Job {job_id} is not deleted.")
        self.records.undelete_job(job_id)
        return self.job(job_id)

    def merge_jobs(self, into: int, other: int) -> JobRecord:
        """Puts all of one job into another; `undelete_job(other)` takes it apart again."""
        if into == other:
            raise UsageError("A job can't be merged with itself.")
        self._live(into)
        self._live(other)
        self.records.merge_jobs(into, other)
        return self.job(into)

    # -- pages

    def marked_pages(self, job_id: int) -> list[MarkedPage]:
        """A job's pages in order, each with where it lies now or why it can't be shown."""
        return [self._marked(n, mark) for n, mark in enumerate(self.job(job_id).marks, 1)]

    def _marked(self, number: int, mark: Mark) -> MarkedPage:
        card = self.entries.card_of(mark.ref)
        if card is None:
            why = f"{mark.file} page {mark.ref.page} is not in the library any more."
            return MarkedPage(number, mark, missing=why)
        changed = False
        for row in self.catalogue.rows(
            "SELECT folder.path, file.name, file.size_bytes FROM file"
            " JOIN folder ON folder.id = folder_id WHERE file.sha256 = ? ORDER BY file.id",
            mark.ref.sha256,
        ):
            path = Path(row[0]) / row[1]
            try:
                same_size = path.stat().st_size == row[2]
            except OSError:
                continue
            if same_size:
                return MarkedPage(number, mark, replace(card, folder=Path(row[0]), file=row[1]))
            changed = True
        what = f"{card.file} page {mark.ref.page}"
        if changed:
            why = f"{what} can't be shown: the file holds something else now."
        else:
            why = f"{what} can't be shown: the file is not where it was."
        return MarkedPage(number, mark, missing=why)

    def mark(self, job_id: int, pages: Sequence[PageCard], why: str = "") -> JobRecord:
        """Marks pages for a job, in the order given; one marked before gets the new word why."""
        self._live(job_id)
        kept = typed(why, "word why")
        self.records.mark(job_id, [Mark(page.ref, kept, page.file) for page in pages])
        return self.job(job_id)

    def page_on_list(self, job_id: int, name: str) -> PageRef:
        """A page of a job's list by its number there, or by any name of a page.

        Raises NothingFound for one that is not on the list.
        """
        marks = self.job(job_id).marks
        if name.isdecimal() and len(name) < 4:
            if 1 <= int(name) <= len(marks):
                return marks[int(name) - 1].ref
            raise NothingFound(f"Job {job_id} has {len(marks)} marked pages, no page {name}.")
        ref = self.page(name).ref
        if ref not in [mark.ref for mark in marks]:
            raise NothingFound(
                f"{name} is not marked for job {job_id}.", f"See: benchfolio job show {job_id}"
            )
        return ref

    def unmark(self, job_id: int, refs: Sequence[PageRef]) -> JobRecord:
        """Takes pages off a job's list."""
        self._live(job_id)
        for ref in refs:
            self.records.unmark(job_id, ref)
        return self.job(job_id)

    def move_marks(self, job_id: int, refs: Sequence[PageRef], to: int = 1) -> JobRecord:
        """Puts marked pages together, in this order, the first of them at number `to`."""
        self._live(job_id)
        self.records.move_marks(job_id, refs, to)
        return self.job(job_id)


def typed(text: str, what: str, most: int = limits.MAX_TYPED_CHARS, *, needed: bool = False) -> str:
    """Text as a person typed it, without the bytes that no text has.

    Raises UsageError beyond `most` characters, and for an empty one that is `needed`.
    """
    kept = text.encode("utf-8", "replace").decode("utf-8").replace("\0", "")
    if len(kept) > most:
        raise UsageError(f"The {what} has {len(kept):,} characters; {most:,} is the most.")
    if needed and not kept.strip():
        raise UsageError(f"The {what} is empty.", "Type a few words.")
    return kept


def _set_of(entry: Entry | None, asked: Query | None) -> dict[str, str | Sequence[str]]:
    """The columns of a job that say which set it is."""
    if entry is not None:
        return {
            "entry": entry.id,
            "maker": entry.maker,
            "models": entry.models,
            "chassis": entry.chassis,
            "tubes": [place.type for place in entry.tubes],
        }
    if asked is not None:
        return {
            # a maker that the library doesn't know is a word to the question
            "maker": ", ".join(asked.makers) or " ".join(asked.words),
            "models": (*asked.models, *asked.codes),
            "chassis": asked.chassis,
            "tubes": [tube.partition("/")[0] for tube in asked.tubes],
        }
    return {}


def _time_on(day: str) -> str:
    """The start of a day in local time, ISO 8601. Raises UsageError."""
    try:
        found = date.fromisoformat(day)
    except ValueError as error:
        raise UsageError(f"{day} is not a day.", "Write it as 1998-05-31.") from error
    return datetime(found.year, found.month, found.day).astimezone().isoformat(timespec="seconds")
