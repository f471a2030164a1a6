"""The drawer of spare tubes: in and out, as CSV, and for a job."""

import csv
import io
from collections.abc import Iterator

from indexer import limits
from indexer.errors import InputError, NothingFound, UsageError
from indexer.job_photos import PhotoDesk
from indexer.jobs import typed
from indexer.store.drawer import Spare, SpareUse
from indexer.trade.numbering import parse_tube, registered
from indexer.trade.relations import relation
from indexer.trade.tubes import known

_COLUMNS = ("type", "count", "place", "note")
_SERVES = ("same", "same, other envelope", "direct substitute")  # best first


class DrawerDesk(PhotoDesk):
    """Spare tubes. Types are kept as typed, envelope and all: 6V6GT is not put down as 6V6."""

    def spares(self) -> list[Spare]:
        """The drawer, by type and place."""
        return self.records.bench.spares()

    def add_spare(self, tube: str, count: int, place: str = "", note: str = "") -> str:
        """Puts tubes into the drawer; the type as it is kept.

        Raises UsageError for what is no tube type, or a count below 1 or above MAX_SPARES.
        """
        spare = _spare(tube, count, place, note, least=1)
        self.records.bench.add_spare(spare)
        return spare.type

    def take_spare(self, tube: str, count: int = 1, place: str = "") -> str:
        """Takes tubes out for good, from one place or the fullest first; the type.

        Raises NothingFound when fewer lie there, UsageError as `add_spare`.
        """
        spare = _spare(tube, count, place, "", least=1)
        if not self.records.bench.take_spare(spare.type, count, spare.place):
            raise self._too_few(spare.type, count, spare.place)
        return spare.type

    def _too_few(self, kind: str, count: int, place: str = "") -> NothingFound:
        lying = [spare for spare in self.spares() if registered(spare.type) == registered(kind)]
        there = sum(s.count for s in lying if s.type == kind and place in ("", s.place))
        where = f"in {place}" if place else "in the drawer"
        others = sorted({f"{s.count} {s.type}" for s in lying if s.type != kind or place})
        said = f"{there or 'No'} {kind} {'lies' if there <= 1 else 'lie'} {where}"
        if there:
            said += f", {count} are asked for"
        return NothingFound(
            f"{said}.", f"There is {', '.join(others)}." if others else "`benchfolio spares list`"
        )

    def spares_csv(self) -> str:
        """The drawer as CSV with a head: type, count, place, note."""
        out = io.StringIO()
        table = csv.writer(out, lineterminator="\r\n")
        table.writerow(_COLUMNS)
        table.writerows((s.type, s.count, s.place, s.note) for s in self.spares())
        return out.getvalue()

    def import_spares(self, text: str, *, add: bool = False) -> int:
        """Reads a CSV of spares; how many lines. Each line says how many of a type lie in a place
        now, or with `add` how many came. Columns by the head's names; without a head type, count,
        place, note. Raises InputError for a line that can't be used, and then nothing changes.
        """
        spares = list(_spare_lines(text, least=1 if add else 0))
        if not add and len({(s.type, s.place) for s in spares}) < len(spares):
            seen: set[tuple[str, str]] = set()
            for spare in spares:
                if (spare.type, spare.place) in seen:
                    where = f" in {spare.place}" if spare.place else ""
                    raise InputError(
                        f"{spare.type}{where} stands on two lines.", "Add them up, or use --add."
                    )
                seen.add((spare.type, spare.place))
        self.records.bench.put_spares(spares, add=add)
        return len(spares)

    def use_spare(self, job_id: int, spare: str, tube: str = "") -> SpareUse:
        """Takes a spare out of the drawer for a job.

        `tube` is the tube of the job's line-up whose place it takes, "" for the one it serves
        best. Raises NothingFound when none lies there, UsageError when it serves no place.
        """
        self._live(job_id)
        kind = tube_kept_as(spare)
        place = self._place_for(job_id, kind, tube)
        use = self.records.bench.use_spare(job_id, place, kind)
        if use is None:
            raise self._too_few(kind, 1)
        return use

    def _place_for(self, job_id: int, spare: str, tube: str) -> str:
        from indexer.bench.spares import drawer_lines, places_of

        job = self.job(job_id)
        tubes = places_of(job, self.entries.entry(job.entry) if job.entry else None)
        lines = drawer_lines(tubes, (), self.records.bench.spare_uses(job_id))
        if not lines:
            return tube_kept_as(tube) if tube else spare
        if tube:
            wanted = tube_kept_as(tube)
            same = [line.tube for line in lines if registered(line.tube) == registered(wanted)]
            if not same:
                raise UsageError(
                    f"There is no {wanted} in job {job_id}'s line-up.",
                    f"It has {', '.join(line.tube for line in lines)}.",
                )
            return wanted if wanted in same else same[0]
        for open_only in (True, False):
            for kind in _SERVES:
                for line in lines:
                    if relation(line.tube, spare).kind == kind and not (open_only and line.used):
                        return line.tube
        raise UsageError(
            f"{spare} serves no place in job {job_id}'s line-up.",
            f"Say for which tube: benchfolio job use {job_id} {spare} --for {lines[0].tube}",
        )

    def put_back(self, job_id: int, spare: str) -> SpareUse:
        """Puts the last spare of a type that a job took back into the drawer.

        Raises NothingFound when it took none.
        """
        self._live(job_id)
        kind = tube_kept_as(spare)
        use = self.records.bench.put_back(job_id, kind)
        if use is None:
            raise NothingFound(f"Job {job_id} took no {kind} out of the drawer.")
        return use

    def spares_used(self, job_id: int) -> list[SpareUse]:
        """The spares that a job took, in order."""
        self.job(job_id)
        return self.records.bench.spare_uses(job_id)


def tube_kept_as(text: str) -> str:
    """One tube type with its envelope and revision as typed: `6v6 gt` -> 6V6GT.

    Raises UsageError for what is no tube type.
    """
    name = parse_tube(text) if len(text) <= limits.MAX_TITLE_CHARS else None
    if name is None or name.count != 1 or known(name.base) is None:
        raise UsageError(
            f"{text[: limits.MAX_TITLE_CHARS]} is not a tube type known here.",
            "Check the spelling.",
        )
    return name.base + name.suffix


def _spare(tube: str, count: int, place: str, note: str, least: int) -> Spare:
    if not least <= count <= limits.MAX_SPARES:
        raise UsageError(f"{count} tubes can't be: {least} to {limits.MAX_SPARES:,} can.")
    where = " ".join(typed(place, "place", limits.MAX_TITLE_CHARS).split())
    return Spare(tube_kept_as(tube), count, where, typed(note, "note", limits.MAX_TITLE_CHARS))


def _spare_lines(text: str, least: int) -> Iterator[Spare]:
    if len(text) > limits.MAX_CSV_BYTES:
        raise InputError(f"The list is larger than {limits.MAX_CSV_BYTES // 1_000_000} MB.")
    names: tuple[str, ...] = _COLUMNS
    try:
        rows = list(csv.reader(io.StringIO(text, newline="")))
    except csv.Error as error:
        raise InputError(f"The list is not CSV ({error}).") from error
    for number, row in enumerate(rows, 1):
        cells = [cell.strip() for cell in row]
        if not any(cells):
            continue
        if number == 1 and "type" in [cell.lower() for cell in cells]:
            names = tuple(cell.lower() for cell in cells)
            continue
        found = dict(zip(names, cells, strict=False))
        try:
            count = int(found.get("count") or 1)
            yield _spare(
                found.get("type", ""), count, found.get("place", ""), found.get("note", ""), least
            )
        except (ValueError, UsageError) as error:
            counted = found.get("count", "")
            said = error.message if isinstance(error, UsageError) else f"{counted} is no count."
            raise InputError(f"Line {number}: {said}", "Example line: 6V6GT,2,drawer 4") from error
