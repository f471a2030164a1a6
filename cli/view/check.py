"""Check: what was read, over the page, with its doubts; what is corrected goes to the records."""

from statistics import median
from typing import TYPE_CHECKING, Any

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cli.view.desk import desk_of
from cli.view.forms import posted, see_other, text_of, texts_of
from cli.view.pages import handle, page_called
from cli.view.paper import address, show
from indexer import Entry, Library, PageKind, UsageError

if TYPE_CHECKING:
    from indexer.store.entries import PageCard

_FAINT = 0.6  # readers' confidence below which a word is drawn as doubtful
_MOST_WORDS = 4_000
_MOST_DOUBTS = 50
_ACROSS = 1_600  # pixels of the picture under the words
_FIELDS = ("maker", "models", "chassis", "tubes", "year")


def _check(request: Request) -> Response:
    desk = desk_of(request)
    with desk.library() as library:
        card = page_called(library, request.path_params["page"])
        name = handle(library, card)
        served = [library.entry(one) for one in library.entries.entries_on_page(card.page_id)]
        wanted = request.query_params.get("in", "")
        entry = next((one for one in served if one.id == wanted), served[0] if served else None)
        near = [] if entry is None else list(entry.pages)
        of = [entry.id, card.name] if entry else [card.name]
        doubts = library.doubts(_MOST_DOUBTS, of=of)
        made = [
            state
            for state in library.corrections()
            if state.correction.undone is None
            and (card.ref in state.correction.pages or state.correction.page == card.ref
                 or (entry and entry.id in state.entries))
        ]  # fmt: skip
        reading = library.reading(card)
        others = [] if entry is None else _beside(library, entry)
    _, (width, height) = desk.sheet(name)
    share = min(1.0, _ACROSS / width)
    scale = width / max(1, reading.width_px)
    words: list[dict[str, Any]] = [
        {"box": [round(v * scale) for v in (w.box.left, w.box.top, w.box.width, w.box.height)],
         "text": w.text, "printed": w.printed, "faint": w.confidence < _FAINT}
        for w in reading.words[:_MOST_WORDS]
    ]  # fmt: skip
    lettering = 0.55 * median(word["box"][3] for word in words) if words else 0.0
    return show(
        request,
        "check.html",
        lettering=round(max(14.0, lettering), 1),
        card=card,
        name=name,
        entry=entry,
        served=served,
        others=others,
        first=bool(near) and near[0] == card.ref,
        kinds=[kind.value for kind in PageKind],
        doubts=doubts,
        made=made,
        words=words,
        size=(round(width * share), round(height * share)),
        whole=(width, height),
        said=request.query_params.get("said", "")[:400],
    )


def _beside(library: Library, entry: Entry) -> list[Entry]:
    """Entries that print pages in the same files: those one would join or move a page to."""
    hashes = {ref.sha256 for ref in entry.pages}
    near = [
        one
        for one in library.all_entries()
        if one.id != entry.id and any(ref.sha256 in hashes for ref in one.pages)
    ]
    return near[:200]


def _correct(request: Request, form: FormData) -> Response:
    """Records one correction, by the `do` of the pressed key, and shows the page anew."""
    do, entry = text_of(form, "do"), text_of(form, "entry")
    with desk_of(request).library() as library:
        card = page_called(library, request.path_params["page"])
        page = f"{card.file}#{card.ref.page}"
        if do == "set":
            change = library.correct(entry or page, **_changed(library, entry, form))
        elif do == "kinds":
            change = library.set_kinds(page, texts_of(form, "kind"))
        elif do == "split":
            change = library.split_entry(entry, page)
        elif do == "join":
            change = library.join_entries(entry, text_of(form, "other"))
        elif do == "move":
            change = library.move_page(page, text_of(form, "other"), entry)
        elif do == "none":
            change = library.not_an_entry(entry or page)
        elif do == "right":
            change = library.looked_at(entry or page)
        elif do == "undo" and text_of(form, "number").isdecimal():
            change = library.undo_correction(int(text_of(form, "number")[:9]))
        else:
            raise UsageError("That key does nothing here.", "Open the page again.")
        name = handle(library, card)
    within = entry if entry in change.entries else next(iter(change.entries), entry)
    return see_other(address("/check", name, in_=within, said=" ".join(change.said) or "Kept."))


def _changed(library: Library, entry_id: str, form: FormData) -> dict[str, Any]:
    """The fields that differ from what the entry has; a person may have touched only one."""
    entry = library.entry(entry_id) if entry_id else None
    now = {
        "maker": entry.maker if entry else "",
        "models": list(entry.models) if entry else [],
        "chassis": list(entry.chassis) if entry else [],
        "tubes": [tube.printed or tube.type for tube in entry.tubes] if entry else [],
        "year": (entry.year or 0) if entry else 0,
    }
    year = text_of(form, "year")
    if year and (not year.isdecimal() or len(year) != 4):
        raise UsageError(f"{year[:20]!r} is no year.", "Four figures, or nothing.")
    given: dict[str, Any] = {
        "maker": text_of(form, "maker"),
        "models": _list(form, "models"),
        "chassis": _list(form, "chassis"),
        "tubes": text_of(form, "tubes").replace(",", " ").split(),
        "year": int(year or 0),
    }
    changed = {name: given[name] for name in _FIELDS if given[name] != now[name]}
    if not changed:
        raise UsageError("Nothing was changed.", "Change a field first, then keep it.")
    return changed


def _list(form: FormData, name: str) -> list[str]:
    """One code on a line."""
    return [line.strip() for line in text_of(form, name).splitlines() if line.strip()]


def _doubts(request: Request) -> Response:
    sort = request.query_params.get("sort", "")
    with desk_of(request).library() as library:
        counts = library.doubt_counts()
        shown = library.doubts(60, sorts=[sort] if sort in counts else [])
        cards: dict[str, PageCard | None] = {}
        rows = []
        for doubt in shown:
            key = f"{doubt.page}"
            if key not in cards:
                cards[key] = library.entries.card_of(doubt.page) if doubt.page else None
            card = cards[key]
            name = handle(library, card) if card else ""
            rows.append({"doubt": doubt, "name": name, "region": _region(doubt.part)})
    return show(request, "doubts.html", rows=rows, counts=counts, sort=sort)


def _region(part: Any) -> str:
    """The part of the page as a region of the Image API, never thinner than it can be seen."""
    left, top = max(0.0, part.left - 0.01), max(0.0, part.top - 0.01)
    width = min(1.0 - left, max(0.05, part.right - left + 0.01))
    height = min(1.0 - top, max(0.03, part.bottom - top + 0.01))
    return "pct:" + ",".join(f"{100 * v:.2f}" for v in (left, top, width, height))


nav = ("Doubts", "/doubts")
routes = [
    Route("/doubts", _doubts, methods=["GET"]),
    Route("/check/{page}", _check, methods=["GET"]),
    Route("/check/{page}", posted(_correct), methods=["POST"]),
]
