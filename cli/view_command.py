"""`benchfolio view`: the library's pages in a browser, on this machine or the bench tablet."""

from typing import Annotated

import typer

from cli.common import Home, open_library, say


def view(
    port: Annotated[int, typer.Option("--port", min=1, max=65_535, help="Where to listen.")] = 8437,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let other devices in by a one-time code.")
    ] = False,
    open_it: Annotated[bool, typer.Option("--open", help="Open it in your browser.")] = False,
    viewer: Annotated[
        list[str] | None,
        typer.Option(
            "--viewer", help="Origin of a IIIF viewer that may read pages; may be repeated."
        ),
    ] = None,
    home: Home = None,
) -> None:
    """Show the library's pages in a browser: ask, look, zoom, two pages side by side.

    Example: benchfolio view --open
    """
    with open_library(home) as library:
        folder = library.home
    from cli.view.serve import serve
    from cli.view.settings import Settings

    settings = Settings(
        home=folder,
        host="0.0.0.0" if lan else "127.0.0.1",
        port=port,
        lan=lan,
        viewers=tuple(viewer or ()),
    )
    serve(settings, open_browser=open_it, say=say)
