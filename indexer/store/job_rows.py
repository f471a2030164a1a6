"""What a job's row and its rows beside it hold, as frozen types."""

import json
import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime

from indexer.model import PageRef


@dataclass(frozen=True, slots=True)
class Mark:
    """A page marked for a job, pointed at by content. `file` is the name it had when marked."""

    ref: PageRef
    why: str = ""
    file: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """Something noted during a job."""

    at: str  # local time, ISO 8601
    text: str


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture kept by content in the home's `photos` folder, with the name it came under."""

    sha256: str
    suffix: str  # ".jpg"
    name: str
    at: str
    why: str = ""

    @property
    def kept_as(self) -> str:
        return self.sha256 + self.suffix


@dataclass(frozen=True, slots=True)
class JobRecord:
    """One set on the bench. Times are local, ISO 8601; None where it has not happened."""

    id: int
    title: str
    opened: str
    entry: str = ""
    maker: str = ""
    models: tuple[str, ...] = ()
    chassis: tuple[str, ...] = ()
    tubes: tuple[str, ...] = ()
    symptom: str = ""
    closed: str | None = None
    outcome: str = ""
    marks: tuple[Mark, ...] = field(default=())
    notes: tuple[Note, ...] = field(default=())
    owner_tag: str = ""
    photos: tuple[Photo, ...] = field(default=())
    deleted: str | None = None
    merged_into: int | None = None


def job_from(
    row: sqlite3.Row,
    marks: Sequence[Mark],
    notes: Sequence[sqlite3.Row],
    photos: Sequence[sqlite3.Row],
) -> JobRecord:
    """A job put together from its rows."""
    return JobRecord(
        id=row["id"],
        title=row["title"],
        opened=row["opened"],
        entry=row["entry"],
        maker=row["maker"],
        models=tuple(json.loads(row["models"])),
        chassis=tuple(json.loads(row["chassis"])),
        tubes=tuple(json.loads(row["tubes"])),
        symptom=row["symptom"],
        closed=row["closed"],
        outcome=row["outcome"],
        marks=tuple(marks),
        notes=tuple(Note(note["at"], note["text"]) for note in notes),
        owner_tag=row["owner_tag"],
        photos=tuple(
            Photo(one["sha256"], one["suffix"], one["name"], one["at"], one["why"])
            for one in photos
        ),
        deleted=row["deleted"],
        merged_into=row["merged_into"],
    )


def now() -> str:
    """Local time with its zone, to the second."""
    return datetime.now().astimezone().isoformat(timespec="seconds")
