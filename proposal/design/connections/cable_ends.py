"""What the ends of a cable are made off with: outlets and plugs of data cables, connectors of audio cables.

Each end goes by the connector of the port it goes into. A data cable that ends in a rack ends in a panel,
which brings its jacks; one that ends in a device takes a plug there. Conductors that go into terminals of a
device need no connector of their own.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction

from proposal.design.connections.cable import Cable
from proposal.design.connections.cable_choice import FIBRES_OF_A_LINK, CableEntry, cable_entries
from proposal.design.connections.patch_cords import CATEGORIES
from proposal.design.equipment.placed_devices import Placed
from proposal.design.equipment.unit_costs import unit_cost
from proposal.field_classes import dataclass
from proposal.model.equipment.entry import Device, Entry
from proposal.model.equipment.materials import AudioCable, Connector, DataCable, FibreCable, LoudspeakerCable
from proposal.model.project import Project

PLUG, JACK, FIBRE_PLUG = "8P8C plug", "8P8C jack", "LC fibre plug"
CopperCable = DataCable | LoudspeakerCable | AudioCable
_SIGNALS = {"analogue": "analogue audio", "loudspeaker line": "loudspeaker"}
OUTLET_PLACES: Mapping[str, tuple[str, ...]] = {
    "table": ("table", "floor box"),
    "furniture": ("table", "wall", "floor box"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CableEnd:
    """One end of a cable.

    tag, port: device or rack it ends in, and the port there, empty where it is not known.
    wanted: what makes it off, in words, such as `outlet` or the form of a connector.
    models: model codes of what is bought for it; none where the library has nothing that suits.
    bought: whether anything is to be bought for it.
    """

    tag: str
    port: str
    wanted: str
    models: tuple[str, ...] = ()
    bought: bool = True


class CableEnds:
    """The ends of the cables of a design."""

    def __init__(self, project: Project, devices: Sequence[Placed], entries: Mapping[str, Entry]) -> None:
        """Keep where devices stand.

        devices: of the design; entries: of the library by tag of the device.
        """
        self._project = project
        self._devices = {device.tag: device for device in devices}
        self._entries = entries
        self._cables = cable_entries(project)

    def of(self, cable: Cable) -> tuple[CableEnd, ...]:
        """Return both ends of a cable; none of one that no model of the library suits."""
        entry = self._cables.get(cable.model)
        if entry is None:
            return ()
        if cable.start_rack:
            places = ((cable.start_rack, cable.start_panel), (cable.end, cable.end_port))
            return tuple(self._at_panel(entry, tag, port) for tag, port in places)
        if isinstance(entry, FibreCable):
            return ()
        if isinstance(entry, DataCable):
            return self._data_start(cable, entry), self._data_end(cable, entry)
        return (
            self._audio(cable, entry, cable.start, cable.start_port),
            self._audio(cable, entry, cable.end, cable.end_port),
        )

    def _at_panel(self, entry: CableEntry, tag: str, port: str) -> CableEnd:
        """Return an end of a cable from rack to rack: a copper panel has jacks, a fibre takes a plug."""
        if not isinstance(entry, FibreCable):
            return CableEnd(tag=tag, port=port, wanted="panel", bought=False)
        fitting = {
            code: one
            for code, one in self._project.library.connectors.items()
            if one.signal == "fibre" and one.form == FIBRE_PLUG
        }
        model = _least_cost(self._project, fitting)
        models = (model,) * FIBRES_OF_A_LINK if model else ()
        return CableEnd(tag=tag, port=port, wanted=FIBRE_PLUG, models=models)

    def _data_start(self, cable: Cable, entry: DataCable) -> CableEnd:
        if cable.start_connector == PLUG:
            return self._made_off(cable.start, cable.start_port, entry, "network", PLUG)
        device = self._devices.get(cable.start)
        location = outlet_location(device) if device else ""
        places = OUTLET_PLACES.get(location, (location,))
        fitting = {
            code: one
            for code, one in self._project.library.outlets.items()
            if one.jacks == 1 and suits(one.category, one.screened, entry) and set(places) & set(one.place)
        }
        model = _least_cost(self._project, fitting)
        jacks = () if not model or fitting[model].jacks_included else self._connector(entry, "network", JACK)
        models = () if not model else (model, *jacks)
        return CableEnd(tag=cable.start, port=cable.start_port, wanted=f"outlet ({location})", models=models)

    def _data_end(self, cable: Cable, entry: DataCable) -> CableEnd:
        device = self._devices.get(cable.end)
        if device is None or device.kind == "rack":
            return CableEnd(tag=cable.end, port=cable.end_port, wanted="panel", bought=False)
        return self._made_off(cable.end, cable.end_port, entry, "network", PLUG)

    def _audio(self, cable: Cable, entry: CopperCable, tag: str, port: str) -> CableEnd:
        if tag not in self._devices or self._devices[tag].kind == "rack":
            # It goes on to a device in the rack, whose port is known by tag and name.
            named, _, name = port.rpartition("/")
            tag, port = (named, name) if named else (tag, port)
        device = self._entries.get(tag)
        letters = port.rstrip("0123456789")
        sort = device.ports.get(letters) if isinstance(device, Device) else None
        if sort is not None and sort.takes_conductors:
            return CableEnd(tag=tag, port=port, wanted=sort.connector, bought=False)
        return self._made_off(tag, port, entry, _SIGNALS[cable.signal], sort.connector if sort else "")

    def _made_off(self, tag: str, port: str, entry: CopperCable, signal: str, form: str) -> CableEnd:
        wanted = form or f"connector for {signal}"
        return CableEnd(tag=tag, port=port, wanted=wanted, models=self._connector(entry, signal, form))

    def _connector(self, entry: CopperCable, signal: str, form: str) -> tuple[str, ...]:
        """Return the least-cost connector that takes a cable; of any form where none is named."""
        fitting = {
            code: one
            for code, one in self._project.library.connectors.items()
            if one.signal == signal and form in ("", one.form) and _takes(one, entry)
        }
        model = _least_cost(self._project, fitting)
        return (model,) if model else ()


def outlet_location(device: Placed) -> str:
    """Return where the outlet of a device is: of what hangs under a table, at the table."""
    return device.location.removeprefix("under ")


def label_of(project: Project, cable: CableEntry) -> str:
    """Return the least-cost label that goes round a cable, empty where the library has none."""
    fitting = {
        code: one
        for code, one in project.library.labels.items()
        if one.marks == "cable"
        and (one.narrowest_cable or 0.0) <= cable.outside_diameter <= (one.widest_cable or 1.0)
    }
    return _least_cost(project, fitting)


def suits(category: str | None, screened: bool, cable: DataCable) -> bool:
    """Say whether an outlet, a panel or a connector is as good as the data cable that ends in it.

    category, screened: of the outlet, panel or connector.
    """
    good = category in CATEGORIES and CATEGORIES.index(category) >= CATEGORIES.index(cable.category)
    return good and (screened or not cable.screened)


def _takes(connector: Connector, cable: CopperCable) -> bool:
    thickest, thinnest = connector.thickest_gauge, connector.thinnest_gauge
    # A thicker conductor has a smaller number.
    gauge = (thickest is None or cable.gauge >= thickest) and (thinnest is None or cable.gauge <= thinnest)
    wide = connector.widest_cable is None or cable.outside_diameter <= connector.widest_cable
    data = not isinstance(cable, DataCable) or suits(connector.category, connector.screened, cable)
    return gauge and wide and data


def _least_cost(project: Project, fitting: Mapping[str, Entry]) -> str:
    """Return the model whose piece costs least, empty where none is at hand."""
    costs = ((Fraction(unit_cost(project, one)) / one.pack_quantity, code) for code, one in fitting.items())
    return min(costs, default=(None, ""))[1]
