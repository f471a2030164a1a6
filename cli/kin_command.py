"""`benchfolio kin`: the sets nearest by line-up, and what exchanges for what."""

from typing import TYPE_CHECKING, Annotated

import typer

from cli.common import AsJson, Home, Limit, open_library, print_json, print_table, shown_codes

if TYPE_CHECKING:
    from indexer import Entry, Library
    from indexer.search.kin import Nearness
    from indexer.trade.lineup import LineupFacts


def kin(
    tubes: Annotated[
        list[str] | None,
        typer.Argument(help="Tube types as read off the glass; ? for what can't be read."),
    ] = None,
    of: Annotated[str, typer.Option("--of", help="An entry whose tubes are asked for.")] = "",
    with_schematic: Annotated[
        bool, typer.Option("--with-schematic", help="Only sets whose schematic is on the shelf.")
    ] = False,
    same_sockets: Annotated[
        bool, typer.Option("--same-sockets", help="Only sets whose pin numbers apply.")
    ] = False,
    partial: Annotated[
        bool | None,
        typer.Option("--partial/--whole", help="Whether tubes are missing from the list."),
    ] = None,
    home: Home = None,
    limit: Limit = 20,
    as_json: AsJson = False,
) -> None:
    """Find the sets whose tubes are nearest to TUBES, and show tube by tube what differs.

    Example: benchfolio kin 12BE6 12BA6 12AT6 50B5 35W4
    """
    from indexer import ExitCode, UsageError, kin_json

    with open_library(home) as library:
        maker, unread = "", 0
        if of:
            entry = library.entry(of)
            asked = ["/".join((p.type, *p.alternatives)) for p in entry.tubes]
            maker = entry.maker
            if not asked:
                raise UsageError(f"{of} names no tubes.", "Give the tubes instead.")
        else:
            typed = " ".join(tubes or [])
            asked = library.tubes_in(typed)
            unread = library.unread_in(typed)
        line_up = library.line_up(asked)
        ranked = library.kin(
            asked,
            limit,
            with_schematic=with_schematic,
            same_sockets=same_sockets,
            partial=(False if of else True if unread else None) if partial is None else partial,
            maker=maker,
            without=of,
        )
        if as_json:
            print_json(kin_json(library, asked, line_up.supply, ranked))
        else:
            string = f", {line_up.string_volts:.1f} V" if line_up.string_volts else ""
            more = f", {unread} not read" if unread else ""
            print(f"Asked: {' '.join(map(_short, asked))}{more} ({line_up.supply}{string})")
            for near, entry in ranked:
                codes = shown_codes(entry.models, entry.chassis)
                print(f"\n{near.score:.2f}  {f'{entry.maker} {codes}'.strip()}  [{entry.id}]")
                print_nearness(library, near, line_up, entry)
                if entry.on_paper:
                    print(f"    on paper: {entry.on_paper}")
                for card in library.entries.cards(entry.id):
                    kinds = ", ".join(card.kinds)
                    print(f"    {card.name}  {card.file} page {card.ref.page}: {kinds}")
    if not ranked:
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))


def print_nearness(
    library: "Library", near: "Nearness", asked: "LineupFacts", entry: "Entry", grade: str = ""
) -> None:
    """Tubes, supply and string side by side, and what of the pages can be trusted."""
    rows = [(p.asked, p.has, p.relation, p.note) for p in near.exchange]
    rows += [(kind, "-", "no counterpart", "") for kind in near.missing]
    rows += [("-", kind, "extra", "") for kind in near.extra]
    rows.append((asked.supply, entry.supply, "supply", ""))
    rows.append((_volts(asked.string_volts), _volts(entry.string_volts), "string", ""))
    print_table(("asked", "has", "relation", ""), rows, indent=4)
    for part in library.trust(near, asked, entry, grade):
        print(f"    {part.what}: {part.applies} ({part.why})")


def _short(kind: str) -> str:
    """A type with many alternatives by its first few."""
    options = kind.split("/")
    return kind if len(options) <= 4 else f"{'/'.join(options[:3])}/… ({len(options)} types)"


def _volts(volts: float | None) -> str:
    return f"{volts:.1f} V" if volts else "-"
