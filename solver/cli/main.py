"""The command `rigset`. One file a command; each imports its answer only when it is called.

Contents: `app`, `run`. Exit codes: 0 an answer; 1 no rig fits; 2 bad input or usage; 70 a fault of the program itself.
"""

from __future__ import annotations

import gc
import sys

import typer

from solver.cli import catalog_command, check_command, pick_command, schema_command

app = typer.Typer(
    name="rigset",
    help="Which set of equipment does this work at the least cost or weight, and what exactly holds it there?",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
app.command("pick")(pick_command.pick)
app.command("check")(check_command.check)
app.command("schema")(schema_command.schema)
app.add_typer(catalog_command.app, name="catalog")


def run() -> None:
    """Run the command line; every error becomes one clear message on stderr and an exit code."""
    from solver.errors import InternalError, RigsetError

    gc.disable()  # a command lives for seconds: collecting its catalog over and over costs more than it frees
    try:
        app(prog_name="rigset")
    except InternalError as error:
        sys.stderr.write(f"A fault of rigset itself, please report it: {error}\n")
        sys.exit(70)
    except RigsetError as error:
        sys.stderr.write(f"{error}\n")
        sys.exit(2)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    except (ArithmeticError, AttributeError, LookupError, RecursionError, TypeError, ValueError) as error:
        sys.stderr.write(f"A fault of rigset itself, please report it: {type(error).__name__}: {error}\n")
        sys.exit(70)
    except KeyboardInterrupt:
        sys.stderr.write("Stopped before the answer was known. Nothing was written.\n")
        sys.exit(130)


if __name__ == "__main__":
    run()
