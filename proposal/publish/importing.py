"""Files that come back, taken into the files of a project and its libraries: all of them, or none."""

import stat
from collections.abc import Iterator, Mapping, Sequence, Set
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from proposal.document.making.document import document_of
from proposal.document.making.price_inputs import input_paths
from proposal.editions import edition_of
from proposal.errors import InputError, Place, Problem
from proposal.exports.quote_files import asked_quantities
from proposal.exports.workbook.planned_days import is_day, planned_days
from proposal.exports.workbook.room_counts import room_counts
from proposal.exports.workbook.spare_allowances import is_spare, spare_allowances
from proposal.exports.workbook.spare_alternates import is_spare_alternate, spare_alternates
from proposal.field_classes import dataclass
from proposal.imports.free_choice import told_alternate
from proposal.imports.input_changes import HEADS, InputChange, changed_files, input_changes
from proposal.imports.input_places import InputPlaces, texts_of
from proposal.imports.kept_equipment import FIXED_FILE, FIXED_HEADS, kept_equipment
from proposal.imports.new_alternates import new_alternates
from proposal.imports.new_findings import new_findings
from proposal.imports.price_changes import price_changes
from proposal.imports.price_list_mapping import WrittenMapping, read_mapping, wrong_articles
from proposal.imports.price_lists import read_price_list
from proposal.imports.quote_form import FORM, OPTIONAL, OURS, is_quote_form, wrong_reference
from proposal.imports.quotes_given_way import gives_way
from proposal.imports.told_lines import told_answer, told_counts, told_list, told_not_bought
from proposal.imports.typed_over import (
    OF_ANOTHER_STATE,
    agrees,
    is_same_state,
    overwritten,
    refuse_quantities,
    shown_total,
    told_overwritten,
    told_totals_apart,
    told_typed,
    typed_over,
)
from proposal.imports.workbook_inputs import ReadInputs, read_inputs, told_missing
from proposal.imports.xlsx_sheets import LARGEST_BOOK
from proposal.model.alternate import ALTERNATES
from proposal.model.equipment.entry import Layer
from proposal.model.folder import OWN_LIBRARY
from proposal.model.folder_files import read_folder
from proposal.model.loading import load_source
from proposal.model.price.price_list import ListColumn
from proposal.pipeline import Computed, compute
from proposal.publish.export_files import exported
from proposal.publish.files import write_outputs
from proposal.publish.program_folders import own_folders
from proposal.publish.project_lock import exclusive
from proposal.quantities.messages import printable, shown
from proposal.resources import company_library
from proposal.review.finding import Finding


@dataclass(frozen=True, slots=True)
class Import:
    """What a file that came back changes.

    changes: value by value.  moved: inputs that changed in the project since, and not in the workbook.
    before, held, after: as it was, with the new figures and the same equipment, and chosen anew.
    told: what else is said, line by line.
    files: new content of every file that changes.  as_read: what each holds as it was read, None for nothing.
    """

    changes: tuple[InputChange, ...]
    moved: tuple[str, ...]
    told: tuple[str, ...]
    before: Computed
    held: Computed
    after: Computed
    files: Mapping[Path, bytes]
    as_read: Mapping[Path, bytes | None]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Return the errors and warnings that the change brings, as `check` would say them."""
        return new_findings(self.before, self.after)


def workbook_import(
    book: Path,
    folder: Path,
    library: Path | None,
    writable: Sequence[Layer],
    keep: bool = False,
    confirmed: Set[str] = frozenset(),
) -> Import:
    """Return what a workbook of the estimator changes of a project; nothing is written.

    book: the file.  folder: of the project.  library: of a company, as the call names it.
    writable: layers whose files may change.
    keep: whether rooms keep the equipment that they have, whatever the new figures would choose.
    confirmed: keys of inputs that may be many times what they are now, or a small part.
    Raises InputError where the workbook cannot be taken, with everything that is wrong with it.
    """
    name, data = printable(str(book)), content_of(book)
    source = load_source(folder, library=library)
    before = compute(source.base)
    document = planned_days(room_counts(spare_alternates(spare_allowances(document_of(before)))))
    read = read_inputs(data, name, document.price_inputs, document.cover, confirmed)
    own = [row.key for row in document.price_inputs if is_spare(row) or is_day(row)]
    paths = {key: tuple(key.split(".")) for key in own}
    contents = texts_of(source, read_folder(folder, []) or {})
    added = new_alternates(read.changed, contents, name)
    others = [one for one in read.changed if not is_spare_alternate(one.row)]
    changes = input_changes(InputPlaces(source, writable), others, {**paths, **input_paths(before)})
    changes = (*changes, *added.changes)
    new = _files_of_inputs(folder, library, contents, changes, {**HEADS, **added.heads}, read, name)
    after = _loaded(folder, library, new, f"as {name} has it") if changes else before
    _refuse_lost(name, read, after)
    if keep:
        changes, new, after = _kept(folder, library, before, after, contents, new, changes)
    told = (
        *told_missing(read.missing, name),
        *_told_alternates(folder, library, new, after, added.keys),
    )
    found = _import(folder, library, before, after, contents, new, changes, moved=read.moved, told=told)
    if read.moved:
        return found
    return replace(found, told=(*told, *_told_beside(data, name, found, before, read.is_older)))


def _files_of_inputs(
    folder: Path,
    library: Path | None,
    contents: Mapping[str, bytes],
    changes: Sequence[InputChange],
    heads: Mapping[str, Sequence[str]],
    read: ReadInputs,
    name: str,
) -> dict[str, bytes]:
    """Return the files that changed inputs make anew.

    Raises InputError with what is wrong with the workbook, and with what its other values would make wrong.
    """
    problems = list(read.problems)
    try:
        new = changed_files(contents, changes, heads)
        if problems and changes:
            with _caused(f"as {name} has it"):
                load_source(folder, library=library, instead=new)
    except InputError as error:
        problems += error.problems
    if problems:
        raise InputError(problems)
    return new


def _told_alternates(
    folder: Path, library: Path | None, new: Mapping[str, bytes], after: Computed, keys: Sequence[str]
) -> tuple[str, ...]:
    """Return what the price comes to with each alternate that is added.

    folder, library: of the project.  new: changed files.  after: computed with them, no alternate chosen.
    """
    if not keys:
        return ()
    source = load_source(folder, library=library, instead=new)
    return tuple(
        told_alternate(f"{ALTERNATES}/{key}.yaml", after, compute(source.project((key,)))) for key in keys
    )


def _told_beside(data: bytes, name: str, found: Import, before: Computed, is_older: bool) -> tuple[str, ...]:
    """Return what is said of a workbook that holds or shows something else than its inputs come to.

    data, name: of the workbook.  found: what it changes.  before: the project as it is.
    is_older: whether the project was changed since the workbook was made.
    Raises InputError where a quantity was typed over.
    """
    total, currency = found.held.price.whole.total, before.project.brief.currency
    seen = shown_total(data, name)
    apart = () if agrees(seen, total, currency) else (told_totals_apart(seen, total, currency),)
    made = exported(edition_of(document_of(before), "estimator"), "xlsx")[""]
    is_same = not is_older and is_same_state(data, name, made)
    cells = typed_over(data, name, made) if is_same else None
    if cells is None:
        over = overwritten(data, name, made)
        refuse_quantities(over, name)
        told = told_overwritten(over)
        return (*apart, OF_ANOTHER_STATE, *told) if apart else tuple(told)
    refuse_quantities(cells, name)
    return (*apart, *told_typed(cells)) if cells or apart else ()


def price_list_import(
    prices: Path,
    mapping: Path | None,
    folder: Path,
    library: Path | None,
    layer: Layer,
    cheaper: bool = False,
    confirmed: Set[str] = frozenset(),
    keep: bool = False,
) -> Import:
    """Return what a price list, or an answered request for a quote, changes; nothing is written.

    prices: the file.  mapping: how it is read; None for a request that `export` made.
    folder: of the project.  library: of a company, as the call names it.
    layer: of the library that takes the prices.
    cheaper: whether prices alone are taken that are below those that count.
    confirmed: what may cost many times what it costs now, or a small part, as `price_changes` takes it.
    keep: whether rooms keep the equipment that they have, whatever the new prices would choose.
    Raises InputError where the list cannot be taken, with everything that is wrong with it.
    """
    name, data = printable(str(prices)), content_of(prices)
    written = (
        WrittenMapping(FORM)
        if mapping is None
        else read_mapping(content_of(mapping), printable(str(mapping)))
    )
    how = written.mapping
    source = load_source(folder, library=library)
    before = compute(source.base)
    document = document_of(before)
    is_form = mapping is None
    optional, ours = (OPTIONAL, OURS) if is_form else (frozenset[ListColumn](), frozenset[str]())
    read = read_price_list(data, name, how, written.heads, optional, ours)
    problems = [*read.problems, *wrong_articles(written, source.base.library)]
    if is_form:
        problems += wrong_reference(read.lines, document.cover)
    company = company_library(library)
    if layer == "company" and company is None:
        message = "wanted a company's library, by --library or PROPOSAL_LIBRARY; found none"
        raise InputError([Problem(Place("--into"), "", message)])
    into = OWN_LIBRARY.rstrip("/") if layer == "project" else printable(str(company))
    contents = texts_of(source, read_folder(folder, []) or {})
    try:
        found = price_changes(read.lines, how, source.base, contents, into, layer, cheaper, confirmed)
    except InputError as error:
        raise InputError([*problems, *error.problems]) from None
    if problems:
        raise InputError(problems)
    new = changed_files(contents, found.changes, found.heads)
    whose = ", ".join(sorted({one.supplier for one in read.lines}))
    given, told_given = gives_way(contents, found.changes, into, f"{whose}, {how.source}")
    new |= {file: content for file, content in given.items() if file not in new}
    after = _loaded(folder, library, new, f"with the prices of {name}") if found.changes else before
    changes = found.changes
    if keep:
        changes, new, after = _kept(folder, library, before, after, contents, new, changes)
    told = (
        *told_counts(len(read.lines), found),
        *(told_answer(read, found, asked_quantities(document)) if is_form else told_list(read, found)),
        *told_not_bought(before, found.changes),
        *told_given,
    )
    return _import(folder, library, before, after, contents, new, changes, told=told)


def _kept(
    folder: Path,
    library: Path | None,
    before: Computed,
    after: Computed,
    contents: Mapping[str, bytes],
    new: dict[str, bytes],
    changes: tuple[InputChange, ...],
) -> tuple[tuple[InputChange, ...], dict[str, bytes], Computed]:
    """Return an import whose rooms keep their equipment: its changes, its files, and what follows.

    The parameters are those of `_import`.
    """
    decided = kept_equipment(before, after)
    if not decided:
        return changes, new, after
    fixed = changed_files(contents, decided, {FIXED_FILE: FIXED_HEADS})
    whole = {**new, **fixed}
    return (*changes, *decided), whole, _loaded(folder, library, whole, "with the equipment as it is")


_BOOKS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
"""How workbooks begin, those of the old format too."""


def _import(
    folder: Path,
    library: Path | None,
    before: Computed,
    after: Computed,
    contents: Mapping[str, bytes],
    new: Mapping[str, bytes],
    changes: tuple[InputChange, ...],
    moved: tuple[str, ...] = (),
    told: tuple[str, ...] = (),
) -> Import:
    return Import(
        changes=changes,
        moved=moved,
        told=told,
        before=before,
        held=before.with_same_equipment(after.project),
        after=after,
        files={_path_of(one, folder, library): content for one, content in new.items()},
        as_read={_path_of(one, folder, library): contents.get(one) for one in new},
    )


def is_filled_form(file: Path) -> bool:
    """Say whether a file is a request for a quote that `export` made, rather than the estimator's workbook.

    Raises InputError where it can be neither.
    """
    name, data = printable(str(file)), content_of(file)
    if is_quote_form(data, name):
        return True
    if data and not data.startswith(_BOOKS):
        wanted = "the estimator's workbook, an answered request for a quote, or --mapping for a price list"
        raise InputError([Problem(Place(name), "", f"wanted {wanted}; found another kind of file")])
    return False


def content_of(file: Path) -> bytes:
    """Return what a file holds that a user names; raises InputError where it is none, or too large."""
    try:
        found = file.stat()
        wrong = "" if stat.S_ISREG(found.st_mode) else "wanted a file; found something else"
        if found.st_size > LARGEST_BOOK:
            wrong = f"wanted at most {LARGEST_BOOK // 1_000_000} MB; found {found.st_size / 1e6:.0f} MB"
        if not wrong:
            return file.read_bytes()
    except FileNotFoundError:
        wrong = "wanted a file; found nothing"
    raise InputError([Problem(Place(printable(str(file))), "", wrong)])


def _loaded(folder: Path, library: Path | None, new: Mapping[str, bytes], cause: str) -> Computed:
    """Return everything computed of the project as it would be; what is wrong then says what made it so."""
    with _caused(cause):
        return compute(load_source(folder, library=library, instead=new).base)


@contextmanager
def _caused(cause: str) -> Iterator[None]:
    """Let what is wrong with a project say what made it so."""
    try:
        yield
    except InputError as error:
        raise InputError(
            [Problem(one.place, one.field, f"{one.message}, {cause}") for one in error.problems]
        ) from None


def _refuse_lost(name: str, read: ReadInputs, after: Computed) -> None:
    """Raise InputError where the price would not follow a value: it is set elsewhere once more."""
    now = {row.key: row.value for row in document_of(after).price_inputs}
    problems = []
    for one in read.changed:
        value = now.get(one.row.key)
        if value is not None and float(value) != float(f"{one.value:.12g}"):
            message = f"wanted {one.value:f} to count; found {value:f}, which a file above it says"
            problems.append(Problem(Place(name), one.cell, f"{shown(one.row.key)}: {message}"))
    if problems:
        raise InputError(problems)


def _path_of(name: str, folder: Path, library: Path | None) -> Path:
    company = company_library(library)
    beginning = "" if company is None else f"{printable(str(company))}/"
    if company is not None and name.startswith(beginning):
        return company / name.removeprefix(beginning)
    return folder / name


def write_import(found: Import, folder: Path) -> None:
    """Write the files that an import changes, all of them or none, while no other run is at work.

    folder: of the project.
    Raises InputError where one of them has changed since it was read.
    """
    with exclusive(own_folders(folder).build):
        changed = [path for path, content in found.as_read.items() if _content(path) != content]
        if changed:
            message = "wanted the file as it was read; found that it has changed meanwhile"
            raise InputError([Problem(Place(printable(str(path))), "", message) for path in changed])
        write_outputs(found.files)


def _content(file: Path) -> bytes | None:
    try:
        return file.read_bytes()
    except FileNotFoundError:
        return None
