"""Labels of cables say where each end really is, and stand there."""

from proposal.document.labels import labels_of
from tests.test_projects import EXAMPLE
from tests.whole_projects import whole_document


def test_a_cable_from_rack_to_rack_is_labelled_at_its_panels() -> None:
    document = whole_document(EXAMPLE)
    between = [cable for cable in document.cables if cable.from_panel]
    assert between
    labels = labels_of(document)
    for cable in between:
        rack, _, port = cable.from_panel.partition("/")
        near, far = [one for one in labels if one.lines[0] == cable.identity]
        assert (near.place, near.lines[1]) == (rack, f"here {rack} {port}")
        assert (far.place, far.lines[1:]) == (
            cable.to_tag,
            (f"here {cable.to_tag} {cable.to_port}", f"to {rack} {port}"),
        )
