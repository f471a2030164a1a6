"""The command line with a watch on it: run as `python -m tests.endurance.guard COMMAND …`.

Every attempt to reach a network, to start a shell or another program than Tesseract, or (in
commands that hand nothing to workers) to build any object but Whoosh's own segments
from a pickle ends the process with code 86.
Worker processes inherit the watch.
"""

import os
import sys
from pathlib import Path

BROKEN = 86
_NETWORK = (
    "socket.connect", "socket.bind", "socket.sendto", "socket.getaddrinfo", "socket.gethostbyname",
)  # fmt: skip
# What `search/plain_data` lets pass.
_KEPT = {"W3Segment", "W3Codec", "defaultdict", "int", "set", "encode"}
_unpickles = False  # whether pickles may be read: results of workers come through pipes so


def watch(event: str, arguments: tuple[object, ...]) -> None:
    """Python's audit hook (PEP 578)."""
    if event == "socket.bind" and arguments[1] == ("::1", 0):
        return  # a library asks, on being imported, whether this machine speaks IPv6
    program = event == "subprocess.Popen" and Path(str(arguments[0])).stem != "tesseract"
    pickled = event == "pickle.find_class" and not _unpickles and arguments[1] not in _KEPT
    if event in _NETWORK or event == "os.system" or program or pickled:
        _end(event, arguments)


def _end(event: str, arguments: tuple[object, ...]) -> None:
    os.write(2, f"broken trust: {event} {arguments!r}\n".encode())
    os._exit(BROKEN)


if __name__ == "__main__":
    _unpickles = sys.argv[1] == "index"
    from cli.app import main

    sys.addaudithook(watch)
    main()
