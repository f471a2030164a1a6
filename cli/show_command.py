"""`benchfolio show`: an entry or a page, its facts and where each was read."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli.common import AsJson, Home, open_library, print_json, print_table, shown_codes

if TYPE_CHECKING:
    from indexer import Entry, Library


def show(
    name: Annotated[str, typer.Argument(help="An entry, a page's short name, or FILE#PAGE.")],
    home: Home = None,
    picture: Annotated[
        Path | None, typer.Option("--picture", help="Write the page's picture here (PNG).")
    ] = None,
    open_it: Annotated[
        bool, typer.Option("--open", help="Open the page's picture in your viewer.")
    ] = False,
    words: Annotated[
        bool, typer.Option("--words", help="Draw the words read over the picture.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Show what is known of an entry or a page, and where it was read.

    Example: benchfolio show tillbrook-5d10-k7 --picture page.png
    """
    with open_library(home) as library:
        entry = library.entries.entry(name)
        if entry is not None:
            _show_entry(library, entry, as_json)
            name = f"{name}/1"
        else:
            _show_page(library, name, as_json)
        if picture or open_it or words:
            _refuse_paper(entry)
            _write_picture(library, name, picture, open_it, words)


def _show_entry(library: "Library", entry: "Entry", as_json: bool) -> None:
    from indexer import entry_json, relations_json

    if as_json:
        print_json(entry_json(library, entry) | {"evidence": entry.evidence})
        return
    print(f"{entry.maker} {shown_codes(entry.models, entry.chassis)}  [{entry.id}]")
    for label, value in (
        ("year", entry.year),
        ("intermediate frequency", f"{entry.if_khz:g} kc" if entry.if_khz else None),
        ("supply", entry.supply),
        ("heater string", f"{entry.string_volts:.1f} V" if entry.string_volts else None),
        ("live chassis", entry.live_chassis),
    ):
        if value is not None:
            print(f"  {label}: {value}")
    if entry.live_chassis != "no":
        print("  Take the chassis as live until you have measured; use an isolation transformer.")
    print()
    print_table(
        ("tube", "printed", "role", "symbol"),
        [(t.type, t.printed, t.role, t.symbol) for t in entry.tubes],
        indent=2,
    )
    print()
    for n, card in enumerate(library.entries.cards(entry.id), 1):
        printed = f", printed {card.printed}" if card.printed else ""
        kinds = ", ".join(card.kinds)
        place = f"{card.file} page {card.ref.page}{printed}"
        print(f"  {card.name}  {place}: {kinds}  ({entry.id}/{n})")
    if entry.on_paper:
        print(f"  on paper: {entry.on_paper}")
    if entry.note:
        print(f"  {entry.note}")
    for fact, where in entry.evidence.items():
        if fact in entry.corrected:
            print(f"  {fact}: {where}")
        else:
            print(f"  {fact} read on {where}")
    if "pages" in entry.corrected:
        print("  pages: your correction")
    for said in relations_json(library, entry):
        where = f"  [{said['entry']}]" if said["entry"] else ""
        print(f"  {said['relation']} {said['model']}{where}")
    for doubt in entry.doubts:
        print(f"  doubt: {doubt}")


def _refuse_paper(entry: "Entry | None") -> None:
    from indexer import NothingFound

    if entry is not None and not entry.pages:
        raise NothingFound(f"{entry.id} lies on paper: {entry.on_paper}.", "It has no picture.")


def _show_page(library: "Library", name: str, as_json: bool) -> None:
    from indexer import page_json

    card = library.page(name)
    (row,) = library.catalogue.pages("page.id = ?", card.page_id)
    data = page_json(library, row, text=True)
    if as_json:
        print_json(data)
        return
    print(f"{card.name}  {card.path} page {card.ref.page}")
    for key in ("printed", "kinds", "models", "chassis", "tubes", "entry", "reader", "state"):
        value = data[key]
        shown = ", ".join(value) if isinstance(value, list) else value
        if shown:
            print(f"  {key}: {shown}")
    if data["corrected"]:
        print(f"  your correction: {', '.join(data['corrected'])}")
    if data["rotation_deg"]:
        print(f"  turned {data['rotation_deg']} degrees clockwise to stand upright")
    mended = [word for word in library.reading(card).words if word.why]
    for word in mended:
        if any(map(str.isdigit, word.text + word.printed)):  # a type, a code or a value
            read = f"{word.text} was read as {word.printed}" if word.printed else word.text
            print(f"  {read}: {word.why}")
    if plain := sum(not any(map(str.isdigit, word.text + word.printed)) for word in mended):
        print(f"  and {plain} plain words or signs put right, marked in the picture with --words")
    print()
    print(data["text"])


def _write_picture(
    library: "Library", name: str, picture: Path | None, open_it: bool, words: bool
) -> None:
    from indexer import InputError

    card = library.page(name)
    drawn = library.picture(card)
    if words:
        drawn = library.words_over(library.reading(card), drawn)
    target = picture or library.home / "pictures" / f"{card.name}.png"
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        drawn.save(target, "PNG")
    except (OSError, ValueError) as error:
        raise InputError(f"The picture can't be written to {target} ({error}).") from error
    print(f"Picture: {target}")
    if open_it:
        typer.launch(str(target))
