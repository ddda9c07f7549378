"""The words from which rows compose texts: those of the project's locale, out of the table of words."""

from proposal.document.headings import Words
from proposal.model.project import Project


def words_of(project: Project) -> Words:
    """Return the words of a project's locale."""
    return Words(project.standing.words.of_locale(project.brief.locale))
