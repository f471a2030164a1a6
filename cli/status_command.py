"""`benchfolio status`: what the library holds and what is still to be read."""

from cli.common import AsJson, Home, open_library, print_json, print_table


def status(home: Home = None, as_json: AsJson = False) -> None:
    """Show the library's folders and how many files, pages, entries and jobs it holds.

    Example: benchfolio status
    """
    with open_library(home) as library:
        counts = library.status()
        folders = [str(path) for path in library.catalogue.folders().values()]
        if as_json:
            print_json({"home": str(library.home), "folders": folders, "counts": counts})
            return
        print(f"Home: {library.home}")
        for folder in folders:
            print(f"Folder: {folder}")
        print_table(("", ""), sorted(counts.items()))
