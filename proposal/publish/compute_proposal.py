"""Compute whole proposals: alternates, their combinations, and what moves the price, in several processes.

What was computed is kept under the key of all that it follows from, so that a second build finds it.
"""

import hashlib
import json
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from contextlib import closing, suppress
from decimal import Decimal, InvalidOperation
from functools import partial
from time import monotonic
from typing import TypeVar

from pydantic import BaseModel, ValidationError

from proposal.document.document import Document
from proposal.document.making.alternates_not_offered import lines_of_not_offered
from proposal.document.making.disclosure import all_disclosure_parts, all_house_findings
from proposal.document.making.document import document_of
from proposal.document.making.price_again import PriceAgain
from proposal.document.making.printed_texts import with_printed_texts
from proposal.document.making.proposal import (
    Combined,
    Computing,
    alternate_document,
    combinations_of,
    combined_and_why,
    computed_with,
    each_once,
    named_anew,
    proposal_of,
)
from proposal.document.making.sensitivity import SIDES, Case, Side, cases_of, price_of, sensitivity_of
from proposal.document.readers import READERS, Reader
from proposal.document.rows.alternates import Sensitivity
from proposal.document.whole_proposal import Proposal
from proposal.model.source import ProjectSource
from proposal.pipeline import Computed
from proposal.publish.cache import Cache
from proposal.publish.price_processes import LostPricerError, Price, Task, prices_of
from proposal.publish.processors import processors
from proposal.publish.program_version import program
from proposal.review.finding import Finding
from proposal.review.received import Received

# A worker loads the program and the project first, which only longer work than this repays.
LONGEST_ALONE_S = 8.0
FEWEST_TIMED = 4
_REFUSED = b"refused"
"""What is kept of a case that cannot be."""

Made = TypeVar("Made", bound=BaseModel)


def whole_proposal(
    source: ProjectSource,
    computed: Computed,
    cache: Cache,
    progress: Callable[[str], None],
    *,
    readers: Sequence[Reader] = READERS,
    sensitivity: bool,
    finished: Callable[[Document], Document],
    earlier: Sequence[Received] = (),
    base: Document | None = None,
) -> Proposal:
    """Return the proposal: the base, every open alternate in full, prices of their combinations.

    computed: the base.
    cache: keeps what was computed.
    progress: told in a few words what is being done.
    readers: whose editions are made of it.
    sensitivity: whether somebody will read what moves the price.
    finished: what is done to the document of the base and of each alternate, such as marking it as a draft.
    earlier: prices that the client received with revisions issued before.
    base: the document of the base where it is made already, nothing done to it yet.
    Raises InputError where an alternate cannot be computed.
    """
    fingerprint, but_printed = source.fingerprint(), source.fingerprint_but_printed()
    computing = each_once(computed)
    alternates: dict[str, Document] = {}
    for key in source.open:
        progress(f"alternate {source.base.alternates[key].name}")
        kept = _kept(
            cache,
            ("alternate", key, but_printed, *sorted(readers)),
            Document,
            partial(alternate_document, source, key, computing, readers),
        )
        alternates[key] = with_printed_texts(kept, source.project((key,)))
    together = all_combined(source, cache, progress, computing)
    moved: Sensitivity | None = None
    if sensitivity:
        moved = _kept(
            cache,
            ("sensitivity", fingerprint),
            Sensitivity,
            lambda: _sensitivity(source, computed, cache, progress),
        )
    told = all_disclosure_parts(computed, (*received_with(together), *earlier))
    return proposal_of(
        source,
        finished(document_of(computed, readers, told) if base is None else base.model_copy(update={**told})),
        {key: finished(document) for key, document in alternates.items()},
        [one.row for one in together],
        moved,
    )


def all_combined(
    source: ProjectSource,
    cache: Cache,
    progress: Callable[[str], None],
    computing: Computing = computed_with,
) -> tuple[Combined, ...]:
    """Return every combination of open alternates that the client reads prices of, none of them first.

    progress: told in a few words what is being done.
    cache: keeps what was computed.
    computing: computes a project with some alternates.
    """
    fingerprint = source.numbers_fingerprint()
    found = []
    for chosen in combinations_of(source.priced):
        progress(f"price of {len(chosen)} alternates together")
        named = ("combination", *chosen, fingerprint)
        one = _kept(cache, named, Combined, partial(combined_and_why, source, chosen, computing), _is_kept)
        found.append(named_anew(source, one))
    return tuple(found)


def _is_kept(one: Combined) -> bool:
    # Why alternates exclude each other may tell words and places, and is soon found again; errors take as
    # long as a price, and tell neither.
    return one.row.price is not None or bool(one.row.not_offered)


def house_findings(
    source: ProjectSource,
    computed: Computed,
    cache: Cache,
    progress: Callable[[str], None],
    earlier: Sequence[Received],
) -> tuple[Finding, ...]:
    """Return the findings for the house alone about the price and all its alternates.

    progress: told in a few words what is being done.
    cache: keeps what was computed.
    earlier: prices that the client received with revisions issued before.
    """
    together = received_with(all_combined(source, cache, progress, each_once(computed)))
    return all_house_findings(computed, (*together, *earlier))


def alternates_not_offered(
    source: ProjectSource, computed: Computed, cache: Cache, progress: Callable[[str], None]
) -> tuple[str, ...]:
    """Return a line for each alternate that the client is not offered.

    computed, cache: the base, and what was kept.  progress: told in a few words what is being done.
    """
    together = all_combined(source, cache, progress, each_once(computed))
    alone = {one.row.chosen[0]: one.alone for one in together if len(one.row.chosen) == 1}
    return tuple(lines_of_not_offered(source, alone))


def received_with(together: Iterable[Combined]) -> tuple[Received, ...]:
    """Return what the client receives beside the base of combinations of alternates."""
    return tuple(one.received for one in together if one.received is not None and one.row.chosen)


def _kept(
    cache: Cache,
    named: Sequence[str],
    kind: type[Made],
    make: Callable[[], Made],
    is_to_be_kept: Callable[[Made], bool] = lambda _: True,
) -> Made:
    """Return what is kept under a name, or make it and keep it; what cannot be read is made again."""
    key = hashlib.sha256(json.dumps([*named, program()]).encode("utf-8")).hexdigest()
    found = cache.found(key)
    if found is not None:
        with suppress(ValidationError):
            return kind.model_validate_json(found)
    made = make()
    if is_to_be_kept(made):
        cache.keep(key, made.model_dump_json().encode("utf-8"))
    return made


def known_sensitivity(source: ProjectSource, computed: Computed, cache: Cache) -> Sensitivity | None:
    """Return what moves the price where all of it is kept, None where something has to be computed first.

    computed: the base.
    cache: keeps what was computed.
    """
    cases, tasks, keys = _cases(source)
    known = _known(source, computed, cache, tasks, keys)
    return _told(computed, cases, [known[key] for key in keys]) if known.keys() >= set(keys) else None


def _sensitivity(
    source: ProjectSource, computed: Computed, cache: Cache, progress: Callable[[str], None]
) -> Sensitivity:
    """Return what moves the price; only cases whose numbers are others than before are computed."""
    cases, tasks, keys = _cases(source)
    known = _known(source, computed, cache, tasks, keys)
    left = [(key, task) for key, task in zip(keys, tasks, strict=True) if key not in known]
    with closing(_prices(source, computed, [task for _, task in left])) as found:
        for number, price in found:
            key = left[number][0]
            known[key] = price
            # Why there is none may tell words and places.
            cache.keep(key, str(price).encode("ascii") if isinstance(price, Decimal) else _REFUSED)
            progress(f"what moves the price: {len(known)} of {len(tasks)}")
    return _told(computed, cases, [known[key] for key in keys])


def _cases(source: ProjectSource) -> tuple[tuple[Case, ...], list[Task], list[str]]:
    """Return everything that can be tried, each side of it, and the key of the price of each."""
    cases = cases_of(source.base)
    tasks: list[Task] = [(case, side) for case in cases for side in SIDES]
    fingerprint = source.numbers_fingerprint()
    return cases, tasks, [_price_key(case, side, fingerprint) for case, side in tasks]


def _known(
    source: ProjectSource, computed: Computed, cache: Cache, tasks: Sequence[Task], keys: Sequence[str]
) -> dict[str, Price]:
    """Return the prices that are kept, by key, or why there is none; an empty text where nothing is tried."""
    known: dict[str, Price] = {}
    for key, (case, side) in zip(keys, tasks, strict=True):
        kept = None if case.value(side) is None else cache.found(key)
        if case.value(side) is None:
            known[key] = ""
        elif kept == _REFUSED:
            # Why a value cannot be is soon found again, and may tell words and places that are others now.
            known[key] = price_of(source, computed, case, side)
        elif (price := _price_in(kept)) is not None:
            known[key] = price
    return known


def _told(computed: Computed, cases: Sequence[Case], tried: Sequence[Price]) -> Sensitivity:
    """Return what moves the price.

    tried: prices of the lower and the upper side of each case.
    """
    both = zip(cases, tried[::2], tried[1::2], strict=True)
    return sensitivity_of(computed.price.whole.price, both)


def _price_key(case: Case, side: Side, fingerprint: str) -> str:
    told = ["price", fingerprint, program(), list(case.path), case.row.kind, repr(case.value(side)), side]
    return hashlib.sha256(json.dumps(told).encode("ascii")).hexdigest()


def _price_in(kept: bytes | None) -> Decimal | None:
    """Return the price that is kept, None where none can be read."""
    try:
        price = Decimal((kept or b"").decode("ascii"))
    except (ValueError, InvalidOperation):
        return None
    return price if price.is_finite() else None


def _prices(
    source: ProjectSource, computed: Computed, tasks: Sequence[Task]
) -> Generator[tuple[int, Price], None, None]:
    """Yield the price of each task with its number, from several processes where that is worth while."""
    begun = monotonic()
    again = PriceAgain(computed.project) if len(tasks) >= FEWEST_TIMED else None

    def here(task: Task) -> Price:
        return price_of(source, computed, *task, again)

    for done, task in enumerate(tasks):
        still = (monotonic() - begun) / done * (len(tasks) - done) if done >= FEWEST_TIMED else 0.0
        if still > LONGEST_ALONE_S and processors() > 1:
            for number, price in _shared(source, tasks[done:], here):
                yield done + number, price
            return
        yield done, here(task)


def _shared(
    source: ProjectSource, tasks: Sequence[Task], here: Callable[[Task], Price]
) -> Iterator[tuple[int, Price]]:
    """Yield the price of each task with its number, some from other processes; what they leave is done here.

    here: computes a price in this process.
    """
    left = set(range(len(tasks)))
    try:
        with prices_of(source, tasks, processors() - 1, here) as found:
            for number, price in found:
                left.remove(number)
                yield number, price
    except LostPricerError:
        for number in sorted(left):
            yield number, here(tasks[number])
