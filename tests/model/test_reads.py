"""What is read of a project is noted, and where two projects differ is found."""

from pathlib import Path

from proposal.model.loading import load_source
from proposal.model.reads import Differing, differing, reads_noted

MINIMAL = Path(__file__).resolve().parents[1] / "projects" / "minimal"
SLACK = ("project", "rules", "cabling", "rack_slack")


def test_a_varied_project_differs_in_that_field_and_in_what_is_told_of_it() -> None:
    source = load_source(MINIMAL)
    found = {
        (type(one.models[-1]).__name__, one.name)
        for one in differing(source.base, source.varied(SLACK, "9 m"))
    }
    # What is told of defaults and questions is left out of a varied project.
    told = {("Project", name) for name in ("assumptions", "places", "questions")}
    assert found == {("CablingRules", "rack_slack"), *told}
    assert list(differing(source.base, source.base)) == []


def test_only_what_was_read_since_it_was_last_asked_is_told() -> None:
    base = load_source(MINIMAL).base
    cabling = base.brief.rules.cabling
    slack = Differing((base, base.brief, base.brief.rules, cabling), "rack_slack")
    cord = Differing((base, base.brief, base.brief.rules, cabling), "equipment_cord")
    with reads_noted() as taken:
        before = cabling.equipment_cord
        first = taken()
        assert cabling.rack_slack != before
        second = taken()
    assert (first.hold(cord), first.hold(slack)) == (True, False)
    assert (second.hold(cord), second.hold(slack)) == (False, True)
    with reads_noted() as taken:
        pass
    _ = cabling.rack_slack
    assert not taken().hold(slack)  # noting has ended


def test_what_is_compared_or_written_as_a_whole_is_read_with_all_in_it() -> None:
    base = load_source(MINIMAL).base
    rules = base.brief.rules
    slack = Differing((base, base.brief, rules, rules.cabling), "rack_slack")
    for use in (hash, repr, lambda one: one == one.model_construct(), lambda one: one.model_dump()):
        with reads_noted() as taken:
            use(rules.cabling)
        assert taken().hold(slack), use
    with reads_noted() as taken:
        rules.model_dump()
    assert taken().hold(slack)


def test_reading_a_copy_is_reading_what_it_was_copied_from() -> None:
    base = load_source(MINIMAL).base
    unread = Differing((base,), "library")
    read = Differing((base,), "labour")
    with reads_noted() as taken:
        copied = base.model_copy(update={"wording": {}})
        _ = copied.labour
    found = taken()
    assert (found.hold(read), found.hold(unread)) == (True, False)
