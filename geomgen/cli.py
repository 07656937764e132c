"""The command line: reads arguments, calls the house, shows what it says. Computes nothing."""

from __future__ import annotations

import argparse
import io
import json
import pathlib
import shlex
import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from geomgen import __version__
from geomgen.cli_help import CHECK, COMPARE, END, FILE_HELP, HOVER, LOADS, MAKE, NEW, PAGE, WEIGH
from geomgen.errors import DesignError, Fault, GeomgenError

if TYPE_CHECKING:
    from geomgen.craft import Craft
    from geomgen.design.reader import DesignFile
    from geomgen.making import Output
    from geomgen.stock.sheets import Layout
    from geomgen.views.page import Page

    Told = tuple[Page, dict[str, Any], Callable[[Craft, Page, dict[str, Any]], Output]]


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit status."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a terminal that can't show a letter shows its number
    arguments = _parser().parse_args(argv)
    run: Callable[[argparse.Namespace], int] = arguments.run
    try:
        return run(arguments)
    except GeomgenError as error:
        return _tell_faults(error.faults, error.exit_status)
    except BrokenPipeError:
        return 0
    except OSError as error:  # the output can't be written to
        return _tell_faults([Fault("", str(error.filename or "output"), error.strerror or str(error))], 2)
    except KeyboardInterrupt:
        print("stopped; nothing half-written is left", file=sys.stderr)
        return 130


def _parser() -> argparse.ArgumentParser:
    form = argparse.RawDescriptionHelpFormatter
    parser = argparse.ArgumentParser(prog="geomgen", description=PAGE, epilog=END, formatter_class=form)
    parser.add_argument("--version", action="version", version=f"geomgen {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)

    new = commands.add_parser("new", help="write a design file to start from", description=NEW, formatter_class=form)
    new.add_argument("file", type=pathlib.Path, metavar="FILE", help="the file to write; it must not be there yet")
    which = new.add_mutually_exclusive_group()
    which.add_argument(
        "--like", metavar="NAME", default="starter", help="starter, or one of the examples: lantern, kite_day"
    )
    which.add_argument("--schema", action="store_true", help="write the JSON Schema for your editor instead")
    new.set_defaults(run=_new)

    for name, run, words, page in (
        ("check", _check, "read a design, draw its flat parts, say what doesn't fit", CHECK),
        ("make", _make, "write files to cut and to print, lists and pictures", MAKE),
        ("weigh", _weigh, "the mass statement, and the rpm that carries it", WEIGH),
        ("hover", _hover, "does it lift: rpm, throttle, minutes at each pitch", HOVER),
        ("loads", _loads, "will it hold: the weakest places, what would help, how a blade swings", LOADS),
    ):
        command = commands.add_parser(name, help=words, description=page, formatter_class=form)
        command.add_argument("file", type=pathlib.Path, nargs="?", metavar="FILE", help=FILE_HELP)
        command.add_argument("--option", metavar="NAME", help="lay an option of the file over it")
        command.add_argument(
            "--json", action="store_true", help="print plain data with stable keys, units in their names"
        )
        if name not in ("weigh", "hover", "loads"):
            command.add_argument("--notes", action="store_true", help="tell what to know while building, too")
        if name == "make":
            words = "full-size paper templates of what a laser cuts, too"
            command.add_argument("--paper", action="store_true", help=words)
            words = "forget where parts lay on their sheets; those that are cut already stay"
            command.add_argument("--lay-anew", action="store_true", help=words)
            command.add_argument(
                "--out",
                type=pathlib.Path,
                metavar="DIR",
                default=pathlib.Path("outputs"),
                help="where folders go (outputs)",
            )
        if name in ("hover", "loads"):
            words = f"write it there too: text, JSON, {'CSV, ' * (name == 'loads')}SVG"
            command.add_argument("--out", type=pathlib.Path, metavar="DIR", help=words)
        if name == "weigh":
            words = "write a form for what the scale says, to fill in; it must not be there yet"
            command.add_argument("--blank", type=pathlib.Path, metavar="CSV", help=words)
        command.set_defaults(run=run)
    _add_compare(commands, form)
    return parser


def _add_compare(commands: Any, form: type[argparse.HelpFormatter]) -> None:
    words = "options of a design side by side, and where they differ"
    command = commands.add_parser("compare", help=words, description=COMPARE, formatter_class=form)
    command.add_argument("file", type=pathlib.Path, nargs="?", metavar="FILE", help=FILE_HELP)
    command.add_argument("--options", metavar="A,B,C", help='which ones; "base" is the design itself (all)')
    command.add_argument("--base", metavar="NAME", help="the one that the others are held against (the first)")
    command.add_argument("--json", action="store_true", help="print plain data with stable keys, units in their names")
    command.add_argument("--out", type=pathlib.Path, metavar="DIR", help="write it there too: text, CSV, JSON, SVG")
    command.set_defaults(run=_compare)


def _new(arguments: argparse.Namespace) -> int:
    from geomgen.design.library import example_files, json_schema

    if arguments.schema:
        files = {arguments.file.name: json.dumps(json_schema(), indent=1) + "\n"}
    else:
        try:
            files = example_files(arguments.like, arguments.file.name)
        except KeyError:
            raise DesignError(
                Fault("", f"--like {arguments.like}", "there is no such example", "starter, lantern, kite_day")
            ) from None
    folder = arguments.file.parent
    there = [folder / name for name in files if (folder / name).exists()]
    if there:
        raise DesignError(
            [
                Fault("", str(file), "is there already, and nothing is overwritten", remedy="another name")
                for file in there
            ]
        )
    for name, text in files.items():
        _write_new(folder / name, text)
    if not arguments.schema:
        print(f"next: geomgen check {shlex.quote(str(arguments.file))}")
    return 0


def _check(arguments: argparse.Namespace) -> int:
    def show(craft: Craft, file: DesignFile) -> None:
        from geomgen.views.check import check_data, check_page

        craft.check()
        warnings = [file.locate(warning) for warning in craft.warnings]
        data, notes = arguments.json, arguments.notes
        told = check_data(craft, file.option, warnings) if data else check_page(craft, warnings, notes=notes)
        _print(told, craft.design.units)

    return _with_craft(arguments, show, exact=False)  # nothing that needs the solid kernel


def _weigh(arguments: argparse.Namespace) -> int:
    if arguments.blank is not None:
        return _blank(arguments)

    def show(craft: Craft, file: DesignFile) -> None:
        from geomgen.views.weigh import weigh_page
        from geomgen.views.weigh_data import weigh_data

        craft.check()
        warnings = [file.locate(warning) for warning in craft.warnings]
        told = weigh_data(craft, file.option, warnings) if arguments.json else weigh_page(craft, warnings)
        _print(told, craft.design.units)

    return _with_craft(arguments, show)


def _blank(arguments: argparse.Namespace) -> int:
    """Write the form of a weigh-in; any that the design names already isn't read."""

    def show(craft: Craft, file: DesignFile) -> None:
        craft.check()
        _write_new(arguments.blank, craft.blank_form)
        line = f"weighed = {json.dumps(arguments.blank.name)}"
        where = f"[option.{file.option}]" if file.option else "the top of the design"
        print(f"next: fill in what you weigh, and write {line} under {where}, the form beside it")

    return _with_craft(arguments, show, exact=False, weighed=False)


def _write_new(file: pathlib.Path, text: str) -> None:
    """Write a file that isn't there yet. raises : DesignError"""
    try:
        with file.open("x", encoding="utf-8", newline="\n") as out:
            out.write(text)
    except FileExistsError:
        wrong, remedy = "is there already, and nothing is overwritten", "another name"
        raise DesignError(Fault("", str(file), wrong, remedy=remedy)) from None
    except OSError as error:
        raise DesignError(Fault("", str(file), f"can't be written: {error.strerror or error}")) from None
    print(f"wrote {file}")


def _hover(arguments: argparse.Namespace) -> int:
    def told(craft: Craft, option: str | None, warnings: Sequence[Fault]) -> Told:
        from geomgen.making import hover_files
        from geomgen.views.hover import hover_page
        from geomgen.views.hover_data import hover_data

        return hover_page(craft, warnings), hover_data(craft, option, warnings), hover_files

    return _told(arguments, "hover", told)


def _loads(arguments: argparse.Namespace) -> int:
    def told(craft: Craft, option: str | None, warnings: Sequence[Fault]) -> Told:
        from geomgen.making import loads_files
        from geomgen.views.loads import loads_page
        from geomgen.views.loads_data import loads_data

        return loads_page(craft, warnings), loads_data(craft, option, warnings), loads_files

    return _told(arguments, "loads", told)


def _told(arguments: argparse.Namespace, name: str, told: Callable[[Craft, str | None, Sequence[Fault]], Told]) -> int:
    """Show a page or its data, and write both with what belongs to them into a folder where one is asked for."""

    def show(craft: Craft, file: DesignFile) -> None:
        place = name if file.option is None else f"{name}-{file.option}"
        target = None if arguments.out is None else arguments.out / _name(arguments) / place
        if target is not None:
            from geomgen.folder import refuse_unwritable, write_folder

            refuse_unwritable(target)
        craft.check()
        page, data, files = told(craft, file.option, [file.locate(warning) for warning in craft.warnings])
        _print(data if arguments.json else page, craft.design.units)
        if target is not None:
            made = files(craft, page, data)
            write_folder(target, made.files, made.about)
            if not arguments.json:
                print(f"\n{len(made.files)} files and manifest.json in {target}")

    return _with_craft(arguments, show, exact=False)


def _make(arguments: argparse.Namespace) -> int:
    def show(craft: Craft, file: DesignFile) -> None:
        from geomgen.folder import refuse_unwritable, write_folder
        from geomgen.making import make
        from geomgen.making.before import cut_files
        from geomgen.views.cut_list import sheets_data
        from geomgen.views.make import made_page

        target = _made_in(arguments, file)
        refuse_unwritable(target)
        craft.check()
        made = make(
            craft,
            lambda words: print(f"  {words}", file=sys.stderr, flush=True),
            paper=arguments.paper,
            cut_already=cut_files(target, craft.design.laser.done),
        )
        changes = write_folder(target, made.files, made.about)
        if arguments.json:
            sizes = {name: len(data) for name, data in sorted(made.files.items())}
            told = {"folder": target.as_posix(), "files_bytes": sizes, "sheets": sheets_data(craft)}
            _print({**told, "changes": changes.as_dict()})
            return
        print(f"{craft.design.title}: {len(made.files)} files and manifest.json in {target}; open index.html there")
        warnings = [file.locate(warning) for warning in craft.warnings]
        _print(made_page(changes, craft, warnings, notes=arguments.notes))

    def before(file: DesignFile) -> Layout | None:
        from geomgen.making.before import layout_of

        return layout_of(_made_in(arguments, file), file.design.laser.done, anew=arguments.lay_anew)

    return _with_craft(arguments, show, before=before)


def _made_in(arguments: argparse.Namespace, file: DesignFile) -> pathlib.Path:
    """The output folder of a design, or of its option."""
    folder: pathlib.Path = arguments.out / _name(arguments) / (file.option or "base")
    return folder


def _compare(arguments: argparse.Namespace) -> int:
    from geomgen.design.library import demo
    from geomgen.design.reader import read

    names = None if arguments.options is None else [name.strip() for name in arguments.options.split(",")]
    file = read(arguments.file) if arguments.file else demo()
    target = None if arguments.out is None else arguments.out / _name(arguments) / "compare"
    if target is not None:
        from geomgen.folder import refuse_unwritable

        if "compare" in file.options:  # whose files would lie there
            wrong = "is where `make` puts the files of the option of that name"
            raise DesignError(Fault("", str(target), wrong, remedy="give that option another name"))
        refuse_unwritable(target)
    from geomgen.study.comparison import compare
    from geomgen.views.compare import compare_page
    from geomgen.views.compare_data import compare_data

    found = compare(file, names, arguments.base)
    _print(compare_data(found) if arguments.json else compare_page(found), found.units)
    if target is not None:
        from geomgen.folder import write_folder
        from geomgen.making import compare_files

        made = compare_files(found)
        write_folder(target, made.files, made.about)
        if not arguments.json:
            print(f"\n{len(made.files)} files and manifest.json in {target}")
    for column in found.columns:
        if column.figures is None:
            count = f"{len(column.faults)} fault{'s' * (len(column.faults) != 1)}"
            print(f"{column.name} can't be built: {count}; geomgen check tells all", file=sys.stderr)
    return found.status


def _name(arguments: argparse.Namespace) -> str:
    """What a design's output folder is called: its file's name without the end."""
    return (arguments.file.stem.strip(".") or "design") if arguments.file else "lantern"


def _with_craft(
    arguments: argparse.Namespace,
    show: Callable[[Craft, DesignFile], None],
    *,
    exact: bool = True,
    weighed: bool = True,
    before: Callable[[DesignFile], Layout | None] = lambda _: None,
) -> int:
    from geomgen.design.library import demo
    from geomgen.design.reader import read

    file = read(arguments.file, arguments.option) if arguments.file else demo(arguments.option)
    if file.option and not arguments.json:
        print(f'option "{file.option}", laid over {file.source.name if arguments.file else "the built-in demo"}\n')
    from geomgen.craft import Craft

    try:
        design = file.design if weighed else file.design.model_copy(update={"weighed": None})
        show(Craft(design, file.source.folder, exact=exact, before=before(file)), file)
    except GeomgenError as error:
        return _tell_faults(file.located(error), error.exit_status)
    return 0


def _print(what: Page | dict[str, Any], unit: str | None = None) -> None:
    """Print a page, or plain data with its sentences in the system of a unit of length."""
    from geomgen.render.data import json_text
    from geomgen.render.text import page_text

    print(json_text(what, unit or "mm") if isinstance(what, dict) else page_text(what))


def _tell_faults(faults: Sequence[Fault], status: int) -> int:
    for fault in faults:
        print(fault, file=sys.stderr)
    if len(faults) > 1:
        print(f"{len(faults)} faults", file=sys.stderr)
    return status
