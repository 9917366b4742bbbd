"""The command `rigset`. One file a command; each imports its answer only when it is called.

Contents: `app`, `outcome`, `run`. Exit codes: 0 an answer; 1 no rig fits, or none is known within a limit of work;
2 bad input or usage, or an output that could not be written; 70 a fault of the program itself; 130 stopped by hand.
"""

from __future__ import annotations

import contextlib
import gc
import os
import signal
import sys
from types import FrameType
from typing import NoReturn

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
    verify_command,
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
app.command("verify")(verify_command.verify)
app.command("sheet")(sheet_command.sheet)
app.command("schema")(schema_command.schema)
app.command("new")(new_command.new)
app.add_typer(catalog_command.app, name="catalog")


def _told(message: str, code: int) -> int:
    if _Stopping.by is not None:  # whatever went wrong then, went wrong because of that
        message, code = _last_words(), 130
    sys.stderr.write(f"{message}\n")
    return code


def outcome() -> int:
    """Run the command line; every error becomes one clear message on stderr. Returns the exit code."""
    from solver.errors import InternalError, NotProven, RigsetError

    try:
        app(prog_name="rigset")
    except SystemExit as leaving:
        if _Stopping.by is not None:
            return _told(_last_words(), 130)
        return leaving.code if isinstance(leaving.code, int) else 0 if leaving.code is None else 2
    except InternalError as error:
        return _told(f"A fault of rigset itself, please report it: {error}", 70)
    except NotProven as error:
        return _told(f"Not known: {error}. Try: a higher limit, or none", 1)
    except RigsetError as error:
        return _told(str(error), 2)
    except BrokenPipeError:
        return 0
    except OSError as error:
        return _told(f"The system refused: {(error.strerror or str(error)).lower()}.", 2)
    except MemoryError:
        return _told("There is not enough memory for this catalog and brief. Try: fewer items, or fewer duties", 2)
    except Exception as error:  # whatever is left, a person gets a sentence
        return _told(f"A fault of rigset itself, please report it: {type(error).__name__}: {error}", 70)
    except (KeyboardInterrupt, _Stopped):
        return _told(_last_words(), 130)
    return 0


class _Stopped(BaseException):
    """Ctrl-C, or an end asked for by the system. No KeyboardInterrupt: the command line's library would swallow it."""


class _Stopping:
    """Whether this process is being stopped, and which process heard it."""

    by: int | None = None
    first = 0


_PATIENCE = 2.0
"""Seconds that threads and processes have to end once the program is stopped."""


def _last_words() -> str:
    words = "Stopped before the answer was known. Nothing was written."
    if "whatif" in sys.argv[1:2] and any(word.split("=")[0] == "--out" for word in sys.argv):
        words = "Stopped before all cells were known. The output was not written; settled cells are kept."
        words += " Try: the same command with --resume"
    return words


def _stop(number: int, frame: FrameType | None) -> None:
    """Heard Ctrl-C or the like: end all solves and unwind; leave at once if that takes too long or is asked again."""
    if os.getpid() != _Stopping.first:
        os._exit(130)
    if _Stopping.by is not None:
        _leave_now()
    _Stopping.by = number
    engine = sys.modules.get("solver.search.engine")
    if engine is not None:
        engine.stop_all()
    processes = sys.modules.get("multiprocessing")
    for worker in processes.active_children() if processes is not None else ():
        worker.terminate()  # what it was settling is lost; what this process has written down is not
    if hasattr(signal, "setitimer"):
        signal.signal(signal.SIGALRM, lambda *_: _leave_now())
        signal.setitimer(signal.ITIMER_REAL, _PATIENCE)
    raise _Stopped


def _leave_now() -> NoReturn:
    from solver.files import forget_drafts

    forget_drafts()
    with contextlib.suppress(OSError):
        os.write(2, f"{_last_words()}\n".encode())
    os._exit(130)


def _listen() -> None:
    """Hear the signals that stop a program."""
    _Stopping.first = os.getpid()
    for name in ("SIGINT", "SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) is not signal.SIG_IGN:
            signal.signal(number, _stop)


def run() -> None:
    """Run the command line and leave.

    The process ends at once, without taking its memory apart piece by piece: that would cost a tenth of the time of a
    command, for nothing. All files are written and closed by then.
    """
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # none is used, and looking for them takes its time
    gc.disable()  # a command lives for seconds: collecting its catalog over and over costs more than it frees
    code = 130
    try:
        _listen()
        for stream in (sys.stdout, sys.stderr):
            if hasattr(stream, "reconfigure"):
                stream.reconfigure(errors="backslashreplace")  # a label that the terminal's encoding lacks
        code = outcome()
        sys.stdout.flush()
    except BrokenPipeError:
        code = 0
    except OSError as error:
        code = _told(f"The answer could not be written ({(error.strerror or str(error)).lower()}).", 2)
    except _Stopped:
        code = _told(_last_words(), 130)
    with contextlib.suppress(OSError):
        sys.stderr.flush()
    os._exit(code)


if __name__ == "__main__":
    run()
