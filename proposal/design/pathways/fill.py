"""How full every pathway is: conduits and sleeves by trade size, trays and hooks by area."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from proposal.design.equipment.unit_costs import unit_cost
from proposal.design.numbers.numbering import natural
from proposal.design.pathways.bundles import Bundle
from proposal.design.pathways.cables_in_pathways import CableInPathway
from proposal.design.pathways.pathway_graph import pathway_length_m
from proposal.field_classes import dataclass
from proposal.model.equipment.materials import Support
from proposal.model.pathways.pathways import ROUND_KINDS, Pathway
from proposal.model.project import Project
from proposal.standards import cable_pulling, nfpa70
from proposal.standards.nfpa70 import TUBING, Tubing
from proposal.standards.sources import COMMON_PRACTICE
from proposal.standards.working import Limit, Working, working

LOUDSPEAKER_LINE = "loudspeaker line"


@dataclass(frozen=True, slots=True, kw_only=True)
class PathwayDesign:
    """One pathway with what lies in it.

    cables: in order of identities.  owner_cables_m: diameters of those of the owner that lie in it, m.
    size: trade size, or model of tray or hooks; empty where none is known.
    width_m, depth_m: of a tray.
    chosen: whether the program chose the size.
    tubing: of a conduit or sleeve, None where no size was chosen because nothing lies in it.
    area_m2: area that cables may share, None where none is known.
    fill: share that is filled, against its limit; None where nothing lies in it or no area is known.
    jam: ratio that tells whether three cables can jam; None unless there are three.
    spare: further cables of the widest that would keep within the limit; None where that is not known.
    radius_m: radius of its bends; None without bends or where it is not known.
    bundle: how its cables are tied, and how warm power makes them; None where nothing lies in it.
    hung_n, carried_n: weight on one hook, or on a metre of tray, and what it can carry, N; None for others.
    """

    tag: str
    kind: str
    start: str
    end: str
    space: str
    length_m: float
    cables: tuple[CableInPathway, ...]
    owner_cables_m: tuple[float, ...] = ()
    size: str = ""
    width_m: float | None = None
    depth_m: float | None = None
    chosen: bool = False
    tubing: Tubing | None = None
    area_m2: float | None = None
    fill: Working | None = None
    jam: Working | None = None
    spare: int | None = None
    radius_m: float | None = None
    bundle: Bundle | None = None
    hung_n: float | None = None
    carried_n: float | None = None

    @property
    def diameters_m(self) -> tuple[float, ...]:
        """Return the outside diameters of all cables in it, the owner's first, m."""
        return (*self.owner_cables_m, *(cable.diameter_m for cable in self.cables))

    @property
    def powered(self) -> int:
        """Return how many of its cables carry power over Ethernet."""
        return sum(cable.source_w > 0 for cable in self.cables)

    @property
    def jams(self) -> bool:
        """Return whether its three cables can jam."""
        return self.jam is not None and jams(self.jam.result)

    @property
    def checks(self) -> tuple[Working, ...]:
        """Return its workings."""
        rise = self.bundle.rise if self.bundle else None
        return tuple(one for one in (self.fill, self.jam, rise) if one is not None)

    @property
    def holds(self) -> bool:
        """Return whether its cables keep within the limits of fill and warming, and hooks carry them."""
        filled = self.fill is None or self.fill.verdict != "fails"
        cool = self.bundle is None or self.bundle.holds
        return filled and cool and (self.hung_n or 0.0) <= (self.carried_n or float("inf"))


def pathway_designs(
    project: Project,
    laid: Mapping[str, Sequence[CableInPathway]],
    bundles: Mapping[str, Bundle] = MappingProxyType({}),
) -> tuple[PathwayDesign, ...]:
    """Return every pathway with what lies in it, in order of tags.

    laid: the cables in each pathway, by tag.
    bundles: how they are tied and warmed, by tag.
    """
    return tuple(
        replace(
            _designed(
                project, tag, tuple(sorted(laid.get(tag, ()), key=lambda cable: natural(cable.identity)))
            ),
            bundle=bundles.get(tag),
        )
        for tag in sorted(project.building.pathways, key=natural)
    )


def _designed(project: Project, tag: str, cables: tuple[CableInPathway, ...]) -> PathwayDesign:
    pathway = project.building.pathways[tag]
    bare = PathwayDesign(
        tag=tag,
        kind=pathway.kind,
        start=pathway.between[0],
        end=pathway.between[1],
        space=pathway.space,
        length_m=pathway_length_m(project, tag),
        cables=cables,
        owner_cables_m=pathway.owner_cables,
    )
    if pathway.kind in ROUND_KINDS:
        return _tubing(project, pathway, bare)
    if pathway.kind == "tray" and pathway.width is not None and pathway.depth is not None:
        made = _divided_tray if pathway.divided else _tray
        return _of_model(project, made(project, bare, pathway.width, pathway.depth))
    if pathway.kind == "hooks":
        return _hooks(project, pathway, bare)
    return bare


def jams(ratio: float) -> bool:
    """Return whether three cables in a conduit of this ratio to them can jam."""
    return nfpa70.JAM_RATIOS[0] <= ratio <= nfpa70.JAM_RATIOS[1]


def chosen_tubing(
    diameters_m: Sequence[float], sizes: Sequence[Tubing] = tuple(TUBING.values())
) -> Tubing | None:
    """Return the smallest size that cables may fill, one in which three cannot jam if there is one.

    diameters_m: outside diameter of each cable, m; at least one.  sizes: the smallest first.
    None where no size is large enough.
    """
    least_m2 = nfpa70.least_conduit_area_m2(diameters_m, nfpa70.permitted_fill(len(diameters_m)))
    fitting = [tubing for tubing in sizes if tubing.area_m2 >= least_m2]
    ratios = [_ratio(tubing, diameters_m) for tubing in fitting]
    free = [tubing for tubing, ratio in zip(fitting, ratios, strict=True) if ratio is None or not jams(ratio)]
    return next(iter((*free, *fitting)), None)


def _ratio(tubing: Tubing, diameters_m: Sequence[float]) -> float | None:
    """Return the jam ratio of three cables by their mean diameter, None for any other number."""
    if len(diameters_m) != nfpa70.JAMMING_CABLES:
        return None
    return nfpa70.jam_ratio(tubing.internal_diameter_m, sum(diameters_m) / nfpa70.JAMMING_CABLES)


def _tubing(project: Project, pathway: Pathway, bare: PathwayDesign) -> PathwayDesign:
    """Return a conduit or sleeve; where no trade size is large enough, the largest is taken and overfull."""
    diameters_m = bare.diameters_m
    chosen = pathway.size == "choose"
    tubing: Tubing | None
    if not chosen:
        tubing = TUBING[pathway.size]
    elif bare.cables:
        tubing = chosen_tubing(diameters_m) or list(TUBING.values())[-1]
    else:
        tubing = None
    fill = jam = spare = None
    if tubing is not None and bare.cables:
        allowed = Limit(nfpa70.permitted_fill(len(diameters_m)), "≤", nfpa70.FILL_TABLE)
        fill = working(
            nfpa70.conduit_fill,
            title=f"Fill of {bare.tag}, trade size {tubing.trade_size}",
            limit=allowed,
            note="For communications cable the code's fill is kept as a design limit.",
            diameters_m=diameters_m,
            area_m2=tubing.area_m2,
        )
        if len(diameters_m) == nfpa70.JAMMING_CABLES:
            jam = working(
                nfpa70.jam_ratio,
                title=f"Jam ratio of the three cables in {bare.tag}",
                note="Between 2.8 and 3.2 three cables can jam; the mean of their diameters is taken.",
                internal_diameter_m=tubing.internal_diameter_m,
                cable_diameter_m=sum(diameters_m) / nfpa70.JAMMING_CABLES,
            )
    if tubing is not None:
        spare = _spare_in_tubing(tubing, diameters_m)
    return replace(
        bare,
        size=tubing.trade_size if tubing else "",
        chosen=chosen,
        tubing=tubing,
        area_m2=tubing.area_m2 if tubing else None,
        fill=fill,
        jam=jam,
        spare=spare,
        radius_m=_radius_m(project, pathway, tubing) if pathway.bends else None,
    )


def _spare_in_tubing(tubing: Tubing, diameters_m: Sequence[float]) -> int | None:
    """Return how many more of the widest cable keep within the fill for that number of cables."""
    if not diameters_m:
        return None
    widest = max(diameters_m)
    more = 0
    # The permitted share falls from one cable to two and rises again: what counts is where it ends for good.
    most = int(tubing.area_m2 / nfpa70.conduit_area_m2(widest)) + 2
    for n in range(1, most):
        together = (*diameters_m, *(widest for _ in range(n)))
        if nfpa70.conduit_fill(together, tubing.area_m2) <= nfpa70.permitted_fill(len(together)) + 1e-12:
            more = n
    return more


def _radius_m(project: Project, pathway: Pathway, tubing: Tubing | None) -> float | None:
    """Return the radius of a conduit's bends: as written, else of the factory elbow of its trade size."""
    if pathway.bend_radius is not None:
        return pathway.bend_radius
    elbows = [
        conduit.elbow_radius
        for conduit in project.library.conduits.values()
        if tubing is not None and conduit.trade_size == tubing.trade_size
    ]
    return min(elbows, default=None)


def _tray(project: Project, bare: PathwayDesign, width_m: float, depth_m: float) -> PathwayDesign:
    allowed = project.brief.rules.pathways.tray_fill
    diameters_m = bare.diameters_m
    fill = (
        working(
            nfpa70.tray_fill,
            title=f"Fill of tray {bare.tag}",
            limit=Limit(allowed, "≤", COMMON_PRACTICE),
            uses=("project.rules.pathways.tray_fill",),
            diameters_m=diameters_m,
            width_m=width_m,
            depth_m=depth_m,
        )
        if bare.cables
        else None
    )
    return replace(
        bare,
        width_m=width_m,
        depth_m=depth_m,
        area_m2=width_m * depth_m,
        fill=fill,
        spare=_spare_by_area(width_m * depth_m * allowed, diameters_m),
    )


def _of_model(project: Project, bare: PathwayDesign) -> PathwayDesign:
    """Return a tray with the least-cost model that is as large and carries its cables.

    Where none carries them, it is the strongest one. What is there already has no model.
    """
    width_m, depth_m = bare.width_m or 0.0, bare.depth_m or 0.0
    large = [
        (code, tray)
        for code, tray in sorted(project.library.trays.items())
        if tray.width >= width_m - 1e-9 and tray.height >= depth_m - 1e-9
    ]
    if project.building.pathways[bare.tag].existing or not large:
        return bare
    hung_n = sum(cable.weight_n_per_m for cable in bare.cables)
    strong = [(code, tray) for code, tray in large if hung_n <= tray.load_per_length]
    code, tray = min(
        strong or [max(large, key=lambda one: one[1].load_per_length)],
        key=lambda one: (unit_cost(project, one[1]), one[0]),
    )
    return replace(bare, size=code, chosen=True, hung_n=hung_n, carried_n=tray.load_per_length)


def _divided_tray(project: Project, bare: PathwayDesign, width_m: float, depth_m: float) -> PathwayDesign:
    """Return a tray with a divider: two ways of half the width, of which the fuller is told.

    On which side cables of the owner lie is not known: they count on both.
    """
    sides = [
        _tray(project, replace(bare, cables=side), width_m / 2, depth_m)
        for side in (
            tuple(one for one in bare.cables if one.signal == LOUDSPEAKER_LINE),
            tuple(one for one in bare.cables if one.signal != LOUDSPEAKER_LINE),
        )
    ]
    fuller = max(sides, key=lambda side: side.fill.result if side.fill else 0.0)
    return replace(fuller, cables=bare.cables, width_m=width_m, area_m2=width_m * depth_m)


def _spare_by_area(usable_m2: float, diameters_m: Sequence[float]) -> int | None:
    if not diameters_m:
        return None
    left_m2 = usable_m2 - sum(nfpa70.conduit_area_m2(diameter_m) for diameter_m in diameters_m)
    return max(0, int(left_m2 / nfpa70.conduit_area_m2(max(diameters_m)) + 1e-9))


def _hooks(project: Project, pathway: Pathway, bare: PathwayDesign) -> PathwayDesign:
    """Return hooks: those written, else the least-cost ones that hold and carry the cables."""
    allowed = project.brief.rules.pathways.tray_fill
    diameters_m = bare.diameters_m
    model = pathway.support or _chosen_support(project, pathway, bare.cables, allowed)
    support = project.library.supports.get(model)
    usable = support is not None and support.area > 0
    fill = (
        working(
            nfpa70.hook_fill,
            title=f"Fill of hooks {bare.tag}",
            limit=Limit(allowed, "≤", COMMON_PRACTICE),
            uses=("project.rules.pathways.tray_fill",),
            diameters_m=diameters_m,
            area_m2=support.area,
        )
        if support is not None and usable and bare.cables
        else None
    )
    return replace(
        bare,
        size=model,
        chosen=not pathway.support,
        area_m2=support.area if support is not None and usable else None,
        fill=fill,
        spare=_spare_by_area(support.area * allowed, diameters_m) if support is not None and usable else None,
        hung_n=_hung_n(support, bare.cables) if support is not None else None,
        carried_n=support.load * cable_pulling.GRAVITY_M_S2 if support is not None else None,
    )


def _chosen_support(
    project: Project, pathway: Pathway, cables: Sequence[CableInPathway], allowed: float
) -> str:
    """Return the least-cost hook that suits; where none does, the largest."""
    suiting = fitting_supports(project, pathway, cables, allowed)
    if suiting:
        return suiting[0]
    hooks = _hanging(project, pathway)
    return max(((support.area, code) for code, support in hooks.items()), default=(0.0, ""))[1]


def fitting_supports(
    project: Project, pathway: Pathway, cables: Sequence[CableInPathway], allowed: float
) -> list[str]:
    """Return the models of hooks that hold cables along a pathway, the least-cost one first.

    pathway: whose space they hang in.
    cables: what they hold.
    allowed: share of a hook that cables may fill.
    """
    filled_m2 = sum(nfpa70.conduit_area_m2(cable.diameter_m) for cable in cables)
    fitting = [
        (unit_cost(project, support), support.area, code)
        for code, support in _hanging(project, pathway).items()
        if filled_m2 <= support.area * allowed + 1e-12
        and _hung_n(support, cables) <= support.load * cable_pulling.GRAVITY_M_S2
    ]
    return [code for _, _, code in sorted(fitting)]


def _hanging(project: Project, pathway: Pathway) -> dict[str, Support]:
    """Return the hooks and straps of the library that may hang along a pathway, by model."""
    space = project.building.spaces.get(pathway.space)
    plenum = space is not None and space.plenum
    return {
        code: support
        for code, support in sorted(project.library.supports.items())
        if support.form in ("hook", "strap") and support.area > 0 and (support.plenum_rated or not plenum)
    }


def _hung_n(support: Support, cables: Sequence[CableInPathway]) -> float:
    return sum(cable.weight_n_per_m for cable in cables) * support.spacing
