"""Lay out a graph by the program that ships with this one."""

import base64
import os
import re
import shutil
import subprocess
import sys
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path

from proposal.errors import BuildError, PartError
from proposal.resources import resource

_PROGRAM = "graphviz-pure"
_VARIABLE = "PROPOSAL_DOT"

# Which bundled subset of the drawings' font has a sign; the engine measures text with the same font.
_SUBSETS = {
    "latin": r"[\u0020-\u00ff\u0131\u0152\u0153\u02c6\u02da\u02dc\u2013-\u2026\u20ac\u2122\u2212]",
    "latin-ext": r"[\u0100-\u0130\u0132-\u0151\u0154-\u024f\u1e00-\u1eff\u20a0-\u20ab\u20ad-\u20c0]",
    "greek": r"[\u0370-\u03ff]",
    "cyrillic": r"[\u0400-\u045f\u0490\u0491\u04b0\u04b1\u2116]",
}


def lay_out(dot: str) -> str:
    """Return the SVG of a graph written in the DOT language.

    The program is the one installed beside the interpreter, else the one on the path; the environment
    variable PROPOSAL_DOT names another, such as a system's `dot`, whose drawings may differ.
    Raises BuildError where the program is missing, or where one that the environment names does not take the
    graph; PartError where the one that ships does not.
    """
    # The library's own functions run a program called `dot` and no other; its runner takes any.
    from graphviz.backend import execute

    program = executable()
    try:
        done = execute.run_check(
            [program, "-Kdot", "-Tsvg"], input=dot, encoding="utf-8", capture_output=True, quiet=True
        )
    except (OSError, execute.ExecutableNotFound) as error:
        raise BuildError(
            f"the graph program {program} could not be run: {error.strerror or error}"
        ) from error
    except subprocess.CalledProcessError as error:
        said = (error.stderr or "").strip() or f"it ended with status {error.returncode}"
        raise _refused(f"the graph program {program} did not take a drawing: {said}") from error
    if "<svg" not in done.stdout:
        raise _refused(f"the graph program {program} gave no drawing: {done.stderr.strip()}")
    return str(done.stdout)


def _refused(message: str) -> BuildError | PartError:
    """Return the error of a program that makes no drawing: whose fault it is follows from who chose it."""
    return BuildError(message) if os.environ.get(_VARIABLE) else PartError(message)


def executable() -> Path:
    """Return the path of the program that lays out graphs; raises BuildError where there is none."""
    chosen = os.environ.get(_VARIABLE)
    if chosen:
        found = shutil.which(chosen)
        if found is None:
            raise BuildError(f"{_VARIABLE} names a graph program that is not there: {chosen}")
        return Path(found)
    beside = shutil.which(_PROGRAM, path=str(Path(sys.executable).parent))
    found = beside or shutil.which(_PROGRAM)
    if found is None:
        raise BuildError(f"the graph program {_PROGRAM} is missing; install this program again")
    return Path(found)


@lru_cache(maxsize=1)
def engine_version() -> str:
    """Return the name and version of the graph program, for the keys of rendered drawings."""
    if os.environ.get(_VARIABLE):
        said = subprocess.run(  # noqa: S603 - the user's own choice of program
            [executable(), "-V"], capture_output=True, text=True, check=False
        )
        return (said.stderr or said.stdout).strip()
    return f"{_PROGRAM} {version(_PROGRAM)}"


def embed_font(svg: str) -> str:
    """Return a drawing with its font inside, so that it reads alike everywhere, and without metadata.

    svg: text of the drawing.
    Every text is set in Arimo, which the engine measures with; only the subsets that the drawing needs are
    put in. What else differs from run to run or names a machine (comments, metadata) is taken out.
    Raises BuildError where it is not SVG.
    """
    svg = re.sub(r"<!--.*?-->\s*|<metadata>.*?</metadata>\s*", "", svg, flags=re.DOTALL)
    shown = "".join(re.findall(r">([^<]*)<", svg))
    # Entities of the drawing stand for signs, those of other alphabets among them.
    shown += "".join(chr(int(number)) for number in re.findall(r"&#(\d{1,6});", shown))
    bold = re.search(r"font-weight\s*[:=]\s*[\"']?\s*(bold|[6-9]00)|font:\s*bold", svg) is not None
    faces = [
        f"@font-face{{font-family:Arimo;font-weight:{weight};"
        f"src:url(data:font/woff2;base64,{_font(subset, weight)}) format('woff2')}}"
        for subset, signs in _SUBSETS.items()
        if re.search(signs, shown)
        for weight in ((400, 700) if bold else (400,))
    ]
    style = f"<style>{''.join(faces)}text,tspan{{font-family:Arimo,Arial,sans-serif!important}}</style>"
    opening = re.search(r"<svg\b[^>]*>", svg)
    if opening is None:
        raise BuildError("a drawing is not SVG")
    return svg[: opening.end()] + style + svg[opening.end() :]


@lru_cache(maxsize=8)
def _font(subset: str, weight: int) -> str:
    path = resource("shared") / "site" / "fonts" / f"arimo-{subset}-{weight}-normal.woff2"
    return base64.b64encode(path.read_bytes()).decode("ascii")
