"""Where data and standing wording come from, as rows: what the project rests on and no calculation names."""

from collections.abc import Iterator

from proposal.design.design import Design
from proposal.document.headings import Words
from proposal.document.making.composed_texts import words_of
from proposal.document.rows.data_sources import DataSourceRow
from proposal.model.price.disclosure import Share, Span
from proposal.model.project import Project


def data_source_rows(project: Project, design: Design) -> tuple[DataSourceRow, ...]:
    """Return the losses that radio was computed with, and the standing wording, with the source of each."""
    words, standing = words_of(project), project.standing
    losses = _radio_losses(project, words) if design.radio is not None else ()
    texts = (
        (words.text("source.cautions"), standing.cautions.source),
        (words.text("source.scope"), standing.defaults.source),
        (words.text("source.duties"), standing.responsibilities.source),
        (words.text("source.questions"), standing.questions.source),
        (words.text("source.words"), standing.words.source),
    )
    return (*losses, *(DataSourceRow(what=what, source=source) for what, source in texts))


def _radio_losses(project: Project, words: Words) -> Iterator[DataSourceRow]:
    radio, table = project.building.radio, project.radio_losses
    kinds = {wall.construction for wall in radio.walls.values() if wall.loss is None}
    kinds |= {
        room.layout.radio.walls
        for tag, room in project.rooms.items()
        if tag not in project.building.portable_sets
    }
    for kind in sorted(kinds):
        loss = table.walls[kind]
        yield DataSourceRow(
            what=words.text("source.wall", kind=kind),
            least=loss.least,
            most=loss.greatest,
            unit="dB",
            source=loss.source,
        )
    floors = table.floors[project.brief.rules.radio.environment]
    for what, loss_db in (
        (words.text("source.first_floor"), floors.first),
        (words.text("source.further_floor"), floors.further),
    ):
        yield DataSourceRow(what=what, least=loss_db, most=loss_db, unit="dB", source=floors.source)


def client_knowledge_rows(project: Project) -> tuple[DataSourceRow, ...]:
    """Return what a client is taken to know, with the source of each; nothing without such data."""
    knowledge, words = project.client_knowledge, words_of(project)
    if knowledge is None:
        return ()
    factors = knowledge.factors
    return (
        _share(words.text("source.least_range"), knowledge.least_range),
        _span(words.text("source.hours_factor"), knowledge.hours_factor),
        _span(words.text("source.rates_factor"), knowledge.rates_factor),
        _span(words.text("source.costs_factor"), knowledge.costs_factor),
        _share(words.text("source.most_spread"), knowledge.most_spread),
        DataSourceRow(
            what=words.text("source.factors"),
            least=factors.least,
            most=factors.greatest,
            source=factors.source,
        ),
    )


def _share(what: str, one: Share) -> DataSourceRow:
    percent = round(100 * one.share, 4)
    return DataSourceRow(what=what, least=percent, most=percent, unit="%", source=one.source)


def _span(what: str, one: Span) -> DataSourceRow:
    return DataSourceRow(what=what, least=round(1 / one.factor, 4), most=one.factor, source=one.source)
