"""The view served by uvicorn until it is stopped."""

import contextlib
import socket
import webbrowser
from collections.abc import Callable

import uvicorn

from cli.view.app import build_app
from cli.view.lan import CODE_PATH
from cli.view.settings import Settings
from indexer import InputError

_IDLE_S = 20


def serve(settings: Settings, *, open_browser: bool, say: Callable[[str], None]) -> None:
    """Serves until interrupted. Raises InputError when the port is taken."""
    listening = _listen(settings)
    address = f"http://{lan_address() if settings.lan else '127.0.0.1'}:{settings.port}/"
    say(f"The bench view is at {address} (stop it with Ctrl-C).")
    if settings.lan:
        say("Whoever reads what passes on this network can read your pages too.")

    def announce(code: str) -> None:
        say(f"Code for the next device: {code}   {address.rstrip('/')}{CODE_PATH}")

    app = build_app(settings, announce)
    if open_browser:
        webbrowser.open(address)
    server = uvicorn.Server(
        uvicorn.Config(
            app,
            log_level="warning",
            access_log=False,
            server_header=False,
            proxy_headers=False,
            timeout_keep_alive=_IDLE_S,
            timeout_graceful_shutdown=3,
            ws="none",
        )
    )
    with contextlib.closing(listening):
        server.run(sockets=[listening])


def lan_address() -> str:
    """This machine's address on the local network; 127.0.0.1 when it has none. Sends nothing."""
    with contextlib.closing(socket.socket(socket.AF_INET, socket.SOCK_DGRAM)) as asking:
        try:
            asking.connect(("192.0.2.1", 9))  # an address for documentation (RFC 5737)
            return str(asking.getsockname()[0])
        except OSError:
            return "127.0.0.1"


def _listen(settings: Settings) -> socket.socket:
    # named as TCP outright: only then does asyncio send a tile without waiting for 40 ms
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((settings.host, settings.port))
    except OSError as error:
        listening.close()
        raise InputError(
            f"Port {settings.port} can't be used ({error.strerror}).",
            "Choose another: benchfolio view --port 8500",
        ) from error
    listening.listen(128)
    return listening
