"""The page for the client's network team."""

from collections.abc import Iterator, Mapping
from typing import ClassVar

from proposal.document.document import Document
from proposal.document.rows.client_steps import NETWORK_PARTY, YOUR_NETWORK_TEAM, ClientStepRow
from proposal.document.rows.network import (
    NetworkHostRow,
    NetworkModelRow,
    NetworkQuestionRow,
    NetworkUseRow,
    SwitchTrafficRow,
    VlanRow,
)
from proposal.document.rows.owner_equipment import OwnerEquipmentRow
from proposal.document.rows.switch_links import SwitchLinkRow
from proposal.document.rows.terms import DutyRow
from proposal.field_classes import dataclass
from proposal.pages import paths
from proposal.pages.client_answers import panels_wanted
from proposal.pages.drawing_pages import Drawing, figures_of
from proposal.pages.markdown import Html, join, text
from proposal.pages.page_context import PageContext
from proposal.pages.schedule_parts import SchedulePart, links_to_parts, network_parts
from proposal.pages.schedule_table import Field, fields_of, schedule
from proposal.quantities.formatting import count_of, listed

APART = (
    "The system has switches of its own and stands alone: no link of it leads to the owner's "
    "network. What the network team has to furnish or answer before the work is done is listed here."
)
JOINED = (
    "The system is joined to the owner's network. What it needs there, and what the network team provide by "
    "when, stands here."
)
FILES = (
    " The same tables are available as files, in the workbook and as CSV; there everything about a device "
    "stands in one line."
)
TOWARDS_NONE = (
    "Nothing passes to other networks while the system stands alone. If it were joined to one, this "
    "would have to be let through:"
)
TOWARDS_OTHERS = "Towards other networks only this is needed:"


@dataclass(frozen=True, slots=True, kw_only=True)
class NetworkPage:
    """VLANs, what has to be opened, devices with ports and addresses, and questions.

    joined: whether the system is joined to the owner's network, and what that asks.
    towards_others: what leads over to what has to be opened.
    panels: how many of those that mute are needed, and with what.
    needed: what the network team do, and by when.
    own: the devices that they furnish.  duties: all that they have to do with, by the letters of the parties.
    letters: leads to what these mean.
    needed, own, duties, questions, vlans, free_ports, traffic, links: None where there are none.
    security: what is encrypted, and what holds of passwords, updates and work from afar.
    diagrams: the sheets of the network.
    storeys: name of the storey, its devices' ports and addresses, and their audio.
    parts: of many devices, the way to the page of each storey and how many stand there.
    """

    template: ClassVar[str] = "network.md.jinja"
    joined: Html
    panels: Html | None
    needed: Html | None
    own: Html | None
    duties: Html | None
    letters: Html
    questions: Html | None
    towards_others: Html
    vlans: Html | None
    uses: Html
    free_ports: Html | None
    traffic: Html | None
    links: Html | None
    models: Html
    security: tuple[Html, ...]
    diagrams: tuple[Html, ...]
    storeys: tuple[tuple[Html, Html, Html], ...]
    parts: tuple[Html, ...]


def network_page(here: PageContext, drawings: Mapping[str, Drawing]) -> NetworkPage:
    """Return the page for the client's network team.

    drawings: every drawing of the edition by sheet number.
    """
    document = here.document
    parts = network_parts(document)
    links = links_to_parts(parts, paths.NETWORK, here.to, lambda rows: count_of(len(rows), "device"))
    joined = is_joined_to_the_owners(document)
    return NetworkPage(
        joined=text(f"{JOINED if joined else APART}{'' if here.edition.reader == 'client' else FILES}"),
        towards_others=text(TOWARDS_OTHERS if joined else TOWARDS_NONE),
        panels=_panels(here),
        needed=_needed(here),
        own=_own(here),
        duties=_duties(here),
        letters=here.to(f"{paths.RESPONSIBILITIES}#letters", "What the letters and headings mean"),
        questions=_questions(here) if document.network_questions else None,
        vlans=_vlans(here) if document.vlans else None,
        uses=_uses(here),
        free_ports=_free_ports(here) if document.switch_traffic else None,
        traffic=_traffic(here) if document.switch_traffic else None,
        links=_links(here) if document.switch_links else None,
        models=_models(here),
        security=tuple(_security(here)),
        diagrams=figures_of(here, drawings, "network"),
        storeys=() if links else tuple(_storey(here, part) for part in parts),
        parts=links,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class NetworkPartPage:
    """The devices of one storey on the network, or a numbered part of them."""

    template: ClassVar[str] = "network-part.md.jinja"
    title: Html
    overview: Html
    hosts: Html
    audio: Html


def network_part_page(here: PageContext, part: SchedulePart[NetworkHostRow]) -> NetworkPartPage:
    """Return the page of a part of the devices on the network.

    part: the devices that stand on it.
    """
    title, hosts, audio = _storey(here, part)
    return NetworkPartPage(
        title=title, overview=here.to(paths.NETWORK, "The network as a whole"), hosts=hosts, audio=audio
    )


def is_joined_to_the_owners(document: Document) -> bool:
    """Return whether a link leads to the owner's network, or a device is on a switch that is not ours.

    document: as its reader may see it.
    """
    if any(not row.to_switch for row in document.switch_links):
        return True
    ours = {row.tag for row in document.devices if row.model}
    ports = {row.switch_port for row in document.network_hosts if row.switch_port}
    return any(port.rpartition("/")[0] not in ours for port in ports)


def _storey(here: PageContext, part: SchedulePart[NetworkHostRow]) -> tuple[Html, Html, Html]:
    return text(part.title), _hosts(here, part), _audio(here, part)


def _hosts(here: PageContext, part: SchedulePart[NetworkHostRow]) -> Html:
    fields: list[Field[NetworkHostRow]] = [
        *fields_of(
            here, NetworkHostRow, "device", "kind", "model", "room", "host", "addresses", "addressing"
        ),
        *fields_of(here, NetworkHostRow, "mac_address", "vlan", "switch_port", "speed_bit_s", "protocols"),
    ]
    mark = here.mark("network_hosts")
    return schedule(f"Ports and addresses, {part.title}", fields, part.rows, mark=mark)


def _audio(here: PageContext, part: SchedulePart[NetworkHostRow]) -> Html:
    fields: list[Field[NetworkHostRow]] = [
        *fields_of(here, NetworkHostRow, "device", "sent_groups", "sent_bit_s", "taken_groups"),
        *fields_of(here, NetworkHostRow, "taken_bit_s", "control_bit_s"),
    ]
    return schedule(f"What each device sends and takes, {part.title}", fields, part.rows)


def _vlans(here: PageContext) -> Html:
    fields: list[Field[VlanRow]] = [
        *fields_of(here, VlanRow, "name", "vlan", "purpose", "network", "gateway", "addressing"),
        *fields_of(
            here, VlanRow, "addresses_used", "addresses_kept", "addresses_free", "querier", "clock_leader"
        ),
        *fields_of(here, VlanRow, "clock_next", "groups", "audio_bit_s"),
    ]
    return schedule("VLANs", fields, here.document.vlans, mark=here.mark("vlans"))


def _uses(here: PageContext) -> Html:
    fields: list[Field[NetworkUseRow]] = [
        *fields_of(here, NetworkUseRow, "use", "protocol", "way", "group", "dscp", "opening", "devices"),
        *fields_of(here, NetworkUseRow, "kinds"),
    ]
    return schedule(
        "Uses of the network, and what has to be opened",
        fields,
        here.document.network_uses,
        mark=here.mark("network_uses"),
        row_heads=2,
    )


def _traffic(here: PageContext) -> Html:
    fields: list[Field[SwitchTrafficRow]] = [
        *fields_of(here, SwitchTrafficRow, "tag", "verdict", "passing_bit_s", "rate_bit_s", "groups"),
        *fields_of(here, SwitchTrafficRow, "most_groups", "vlans", "most_vlans", "queues", "clock"),
        *fields_of(here, SwitchTrafficRow, "fullest_port", "fullest_bit_s", "fullest_rate_bit_s"),
    ]
    return schedule("Traffic of each switch, and what it supports", fields, here.document.switch_traffic)


def _free_ports(here: PageContext) -> Html:
    fields: list[Field[SwitchTrafficRow]] = [
        *fields_of(here, SwitchTrafficRow, "tag", "ports", "free", "for_panels", "stays_free"),
    ]
    return schedule("Ports of each switch, and how many stay free", fields, here.document.switch_traffic)


def _links(here: PageContext) -> Html:
    fields: list[Field[SwitchLinkRow]] = [
        *fields_of(here, SwitchLinkRow, "identity", "verdict", "from_switch", "from_port", "to_switch"),
        *fields_of(here, SwitchLinkRow, "to_port", "medium", "speed_bit_s", "inwards_bit_s"),
        *fields_of(here, SwitchLinkRow, "outwards_bit_s", "streams_in", "audio_in_bit_s", "streams_out"),
        *fields_of(here, SwitchLinkRow, "audio_out_bit_s", "control_bit_s"),
    ]
    return schedule("Links between switches", fields, here.document.switch_links)


def _models(here: PageContext) -> Html:
    fields: list[Field[NetworkModelRow]] = [
        *fields_of(here, NetworkModelRow, "model", "kind", "devices", "found_by", "updated_by"),
        *fields_of(here, NetworkModelRow, "time_needed", "names_needed", "encryption_on_air"),
        *fields_of(here, NetworkModelRow, "encryption", "certificates"),
    ]
    return schedule(
        "How each model is found and kept",
        fields,
        here.document.network_models,
        mark=here.mark("network_models"),
    )


def _security(here: PageContext) -> Iterator[Html]:
    """Yield what is encrypted and what is not, then what holds of passwords, updates and work from afar."""
    rows = here.document.network_models
    for said, of in (("on the air", "encryption_on_air"), ("on the network", "encryption")):
        models: dict[str, list[str]] = {}
        for row in rows:
            models.setdefault(getattr(row, of), []).append(row.model)
        told = [
            what if len([one for one in models if one]) == 1 else f"{what} ({listed(names)})"
            for what, names in models.items()
            if what
        ]
        if told:
            yield text(f"Encryption {said}: {'; '.join(told)}.")
    yield from (text(line) for line in here.document.security)


def _panels(here: PageContext) -> Html | None:
    """Return how many panels that mute are needed, with the way to their table; None where none is."""
    said = panels_wanted(here)
    if not said:
        return None
    return join((text(said), here.to(f"{paths.RESPONSIBILITIES}#mutes", "Table of mutes")), " ")


def _needed(here: PageContext) -> Html | None:
    """Return what is needed of the network team, with its days."""
    steps = here.document.client_steps
    rows = [row for row in steps if NETWORK_PARTY in row.parties or row.who == YOUR_NETWORK_TEAM]
    fields = fields_of(here, ClientStepRow, "what", "by")
    return schedule("What is needed, and by when", fields, rows) if rows else None


def _own(here: PageContext) -> Html | None:
    """Return what the network team furnish of the owner's equipment; None where they furnish nothing."""
    rows = [row for row in here.document.owner_equipment if NETWORK_PARTY in row.parties]
    fields: list[Field[OwnerEquipmentRow]] = [
        *fields_of(here, OwnerEquipmentRow, "tag", "name", "room", "location", "in_place_by"),
        *fields_of(here, OwnerEquipmentRow, "network_ports", "audio_ports", "rack_units", "power_w"),
    ]
    return schedule("Devices that the network team furnish", fields, rows) if rows else None


def _duties(here: PageContext) -> Html | None:
    """Return every row of who does what in which the network team have a duty; None where there is none."""
    rows = [
        row
        for row in here.document.responsibilities
        if any(NETWORK_PARTY in who.split(", ") for _, who in row.duties)
    ]
    fields: list[Field[DutyRow]] = [
        *fields_of(here, DutyRow, "about", "furnish", "before", "ready_by", "install"),
        *fields_of(here, DutyRow, "terminate", "configure", "test", "maintain"),
    ]
    return schedule("Duties of the network team", fields, rows) if rows else None


def _questions(here: PageContext) -> Html:
    fields: list[Field[NetworkQuestionRow]] = [
        *fields_of(here, NetworkQuestionRow, "asked", "question", "until_then"),
    ]
    return schedule(
        "Questions about the network",
        fields,
        here.document.network_questions,
        mark=here.mark("network_questions"),
        row_heads=2,
    )
