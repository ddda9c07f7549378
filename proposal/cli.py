"""The program as a set of commands, and the options that belong to none of them."""

from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from proposal import __version__
from proposal.commands.build import build
from proposal.commands.check import check
from proposal.commands.compare import compare
from proposal.commands.export import export
from proposal.commands.import_files import import_
from proposal.commands.issue import issue
from proposal.commands.new import new
from proposal.commands.preview import preview
from proposal.commands.schema import schema
from proposal.commands.verify import verify
from proposal.running import GOOD, CommandError, run, say


class Commands(TyperGroup):
    """The commands, whose exceptions all reach whoever runs them."""

    def invoke(self, ctx: Any) -> Any:
        """Run a command; the library would end the program in silence for some of its exceptions.

        ctx: the call, as the library of commands parsed it.
        """
        try:
            return super().invoke(ctx)
        except (EOFError, OSError) as error:
            raise CommandError from error


app = typer.Typer(
    name="proposal",
    cls=Commands,
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="From a client's brief to a complete proposal for wireless conference-microphone systems.\n\n"
    "A project is a folder of YAML, CSV and Markdown files. Exit status: 0 good; 1 the design has error "
    "findings that nobody accepted; 2 the input or the call is wrong and nothing was written; 3 the program "
    "itself failed, and says which file holds the details. A signal that stops it adds its number to 128.",
)


@app.callback(invoke_without_command=True)
def program(
    version: Annotated[bool, typer.Option("--version", help="Print the version and stop.")] = False,
) -> None:
    """Take the options that belong to no command."""
    if version:
        say(__version__)
        raise typer.Exit(GOOD)


for command in (new, check, build, issue, verify, preview, schema, export, compare):
    app.command()(command)
app.command("import")(import_)  # a word of Python, which no function may be called


def main() -> None:
    """Run the commands as the program does."""
    run(app)
