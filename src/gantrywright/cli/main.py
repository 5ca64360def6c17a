"""Arguments in, exit code out. Nothing heavy is imported before a command is known."""

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TypeAlias

from gantrywright.base.errors import FileProblems, GantrywrightError

OK, FAILS, UNREADABLE, UNSURE, FAULT = 0, 1, 2, 3, 4
"""Exit codes: only ok or watch; something fails; input could not be read; nothing fails but something is unknown or broken; our fault."""

EXIT_WORDS = (
    "exit code: 0 only ok or watch, 1 something fails, 2 input could not be read, 3 nothing fails but something is unknown or a check is "
    "broken, 4 the program itself failed"
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small solves: threads cost more than they bring
    given = parser().parse_args(arguments)
    try:
        return int(given.run(given))
    except FileProblems as error:
        _complain(f"{len(error.problems)} problem{'s' if len(error.problems) != 1 else ''}, no machine until mended:\n{error}")
    except GantrywrightError as error:
        _complain(str(error))
    except BrokenPipeError:
        sys.stderr.close()
        return OK
    except Exception as error:
        if os.environ.get("GANTRYWRIGHT_TRACE"):
            raise
        _complain(
            f"gantrywright itself failed: {type(error).__name__}: {error}\nThat is a fault of the program, not of your file; nothing was "
            "written. GANTRYWRIGHT_TRACE=1 before the command shows where, for a report."
        )
        return FAULT
    return UNREADABLE


def _complain(text: str) -> None:
    print(text, file=sys.stderr)


def parser() -> argparse.ArgumentParser:
    """The whole command line; one function a command so that help needs no heavy import."""
    top = argparse.ArgumentParser(
        prog="gantrywright",
        description="Know what a gantry router will do before the metal is cut: from a machine file to what it can promise, and why.",
        epilog=EXIT_WORDS,
    )
    commands = top.add_subparsers(title="commands", metavar="COMMAND", required=True)
    _check(commands)
    _open(commands)
    _checks(commands)
    _new(commands)
    _parts(commands)
    _structure(commands)
    _stiffen(commands)
    _cut(commands)
    _expand(commands)
    _schema(commands)
    return top


Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"


def _check(commands: Commands) -> None:
    made = commands.add_parser(
        "check", help="what a machine can promise, what fails, and what to change", epilog=EXIT_WORDS,
        description="Reads a machine file and prints a one-screen verdict.",
    )  # fmt: skip
    made.add_argument("machine", type=Path, metavar="MACHINE", help="machine file (TOML)")
    made.add_argument("--all", action="store_true", help="every finding with why, source and remedy; every default that was used")
    made.add_argument("--json", action="store_true", help="everything as JSON, SI units, stable keys")
    made.add_argument(
        "--show",
        metavar="PATH",
        help="open one figure (formula, inputs, source) or one value of the machine (origin), and what uses it",
    )
    made.add_argument("--figures", action="store_true", help="list the figures that --show can open")
    made.add_argument("--finding", metavar="ID", help="the long form of one check's findings, such as DRV-110")
    made.add_argument("--remedies", action="store_true", help="try the remedies of every finding, not only of the three worst")
    made.add_argument("--quick", action="store_true", help="typical values only: no spread, no simulation")
    made.set_defaults(run=_run_check)


def _run_check(given: argparse.Namespace) -> int:
    from gantrywright.cli.check import run

    return run(given)


def _open(commands: Commands) -> None:
    made = commands.add_parser(
        "open", help="the drawing board: see the machine, change it, watch every answer move",
        description="Opens a page in the browser, served by this program on this machine alone. Every change is written to the machine file.",
    )  # fmt: skip
    made.add_argument("machine", type=Path, nargs="?", metavar="MACHINE", help="machine file (TOML); without it a start page")
    made.add_argument("--port", type=int, default=0, metavar="N", help="port to listen on; a free one where none is given")
    made.add_argument(
        "--host", default="127.0.0.1", metavar="ADDRESS",
        help="listen on another address, for a tablet in the shop: visitors then need the key that is printed",
    )  # fmt: skip
    made.add_argument("--no-browser", action="store_true", help="print the address, open nothing")
    made.set_defaults(run=_run_open)


def _run_open(given: argparse.Namespace) -> int:
    from gantrywright.cli.open import run

    return run(given)


def _structure(commands: Commands) -> None:
    made = commands.add_parser(
        "structure", help="how the machine gives and rings: stiffness over the table, what gives, modes", epilog=EXIT_WORDS,
        description="Works out the machine as a structure and prints what gives where, by which part, and how it rings.",
    )  # fmt: skip
    made.add_argument("machine", type=Path, metavar="MACHINE", help="machine file (TOML)")
    made.add_argument("--json", action="store_true", help="all of it as JSON, SI units, stable keys")
    made.add_argument(
        "--at", metavar="PLACE", help='with the tip of the tool at a place of the work, such as "600, 300, 20 mm"; typical values'
    )
    made.add_argument(
        "--deflected",
        type=Path,
        metavar="FILE",
        help="write nodes, lines and shapes under loads and in modes as JSON, for a view that animates them",
    )
    made.add_argument("--quick", action="store_true", help="typical values only: no spread")
    made.set_defaults(run=_run_structure)


def _run_structure(given: argparse.Namespace) -> int:
    from gantrywright.cli.structure import run

    return run(given)


def _stiffen(commands: Commands) -> None:
    made = commands.add_parser(
        "stiffen", help="what to stiffen first: buildable changes with what they gain, weigh and cost",
        description="Tries thicker plates, larger sections, fillings, stiffer guides and drives, and tells what each takes away of the give.",
        epilog="exit code: 0 there is an answer, 2 input could not be read, 3 the structure is not known, 4 the program itself failed",
    )  # fmt: skip
    made.add_argument("machine", type=Path, metavar="MACHINE", help="machine file (TOML)")
    made.add_argument("--along", choices=("x", "y", "z"), help="count gains along one axis; without it in the softest direction")
    made.add_argument(
        "--by", choices=("gain", "kilogram", "money"), default="gain", help="order: by gain, gain per mass, gain per money"
    )
    made.add_argument("--json", action="store_true", help="all of it as JSON, SI units, stable keys")
    made.set_defaults(run=_run_stiffen)


def _run_stiffen(given: argparse.Namespace) -> int:
    from gantrywright.cli.stiffen import run

    return run(given)


def _cut(commands: Commands) -> None:
    made = commands.add_parser(
        "cut", help="every job: whether it runs, what limits it, how far its walls are off, settings",
        epilog=f"{EXIT_WORDS}; 1 too where a job that is told is over a limit at the settings of the file",
        description="Prints for each job of the machine file what limits it, what the cut does to walls and bottom, and settings that the machine can hold.",
    )  # fmt: skip
    made.add_argument("machine", type=Path, metavar="MACHINE", help="machine file (TOML)")
    made.add_argument("--job", default="", metavar="NAME", help="this job alone")
    made.add_argument("--json", action="store_true", help="all of it as JSON, SI units, stable keys")
    made.add_argument(
        "--deep",
        action="store_true",
        help="a second opinion on chatter by the reference method and by a run in time; takes seconds a job",
    )
    made.set_defaults(run=_run_cut)


def _run_cut(given: argparse.Namespace) -> int:
    from gantrywright.cli.cut import run

    return run(given)


def _checks(commands: Commands) -> None:
    made = commands.add_parser("checks", help="the catalogue of checks")
    made.add_argument("id", nargs="?", metavar="ID", help="one check in full")
    made.add_argument("--next", metavar="PREFIX", help="a free id for a new check of a discipline, such as DRV")
    made.set_defaults(run=_run_checks)


def _run_checks(given: argparse.Namespace) -> int:
    from gantrywright.cli.lists import checks

    return checks(given)


def _new(commands: Commands) -> None:
    made = commands.add_parser(
        "new", help="start a commented machine file by a few questions or flags",
        description="Writes DIR/machine.toml (and DIR/shop.toml). Without flags it asks; an existing file is never overwritten.",
    )  # fmt: skip
    made.add_argument("dir", type=Path, metavar="DIR", help="folder of the new machine")
    made.add_argument("--name", help="name of the machine")
    made.add_argument(
        "--layout", choices=("moving-gantry", "fixed-gantry"), help="what moves along the bed: the gantry or the table"
    )
    made.add_argument("--work-area", metavar="SIZE", help='x, y, z that the tip must reach, such as "600 x 900 x 120 mm"')
    made.add_argument("--material", metavar="NAME", help="what is cut most, such as plywood-birch or al-6082")
    made.add_argument("--units", choices=("metric", "inch"), help="units of the file and of what is printed")
    made.add_argument("--outlet", metavar="VOLTAGE", help='wall outlet, such as "230 V"')
    made.add_argument("--yes", action="store_true", help="take the usual answer to every question that no flag answers")
    made.set_defaults(run=_run_new)


def _run_new(given: argparse.Namespace) -> int:
    from gantrywright.cli.new import run

    return run(given)


def _parts(commands: Commands) -> None:
    made = commands.add_parser("parts", help="look into the parts tables")
    made.add_argument("kind", nargs="?", metavar="KIND", help="kind of part, such as ball-screw; without it the kinds are listed")
    made.add_argument("id", nargs="?", metavar="NAME", help="one part in full, or the start of a name")
    made.add_argument("--beside", type=Path, metavar="MACHINE", help="also read the tables in parts/ beside this machine file")
    made.set_defaults(run=_run_parts)


def _run_parts(given: argparse.Namespace) -> int:
    from gantrywright.cli.lists import parts

    return parts(given)


def _expand(commands: Commands) -> None:
    made = commands.add_parser("expand", help="print what the recipes of a machine file became")
    made.add_argument("machine", type=Path, metavar="MACHINE", help="machine file (TOML)")
    made.set_defaults(run=_run_expand)


def _run_expand(given: argparse.Namespace) -> int:
    from gantrywright.cli.lists import expand

    return expand(given)


def _schema(commands: Commands) -> None:
    made = commands.add_parser("schema", help="print the JSON schema of the machine file, for editors")
    made.set_defaults(run=_run_schema)


def _run_schema(given: argparse.Namespace) -> int:
    from gantrywright.cli.lists import schema

    return schema(given)


if __name__ == "__main__":
    sys.exit(main())
