"""Starts the board: a socket on loopback, the page in the browser, an end by Ctrl-C."""

import gc
import secrets
import socket
import sys
import threading
import webbrowser
from pathlib import Path

import uvicorn

from gantrywright.base.errors import GantrywrightError
from gantrywright.board.app import create_app
from gantrywright.board.guard import LOOPBACK, Guard
from gantrywright.board.office import Office
from gantrywright.board.shelf import DEMO, Shelf


def serve(machine: Path | None, *, host: str = "127.0.0.1", port: int = 0, browser: bool = True) -> int:
    """Open the board and stay until it is ended.

    Args:
        machine: File to open; None shows the start page of the current folder.
        host: Address to listen on; anything but loopback asks every visitor for a key.
        port: 0 takes a free one.
        browser: Open the page in the browser, where there is one.

    Raises:
        GantrywrightError: The file cannot be read, or the address cannot be had.
    """
    folder = machine.resolve().parent if machine is not None and not _is_demo(machine) else Path.cwd()
    shelf = Shelf(folder)
    office = Office(shelf)
    try:
        if machine is not None:
            file = shelf.demo(machine.stem) if _is_demo(machine) else machine.resolve()
            office.open(file)
            if _is_demo(machine):
                print(f"The demo was copied to {file}; changes are written there.", flush=True)
        gc.collect()
        gc.freeze()  # what is loaded stays: looking through it again would hold up an answer now and then
        open_to_all = host not in ("127.0.0.1", "localhost", "::1")
        key = secrets.token_urlsafe(18) if open_to_all else ""
        listening = _listening(host, port)
        address = _address(host, listening.getsockname()[1], key)
        hosts = LOOPBACK | ({host, socket.gethostname()} | _own_addresses(host) if open_to_all else frozenset())
        server = uvicorn.Server(
            uvicorn.Config(
                create_app(office, Guard(frozenset(hosts), key)), log_level="error", lifespan="on", timeout_graceful_shutdown=1
            )
        )
        print(f"The drawing board is at {address}  (Ctrl-C ends it)", flush=True)
        if open_to_all:
            print(
                "Anybody on this network who has that address can change the machine file; what is sent can be read by others on it.",
                flush=True,
            )
        if browser:
            threading.Thread(target=_show, args=(server, address), daemon=True).start()
        server.run(sockets=[listening])
    except KeyboardInterrupt:
        pass
    finally:
        office.close()
    return 0


def _is_demo(machine: Path) -> bool:
    return machine.resolve().is_relative_to(DEMO)


def _listening(host: str, port: int) -> socket.socket:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    made = socket.socket(family, socket.SOCK_STREAM)
    if sys.platform != "win32":
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((host, port))
        made.listen(128)  # whoever reads the address may come before the server is ready: he waits in line
    except OSError as error:
        made.close()
        raise GantrywrightError(
            f"the address {host}:{port} cannot be had ({error.strerror or error}); choose another --port"
        ) from error
    return made


def _address(host: str, port: int, key: str) -> str:
    shown = f"[{host}]" if ":" in host else socket.gethostname() if host in ("0.0.0.0", "::") else host
    return f"http://{shown}:{port}/" + (f"?key={key}" if key else "")


def _own_addresses(host: str) -> set[str]:
    """Names that this machine has on its network, where it listens on all of them."""
    if host not in ("0.0.0.0", "::"):
        return set()
    try:
        return {str(entry[4][0]) for entry in socket.getaddrinfo(socket.gethostname(), None)}
    except OSError:
        return set()


def _show(server: uvicorn.Server, address: str) -> None:
    """Open the page once the server answers; a machine without a screen has the printed address."""
    while not server.started:
        if server.should_exit:
            return
        threading.Event().wait(0.05)
    try:
        webbrowser.get()
    except webbrowser.Error:
        print("There is no browser here: open that address in one.", flush=True)
        return
    webbrowser.open(address)
