"""A job, or another table of the records, as a page of Markdown for a person to read."""

from collections.abc import Mapping, Sequence

from indexer.store.bench_records import BenchRecords
from indexer.store.job_rows import JobRecord

_SPECIAL = str.maketrans({mark: f"\\{mark}" for mark in "\\`*_{}[]<>#|~"})


def job_page(job: JobRecord, bench: BenchRecords) -> str:
    """All that a person typed for a job."""
    out = [f"# Job {job.id}: {_one_line(job.title)}", ""]
    facts = (
        ("Opened", job.opened),
        ("Closed", job.closed or ""),
        ("Owner's tag", job.owner_tag),
        ("Maker", job.maker),
        ("Models", ", ".join(job.models)),
        ("Chassis", ", ".join(job.chassis)),
        ("Tubes", " ".join(job.tubes)),
        ("Entry", job.entry),
        ("Symptom", job.symptom),
        ("Outcome", job.outcome),
        ("Deleted", job.deleted or ""),
        ("Merged into job", str(job.merged_into or "")),
    )
    out += [f"- {name}: {_one_line(value)}" for name, value in facts if value]
    if job.marks:
        out += ["", "## Pages", ""]
        out += [
            f"{number}. {_one_line(mark.file)}, page {mark.ref.page}{_after(mark.why)}"
            for number, mark in enumerate(job.marks, 1)
        ]
    if job.notes:
        out += ["", "## Notes", ""]
        out += [f"- {note.at[:16].replace('T', ' ')}: {_one_line(note.text)}" for note in job.notes]
    if job.photos:
        out += ["", "## Photos", ""]
        out += [
            f"- [{_one_line(photo.name)}](../photos/{photo.kept_as}){_after(photo.why)}"
            for photo in job.photos
        ]
    out += _table("Readings", ("point", "reads", "nominal", "note", "at"), bench.taken(job.id))
    edits = bench.part_edits(job.id)
    out += _table("Parts", ("reference", "added", "state", "at"), edits)
    uses = bench.spare_uses(job.id)
    out += _table("Spares used", ("tube", "spare", "place", "at"), uses)
    return "\n".join(out) + "\n"


def table_page(name: str, rows: Sequence[Mapping[str, object]]) -> str:
    """A whole table; "" for an empty one."""
    if not rows:
        return ""
    head = [column for column in rows[0] if column != "id"]
    out = [f"# {name.replace('_', ' ').capitalize()}", ""]
    return "\n".join(out + _lines(head, [[row[column] for column in head] for row in rows])) + "\n"


def _table(title: str, names: Sequence[str], rows: Sequence[object]) -> list[str]:
    if not rows:
        return []
    cells = [[getattr(row, name) for name in names] for row in rows]
    return ["", f"## {title}", "", *_lines(names, cells)]


def _lines(head: Sequence[str], rows: Sequence[Sequence[object]]) -> list[str]:
    out = ["| " + " | ".join(head) + " |", "|" + " --- |" * len(head)]
    for row in rows:
        cells = ["" if cell is None else _one_line(str(cell)) for cell in row]
        out.append("| " + " | ".join(cells) + " |")
    return out


def _one_line(text: str) -> str:
    """Text as it stands, its line ends as breaks, its Markdown signs as plain letters."""
    return "<br>".join(line.translate(_SPECIAL) for line in text.splitlines()) if text else ""


def _after(text: str) -> str:
    return f": {_one_line(text)}" if text else ""
