"""What holds for a whole unit of pages: its publication and volume, its run of page numbers."""

from collections import Counter
from collections.abc import Collection, Sequence

from indexer.cataloguing import imprint
from indexer.cataloguing.region import whole_page
from indexer.model import PageInput, PageRef


def page_numbers(
    pages: Sequence[PageInput], copies: Collection[PageRef], loose: bool
) -> dict[PageRef, str]:
    """The printed number of each page; in a bound unit each is checked against its neighbours."""
    read = {
        page.ref: page.printed
        or imprint.printed_page(whole_page(page).lines, page.reading.height_px)
        for page in pages
    }
    if not loose:
        served = [page.ref for page in pages if page.ref not in copies]
        run = imprint.run_of_numbers([read[ref] for ref in served])
        read |= dict(zip(served, run, strict=True))
    return read


def publication_of(pages: Sequence[PageInput]) -> tuple[str, str]:
    """The publication and volume that a bound unit's headers name most often."""
    named = Counter(
        found
        for page in pages
        if (found := imprint.publication_in(whole_page(page).lines, page.reading.height_px))[0]
    )
    if not named:
        return "", ""
    publication = Counter(name for name, _ in named.elements()).most_common(1)[0][0]
    volumes = Counter(volume for _, volume in named.elements() if volume)
    return publication, volumes.most_common(1)[0][0] if volumes else ""
