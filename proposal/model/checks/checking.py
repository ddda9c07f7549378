"""An untyped project, checked: every problem at once, or the frozen project."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from proposal.errors import InputError, Place, Problem
from proposal.field_classes import dataclass
from proposal.model.alternate import Alternate
from proposal.model.assembly import TYPES, Cleaned, ProjectTree
from proposal.model.assumptions import assumptions_and_questions
from proposal.model.checks.across_fields import unknown_currencies, wrong_values
from proposal.model.checks.commercial_problems import commercial_problems
from proposal.model.checks.field_names import field_name, shown_path
from proposal.model.checks.level_checks import wrong_in_rooms
from proposal.model.checks.planned_rooms import missing_rooms
from proposal.model.checks.radio_checks import crowded_band, unknown_slabs, wrong_places, wrong_radio
from proposal.model.checks.references import dangling
from proposal.model.checks.requirement_checks import sums_in_other_currencies
from proposal.model.checks.state_checks import (
    unknown_in_states,
    unknown_portable_sets,
    wrong_portable_places,
    wrong_states,
)
from proposal.model.checks.wording_checks import wrong_parties, wrong_standing
from proposal.model.distance_checks import far_places
from proposal.model.equipment.library import Library
from proposal.model.equipment.library_files import (
    LibraryFile,
    ResolvedLibrary,
    place_in_library,
    resolved_library,
)
from proposal.model.figure_layers import figure_layers, figure_places, prices_given_twice
from proposal.model.joined_sound import with_joined_sound
from proposal.model.labour.labour import Labour
from proposal.model.labour.labour_files import resolved_labour, with_own_parts, with_rates, with_services
from proposal.model.price.disclosure import ClientKnowledge
from proposal.model.price.exchange import library_without_rate
from proposal.model.project import Fixed, Numbered, Project
from proposal.model.radio.radio import RadioLosses
from proposal.model.reading import tree as trees
from proposal.model.reading.validation_messages import problems_of
from proposal.model.requirements.requirements import Requirement
from proposal.model.rooms import Room, RoomType
from proposal.model.tags import wrong_tags
from proposal.model.wording.wording import Standing
from proposal.quantities.currencies import is_currency
from proposal.quantities.messages import shown, wanted_one_of

_NOTHING: Mapping[str, Any] = {}
_NO_LAYOUT = RoomType.model_construct(**_NOTHING)
_Model = TypeVar("_Model", bound=BaseModel)


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What a project is checked against, whatever is changed of it.

    libraries: library files, lowest layer first.
    labour_files: labour data, lowest layer first.
    is_locale: says whether numbers and dates can be written as a locale does.
    standing: wording that is printed unless the author writes other.
    radio_losses: what radio loses at walls and floors.
    client_knowledge: what a client is taken to know of the prices.
    issued: numbers that issued revisions gave, by identity.
    """

    libraries: tuple[LibraryFile, ...]
    labour_files: tuple[LibraryFile, ...]
    is_locale: Callable[[str], bool]
    standing: Standing
    radio_losses: RadioLosses
    client_knowledge: ClientKnowledge
    issued: Mapping[str, Numbered] = field(default_factory=dict)


class Memory:
    """What was found good, by the part of the tree that said it: an unchanged part is not checked again."""

    def __init__(self) -> None:
        """Remember nothing yet."""
        # The parts are kept, so that no other can take their place in memory.
        self._valid: dict[tuple[type[BaseModel], int, int], tuple[trees.Node, object, BaseModel]] = {}
        self._plain: dict[int, tuple[trees.Node, Any]] = {}
        self._places: dict[tuple[int, trees.Path], tuple[trees.Node, dict[trees.Path, Place]]] = {}
        self.cleaned: Cleaned = {}

    def __reduce__(self) -> tuple[type["Memory"], tuple[()]]:
        """Return how it is copied to another process: empty."""
        return Memory, ()

    def plain(self, tree: trees.Mapping) -> dict[str, Any]:
        """Return a tree as dict, list and str."""
        made: dict[str, Any] = {}
        for top, (_, node) in tree.entries.items():
            if isinstance(node, trees.Mapping):
                made[top] = {key: self._plain_part(inner) for key, (_, inner) in node.entries.items()}
            else:
                made[top] = trees.plain(node)
        return made

    def _plain_part(self, node: trees.Node) -> Any:
        known = self._plain.get(id(node))
        if known is None:
            known = self._plain[id(node)] = (node, trees.plain(node))
        return known[1]

    def places(self, node: trees.Node, path: trees.Path = ()) -> dict[trees.Path, Place]:
        """Return the place of every path of a tree, as `trees.places` yields them.

        node: the tree.  path: of the tree itself.
        Parts below two keys are remembered: those above are others in each state.
        """
        if len(path) == 2:
            known = self._places.get((id(node), path))
            if known is None:
                known = self._places[id(node), path] = (node, dict(trees.places(node, path)))
            return known[1]
        if not isinstance(node, trees.Mapping):
            return dict(trees.places(node, path))
        found: dict[trees.Path, Place] = {}
        for key, (place, inner) in node.entries.items():
            found[*path, key] = inner.place if isinstance(inner, trees.Text) else place
            found |= self.places(inner, (*path, key))
        return found

    def valid(self, model: type[_Model], node: trees.Node, given: Mapping[str, Any]) -> _Model:
        """Return the model of a part of the tree; raises ValidationError where it is wrong.

        model: class that the part is read as.
        node: the part.
        given: what stands there beside what the part says, at most one value.
        """
        other = next(iter(given.values()), None)
        known = self._valid.get((model, id(node), id(other)))
        if known is None:
            # What is no mapping is refused as it stands.
            said = trees.plain(node)
            made = model.model_validate({**said, **given} if isinstance(said, dict) else said)
            known = self._valid[model, id(node), id(other)] = (node, other, made)
        assert isinstance(known[2], model)
        return known[2]


@dataclass(frozen=True, slots=True)
class _Examined:
    """What was read from an untyped project, good or not: its parts by first key, and what it stands on."""

    tops: dict[str, Any]
    library: Library | None
    labour: Labour | None


def checked(
    written: ProjectTree,
    surroundings: Surroundings,
    problems: list[Problem],
    memory: Memory,
    alternates: Mapping[str, Alternate],
    *,
    told: bool = True,
) -> Project:
    """Return the project that an untyped tree says, or raise InputError with everything that is wrong.

    written: what the folder says.
    surroundings: what it is checked against.
    problems: what was wrong with the files already.
    memory: of other states of the same project.
    alternates: the alternates of the project, by key.
    told: whether with its defaults and open questions, which no figure needs.
    """
    found = _examined(written, surroundings, problems, memory)
    if problems or found.library is None or found.labour is None:
        raise InputError(problems)
    shared_files = tuple(file for file in surroundings.labour_files if file.layer == "shared")
    tops = found.tops
    places = memory.places(written.tree)
    assumptions, questions = assumptions_and_questions(tops, written.unknown, places) if told else ((), ())
    # Each part has been validated by itself; a validator for all of it would only take time.
    return Project.model_construct(
        brief=tops["project"],
        building=tops["building"],
        room_types=tops["room_types"],
        rooms=with_joined_sound(tops["rooms"], tops["building"]),
        fixed=tops["fixed"],
        requirements=tops["requirements"],
        wording=written.wording,
        images=written.images,
        library=found.library,
        labour=with_services(
            with_rates(found.labour, tops["project"].labour), tops["project"].terms.services
        ),
        usual_labour=with_own_parts(resolved_labour(shared_files).labour or Labour()),
        standing=surroundings.standing,
        radio_losses=surroundings.radio_losses,
        client_knowledge=surroundings.client_knowledge,
        alternates=alternates,
        issued=surroundings.issued,
        places=places | dict(written.unknown) | dict(figure_places(surroundings.libraries)),
        layers=figure_layers(surroundings.libraries, surroundings.labour_files),
        given_twice=prices_given_twice(surroundings.libraries),
        assumptions=assumptions,
        questions=questions,
    )


def problems_of_tree(written: ProjectTree, surroundings: Surroundings, memory: Memory) -> list[Problem]:
    """Return everything that is wrong with an untyped project, without making the project."""
    problems: list[Problem] = []
    _examined(written, surroundings, problems, memory)
    return problems


def _examined(
    written: ProjectTree, surroundings: Surroundings, problems: list[Problem], memory: Memory
) -> _Examined:
    """Return what an untyped project says, adding everything that is wrong with it."""
    before = len(problems)
    libraries, radio_losses = surroundings.libraries, surroundings.radio_losses
    resolved = resolved_library(libraries)
    labour = resolved_labour(surroundings.labour_files)
    problems += (*resolved.problems, *labour.problems)
    tops = _validated(written, problems, memory)
    plain: Mapping[str, Any] = memory.plain(written.tree)
    problems += _dangling(written, plain, resolved)
    for path, message in (*wrong_tags(plain), *unknown_currencies(plain), *unknown_slabs(plain)):
        problems.append(_problem(written.tree, path, message, key=True))
    wrong = [
        *wrong_values(plain, tuple(written.images), surroundings.is_locale),
        *wrong_radio(plain, radio_losses),
        *wrong_states(plain),
        *wrong_portable_places(plain),
    ]
    said = frozenset(path for path, _ in wrong)
    layouts: dict[trees.Path, RoomType] = {
        ("room_types", key): one for key, one in tops["room_types"].items()
    }
    layouts |= {("rooms", tag, "layout"): one.layout for tag, one in tops["rooms"].items() if one.changed}
    wrong += (
        *wrong_in_rooms(layouts, said),
        *wrong_places(tops, said),
        *far_places(tops, said),
        *crowded_band(tops.get("building")),
    )
    for path, message in wrong:
        problems.append(_problem(written.tree, path, message, key=False))
    brief = tops.get("project")
    if brief is not None and resolved.library is not None and is_currency(brief.currency):
        for path, message in library_without_rate(resolved.library, brief.currency, brief.terms.exchange):
            problems.append(_problem(written.tree, ("project", *path), message, key=False))
    if brief is not None:
        for path, message in sums_in_other_currencies(tops["requirements"], brief.currency):
            problems.append(_problem(written.tree, path, message, key=False))
        for path, message, is_key in wrong_standing(brief, surroundings.standing):
            problems.append(_problem(written.tree, ("project", *path), message, key=is_key))
        if tops.get("building") is not None:
            owned = tops["building"].owner_equipment
            for path, message in wrong_parties(owned, brief, surroundings.standing):
                problems.append(_problem(written.tree, path, message, key=False))
    if brief is not None and resolved.library is not None and labour.labour is not None:
        found = commercial_problems(brief, plain, resolved.library, labour.labour)
        for part, path, message, is_key in found:
            if part == "project":
                problems.append(_problem(written.tree, ("project", *path), message, key=is_key))
            elif part == "labour":
                place = trees.place_of(labour.tree, path)
                problems.append(Problem(place, shown_path(path), message))
            else:
                model, field = (str(key) for key in path)
                place = place_in_library(libraries, model, field)
                problems.append(Problem(place, f"{shown(model)}.{field}", message))
    problems += missing_rooms(plain, tops, written.broken)
    if ("rooms",) in written.broken:
        # Which rooms there are is not known for certain: what lacks one may be right.
        problems[before:] = [one for one in problems[before:] if not one.message.startswith(_OF_ROOMS)]
    return _Examined(tops, resolved.library, labour.labour)


def _validated(written: ProjectTree, problems: list[Problem], memory: Memory) -> dict[str, Any]:
    """Return what of the project is good, by first key, adding what is wrong with the rest."""
    tops: dict[str, Any] = {"fixed": Fixed()}
    for name in ("project", "building", "fixed"):
        node = written.tree.get(name)
        if node is not None and (name,) not in written.broken:
            part = _valid(TYPES[name], node, (name,), written, problems, memory)
            if part is not None:
                tops[name] = part
    room_types: dict[str, RoomType] = {}
    for name, node in _entries_of(written.tree, "room_types"):
        if ("room_types", name) not in written.broken:
            layout = _valid(RoomType, node, ("room_types", name), written, problems, memory)
            if layout is not None:
                room_types[name] = layout
    rooms: dict[str, Room] = {}
    for tag, node in _entries_of(written.tree, "rooms"):
        given: dict[str, Any] = {}
        if trees.step(node, "layout") is None:
            type_name = trees.step(node, "type")
            found = room_types.get(type_name.value) if isinstance(type_name, trees.Text) else None
            # Rooms share their type's layout; one that failed has been complained about where it stands.
            given["layout"] = found or _NO_LAYOUT
        room = _valid(Room, node, ("rooms", tag), written, problems, memory, given)
        if room is not None:
            rooms[tag] = room
    requirements: dict[str, Requirement] = {}
    for tag, node in _entries_of(written.tree, "requirements"):
        requirement = _valid(Requirement, node, ("requirements", tag), written, problems, memory)
        if requirement is not None:
            requirements[tag] = requirement
    return {**tops, "room_types": room_types, "rooms": rooms, "requirements": requirements}


def _valid(
    model: type[_Model],
    node: trees.Node,
    path: trees.Path,
    written: ProjectTree,
    problems: list[Problem],
    memory: Memory,
    given: Mapping[str, Any] = _NOTHING,
) -> _Model | None:
    """Return a validated part of the project, or None after adding what is wrong with it."""
    try:
        return memory.valid(model, node, given)
    except ValidationError as error:
        problems += problems_of(error, model, node, written.unknown, field_name, path)
        return None


def _dangling(written: ProjectTree, plain: Mapping[str, Any], library: ResolvedLibrary) -> list[Problem]:
    """Return the names that name nothing."""
    found: dict[tuple[Place, str], Problem] = {}
    # Room types first: what is wrong with a type is not said again of each room that changes it.
    names = [
        *dangling(plain, library.codes, library.systems),
        *unknown_in_states(plain),
        *unknown_portable_sets(plain),
    ]
    for reference in sorted(names, key=lambda each: each.path[0] != "room_types"):
        if written.broken and not reference.known:
            # The name may stand in a file that could not be read.
            continue
        message = wanted_one_of(reference.found, reference.known, reference.wanted)
        is_key = reference.found == reference.path[-1]
        problem = _problem(written.tree, reference.path, message, key=is_key)
        if reference.path[0] == "rooms" and problem.place.file.startswith("room_types/"):
            changed = f"{problem.message}, as rooms/{reference.path[1]}.yaml changes it"
            problem = Problem(problem.place, problem.field, changed)
        found.setdefault((problem.place, reference.found), problem)
    return list(found.values())


_OF_ROOMS = tuple(
    f"wanted {wanted}"
    for wanted in (
        "the tag of a room",
        "the tag of a line of rooms.csv",
        "a room, ",
        "a room or ",
        "a destination or return of its rooms",
        "the storey on whose height the ground lies",
    )
)
"""How messages begin that may come of a line of rooms.csv that could not be read."""


def _entries_of(tree: trees.Mapping, name: str) -> Iterator[tuple[str, trees.Node]]:
    node = tree.get(name)
    if isinstance(node, trees.Mapping):
        for key, (_, inner) in node.entries.items():
            yield key, inner


def _problem(tree: trees.Mapping, path: trees.Path, message: str, *, key: bool) -> Problem:
    place = trees.place_of(tree, path, key=key)
    return Problem(place, field_name(path, place), message)
