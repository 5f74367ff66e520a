"""What can be typed: the commands with their options, and what `--help` says of each."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from pathlib import Path

from cardgen import __version__
from cardgen.cli.selecting import (
    LAST_REVISION,
    add_job_files,
    add_selection_options,
    number,
)
from cardgen.printer import PAPERS, Ink

LAST_PORT = 65_535
FORMATS = ("text", "short", "json")
BRITISH = {"colour": Ink.COLOR, "grey": Ink.GRAY}  # understood, too


def parser_of_all() -> argparse.ArgumentParser:
    """The parser of a whole command line; `command` is the name of the command it found."""
    parser = argparse.ArgumentParser(
        prog="cardgen",
        description="One job file in; checked, scannable tags, flags and door legends out.",
        epilog="Begin with 'cardgen new my-job.yaml'; 'cardgen manual' says how to go on. "
        "Exit 0: fine, 1: errors in the job, 2: used wrongly.",
    )
    parser.add_argument("--version", action="version", version=f"cardgen {__version__}")
    commands = parser.add_subparsers(
        title="commands", metavar="COMMAND", dest="command", required=True
    )

    def command(
        name: str, help_: str, *, job: bool = True, several: bool = False
    ) -> argparse.ArgumentParser:
        one = commands.add_parser(name, help=help_, description=help_)
        if several:
            add_job_files(one)
        elif job:
            one.add_argument("job_file", metavar="JOB", type=Path, help="the job file")
        if job:
            _add_choice(
                one, "--format", FORMATS, "how problems are shown: short has one line for each"
            )
            one.add_argument(
                "--verbose", action="store_true", help="say which stage begins, by number and name"
            )
        return one

    new = command("new", "write a commented job to start from", job=False)
    new.add_argument("job_file", metavar="FILE", type=Path)
    _add_paper_options(command("check", "say what is wrong with jobs, and where", several=True))
    trace = command("trace", "show circuits segment by segment")
    trace.add_argument("stations", metavar="STATION", nargs="*", help="only these; else all")
    _add_allot_options(command("allot", "give conductors to stations that name none"))
    _add_export_options(command("export", "write jobs as spreadsheets", several=True))
    _add_import_options(
        command("import", "make a job of a spreadsheet, or change one by it", job=False)
    )
    _add_print_options(command("print", "write tags, flags and legends as PDF", several=True))
    _add_hang_options(command("hang", "say that what was printed hangs now", job=False))
    _add_diagnose_options(
        command("diagnose", "say what readings point to, and what to measure next")
    )
    _add_stock_options(command("stock", "list and draw what can be printed on", job=False))
    record = command("record", "write the job record: the pages behind the codes", several=True)
    _add_record_options(record)
    _add_desk_options(command("desk", "work on job files in the browser", job=False))
    _add_serve_options(command("serve", "serve the job record, and keep readings", job=False))
    _add_pin_options(command("pin", "say which crews may enter readings", job=False))
    _add_backup_options(command("backup", "copy what crews have entered", job=False))
    _add_restore_options(command("restore", "put such a copy in place", job=False))
    explain = command("explain", "explain the code of a problem", job=False)
    explain.add_argument("code", metavar="CODE", nargs="?", help="left out: list all codes")
    manual = command("manual", "show a page of the manual", job=False)
    manual.add_argument("topic", metavar="TOPIC", nargs="?", help="left out: list all pages")
    return parser


def _add_choice(
    parser: argparse.ArgumentParser, option: str, words: Sequence[str], help_: str
) -> None:
    """An option that takes one of some words, in any case; the first is the usual."""
    metavar = "{" + ",".join(words) + "}"
    parser.add_argument(option, type=_one_of(words), default=words[0], metavar=metavar, help=help_)


def _one_of(words: Sequence[str]) -> Callable[[str], str]:
    def read(text: str) -> str:
        word = BRITISH.get(text.lower(), text.lower())
        if word in words:
            return words[words.index(word)]
        raise argparse.ArgumentTypeError(f"'{text}' is none of {', '.join(words)}")

    return read


def _add_allot_options(parser: argparse.ArgumentParser) -> None:
    where = parser.add_mutually_exclusive_group()
    where.add_argument("--out", metavar="FILE", type=Path, help="write the new job to this file")
    where.add_argument("--in-place", action="store_true", help="write it over JOB")


def _add_export_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--out",
        metavar="FILE",
        type=Path,
        required=True,
        help="FILE.xlsx: all sheets; FILE.csv: the list of stations; another name: a folder with "
        "a CSV file for each sheet; of several jobs, parks.xlsx: parks/NAME.xlsx for each",
    )
    parser.add_argument("--replace", action="store_true", help="overwrite FILE")


def _add_import_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "file",
        metavar="FILE",
        type=Path,
        help="a workbook or folder of 'cardgen export', or a list of stations, .xlsx or CSV",
    )
    where = parser.add_mutually_exclusive_group(required=True)
    where.add_argument(
        "--out",
        metavar="JOB",
        type=Path,
        help="write a new job to this file, FILE.yaml; or one for each site to this folder",
    )
    where.add_argument(
        "--into",
        metavar="JOB",
        type=Path,
        help="show what FILE changes in JOB, or in the job of each site in a folder",
    )
    parser.add_argument("--in-place", action="store_true", help="with --into: change the jobs")
    _add_choice(parser, "--format", FORMATS, "how problems are shown: short has one line for each")


def _add_print_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--out", metavar="DIR", type=Path, required=True, help="folder to write to")
    _add_paper_options(parser)
    _add_ink_option(parser)
    parser.add_argument(
        "--results",
        metavar="FILE.csv",
        type=Path,
        help="write what crews measured beside the expected on test sheets and in the packet",
    )
    add_selection_options(parser)
    parser.add_argument(
        "--without-misfits",
        action="store_true",
        help="print the rest where a tag, flag or splice card has no room; such are listed",
    )
    parser.add_argument(
        "--replace",
        action="store_true",
        help="overwrite a revision that said something else, and files that are not of a print",
    )


def _add_hang_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "folders",
        metavar="DIR",
        type=Path,
        nargs="+",
        help="folder of a print; of one with such folders in it, each",
    )
    parser.add_argument(
        "--revision",
        metavar="REV",
        type=number(0, LAST_REVISION),
        help="else the newest that was printed there",
    )
    parser.add_argument("--take-back", action="store_true", help="it does not hang")


def _add_ink_option(parser: argparse.ArgumentParser) -> None:
    inks = "one: black only, each color as its pattern, as on stock with 'ink: black'"
    _add_choice(parser, "--ink", tuple(Ink), inks)


def _add_paper_options(parser: argparse.ArgumentParser, *, is_read: bool = True) -> None:
    """`is_read`: whether there are tags that are read from a distance."""
    _add_choice(parser, "--paper", PAPERS, "the sheets of what goes on no other stock")
    parser.add_argument(
        "--stock",
        metavar="NAME",
        action="append",
        default=[],
        help="what is in a printer, see 'cardgen stock'; again for other kinds of card",
    )
    if is_read:
        parser.add_argument(
            "--read-from",
            metavar="DISTANCE",
            help="from how far the tags in a box are read: '0.8 m', '2.5 ft'; "
            "id, box and color follow",
        )
    parser.add_argument(
        "--language",
        metavar="LANGUAGE",
        default="en",
        help="language of the cards: en, es, or two on each card, 'en,es'",
    )
    _add_layouts_option(parser)


def _add_diagnose_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "readings", metavar="READINGS", type=Path, help="file of what a crew measured"
    )
    parser.add_argument("--out", metavar="FILE", type=Path, help="write the fault sheet, a PDF")
    _add_paper_options(parser, is_read=False)
    _add_ink_option(parser)
    parser.add_argument("--replace", action="store_true", help="overwrite FILE")


def _add_stock_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("names", metavar="NAME", nargs="*", help="only these; else all")
    parser.add_argument("--proof", metavar="NAME", help="write the alignment sheet of this stock")
    parser.add_argument("--out", metavar="FILE", type=Path, help="the PDF file of the proof")
    _add_layouts_option(parser)
    # Faults of your own layouts are shown like those of a job.
    _add_choice(parser, "--format", FORMATS, "how they are shown: short has one line for each")


def _add_layouts_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--layouts",
        metavar="DIR",
        type=Path,
        help="folder of stock, faces and words of your own; else $CARDGEN_LAYOUTS",
    )


def _add_record_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--out", metavar="DIR", type=Path, required=True, help="folder that the web host serves"
    )
    _add_layouts_option(parser)
    parser.add_argument(
        "--language",
        metavar="LANGUAGES",
        help="of the pages, 'en,es'; the first is at the printed addresses (as before, else en)",
    )
    parser.add_argument(
        "--results",
        metavar="FILE.csv",
        type=Path,
        help="publish what crews measured too, beside what was published before",
    )
    parser.add_argument(
        "--forget-results", action="store_true", help="take off the readings published before"
    )
    parser.add_argument(
        "--replace",
        action="store_true",
        help="overwrite a revision that said something else, and files that are not of a record",
    )


def _add_desk_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "folder",
        metavar="FOLDER",
        nargs="?",
        type=Path,
        default=Path(),
        help="folder of your job files; else the one you are in",
    )
    parser.add_argument(
        "--port", type=number(0, LAST_PORT), default=0, help="else one that is free"
    )
    parser.add_argument(
        "--no-browser", action="store_true", help="show the address and open nothing"
    )
    parser.add_argument(
        "--starter",
        metavar="FOLDER",
        type=Path,
        help="only write a file there that opens the desk with a double-click",
    )


def _add_serve_options(parser: argparse.ArgumentParser) -> None:
    _add_record_of_server(parser)
    _add_layouts_option(parser)
    parser.add_argument("--host", default="127.0.0.1", help="address to answer at (this machine)")
    parser.add_argument(
        "--port", type=number(0, LAST_PORT), default=8000, help="8000; 0 takes one that is free"
    )
    parser.add_argument(
        "--behind-tls",
        action="store_true",
        help="a proxy before this server speaks https with the phones",
    )
    parser.add_argument(
        "--proxy",
        metavar="ADDRESS",
        help="of that proxy, whose word about a phone's address is taken (this machine)",
    )


def _add_pin_options(parser: argparse.ArgumentParser) -> None:
    _add_record_of_server(parser)
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--add", metavar="NAME", help="let a crew in; asks for its PIN")
    what.add_argument("--change", metavar="NAME", help="give it another PIN, log its phones out")
    what.add_argument("--remove", metavar="NAME", help="let it in no more; its entries stay")
    what.add_argument("--list", action="store_true", help="show which crews there are")
    parser.add_argument(
        "--office",
        action="store_true",
        help="with --add: may also withdraw readings of others, close reports, export everything",
    )
    what.add_argument("--trail", action="store_true", help="show who did what, and when")


def _add_backup_options(parser: argparse.ArgumentParser) -> None:
    _add_record_of_server(parser)
    parser.add_argument("--out", metavar="FILE", type=Path, required=True, help="file to write")
    parser.add_argument("--replace", action="store_true", help="overwrite FILE")


def _add_restore_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="what 'cardgen backup' wrote")
    _add_record_of_server(parser)


def _add_record_of_server(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "dir", metavar="DIR", type=Path, help="folder that 'cardgen record' has written"
    )
    parser.add_argument(
        "--data", metavar="FILE", type=Path, help="what crews enter; else DIR.sqlite beside DIR"
    )
