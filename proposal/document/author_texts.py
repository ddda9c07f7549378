"""What people wrote of a project in their own words: names, sentences and prose, spelled as they are."""

from collections.abc import Iterator, Mapping

from proposal.document.document import Document
from proposal.document.rows.requirements import RequirementAnswerRow
from proposal.document.schedule import Row

_OWN: Mapping[str, tuple[str, ...]] = {
    "Cover": ("name", "number", "site", "goals"),
    "Party": ("name", "contact", "address"),
    "RevisionRow": ("purpose", "prepared_by", "checked_by", "changes"),
    "AlternateRow": ("name", "description", "internal_note"),
    "StoreyRow": ("name",),
    "EquipmentRoomRow": ("name",),
    "RoomSheet": ("title", "use", "sound_stays", "mute_operators", "in_private", "internal_note"),
    "RoomRow": ("name", "type", "internal_note"),
    "DestinationRow": ("name", "carries", "operated_by"),
    "OwnerEquipmentRow": ("name",),
    "RequirementRow": ("document", "text"),
    "StateRow": ("name", "kind_of_day"),
    "BandUserRow": ("name",),
    "PortableSetRow": ("name",),
    "PenetrationRow": ("fire_rating",),
    "NodeRow": ("box",),
    "PortableUseRow": ("place",),
    "ContainedSoundRow": ("reason", "may_reach", "may_pass"),
    "AssistiveRow": ("not_allowed",),
    "AssumptionRow": ("path",),
    "NoWorkRow": ("words",),
}
"""Fields that hold what people wrote, by the rows that have them."""


def author_texts(document: Document) -> Iterator[str]:
    """Yield what people wrote of a project, as its rows hold it; lines of prose each by itself."""
    for prose in document.wording.values():
        yield from (line.strip() for line in prose.splitlines() if line.strip())
    for name in type(document).model_fields:
        yield from _of(getattr(document, name))


def _of(value: object) -> Iterator[str]:
    if isinstance(value, tuple):
        # Long tables hold rows of one kind: those that hold nothing of it are passed over at once.
        if value and isinstance(value[0], Row) and not _holds(value[0]):
            return
        for one in value:
            yield from _of(one)
    elif isinstance(value, Row):
        if isinstance(value, RequirementAnswerRow) and value.stated_by:
            yield value.found
        for field in _OWN.get(type(value).__name__, ()):
            yield from _texts(getattr(value, field))
        for field in type(value).model_fields:
            inner = getattr(value, field)
            if isinstance(inner, Row) or (isinstance(inner, tuple) and inner and isinstance(inner[0], Row)):
                yield from _of(inner)


def _holds(row: Row) -> bool:
    """Return whether rows of a kind hold what people wrote, or rows that do."""
    return type(row).__name__ in _OWN or isinstance(row, RequirementAnswerRow)


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from _texts(one)
