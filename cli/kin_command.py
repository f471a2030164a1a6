"""`benchfolio kin`: the sets nearest by line-up, and what exchanges for what."""

from typing import Annotated

import typer

from cli.common import AsJson, Home, Limit, open_library, print_json, print_table, shown_codes


def kin(
    tubes: Annotated[list[str], typer.Argument(help="Tube types as read off the glass.")],
    home: Home = None,
    limit: Limit = 20,
    as_json: AsJson = False,
) -> None:
    """Find the sets whose tubes are nearest to TUBES, and show tube by tube what differs.

    Example: benchfolio kin 12BE6 12BA6 12AT6 50B5 35W4
    """
    from indexer import ExitCode, kin_json

    with open_library(home) as library:
        asked = library.tubes_in(" ".join(tubes))
        line_up = library.line_up(asked)
        ranked = library.kin(asked, limit)
        if as_json:
            print_json(kin_json(library, asked, line_up.supply, ranked))
        else:
            string = f", {line_up.string_volts:.1f} V" if line_up.string_volts else ""
            print(f"Asked: {' '.join(asked)} ({line_up.supply}{string})")
            for near, entry in ranked:
                codes = shown_codes(entry.models, entry.chassis)
                print(f"\n{near.score:.2f}  {entry.maker} {codes}  [{entry.id}]")
                string = f", {entry.string_volts:.1f} V" if entry.string_volts else ""
                print(f"    {entry.supply}{string}")
                print_table(
                    ("asked", "has", "relation", ""),
                    [(p.asked, p.has, p.relation, p.note) for p in near.exchange]
                    + [(kind, "-", "no counterpart", "") for kind in near.missing]
                    + [("-", kind, "extra", "") for kind in near.extra],
                    indent=4,
                )
                print(
                    "    The sockets agree: circuit, values and pin numbers can be followed."
                    if near.same_sockets
                    else "    The sockets differ: follow the circuit, but pin numbers don't apply."
                )
                for card in library.entries.cards(entry.id):
                    kinds = ", ".join(card.kinds)
                    print(f"    {card.name}  {card.file} page {card.ref.page}: {kinds}")
    if not ranked:
        raise typer.Exit(int(ExitCode.NOTHING_FOUND))
