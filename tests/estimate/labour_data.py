"""Labour data as the program reads it, for tests of labour, price and programme."""

from pathlib import Path

from proposal.model.equipment.library_files import LibraryFile
from proposal.model.labour.labour import Labour
from proposal.model.labour.labour_files import ResolvedLabour, resolved_labour

ROOT = Path(__file__).resolve().parents[2]


def shared_files() -> tuple[LibraryFile, ...]:
    folder = ROOT / "shared" / "labour"
    return tuple(
        LibraryFile("shared", f"shared/labour/{path.name}", path.read_bytes())
        for path in sorted(folder.glob("*.yaml"))
    )


def shared_labour() -> Labour:
    found = resolved_labour(shared_files())
    assert found.labour is not None, found.problems
    return found.labour


def over_shared(text: str) -> ResolvedLabour:
    """Return what a company's file makes of the shared data."""
    company = LibraryFile("company", "ours/labour.yaml", text.encode())
    return resolved_labour((*shared_files(), company))


def alone(text: str) -> Labour:
    """Return what one file says without the shared data."""
    found = resolved_labour((LibraryFile("shared", "labour.yaml", text.encode()),))
    assert found.labour is not None, found.problems
    return found.labour
