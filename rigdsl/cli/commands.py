"""Commands by name, each loaded from its own file when it is called."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Any

import click

__all__ = ["Commands"]


class Commands(click.Group):
    """A group of commands; `told` is what help says of each, `home` the start of the names of their files."""

    def __init__(self, *words: Any, told: Mapping[str, str], home: str, **settings: Any) -> None:
        super().__init__(*words, **settings)
        self.told = told
        self.home = home

    def list_commands(self, ctx: click.Context) -> list[str]:
        """All names, in the order of the help page."""
        return sorted(self.told)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of a name, imported now."""
        if cmd_name not in self.told:
            return None
        command = import_module(f"{self.home}{cmd_name}").command
        return command if isinstance(command, click.Command) else None

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the first argument names; an unknown one is said with the nearest name."""
        name = args[0]
        command = self.get_command(ctx, name)
        if command is None and not name.startswith("-"):
            from rigdsl.finding import similar

            facts = [f"there is no command `{name}`", similar("command", name, self.told)]
            raise click.UsageError("; ".join(fact for fact in facts if fact))
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The list of commands for the help page, without importing any of them."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, self.told[name]) for name in self.list_commands(ctx)])
