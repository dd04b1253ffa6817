"""The command `rigdsl` itself: which commands there are, and how it ends.

Exit status: 0 nothing to tell, 1 findings, 2 it could not do its work, which is then
said in one line on standard error.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence

import click

from rigdsl.cli.commands import Commands
from rigdsl.cli.streams import steady
from rigdsl.cli.trouble import CANNOT, said

__all__ = ["COMMANDS", "main"]

# What `rigdsl --help` says of each command: a command's file is imported only when it is called.
COMMANDS = {
    "compare": "Say what a change means on the night.",
    "check": "Tell what is wrong with rigs, and how to mend it.",
    "draw": "Draw a rig: its signal flow, its cabling, its plan.",
    "explain": "Explain a rule: what it checks, why, and an example of each kind.",
    "export": "Write the resolved rig as JSON, for other programs.",
    "git": "Compare and merge rigs in a git repository by what things are called.",
    "lose": "Tell what falls silent if cables or boxes fail.",
    "match": "Tell which stage boxes work with which desks, and why not.",
    "preview": "Show the page of a rig, drawn again as its files are saved.",
    "papers": "Print the lists that a crew works from, or the whole show book.",
    "rules": "List every rule that is checked.",
    "start": "Start a project, from nothing or from a band's input list.",
    "tidy": "Set rig files in the one layout; what they say stays the same.",
    "trace": "Follow a source, output, socket or cable, hop by hop.",
}

STOPPED = 130  # as shells have it for a program that was interrupted


def _version(ctx: click.Context, parameter: click.Parameter, wanted: bool) -> None:
    if wanted and not ctx.resilient_parsing:
        from importlib.metadata import version

        click.echo(f"rigdsl {version('rigdsl')}")
        ctx.exit()


@click.group(
    cls=Commands,
    told=COMMANDS,
    home="rigdsl.cli.",
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"]},
)
@click.option(
    "--version", is_flag=True, is_eager=True, expose_value=False, callback=_version, help="Show the version and end."
)
@click.pass_context
def rigdsl(ctx: click.Context) -> int:
    """A live-sound rig in a small text language: check it, draw it, follow a signal through it.

    Example: rigdsl check shows/friday.rig
    """
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())
    return 0


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command; the exit status is returned. `arguments` are those of the process where none are given."""
    # A command makes one big value and ends: looking through it for garbage again and again takes time that grows
    # faster than the rig, and finds nothing.
    collecting = gc.isenabled()
    gc.disable()
    try:
        return _run(arguments)
    finally:
        if collecting:
            gc.enable()


def _run(arguments: Sequence[str] | None) -> int:
    steady()
    try:
        status = rigdsl.main(None if arguments is None else list(arguments), prog_name="rigdsl", standalone_mode=False)
        sys.stdout.flush()
    except click.ClickException as trouble:
        click.echo(f"rigdsl: {said(trouble)}", err=True)
        return CANNOT
    except (click.Abort, KeyboardInterrupt):
        click.echo("rigdsl: stopped", err=True)
        return STOPPED
    except BrokenPipeError:  # the reader of a pipe has seen enough: nothing is wrong
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except OSError as trouble:
        reason = (trouble.strerror or str(trouble)).lower()
        click.echo(f"rigdsl: {reason}: {trouble.filename}" if trouble.filename else f"rigdsl: {reason}", err=True)
        return CANNOT
    except Exception as fault:
        if os.environ.get("RIGDSL_TRACEBACK"):
            raise
        click.echo(f"rigdsl: a fault in rigdsl itself: {_first_line(fault)} (RIGDSL_TRACEBACK=1 shows where)", err=True)
        return CANNOT
    return status if isinstance(status, int) else 0


def _first_line(fault: Exception) -> str:
    return " ".join(f"{type(fault).__name__}: {fault}".split())[:300]
