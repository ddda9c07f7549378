"""The document of a computed project: rows made from design, estimate and findings."""

import datetime
from collections.abc import Collection, Sequence, Set

from proposal import __version__
from proposal.design.mute_panels import panel_ways
from proposal.design.sound.muting import mute_points
from proposal.design.standing_conditions import facts
from proposal.document.document import Document
from proposal.document.figures import settled
from proposal.document.making.building import building_parts
from proposal.document.making.by_name import ByName
from proposal.document.making.composed_texts import words_of
from proposal.document.making.contained_sound import contained_sound_rows
from proposal.document.making.data_sources import client_knowledge_rows, data_source_rows
from proposal.document.making.disclosure import NOTHING_DISCLOSED, DisclosureParts, disclosure_parts
from proposal.document.making.findings import (
    Numbers,
    assumption_rows,
    finding_count,
    finding_rows,
    question_rows,
    working_rows,
)
from proposal.document.making.labour import labour_parts
from proposal.document.making.latency import latency_parts
from proposal.document.making.level_map import level_map_row
from proposal.document.making.loudspeaker_lines import line_parts
from proposal.document.making.mains import mains_parts
from proposal.document.making.mute_panels import panel_parts
from proposal.document.making.network import network_parts
from proposal.document.making.owner_equipment import (
    brought_by_nobody,
    control_processors,
    owner_equipment_parts,
)
from proposal.document.making.parties import present
from proposal.document.making.pathways import pathway_parts
from proposal.document.making.plain_warnings import plain_warnings
from proposal.document.making.portable_sets import portable_parts
from proposal.document.making.price import price_parts
from proposal.document.making.programme import programme_parts
from proposal.document.making.prose_values import with_values
from proposal.document.making.radio import radio_parts
from proposal.document.making.requirements import requirement_parts
from proposal.document.making.room_places import place_parts
from proposal.document.making.rooms import room_sheet
from proposal.document.making.scope_and_exclusions import standing_parts
from proposal.document.making.sound import channel_parts, meeting_days, mute_rows
from proposal.document.making.standby import standby_parts
from proposal.document.making.states import joined_sound_rows, state_rows
from proposal.document.making.supply_days import SupplyDays
from proposal.document.making.takeoff import purchase_rows, reel_order_rows, takeoff_rows
from proposal.document.making.wall_sleeves import with_wall_conduits, with_wall_sleeves
from proposal.document.making.ways_of_sound import ways_of_sound
from proposal.document.readers import READERS, Reader
from proposal.document.rows.alternates import AlternateRow
from proposal.document.rows.client_steps import furnishing
from proposal.document.rows.sheets import SheetRow
from proposal.document.rows.terms import OWN_EQUIPMENT, Caution, Cover, Party, RevisionRow
from proposal.document.schedule import CHECKERS, HOUSE, NOT_CLIENT
from proposal.estimate.drawing_list import Sheet, all_sheets
from proposal.model.alternate import Alternate
from proposal.model.project import Party as WrittenParty
from proposal.model.project import Project, Revision
from proposal.model.wording.placeholders import PRICE_WORDING
from proposal.model.wording.wording import StandingCaution
from proposal.pipeline import Computed

_ALTERNATE = ByName(AlternateRow, Alternate)
_PARTY = ByName(Party, WrittenParty)
# Whether its record is kept is told where records are read.
_REVISION = ByName(RevisionRow, Revision)
_CAUTION = ByName(Caution, StandingCaution)


def document_of(
    computed: Computed, readers: Collection[Reader] = READERS, disclosed: DisclosureParts | None = None
) -> Document:
    """Return the document of a computed project, before any edition is made, its figures settled.

    readers: whose editions are made of it. What takes long and none of them may see stands at its default.
    disclosed: what a client can work out, where that is known already.
    """
    rows = with_wall_sleeves(computed.project, _rows_of(computed, frozenset(readers), disclosed))
    rows = with_wall_conduits(computed.project, rows)
    return settled(with_values(rows))


def _rows_of(computed: Computed, readers: Set[Reader], disclosed: DisclosureParts | None) -> Document:
    project, design = computed.project, computed.design
    numbers = Numbers.of(project)
    workings = working_rows(design, numbers) if readers & CHECKERS else ()
    if disclosed is None:
        disclosed = disclosure_parts(computed) if readers & HOUSE else NOTHING_DISCLOSED
    sheets, takeoff = all_sheets(computed), takeoff_rows(computed)
    days = SupplyDays(computed, takeoff)
    standing = standing_parts(design, computed.price.whole.price)
    panels = panel_ways(design)
    return Document(
        program_version=__version__,
        cover=_cover(project),
        included_alternates=tuple(
            alternate_row(key, project.alternates[key]) for key in project.brief.accepted_alternates
        ),
        words=words_of(project).table,
        # What is said of the price is read by those who may read the price.
        wording={name: words for name, words in sorted(project.wording.items()) if name != PRICE_WORDING},
        price_wording=project.wording.get(PRICE_WORDING, ""),
        room_sheets=tuple(
            room_sheet(
                project,
                kind,
                design.flows[kind.key],
                next(room for room in design.rooms if room.tag == kind.rooms[0]),
                design.room_switch_loads.get(kind.rooms[0]),
            ).model_copy(
                update={
                    **meeting_days(design.days.get(kind.key, ())),
                    **place_parts(project, kind.layout, kind.rooms[0], design.ends, design.entries),
                    "mute_points": mute_points(
                        [one for one in design.devices if one.room == kind.rooms[0]], design.entries
                    ),
                    "mute_operators": tuple(sorted(kind.layout.mute_operators.items())),
                    "mute_controls": control_processors(design.owners, kind.rooms),
                    **ways_of_sound(design, kind),
                    "by_others": brought_by_nobody(design.owners, kind),
                    **panel_parts(panels, kind.rooms),
                    "mutes": mute_rows(design.mutes[kind.key]),
                    "level_map": level_map_row(design.level_maps.get(kind.key)),
                }
            )
            for kind in design.kinds
        ),
        states=state_rows(project),
        contained_sound=contained_sound_rows(design.contained_sound),
        joined_sound=joined_sound_rows(design.joined_routes),
        **latency_parts(design.delays),
        **portable_parts(project, design),
        **building_parts(computed, days),
        **owner_equipment_parts(design, furnishing(standing["responsibilities"], OWN_EQUIPMENT)),
        **mains_parts(design),
        **standby_parts(design),
        **network_parts(project, design),
        **pathway_parts(project, design),
        **channel_parts(design, words_of(project)),
        **line_parts(design),
        **radio_parts(project, design.radio, tolerance=bool(readers & NOT_CLIENT)),
        **programme_parts(project, computed.programme, numbers),
        **labour_parts(computed),
        **price_parts(computed),
        **disclosed,
        takeoff=takeoff,
        purchases=purchase_rows(computed, days),
        reel_orders=reel_order_rows(computed, days),
        materials_cost=computed.estimate.materials_cost,
        workings=workings,
        finding_count=finding_count(computed.findings),
        findings=finding_rows(design, computed.findings),
        plain_warnings=plain_warnings(computed.findings),
        assumptions=assumption_rows(project, numbers),
        questions=question_rows(project, numbers, workings, present(project, facts(design))),
        data_sources=data_source_rows(project, design),
        client_knowledge=client_knowledge_rows(project),
        cautions=_cautions(project, "users"),
        work_cautions=_cautions(project, "work"),
        **requirement_parts(computed.answered),
        **standing,
        sheets=_sheets(sheets, "sheets"),
        detail_sheets=_sheets(sheets, "detail_sheets"),
        check_sheets=_sheets(sheets, "check_sheets"),
    )


def alternate_row(key: str, alternate: Alternate, not_offered: tuple[str, ...] = ()) -> AlternateRow:
    """Return what an alternate is.

    key: of the alternate.  not_offered: why it cannot be chosen; nothing where it can.
    """
    return _ALTERNATE.of(alternate, key=key, not_offered=not_offered, offered_at=None, offered_in="")


def _cover(project: Project) -> Cover:
    brief = project.brief
    return Cover(
        name=brief.name,
        number=brief.number,
        site=brief.site,
        client=_PARTY.of(brief.client),
        integrator=_PARTY.of(brief.integrator),
        goals=brief.goals,
        revision=_REVISION.of(brief.revision, issued=False),
        history=tuple(
            _REVISION.of(one, issued=False)
            for one in sorted(brief.history.values(), key=lambda one: (one.date, one.identity))
        ),
        warranty_months=brief.terms.warranty_months,
        valid_until=brief.revision.date + datetime.timedelta(days=brief.terms.validity_days),
        region=words_of(project).text(f"region.{brief.region}"),
        units=brief.units,
        locale=brief.locale,
        origin=project.building.origin,
        currency=brief.currency,
        colour=brief.branding.colour,
        logo=brief.branding.logo,
        internal_note=brief.internal_note,
    )


def _cautions(project: Project, reader: str) -> tuple[Caution, ...]:
    return tuple(
        _CAUTION.of(one) for one in project.standing.cautions.cautions.values() if reader in one.readers
    )


def _sheets(sheets: Sequence[Sheet], field: str) -> tuple[SheetRow, ...]:
    """Return the drawing sheets that stand in a field of the document."""
    return tuple(
        SheetRow(
            number=sheet.number,
            title=sheet.title,
            kind=sheet.kind.name,
            subject=sheet.subject,
            part=sheet.part,
            parts=sheet.parts,
            members=sheet.shows.members,
            first=sheet.shows.first,
            last=sheet.shows.last,
            hours_charged=sheet.kind.charged,
        )
        for sheet in sheets
        if sheet.kind.listed == field
    )
