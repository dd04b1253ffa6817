"""What a command says when it cannot do its work: one line, in plain words, and exit status 2."""

from __future__ import annotations

import click

__all__ = ["CANNOT", "Trouble", "said"]

CANNOT = 2


class Trouble(click.ClickException):
    """The work cannot be done, and why: a file that is not there, a folder that cannot be written."""

    exit_code = CANNOT


def said(trouble: click.ClickException) -> str:
    """One line for a person: what is wrong with a call, in our own words where click has words of its own."""
    text = _own_words(trouble)
    return " ".join(text.split())


def _own_words(trouble: click.ClickException) -> str:
    if isinstance(trouble, click.NoSuchOption):
        from rigdsl.finding import near

        nearest = near(trouble.option_name, trouble.possibilities or ())
        fact = f"; there is an option with a similar name: `{nearest}`" if nearest else ""
        return f"there is no option `{trouble.option_name}`{fact}"
    if isinstance(trouble, click.MissingParameter) and trouble.param is not None and trouble.ctx is not None:
        name = trouble.param.metavar or trouble.param.human_readable_name
        form = " ".join(trouble.ctx.command.collect_usage_pieces(trouble.ctx))
        return f"{name} is missing: {trouble.ctx.command_path} {form}"
    if isinstance(trouble, click.BadParameter) and trouble.param is not None:
        choices = getattr(trouble.param.type, "choices", ())
        option = trouble.param.opts[0]
        if choices:
            return f"`{option}` takes {', '.join(f'`{choice}`' for choice in choices)}"
    text = trouble.format_message().rstrip(".")
    return text if text[:2].isupper() else text[:1].lower() + text[1:]
