"""The generated page of the commands, from the functions behind them and their help texts.

Contents: `commands_page`, `command_tree`, `Parameter`, `parameters_of`.

It is made from the declarations, not from the printed help, whose layout changes with the library that prints it.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import Enum
from typing import Any, get_args, get_type_hints

import typer

from docs.markdown import WRITTEN, table
from solver.cli.main import app

HEAD = (
    "# Commands\n\nThe answer goes to stdout, everything else to stderr. Exit codes: 0 an answer; 1 no rig fits, or "
    "the rig "
    "that is checked does not, with the reason; 2 bad input or usage; 70 a fault of rigset itself; 130 stopped by the "
    "user. `rigset COMMAND --help` says the same in the terminal.\n"
)


@dataclass(frozen=True)
class Parameter:
    """An argument or option of a command: as it is typed, its words if it is an option, its default and its help."""

    typed: str
    words: tuple[str, ...]
    default: str
    help: str


def command_tree() -> dict[tuple[str, ...], Callable[..., Any]]:
    """The function behind every command, by the command's words after `rigset`."""
    return dict(_walk((), app))


def _walk(words: tuple[str, ...], group: typer.Typer) -> Iterator[tuple[tuple[str, ...], Callable[..., Any]]]:
    for command in group.registered_commands:
        if command.callback is not None:
            yield (*words, command.name or command.callback.__name__.replace("_", "-")), command.callback
    for inner in group.registered_groups:
        if inner.typer_instance is not None:
            yield from _walk((*words, str(inner.name)), inner.typer_instance)


def parameters_of(function: Callable[..., Any]) -> tuple[Parameter, ...]:
    """Arguments and options of a command, in their order."""
    hints = get_type_hints(function, include_extras=True)
    declared = inspect.signature(function).parameters
    return tuple(_parameter(name, hints[name], parameter.default) for name, parameter in declared.items())


def _parameter(name: str, hint: Any, default: Any) -> Parameter:
    info = next(part for part in get_args(hint) if hasattr(part, "param_decls"))
    kinds = [k for k in (get_args(hint)[0], *get_args(get_args(hint)[0])) if isinstance(k, type)]
    choices = next(("|".join(str(c.value) for c in kind) for kind in kinds if issubclass(kind, Enum)), "")
    shown = str(info.metavar or choices or name.upper())
    said = (info.default, *(info.param_decls or ()))
    words = tuple(word for word in said if isinstance(word, str) and word.startswith("-"))
    if not words:
        return Parameter(shown, (), "", info.help or "")
    typed = ", ".join(words) if bool in kinds else f"{', '.join(words)} {shown}"
    given = "" if default in (None, False) else str(getattr(default, "value", default))
    return Parameter(typed, words, given, info.help or "")


def commands_page() -> str:
    """docs/commands.md."""
    lines = [WRITTEN + HEAD]
    for words, function in sorted(command_tree().items()):
        title = " ".join(("rigset", *words))
        own = parameters_of(function)
        options = ["[OPTIONS]"] if any(p.words for p in own) else []
        usage = " ".join((title, *options, *(p.typed for p in own if not p.words)))
        lines.append(f"\n## {title}\n\n```text\n{usage}\n```\n\n{inspect.getdoc(function)}\n\n")
        lines.append(table(("what", "default", "meaning"), [(f"`{p.typed}`", p.default, p.help) for p in own]))
    return "".join(lines)
