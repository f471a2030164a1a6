"""Photos kept with a job."""

from functools import cached_property
from pathlib import Path

from indexer import limits
from indexer.errors import InputError, NothingFound, UsageError
from indexer.jobs import JobDesk, typed
from indexer.store.job_rows import JobRecord, Photo, now
from indexer.store.photos import PhotoFolder


class PhotoDesk(JobDesk):
    """Photos of sets, kept by content in the home's `photos` folder."""

    @cached_property
    def photos(self) -> PhotoFolder:
        """The folder of kept photos."""
        return PhotoFolder(self.home / "photos")

    def add_photo(self, job_id: int, data: bytes, name: str, why: str = "") -> Photo:
        """Keeps a photo for a job, byte for byte, under its SHA-256.

        The same photo again only gets the new words. Raises InputError for what is no photo,
        TooLarge beyond the bounds of `limits`, UsageError beyond MAX_JOB_PHOTOS.
        """
        from indexer.bench.photo_check import photo_suffix

        job = self._live(job_id)
        if len(job.photos) >= limits.MAX_JOB_PHOTOS:
            raise UsageError(f"Job {job_id} has {len(job.photos)} photos, the most there may be.")
        kept_name = typed(Path(name).name, "name", limits.MAX_TITLE_CHARS) or "photo"
        suffix = photo_suffix(data, kept_name)
        sha256 = self.photos.put(data, suffix)  # on the disk before a row speaks of it
        words = typed(why, "word why")
        self.records.bench.add_photo(job_id, Photo(sha256, suffix, kept_name, now(), words))
        return self.photo_of(job_id, sha256)

    def photo_of(self, job_id: int, sha256: str) -> Photo:
        """One of a job's photos. Raises NothingFound."""
        for photo in self.job(job_id).photos:
            if photo.sha256 == sha256:
                return photo
        raise NothingFound(f"Job {job_id} has no such photo.")

    def photo_path(self, photo: Photo) -> Path:
        """Where a photo lies. Raises InputError when its file is gone."""
        path = self.photos.path(photo.kept_as)
        if not path.is_file():
            raise InputError(
                f"The photo {photo.name} is gone from {self.photos.folder}.",
                "Attach it again, or restore a backup.",
            )
        return path

    def remove_photo(self, job_id: int, sha256: str) -> JobRecord:
        """Takes a photo off a job's list; its file stays in the home's photos folder."""
        self._live(job_id)
        self.photo_of(job_id, sha256)
        self.records.bench.remove_photo(job_id, sha256)
        return self.job(job_id)
