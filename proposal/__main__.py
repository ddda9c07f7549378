"""The program, as it is called: `proposal`, or `python -m proposal`."""

import gc


def main() -> None:
    """Run the commands; loading them is part of it, so that it ends as they do."""
    gc.disable()  # modules that are loaded are kept: nothing of them is garbage
    from proposal.running import run

    run(_commands)


def _commands() -> None:
    from proposal.cli import app

    gc.freeze()
    gc.set_threshold(1_000_000, 20, 20)  # nearly all that is made is kept to the end
    gc.enable()
    app(prog_name="proposal")


if __name__ == "__main__":
    main()
