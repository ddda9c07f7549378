"""What a price list changes of a library: the prices of entries and reels, with source and day.

All that one supplier gives stands in one file, which is called after the supplier.
"""

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import field
from decimal import Decimal

from proposal.design.equipment.unit_costs import has_rate, in_currency
from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.imports.far_off import is_far_off, to_confirm, told_times
from proposal.imports.input_changes import InputChange
from proposal.imports.input_places import InputPlace
from proposal.imports.price_lists import PriceLine
from proposal.model.equipment.entry import Entry, Layer
from proposal.model.equipment.library import FIELD_OF_KIND
from proposal.model.equipment.materials import Cable, Reel
from proposal.model.equipment.price_origins import PriceOrigin, origin_of
from proposal.model.price.price_list import ListColumn, PriceListMapping
from proposal.model.project import Project
from proposal.model.reading.tree import Mapping as Tree
from proposal.model.reading.tree import Text, node_at
from proposal.model.reading.yaml_tree import read_yaml
from proposal.quantities.currencies import is_currency, smallest_unit
from proposal.quantities.file_names import file_name
from proposal.quantities.messages import shown
from proposal.quantities.money import Money
from proposal.quantities.rounding import rounded, step_of

UNKNOWN = "unknown"
_PACKS: tuple[ListColumn, ...] = ("sold_as", "pack")
_FINEST = step_of(4)
_SPARE = ", spare"


@dataclass(frozen=True, slots=True)
class _Target:
    """What a price is of: an entry, or one of the reels of a cable."""

    entry: Entry
    reel: str

    @property
    def keys(self) -> tuple[str, ...]:
        model = self.entry.model
        return (model, "reels", self.reel) if self.reel else (model,)

    @property
    def name(self) -> str:
        return ", ".join(part for part in (self.entry.model, self.reel) if part)

    @property
    def origin(self) -> PriceOrigin:
        return origin_of(self.entry, self.reel)

    @property
    def sold(self) -> Entry | Reel:
        return self.entry.reels[self.reel] if isinstance(self.entry, Cable) and self.reel else self.entry


@dataclass(frozen=True, slots=True)
class NotTaken:
    """A line of which nothing is taken; name: of the article or thing.  line: as it was read."""

    name: str
    line: PriceLine


@dataclass(frozen=True, slots=True)
class PriceChanges:
    """What a price list changes.

    changes: value by value, prices among them.
    heads: first lines of files that are new.
    unknown: articles that no entry of the library is.  unpriced: of the library, without a price.
    overtaken: what has a price of a later day already, which stays.
    dearer: what costs no less than what counts, where cheaper prices alone are taken.
    unchanged: how many prices stay as they are.
    answered: what the lines are of: model codes, each with its reel or nothing.
    """

    changes: tuple[InputChange, ...]
    heads: Mapping[str, Sequence[str]]
    unknown: tuple[NotTaken, ...]
    unpriced: tuple[NotTaken, ...]
    overtaken: tuple[NotTaken, ...]
    unchanged: int
    answered: Set[tuple[str, str]]
    dearer: tuple[str, ...] = ()


def _unit(target: _Target) -> str:
    entry = target.entry
    return target.reel or {"each": "piece"}.get(entry.unit, entry.unit)


def no_rate(currency: str) -> str:
    """Return what is said of a currency that has no exchange rate; currency: by its code of ISO 4217."""
    return (
        f"wanted a currency with a rate; found {currency}, and nothing under terms.exchange.{currency} of "
        "project.yaml"
    )


def file_of(supplier: str, folder: str) -> str:
    """Return the file that the prices of a supplier stand in.

    folder: of the library.
    """
    return f"{folder}/{file_name(supplier, 'supplier')}.yaml"


def price_changes(
    lines: Sequence[PriceLine],
    mapping: PriceListMapping,
    project: Project,
    contents: Mapping[str, bytes],
    folder: str,
    layer: Layer,
    cheaper: bool = False,
    confirmed: Set[str] = frozenset(),
) -> PriceChanges:
    """Return what the lines of a price list change.

    contents: of every file of the libraries, by name.
    folder, layer: of the library that takes them.
    cheaper: whether prices alone are taken that are below those that count.
    confirmed: what may cost many times what it costs now, or a small part: model codes, of reels with a comma
        and their name.
    Raises InputError with every line that cannot be taken.
    """
    making = _Making(mapping, project, contents, folder, layer, cheaper, confirmed)
    for line in lines:
        making.take(line)
    making.keep_other_reels()
    making.add_lead_times()
    if making.problems:
        raise InputError(making.problems)
    return PriceChanges(
        changes=tuple(making.changes),
        heads=making.heads,
        unknown=tuple(making.unknown),
        unpriced=tuple(making.unpriced),
        overtaken=tuple(making.overtaken),
        unchanged=making.unchanged,
        answered={(target.entry.model, target.reel) for target in making.targets},
        dearer=tuple(making.dearer),
    )


@dataclass(slots=True)
class _Making:
    """Changes as they are made, line by line."""

    mapping: PriceListMapping
    project: Project
    contents: Mapping[str, bytes]
    folder: str
    layer: Layer
    cheaper: bool
    confirmed: Set[str]
    problems: list[Problem] = field(default_factory=list)
    changes: list[InputChange] = field(default_factory=list)
    heads: dict[str, Sequence[str]] = field(default_factory=dict)
    unknown: list[NotTaken] = field(default_factory=list)
    unpriced: list[NotTaken] = field(default_factory=list)
    overtaken: list[NotTaken] = field(default_factory=list)
    targets: list[_Target] = field(default_factory=list)
    dearer: list[str] = field(default_factory=list)
    unchanged: int = 0
    _by_metre: dict[tuple[str, str], Entry] = field(default_factory=dict)
    _lead_times: dict[tuple[str, str], int] = field(default_factory=dict)
    _seen: dict[tuple[str, ...], PriceLine] = field(default_factory=dict)
    _written: set[tuple[str, tuple[str, ...]]] = field(default_factory=set)
    _trees: dict[str, Tree | None] = field(default_factory=dict)
    _by_article: dict[tuple[str, str], _Target] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for entry in self.project.library.entries():
            for reel in ("", *(entry.reels if isinstance(entry, Cable) else ())):
                target = _Target(entry, reel)
                if target.sold.article:
                    self._by_article[target.origin.supplier, target.sold.article] = target

    def take(self, line: PriceLine) -> None:
        target = self._target(line)
        if target is None:
            return
        self.targets.append(target)
        if not has_rate(self.project, line.currency):
            if is_currency(line.currency):
                self._note(line, "currency", no_rate(line.currency))
            return
        first = self._seen.setdefault(target.keys, line)
        if first is not line:
            same = (first.price, first.list_price, first.pack, first.currency)
            if same != (line.price, line.list_price, line.pack, line.currency):
                self._note(
                    line,
                    "price",
                    f"wanted one price of {target.name}; found another one, first in line "
                    f"{first.place.line}; leave one of the two lines in, and lay other offers beside it on "
                    "the sheet Quotes side by side",
                )
            return
        # Of a reel nothing stands in for a price that is still to come: the earlier one stays.
        awaited = line.awaited and not target.reel
        if line.price is None and line.list_price is None and not awaited:
            self.unpriced.append(NotTaken(target.name, line))
            return
        known = target.origin
        if known.day is not None and known.supplier == line.supplier and line.priced_on < known.day:
            self.overtaken.append(NotTaken(target.name, line))
            return
        self._write(line, target)

    def keep_other_reels(self) -> None:
        """Say of reels who sells them, where a price by the metre names another supplier for their cable."""
        for (file, model), entry in self._by_metre.items():
            for name, reel in entry.reels.items() if isinstance(entry, Cable) else ():
                path = (model, "reels", name)
                if reel.supplier or (file, (FIELD_OF_KIND[entry.kind], *path, "cost")) in self._written:
                    continue
                known = origin_of(entry, name)
                about = (
                    ("supplier", known.supplier),
                    ("article", known.article),
                    ("price_source", known.source),
                    ("priced_on", known.day.isoformat() if known.day else ""),
                    ("prices_hold_until", known.holds_until.isoformat() if known.holds_until else ""),
                )
                for field_name, value in about:
                    if value:
                        self._add(file, (*path, field_name), "", value, None)

    def _target(self, line: PriceLine) -> _Target | None:
        """Return what a line is of; None where the library has no such thing, which is noted."""
        named = self.mapping.articles.get(line.article, "")
        if not named and (found := self._by_article.get((line.supplier, line.article))) is not None:
            return self._with_reel(line, found)
        code, _, reel = (named or line.model or line.article).partition(", ")
        try:
            target = _Target(self.project.library.entry(code), reel)
        except KeyError:
            self.unknown.append(NotTaken(line.article or line.model, line))
            return None
        return self._with_reel(line, target)

    def _with_reel(self, line: PriceLine, target: _Target) -> _Target | None:
        """Return a target with the reel that a line is of, where the line or the mapping names one."""
        reels = target.entry.reels if isinstance(target.entry, Cable) else {}
        reel = target.reel or (line.sold_as.removesuffix(_SPARE) if reels else "")
        if reel in ("", "m", "metre"):
            return _Target(target.entry, "")
        if reel not in reels:
            known = ", ".join(reels) or "none"
            self._note(
                line, "sold_as", f"wanted a reel of {target.entry.model} ({known}); found {shown(reel)}"
            )
            return None
        return _Target(target.entry, reel)

    def _note(self, line: PriceLine, name: ListColumn, message: str) -> None:
        self.problems.append(Problem(line.at(name), line.article or line.model, message))

    def _write(self, line: PriceLine, target: _Target) -> None:
        entry, file = target.entry, file_of(line.supplier, self.folder)
        if file not in self.contents:
            self.heads[file] = (
                f"# Prices of {line.supplier}, as they came; they go before those of the libraries below.",
                "source: price list or quote",
            )
        sold = target.sold
        if self.cheaper and not self._is_cheaper(line, target, sold.cost):
            return
        for name, price, was in (
            ("cost", line.price, sold.cost),
            ("list_price", line.list_price, sold.list_price),
        ):
            if price is not None:
                new = self._money(line, target, price)
                if new is None:
                    return
                times = self._times(new, was)
                if self._is_far_off(line, target, str(was), str(new), times):
                    return
                self._add(file, (*target.keys, name), str(was), str(new), times)
            elif name == "cost" and line.awaited:
                self._add(file, (*target.keys, name), str(was), UNKNOWN, None)
        for name, before, value in self._about(line, target):
            self._add(file, (*target.keys, name), before, value, None)
        if not target.reel:
            self._by_metre[file, entry.model] = entry
        if line.lead_time_days is not None:
            at = file, entry.model
            self._lead_times[at] = max(line.lead_time_days, self._lead_times.get(at, 0))

    def add_lead_times(self) -> None:
        """Note the lead times of what is priced; of a cable that of the reel that is waited for longest."""
        for (file, model), days in self._lead_times.items():
            was = self.project.library.entry(model).lead_time_days
            self._add(file, (model, "lead_time_days"), str(was), str(days), None)

    def _times(self, new: Money, was: Money) -> Decimal | None:
        """Return a price as a multiple of the one that counts, None of zero."""
        now = in_currency(self.project, was)
        return in_currency(self.project, new) / now if now else None

    def _is_far_off(
        self, line: PriceLine, target: _Target, was: str, new: str, times: Decimal | None
    ) -> bool:
        """Say whether a price is so far from the one that counts that it is hardly of the same thing."""
        if times is None or not is_far_off(times) or target.name in self.confirmed:
            return False
        self._note(
            line,
            "price",
            f"wanted a price near that of {target.name}, {was} for one {_unit(target)}; found {new}, "
            f"{told_times(times)}. If it is for a reel or a pack, say so {self._where_packs_stand()}; "
            f"{to_confirm(target.name)}",
        )
        return True

    def _where_packs_stand(self) -> str:
        """Return where a list says what its prices are for."""
        if self.mapping.supplier:
            return "in the mapping (`articles`, `sold_as`, `pack`)"
        columns = [self.mapping.columns[one] for one in _PACKS if one in self.mapping.columns]
        return f"in its column {' or '.join(columns)}" if columns else "in the mapping (`sold_as`, `pack`)"

    def _is_cheaper(self, line: PriceLine, target: _Target, counts: Money) -> bool:
        """Say whether a price is below the one that counts; noted where it is not, or still to come."""
        new = None if line.price is None else self._money(line, target, line.price)
        if new is not None and in_currency(self.project, new) < in_currency(self.project, counts):
            return True
        price = UNKNOWN if new is None else str(new)
        self.dearer.append(f"{target.name} at {price} ({counts} of {target.origin.supplier} counts)")
        return False

    def _about(self, line: PriceLine, target: _Target) -> Iterator[tuple[str, str, str]]:
        """Yield what is said of the prices of an entry or a reel: name, as it was, as it is."""
        sold = target.sold
        yield "supplier", sold.supplier, line.supplier
        if line.article and line.article != target.entry.model:
            yield "article", sold.article, line.article
        yield "price_source", sold.price_source, self.mapping.source
        was = sold.priced_on.isoformat() if sold.priced_on else ""
        yield "priced_on", was, line.priced_on.isoformat()
        until = sold.prices_hold_until
        if line.valid_until is not None:
            yield "prices_hold_until", until.isoformat() if until else "", line.valid_until.isoformat()
        elif until is not None:
            self._note(
                line,
                "valid_until",
                f"wanted the last day of its price, since the earlier one has one, {until}",
            )

    def _money(self, line: PriceLine, target: _Target, price: Decimal) -> Money | None:
        """Return a price for what the library prices: a piece, a metre, a pack, a reel."""
        entry = target.entry
        if isinstance(entry, Cable) and target.reel:
            length_m = Decimal(repr(round(entry.reels[target.reel].length, 6)))
            if line.pack not in (None, 1, length_m):
                self._note(line, "pack", f"wanted the price of one {target.reel}; found one for {line.pack}")
                return None
            exact = price
        elif line.pack is None:
            exact = price
        else:
            pieces = Decimal(entry.pack_quantity) if entry.unit == "pack" else Decimal(1)
            exact = price * pieces / line.pack
        amount = rounded(exact, _FINEST)
        whole = rounded(amount, smallest_unit(line.currency))
        return Money(whole if whole == amount else amount.normalize(), line.currency)

    def _add(self, file: str, keys: tuple[str, ...], was: str, value: str, times: Decimal | None) -> None:
        """Note a change, unless the file says so already, or a line before has."""
        path = (FIELD_OF_KIND[self.project.library.entry(keys[0]).kind], *keys)
        is_price = keys[-1] in ("cost", "list_price")
        if file not in self._trees:
            content = self.contents.get(file)
            self._trees[file] = None if content is None else read_yaml(content, file, [])
        tree = self._trees[file]
        node = None if tree is None else node_at(tree, path)
        said = node.value if isinstance(node, Text) else None
        if (file, path) in self._written:
            return
        self._written.add((file, path))
        if said == value:
            self.unchanged += is_price
            return
        place: Place | None = node.place if isinstance(node, Text) else None
        where = InputPlace(file, path, place, self.layer)
        self.changes.append(InputChange(".".join(("library", *keys)), was, value, where, times))
