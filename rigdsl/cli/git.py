"""`rigdsl git`: what git itself calls, and the one command that sets it up."""

from __future__ import annotations

import click

from rigdsl.cli.commands import Commands

__all__ = ["command"]

PARTS = {
    "meaning": "Print what a rig file says, one thing and one fact a line.",
    "merge": "Merge a rig that two branches changed; git calls this.",
    "setup": "Set a clone up, once.",
}


@click.group("git", cls=Commands, told=PARTS, home="rigdsl.cli.git_", invoke_without_command=True)
@click.pass_context
def command(ctx: click.Context) -> int:
    """Compare and merge rigs in a git repository by what things are called.

    `rigdsl git setup` sets a clone up, once; from then on git does the rest.

    Example: rigdsl git setup
    """
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())
    return 0
