"""The bench view: the library's pages in a browser on this machine. `build_app` makes it."""
