"""`rigdsl git`: what git itself calls, and the one command that sets it up."""

from __future__ import annotations

from importlib import import_module

import click

__all__ = ["command"]

PARTS = {
    "setup": "Set this clone up, once.",
    "merge": "What git calls to merge a rig that two branches changed.",
    "meaning": "What a rig file says, one thing and one fact a line.",
}


class Parts(click.Group):
    """The commands by name, each loaded from its own file."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The one that people call first."""
        return list(PARTS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name, imported now."""
        if cmd_name not in PARTS:
            return None
        command = import_module(f"rigdsl.cli.git_{cmd_name}").command
        return command if isinstance(command, click.Command) else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands for the help page, without importing any of them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(PARTS.items()))


@click.group("git", cls=Parts)
def command() -> None:
    """Compare and merge rigs in a git repository by what things are called.

    `rigdsl git setup` sets a clone up, once; from then on git does the rest.

    Example: rigdsl git setup
    """
