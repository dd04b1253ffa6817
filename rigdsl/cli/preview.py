"""`rigdsl preview`."""

from __future__ import annotations

import gc
import os
import time
from importlib.util import find_spec
from threading import Event, Thread
from typing import Any

import click

from rigdsl.cli.reading import STDIN, found_packs, one, pack_option
from rigdsl.cli.revision import revision_of
from rigdsl.cli.trouble import Trouble
from rigdsl.cli.wanted import wanted, wanted_options
from rigdsl.config.keys import FILE, KNOWN_FILE
from rigdsl.rig import project_root
from rigdsl.show import Show

__all__ = ["command"]


@click.command("preview")
@click.argument("rig", metavar="RIG")
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="A free one where none is given.")
@click.option("--open", "opens", is_flag=True, help="Open the page in the browser.")
@wanted_options
@pack_option
def command(rig: str, port: int, opens: bool, pack_files: tuple[str, ...], **asked: Any) -> int:
    """Show the page of a rig, drawn again as its files are saved.

    Only this machine can see it. While a file is half written, the last drawing stays, with what is wrong beside it.
    Ctrl-C ends it.

    Example: rigdsl preview shows/friday.rig --open
    """
    if rig == STDIN:
        raise Trouble("a preview follows a file as it is saved: name one")
    if find_spec("watchfiles") is None:
        raise Trouble("the preview needs `watchfiles`, which is not installed: `pip install 'rigdsl[preview]'`")
    from rigdsl.preview import Maker

    gc.enable()  # it goes on for hours, and makes page after page
    packs = found_packs(pack_files)
    one(rig, packs)  # a file that is not there is said now

    def opened() -> Show:
        return one(rig, found_packs(pack_files) if pack_files else packs)  # a pack that is written is read anew too

    def asked_for(show: Show) -> Any:
        return wanted("", **{**asked, "revision": revision_of(show, asked["revision"] or "")})

    maker = Maker(opened, asked_for, number=time.time_ns() // 10**6)  # a page of an earlier preview is another page
    root = project_root(rig)
    return _serve(maker, port, opens, (rig, str(root / FILE), str(root / KNOWN_FILE), *pack_files))


def _serve(maker: Any, port: int, opens: bool, files: tuple[str, ...]) -> int:
    """Until it is stopped."""
    from rigdsl.preview import Preview, state_of, watched

    before = state_of(files)
    first = maker.made()
    try:
        server = Preview(port, first)
    except PermissionError:
        raise Trouble(f"the port {port} is kept for the system: another `--port`, or none, takes a free one") from None
    except OSError:
        raise Trouble(f"the port {port} is taken: another `--port`, or none, takes a free one") from None
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    stop = Event()
    try:
        click.echo(f"{server.address} shows {os.path.basename(files[0])}; Ctrl-C ends it")
        click.echo(first.said)
        if opens:
            click.launch(server.address)
        for _ in watched(lambda: (*files, *server.now.files), before, stop):
            server.show(maker.made())
            click.echo(server.now.said)
    except KeyboardInterrupt:
        pass
    finally:
        stop.set()
        server.shutdown()
        server.server_close()
        thread.join()
    return 0
