"""Whatever a person typed comes back the same from an export and from a backup."""

import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from indexer.errors import InputError
from indexer.model import PageRef
from indexer.store import exporting, keeping
from indexer.store.bench_records import Spare, Taken
from indexer.store.job_rows import Photo
from indexer.store.photos import PhotoFolder
from indexer.store.records import Mark, Records
from indexer.store.wanted import Wanted, WantedList

# Everything that UTF-8 can hold but NUL, and what CSV, spreadsheets and Markdown trip over.
NASTY = [
    "",
    "=1+1",
    "'",
    "'=x",
    "-6.5",
    "@a",
    '"',
    'a,"b"\r\nc',
    "\r",
    "00123",
    "é Ω µF",
    "|*_#",
    "\t",
]
TEXT = st.sampled_from(NASTY) | st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=30
)
HASH = st.integers(0, 3).map(lambda n: f"{n:x}" * 64)
LISTS = st.lists(TEXT, max_size=3)
JOB = st.fixed_dictionaries(
    {
        "title": TEXT, "entry": TEXT, "maker": TEXT, "models": LISTS, "chassis": LISTS,
        "tubes": LISTS, "symptom": TEXT, "owner_tag": TEXT,
        "marks": st.lists(st.tuples(HASH, st.integers(1, 3), TEXT, TEXT), max_size=3),
        "notes": st.lists(TEXT, max_size=3),
        "taken": st.lists(st.tuples(TEXT, TEXT, TEXT, TEXT), max_size=2),
        "parts": st.lists(st.tuples(TEXT, TEXT, st.sampled_from(["", "done", "struck"]))),
        "photos": st.lists(st.tuples(st.binary(min_size=1, max_size=9), TEXT, TEXT), max_size=2),
        "closed": st.none() | TEXT, "deleted": st.booleans(), "uses": st.booleans(),
    }
)  # fmt: skip
EMPTY_JOB = {
    "title": "", "entry": "", "maker": "", "models": [], "chassis": [], "tubes": [],
    "symptom": "", "owner_tag": "", "marks": [], "notes": [], "taken": [], "parts": [],
    "photos": [], "closed": None, "deleted": False, "uses": False,
}  # fmt: skip
SPARES = st.lists(st.tuples(TEXT, st.integers(0, 9), TEXT, TEXT), max_size=3)


def opened(path: Path) -> Records:
    """Records that don't wait for the disk: no power is cut here."""
    made = Records(path)
    made.db.conn.execute("PRAGMA synchronous = OFF")
    return made


def filled(records: Records, photos: PhotoFolder, jobs: list[dict], spares: list[tuple]) -> None:
    """Records in which all of that was typed."""
    records.bench.put_spares([Spare(*spare) for spare in spares], add=True)
    records.bench.add_spare(Spare("6V6GT", 3, "drawer 4"))
    WantedList(records).add(Wanted(0, model=spares[0][0] if spares else "5D10"))
    for job in jobs:
        names = ("title", "entry", "maker", "models", "chassis", "tubes", "symptom", "owner_tag")
        number = records.open_job(**{name: job[name] for name in names})
        marks = [Mark(PageRef(sha, page), why, file) for sha, page, why, file in job["marks"]]
        records.mark(number, marks)
        for note in job["notes"]:
            records.note(number, note)
        records.bench.take_all(number, [Taken(*one) for one in job["taken"]])
        for reference, added, state in job["parts"]:
            records.bench.edit_part(number, reference, added=added, state=state)
        for data, name, why in job["photos"]:
            sha = photos.put(data, ".jpg")
            records.bench.add_photo(number, Photo(sha, ".jpg", name, "2026-03-01", why))
        if job["uses"]:
            records.bench.use_spare(number, "6V6", "6V6GT")
        if job["closed"] is not None:
            records.close_job(number, job["closed"])
        if job["deleted"]:
            records.delete_job(number)
    live = [job.id for job in records.jobs()]
    if len(live) > 1:
        records.merge_jobs(live[0], live[1])


def everything(records: Records) -> dict[str, list[tuple[object, ...]]]:
    """Every row of every table that holds what a person gave."""
    run = records.db.conn.execute
    return {
        name: [tuple(row) for row in run(f"SELECT * FROM {name} ORDER BY rowid")]
        for name in keeping.tables(records.db)
    }


def shown(records: Records) -> list[object]:
    """The same as the rest of the program sees it."""
    jobs = [*records.jobs(), *records.jobs(deleted=True)]
    return [*jobs, *records.bench.spares(), *(records.bench.taken(job.id) for job in jobs)]


@settings(max_examples=10, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs=st.lists(JOB, max_size=3), spares=SPARES)
@example(
    jobs=[{**EMPTY_JOB, "notes": NASTY, "marks": [("a" * 64, 1, "", "")]}, EMPTY_JOB],
    spares=[],
)
def test_what_was_typed_comes_back(jobs: list[dict], spares: list[tuple]) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        records, photos = opened(folder / "records.db"), PhotoFolder(folder / "photos")
        filled(records, photos, jobs, spares)
        before, kept = everything(records), sorted(p.name for p in folder.glob("photos/*"))

        exporting.export(records, folder / "out", photos)
        other, others = opened(folder / "other.db"), PhotoFolder(folder / "others")
        count = exporting.bring_in(other, folder / "out", others)
        assert everything(other) == before
        assert shown(other) == shown(records)
        assert count == sum(map(len, before.values()))
        assert sorted(p.name for p in folder.glob("others/*")) == kept

        assert keeping.back_up(records, folder / "copy.db", photos) == []
        third, thirds = opened(folder / "third.db"), PhotoFolder(folder / "thirds")
        assert keeping.restore(third, folder / "copy.db", thirds) is None
        assert everything(third) == before
        assert sorted(p.name for p in folder.glob("thirds/*")) == kept
        for one in (records, other, third):
            one.close()


@pytest.fixture
def records(tmp_path: Path) -> Records:
    made = Records(tmp_path / "records.db")
    filled(made, PhotoFolder(tmp_path / "photos"), [{**EMPTY_JOB, "notes": ["hum"]}], [])
    return made


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("note.csv", "id,job_id,at,text\n1,99,2026-03-01,of no job\n"),
        ("note.csv", "id,job_id,at,text\nx,1,2026-03-01,no number\n"),
        ("note.csv", "id,job_id,at\n1,1,2026-03-01\n"),  # the text is missing
        ("job.csv", 'id,title,opened,models\n1,a,2026-03-01,"[1,"\n'),  # no list
        ("spare.csv", "id,type,count\n1,6V6,-3\n"),
        ("note.csv", b"id,job_id,at,text\n1,1,2026,\xff\xfe\n"),
        ("note.csv", 'id,job_id,at,text\n1,1,2026,"' + "x" * 2_000_000 + '"\n'),
        ("photos/" + "a" * 64 + ".jpg", "not what its name says"),
        ("photos/readme.txt", "no photo"),
    ],
)
def test_an_export_that_was_spoilt_changes_nothing(
    records: Records, tmp_path: Path, file: str, text: str | bytes
) -> None:
    photos = PhotoFolder(tmp_path / "photos")
    exporting.export(records, tmp_path / "out", photos)
    (tmp_path / "out" / "photos").mkdir(exist_ok=True)
    (tmp_path / "out" / file).write_bytes(text.encode() if isinstance(text, str) else text)
    before = everything(records)
    with pytest.raises(InputError):
        exporting.bring_in(records, tmp_path / "out", photos, force=True)
    assert everything(records) == before
    assert not records.db.conn.in_transaction
    records.note(1, "and work goes on")


def test_a_page_of_markdown_says_all_of_a_job(tmp_path: Path) -> None:
    records, photos = Records(tmp_path / "records.db"), PhotoFolder(tmp_path / "photos")
    job = {
        **EMPTY_JOB, "title": "Hall set", "symptom": "hum", "owner_tag": "114", "notes": ["a|b\nc"],
        "marks": [("a" * 64, 3, "schematic", "annual.pdf")], "taken": [("R7", "800K", "470K", "")],
        "parts": [("C8A", "", "done")], "photos": [(b"x", "front.jpg", "as it came in")],
        "uses": True,
    }  # fmt: skip
    filled(records, photos, [job], [])
    exporting.export(records, tmp_path / "out", photos)
    text = (tmp_path / "out" / "jobs" / "job-1.md").read_text(encoding="utf-8")
    for said in (
        "# Job 1: Hall set", "- Symptom: hum", "- Owner's tag: 114",
        "annual.pdf, page 3: schematic",
        r"a\|b<br>c", "| R7 | 800K | 470K |", "| C8A |  | done |", "front.jpg", "as it came in",
        "| 6V6 | 6V6GT | drawer 4 |",
    ):  # fmt: skip
        assert said in text, said
    link = text.split("](../")[1].split(")")[0]
    assert (tmp_path / "out" / link).read_bytes() == b"x"
    spares = (tmp_path / "out" / "spare.md").read_text(encoding="utf-8")
    assert "| 6V6GT | 2 | drawer 4 |" in spares
