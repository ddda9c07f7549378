"""Which cable is taken for a signal: the project's own choice, else the least-cost one that suits."""

from collections.abc import Mapping

from proposal.design.connections.jackets import UNKNOWN_CEILING, best_for_unknown_ceiling, lacking
from proposal.design.equipment.unit_costs import unit_cost
from proposal.model.equipment.materials import AudioCable, Cable, DataCable, FibreCable, LoudspeakerCable
from proposal.model.project import Project
from proposal.standards.loudspeaker_lines import CLASSES

FIBRES_OF_A_LINK = 2
"""One each way."""
CONDUCTORS_OF_A_LINE = 2
"""Out and back."""
CableEntry = DataCable | LoudspeakerCable | AudioCable | FibreCable


def cable_entries(project: Project) -> Mapping[str, CableEntry]:
    """Return every cable of the library by model code, whatever it carries."""
    library = project.library
    return {**library.cables, **library.loudspeaker_cables, **library.audio_cables, **library.fibre_cables}


def data_cable(project: Project, screened: bool, needs: tuple[str, ...] = ()) -> str:
    """Return the model of data cable for a device, empty where none suits.

    screened: whether the device asks for a screened cable.
    needs: what its jacket has to be good for.
    """
    if project.brief.rules.cabling.data_cable:
        return project.brief.rules.cabling.data_cable
    fitting = {code: cable for code, cable in project.library.cables.items() if suits(cable, screened, needs)}
    return _chosen(project, fitting, needs)


def suits(cable: DataCable, screened: bool, needs: tuple[str, ...] = ()) -> bool:
    """Return whether a cable may be used for links to devices.

    screened: whether a screen is asked for.
    needs: what its jacket has to be good for.
    """
    horizontal = cable.stranding == "solid" and cable.conductor == "copper" and _lies(cable, needs)
    return horizontal and (cable.screened or not screened)


def loudspeaker_cable(project: Project, needs: tuple[str, ...] = ()) -> str:
    """Return the model of cable for loudspeaker lines, empty where none suits.

    needs: what its jacket has to be good for.
    """
    return line_cable_of(project, needs, "", None)


def line_cable_of(project: Project, needs: tuple[str, ...], wiring_class: str, gauge_awg: int | None) -> str:
    """Return the model of cable for a stretch of a loudspeaker line, empty where none suits.

    needs: what its jacket has to be good for.
    wiring_class: of its amplifier's output, which it has to be marked for; empty where it is not known.
    gauge_awg: of its conductors; any where None.
    """
    fitting = {
        code: cable
        for code, cable in project.library.loudspeaker_cables.items()
        if cable.conductor == "copper"
        and cable.conductors >= CONDUCTORS_OF_A_LINE
        and gauge_awg in (None, cable.gauge)
        and marked_for(cable, wiring_class)
        and _lies(cable, needs)
    }
    return _chosen(project, fitting, needs)


def marked_for(cable: LoudspeakerCable, wiring_class: str) -> bool:
    """Return whether a cable is marked for a class of wiring, or for one that asks more.

    wiring_class: of an amplifier's output, empty where it is not known.
    """
    return not wiring_class or CLASSES.index(cable.wiring_class) >= CLASSES.index(wiring_class)


def audio_cable(project: Project, needs: tuple[str, ...] = ()) -> str:
    """Return the model of cable for analogue audio, empty where none suits.

    needs: what its jacket has to be good for.
    """
    fitting = {code: cable for code, cable in project.library.audio_cables.items() if _lies(cable, needs)}
    return _chosen(project, fitting, needs)


def fibre_cable(project: Project, fibre: str, needs: tuple[str, ...] = ()) -> str:
    """Return the model of fibre cable for a link between racks, empty where none suits.

    fibre: sort of fibre, such as OM4.
    needs: what its jacket has to be good for.
    """
    fitting = {
        code: cable
        for code, cable in project.library.fibre_cables.items()
        if cable.fibre == fibre and cable.fibres >= FIBRES_OF_A_LINK and _lies(cable, needs)
    }
    return _chosen(project, fitting, needs)


def _lies(cable: Cable, needs: tuple[str, ...]) -> bool:
    """Return whether a jacket is good for what is asked; indoors always for risers too."""
    outside = "wet" in needs or "outdoor" in needs
    return not lacking(cable.jacket, needs if outside else (*needs, "riser"))


def _chosen(project: Project, cables: Mapping[str, Cable], needs: tuple[str, ...]) -> str:
    """Return the least-cost cable, free of halogens where that is asked, best for a ceiling not described."""
    asked = project.brief.rules.cabling.halogen_free
    fitting = {code: cable for code, cable in cables.items() if cable.jacket.low_smoke or not asked}
    if UNKNOWN_CEILING in needs:
        fitting = best_for_unknown_ceiling(project, fitting)
    return min(((unit_cost(project, cable), code) for code, cable in fitting.items()), default=(None, ""))[1]
