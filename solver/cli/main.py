"""The command `rigset`. One file a command; each imports its answer only when it is called.

Contents: `app`, `outcome`, `run`. Exit codes: 0 an answer; 1 no rig fits; 2 bad input or usage; 70 a fault
of the program itself.
"""

from __future__ import annotations

import gc
import os
import sys

import typer

from solver.cli import (
    catalog_command,
    check_command,
    frontier_command,
    new_command,
    pick_command,
    rivals_command,
    schema_command,
    sheet_command,
    whatif_command,
    why_command,
)

app = typer.Typer(
    name="rigset",
    help="Which set of equipment does this work at the least cost or weight, and what exactly holds it there?",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
app.command("pick")(pick_command.pick)
app.command("why")(why_command.why)
app.command("rivals")(rivals_command.rivals)
app.command("frontier")(frontier_command.frontier)
app.command("whatif")(whatif_command.whatif)
app.command("check")(check_command.check)
app.command("sheet")(sheet_command.sheet)
app.command("schema")(schema_command.schema)
app.command("new")(new_command.new)
app.add_typer(catalog_command.app, name="catalog")


def _told(message: str, code: int) -> int:
    sys.stderr.write(f"{message}\n")
    return code


def outcome() -> int:
    """Run the command line; every error becomes one clear message on stderr. Returns the exit code."""
    from solver.errors import InternalError, RigsetError

    try:
        app(prog_name="rigset")
    except SystemExit as leaving:
        return leaving.code if isinstance(leaving.code, int) else 0 if leaving.code is None else 2
    except InternalError as error:
        return _told(f"A fault of rigset itself, please report it: {error}", 70)
    except RigsetError as error:
        return _told(str(error), 2)
    except BrokenPipeError:
        return 0
    except (ArithmeticError, AttributeError, LookupError, RecursionError, TypeError, ValueError) as error:
        return _told(f"A fault of rigset itself, please report it: {type(error).__name__}: {error}", 70)
    except KeyboardInterrupt:
        return _told("Stopped before the answer was known. Nothing was written.", 130)
    return 0


def run() -> None:
    """Run the command line and leave.

    The process ends at once, without taking its memory apart piece by piece: that would cost a tenth of the time of a
    command, for nothing. All files are written and closed by then.
    """
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # none is used, and looking for them takes its time
    gc.disable()  # a command lives for seconds: collecting its catalog over and over costs more than it frees
    code = outcome()
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except BrokenPipeError:
        code = 0
    os._exit(code)


if __name__ == "__main__":
    run()
